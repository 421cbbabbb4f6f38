"""What a maker types into a form, in the spelling that a sheet takes: "12v", "8 Millimetres", ".5 mm", "about 8 mm".

A sheet itself stays strict.  Nothing is guessed: a unit is only spelt anew where one unit of the quantity can be meant.
"""

import re

from ..basics.quantity import UNITS
from .key import ASSUMED

_ABOUT = re.compile(r"^(?:~|≈|about|approx\.?|ca\.?|circa|roughly|some)\s*(?=[\d.,])", re.I)
_DIAMETER = re.compile(r"^(?:⌀|ø|Ø|dia\.?|diameter)\s*(?=[\d.,])|\s*(?:⌀|ø|dia\.?|diam\.?|diameter)$", re.I)
_NUMBER_UNIT = re.compile(r"^(?P<number>[+-]?[\d.,/ ]*[\d.,])\s*(?P<unit>[^\d.,+±][^\d+±]*)$")
_SPREAD = re.compile(r"(\s*(?:\+-|\+/-|±)\s*)")
_WORDS = {
    "m": {
        "mm": "millimeter millimeters millimetre millimetres",
        "cm": "centimeter centimeters centimetre centimetres",
        "m": "meter meters metre metres",
        "in": "inches",
        "ft": "foot feet",
    },
    "c": {"degC": "celsius", "degF": "fahrenheit", "K": "kelvin"},
    "v": {"V": "vac vdc v~ v= v-"},
    "a": {"A": "ampere amperes aac adc a~", "mA": "milliamp milliamps"},
    "ohm": {"ohm": "r"},
    "s": {"s": "secs second seconds", "min": "mins minute", "h": "hr hrs"},
    "kg": {"g": "gram grams gr", "kg": "kilo kilos kilogram kilograms"},
    "ratio": {"%": "percent percents"},
}
_PHRASES = (("degrees ", "deg "), ("degree ", "deg "), ("per cent", "percent"), (" ac", "ac"), (" dc", "dc"))
_NO_MEGA = ("v", "a", "ohm", "w")  # where a capital M in front would be a million


def _unit(dimension, written):
    """The unit of a quantity that is meant, "" where none or more than one can be."""
    units = [u for u in UNITS.get(dimension, {}) if u]
    unit = written.strip().rstrip(".").strip()
    if unit in units:
        return unit
    if dimension in _NO_MEGA and unit[:1] == "M" and len(unit) > 1:
        return ""
    small = f"{unit.lower()} "
    for old, new in _PHRASES:
        small = small.replace(old, new)
    small = small.strip().removeprefix("deg ").strip() if dimension == "c" else small.strip()
    said = {w: u for u, words in _WORDS.get(dimension, {}).items() for w in words.split()}
    found = {u for u in units if u.lower() == small} | ({said[small]} if small in said else set())
    return found.pop() if len(found) == 1 else ""


def _one(dimension, text):
    found = _NUMBER_UNIT.match(text.strip())
    number, unit = (found["number"], found["unit"]) if found else (text.strip(), "")
    unit = _unit(dimension, unit) or unit.strip()
    number = re.sub(r"(?<![\d.,])[.,](?=\d)", "0.", number.strip())
    number = re.sub(r"(?<=\d)[.,](?=\s|$)", "", number)
    return f"{number} {unit}".strip()


def as_a_sheet_says(dimension: str, text: str) -> str:
    """A typed quantity in the spelling that a sheet takes; what cannot be read stays as it was typed.

    dimension: SI suffix of the quantity. text: number with its unit, a +- behind it where there is one.
    Returns text.  "about" in front makes it assumed.

    >>> as_a_sheet_says("m", "about .5 Inches")
    '0.5 in assumed'
    """
    whole = " ".join(text.split())
    about = _ABOUT.match(whole)
    body = whole[about.end() :] if about else whole
    body = _DIAMETER.sub("", body) if dimension == "m" else body
    made = "".join(p if _SPREAD.fullmatch(p) else _one(dimension, p) for p in _SPREAD.split(body))
    return f"{made} {ASSUMED}" if about else made
