"""The two resistances that take one power from a supply: the current in each, and what is lost on the way."""

from dataclasses import dataclass

import numpy as np


@dataclass(frozen=True)
class Answer:
    """One of the two: word, load_ohm, current and watts lost in supply and tails; nan where it is not known."""

    word: str
    load_ohm: float
    load_a: float
    source_loss_w: float


def two_resistances(supply, wire):
    """Both resistances for the wanted power.

    supply: SupplyPart. wire: WirePart.
    Returns (Answer, Answer), the higher resistance first.  Equation: I = sqrt(P / R); loss I^2 R before it.
    """
    found = []
    for word, ohm in (("higher", wire.higher_ohm), ("lower", wire.lower_ohm)):
        amps = float(np.sqrt(wire.wanted_w / ohm)) if ohm > 0 else float("nan")
        found.append(Answer(word, ohm, amps, amps**2 * (supply.source_in_use_ohm + wire.tails_ohm)))
    return tuple(found)
