"""Flows and slopes of many designs of one structure, laid out as (way, design)."""

import numpy as np

from .curves import ABSOLUTE_ZERO_C, ramps
from .even_ramps import ramp_pieces


def laid_out(values, which):
    """Values of a network as (value, design), one column where all designs share them.

    values: (designs, m) or (m,). which: numbers of designs.
    """
    return np.ascontiguousarray(values[which].T) if values.ndim == 2 else values[:, None]


def ways_of(net, which):
    """How heat flows in many designs.

    net: Network. which: numbers of designs.
    Returns function of temps (n, designs) that gives flows (W) and slopes (W/K), in the same work space each time: the
    flow of each link, bar and ray, then the loss of each skin; and how fast each flow rises with the temperature at its
    first end, how fast it falls with that at its second, and how fast each loss rises.
    """
    links, bars, rays, skins = net.links, net.bars, net.rays, net.skins
    conductance, shape, exchange, area = (
        laid_out(v, which) for v in (links.conductance_w_k, bars.shape_m, rays.exchange_w_k4, skins.area_m2)
    )
    of = [_ends_of(bars, bars.material == k) for k in range(len(net.materials))]
    on = [np.flatnonzero(skins.curve == k) for k in range(len(net.curves))]
    by_rays = _ends_of(rays, slice(None))
    linked, m = links.first.size, links.first.size + bars.first.size
    all_ways = m + rays.first.size
    flows, slopes = (np.empty((k * all_ways + skins.node.size, which.size)) for k in (1, 2))
    first, second, off_slope = slopes[:all_ways], slopes[all_ways : 2 * all_ways], slopes[2 * all_ways :]
    off = flows[all_ways:]
    first[:linked] = second[:linked] = conductance

    def ways(temps):
        part = flows[:linked]
        np.subtract(temps[links.first], temps[links.second], out=part)
        np.multiply(part, conductance, out=part)
        for (at, used, i, j), material in zip(of, net.materials):
            heat, rise = _conduction(material, temps[used])
            here = shape[at]
            flows[linked + at] = here * (heat[i] - heat[j])
            first[linked + at], second[linked + at] = here * rise[i], here * rise[j]
        _, used, i, j = by_rays
        kelvin = temps[used] - ABSOLUTE_ZERO_C
        cube = kelvin * kelvin * kelvin
        np.multiply(kelvin, cube, out=kelvin)
        np.multiply(exchange, kelvin[i] - kelvin[j], out=flows[m:all_ways])
        cube *= 4.0
        np.multiply(exchange, cube[i], out=first[m:])
        np.multiply(exchange, cube[j], out=second[m:])
        for at, curve in zip(on, net.curves):
            x = (temps[skins.node[at]] - curve.start_c) * (1.0 / curve.step_k) + 1.0
            cell = np.clip(x.astype(int), 0, curve.pieces.shape[-1] - 1)
            x -= cell
            table = curve.pieces
            if table.ndim == 3:
                cell += which * table.shape[-1]
                table = table.reshape(4, -1)
            a, b, c, d = table.take(cell, axis=1)
            off[at] = area[at] * (a + x * (b + x * (c + x * d)))
            off_slope[at] = area[at] * (b + x * (2 * c + x * 3 * d)) * (1.0 / curve.step_k)
        return flows, slopes

    return ways


def _ends_of(ways, mine):
    """Some ways: their numbers, the nodes at their ends, and which of these each begins and ends at."""
    at = np.arange(ways.first.size)[mine]
    used, back = np.unique(np.concatenate([ways.first[at], ways.second[at]]), return_inverse=True)
    return at, used, back[: at.size], back[at.size :]


def _conduction(material, temps):
    """Conductivity integral (W/m) and conductivity of a material at many temperatures."""
    base, *rest = ramps(material)
    heat, rise, even = base * temps, np.full(temps.shape, base), ramp_pieces(material)
    if not rest[0].size:
        return heat, rise
    if even is not None:
        first_c, step_k, pieces = even
        x = (temps - first_c) * (1.0 / step_k) + 1.0
        cell = np.clip(x.astype(int), 0, pieces.shape[1] - 1)
        x -= cell
        a, b, c = pieces.take(cell, axis=1)
        c *= x
        heat += a + x * (b + c)
        rise += (b + 2 * c) * (1.0 / step_k)
        return heat, rise
    for low_c, width_k, slope in zip(*rest):
        over = temps - low_c
        risen = np.clip(over, 0.0, width_k)
        rise += slope * risen
        heat += (slope * risen) * (over - 0.5 * risen)
    return heat, rise


def incidence(net, n):
    """Which ways leave and reach each node.

    net: Network. n: number of nodes.
    Returns scipy sparse array (nodes, links + bars + rays): +1 where a way leaves a node, -1 where it arrives.
    """
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
    q_from = hstack([incidence(net, n)[free], leave[free]]).tocsr()
    first = place[np.concatenate([net.links.first, net.bars.first, net.rays.first])]
    second = place[np.concatenate([net.links.second, net.bars.second, net.rays.second])]
    each, skin_at = np.arange(first.size), place[skins.node]
    rows, columns, signs = [], [], []
    for near, far, base in ((first, second, 0), (second, first, first.size)):
        own, both = near >= 0, (near >= 0) & (far >= 0)
        rows += [order.places(near[own], near[own]), order.places(far[both], near[both])]
        columns += [base + each[own], base + each[both]]
        signs += [np.ones(own.sum()), -np.ones(both.sum())]
    on = skin_at >= 0
    rows, columns, signs = (
        [*rows, skin_at[on]],
        [*columns, 2 * first.size + np.flatnonzero(on)],
        [*signs, np.ones(on.sum())],
    )
    found = (np.concatenate(signs), (np.concatenate(rows), np.concatenate(columns)))
    return q_from, coo_array(found, shape=(order.size, 2 * first.size + count)).tocsr()
