"""Heat breaks of a sheet: what it leaves out, the pattern on its tube, and the stretch that the heat model sees."""

from dataclasses import replace

import numpy as np

from ..basics.fault import Fault
from ..basics.tables import one
from ..thermal.holes.closed_form import extra_length
from ..thermal.holes.pattern import Pattern, refuse_bad_pattern, span_of, web_at_bore
from ..thermal.tool.parts import Narrow
from .build import HeatBreak, Known
from .roles import ids_by_role, part_with_role

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


def with_break(build, rings=1):
    """The build with a heat break to play with, where it has none: what a sheet gets that names one and says no more.

    build: Build with parts. rings: 0 for a break without holes.
    Returns Build; unchanged where it has a break, or no tube before a handle.
    """
    from .defaults import fill

    if build.heat_break or not {"tube", "handle"} <= set(ids_by_role(build)):
        return build
    return fill(replace(build, heat_break=(HeatBreak("break", rings=rings),)))


def pattern_of(hole, part, at=None):
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


def designs_in(*things):
    """Number of designs in some dataclasses, 0 for plain numbers.  things: Build, HeatBreak, Part."""
    from ..thermal.tool.parts import designs_of

    return max((designs_of(t) for t in things), default=0)


def narrow_of(build, refuse=True):
    """The stretches with holes, as the heat model sees them.

    build: Build. refuse: False to give nan for designs that cannot be drilled.
    Returns tuple of Narrow.  Raises Fault for holes that cannot be drilled, or a break longer than its tube.
    """
    found = []
    for hole in build.heat_break:
        part = next((p for p in build.part if p.id == hole.on), None)
        if part is None or hole.from_m is None or part.to_m is None:
            continue
        many = designs_in(hole, part)
        each = [_one(hole, part, i, refuse) for i in range(many or 1)]
        if all(e is None for e in each):
            continue
        long = max(s for s, _ in (e for e in each if e is not None))
        extra = [0.0 if e is None else e[1] for e in each]
        span = [long if e is None else e[0] for e in each]
        extra, span = (np.array(extra), np.array(span)) if many else (extra[0], span[0])
        found.append(Narrow(part.id, hole.from_m, hole.from_m + span, extra))
    return tuple(found)


def _one(hole, part, i, refuse):
    p = pattern_of(hole, part, i)
    if p is None:
        return None
    room = [float(v if np.ndim(v) == 0 else v[i]) for v in (part.to_m, hole.from_m)]
    try:
        refuse_bad_pattern(p, room[0] - room[1], where=f"heat break {hole.id}".strip())
    except Fault:
        if refuse:
            raise
        return span_of(p), float("nan")
    return span_of(p), extra_length(p)
