"""All exercises, by evening and by key."""

from functools import cache

from ...basics.fault import closest, fault
from . import evening_five, evening_four, evening_one, evening_six, evening_three, evening_two
from .exercise import Exercise

EVENINGS = (evening_one, evening_two, evening_three, evening_four, evening_five, evening_six)

SIX = ("longer-at-volts", "longer-at-amps", "thicker-same-watts", "same-watts-longer", "twice-the-amps", "hot-ohms")
GUESSES = (  # predictions of each evening, for page and paper alike
    SIX,
    ("error-fewer-volts-more-amps", "error-field-coil", "half-the-amps", "bare-bridge"),
    ("error-ribbon-per-foot", "error-ohms-an-inch", "error-twice-as-thick", "thicker-wire"),
    ("play-gone", "ten-kelvin-more", "error-halved-by-ten", "error-wrap-that-cools"),
    ("error-rise-of-a-rate", "same-watts-longer"),
    (*SIX, "error-four-times-whenever"),
)


@cache
def exercises() -> dict[str, Exercise]:
    """Every exercise by its key, evening after evening."""
    return {e.key: e for evening in EVENINGS for e in evening.EXERCISES}


def exercise_named(key: str) -> Exercise:
    """An exercise by its key.  key: e.g. "wire-at-volts".  Raises Fault with the closest for an unknown one."""
    if key not in exercises():
        raise fault("exercise", key, "is not in the bank.", closest(key, exercises()))
    return exercises()[key]


def of_evening(number: int) -> tuple[Exercise, ...]:
    """The exercises of an evening.  number: 1 to 6.  Raises Fault for another."""
    if not 1 <= number <= len(EVENINGS):
        raise fault("evening", number, f"must be 1 to {len(EVENINGS)}.")
    return EVENINGS[number - 1].EXERCISES


def keys_of(number: int) -> tuple[str, ...]:
    """Keys of an evening's exercises, in the order of page and paper.  number: 1 to 6."""
    return tuple(e.key for e in of_evening(number))


def guesses_of(number: int) -> tuple[str, ...]:
    """Keys of an evening's predictions.  number: 1 to 6.  Raises Fault for another."""
    of_evening(number)
    return GUESSES[number - 1]


def guess_noted_as(key: str, evening: int | None) -> str:
    """Under which key a score of a guess is kept: asked again on a later evening it stands beside the first answer.

    key: of the prediction. evening: 1 to 6, or None for an ordinary page.

    >>> guess_noted_as("hot-ohms", 1), guess_noted_as("hot-ohms", 6)
    ('hot-ohms', 'hot-ohms, evening 6')
    """
    asked_before = evening is not None and any(key in guesses_of(n) for n in range(1, evening))
    return f"{key}, evening {evening}" if asked_before else key
