"""Slips of units: those that any answer can have, and those of the numbers that several exercises share."""

from ...basics.names import suffix_of
from ...basics.quantity import FOOT_M, INCH_M
from .exercise import Slip

ZERO_C_K = 273.15  # exact, kelvin at 0 degC

PER_FOOT = Slip(
    "That is it with ohms for each foot called ohms for each metre.",
    change=lambda n: n | {"linear_ohm_per_m": n["linear_ohm_per_m"] / FOOT_M},
)
PER_METRE = Slip(
    "You turned ohms for each metre into ohms for each foot and took them for the metre's.",
    change=lambda n: n | {"linear_ohm_per_m": n["linear_ohm_per_m"] * FOOT_M},
)
KELVIN_INSIDE = Slip(
    "You added 273: a rise in kelvin is the same number as in degrees Celsius.",
    change=lambda n: n | {"rise_k": n["rise_k"] + ZERO_C_K},
)

_THOUSAND = (
    ("Right digits, wrong by a thousand: look at milli and kilo.", 1000.0),
    ("Right digits, wrong by a thousand: look at milli and kilo.", 1e-3),
    ("Right digits, wrong by ten: look at the decimal point, or at cm and mm.", 10.0),
    ("Right digits, wrong by ten: look at the decimal point, or at cm and mm.", 0.1),
    ("Right digits, wrong by a hundred: look at cm and m.", 100.0),
    ("Right digits, wrong by a hundred: look at cm and m.", 0.01),
)
_BY_UNIT = {
    "m": (
        ("That would be it with feet for metres somewhere.", FOOT_M),
        ("That would be it with feet for metres somewhere.", 1 / FOOT_M),
        ("That would be it with inches for centimetres somewhere.", INCH_M / 0.01),
        ("That would be it with inches for centimetres somewhere.", 0.01 / INCH_M),
    ),
    "ohm_per_m": (
        ("That is ohms for each foot, called ohms for each metre.", FOOT_M),
        ("That is ohms for each metre, called ohms for each foot.", 1 / FOOT_M),
    ),
    "s": (
        ("Minutes for seconds?", 60.0),
        ("Seconds for minutes?", 1 / 60.0),
        ("Hours for minutes or minutes for seconds?", 1 / 3600.0),
    ),
}


def slips_of_units(result: str, right: float) -> list[tuple[Slip, float]]:
    """Slips by units alone, with the answer each leads to.

    result: the glossary's name of the answer. right: the right answer, SI.
    Returns list of (Slip, wrong answer, SI).
    """
    suffix = suffix_of(result)
    if suffix == "c":
        fahrenheit = (right - 32) * 5 / 9, right * 9 / 5 + 32
        return [
            (Slip("Fahrenheit for Celsius, or the other way round."), fahrenheit[0]),
            (Slip("Fahrenheit for Celsius, or the other way round."), fahrenheit[1]),
            (Slip("Kelvin for degrees Celsius: 0 degC is 273 K."), right + ZERO_C_K),
            (Slip("Kelvin for degrees Celsius: 0 degC is 273 K."), right - ZERO_C_K),
        ]
    if suffix == "k":
        return [
            (Slip("A difference has no 273 in it: kelvin and degrees Celsius step alike."), right + ZERO_C_K),
            (Slip("A difference in Fahrenheit steps is 9/5 of one in kelvin."), right * 9 / 5),
        ]
    if suffix == "" and 0 < abs(right) < 1.5:
        return [
            (Slip("Per cent, it seems, without its sign: write %."), right * 100),
            (Slip("A share of one, called per cent."), right / 100),
        ]
    return [(Slip(words), right * size) for words, size in (*_BY_UNIT.get(suffix, ()), *_THOUSAND)]
