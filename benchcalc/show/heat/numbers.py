"""The numbers behind the picture of the hot tool: cells with their temperatures, curves along the axis, limits."""

from dataclasses import dataclass

import numpy as np

from ...basics.names import say
from ...basics.tables import rows
from ...chain.heat.melting_wire import told_c, wire_melts_c
from ...chain.wire.coil import coil_span
from ...chain.wire.fit_verdicts import bores_around
from ...chain.workings import links
from ...materials.metals import melts_from
from ...sheet.change import item
from ...sheet.roles import part_with_role
from ..drawing.style import coarse_up


@dataclass(frozen=True, eq=False)
class HeatNumbers:
    """cells: (from_m, to_m, inner_m, outer_m, temp_c) a row each; curves: (name, x_m, temp_c).

    marks: (word, x_m, temp_c). handle: (from_m, to_m, limit_c) or None. frame: what still parts depend on.
    said: a sentence where there is nothing to draw. outlines: of Outline. melts_c: where the wire begins to melt.
    """

    frame: tuple
    cells: np.ndarray
    curves: tuple
    marks: tuple
    handle: tuple | None
    units: str
    degrees: str
    said: str
    names: dict
    outlines: tuple = ()
    melts_c: float = np.inf

    def says(self, key, temp_c):
        """A temperature in the picture's degrees; of a wire past its melting, that it melts."""
        return told_c(key, temp_c, self.melts_c, degrees=self.degrees)


@dataclass(frozen=True)
class Outline:
    """The edge of a part: id, ends along the axis and diameters in m; melts_c: where it melts if it is past that;
    crossed: whether it cannot be as it is."""

    id: str
    from_m: float
    to_m: float
    inner_m: float
    outer_m: float
    melts_c: float | None
    crossed: bool = False


KEYS = {"winding": "sheath_c", "hottest wire": "wire_c"}  # what is told of the wire, by its word in the picture
SHADE_STEPS = 100  # more than a palette has
DRAINED_K = 8.0  # a step down at the end of the winding worth a word
CURVES = (
    ("tip and stem", ("tip", "stem", "cup", "disc")),
    ("winding", ("coil",)),
    ("tube", ("tube",)),
    ("handle's surface", ("handle",)),
    ("work", ("work",)),
)


def heat_numbers(build, heat, temps_c=None):
    """What the picture shows.

    build: Build. heat: HeatPart or None. temps_c: temperatures of all nodes at some moment, degC; None:
    the settled tool.
    Returns HeatNumbers.
    """
    way = build.units, build.degrees
    if heat is None or heat.model is None or heat.model.designs:
        said = (
            heat.refused
            if heat is not None and heat.refused
            else "This sheet has no parts on an axis with a coil on one of them: there is no tool to draw."
        )
        outlines = _refused_outlines(build, said) if heat is not None and heat.refused else ()
        frame = ("nothing",)
        if outlines:
            ends = _ends_m([o.from_m for o in outlines], [o.to_m for o in outlines])
            frame = ("refused", ends, round(max(o.outer_m for o in outlines), 6), *way)
        return HeatNumbers(frame, np.zeros((0, 5)), (), (), None, *way, said, {}, outlines)
    model = heat.model
    temps = heat.temps_c if temps_c is None else temps_c
    cells = _cells(model, temps)
    hottest = heat.wire_c if temps_c is None else max(heat.wire_c, float(np.max(temps)))
    roles = {p.id: p.role for p in model.tool.pieces}
    curves = []
    for name, wanted in CURVES:
        pieces = [p.id for p in model.tool.pieces if roles[p.id] in wanted] if name != "winding" else ["coil"]
        x, t = [], []
        for id in pieces:
            if name == "handle's surface":
                at, value = model.shell(f"{id} skin", temps) if heat.grip_c == heat.grip_c else model.along(id, temps)
            else:
                at, value = model.along(id, temps)
            x.append(at)
            t.append(value)
        if x:
            curves.append((name, *_joined(x, t)))
    ends = _ends_m(*([float(getattr(p, end)) for p in model.tool.pieces] for end in ("from_m", "to_m")))
    top = coarse_up(1.08 * (hottest if temps_c is None else heat.wire_c))
    wide = max(float(p.outer_m) for p in model.tool.pieces)
    wood = part_with_role(model.tool.pieces, "handle")
    limit = next(r["value"] for r in rows("wood_limits") if r["key"] == "long_term_c")
    handle = None if wood is None else (float(wood.from_m), float(wood.to_m), limit)
    marks = _marks(heat, model, curves) if temps_c is None else ()
    return HeatNumbers(
        ("tool", ends, round(wide, 6), top, *way),
        cells,
        tuple(curves),
        marks,
        handle,
        *way,
        "",
        {"tip and stem": "cup and bottom"} if "cup" in roles.values() else {},
        _outlines(build, model, temps),
        wire_melts_c(build),
    )


def _ends_m(starts_m, stops_m):
    """The ends of the axis for parts from some places to others."""
    near = min(starts_m)
    return (-coarse_up(-near) if near < 0 else 0.0), round(coarse_up(max(stops_m)), 9)


def _refused_outlines(build, said):
    """The edges of the parts of a tool that cannot be, those that are named crossed out, its winding among them."""
    names = set(said.replace("joint of ", "").split(":")[0].split(" and "))
    found = []
    for part in build.part:
        sizes = (part.from_m, part.to_m, part.inner_m or 0.0, part.outer_m)
        if part.role != "frame" and None not in sizes:
            found.append(Outline(part.id, *(float(x) for x in sizes), None, part.id in names))
    coil, on = (None, None) if "coil" not in names else (build.coil, item(build.part, build.coil.on))
    if coil is not None and found:
        start_m, end_m = coil_span(coil, on)
        part, across_m = next((p, x) for p, x in bores_around(build, links(build)[2]) if p.id in names)
        found.append(Outline("coil", float(start_m), float(end_m), float(on.outer_m), float(across_m), None, True))
    return tuple(found)


def _outlines(build, model, temps):
    """The edges of all parts, and which of them would be molten; what is melted on purpose is not among those."""
    found, materials = [], {p.id: p.material for p in build.part}
    for piece in model.tool.pieces:
        size = (float(x or 0.0) for x in (piece.from_m, piece.to_m, piece.inner_m, piece.outer_m))
        material = None if piece.work else materials.get(piece.id)
        melts_c = np.inf if material is None else melts_from(material)
        hot_c = float(np.nanmax(model.along(piece.id, temps)[1])) if np.isfinite(melts_c) else -np.inf
        found.append(Outline(piece.id, *size, melts_c if hot_c > melts_c else None))
    return tuple(found)


def _joined(places, temps):
    """Curves of parts as one: end to end where they follow one another, parted by a nan where they lie side by side.

    places, temps: arrays for each part, in m and degC.
    Returns (places, temps).
    """
    order = sorted(range(len(places)), key=lambda i: float(places[i][0]))
    x, t, far = [places[order[0]]], [temps[order[0]]], float(places[order[0]][-1])
    for i in order[1:]:
        if float(places[i][0]) < far:
            x.append([np.nan])
            t.append([np.nan])
        x.append(places[i])
        t.append(temps[i])
        far = max(far, float(places[i][-1]))
    return np.concatenate(x), np.concatenate(t)


def _cells(model, temps):
    found = []
    for i, t in enumerate(model.tracks):
        if not t.mass or t.owner == "leads" or float(t.outer_m[0, 0]) <= 0:
            continue
        piece = next((p for p in model.tool.pieces if p.id == t.owner), None)
        if piece is not None and piece.work:
            value = temps[model.node[i][model.node[i] >= 0][0]]
            found.append((float(piece.from_m), float(piece.to_m), 0.0, float(t.outer_m[0, 0]), value))
            continue
        for s in range(t.first, t.last):
            found.append(
                (
                    model.mesh.edges_m[0, s],
                    model.mesh.edges_m[0, s + 1],
                    float(t.inner_m[0, 0]),
                    float(t.outer_m[0, 0]),
                    temps[model.node[i, s]],
                )
            )
    return np.array(found)


def merged(cells, shade):
    """Cells that follow one another in one part and one shade, drawn as one.

    cells: rows as in HeatNumbers. shade: of each, 0 to 1 (cells,).
    Returns the same of fewer cells, shades in steps of 1/SHADE_STEPS.
    """
    if not len(cells):
        return cells, shade
    step = np.round(shade * SHADE_STEPS)
    same = (step[1:] == step[:-1]) & (cells[1:, 0] == cells[:-1, 1]) & (cells[1:, 2:4] == cells[:-1, 2:4]).all(axis=1)
    first = np.flatnonzero(np.append(True, ~same))
    found = cells[first]
    found[:, 1] = cells[np.append(first[1:], len(cells)) - 1, 1]
    return found, step[first] / SHADE_STEPS


def _marks(heat, model, curves):
    found = []
    by = {name: (x, t) for name, x, t in curves}
    if heat.tip_c == heat.tip_c:
        found.append(("tip", min(float(p.from_m) for p in model.tool.pieces), heat.tip_c))
    if "winding" in by:
        x, t = by["winding"]
        found.append(("hottest wire", float(x[np.nanargmax(t)]), heat.wire_c))
    if heat.entry_c == heat.entry_c:
        handle = part_with_role(model.tool.pieces, "handle")
        found.append(("tube at the handle", float(handle.from_m), heat.entry_c))
    if heat.work_c == heat.work_c:
        x, t = by["work"]
        found.append(("work", float(x[0]), heat.work_c))
    return tuple(found)


def heat_caption(n):
    """The picture in words.  n: HeatNumbers."""
    if n.frame[0] == "refused":
        return f"Refused, no temperatures. {n.said} The tool is drawn to scale, what cannot be is crossed out."
    if n.said:
        return n.said
    way = {"degrees": n.degrees}
    molten = [o for o in n.outlines if o.melts_c is not None]
    melts = "".join(f"Refused: the {o.id} would melt, from {say('temp_c', o.melts_c, **way)}. " for o in molten)
    ends = ", ".join(f"{name} {n.says(KEYS.get(name, 'temp_c'), float(np.nanmax(t)))}" for name, _, t in n.curves)
    marks = "; ".join(f"{word} {n.says(KEYS.get(word, 'temp_c'), t)}" for word, _, t in n.marks)
    where = (
        ""
        if n.handle is None
        else (
            f" The handle begins at {say('length_m', n.handle[0], units=n.units)}; wood should stay "
            f"below {say('temp_c', n.handle[2], **way)} for good."
        )
    )
    coil = next((t for name, _, t in n.curves if name == "winding"), None)
    drawn = coil is not None and len(coil) > 2 and coil[-1] < coil[-2] - DRAINED_K
    ends += ". The last turns are cooler: the tails lead heat out of them" if drawn else ""
    return (
        f"{melts}The tool to scale, darker where hotter; below, temperature along it. Hottest of each: {ends}."
        + (f" Marked: {marks}." if marks else "")
        + where
    )
