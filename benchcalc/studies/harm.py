"""How grave it is what a verdict warns of."""

import numpy as np

from ..basics.tables import rows

MELTS = "a wire that melts"


def harm_of(verdict):
    """How grave a verdict is: (rank, words), 1 the gravest.  verdict: Verdict, of a wire that melts by that."""
    melts = np.ndim(verdict.value) == 0 and verdict.melts(verdict.value)
    words = (verdict.what, MELTS) if melts else (verdict.what,)
    harms = [next(r for r in rows("harm") if what.startswith(r["begins"] or "")) for what in words]
    row = min(harms, key=lambda r: int(r["rank"]))
    return int(row["rank"]), row["harm"]


def shown_first(limits, most):
    """Those limits that a page shows: the first few, and below them whatever else is a fire and not fine.

    limits: list of (link, Verdict), the gravest first, as of `to_look_at`. most: how many are shown
    at least, where there are so many.
    Returns list of (link, Verdict).
    """
    return [*limits[:most], *(one for one in limits[most:] if harm_of(one[1])[1] == "fire")]
