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
from .curves import ABSOLUTE_ZERO_C, ramps
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
            lost_w = off.sum(axis=0) - (_incidence(net, n)[held_in] @ flows).sum(axis=0)
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


def ways_of(net, up, which):
    """How heat flows in many designs.

    net: Network. up: function that lays values out as (value, design). which: slice of designs.
    Returns function of temps (n, designs): flow of each link, bar and ray (W), its two slopes (W/K); loss of each skin,
    its slope.
    """
    links, bars, rays, skins = net.links, net.bars, net.rays, net.skins
    conductance, shape, exchange, area = (
        up(v) for v in (links.conductance_w_k, bars.shape_m, rays.exchange_w_k4, skins.area_m2)
    )
    of = [np.flatnonzero(bars.material == k) for k in range(len(net.materials))]
    on = [np.flatnonzero(skins.curve == k) for k in range(len(net.curves))]

    def ways(temps):
        size = temps.shape[1]
        m = (links.first.size, bars.first.size, rays.first.size)
        flows, first, second = (np.empty((sum(m), size)) for _ in range(3))
        a, b = temps[links.first], temps[links.second]
        flows[: m[0]] = conductance * (a - b)
        first[: m[0]] = second[: m[0]] = conductance
        for k, material in enumerate(net.materials):
            at = of[k]
            used, back = np.unique(np.concatenate([bars.first[at], bars.second[at]]), return_inverse=True)
            heat, rise = _conduction(material, temps[used])
            i, j = back[: at.size], back[at.size :]
            here = shape[at]
            flows[m[0] + at] = here * (heat[i] - heat[j])
            first[m[0] + at], second[m[0] + at] = here * rise[i], here * rise[j]
        a, b = temps[rays.first] - ABSOLUTE_ZERO_C, temps[rays.second] - ABSOLUTE_ZERO_C
        tail = slice(m[0] + m[1], None)
        a2, b2 = a * a, b * b
        flows[tail] = exchange * (a2 * a2 - b2 * b2)
        first[tail], second[tail] = 4 * exchange * a2 * a, 4 * exchange * b2 * b
        off, off_slope = np.empty((skins.node.size, size)), np.empty((skins.node.size, size))
        for k, curve in enumerate(net.curves):
            at = on[k]
            x = (temps[skins.node[at]] - curve.start_c) * (1.0 / curve.step_k) + 1.0
            cell = np.clip(x.astype(int), 0, curve.pieces.shape[-1] - 1)
            x -= cell
            table = curve.pieces
            if table.ndim == 3:
                cell += np.arange(which.start, which.stop) * table.shape[-1]
                table = table.reshape(4, -1)
            a, b, c, d = table.take(cell, axis=1)
            off[at] = area[at] * (a + x * (b + x * (c + x * d)))
            off_slope[at] = area[at] * (b + x * (2 * c + x * 3 * d)) * (1.0 / curve.step_k)
        return flows, first, second, off, off_slope

    return ways


def _conduction(material, temps):
    """Conductivity integral (W/m) and conductivity of a material at many temperatures."""
    base, *rest = ramps(material)
    heat, rise = base * temps, np.full(temps.shape, base)
    for low_c, width_k, slope in zip(*rest):
        over = temps - low_c
        risen = np.clip(over, 0.0, width_k)
        rise += slope * risen
        heat += (slope * risen) * (over - 0.5 * risen)
    return heat, rise


def _incidence(net, n):
    """Sparse (nodes, links + bars + rays): +1 where a way leaves a node, -1 where it arrives."""
    from scipy.sparse import coo_array

    first = np.concatenate([net.links.first, net.bars.first, net.rays.first])
    second = np.concatenate([net.links.second, net.bars.second, net.rays.second])
    each = np.arange(first.size)
    return coo_array(
        (np.repeat([1.0, -1.0], first.size), (np.concatenate([first, second]), np.tile(each, 2))), shape=(n, first.size)
    ).tocsr()


def flow_maps(net, place, order, n):
    """Sparse maps from flows to heat out of each free node, and from slopes to matrix entries.

    net: Network. place: of each node among the free ones, -1 where held (n,). order: Plan. n: number of nodes.
    Returns (map of flows and losses, map of slopes), scipy sparse arrays.
    """
    from scipy.sparse import coo_array, hstack

    free = np.flatnonzero(place >= 0)
    skins, count = net.skins, net.skins.node.size
    leave = coo_array((np.ones(count), (skins.node, np.arange(count))), shape=(n, count)).tocsr()
    q_from = hstack([_incidence(net, n)[free], leave[free]]).tocsr()
    first = place[np.concatenate([net.links.first, net.bars.first, net.rays.first])]
    second = place[np.concatenate([net.links.second, net.bars.second, net.rays.second])]
    rows, columns, signs = [], [], []
    m = first.size
    for near, far, base in ((first, second, 0), (second, first, m)):
        for k in np.flatnonzero(near >= 0):
            rows.append(order.entry[near[k], near[k]])
            columns.append(base + k)
            signs.append(1.0)
            if far[k] >= 0:
                rows.append(order.entry[far[k], near[k]])
                columns.append(base + k)
                signs.append(-1.0)
    for k in np.flatnonzero(place[skins.node] >= 0):
        rows.append(place[skins.node[k]])
        columns.append(2 * m + k)
        signs.append(1.0)
    return q_from, coo_array((signs, (rows, columns)), shape=(order.size, 2 * m + count)).tocsr()
