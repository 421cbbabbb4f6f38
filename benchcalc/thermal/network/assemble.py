"""From a network to band matrices.

Heat into the free nodes is  q = power + fixed - sum B f(T) - skins(T)  with constant band matrices B
and functions f of one node's temperature each: T itself, the ramps of a material's conductivity
integral, T^4.  So the Jacobian is the same matrices with their columns scaled, the links cancel to
the last digit in the sum, and every column of -dq/dT adds up to that node's own loss: it is
diagonally dominant by columns.

A band matrix is kept as (column, diagonal) with width lower + upper + 1, so that its transpose is
what LAPACK's and BLAS's band routines want.
"""

from dataclasses import dataclass, fields
from functools import lru_cache

import numpy as np

from .curves import ABSOLUTE_ZERO_C, conduction_integral, ramps
from .even_ramps import EvenRamps, even_ramps
from .numbering import numbering, refuse_islands
from .refusals import refuse_nonsense
from .stored import Holding


@dataclass(frozen=True, eq=False)
class Slot:
    """One nodal function on the nodes a..b: its band matrix and what flows to held nodes by it.

    kind: "straight" (T), "ramps" (sum of slope * integral of clip(T - low, 0, width)), "fourth" (T^4).
    pieces, number: the ramps as even pieces (EvenRamps) and each node's material among them, where there are several
    ramps and all materials have such pieces.
    """

    kind: str
    a: int
    b: int
    band: np.ndarray
    to_held: np.ndarray
    low_c: np.ndarray | None = None
    width_k: np.ndarray | None = None
    slope: np.ndarray | None = None
    pieces: EvenRamps | None = None
    number: np.ndarray | None = None


@dataclass(frozen=True, eq=False)
class SkinSlot:
    """Surfaces of the nodes a..b: area (zero where there is none) and where their curve's pieces lie."""

    a: int
    b: int
    area_m2: np.ndarray
    offset: np.ndarray
    last: np.ndarray
    origin_c: np.ndarray
    per_k: np.ndarray
    pieces: np.ndarray


@dataclass(frozen=True, eq=False)
class Banded:
    """A network ready to solve: `free` are the node numbers in the solver's order; holding: what each stores."""

    free: np.ndarray
    held: np.ndarray
    half: int
    capacity_j_k: np.ndarray
    fixed_w: np.ndarray
    slots: tuple
    skins: tuple
    holding: Holding


def assemble(net):
    """Band matrices of a network.

    net: Network, one design.
    Returns Banded.
    """
    free, half = numbering(net)
    n, place = free.size, np.full(len(net.names), -1)
    place[free] = np.arange(n)
    held_c = net.held_c

    links, bars, rays = net.links, net.bars, net.rays
    base, low, width, slope = _padded_ramps(net.materials)
    first = np.concatenate([links.first, bars.first])
    second = np.concatenate([links.second, bars.second])
    straight = np.concatenate([links.conductance_w_k, bars.shape_m * base[bars.material]])
    # for each slot: ends of its links, what each end's function counts, the function at held ends
    wanted = [(first, second, straight, straight, held_c[first], held_c[second])]
    kinds = [("straight",)]

    steep = (slope != 0).any(axis=0)[bars.material]
    if steep.any():
        for want, kind in _ramp_slots(net, place, steep, (base, low, width, slope)):
            wanted.append(want)
            kinds.append(kind)
    if rays.first.size:
        fourth = (held_c - ABSOLUTE_ZERO_C) ** 4
        wanted.append(
            (rays.first, rays.second, rays.exchange_w_k4, rays.exchange_w_k4, fourth[rays.first], fourth[rays.second])
        )
        kinds.append(("fourth",))
    bands, to_held, fixed = _fill(place, n, half, wanted)
    slots = [Slot(kind, 0, n, band, out, *rest) for (kind, *rest), band, out in zip(kinds, bands, to_held)]
    return Banded(
        free,
        np.flatnonzero(~np.isnan(held_c)),
        half,
        net.capacity_j_k[free],
        fixed,
        (slots[0], *(_trim(s, half) for s in slots[1:])),
        _skin_slots(net, place),
        holding_of(net, free),
    )


def _ramp_slots(net, place, steep, padded):
    """What conduction beyond its straight part needs, and its kind of slot, for each layer of materials at a node."""
    base, low, width, slope = padded
    ends = net.bars.first[steep], net.bars.second[steep]
    shape, material = net.bars.shape_m[steep], net.bars.material[steep]
    n, is_free = int((place >= 0).sum()), [place[e] >= 0 for e in ends]
    one_ramp = low.shape[0] == 1  # then its slope goes into the matrix
    even = None if one_ramp else even_ramps(net.materials)
    table = np.stack([low, width, np.ones_like(slope) if one_ramp else slope])
    phi = [
        _held_ends(net, net.held_c[e], ~f, material, base, slope if one_ramp else None) for e, f in zip(ends, is_free)
    ]
    rank = _ranks(ends, material, len(net.materials))
    weight = shape * slope[0, material] if one_ramp else shape
    for layer in range(1 + max(rank[0].max(), rank[1].max())):
        own = [np.where(r == layer, weight, 0.0) for r in rank]
        # what comes from a held end is counted in the layer of the free end
        use = [np.where(is_free[k], own[k], own[1 - k]) for k in (0, 1)]
        here, number = (np.zeros((3, low.shape[0], n)) if even is None else None), np.full(n, -1)
        for k in (0, 1):
            mine = (own[k] != 0) & is_free[k]
            if even is None:
                here[:, :, place[ends[k][mine]]] = table[:, :, material[mine]]
            number[place[ends[k][mine]]] = material[mine]
        want = (*ends, *use, *phi)
        yield want, ("ramps", *here, None, None) if even is None else ("ramps", *[None] * 3, even, number)


def holding_of(net, free):
    """How the free nodes of a network hold heat.

    net: Network, one design. free: their numbers, in the solver's order.
    Returns Holding.
    """
    which = net.stored_by[free] if net.stored_by.size else np.full(free.size, -1)
    melts = [(k, net.contents[n]) for k, n in enumerate(free) if n in net.contents]
    return Holding(net.capacity_j_k[free], net.stores, which, melts)


def _fill(place, n, half, wanted):
    """Band matrices (slots, n, 2 half + 1), what goes to held nodes (slots, n), what comes from them (n,)."""
    width, count = 2 * half + 1, len(wanted)
    slot = np.repeat(np.arange(count), [w[0].size for w in wanted])
    first, second, at_first, at_second, phi_first, phi_second = (np.concatenate(column) for column in zip(*wanted))
    i, j = place[first], place[second]
    here, there = np.concatenate([i, j]), np.concatenate([j, i])
    own, far = np.concatenate([at_first, at_second]), np.concatenate([at_second * phi_second, at_first * phi_first])
    slot = np.concatenate([slot, slot])
    real, beside = here >= 0, there >= 0
    both, edge = real & beside, real & ~beside
    column = slot * n + here
    diagonal = column * width + half
    size = count * n * width
    bands = np.bincount(diagonal[real], own[real], size).astype(float)  # of nothing it would count in integers
    bands -= np.bincount((diagonal + there - here)[both], own[both], size)
    to_held = np.bincount(column[edge], own[edge], count * n).astype(float)
    return (
        bands.reshape(count, n, width),
        to_held.reshape(count, n),
        np.bincount(here[edge], far[edge], n).astype(float),
    )


def _held_ends(net, temps, is_held, material, base, divide):
    """Conductivity integral beyond its straight part at the held ends of bars, zero at the others."""
    phi = np.zeros(temps.size)
    for k in np.unique(material[is_held]):
        mine = (material == k) & is_held
        phi[mine] = conduction_integral(net.materials[k], temps[mine]) - base[k] * temps[mine]
        if divide is not None:
            phi[mine] /= divide[0, k]
    return phi


class ButPower:
    """A network as the key of what is kept of it: equal to another whose arrays are the very same, power aside."""

    def __init__(self, net):
        self.net, self.parts = net, [getattr(net, f.name) for f in fields(net) if f.name != "power_w"]

    def __hash__(self):
        return hash(tuple(map(id, self.parts)))

    def __eq__(self, other):
        return isinstance(other, ButPower) and all(a is b for a, b in zip(self.parts, other.parts))


@lru_cache(maxsize=16)
def assembled(net, *, warming=False):
    """Check a network and assemble it; done once for each Network, which must not be changed afterwards.

    net: Network, one design. warming: True where a part may keep its heat for want of a way out.
    Returns Banded; the same one for networks that differ in nothing but their power.
    """
    refuse_nonsense(net)
    return matrices_of(ButPower(net), warming)


@lru_cache(maxsize=16)
def matrices_of(key, warming):
    """The band matrices of a network, whatever its power.

    key: ButPower. warming: as in assembled().
    Returns Banded.
    """
    refuse_islands(key.net, also_without_loss=warming)
    return assemble(key.net)


def _padded_ramps(materials):
    """Base (k,), and low, width, slope of all ramps (most ramps, k), zero where a material has fewer."""
    found = [ramps(m) for m in materials]
    most = max((f[1].size for f in found), default=0)
    padded = np.zeros((3, most, len(found)))
    for k, (_, *three) in enumerate(found):
        padded[:, : three[0].size, k] = three
    return np.array([f[0] for f in found]), *padded


def _ranks(ends, material, materials):
    """For both ends of each bar: which of its node's materials this is (0 the first)."""
    both = np.concatenate(ends) * materials + np.concatenate([material, material])
    keys, back = np.unique(both, return_inverse=True)
    nodes = keys // materials
    rank = (np.arange(keys.size) - np.searchsorted(nodes, nodes))[back]
    return rank[: material.size], rank[material.size :]


def _trim(slot, half):
    """The slot on no more nodes than its matrix touches."""
    used = np.flatnonzero(slot.band.any(axis=1))
    if not used.size:
        return slot
    a, b = max(used[0] - half, 0), min(used[-1] + 1 + half, slot.b)
    cut = [None if x is None else np.ascontiguousarray(x[:, a:b]) for x in (slot.low_c, slot.width_k, slot.slope)]
    number = None if slot.number is None else slot.number[a:b]
    band, to_held = np.ascontiguousarray(slot.band[a:b]), slot.to_held[a:b]
    return Slot(slot.kind, int(a), int(b), band, to_held, *cut, slot.pieces, number)


def _skin_slots(net, place):
    """Skins in layers, so that each layer has one skin a node at most."""
    skins = net.skins
    at = place[skins.node]
    if not (at >= 0).any():
        return ()
    tables = [c.pieces for c in net.curves]
    table = tables[0] if len(tables) == 1 else np.concatenate(tables, axis=1)
    starts = np.cumsum([0] + [t.shape[-1] for t in tables])
    found, layer = [], np.zeros(at.size, dtype=int)
    order = np.argsort(at, kind="stable")
    layer[order] = np.arange(at.size) - np.searchsorted(at[order], at[order])
    for k in range(layer[at >= 0].max() + 1):
        mine = (layer == k) & (at >= 0)
        a, b = int(at[mine].min()), int(at[mine].max()) + 1
        curve = np.zeros(b - a, dtype=int)
        area = np.zeros(b - a)
        curve[at[mine] - a], area[at[mine] - a] = skins.curve[mine], skins.area_m2[mine]
        step = np.array([c.step_k for c in net.curves])
        origin = np.array([c.start_c for c in net.curves]) - step
        last = np.diff(starts) - 1
        found.append(SkinSlot(a, b, area, starts[:-1][curve], last[curve], origin[curve], 1.0 / step[curve], table))
    return tuple(found)
