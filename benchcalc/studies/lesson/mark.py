"""Marking: a typed answer against the right one, in any unit, and the likely slip where it is wrong."""

import re
from collections.abc import Mapping
from dataclasses import dataclass

from ...basics.fault import Fault
from ...basics.names import NAMES, suffix_of
from ...basics.quantity import parse
from .exercise import Exercise
from .slips import slips_of_units

SCALE = re.compile(r"((?:deg|°)\s*[CF]|[CF])\s*$")  # a place on a scale, where a difference is asked for
RISE = (
    "{unit} says where on a thermometer something stands. Asked is a difference, and that is in kelvin: write K. No "
    "try is counted."
)


@dataclass(frozen=True)
class Marked:
    """What became of a typed answer.

    state: "right", "slip", "wrong", or "unread" (no try is counted for it). words: what to tell the learner.
    typed: its value, SI, or None. right: the right answer, SI.
    """

    state: str
    words: str
    typed: float | None
    right: float


def mark(exercise: Exercise, numbers: Mapping, text: str) -> Marked:
    """Mark an answer.

    exercise: Exercise. numbers: as drawn for this learner. text: as typed, a number with a unit.
    Right is what lies within the exercise's tolerance, or is the answer rounded to the digits typed, two at least.
    Returns Marked; a text that cannot be read is "unread" with the reason, never wrong.
    """
    right = exercise.answer(numbers)[0]
    if dimension_of(exercise.result) == "k" and (found := SCALE.search(text)):
        return Marked("unread", RISE.format(unit=found[1]), None, right)
    try:
        typed = parse(text, dimension_of(exercise.result), where="your answer").nominal
    except Fault as told:
        return Marked("unread", str(told), None, right)
    if abs(typed - right) <= exercise.tolerance(right) or rounded_to_typed(exercise.result, right, typed, text):
        return Marked("right", f"Right. Unrounded it is {exercise.told(right)}.", typed, right)
    for known in (exercise.slipped(numbers), slips_of_units(exercise.result, right)):  # its own slips say more
        near = [(abs(typed - wrong), slip) for slip, wrong in known if abs(typed - wrong) <= exercise.tolerance(wrong)]
        if near:
            return Marked("slip", min(near, key=lambda pair: pair[0])[1].words, typed, right)
    where = "too much" if typed > right else "too little"
    return Marked("wrong", f"Not yet: {exercise.told(typed)} is {where}.", typed, right)


def dimension_of(key: str) -> str:
    """The dimension in which an answer is read.  key: the glossary's name of the answer.

    >>> dimension_of("turns"), dimension_of("hot_life_s"), dimension_of("regulation")
    ('count', 's', 'ratio')
    """
    suffix = suffix_of(key)
    return {"life_s": "s", "": "count" if "turns" in key else "ratio"}.get(suffix, suffix)


def rounded_to_typed(key: str, right: float, typed: float, text: str) -> bool:
    """Whether an answer is the right one, rounded to the two or more significant digits that were typed.

    key: the answer's name. right, typed: SI. text: as typed.

    >>> rounded_to_typed("length_m", 0.5649, 0.56, "56 cm"), rounded_to_typed("length_m", 0.5649, 0.6, "0.6 m")
    (True, False)
    """
    number = "".join(c for c in text.split()[0] if c in "0123456789.,").replace(",", ".")
    shown = number.lstrip("0.").replace(".", "")
    figures = len(shown)
    if figures < 2 or not right or not typed or suffix_of(key) == "c":
        return False
    return f"{typed:.{figures - 1}e}" == f"{right:.{figures - 1}e}"


def word_of(exercise: Exercise) -> str:
    """What is asked for, in the trade's word.  exercise: Exercise."""
    return NAMES[exercise.result].word
