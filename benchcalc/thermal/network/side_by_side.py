"""Many designs of one structure at once: the steady state of all of them, side by side.

The arrays stand as (node, design), so that each step of an ordinary elimination is done for all
designs together.  No pivoting is needed: -dq/dT has positive diagonal, no positive entry beside it, and
columns that add up to the node's own loss, so it is diagonally dominant by columns in any order of the
nodes (Golub and Van Loan, Matrix Computations, 4th ed., section 4.1).  The order of elimination takes
the node with the fewest neighbours next (minimum degree; Tinney and Walker, Proc. IEEE 55 (1967) 1801).
"""

from dataclasses import dataclass, replace
from functools import lru_cache
from heapq import heapify, heappop, heappush

import numpy as np

from ...basics.fault import fault
from .assemble import assemble
from .curves import ABSOLUTE_ZERO_C
from .many_flows import flow_maps, incidence, laid_out, ways_of
from .network import Bars, Links, Network, Rays, Skins
from .newton import CLOSE_ENOUGH_K, LONGEST_STEP_K, MOST_STEPS, Steady, steady_of
from .numbering import free_pairs, refuse_islands
from .refusals import refuse_nonsense

SIDE_BY_SIDE = 170_000  # temperatures that are worked on together, of as many designs as have them
WORTH_LEAVING = 0.8  # share of designs still open below which the others are left alone
RISE_POWER = 0.8  # a rise goes about so with the power: good enough to start from


@dataclass(frozen=True, eq=False)
class Plan:
    """Elimination worked out once: for each node (node, its neighbours then, where its row begins, places changed).

    All lies in one array: the diagonals first, then for each node its row, its right side, its column.
    keys, at: row times n plus column of each entry, what elimination fills in among them, rising, and its place.
    right: places of the right sides (n,).
    """

    steps: tuple
    keys: np.ndarray
    at: np.ndarray
    right: np.ndarray
    size: int

    def places(self, rows, columns):
        """Where entries lie.  rows, columns: of each (m,), among those the plan knows."""
        return self.at[np.searchsorted(self.keys, rows * self.right.size + columns)]


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
    found, entry, size = [], {(k, k): k for k in range(count)}, count
    right, done = np.zeros(count, dtype=int), [False] * count
    waiting = [(len(near), k) for k, near in enumerate(beside)]
    heapify(waiting)
    while waiting:
        neighbours, node = heappop(waiting)
        if done[node] or neighbours != len(beside[node]):  # it has other neighbours by now, and waits again with them
            continue
        done[node], near = True, sorted(beside[node])
        right[node] = size + len(near)
        for k, other in enumerate(near):
            entry[node, other], entry[other, node] = size + k, size + len(near) + 1 + k
            beside[other].update(near)
            beside[other] -= {other, node}
            heappush(waiting, (len(beside[other]), other))
        found.append((node, near, size))
        size += 2 * len(near) + 1
    steps = tuple(
        (node, near, row, np.array([p for r in near for p in (*(entry[r, c] for c in near), right[r])], dtype=int))
        for node, near, row in found
    )
    keys, at = np.array([r * count + c for r, c in entry], dtype=int), np.array(list(entry.values()), dtype=int)
    order = np.argsort(keys)
    return Plan(steps, keys[order], at[order], right, size)


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


def steady_many(net, start_c=None, close_k=CLOSE_ENOUGH_K):
    """Steady state of all designs of a network.

    net: Network with a designs axis in some of its values (the others are shared by all designs); the
    same nodes are held in all of them. start_c: degC (designs, nodes) to start from; None: from one design that is
    solved alone. close_k: K that may be left open, above 0.
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
    start = _start(net, free, count) if start_c is None else np.ascontiguousarray(np.asarray(start_c)[:, free].T)
    place = np.full(len(net.names), -1)
    place[free] = np.arange(free.size)
    maps = (*flow_maps(net, place, order, len(net.names)), incidence(net, len(net.names))[np.flatnonzero(place < 0)])
    together = max(SIDE_BY_SIDE // max(free.size, 1), 64)
    results = [
        _newton(net, (order, free, maps), (start, close_k), np.arange(a, min(a + together, count)))
        for a in range(0, count, together)
    ]
    temps, power, lost_w = (np.concatenate([r[k] for r in results]) for k in range(3))
    return Steady(net.names, temps, power, lost_w, power - lost_w, max(r[3] for r in results))


def _start(net, free, count):
    """Where to start: from one design that is solved alone, its rise brought to the power and the room of each.

    Returns degC (free nodes, designs).
    """
    watts = np.broadcast_to(np.atleast_2d(net.power_w)[:, free].sum(axis=1), count)
    middle = int(np.argsort(watts, kind="stable")[count // 2])
    one = design(net, middle)
    found = steady_of(one, assemble(one), one.power_w)
    held = np.atleast_2d(net.held_c)
    rooms = np.nanmean(held, axis=1) if np.isfinite(held).any() else np.array([one.curves[0].ambient_c])
    rooms = np.broadcast_to(rooms, count)
    more = (watts / watts[middle]) ** RISE_POWER if watts[middle] > 0 else np.ones(count)
    return rooms + (found.temps_c[free, None] - rooms[middle]) * more


def design(net, number):
    """One design out of many.

    net: Network with a designs axis. number: which.
    Returns Network of that design alone, its values copied: whoever keeps it does not keep all designs.
    """

    def pick(values):
        return values[number].copy() if values.ndim == 2 else values

    curves = tuple(replace(c, pieces=c.pieces[:, number].copy()) if c.pieces.ndim == 3 else c for c in net.curves)
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


def _newton(net, plan, ends, which):
    """Newton's method for the designs `which`: temps (designs, nodes), power, lost, steps.

    plan: (Plan, free nodes, maps from flows). ends: start, degC (free, designs of the network), and K that may be left
    open. A design that has its answer is left alone while the others go on.
    """
    start, close_k = ends
    (order, free, (q_from, m_from, to_held)), n = plan, len(net.names)
    power, held = (np.broadcast_to(laid_out(v, which), (n, which.size)) for v in (net.power_w, net.held_c))
    temps, power = np.array(held), power[free]
    temps[free] = start[:, which]
    ways = all_ways = ways_of(net, which)
    open_, here, watts, before = np.arange(which.size), temps, power, np.inf
    for steps in range(MOST_STEPS + 1):
        flows, slopes = ways(here)
        matrix = m_from @ slopes
        with np.errstate(divide="ignore", invalid="ignore"):
            matrix[order.right] = watts - q_from @ flows
            change = eliminate(order, matrix)
        moved = np.abs(change).max(axis=0)
        if not np.isfinite(moved).all():
            bad = int(which[open_[~np.isfinite(moved)][0]])
            raise fault("steady state", f"design {bad}", "has a temperature that nothing settles.")
        change *= np.minimum(1.0, LONGEST_STEP_K / np.maximum(moved, 1e-30))
        here[free] = np.maximum(here[free] + change, ABSOLUTE_ZERO_C)
        closing = (moved < 0.1 * before) & (before <= LONGEST_STEP_K)
        left = np.where(closing, np.minimum(moved, 100 * moved**3 / np.square(before)), moved)
        temps[:, open_] = here
        go_on, before = left > close_k, moved
        if not go_on.any():
            flows, _ = all_ways(temps)
            m = to_held.shape[1]
            lost_w = flows[m:].sum(axis=0) - (to_held @ flows[:m]).sum(axis=0)
            return temps.T, power.sum(axis=0), lost_w, steps + 1
        if go_on.mean() < WORTH_LEAVING:
            open_, before = open_[go_on], before[go_on]
            here, watts, ways = temps[:, open_], power[:, open_], ways_of(net, which[open_])
    raise fault("steady state", f"{MOST_STEPS} steps", "found no balance in one of the designs.")
