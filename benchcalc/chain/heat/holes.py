"""The holes of a build: a break to play with, and the stretches with holes as the heat model sees them."""

from dataclasses import replace

import numpy as np

from ...basics.fault import Fault
from ...sheet.build import Build, HeatBreak
from ...sheet.change import change
from ...sheet.defaults import fill
from ...sheet.hole_defaults import pattern_of
from ...sheet.roles import ids_by_role
from ...thermal.holes.many_patterns import extra_lengths
from ...thermal.holes.pattern import refuse_bad_pattern, span_of
from ...thermal.tool.parts import Narrow, designs_of


def with_break(build, rings=1):
    """The build with a heat break to play with, where it has none: what a sheet gets that names one and says no more.

    build: Build with parts. rings: 0 for a break without holes.
    Returns Build; unchanged where it has a break, or no tube before a handle.
    """
    if build.heat_break or not {"tube", "handle"} <= set(ids_by_role(build)):
        return build
    return fill(replace(build, heat_break=(HeatBreak("break", rings=rings),)))


def with_moves(build: Build, moves: dict) -> Build:
    """The build with some fields changed, holes drilled where it has none yet.

    build: Build. moves: dict of path -> SI value, text or None.
    Returns Build.  Raises Fault where the change is not possible.
    """
    if any(path.startswith("heat_break.") for path in moves):
        build = with_break(build)
    for path, value in moves.items():
        build = change(build, path, value)
    return build


def designs_in(*things):
    """Number of designs in some dataclasses, 0 for plain numbers.  things: Build, HeatBreak, Part."""
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
        each = [_drilled(hole, part, i, refuse) for i in range(many or 1)]
        if all(p is None for p, _ in each):
            continue
        long = max(span_of(p) for p, _ in each if p is not None)
        span = [long if p is None else span_of(p) for p, _ in each]
        extra = np.where([p is None for p, _ in each], 0.0, np.nan)
        extra[[good for _, good in each]] = extra_lengths([p for p, good in each if good])
        extra, span = (extra, np.array(span)) if many else (float(extra[0]), span[0])
        found.append(Narrow(part.id, hole.from_m, hole.from_m + span, extra))
    return tuple(found)


def _drilled(hole, part, i, refuse):
    """The pattern of a design, None without holes, and whether there are any that can be drilled."""
    p = pattern_of(hole, part, i)
    if p is None:
        return None, False
    room = [float(v if np.ndim(v) == 0 else v[i]) for v in (part.to_m, hole.from_m)]
    try:
        refuse_bad_pattern(p, room[0] - room[1], where=_named(hole))
    except Fault:
        if refuse:
            raise
        return p, False
    return p, True


def _named(hole):
    """A heat break in words, with its name where it has one of its own."""
    return f"heat break {hole.id}" if hole.id not in ("", "break") else "heat break"
