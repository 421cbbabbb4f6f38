"""Many designs of one structure at once: the steady state of all of them, side by side.

The arrays stand as (node, design), so that each step of an ordinary elimination is done for all
designs together.  No pivoting is needed: -dq/dT has positive diagonal, no positive entry beside it, and
columns that add up to the node's own loss, so it is diagonally dominant by columns in any order of the
nodes (Golub and Van Loan, Matrix Computations, 4th ed., section 4.1).  The order of elimination takes
the node with the fewest neighbours next (minimum degree; Tinney and Walker, Proc. IEEE 55 (1967) 1801).
"""

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from ...basics.fault import fault
from .assemble import assemble
from .curves import ABSOLUTE_ZERO_C
from .many_flows import flow_maps, incidence, ways_of
from .network import Bars, Links, Network, Rays, Skins
from .newton import CLOSE_ENOUGH_K, LONGEST_STEP_K, MOST_STEPS, Steady, error_left, uniform_loss
from .numbering import free_pairs, refuse_islands
from .refusals import refuse_nonsense

SIDE_BY_SIDE = 2000  # designs that are worked on together; more would only cost memory


@dataclass(frozen=True, eq=False)
class Plan:
    """Elimination worked out once: for each node (node, its neighbours then, where its row begins, places changed).

    All lies in one array: the diagonals first, then for each node its row, its right side, its column.
    entry: {(row, column): place} of all entries, with what elimination fills in. right: places (n,).
    """

    steps: tuple
    entry: dict
    right: np.ndarray
    size: int


@lru_cache(maxsize=8)
def elimination_plan(count, pairs):
    """Order of elimination and places of all matrix entries; remembered for the structures met last.

    count: number of unknowns. pairs: tuple of (place, place) that are linked.
    Returns Plan.
    """
    beside = [set() for _ in range(count)]
    for a, b in pairs:
        beside[a].add(b)
        beside[b].add(a)
    left, found, entry, size = set(range(count)), [], {(k, k): k for k in range(count)}, count
    right = np.zeros(count, dtype=int)
    while left:
        node = min(left, key=lambda k: (len(beside[k]), k))
        left.remove(node)
        near = sorted(beside[node])
        right[node] = size + len(near)
        for k, other in enumerate(near):
            entry[node, other], entry[other, node] = size + k, size + len(near) + 1 + k
            beside[other].update(near)
            beside[other] -= {other, node}
        found.append((node, near, size))
        size += 2 * len(near) + 1
    steps = tuple(
        (node, near, row, np.array([p for r in near for p in (*(entry[r, c] for c in near), right[r])], dtype=int))
        for node, near, row in found
    )
    return Plan(steps, entry, right, size)


def eliminate(order, matrix):
    """Solve for all designs.

    order: Plan. matrix: entries and right sides (order.size, designs), used up.
    Returns solution (unknowns, designs).
    """
    for node, near, row, places in order.steps:
        k = len(near)
        if k:
            factor = matrix[row + k + 1 : row + 2 * k + 1] / matrix[node]
            change = factor[:, None] * matrix[row : row + k + 1]
            matrix[places] -= change.reshape(k * (k + 1), -1)
    found = np.empty((order.right.size, matrix.shape[1]))
    for node, near, row, _ in reversed(order.steps):
        total = matrix[row + len(near)]
        for k, other in enumerate(near):
            total -= matrix[row + k] * found[other]
        np.divide(total, matrix[node], out=found[node])
    return found


def steady_many(net):
    """Steady state of all designs of a network.

    net: Network with a designs axis in some of its values (the others are shared by all designs); the
    same nodes are held in all of them.
    Returns Steady with temps_c (designs, nodes), power_w, lost_w, balance_w (designs,), and the most
    Newton steps that any design took.
    Fails: as steady(); numbers of designs that differ from one value to the next.
    """
    refuse_nonsense(net)
    values = [
        net.capacity_j_k,
        net.power_w,
        net.held_c,
        net.links.conductance_w_k,
        net.bars.shape_m,
        net.rays.exchange_w_k4,
        net.skins.area_m2,
    ]
    counts = {v.shape[0] for v in values if v.ndim == 2} | {c.pieces.shape[1] for c in net.curves if c.pieces.ndim == 3}
    if len(counts) != 1:
        raise fault("many designs", sorted(counts), "are numbers of designs that differ.")
    held = np.atleast_2d(~np.isnan(net.held_c))
    if (held != held[0]).any():
        raise fault("many designs", "", "must hold the same nodes in every design.")
    refuse_islands(net)
    count = counts.pop()
    free = np.flatnonzero(~held[0])
    order = elimination_plan(free.size, tuple(zip(*(p.tolist() for p in free_pairs(net, free)))))
    one = design(net, 0)
    start = uniform_loss(one, assemble(one))
    results = [
        _newton(net, order, free, start, slice(a, min(a + SIDE_BY_SIDE, count)), count)
        for a in range(0, count, SIDE_BY_SIDE)
    ]
    temps, power, lost_w = (np.concatenate([r[k] for r in results]) for k in range(3))
    return Steady(net.names, temps, power, lost_w, power - lost_w, max(r[3] for r in results))


def design(net, number):
    """One design out of many.

    net: Network with a designs axis. number: which.
    Returns Network of that design alone.
    """

    def pick(values):
        return values[number] if values.ndim == 2 else values

    curves = tuple(replace(c, pieces=c.pieces[:, number]) if c.pieces.ndim == 3 else c for c in net.curves)
    return Network(
        net.names,
        pick(net.capacity_j_k),
        pick(net.power_w),
        pick(net.held_c),
        Links(net.links.first, net.links.second, pick(net.links.conductance_w_k)),
        Bars(net.bars.first, net.bars.second, pick(net.bars.shape_m), net.bars.material),
        Rays(net.rays.first, net.rays.second, pick(net.rays.exchange_w_k4)),
        Skins(net.skins.node, pick(net.skins.area_m2), net.skins.curve),
        net.materials,
        curves,
        net.contents,
        net.station_by_station,
        net.stores,
        net.stored_by,
    )


def _newton(net, order, free, start, which, count):
    """Newton's method for the designs `which`: temps (designs, nodes), power, lost, steps."""
    size = which.stop - which.start

    def up(values):
        """(value, design) of what may be shared or differ."""
        return np.ascontiguousarray(values[which].T) if values.ndim == 2 else values[:, None]

    n = len(net.names)
    place = np.full(n, -1)
    place[free] = np.arange(free.size)
    ways = ways_of(net, up, which)
    power = np.broadcast_to(up(net.power_w), (n, size))
    total_w = power[free].sum(axis=0)
    temps = np.array(np.broadcast_to(up(net.held_c), (n, size)))
    temps[free] = np.interp(total_w, *start)
    q_from, m_from = flow_maps(net, place, order, n)

    moved = before = left = np.inf
    for steps in range(MOST_STEPS + 1):
        flows, slope_first, slope_second, off, off_slope = ways(temps)
        out = np.concatenate([flows, off])
        into = power[free] - q_from @ out
        if left <= CLOSE_ENOUGH_K:
            held_in = np.flatnonzero(place < 0)
            lost_w = off.sum(axis=0) - (incidence(net, n)[held_in] @ flows).sum(axis=0)
            return temps.T, total_w, lost_w, steps
        matrix = m_from @ np.concatenate([slope_first, slope_second, off_slope])
        with np.errstate(divide="ignore", invalid="ignore"):
            matrix[order.right] = into
            change = eliminate(order, matrix)
        each = np.abs(change).max(axis=0)
        before, moved = moved, float(each.max())
        left = error_left(moved, before)
        if not np.isfinite(moved):
            bad = int(np.flatnonzero(~np.isfinite(each))[0]) + which.start
            raise fault("steady state", f"design {bad}", "has a temperature that nothing settles.")
        change *= np.minimum(1.0, LONGEST_STEP_K / np.maximum(each, 1e-30))
        temps[free] = np.maximum(temps[free] + change, ABSOLUTE_ZERO_C)
    raise fault("steady state", f"{MOST_STEPS} steps", "found no balance in one of the designs.")
