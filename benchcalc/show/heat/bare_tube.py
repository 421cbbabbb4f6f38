"""The bare tube between the winding and the handle as a fin: where it begins, how hot, what the model says of it."""

from dataclasses import dataclass

import numpy as np

from ...chain.workings import Workings
from ...sheet.build import Build, Part
from ...sheet.roles import part_with_role

SHORTEST_M = 1e-3


@dataclass(frozen=True)
class BareTube:
    """part: the tube. near_m, far_m: its ends, m from the tip. near_k, far_k: rise over the room there by the model's
    own curve, K. covered: whether the far end is where a handle begins."""

    part: Part
    near_m: float
    far_m: float
    near_k: float
    far_k: float
    covered: bool

    @property
    def length_m(self):
        """Its length."""
        return self.far_m - self.near_m


def bare_tube(build: Build, workings: Workings) -> BareTube:
    """The piece of tube that heat walks along from the rear end of the winding to the handle.

    build: Build. workings: Workings with a model of the heat.
    Returns BareTube; of a tool without a handle, or with its winding under it, the tube from its hottest place to its
    end; of one without a tube its cup, or its first part.
    """
    heat = workings.heat
    tube = part_with_role(build, "tube", placed=True) or part_with_role(build, "cup", placed=True)
    tube = tube or next(p for p in build.part if p.id in heat.part_ids)
    handle = part_with_role(build, "handle", placed=True)
    on = handle is not None and tube.from_m + SHORTEST_M < handle.from_m <= tube.to_m
    far_m = float(handle.from_m if on else tube.to_m)
    near_m = float(np.clip(heat.model.tool.winding.to_m, tube.from_m, tube.to_m)) if on else float(tube.from_m)
    if not on or far_m - near_m < SHORTEST_M:
        places, temps = heat.model.along(tube.id, heat.temps_c)
        bare = places <= far_m
        near_m = float(places[bare][np.argmax(temps[bare])]) if bare.any() else float(tube.from_m)
    if far_m - near_m < SHORTEST_M:
        near_m = float(tube.from_m)
    rises = (heat.at(tube.id, at_m) - build.room.ambient_c for at_m in (near_m, far_m))
    return BareTube(tube, near_m, far_m, *rises, on)
