"""The value of one key: a text checked against its kind, a quantity in its range, a reading by its instrument."""

import re
from dataclasses import replace
from difflib import get_close_matches

from ..basics.fault import Complaint, Fault, closest
from ..basics.names import say
from ..basics.quantity import UNITS, WORDS, parse
from ..basics.tables import rows
from ..heater.load_test import half_width
from ..heater.refused_kinds import refused_kind
from ..materials.alloys import alloy_key
from ..materials.bulk import finish_word, joint_row, solid_key
from ..materials.gauges import diameter_of
from ..materials.insulation import insulation_key
from .build import Known
from .key import ASSUMED
from .schema import KEYS

TYPED_UNIT = {"v": "V", "a": "A", "w": "W", "ohm": "ohm", "h_per_year": "h", "s": "s"}
_ZERO, _WITH_COMMA = re.compile(r"[+-]?0*[.,]?0+"), re.compile(r"[+-]?\d+,\d+")


def checked(spec, value):
    """A flag, a pair of ids or a text as its key allows it.

    spec: Key that is no quantity. value: what the sheet says, as TOML holds it.
    Returns the value; an alloy by its key.  Raises Fault that says what is allowed.
    """
    if spec.kind == "flag":
        if not isinstance(value, bool):
            raise _refused(value, "should be true or false (no quotes).")
        return value
    if spec.kind == "pair":
        if not (isinstance(value, (list, tuple)) and len(value) == 2 and all(isinstance(v, str) for v in value)):
            raise _refused(value, 'should be two ids, e.g. ["stem", "tube"].')
        return tuple(value)
    if not isinstance(value, str) or not value.strip():
        bare = " A bare number is no gauge: AWG and SWG differ." if spec.kind == "gauge" else ""
        raise _refused(value, "should be a text in quotes." + bare)
    if (spec.section, spec.key) in SUPPLY_KINDS and (row := refused_kind(value)) is not None:
        raise _refused(value, f"is refused. {row['reason']}", do=row["do"])
    if spec.kind != "text" and value.endswith(f" {ASSUMED}"):
        value = value.removesuffix(ASSUMED).strip()
    if (spec.section, spec.key) in SUPPLY_KINDS and not _a_slip(value, spec.choices):
        raise _refused(
            value,
            "is no kind of supply that is judged here, and none is guessed: " + ", ".join(spec.choices) + ".",
            do="Write one of these only where you are sure that it is one; else leave the supply in the box, or ask a "
            "licensed person.",
        )
    if spec.choices and value not in spec.choices:
        raise _refused(value, "is not one of: " + ", ".join(spec.choices) + ".", closest(value, spec.choices))
    if spec.kind == "alloy":
        return alloy_key(value)
    if spec.kind in NAMED:
        NAMED[spec.kind](value)
    return value


def quantity(spec, value):
    """A quantity in the range of its key.

    spec: Key of a quantity. value: what the sheet says, as TOML holds it.
    Returns (Quantity, instrument that the text names, the word assumed, or None).
    Raises Fault that says the range or the units.
    """
    if spec.kind in TYPED_AS and isinstance(value, (int, float)) and not isinstance(value, bool):
        value = f"{value} {TYPED_AS[spec.kind]}"
    dimension = spec.dimension
    if isinstance(value, bool) or not isinstance(value, (str, int, float)):
        raise _refused(value, f"should be {WORDS[dimension]}.")
    text, meter = str(value), None
    if isinstance(value, (int, float)):
        if not spec.bare and dimension not in ("count", "ratio") and (value or dimension != "m"):
            units = ", ".join(u for u in UNITS[dimension] if u)
            raise _refused(value, f"needs a unit: write it in quotes with one of {units}.")
        unit = "mm" if dimension == "m" else TYPED_UNIT.get(dimension, "")
        text = f"{value!r} {unit}".strip()
    if text.endswith(f" {ASSUMED}"):
        text, meter = text.removesuffix(ASSUMED).strip(), ASSUMED
    elif " with " in text:
        text, meter = (t.strip() for t in text.split(" with ", 1))
    if dimension == "m" and _ZERO.fullmatch(text):
        text = f"{text} mm"  # nothing is as long in every unit
    elif spec.bare and dimension in TYPED_UNIT and _WITH_COMMA.fullmatch(text):
        text = f"{text} {TYPED_UNIT[dimension]}"
    q = parse(text, dimension)
    low, high = (say(f"x_{dimension}", end) for end in (spec.low, spec.high))
    if not spec.low <= q.nominal <= spec.high:
        raise _refused(value, f"is outside {low} to {high}.", "It is negative." if q.nominal < 0 else "")
    if q.low < spec.low or q.high > spec.high:
        raise _refused(value, f"has a spread that reaches past {low if q.low < spec.low else high}.")
    if spec.whole and q.nominal != int(q.nominal):
        raise _refused(value, "should be a whole number.")
    return replace(q, text=str(value)), meter


def by_instrument(value: float, dimension: str, meter: str, text: str = "", line: int | None = None) -> Known:
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
            half = float(half_width(value, row["share_of_reading"], row["floor"]))
            share = gain / half if half else 0.0
            return Known(
                value - half, value + half, "measured", text, line, group=f"{row['key']} {dimension}", share=share
            )
    raise _refused(
        meter,
        f"is not an instrument for {WORDS[dimension]} in data/instruments.csv.",
        closest(meter, [r["key"] for r in fitting]),
    )


def _a_slip(value, choices):
    """Whether a name is one of the choices but for a slip of the pen: one word more names another thing."""
    return any(len(near.split()) == len(value.split()) for near in get_close_matches(value.lower(), choices, 3, 0.8))


def _refused(value, need, cause="", do=""):
    """A Fault without its place, which the reader of the sheet knows."""
    return Fault(Complaint("", value, need, cause, do))


def _mounting(value):
    known = [r["mounting"] for r in rows("surface_load")]
    if value not in known:
        raise _refused(value, "is not a mounting in data/surface_load.csv.", closest(value, known))


def _gauge(value):
    size = KEYS["wire"]["diameter"]
    if not size.low <= diameter_of(value) <= size.high:
        raise _refused(value, f"is outside {say('x_m', size.low)} to {say('x_m', size.high)}.")


def _marker(value):
    named = {
        word.strip().lower(): r["marker"]
        for r in rows("markers")
        for word in (r["marker"], *(r["also"] or "").split(";"))
        if word.strip()
    }
    if value.strip().lower() not in named:
        raise _refused(value, "is not a marker in data/markers.csv.", closest(value, sorted(set(named.values()))))


SUPPLY_KINDS = (("supply", "kind"), ("other_supply", "kind"))
TYPED_AS = {"minutes": "min", "hours": "h"}
NAMED = {
    "material": solid_key,
    "insulation": insulation_key,
    "finish": finish_word,
    "joint": joint_row,
    "mounting": _mounting,
    "gauge": _gauge,
    "marker": _marker,
}
