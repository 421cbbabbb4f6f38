"""Text to SI: "56 cm", "22 1/2 in", "0,2 mm", "350 degC", "1.2 ohm +- 5 %".

Strict on purpose: a number without a unit, an unknown unit or a comma that could mean
thousands is refused with a reason, never guessed.  A temperature (suffix c) and a
temperature difference (suffix k) are two dimensions: 20 degF is -6.7 degC, but 11.1 K.
"""

import re
from dataclasses import dataclass

from .fault import fault

LONGEST_TEXT = 100  # characters of one quantity; no finite float overflows or stalls below this
INCH_M = 0.0254  # exact, international inch
FOOT_M = 0.3048  # exact, international foot

# dimension (the SI suffix of a field's name) -> {unit as typed: factor to SI}
UNITS = {
    "m": {
        "m": 1,
        "cm": 1e-2,
        "mm": 1e-3,
        "um": 1e-6,
        "in": INCH_M,
        "inch": INCH_M,
        '"': INCH_M,
        "ft": FOOT_M,
        "mil": INCH_M / 1000,
        "thou": INCH_M / 1000,
    },
    "v": {"V": 1, "mV": 1e-3, "volt": 1, "volts": 1},
    "a_s": {"Ah": 3600, "mAh": 3.6},
    "j": {"Wh": 3600, "mWh": 3.6, "J": 1, "kJ": 1000},
    "a": {"A": 1, "mA": 1e-3, "amp": 1, "amps": 1},
    "ohm": {"ohm": 1, "ohms": 1, "mohm": 1e-3, "kohm": 1e3, "milliohm": 1e-3},
    "w": {"W": 1, "mW": 1e-3, "kW": 1e3, "watt": 1, "watts": 1},
    "s": {"s": 1, "sec": 1, "min": 60, "h": 3600, "hour": 3600, "hours": 3600, "minutes": 60},
    "k": {"K": 1, "degC": 1, "degF": 5 / 9, "C": 1, "F": 5 / 9},
    "c": {"degC": 1, "C": 1, "degF": 5 / 9, "F": 5 / 9, "K": 1},
    "m_s": {"m/s": 1, "cm/s": 1e-2, "ft/min": FOOT_M / 60},
    "kg": {"kg": 1, "g": 1e-3, "oz": 0.028349523125, "lb": 0.45359237},
    "ohm_per_m": {"ohm/m": 1, "ohm/cm": 100, "ohm/mm": 1000, "ohm/ft": 1 / FOOT_M, "ohm/in": 1 / INCH_M},
    "m2": {"m2": 1, "cm2": 1e-4, "mm2": 1e-6, "in2": 0.0254**2},
    "kg_m3": {"kg/m3": 1, "g/cm3": 1000, "lb/ft3": 0.45359237 / FOOT_M**3},
    "w_m2": {"W/cm2": 1e4, "W/m2": 1, "W/mm2": 1e6, "W/in2": 1 / 0.0254**2},
    "w_mk": {"W/mK": 1},
    "k_per_w": {"K/W": 1},
    "j_k": {"J/K": 1, "kJ/K": 1e3},
    "per_k": {"/K": 1, "%/K": 0.01},
    "n": {"N": 1, "kgf": 9.80665, "lbf": 0.45359237 * 9.80665},
    "h_per_year": {"h": 1, "hours": 1, "h/year": 1},
    "ratio": {"": 1, "%": 0.01},
    "count": {"": 1, "turns": 1, "layers": 1, "strands": 1},
}
WORDS = {
    "m": "a length",
    "v": "volts",
    "a": "amps",
    "a_s": "a charge",
    "j": "an energy",
    "ohm": "a resistance",
    "w": "a power",
    "s": "a time",
    "k": "a temperature difference",
    "c": "a temperature",
    "m_s": "a speed",
    "kg": "a mass",
    "ohm_per_m": "ohms per length",
    "m2": "an area",
    "w_m2": "watts for each area",
    "w_mk": "a conductivity",
    "k_per_w": "kelvins for each watt",
    "j_k": "joules for each kelvin",
    "per_k": "a share for each kelvin",
    "n": "a force",
    "kg_m3": "a density",
    "h_per_year": "hours per year",
    "ratio": "a plain number or %",
    "count": "a whole number",
}
# zero point of temperature scales, in degC: T = offset + factor * number
_OFFSET_C = {"degC": 0.0, "C": 0.0, "degF": -32 * 5 / 9, "F": -32 * 5 / 9, "K": -273.15}
_NUMBER = r"[+-]?\d+(?:[.,]\d+)*(?:[eE][+-]?\d+)?"
_ONE = re.compile(rf"\s*({_NUMBER})(?:\s+(\d+)/(\d+))?\s*([^\d\s+±][^\s+±]*)?\s*$")
_PLUS_MINUS = re.compile(r"\s*(?:\+-|\+/-|±)\s*")


@dataclass(frozen=True)
class Quantity:
    """A reading in SI: nominal value, low and high ends (equal when no +- was given), own text.

    >>> parse("350 degC +- 5 K", "c").low
    345.0
    """

    nominal: float
    low: float
    high: float
    text: str


def _tidy(text):
    for old, new in (
        ("Ω", "ohm"),
        ("Ω", "ohm"),
        ("Ohm", "ohm"),
        ("µ", "u"),
        ("μ", "u"),
        ("°", "deg"),
        ("deg C", "degC"),
        ("deg F", "degF"),
        ("″", '"'),
        ("m²", "m2"),
        ("W/(m K)", "W/mK"),
        (" 1/K", " /K"),
        ("−", "-"),
    ):
        text = text.replace(old, new)
    return text.strip()


def _number(digits, where, text):
    if re.search(r"\d[.,]\d+[.,]", digits):
        raise fault(
            where, text, "has two separators in one number.", do="Write it without thousands separators, e.g. 1200.5."
        )
    if re.match(r"[+-]?[1-9]\d{0,2},\d{3}(?!\d)", digits):
        plain = digits.replace(",", "")
        raise fault(
            where,
            text,
            f"can be read in two ways: {plain} or {digits.replace(',', '.')}.",
            do="Write it without the comma, or with a decimal point.",
        )
    return float(digits.replace(",", "."))


def _unit_fault(where, text, unit, dimension):
    known = [u for u in UNITS[dimension] if u]
    need = f"needs {WORDS[dimension]} with a unit: " + ", ".join(known) + "."
    if not unit:
        return fault(where, text, need, "It has no unit.")
    owners = [WORDS[d] for d, units in UNITS.items() if unit in units]
    cause = f"{unit} is a unit of {owners[0].split(' ', 1)[-1]}." if owners else f"{unit} is not known here."
    if not owners and unit.lower() in {u.lower() for u in known}:
        cause = f"{unit} is spelt with other capitals: units here keep theirs."
    return fault(where, text, need, cause)


def _one(text, dimension, where, whole, difference=False):
    only = re.fullmatch(r'\s*([+-]?\d+)/(\d*[1-9]\d*)\s*(in|inch|"|ft)\s*', text)
    if only and dimension == "m":  # "1/4 in"
        return int(only[1]) / int(only[2]) * UNITS["m"][only[3]], only[3]
    found = _ONE.match(text)
    if not found:
        raise fault(
            where,
            whole,
            f"could not be read as {WORDS[dimension]}.",
            do="Write a number and a unit, e.g. " + EXAMPLES.get(dimension, "1") + ".",
        )
    digits, over, under, unit = found.groups()
    value = _number(digits, where, whole)
    unit = unit or ""
    if over is not None:
        if unit not in ("in", "inch", '"', "ft") or not digits.lstrip("+-").isdigit() or int(under) == 0:
            raise fault(where, whole, "has a fraction; fractions are read for inches and feet only.")
        value += (-1 if digits.startswith("-") else 1) * int(over) / int(under)
    if unit not in UNITS[dimension]:
        raise _unit_fault(where, whole, unit, dimension)
    value *= UNITS[dimension][unit]
    if dimension == "c" and not difference:
        value += _OFFSET_C[unit]
    if value in (float("inf"), float("-inf")):
        raise fault(where, whole, "is too large a number.")
    return value, unit


EXAMPLES = {
    "m": '"56 cm" or "22 in"',
    "v": '"12.4 V"',
    "a": '"1.61 A"',
    "a_s": '"4 Ah"',
    "j": '"72 Wh"',
    "ohm": '"1.2 ohm"',
    "w": '"20 W"',
    "s": '"8 min"',
    "k": '"15 K"',
    "c": '"350 degC"',
    "m_s": '"0.15 m/s"',
    "kg": '"60 g"',
    "ohm_per_m": '"17.7 ohm/m"',
    "m2": '"0.2 mm2"',
    "w_m2": '"4 W/cm2"',
    "w_mk": '"15 W/mK"',
    "k_per_w": '"7 K/W"',
    "j_k": '"40 J/K"',
    "per_k": '"0.02 1/K"',
    "h_per_year": '"200 h"',
    "ratio": '"10 %"',
    "count": '"2"',
}


def parse(text: str, dimension: str, *, where: str = "") -> Quantity:
    """Read a text such as "1.2 ohm +- 0.1 ohm" into SI.

    text: number and unit, optionally "+-" and a spread (same kind of unit, or %).
    dimension: SI suffix of the wanted quantity, a key of UNITS ("m", "c", "k", ...).
    where: name of the field, for messages.
    Returns Quantity (floats in SI).  Raises Fault: no unit, unknown unit, other dimension,
    a number that can be read in two ways, a negative or empty spread.

    >>> parse("1.2 ohm +- 0.1 ohm", "ohm").high
    1.3
    """
    whole = str(text).strip() or "(nothing)"
    if len(whole) > LONGEST_TEXT:
        need = f"has {len(whole)} characters: a number with its unit takes at most {LONGEST_TEXT}."
        raise fault(where, whole[:30] + " ...", need, "A key may have been held down.")
    parts = _PLUS_MINUS.split(_tidy(whole))
    if len(parts) > 2:
        raise fault(where, whole, "has more than one +-.")
    if len(parts) == 1:
        value, _ = _one(parts[0], dimension, where, whole)
        return Quantity(value, value, value, whole)
    if parts[1].endswith("%") and dimension != "ratio":
        value, _ = _one(parts[0], dimension, where, whole)
        if dimension == "c":
            raise fault(
                where,
                whole,
                "gives a temperature with a spread in %.",
                do="Write the spread in K, e.g. 350 degC +- 5 K.",
            )
        spread = abs(value) * _one(parts[1], "ratio", where, whole)[0]
    else:
        if _ONE.match(parts[0]) and not _ONE.match(parts[0]).group(4):  # "1.2 +- 0.1 ohm"
            unit = (_ONE.match(parts[1]) or [None] * 5)[4] if _ONE.match(parts[1]) else ""
            parts[0] = f"{parts[0]} {unit or ''}"
        value, unit = _one(parts[0], dimension, where, whole)
        if re.fullmatch(_NUMBER, parts[1]):
            parts[1] = f"{parts[1]} {unit}"
        spread, _ = _one(parts[1], dimension, where, whole, difference=True)
    if spread < 0:
        raise fault(where, whole, "has a negative spread.")
    return Quantity(value, value - spread, value + spread, whole)
