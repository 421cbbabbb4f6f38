"""The tube from coil to handle by hand, and from there to the tool in steps: what each simplification was worth."""

from dataclasses import dataclass

import numpy as np

from ...sheet.roles import part_with_role
from ...thermal.surfaces.fins import drained_end_rise, far_end_rise
from ...thermal.tool.watts_between import watts_along


@dataclass(frozen=True)
class HandSteps:
    """Rise over the room of the tube at the handle, K: by hand, with one simplification less each, in the tool.

    hand_k: from what the tube is where the winding ends, nothing lost at its end. drained_k: and with the watts that
    go on under the handle, beyond_w. tool_k: as the model has it, with loss and conductivity of each place's own
    temperature.
    """

    hand_k: float
    drained_k: float
    tool_k: float
    beyond_w: float


def hand_steps(build, heat, reach_m, conductivity_w_mk, section_m2):
    """From the tube by hand to the tube of the tool.

    build: Build (floats). heat: HeatPart. reach_m: of the tube, as fins.reach_of. conductivity_w_mk,
    section_m2: of its metal.
    Returns HandSteps, or None where no tube runs from a winding into a handle.
    """
    tube, handle = part_with_role(build, "tube"), part_with_role(build, "handle")
    if heat is None or heat.refused or heat.model is None or tube is None or handle is None:
        return None
    winding = heat.model.tool.winding
    if winding is None or not winding.to_m < handle.from_m < tube.to_m:
        return None
    room_c, long_m = build.room.ambient_c, float(handle.from_m - winding.to_m)
    x, t = heat.model.along(tube.id, heat.temps_c)
    near_k = float(np.interp(winding.to_m, x, t)) - room_c
    along = watts_along(heat.model, heat.temps_c, tube.id)
    beyond_w = float(np.interp(handle.from_m, along.place_m, along.rearward_w))
    drained_k = drained_end_rise(near_k, long_m, reach_m, conductivity_w_mk, section_m2, beyond_w)
    return HandSteps(
        float(far_end_rise(near_k, long_m, reach_m)), float(drained_k), float(heat.entry_c - room_c), beyond_w
    )
