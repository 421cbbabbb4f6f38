"""What the band matrices of a network take from its structure alone: worked out once for each structure met lately.

Which node is linked to which settles the order of the nodes, the width of the band, where in which matrix each
conductance goes and which nodal functions are needed.  Lengths, walls, powers and temperatures only fill these places:
a slider that moves one of them mostly meets a structure that is known.
"""

from copy import copy
from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate

import numpy as np

from .curves import ramps
from .even_ramps import even_ramps
from .numbering import islands, numbering


@dataclass(frozen=True, eq=False)
class SlotPlan:
    """One nodal function on the nodes a..b: kind, out and `ramps` (low_c to number) as Slot in assemble.py."""

    kind: str
    a: int
    b: int
    out: np.ndarray
    ramps: tuple = ()


@dataclass(frozen=True, eq=False)
class SkinPlan:
    """One skin for each of some nodes among a..b: numbers of the skins, where each goes, the curve of every node."""

    a: int
    b: int
    skins: np.ndarray
    at: np.ndarray
    curve: np.ndarray


@dataclass(frozen=True, eq=False)
class Edges:
    """Entries that link a free node (`here`, a place) to a held one (`there`, a node's number).

    source: number of the weight. at: place in what flows to held nodes, all slots in a row. fourth: those by T^4.
    ramps: of (entries, material) where conduction beyond its straight part reaches a held node.
    """

    source: np.ndarray
    at: np.ndarray
    here: np.ndarray
    there: np.ndarray
    fourth: np.ndarray
    ramps: tuple


@dataclass(frozen=True, eq=False)
class Rows:
    """A sparse matrix without its numbers (csr_array), and the place of each entry in the matrices of all slots."""

    empty: object
    pick: np.ndarray

    def filled(self, values):
        """With its numbers.  values: the matrices of all slots, flat.  Returns csr_array."""
        matrix = copy(self.empty)  # the pattern is shared
        matrix.data = values[self.pick]
        return matrix


@dataclass(frozen=True, eq=False)
class Structure:
    """Where everything goes.

    free, held: numbers of the nodes, the free ones in the solver's order. whole: whether all hang together and one is
    held, so that with all ways open heat finds its way out. place: of each node among the free ones, -1 elsewhere.
    half: half width of the band. ends: where each slot begins and ends, all in a row (slots + 1,). base_w_mk: of each
    bar's material. steep: bars with ramps; one_ramp: that of each, whose slope goes into the matrix, or None.
    The weights of a network are links, bars times base, steep bars (times their one ramp), rays: source and at are the
    weight and the place (all matrices in a row) of every diagonal entry, beside_source and beside_at of the others.
    flows: from the functions of all slots (in a row) to the heat out of each node. -dq/dT sums up entries: slopes_pick
    is the place of each in the matrices, slopes_of the function whose slope it goes with, slopes_at where it goes in
    the band (n, 2 half + 1), flat, and slopes_node in which of its columns.
    """

    free: np.ndarray
    held: np.ndarray
    whole: bool
    place: np.ndarray
    half: int
    ends: tuple
    base_w_mk: np.ndarray
    steep: np.ndarray
    one_ramp: np.ndarray | None
    slots: tuple
    skins: tuple
    source: np.ndarray
    at: np.ndarray
    beside_source: np.ndarray
    beside_at: np.ndarray
    edges: Edges
    flows: Rows
    slopes_pick: np.ndarray
    slopes_of: np.ndarray
    slopes_at: np.ndarray
    slopes_node: np.ndarray


class ButNumbers:
    """A network as the key of its structure: equal to another that differs in nothing but numbers."""

    def __init__(self, net):
        ways = (net.links, net.bars, net.rays)
        numbers = [n for w in ways for n in (w.first, w.second)] + [net.bars.material, net.skins.node, net.skins.curve]
        numbers = tuple(np.asarray(n, dtype=np.int64).tobytes() for n in numbers)
        self.key = (np.isnan(net.held_c).tobytes(), net.station_by_station, *numbers, net.materials)
        self.hash, self.net = hash(self.key), net

    def __hash__(self):
        return self.hash

    def __eq__(self, other):
        return isinstance(other, ButNumbers) and self.key == other.key


@lru_cache(maxsize=16)
def structure_of(key):
    """Where the numbers of a network go.

    key: ButNumbers of a network of one design, whose numbers are let go.
    Returns Structure.
    """
    net, key.net = key.net, None
    free, half = numbering(net)
    n, place = free.size, np.full(len(net.names), -1)
    place[free] = np.arange(n)
    links, bars, rays = net.links, net.bars, net.rays
    base, low, width, slope = _padded_ramps(net.materials)
    steep = np.flatnonzero((slope != 0).any(axis=0)[bars.material])
    one_ramp = low.shape[0] == 1
    straight = np.concatenate([links.first, bars.first]), np.concatenate([links.second, bars.second])
    counts = np.cumsum([straight[0].size, steep.size])
    wanted = [(*straight, np.arange(counts[0]), None, 0)]  # ends, weights, rank of each end's material there, layer
    kinds = [("straight", ())]
    if steep.size:
        ends, material = (bars.first[steep], bars.second[steep]), bars.material[steep]
        rank, found = _ramp_slots(net.materials, (ends, material), place, (low, width, slope))
        wanted += [(*ends, np.arange(*counts), rank, layer) for layer in range(len(found))]
        kinds += [("ramps", f) for f in found]
    if rays.first.size:
        wanted.append((rays.first, rays.second, counts[1] + np.arange(rays.first.size), None, 0))
        kinds.append(("fourth", ()))
    slots, places = _entries(place, n, half, wanted, kinds, bars.material[steep])
    held = np.flatnonzero(place < 0)
    return Structure(
        free,
        held,
        bool(held.size) and islands(net)[0] == 1,
        place,
        half,
        tuple(accumulate((s.b - s.a for s in slots), initial=0)),
        base[bars.material],
        steep,
        slope[0, bars.material[steep]] if one_ramp else None,
        slots,
        _skin_plans(net, place),
        *places,
        *_products(slots, half, n, places),
    )


def _products(slots, half, n, places):
    """flows to slopes_node of a Structure.  places: of _entries."""
    start, width = np.cumsum([0, *(s.b - s.a for s in slots)]), 2 * half + 1
    used = marked(start[-1] * width, places[1], places[3])
    column, diagonal = np.divmod(used, width)
    slot = np.repeat(np.arange(len(slots)), np.diff(start))[column]
    node = column + (np.array([s.a for s in slots]) - start[:-1])[slot]
    return _by_rows(node + diagonal - half, column, used, (n, start[-1])), used, column, node * width + diagonal, node


def marked(size, *places):
    """The places among 0..size that are given at least once, rising.

    size: how many there are. places: arrays of some of them.
    """
    there = np.zeros(size, dtype=bool)
    for at in places:
        there[at] = True
    return np.flatnonzero(there)


def _by_rows(row, column, pick, shape):
    """Rows of entries that are given by rising columns."""
    from scipy.sparse import csc_array

    starts = np.concatenate([[0], np.cumsum(np.bincount(column, minlength=shape[1]))])
    found = csc_array((pick, row.astype(np.int32), starts.astype(np.int32)), shape=shape).tocsr()
    return Rows(found, found.data)


def _entries(place, n, half, wanted, kinds, steep_material):
    """Slots cut to the nodes that their matrix touches, and the places of all entries."""
    found = []
    for k in (0, 1):  # first what each way's first end gives, then its second end
        for number, (*ends, source, rank, layer) in enumerate(wanted):
            here, there = place[ends[k]], place[ends[1 - k]]
            mine = np.flatnonzero((here >= 0) if rank is None else (here >= 0) & (rank[k] == layer))
            found.append((np.full(mine.size, number), source[mine], here[mine], there[mine], ends[1 - k][mine]))
    slot, source, here, there, node = (np.concatenate(column) for column in zip(*found))
    edge = there < 0
    slots = [SlotPlan("straight", 0, n, np.unique(here[edge & (slot == 0)]))]
    for number in range(1, len(wanted)):
        kind, arrays = kinds[number]
        mine = here[slot == number]
        a, b = (max(int(mine.min()) - half, 0), min(int(mine.max()) + 1 + half, n)) if mine.size else (0, n)
        out = np.unique(here[edge & (slot == number)]) - a
        slots.append(SlotPlan(kind, a, b, out, tuple(_cut(x, a, b) for x in arrays)))
    width, first = 2 * half + 1, np.array([s.a for s in slots])
    start = np.cumsum([0, *(s.b - s.a for s in slots)])[:-1]
    column = (start - first)[slot] + here
    diagonal, both, edge = column * width + half, ~edge, np.flatnonzero(edge)
    kind = np.array([k for k, _ in kinds])[slot[edge]]
    by_ramps = np.flatnonzero(kind == "ramps")
    material = steep_material[source[edge[by_ramps]] - wanted[0][2].size]
    reached = [(by_ramps[material == m], int(m)) for m in np.unique(material)]
    edges = Edges(source[edge], column[edge], here[edge], node[edge], np.flatnonzero(kind == "fourth"), tuple(reached))
    return tuple(slots), (source, diagonal, source[both], (diagonal + there - here)[both], edges)


def _cut(values, a, b):
    return np.ascontiguousarray(values[..., a:b]) if isinstance(values, np.ndarray) else values


def _ramp_slots(materials, bars, place, padded):
    """What conduction beyond its straight part needs: a slot for each layer of materials at a node.

    bars: (ends, material) of the steep ones.
    Returns (rank of each bar's material at both its ends, list of low_c to number of a Slot).
    """
    (ends, material), (low, width, slope) = bars, padded
    n, one_ramp = int((place >= 0).sum()), low.shape[0] == 1  # then its slope goes into the matrix
    even = None if one_ramp else even_ramps(materials)
    table = np.stack([low, width, np.ones_like(slope) if one_ramp else slope])
    rank, found = _ranks(ends, material, len(materials)), []
    for layer in range(1 + max(rank[0].max(), rank[1].max())):
        here, number = np.zeros((3, low.shape[0], n)) if even is None else None, np.full(n, -1)
        for k in (0, 1):
            mine = (rank[k] == layer) & (place[ends[k]] >= 0)
            at = place[ends[k][mine]]
            number[at] = material[mine]
            if even is None:
                here[:, :, at] = table[:, :, material[mine]]
        found.append((*here, None, None) if even is None else (None, None, None, even, number))
    return rank, found


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


def _skin_plans(net, place):
    """Skins in layers, so that each layer has one skin a node at most."""
    at = place[net.skins.node]
    found, layer = [], np.zeros(at.size, dtype=int)
    order = np.argsort(at, kind="stable")
    layer[order] = np.arange(at.size) - np.searchsorted(at[order], at[order])
    for k in range(1 + layer[at >= 0].max(initial=-1)):
        mine = np.flatnonzero((layer == k) & (at >= 0))
        a, b = int(at[mine].min()), int(at[mine].max()) + 1
        curve = np.zeros(b - a, dtype=int)
        curve[at[mine] - a] = net.skins.curve[mine]
        found.append(SkinPlan(a, b, mine, at[mine] - a, curve))
    return tuple(found)
