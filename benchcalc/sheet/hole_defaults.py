"""Heat breaks of a sheet: what it leaves out, and the pattern on its tube."""

from dataclasses import replace

import numpy as np

from ..basics.tables import one
from ..thermal.holes.pattern import Pattern, web_at_bore
from .build import Known, Part
from .build_holes import HeatBreak
from .roles import part_with_role

RING_WEB_M, MOST_HOLES = 1e-3, 6


def fill_breaks(build, known):
    """The heat breaks of a build with what the sheet leaves out: the first tube, a 3 mm drill, as many holes as leave
    good webs but at most six, 25 mm before the handle, rings 1 mm apart.

    build: Build. known: dict, added to.
    Returns tuple of HeatBreak.
    """
    made = []
    for hole in build.heat_break:
        filled = complete(hole, build.part)
        for field in ("from_m", "holes", "hole_m", "ring_spacing_m"):
            if getattr(hole, field) is None and getattr(filled, field) is not None:
                value = getattr(filled, field)
                known[f"heat_break.{hole.id}.{field}"] = Known(value, value, "assumed", "where the sheet says nothing")
        made.append(filled)
    return tuple(made)


def complete(hole, parts):
    """A heat break with its gaps filled.

    hole: HeatBreak. parts: tuple of Part.
    Returns HeatBreak; what cannot be told without a tube or a handle stays None.
    """
    tube = next((p for p in parts if p.id == hole.on), None) if hole.on else part_with_role(parts, "tube")
    handle = part_with_role(parts, "handle", placed=True)
    bore = None if tube is None or tube.inner_m is None or tube.outer_m is None else float(np.min(tube.inner_m))
    drill = hole.hole_m
    if drill is None:
        drill = _default("hole_m") if not bore else min(_default("hole_m"), round(0.4 * bore, 4))
    place, holes = hole.from_m, hole.holes
    if place is None and handle is not None:
        first = 0.0 if tube is None or tube.from_m is None else float(np.max(tube.from_m))
        place = max(first, float(np.min(handle.from_m)) - _default("ahead_m"))
    if holes is None:
        holes = MOST_HOLES
        while (
            bore
            and holes > 1
            and web_at_bore(Pattern(float(np.min(tube.outer_m)), bore, holes, float(np.max(drill))))
            < _default("least_web_m")
        ):
            holes -= 1
    spacing = drill + RING_WEB_M if hole.ring_spacing_m is None else hole.ring_spacing_m
    return replace(
        hole, on=hole.on or (tube.id if tube else None), hole_m=drill, from_m=place, holes=holes, ring_spacing_m=spacing
    )


def _default(key):
    return one("defaults", "key", f"heat_break.{key}")["value"]


def pattern_of(hole: HeatBreak, part: Part, at: int | None = None) -> Pattern | None:
    """The pattern of a heat break on its tube.

    hole: HeatBreak, filled. part: the Part it is in. at: number of the design where there are many.
    Returns Pattern, or None without holes or without the tube's diameters.
    """
    names = (
        (hole, "rings"),
        (hole, "holes"),
        (hole, "hole_m"),
        (hole, "ring_spacing_m"),
        (hole, "slot_m"),
        (part, "outer_m"),
        (part, "inner_m"),
    )
    values = [getattr(thing, name) for thing, name in names]
    if any(v is None for v in values):
        return None
    rings, holes, hole_m, spacing, slot, outer, inner = (float(v if np.ndim(v) == 0 else v[at]) for v in values)
    if round(rings) < 1 or round(holes) < 1:
        return None
    return Pattern(outer, inner, round(holes), hole_m, round(rings), spacing, bool(hole.staggered), slot)
