"""Read a build sheet (TOML) into a Build; tell every fault at once, each with its line."""

import re
import tomllib
from dataclasses import replace
from pathlib import Path
from types import MappingProxyType

from ..basics.fault import Complaint, Fault, closest
from ..basics.names import say
from ..basics.quantity import UNITS, WORDS, parse
from ..basics.tables import rows
from ..heater.refused_kinds import refused_kind
from ..materials.alloys import alloy_key
from ..materials.bulk import finish_word, joint_row, solid_key
from ..materials.gauges import diameter_of
from ..materials.insulation import insulation_key
from . import build as b
from .defaults import fill
from .schema import KEYS, LISTS, SECTIONS
from .toml_lines import lines_of

_HOLDERS = {
    "supply": b.Supply,
    "supply.reading": b.Reading,
    "supply.cable": b.Cable,
    "soak": b.Soak,
    "soak.cooling": b.Cooling,
    "soak.hour": b.Hour,
    "wire": b.Wire,
    "coil": b.Coil,
    "coil.tails": b.Tails,
    "lead_out": b.LeadOut,
    "part": b.Part,
    "joint": b.Joint,
    "layer": b.Layer,
    "heat_break": b.HeatBreak,
    "room": b.Room,
    "use": b.Use,
    "want": b.Want,
    "marker": b.Marker,
    "log": b.Log,
    "as_built": b.AsBuilt,
}
_MEASURED = {
    ("supply.reading", "volts"),
    ("supply.reading", "amps"),
    ("wire", "measured_ohm"),
    ("as_built", "cold_ohm"),
    ("soak", "cold_ohm"),
    ("soak.cooling", "ohm"),
    ("soak.hour", "ohm"),
}
NAMED = {"material": solid_key, "insulation": insulation_key, "finish": finish_word, "joint": joint_row}
DEFAULT_METER = "cheap multimeter"


def load(path: str | Path) -> b.Build:
    """Load and check a sheet.

    path: file name of a TOML sheet.
    Returns Build, with tabulated and assumed values filled in and marked as such.
    Raises Fault listing all that is wrong with the sheet: line, own text, allowed range, likely
    cause; FileNotFoundError as a Fault that lists the sheets that are there.

    >>> from benchcalc import chosen
    >>> load(chosen("insert_press")).name
    'Insert press'
    """
    path = Path(path)
    try:
        text = path.read_text(encoding="utf-8-sig")
    except FileNotFoundError:
        raise Fault(
            Complaint(
                str(path),
                "",
                "is not there.",
                "Sheets there: " + ", ".join(p.name for p in sorted(path.parent.glob("*.toml"))) + "."
                if path.parent.is_dir()
                else "",
            )
        ) from None
    except UnicodeDecodeError:
        raise Fault(
            Complaint(str(path), "", "is not a text file in UTF-8.", do="Save it as plain text (UTF-8).")
        ) from None
    return replace(read(text, where=path.name), file=str(path))


def read(text: str, *, where: str = "sheet") -> b.Build:
    """Check a sheet's text and make the Build.

    text: TOML. where: name of the sheet, for messages.
    Returns Build.  Raises Fault as `load`.

    >>> read('[sheet]\\nname = "one wire"\\n[[wire]]\\nid = "reel"\\ngauge = "0.28 mm"').wire[0].gauge
    '0.28 mm'
    """
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise Fault(
            Complaint(
                where,
                "",
                f"is not complete TOML: {error}.",
                "A quote, a bracket or the end of the file is missing, or a text lacks quotes.",
                'Write texts in quotes: length = "733 mm".',
            )
        ) from None
    reader = _Reader(lines_of(text, LISTS))
    build = reader.build(data)
    if reader.bad:
        raise Fault(*sorted(reader.bad, key=lambda c: c.line or 0))
    return fill(build)


class _Reader:
    """Walks the parsed TOML once, gathers complaints and what is known."""

    def __init__(self, lines):
        self.lines, self.bad, self.known, self.at_fault = lines, [], {}, set()

    def complain(self, section, index, key, text, need, cause="", do=""):
        line = self.lines.get((section, index, key)) or self.lines.get((section, index, ""))
        self.at_fault.add((section, index, key))
        place = section if index is None else f"{section} {index + 1}"
        self.bad.append(Complaint(f"{place}.{key}".strip("."), str(text), need, cause, do, line))

    def build(self, data):
        for section in data:
            if section not in SECTIONS:
                self.complain(
                    section,
                    None,
                    "",
                    "",
                    "is not a section of a sheet.",
                    closest(section, [s for s in SECTIONS if "." not in s]),
                )
        made = {}
        for section in SECTIONS:
            if "." not in section and section != "sheet" and section in data:
                made[section] = self.section(section, data[section], section)
        made = {k: v for k, v in made.items() if v is not None}
        head = self.fields("sheet", None, data.get("sheet", {}), "")
        if not isinstance(data.get("sheet", {}), dict) or "name" not in data.get("sheet", {}):
            self.complain("sheet", None, "name", "", "is missing: a sheet needs a name.")
        self.check(made)
        return b.Build(**head, **made, known=MappingProxyType(self.known))

    def section(self, section, data, path):
        if section in LISTS:
            if not isinstance(data, list):
                self.complain(section, None, "", "", f"may stand many times: write [[{section}]], not [{section}].")
                return ()
            made = []
            for i, one in enumerate(data):
                ident = one.get("id") if isinstance(one, dict) and isinstance(one.get("id"), str) else str(i)
                made.append(self.holder(section, i, one, f"{path}.{ident}"))
            return tuple(made)
        if not isinstance(data, dict):
            self.complain(section, None, "", "", f"stands once: write [{section}], not [[{section}]].")
            return None
        return self.holder(section, None, data, path)

    def holder(self, section, index, data, path):
        if not isinstance(data, dict):
            self.complain(section, index, "", data, "should be a table of keys.")
            return _HOLDERS[section]()
        inner = {s.rsplit(".", 1)[1] for s in SECTIONS if s.startswith(section + ".")}
        made = self.fields(section, index, {k: v for k, v in data.items() if k not in inner}, path)
        for name in inner & set(data):
            sub = self.section(f"{section}.{name}", data[name], f"{path}.{name}")
            if sub is not None:
                made[name] = sub
        return _HOLDERS[section](**made)

    def fields(self, section, index, data, path):
        if not isinstance(data, dict):
            return {}
        made = {}
        meter = data.get("with") if isinstance(data.get("with"), str) else None
        for key, value in data.items():
            spec = KEYS[section].get(key)
            if spec is None:
                elsewhere = [s for s in SECTIONS if key in KEYS[s]]
                self.complain(
                    section,
                    index,
                    key,
                    "",
                    "is not a key here.",
                    "It belongs in " + " or ".join(f"[[{s}]]" if s in LISTS else f"[{s}]" for s in elsewhere) + "."
                    if elsewhere
                    else closest(key, KEYS[section]),
                )
                continue
            try:
                made[spec.field] = self.value(
                    spec,
                    value,
                    f"{path}.{spec.field}".strip("."),
                    self.lines.get((section, index, key)),
                    meter if spec.kind.endswith(" bare") else None,
                )
            except Fault as f:
                for c in f.complaints:
                    wrong_meter = meter is not None and c.text == meter
                    self.complain(
                        section, index, "with" if wrong_meter else key, c.text or value, c.need, c.cause, c.do
                    )
        return made

    def value(self, spec, value, path, line, meter=None):
        kind = spec.kind
        if kind == "flag":
            if not isinstance(value, bool):
                raise Fault(Complaint("", value, "should be true or false (no quotes)."))
            return value
        if kind == "pair":
            if not (isinstance(value, list) and len(value) == 2 and all(isinstance(v, str) for v in value)):
                raise Fault(Complaint("", value, 'should be two ids, e.g. ["stem", "tube"].'))
            return tuple(value)
        if kind in ("text", "gauge", "alloy", "mounting", *NAMED) or spec.choices:
            return self.word(spec, value)
        return self.number(spec, value, path, line, meter)

    def word(self, spec, value):
        if not isinstance(value, str) or not value.strip():
            bare = " A bare number is no gauge: AWG and SWG differ." if spec.kind == "gauge" else ""
            raise Fault(Complaint("", value, "should be a text in quotes." + bare))
        if (spec.section, spec.key) == ("supply", "kind") and (row := refused_kind(value)) is not None:
            raise Fault(Complaint("", value, f"is refused. {row['reason']}", do=row["do"]))
        if spec.choices and value not in spec.choices:
            raise Fault(
                Complaint("", value, "is not one of: " + ", ".join(spec.choices) + ".", closest(value, spec.choices))
            )
        if spec.kind == "alloy":
            return alloy_key(value)
        if spec.kind in NAMED:
            NAMED[spec.kind](value)
        if spec.kind == "mounting":
            known = [r["mounting"] for r in rows("surface_load")]
            if value not in known:
                raise Fault(Complaint("", value, "is not a mounting in data/surface_load.csv.", closest(value, known)))
        if spec.kind == "gauge":
            size = KEYS["wire"]["diameter"]
            if not size.low <= diameter_of(value) <= size.high:
                raise Fault(Complaint("", value, f"is outside {say('x_m', size.low)} to {say('x_m', size.high)}."))
        return value

    def number(self, spec, value, path, line, meter):
        dimension, _, bare = spec.kind.partition(" ")
        if dimension in ("minutes", "hours"):
            unit = {"minutes": "min", "hours": "h"}[dimension]
            low, high = (x if x is None or dimension == "minutes" else 3600 * x for x in (spec.low, spec.high))
            dimension, bare, spec = "s", "bare", replace(spec, low=low, high=high)
            value = f"{value} {unit}" if isinstance(value, (int, float)) and not isinstance(value, bool) else value
        if isinstance(value, bool) or not isinstance(value, (str, int, float)):
            raise Fault(Complaint("", value, f"should be {WORDS[dimension]}."))
        if isinstance(value, (int, float)) and not bare and dimension not in ("count", "ratio"):
            units = ", ".join(u for u in UNITS[dimension] if u)
            raise Fault(Complaint("", value, f"needs a unit: write it in quotes with one of {units}."))
        text = str(value)
        if isinstance(value, (int, float)):
            unit = {"v": "V", "a": "A", "ohm": "ohm", "h_per_year": "h", "s": "s"}.get(dimension, "")
            text = f"{value!r} {unit}".strip()
        if " with " in text:
            text, meter = (t.strip() for t in text.split(" with ", 1))
        q = parse(text, dimension)
        key = "x_" + dimension
        if not spec.low <= q.nominal <= spec.high:
            raise Fault(
                Complaint(
                    "",
                    value,
                    f"is outside {say(key, spec.low)} to {say(key, spec.high)}.",
                    "It is negative." if q.nominal < 0 else "",
                )
            )
        if q.low < spec.low or q.high > spec.high:
            raise Fault(
                Complaint(
                    "",
                    value,
                    f"has a spread that reaches past {say(key, spec.low if q.low < spec.low else spec.high)}.",
                )
            )
        if dimension == "count" and spec.field in ("layers", "strands", "rings", "holes"):
            if q.nominal != int(q.nominal):
                raise Fault(Complaint("", value, "should be a whole number."))
            return int(q.nominal)
        self.note(spec, q, path, line, dimension, meter, str(value))
        return q.nominal

    def note(self, spec, q, path, line, dimension, meter, text):
        measured = (spec.section, spec.key) in _MEASURED
        if q.low < q.high:
            self.known[path] = b.Known(q.low, q.high, "measured", text, line)
        elif (meter or measured) and not (dimension == "a" and q.nominal == 0):  # nothing connected: 0 A is exact
            k = by_instrument(q.nominal, dimension, meter or DEFAULT_METER, text, line)
            self.known[path] = replace(k, low=max(k.low, spec.low), high=min(k.high, spec.high))
        else:
            self.known[path] = b.Known(q.low, q.high, "stated", text, line)

    def check(self, made):
        from .cross_checks import TOGETHER, cross_check

        spoilt = frozenset(self.at_fault)

        def complain(section, index, key, *words, **more):
            """Complain, unless a key that this rests on has been complained of already."""
            rests_on = TOGETHER.get((section, key), (key,))
            if not any((section, index, k) in spoilt for k in rests_on):
                self.complain(section, index, key, *words, **more)

        cross_check(made, complain, self.known)


def by_instrument(value: float, dimension: str, meter: str, text: str = "", line: int | None = None) -> b.Known:
    """What is known of a reading by the instrument that took it.

    value: SI. dimension: SI suffix ("v", "a", "ohm", "m", ...). meter: key or other spelling in
    data/instruments.csv. text, line: the user's own words and their line.
    Returns Known.  Raises Fault for an instrument that is not there or does not read this.

    >>> known = by_instrument(12.0, "v", "cheap multimeter")
    >>> known.low < 12.0 < known.high
    True
    """
    wanted = re.sub(r"\s+", " ", meter.strip().lower())
    fitting = [r for r in rows("instruments") if r["quantity"] == dimension]
    for row in fitting:
        names = [row["key"], *(row["also"] or "").split(";")]
        if wanted in [n.strip().lower() for n in names]:
            gain = row["share_of_reading"] * abs(value)
            half = gain + row["floor"]
            share = gain / half if half else 0.0
            return b.Known(
                value - half, value + half, "measured", text, line, group=f"{row['key']} {dimension}", share=share
            )
    raise Fault(
        Complaint(
            "",
            meter,
            f"is not an instrument for {WORDS[dimension]} in data/instruments.csv.",
            closest(meter, [r["key"] for r in fitting]),
        )
    )
