"""The tails' way from the winding to the cable, and whether their ohms go with the wire that they count as."""

import numpy as np

from ...sheet.change import item
from ..parts import NAN
from ..wire.coil import coil_span

JOINT_BEFORE_END_M = 0.02  # where the sheet does not say: the joint to the cable lies this far before the rear end
LEAST_OWN = 0.5  # of the own wire's ohms: tails that read less are not of the coil's wire all the way (own judgement)


def joint_place(build):
    """Where the tails meet the cable: as the sheet says, or 20 mm before the rear end of the tool.

    build: Build.
    Returns m, nan without parts.
    """
    if build.lead_out.joint_at_m is not None:
        return build.lead_out.joint_at_m
    ends = [np.asarray(p.to_m, float) for p in build.part if p.to_m is not None and p.role != "frame"]
    return np.max(np.broadcast_arrays(*ends), axis=0) - JOINT_BEFORE_END_M if ends else NAN


def tails_way(build, coil):
    """From the end of the winding, in the middle of its room, to the joint with the cable.

    build: Build. coil: CoilPart.
    Returns m; nan for a coil that lies on nothing, or where places are missing.
    """
    if build.coil is None or build.coil.on is None:
        return NAN
    on = item(build.part, build.coil.on)
    start, end = coil_span(build.coil, on)
    if start is None or end is None:
        return NAN
    return np.maximum(joint_place(build) - ((start + end) / 2 + np.minimum(coil.winding_m, end - start) / 2), 0.0)


def own_tails_ohm(build, wire, way_m):
    """What both tails have if they are of the coil's own wire.

    build: Build. wire: WirePart. way_m: of one tail.
    """
    return 2 * way_m * wire.linear_ohm_per_m / build.coil.tails.strands


def is_unlike(build, tails_ohm, own_ohm):
    """Whether tails that name no metal have fewer ohms than the coil's own wire can have over the way.

    build: Build. tails_ohm: both tails. own_ohm: as own_tails_ohm.
    Returns bool.  Ohms tell no metal: 0.1 ohm are metres of copper and millimetres of heating wire, and what they carry
    into the handle differs a hundredfold.
    """
    return build.coil.tails.material is None and bool(np.any(np.asarray(tails_ohm) < LEAST_OWN * np.asarray(own_ohm)))
