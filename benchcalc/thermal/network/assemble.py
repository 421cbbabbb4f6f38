"""From a network to band matrices.

Heat into the free nodes is  q = power + fixed - sum B f(T) - skins(T)  with constant band matrices B
and functions f of one node's temperature each: T itself, the ramps of a material's conductivity
integral, T^4.  So the Jacobian is the same matrices with their columns scaled, the links cancel to
the last digit in the sum, and every column of -dq/dT adds up to that node's own loss: it is
diagonally dominant by columns.

A band matrix is kept as (column, diagonal) with width lower + upper + 1, so that its transpose is
what LAPACK's band routines want.
"""

from dataclasses import dataclass, fields
from functools import lru_cache

import numpy as np

from .curves import ABSOLUTE_ZERO_C, conduction_integral, ramps
from .even_ramps import EvenRamps
from .network import Network
from .numbering import refuse_islands
from .refusals import refuse_nonsense
from .stored import Holding
from .structure import ButNumbers, Structure, structure_of


@dataclass(frozen=True, eq=False)
class Slot:
    """One nodal function on the nodes a..b: its band matrix, what flows to held nodes by it, and out of which of a..b.

    kind: "straight" (T), "ramps" (sum of slope * integral of clip(T - low, 0, width)), "fourth" (T^4).
    pieces, number: the ramps as even pieces (EvenRamps) and each node's material among them, where there are several
    ramps and all materials have such pieces.
    """

    kind: str
    a: int
    b: int
    band: np.ndarray
    to_held: np.ndarray
    out: np.ndarray
    low_c: np.ndarray | None = None
    width_k: np.ndarray | None = None
    slope: np.ndarray | None = None
    pieces: EvenRamps | None = None
    number: np.ndarray | None = None


@dataclass(frozen=True, eq=False)
class SkinSlot:
    """Surfaces of the nodes a..b: area (zero where there is none), which of them have one, and where their curve's
    pieces lie."""

    a: int
    b: int
    area_m2: np.ndarray
    on: np.ndarray
    offset: np.ndarray
    last: np.ndarray
    origin_c: np.ndarray
    per_k: np.ndarray
    pieces: np.ndarray


@dataclass(frozen=True, eq=False)
class Banded:
    """A network ready to solve: `free` are the node numbers in the solver's order; holding: what each stores.

    all_skins: the areas of each curve in one, None without surfaces. coldest_c: held temperature or room, 20 degC
    without either. structure: where everything goes; values: the matrices of all slots, flat.
    """

    free: np.ndarray
    held: np.ndarray
    half: int
    capacity_j_k: np.ndarray
    fixed_w: np.ndarray
    slots: tuple
    skins: tuple
    holding: Holding
    all_skins: SkinSlot | None
    coldest_c: float
    structure: Structure
    values: np.ndarray


def assemble(net, plan=None):
    """Band matrices of a network.

    net: Network, one design. plan: its Structure, where that is known.
    Returns Banded.
    """
    plan = plan or structure_of(ButNumbers(net))
    n, width, place = plan.free.size, 2 * plan.half + 1, plan.place
    steep_m = net.bars.shape_m[plan.steep]
    weights = np.concatenate(
        [
            net.links.conductance_w_k,
            net.bars.shape_m * plan.base_w_mk,
            steep_m if plan.one_ramp is None else steep_m * plan.one_ramp,
            net.rays.exchange_w_k4,
        ]
    )
    ends = plan.ends
    values = _summed(plan.at, weights[plan.source], ends[-1] * width)
    values -= _summed(plan.beside_at, weights[plan.beside_source], ends[-1] * width)
    bands, edges = values.reshape(-1, width), plan.edges
    out = weights[edges.source]
    fixed = _summed(edges.here, out * _held_functions(net, plan), n)
    to_held = _summed(edges.at, out, ends[-1])
    slots = tuple(
        Slot(s.kind, s.a, s.b, bands[a:b], to_held[a:b], s.out, *s.ramps) for s, a, b in zip(plan.slots, ends, ends[1:])
    )
    which = net.stored_by[plan.free] if net.stored_by.size else np.full(n, -1)
    melts = sorted((int(place[k]), content) for k, content in net.contents.items() if place[k] >= 0)
    holding = Holding(net.capacity_j_k[plan.free], net.stores, which, melts)
    skins, all_skins = _skin_slots(net, plan.skins)
    known = [*net.held_c[plan.held].tolist(), *(c.ambient_c for c in net.curves)]
    return Banded(
        plan.free,
        plan.held,
        plan.half,
        holding.capacity_j_k,
        fixed,
        slots,
        skins,
        holding,
        all_skins,
        min(known, default=20.0),
        plan,
        values,
    )


def _summed(at, values, size):
    return np.bincount(at, values, size).astype(float, copy=False)  # of nothing it would count in integers


def _held_functions(net, plan):
    """Value at the held node of each link that ends in one, of the function that the link goes by."""
    edges = plan.edges
    held_c = net.held_c[edges.there]
    value = held_c.copy()
    value[edges.fourth] = (held_c[edges.fourth] - ABSOLUTE_ZERO_C) ** 4
    for mine, k in edges.ramps:
        base, _, _, slope = ramps(net.materials[k])
        value[mine] = conduction_integral(net.materials[k], held_c[mine]) - base * held_c[mine]
        if plan.one_ramp is not None:
            value[mine] /= slope[0]
    return value


def _skin_slots(net, plans):
    """The surfaces in layers as planned, with their areas and the pieces of their curves, and all areas by curve."""
    if not net.curves:
        return (), None
    table, start, last, origin_c, per_k = _side_by_side(net.curves)
    found = []
    for p in plans:
        area_m2 = np.zeros(p.b - p.a)
        area_m2[p.at] = net.skins.area_m2[p.skins]
        found.append(
            SkinSlot(p.a, p.b, area_m2, p.at, start[p.curve], last[p.curve], origin_c[p.curve], per_k[p.curve], table)
        )
    count = start.size
    area_m2 = _summed(net.skins.curve, net.skins.area_m2, count)
    return tuple(found), SkinSlot(0, count, area_m2, np.arange(count), start, last, origin_c, per_k, table)


@lru_cache(maxsize=8)
def _side_by_side(curves):
    """The pieces of all curves in one table, and of each: first and last of its cells, origin in degC, cells per K."""
    tables = [c.pieces for c in curves]
    table = tables[0] if len(tables) == 1 else np.concatenate(tables, axis=1)
    cells = np.array([t.shape[-1] for t in tables])
    step_k = np.array([c.step_k for c in curves])
    return table, np.cumsum(cells) - cells, cells - 1, np.array([c.start_c for c in curves]) - step_k, 1.0 / step_k


class ButPower:
    """A network as the key of what is kept of it: equal to another whose arrays are the very same, power aside."""

    NAMES = tuple(f.name for f in fields(Network) if f.name != "power_w")

    def __init__(self, net):
        self.net, self.parts = net, [getattr(net, name) for name in self.NAMES]

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
    plan = structure_of(ButNumbers(key.net))
    if not (plan.whole and _all_open(key.net)):
        refuse_islands(key.net, also_without_loss=warming)
    return assemble(key.net, plan)


def _all_open(net):
    ways = (net.links.conductance_w_k, net.bars.shape_m, net.rays.exchange_w_k4)
    return all(v.min(initial=np.inf) > 0 for v in ways)
