"""Two sheets side by side: which main numbers differ, and which verdicts turn."""

from dataclasses import dataclass

import numpy as np

from ..chain.verdict import Verdict
from ..chain.workings import Workings

LEAST_SHARE = 0.005  # a smaller difference is not told; own judgement


@dataclass(frozen=True)
class Differing:
    """A main number that differs.  path: such as "heat.tip_c". one, other: SI, nan where a sheet does not give it.
    apart: whether the bands of the two lie wholly apart, so that the difference is more than doubt."""

    path: str
    one: float
    other: float
    apart: bool


@dataclass(frozen=True)
class Turned:
    """A verdict whose state differs, or that only one sheet has.  link: its link. one, other: Verdict or None."""

    link: str
    one: Verdict | None
    other: Verdict | None


def differing(one: Workings, other: Workings) -> tuple:
    """The main numbers of each link that differ.

    one, other: Workings of two sheets (floats).
    Returns tuple of Differing, in the order of the chain; a number that two links hand on stands once.
    """
    found, told = [], set()
    for link in one.links:
        for field in link.headline:
            values = [getattr(w.parts.get(link.name), field, np.nan) for w in (one, other)]
            a, b = (np.nan if v is None else float(v) for v in values)
            if (np.isnan(a) and np.isnan(b)) or (field, a, b) in told:
                continue
            told.add((field, a, b))
            if not abs(a - b) <= LEAST_SHARE * max(abs(a), abs(b)):
                found.append(Differing(path := f"{link.name}.{field}", a, b, _apart(one, other, path)))
    return tuple(found)


def _apart(one, other, path):
    a, b = one.bands.get(path), other.bands.get(path)
    return a is not None and b is not None and (a.high < b.low or b.high < a.low)


def turned(one: Workings, other: Workings) -> tuple:
    """The verdicts that turn from one sheet to the other.

    one, other: Workings of two sheets (floats).
    Returns tuple of Turned; those of the first sheet first, in its order.
    """
    mine, theirs = ({(link, v.what): v for link, v in w.verdicts} for w in (one, other))
    keys = dict.fromkeys([*mine, *theirs])
    both = [(link, mine.get((link, what)), theirs.get((link, what))) for link, what in keys]
    return tuple(Turned(*t) for t in both if getattr(t[1], "state", None) != getattr(t[2], "state", None))
