"""Heat balance of all free nodes: how much flows in, how that changes with temperature, what is lost.

`working(banded)` makes the two functions that the solvers call over and over; they use work arrays
of their own and one sparse product for all slots.  `lost` is the slower, separate sum over everything
that leaves, for the energy account.
"""

from functools import lru_cache

import numpy as np
from numpy import add, bincount, maximum, minimum, multiply, subtract  # a third argument of arithmetic is the answer's

from .curves import ABSOLUTE_ZERO_C


def working(banded, spare=0):
    """Functions heat(temps, given, out) and heat_and_stiffness(temps, given, out, rise=None) for a network.

    banded: Banded. spare: places left free before each column of the stiffness, as LAPACK wants them.
    Returns heat: writes W into each free node to out (n,), from temps in degC and what is given to each
    (power + banded.fixed_w) in W, in the solver's order; and heat_and_stiffness: the same, and returns -dq/dT in W/K,
    (n, spare + 2 half + 1): the entry of row r and column c stands at [c, spare + half + r - c]. rise: how fast each
    temperature rises with what it is to be counted by (n,); None: by itself.
    """
    plan, half, n = banded.structure, banded.half, banded.free.size
    ends = plan.ends
    functions, rises = np.empty(ends[-1]), np.ones(ends[-1])  # of all slots in a row
    flows, weights, of = plan.flows.filled(banded.values), banded.values[plan.slopes_pick], plan.slopes_of
    width, middle = 2 * half + 1 + spare, half + spare
    at, each = plan.slopes_at + spare * (1 + plan.slopes_node) if spare else plan.slopes_at, np.empty(weights.size)
    slots = [
        (s.a, s.b, *_slot_functions(s, functions[k:j], rises[k:j]))
        for s, k, j in zip(banded.slots[1:], ends[1:], ends[2:])
    ]
    skins, straight = [_skin_functions(s) for s in banded.skins], functions[:n]

    def heat(temps, given, out):
        straight[:] = temps
        for a, b, value, _ in slots:
            value(temps[a:b])
        subtract(given, flows @ functions, out)
        for a, b, value, _ in skins:
            part = out[a:b]
            subtract(part, value(temps[a:b]), part)

    def heat_and_stiffness(temps, given, out, rise=None):
        straight[:] = temps
        for a, b, _, both in slots:
            both(temps[a:b])
        subtract(given, flows @ functions, out)
        rises[:n] = 1.0 if rise is None else rise
        if rise is not None:
            for (a, b, *_), start in zip(slots, ends[1:]):
                part = rises[start : start + b - a]
                multiply(part, rise[a:b], part)
        rises.take(of, 0, each, "clip")
        multiply(each, weights, each)
        stiffness = bincount(at, each, n * width).reshape(n, width)
        for a, b, _, both in skins:
            values, slope = both(temps[a:b])
            part = out[a:b]
            subtract(part, values, part)
            if rise is not None:
                multiply(slope, rise[a:b], slope)
            part = stiffness[a:b, middle]
            add(part, slope, part)
        return stiffness

    return heat, heat_and_stiffness


@lru_cache(maxsize=64)
def constant(value, size):
    """One number many times over, not to be written to: arithmetic takes it faster than a plain number.

    value: number. size: how many times.
    """
    every = np.full(size, value)
    every.flags.writeable = False
    return every


def _slot_functions(slot, out, rise):
    """value(temps) and both(temps) of a slot that is no straight line: they write its function into out, and both also
    its slope into rise."""
    if slot.kind == "fourth":
        kelvin, power = np.empty_like(out), np.empty_like(out)
        zero_c, four = constant(ABSOLUTE_ZERO_C, kelvin.size), constant(4.0, kelvin.size)

        def fourth(temps):
            subtract(temps, zero_c, kelvin)
            multiply(kelvin, kelvin, power)
            multiply(power, power, out)

        def fourth_both(temps):
            fourth(temps)
            multiply(power, kelvin, rise)
            multiply(rise, four, rise)

        return fourth, fourth_both

    if slot.pieces is not None:
        return _even_functions(slot, out, rise)
    several = slot.low_c.shape[0] > 1
    low, width, steep = ((x if several else x[0]) for x in (slot.low_c, slot.width_k, slot.slope))
    over, mean = np.empty_like(low), np.empty_like(low)
    risen, area = (np.empty_like(low), np.empty_like(low)) if several else (rise, out)
    none, half = (constant(value, low.size).reshape(low.shape) for value in (0.0, 0.5))

    def ramp(temps):  # a single ramp has its slope in the matrix
        subtract(temps, low, over)
        maximum(over, none, out=risen)
        minimum(risen, width, out=risen)
        multiply(risen, half, mean)
        subtract(over, mean, over)
        multiply(over, risen, area)
        if several:
            np.einsum("ij,ij->j", area, steep, out=out)
            np.einsum("ij,ij->j", risen, steep, out=rise)

    return ramp, ramp


def _even_functions(slot, out, rise):
    """As _slot_functions, of ramps that are kept as even pieces."""
    even, number = slot.pieces, slot.number
    per_k, first, last = even.per_k[number], even.offset[number], even.last[number]
    shift, lowest = 1.0 - even.first_c[number] * per_k, np.zeros_like(last)
    x, cell, found = np.empty(number.size), np.empty(number.size, dtype=np.intp), np.empty((3, number.size))
    (a, b, c), take = found, even.table.take

    def value(temps):
        multiply(temps, per_k, x)
        add(x, shift, x)
        np.copyto(cell, x, casting="unsafe")
        maximum(cell, lowest, out=cell)
        minimum(cell, last, out=cell)
        subtract(x, cell, x)
        add(cell, first, cell)
        take(cell, 1, found, "clip")
        multiply(c, x, c)
        add(b, c, b)  # and once more for the slope
        multiply(x, b, x)
        add(a, x, out)

    def both(temps):
        value(temps)
        add(b, c, b)
        multiply(b, per_k, rise)

    return value, both


def _skin_functions(skin):
    """(a, b, value, both) of a layer of surfaces: W, and W/K, of each node."""
    size = skin.b - skin.a
    x, slope, cell, held = np.empty(size), np.empty(size), np.empty(size, dtype=np.intp), np.empty((4, size))
    (a, b, c, d), take = held, skin.pieces.take
    per_k, area, area_per_k, first = skin.per_k, skin.area_m2, skin.area_m2 * skin.per_k, skin.offset
    shift, last = skin.offset - skin.origin_c * skin.per_k, skin.offset + skin.last

    def look_up(temps):
        multiply(temps, per_k, x)
        add(x, shift, x)
        cell[:] = x
        maximum(cell, first, out=cell)
        minimum(cell, last, out=cell)
        subtract(x, cell, x)
        take(cell, 1, held, "clip")

    def value(temps):
        look_up(temps)
        for lower in (c, b, a):
            multiply(d, x, d)
            add(d, lower, d)
        return multiply(d, area, d)

    def both(temps):  # Horner's rule: with p = c + d x and q = b + p x the value is a + q x, its slope (p + d x) x + q
        look_up(temps)
        multiply(d, x, d)
        add(c, d, c)
        add(d, c, slope)
        multiply(slope, x, slope)
        multiply(c, x, c)
        add(c, b, c)
        add(slope, c, slope)
        multiply(c, x, c)
        add(c, a, c)
        return multiply(c, area, c), multiply(slope, area_per_k, slope)

    return skin.a, skin.b, value, both


def slot_value(slot, temps):
    """Nodal function of a slot, for any number of states.

    slot: Slot. temps: degC (..., b - a).
    Returns the function's value (..., b - a).
    """
    if slot.kind == "straight":
        return temps
    if slot.kind == "fourth":
        return (temps - ABSOLUTE_ZERO_C) ** 4
    if slot.pieces is not None:
        x, (a, b, c) = _even_cells(slot, temps)
        return a + x * (b + x * c)
    over = temps[..., None, :] - slot.low_c
    risen = np.clip(over, 0.0, slot.width_k)
    return (slot.slope * risen * (over - risen / 2)).sum(axis=-2)


def _even_cells(slot, temps):
    """Where in its cell each temperature lies (0..1), and the pieces there (3, ..., b - a)."""
    even, number = slot.pieces, slot.number
    x = (temps - even.first_c[number]) * even.per_k[number] + 1.0
    cell = np.clip(x.astype(int), 0, even.last[number])
    return x - cell, even.table.take(cell + even.offset[number], axis=1)


def lost(banded, temps):
    """Heat that leaves the free nodes, to surfaces and held temperatures, summed way by way.

    Heat that comes in from a held temperature counts as negative.

    banded: Banded. temps: degC (..., n) in the solver's order.
    Returns W (...,).
    """
    total = np.full(temps.shape[:-1], -banded.fixed_w.sum())
    for s in banded.slots:
        if not s.out.size:
            continue
        at = np.arange(s.b - s.a) if s.kind == "ramps" else s.out  # its functions are those of nodes in a row
        total = total + slot_value(s, temps[..., s.a + at]) @ s.to_held[at]
    for s in banded.skins:
        at = s.on
        x, (a, b, c, d) = _skin_cells(s, temps[..., s.a + at], at)
        total = total + (a + x * (b + x * (c + x * d))) @ s.area_m2[at]
    return total


def skin_value(skin, temps):
    """Heat off a layer of surfaces, all in all.

    skin: SkinSlot. temps: degC (..., b - a), or one for all of them (..., 1).
    Returns W (...,).
    """
    x, (a, b, c, d) = _skin_cells(skin, temps)
    return (a + x * (b + x * (c + x * d))) @ skin.area_m2


def _skin_cells(skin, temps, at=slice(None)):
    """Where in its cell each temperature lies (0..1), and the pieces there (4, ..., nodes); at: which of its nodes."""
    x = (temps - skin.origin_c[at]) * skin.per_k[at]
    cell = np.minimum(np.maximum(x.astype(int), 0), skin.last[at])
    return x - cell, skin.pieces.take(cell + skin.offset[at], axis=1)
