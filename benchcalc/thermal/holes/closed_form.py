"""Holes drilled round a tube to hold heat back: what a ring of them is worth, in length of plain tube.

Every ring has the same holes at equal distances, so the answer is one number: the extra length of plain
tube with the same added resistance.
"""

import numpy as np

from .pattern import open_share, refuse_bad_pattern, sizes_of, span_of
from .solved_wall import solved_extra

LEAST_OPEN = 0.30  # the closed forms are good to 1 % of the extra length down to this share
LEAST_RING_WEB_M = 3e-4  # and from this much metal between two rings
FEWEST, MOST = 3, 8  # holes in a ring that the closed forms were checked for


def one_ring(hole_m, hole_round_m, hole_pitch_m):
    """One ring of holes holds heat back like this much more plain tube.

    hole_m: diameter of the drill. hole_round_m, hole_pitch_m: as the functions of these names.
    Returns extra_m.
    Assumes a thin wall, holes that pass no heat and shed none.  Good to 1 % down to 30 % of the wall left open; below
    that it promises too little.
    Equation: a row of ovals to dipole order (method of Lord Rayleigh, On the influence of obstacles arranged in
    rectangular order, Phil. Mag. 34 (1892) 481); own derivation.
    """
    moment_m2 = hole_round_m * (hole_m + hole_round_m) / 2
    neighbours = (np.pi / (2 * hole_pitch_m)) ** 2 * moment_m2
    extra_m = np.pi * moment_m2 / (2 * hole_pitch_m) / (1 - neighbours / 3)
    return extra_m


def two_staggered_rings(hole_m, hole_round_m, hole_pitch_m, ring_spacing_m):
    """Two rings, each hole facing a web: more than twice one ring, since the heat must go round.

    hole_m, hole_round_m, hole_pitch_m: as one_ring. ring_spacing_m: from ring to ring, at least 0.3 mm more than the
    hole.
    Returns extra_m.  Limits and equation: as one_ring.
    """
    moment_m2 = hole_round_m * (hole_m + hole_round_m) / 2
    neighbours = (np.pi / (2 * hole_pitch_m)) ** 2 * moment_m2
    facing = 4 / (np.exp(np.pi * ring_spacing_m / hole_pitch_m) + np.exp(-np.pi * ring_spacing_m / hole_pitch_m)) ** 2
    extra_m = np.pi * moment_m2 / hole_pitch_m / (1 - neighbours * (1 / 3 + facing))
    return extra_m


def two_aligned_rings(hole_m, hole_round_m, hole_pitch_m, ring_spacing_m):
    """Two rings, hole behind hole: less than twice one ring, since the second stands in the shade of the first.

    hole_m, hole_round_m, hole_pitch_m, ring_spacing_m: as two_staggered_rings.
    Returns extra_m.  Limits and equation: as one_ring.
    """
    moment_m2 = hole_round_m * (hole_m + hole_round_m) / 2
    neighbours = (np.pi / (2 * hole_pitch_m)) ** 2 * moment_m2
    shade = 4 / (np.exp(np.pi * ring_spacing_m / hole_pitch_m) - np.exp(-np.pi * ring_spacing_m / hole_pitch_m)) ** 2
    extra_m = np.pi * moment_m2 / hole_pitch_m / (1 - neighbours * (1 / 3 - shade))
    return extra_m


def in_closed_form(p):
    """Whether the closed forms hold for a pattern: one or two rings of round holes, webs not too thin.

    p: Pattern.  Returns bool.
    """
    pitch, across = sizes_of(p)
    return (
        p.rings <= 2
        and p.slot_m == 0
        and FEWEST <= p.holes <= MOST
        and 1 - across / pitch >= LEAST_OPEN
        and (p.rings == 1 or p.spacing_m - p.hole_m >= LEAST_RING_WEB_M)
    )


def closed_form(p):
    """Extra length by the closed form, whether or not its limits hold.

    p: Pattern of one or two rings of round holes.
    Returns m.
    """
    pitch, across = sizes_of(p)
    if p.rings == 1:
        return float(one_ring(p.hole_m, across, pitch))
    rings = two_staggered_rings if p.staggered else two_aligned_rings
    return float(rings(p.hole_m, across, pitch, p.spacing_m))


def extra_length(p):
    """Extra length of plain tube that a break is worth: closed form where it holds, else the two-dimensional solve.

    p: Pattern.
    Returns m.  Raises Fault as refuse_bad_pattern.
    """
    refuse_bad_pattern(p)
    return closed_form(p) if in_closed_form(p) else solved_extra(p)


def by_smallest_section(p):
    """The tempting estimate: the narrowest section over the whole break.  Promises too much: the unsafe side.

    p: Pattern.  Returns extra length, m.
    """
    pitch, across = sizes_of(p)
    return float(span_of(p) * (1 / (1 - across / pitch) - 1))


def by_planes(p):
    """The cautious estimate: slice by slice, as if heat spread freely in each.  Promises too little: the safe side.

    p: Pattern.  Returns extra length, m: a true lower bound (each plane taken as one temperature).
    """
    x, weight = np.polynomial.legendre.leggauss(60)
    edges = np.unique(np.concatenate([r * p.spacing_m + np.array([-0.5, 0.5]) * p.hole_m for r in range(p.rings)]))
    total = 0.0
    for a, b in zip(edges, edges[1:]):
        with np.errstate(divide="ignore"):
            total += float(np.sum(weight * (1 / open_share(p, (a + b) / 2 + (b - a) / 2 * x) - 1)) * (b - a) / 2)
    return total
