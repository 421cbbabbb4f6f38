"""The numbers behind the picture of a heat break: the unrolled wall, lines of heat, and the tube's temperature."""

from dataclasses import dataclass, field, replace
from functools import lru_cache

import numpy as np

from ...basics.names import say
from ...basics.tables import rows
from ...chain.heat.link import work_heat
from ...sheet.hole_defaults import pattern_of
from ...sheet.roles import part_with_role
from ...thermal.holes.pattern import Pattern, middle_of_wall, sizes_of
from ...thermal.holes.solved_wall import outline, wall_of
from ..drawing.style import coarse_up

LINES = 44  # lines of heat round the whole tube, about
SEEN, BEHIND = 3.35, 0.65  # length of tube that is shown, and of it under the handle, over its circumference
STEP_M = 0.01  # of the ends of what is shown


@dataclass(frozen=True, eq=False)
class BreakNumbers:
    """lines, holes: polylines (points, 2) of place along the tube and round it, m.  curves: (word, x_m, temp_c).

    handle: (from_m, limit_c). frame: what still parts depend on. said: a sentence where there is nothing to draw, or
    why what is drawn cannot be: then only the holes and the whole tube are there.
    """

    frame: tuple
    lines: tuple
    holes: tuple
    curves: tuple
    handle: tuple | None
    entries: tuple
    units: str
    degrees: str
    said: str
    told: str


@dataclass(frozen=True)
class _WholeTool:
    """A tool without holes and its chain so far; two are the same where all that the sheet says is the same."""

    said: str
    build: object = field(compare=False)
    wire: object = field(compare=False)
    coil: object = field(compare=False)


@lru_cache(maxsize=1)
def _solved(tool):
    return work_heat(tool.build, tool.wire, tool.coil)


def whole_heat(build, wire, coil):
    """Temperatures of the same tool with a whole tube, kept until something else than the holes moves.

    build: Build. wire, coil: parts of the chain.
    Returns HeatPart.
    """
    whole = replace(build, heat_break=())
    return _solved(_WholeTool(repr(replace(whole, known={})), whole, wire, coil))


def break_numbers(build, parts):
    """What the picture shows.

    build: Build with a heat break. parts: (supply, wire, coil, heat, handle).
    Returns BreakNumbers.
    """
    way = build.units, build.degrees
    heat, empty = parts[3], ((), (), (), None, (), *way)
    if heat is not None and heat.refused and build.heat_break:
        drawn = _refused(build, parts, way)
        if drawn is not None:
            return drawn
    if heat is None or heat.refused or heat.model is None or not build.heat_break:
        said = (
            heat.refused
            if heat is not None and heat.refused
            else "This sheet has no tube that runs hot into a handle: there is nothing to drill."
        )
        return BreakNumbers(("nothing",), *empty, said, "")
    hole, whole = build.heat_break[0], whole_heat(build, parts[1], parts[2])
    part, handle, near, far, round_m = _seen(build)
    p = pattern_of(hole, part)
    drawn = _drawing(p, hole.from_m, near, far, round_m) if p else _plain(near, far, round_m)
    curves = []
    for word, one in (("whole tube", whole), ("with holes", heat))[: 1 if p is None else 2]:
        curves.append(_curve(word, one, part, near, far))
    limit = _limit_c()
    top = coarse_up(1.05 * max(float(t.max()) for _, _, t in curves))
    extra = parts[4].extra_m if parts[4] is not None else 0.0
    told = (
        "no holes"
        if p is None
        else f"{p.rings} x {p.holes} holes of {say('hole_m', p.hole_m, units=build.units)}, worth "
        f"{say('extra_m', extra, units=build.units)} of tube"
    )
    frame = ("wall", near, far, round(round_m, 6), top, *way)
    return BreakNumbers(
        frame, *drawn, tuple(curves), (handle.from_m, limit), (whole.entry_c, heat.entry_c), *way, "", told
    )


def _limit_c():
    return next(r["value"] for r in rows("wood_limits") if r["key"] == "long_term_c")


def _seen(build):
    """Tube, handle, and the stretch of wall that is shown: (part, handle, near, far, once round), m."""
    hole = build.heat_break[0]
    part = next(p for p in build.part if p.id == hole.on)
    handle = part_with_role(build, "handle", placed=True)
    round_m = float(np.pi * middle_of_wall(part.outer_m, part.inner_m))
    far = min(part.to_m, handle.from_m + BEHIND * round_m)
    near = max(part.from_m, min(far - SEEN * round_m, hole.from_m - 0.5 * round_m))
    far = min(
        part.to_m, STEP_M * np.ceil(far / STEP_M - 1e-9)
    )  # so that the axes stand while the handle moves a little
    near = max(part.from_m, STEP_M * np.floor(near / STEP_M + 1e-9))
    return part, handle, near, far, round_m


def _curve(word, heat, part, near, far):
    x, t = heat.model.along(part.id, heat.temps_c)
    seen = (x >= near - 0.003) & (x <= far + 0.003)
    return word, x[seen], t[seen]


def _refused(build, parts, way):
    """Holes that cannot be drilled, drawn as they would lie; None where not even the whole tube can be worked out."""
    if part_with_role(build, "handle", placed=True) is None:
        return None
    whole = whole_heat(build, parts[1], parts[2])
    hole = build.heat_break[0]
    part, handle, near, far, round_m = _seen(build)
    p = pattern_of(hole, part)
    if whole is None or whole.refused or whole.model is None or p is None or p.hole_m >= part.inner_m:
        return None
    curve = _curve("whole tube", whole, part, near, far)
    top = coarse_up(1.05 * float(curve[2].max()))
    frame = ("wall", near, far, round(round_m, 6), top, *way)
    told = f"{p.rings} x {p.holes} holes of {say('hole_m', p.hole_m, units=build.units)}: refused"
    holes = _holes(p, hole.from_m + p.hole_m / 2, round_m)
    entries, said = (whole.entry_c,), parts[3].refused
    return BreakNumbers(frame, (), holes, (curve,), (handle.from_m, _limit_c()), entries, *way, said, told)


def _plain(near, far, round_m):
    at = (np.arange(LINES) + 0.5) / LINES * round_m
    return tuple(np.array([[near, y], [far, y]]) for y in at), ()


def _drawing(p: Pattern, from_m, near, far, round_m):
    """Lines of heat and outlines of holes over the whole unrolled wall."""
    import contourpy

    wall = wall_of(p)
    pitch, _ = sizes_of(p)
    first = from_m + p.hole_m / 2
    drawer = contourpy.contour_generator(wall.along_m + first, wall.around_m, wall.stream, name="serial")
    each = max(2, round(LINES / (2 * p.holes)))
    half = []
    for k in range(each):
        for line in drawer.lines((k + 0.5) / each):
            line = line[np.argsort(line[:, 0], kind="stable")][::2] if len(line) > 8 else line
            keep = (line[:, 0] > near) & (line[:, 0] < far)
            line = line[keep]
            if len(line) > 1:
                half.append(np.concatenate([[[near, line[0, 1]]], line, [[far, line[-1, 1]]]]))
    lines, shift = [], pitch / 4
    for k in range(-1, p.holes + 1):
        for sign in (1, -1):
            for line in half:
                y = shift + k * pitch + sign * line[:, 1]
                if y.max() > 0 and y.min() < round_m:
                    lines.append(np.column_stack([line[:, 0], y]))
    return tuple(lines), _holes(p, first, round_m)


def _holes(p, first, round_m):
    """Outlines of the holes over the whole unrolled wall.  first: middle of the first ring, m."""
    pitch, holes = sizes_of(p)[0], []
    shift = pitch / 4
    around, along = outline(p)
    for k in range(-1, p.holes + 1):
        for ring in range(p.rings):
            off = pitch / 2 if p.staggered and ring % 2 else 0.0
            y = shift + k * pitch + off + around
            if y.max() > 0 and y.min() < round_m:
                holes.append(np.column_stack([first + ring * p.spacing_m + along, y]))
    return tuple(holes)


def break_caption(n):
    """The picture in words.  n: BreakNumbers."""
    if n.said:
        return n.said
    way = {"degrees": n.degrees}
    if not len(n.holes):
        return (
            f"Above, the wall of the tube unrolled, with {n.told}. Below, the tube's temperature at the same places: "
            f"where the handle begins it is {say('entry_c', n.entries[1], **way)}; wood should stay below "
            f"{say('temp_c', n.handle[1], **way)} for good."
        )
    return (
        f"Above, the wall of the tube unrolled, with {n.told}, and the lines along which heat flows to the handle: "
        "they crowd in the webs. Below, the tube's temperature at the same places: where the handle begins it is "
        f"{say('entry_c', n.entries[1], **way)} with the holes and {say('entry_c', n.entries[0], **way)} without; wood "
        f"should stay below {say('temp_c', n.handle[1], **way)} for good."
    )
