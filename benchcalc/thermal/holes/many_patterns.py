"""What many patterns are worth that differ by a few per cent in their lengths: solved at a few, read off between.

The solved length over a rough one, slice by slice as if each ring stood alone, hardly changes with the lengths.  It is
taken as a parabola along each direction in which the lengths of the patterns, over the tube's, spread (principal
directions of their logarithms); what two directions do together is left out.
"""

import numpy as np

from ...basics.fault import Fault
from .closed_form import closed_form, in_closed_form
from .pattern import Pattern, middle_of_wall, refuse_bad_pattern
from .solved_wall import solved_extra

MANY = 12  # of one number of holes and rings: fewer are each solved
MOST_SPREAD = 0.08  # of a length, either way: patterns further apart are each solved
LEAST_SPREAD = 1e-6
_PLACES, _WEIGHTS = np.polynomial.legendre.leggauss(40)


def extra_lengths(patterns):
    """Extra lengths of plain tube that many patterns are worth, as extra_length has them one by one.

    patterns: of Pattern that leave webs.
    Returns m, array.  Where more than a dozen need the two-dimensional solve and lie within 8 % of their middle in
    each length, they are within 0.5 % of it, most within 0.1 % (tests/thermal/holes/test_many_patterns.py).
    """
    found, alike = {}, {}
    for p in patterns:
        if in_closed_form(p):
            found[p] = closed_form(p)
        else:
            alike.setdefault((p.holes, p.rings, p.staggered, p.slot_m > 0), {})[p] = None
    for group in alike.values():
        group = list(group)
        read = _read_off(group) if len(group) > MANY else None
        found.update(zip(group, map(solved_extra, group) if read is None else read))
    return np.array([found[p] for p in patterns])


def _read_off(group):
    """Extra lengths of patterns of one number of holes and rings, m; None where they spread too far."""
    logs, first = np.array([_lengths(p) for p in group]), group[0]
    middle = logs.mean(axis=0)
    _, _, ways = np.linalg.svd(logs - middle, full_matrices=False)
    along = (logs - middle) @ ways.T
    if np.abs(logs - middle).max() > MOST_SPREAD:
        return None
    try:
        ratio = at_middle = _ratio(first, middle)
        for way, x in zip(ways, along.T):
            reach = np.abs(x).max()
            if reach > LEAST_SPREAD:
                less, more = (_ratio(first, middle + sign * reach * way) for sign in (-1, 1))
                x = x / reach
                ratio = ratio + (more - less) / 2 * x + (more + less - 2 * at_middle) / 2 * x**2
    except Fault:  # an end of the spread leaves no web
        return None
    return ratio * rough(logs, first) * [middle_of_wall(p.outer_m, p.inner_m) for p in group]


def _lengths(p):
    """Logarithms of a pattern's lengths over the tube's: hole, spacing of rings, slot, as far as it has them."""
    lengths = [p.hole_m, p.spacing_m if p.rings > 1 else 0.0, p.slot_m]
    return np.log([x for x in lengths if x > 0]) - np.log(middle_of_wall(p.outer_m, p.inner_m))


def _ratio(like, logs):
    """Solved over rough, of a pattern on the tube of another."""
    lengths = list(np.exp(logs) * middle_of_wall(like.outer_m, like.inner_m))
    hole, slot = lengths[0], lengths[-1] if like.slot_m > 0 else 0.0
    spacing = lengths[1] if like.rings > 1 else like.spacing_m
    p = Pattern(like.outer_m, like.inner_m, like.holes, hole, like.rings, spacing, like.staggered, slot)
    refuse_bad_pattern(p)
    return solved_extra(p) / (rough(logs, like) * middle_of_wall(like.outer_m, like.inner_m))


def rough(logs, like):
    """Extra lengths over the tube's, ring by ring and each in slices between which heat spreads freely.

    logs: (..., lengths) as _lengths. like: Pattern, for its holes, rings and slots.
    """
    hole = np.exp(logs[..., :1])
    slot = np.exp(logs[..., -1:]) if like.slot_m > 0 else 0.0
    gone = like.holes / np.pi * (np.arcsin(hole * np.sqrt(1 - _PLACES**2)) + slot)
    return like.rings * hole[..., 0] / 2 * ((1 / (1 - gone) - 1) @ _WEIGHTS)
