"""Stations along the tool and tracks across it: where each part has its cells.

All places where anything begins or ends cut the axis into intervals; each interval has a fixed
number of cells, so that many designs share one structure and only their lengths differ.
"""

from bisect import bisect_left
from dataclasses import dataclass

import numpy as np

from ...basics.fault import Complaint, Fault
from ...basics.names import say

CELL_M, FINE_M = 2e-3, 1e-3
SAME_M = 1e-7


@dataclass(frozen=True)
class Grain:
    """How fine a tool is cut up.  cells: number of cells between each two places where anything begins or ends, () for
    as many as its length wants. tracks: names of the tracks from the inside out, () for the order of the first design.
    loss_step_k, loss_top_c: K and degC, spacing and end of the tables of what surfaces shed. loss_slope: whether they
    take their own slopes, or those of the neighbours in the table."""

    cells: tuple = ()
    tracks: tuple = ()
    loss_step_k: float = 10.0
    loss_slope: bool = True
    loss_top_c: float = 1400.0


FINE = Grain()


@dataclass(frozen=True, eq=False)
class Mesh:
    """edges_m (designs, stations + 1), step_m (designs, stations), and the station where each break lies."""

    breaks_m: tuple
    first_station: tuple
    edges_m: np.ndarray
    step_m: np.ndarray

    def span(self, from_m, to_m):
        """Stations from one break to another, as a slice.

        from_m, to_m: places that are among the breaks (first design counts).
        """
        return slice(self._station(from_m), self._station(to_m))

    def _station(self, place_m):
        at = _first(place_m)
        after = min(max(bisect_left(self.breaks_m, at), 1), len(self.breaks_m) - 1)
        before = abs(self.breaks_m[after - 1] - at) <= abs(self.breaks_m[after] - at)
        return self.first_station[after - 1 if before else after]

    @property
    def cells(self):
        """Number of cells in each interval, tuple."""
        return tuple(b - a for a, b in zip(self.first_station, self.first_station[1:]))

    @property
    def middle_m(self):
        """Middle of each station (designs, stations)."""
        return (self.edges_m[:, 1:] + self.edges_m[:, :-1]) / 2


def _first(value):
    return value if type(value) is float else float(np.ravel(value)[0])


def refuse_loose_joints(pieces, between):
    """Complain of a joint between two parts that do not meet.

    pieces: tuple of Piece. between: tuple of Between.
    Returns None.  Raises Fault that says how many millimetres lie between them.
    """
    by, wrong = {p.id: p for p in pieces}, []
    for b in between:
        if b.contact_w_m2k is None or b.inner not in by or b.outer not in by:
            continue
        a, c = by[b.inner], by[b.outer]
        gap = float(np.max(np.maximum(a.from_m, c.from_m) - np.minimum(a.to_m, c.to_m)))
        if gap > SAME_M:
            wrong.append(
                Complaint(
                    f"joint of {a.id} and {c.id}",
                    "",
                    f"joins parts that leave a gap of {say('length_m', gap)}.",
                    "",
                    "Move one of them, or take the joint away.",
                )
            )
    if wrong:
        raise Fault(*wrong)


def _least(high, low):
    return float(np.min(np.asarray(high, float) - np.asarray(low, float)))


def make_mesh(places, fine, designs, cells=()):
    """Cut the axis.

    places: all places where something begins or ends (floats or arrays (designs,)).
    fine: list of (from, to) that want cells of half the size (joints).
    designs: number of designs, 1 or more. cells: of each interval, whole numbers; (): as many as its length wants.
    Returns Mesh.  Raises Fault where the order of places differs between designs; ValueError for cells that are not
    one number for each interval.
    """
    ordered = sorted((np.broadcast_to(np.asarray(p, float), (designs,)) for p in places), key=_first)
    breaks = [ordered[0]]
    for place in ordered[1:]:
        if np.all(np.abs(place - breaks[-1]) <= SAME_M):
            continue
        if np.any(place - breaks[-1] < -SAME_M) or (designs > 1 and np.any(place - breaks[-1] <= SAME_M)):
            raise Fault(
                Complaint(
                    "lengths",
                    "",
                    "change the order of the tool's parts from one design to another.",
                    do="Work such designs out one by one.",
                )
            )
        breaks.append(place)
    if cells and len(cells) != len(breaks) - 1:
        raise ValueError(f"{len(cells)} numbers of cells for {len(breaks) - 1} intervals")
    counts = list(cells)
    for a, b in () if cells else zip(breaks, breaks[1:]):
        length = float(np.max(b - a))
        small = any(_first(f) - SAME_M <= _first(a) and _first(b) <= _first(t) + SAME_M for f, t in fine)
        counts.append(max(1, int(np.ceil(length / (FINE_M if small else CELL_M) - 1e-6))))
    edges = [breaks[0][:, None]]
    for a, b, n in zip(breaks, breaks[1:], counts):
        edges.append(a[:, None] + (b - a)[:, None] * np.arange(1, n + 1) / n)
    edges = np.concatenate(edges, axis=1)
    first = tuple(np.concatenate([[0], np.cumsum(counts)]).tolist())
    return Mesh(tuple(_first(b) for b in breaks), first, edges, np.diff(edges, axis=1))


def same_order(places, designs):
    """Which designs have places in the same order, places that coincide included.

    places: as make_mesh. designs: their number.
    Returns whole numbers (designs,): equal for equal orders, from 0 on.
    """
    at = np.array([np.broadcast_to(np.asarray(p, float), (designs,)) for p in places])
    steps = np.rint(at / SAME_M)
    order = np.argsort(steps, axis=0, kind="stable")
    tied = np.diff(np.take_along_axis(steps, order, axis=0), axis=0) <= 1
    _, labels = np.unique(np.concatenate([order, tied]).T, axis=0, return_inverse=True)
    return labels.reshape(-1)


def refuse_bad_places(pieces):
    """Complain of parts that overlap, or that leave a gap on the axis.

    pieces: tuple of Piece; of many designs, all are looked at.
    Returns None.  Raises Fault that says which parts, by how many millimetres.
    """
    wrong = []
    for p in pieces:
        wall, length = _least(p.outer_m, p.inner_m), _least(p.to_m, p.from_m)
        if wall <= 0 or length <= 0:
            wrong.append(
                Complaint(
                    p.id,
                    say("length_m", wall / 2 if wall <= 0 else length),
                    "is no wall." if wall <= 0 else "is no length.",
                    "Inner and outer, or from and to, may be swapped.",
                )
            )
    for i, a in enumerate(pieces):
        for c in pieces[i + 1 :]:
            if a.work or c.work:
                continue
            along = np.minimum(a.to_m, c.to_m) - np.maximum(a.from_m, c.from_m)
            across = np.minimum(a.outer_m, c.outer_m) - np.maximum(a.inner_m, c.inner_m)
            both = (along > SAME_M) & (across > 1e-6)
            along, across = float(np.max(along)), float(np.max(across))
            if np.any(both):
                wrong.append(
                    Complaint(
                        f"{a.id} and {c.id}",
                        "",
                        f"overlap by {say('length_m', along)} along the axis and {say('length_m', across / 2)} across.",
                        "Two parts cannot fill one place.",
                    )
                )
    solid = sorted((p for p in pieces if not p.work), key=lambda p: _first(p.from_m))
    reach, before = (_first(solid[0].to_m), solid[0]) if solid else (0.0, None)
    for p in solid[1:]:
        gap = float(np.max(np.asarray(p.from_m) - reach))
        if gap > SAME_M:
            wrong.append(
                Complaint(
                    f"{before.id} and {p.id}",
                    "",
                    f"leave a gap of {say('length_m', gap)} on the axis: nothing joins them.",
                )
            )
        before = p if _first(p.to_m) > _first(reach) else before  # the one that reaches farthest
        reach = np.maximum(reach, p.to_m)
    if wrong:
        raise Fault(*wrong)
