"""Joints that the sheet calls closed although the sizes of their parts leave a gap that nothing fills."""

import numpy as np

from ...basics.names import say
from ...materials.bulk import joint_row
from ..verdict import unknown

CLOSED_M = 1e-4  # on the diameter, as much as a typed size is rounded: more is no fit and no single piece
FILLED_M = 5e-4  # on the diameter, what solder, cement, paste or a clamp still closes (own judgement)
NO_FILLING = ("one piece", "welded", "pressed", "threaded")
FILLING = ("soldered", "cemented", "clamped", "crimped", "heat paste")


def joint_gaps(build):
    """Each joint called closed over a gap.

    build: Build, floats or arrays (their middle counts).
    Returns list of (Joint, id of the inner part, its outside diameter, id of the outer part, its bore, gap on the
    diameter that is left beside layers), lengths in m.
    """
    found, parts = [], {p.id: p for p in build.part}
    for joint in build.joint:
        both = [parts.get(i) for i in joint.between]
        limit_m = _most(joint)
        if limit_m is None or len(both) != 2 or any(p is None for p in both) or not _side_by_side(joint, *both):
            continue
        layers_m = sum(_mid(y.thickness_m) for y in build.layer if y.thickness_m is not None and _same(y, joint))
        for inner, outer in (both, both[::-1]):
            if inner.outer_m is None or outer.inner_m is None:
                continue
            rod_m, bore_m = _mid(inner.outer_m), _mid(outer.inner_m)
            gap_m = bore_m - rod_m - 2 * layers_m
            if gap_m > limit_m + 1e-9:
                found.append((joint, inner.id, rod_m, outer.id, bore_m, gap_m))
    return found


def gap_words(build):
    """Each such joint in a sentence.  build: Build.  Returns list of (what is judged, sentence)."""
    told = []
    for joint, inner, rod_m, outer, bore_m, gap_m in joint_gaps(build):
        rod, bore, gap = (say("outer_m", x, units=build.units) for x in (rod_m, bore_m, gap_m / 2))
        told.append(
            (
                f"joint of {inner} and {outer}",
                f"The sheet says {joint_row(joint.made)['made']}, but the {inner} of {rod} stands in a bore of {bore} "
                f"of the {outer}: {gap} of air all round. With that joint the temperatures are not to be believed. "
                "Mend a size, say air gap or clearance, or type where along the tool the two really touch.",
            )
        )
    return told


def gap_checks(build):
    """Such joints are not known.  build: Build.  Returns list of Verdict."""
    return [unknown(what, "temp_c", why=why) for what, why in gap_words(build)]


def _most(joint):
    made = None if joint.made is None else joint_row(joint.made)["made"]
    if made is None:
        return None
    return CLOSED_M if made.startswith(NO_FILLING) else FILLED_M if made.startswith(FILLING) else None


def _mid(x):
    return float(np.median(x))


def _same(layer, joint):
    return set(layer.between) == set(joint.between)


def _side_by_side(joint, one, two):
    """Whether both parts, and the joint where it has a place, share a length of the axis."""
    starts = [x.from_m for x in (one, two, joint) if x.from_m is not None]
    ends = [x.to_m for x in (one, two, joint) if x.to_m is not None]
    if any(x is None for x in (one.from_m, two.from_m, one.to_m, two.to_m)):
        return False
    return max(map(_mid, starts)) < min(map(_mid, ends)) - 1e-6
