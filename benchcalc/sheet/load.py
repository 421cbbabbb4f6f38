"""Read a build sheet (TOML) into a Build; tell every fault at once, each with its line."""

import tomllib
from dataclasses import replace
from pathlib import Path
from types import MappingProxyType

from ..basics.fault import Complaint, Fault, closest
from . import build as b
from .cross_checks import TOGETHER, cross_check
from .defaults import fill
from .key import ASSUMED
from .learned import with_learned
from .readings import whole_reading
from .readings_first import readings_first
from .schema import GONE, HOLDERS, KEYS, LISTS, SECTIONS
from .store import not_text
from .toml_lines import lines_of
from .values import by_instrument, checked, quantity

DEFAULT_METER = "cheap multimeter"
RECORDS = ("learned.", "as_built.reading.")  # what pages keep is no input
LONGEST_LINE = 1000  # characters; the longest line of a demo has under 150


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
            Complaint(
                str(path),
                "",
                "is not a text file in UTF-8.",
                not_text(path.read_bytes()),
                "Save it as plain text (UTF-8).",
            )
        ) from None
    except (OSError, ValueError) as error:  # a folder, a name too long or with a zero byte, no right to read
        raise Fault(_unreadable(path, error)) from None
    return replace(read(text, where=path.name), file=str(path))


def read(text: str, *, where: str = "sheet") -> b.Build:
    """Check a sheet's text and make the Build.

    text: TOML. where: name of the sheet, for messages.
    Returns Build.  Raises Fault as `load`.

    >>> read('[sheet]\\nname = "one wire"\\n[[wire]]\\nid = "reel"\\ngauge = "0.28 mm"').wire[0].gauge
    '0.28 mm'
    """
    for number, line in enumerate(text.splitlines(), 1):
        if len(line) > LONGEST_LINE:
            need = f"has {len(line)} characters: a line of a sheet holds at most {LONGEST_LINE}."
            raise Fault(
                Complaint(where, line[:30].strip() + " ...", need, "Two lines may have run together.", line=number)
            )
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise Fault(
            Complaint(
                where,
                "",
                f"is not complete TOML: {error}.",
                "Its quotes are curly, as a word processor makes them: plain ones are needed."
                if any(c in text for c in "“”„‘’")
                else "A quote, a bracket or the end of the file is missing, or a text lacks quotes.",
                'Write texts in quotes: length = "733 mm".',
            )
        ) from None
    except RecursionError:
        need = "has brackets within brackets too deep to be read: a sheet needs two at most."
        raise Fault(Complaint(where, "", need, "A closing bracket may be missing.", "Close each [ and {.")) from None
    reader = _Reader(lines_of(text, LISTS))
    build = reader.build(data)
    if reader.bad:
        raise Fault(*sorted(reader.bad, key=lambda c: c.line or 0))
    return with_learned(fill(readings_first(build)))


def _unreadable(path, error):
    """The complaint about a path that is there and yet cannot be read as a file."""
    name = str(path) if len(str(path)) <= 100 else str(path)[:100] + "..."
    if path.name and isinstance(error, IsADirectoryError):
        return Complaint(name, "", "is a folder, not a sheet.", do="Name the file in it that ends in .toml.")
    return Complaint(name, "", "cannot be opened as a file.", f"The system says: {getattr(error, 'strerror', error)}.")


class _Reader:
    """Walks the parsed TOML once, gathers complaints and what is known."""

    def __init__(self, lines):
        self.lines, self.bad, self.known, self.at_fault = lines, [], {}, set()

    def complain(self, section, index, key, text, *said, **more):
        """Note what is wrong at a key; said, more: need, cause and do, as in Complaint."""
        line = self.lines.get((section, index, key)) or self.lines.get((section, index, ""))
        self.at_fault.add((section, index, key))
        place = section if index is None else f"{section} {index + 1}"
        self.bad.append(Complaint(f"{place}.{key}".strip("."), str(text), *said, line=line, **more))

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
            return HOLDERS[section]()
        inner = {s.rsplit(".", 1)[1] for s in SECTIONS if s.startswith(section + ".")}
        made = self.fields(section, index, {k: v for k, v in data.items() if k not in inner}, path)
        for name in inner & set(data):
            sub = self.section(f"{section}.{name}", data[name], f"{path}.{name}")
            if sub is not None:
                made[name] = sub
        return HOLDERS[section](**made)

    def fields(self, section, index, data, path):
        if not isinstance(data, dict):
            return {}
        made = {}
        meter = data.get("with") if isinstance(data.get("with"), str) else None
        for key, value in data.items():
            spec = KEYS[section].get(key)
            if spec is None:
                if (section, key) in GONE:
                    self.complain(section, index, key, "", "is not a key here.", *GONE[section, key])
                    continue
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
                    meter if spec.measured else None,
                )
            except Fault as f:
                for c in f.complaints:
                    wrong_meter = meter is not None and c.text == meter
                    self.complain(
                        section, index, "with" if wrong_meter else key, c.text or value, c.need, c.cause, c.do
                    )
        return made

    def value(self, spec, value, path, line, meter=None):
        if not spec.is_quantity:
            return checked(spec, value)
        q, named = quantity(spec, value)
        if spec.whole:
            return int(q.nominal)
        self.note(spec, q, path, line, named or meter)
        return q.nominal

    def note(self, spec, q, path, line, meter):
        if path.startswith(RECORDS):
            return
        if meter == ASSUMED:
            self.known[path] = b.Known(q.low, q.high, ASSUMED, q.text, line)
        elif q.low < q.high:
            self.known[path] = b.Known(q.low, q.high, "measured", q.text, line)
        elif (meter or spec.measured) and not (spec.kind == "a" and q.nominal == 0):  # nothing connected: 0 A is exact
            k = by_instrument(q.nominal, spec.dimension, meter or DEFAULT_METER, q.text, line)
            self.known[path] = replace(k, low=max(k.low, spec.low), high=min(k.high, spec.high))
        else:
            self.known[path] = b.Known(q.low, q.high, "stated", q.text, line)

    def check(self, made):
        spoilt = frozenset(self.at_fault)
        if "supply" in made:
            readings = enumerate(made["supply"].reading)
            whole = tuple(whole_reading(r, self.known, f"supply.reading.{i}") for i, r in readings)
            made["supply"] = replace(made["supply"], reading=whole)

        def complain(section, index, key, *words, **more):
            """Complain, unless a key that this rests on has been complained of already."""
            rests_on = TOGETHER.get((section, key), (key,))
            if not any((section, index, k) in spoilt for k in rests_on):
                self.complain(section, index, key, *words, **more)

        cross_check(made, complain, self.known)
