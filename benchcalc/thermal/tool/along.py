"""Along the axis: conduction in each part, and the joints where two parts meet end to end."""

import numpy as np

from .tracks import Track, column, shell_area

LOOSE_W_M2K = 430.0  # parts that touch with no joint named: data/joints.csv, "resting"


def skin_track(name, owner, radius, span, emissivity):
    """A point without mass on a surface.

    name, owner: as Track. radius: m (designs, 1). span: stations. emissivity: of the surface.
    Returns Track.
    """
    zero = np.zeros_like(radius)
    return Track(name, owner, radius, radius, span.start, span.stop, zero, zero, mass=False, emissivity=emissivity)


def butted(tool, mesh):
    """Pairs of pieces that meet end to end with some wall in common.

    tool: Tool. mesh: Mesh.
    Yields (piece, piece behind it, station of the second).
    """
    for a in tool.pieces:
        for c in tool.pieces:
            if a is c or a.work or c.work:
                continue
            here, there = mesh.span(a.from_m, a.to_m), mesh.span(c.from_m, c.to_m)
            across = min(np.ravel(a.outer_m)[0], np.ravel(c.outer_m)[0]) - max(
                np.ravel(a.inner_m)[0], np.ravel(c.inner_m)[0]
            )
            if here.stop == there.start and across > 1e-6:
                yield a, c, here.stop


def faces(tool, mesh, designs):
    """Two points without mass for each end-to-end joint.

    tool: Tool. mesh: Mesh. designs: 1 or more.
    Returns list of Track.
    """
    found = []
    for a, c, at in butted(tool, mesh):
        for side in (a, c):
            r = column(side.outer_m, designs) / 2
            found.append(skin_track(f"face of {side.id} at {a.id}-{c.id}", "face", r * 0, slice(at - 1, at), 0.0))
    return found


def along(tool, t, cells, step, paths, by_name, mesh):
    """Conduction along a track between neighbouring cells.

    tool: Tool. t: Track. cells: its node numbers. step: cell lengths (designs, cells). paths: Paths,
    added to. by_name: pieces by id. mesh: Mesh.
    """
    if len(cells) < 2:
        return
    apart = apart_of(tool, t, step, mesh)
    if t.name == "leads":
        paths.link(cells[:-1], cells[1:], column(tool.leads.conduction_w_m_k, len(step)) / apart)
    elif t.owner in by_name and t.mass:
        p = by_name[t.owner]
        shape_m = shell_area(t) * column(p.conductivity_scale, len(step)) * column(p.along_scale, len(step)) / apart
        paths.bar(cells[:-1], cells[1:], shape_m, p.conductivity)


def apart_of(tool, t, step, mesh):
    """How far apart the cells of a track are for heat, middle to middle, with the holes in it: m (designs, cells - 1).

    tool, t, step, mesh: as along.
    """
    if t.mass and has_holes(tool, t):
        step = step * stretched(tool, t, mesh)
    return (step[:, 1:] + step[:, :-1]) / 2


def has_holes(tool, t):
    """Whether a track is of a piece with holes.  tool: Tool. t: Track."""
    return any(b.on == t.owner for b in tool.narrow)


def stretched(tool, t, mesh):
    """How many times longer each cell of a track is for heat, because of holes in it: ratios (designs, cells).

    The extra length is shared out by what each cell holds of the holes, so none is lost where a cell is cut.

    tool: Tool. t: Track. mesh: Mesh.
    """
    found = np.ones((mesh.step_m.shape[0], t.last - t.first))
    low, high = mesh.edges_m[:, t.first : t.last], mesh.edges_m[:, t.first + 1 : t.last + 1]
    for b in tool.narrow:
        if b.on == t.owner:
            start, end, extra = (column(v, len(found)) for v in (b.from_m, b.to_m, b.extra_m))
            inside = np.maximum(np.minimum(high, end) - np.maximum(low, start), 0.0)
            found += extra / (end - start) * inside / (high - low)
    return found


def butts(tool, tracks, node, mesh, paths):
    """Pieces that meet end to end: half a cell each, and the contact between.

    tool: Tool. tracks: list of Track. node: node numbers (tracks, stations). mesh: Mesh. paths: Paths,
    added to.
    """
    designs = mesh.step_m.shape[0]
    names = [t.name for t in tracks]
    for a, c, at in butted(tool, mesh):
        joint = [b for b in tool.between if {b.inner, b.outer} == {a.id, c.id}]
        face_a, face_c = (node[names.index(f"face of {p.id} at {a.id}-{c.id}"), at - 1] for p in (a, c))
        for p, face, s in ((a, face_a, at - 1), (c, face_c, at)):
            for i, t in enumerate(tracks):
                if t.owner == p.id and t.mass and node[i, s] >= 0:
                    half = mesh.step_m[:, s : s + 1] / 2 / column(p.along_scale, designs)
                    paths.bar(
                        node[i, s], face, shell_area(t) * column(p.conductivity_scale, designs) / half, p.conductivity
                    )
        paths.link(face_a, face_c, butt_conductance(a, c, joint, designs))


def butt_conductance(a, c, joint, designs):
    """Conductance of an end-to-end joint, W/K (designs, 1).

    Threaded, pressed, cemented: on the cylinder of the smaller part, as long as the joint says or
    else one diameter of it.  Others: on the face they have in common.
    a, c: Pieces. joint: list of Between (the first counts). designs: 1 or more.
    """
    small = np.minimum(column(a.outer_m, designs), column(c.outer_m, designs))
    hole = np.maximum(column(a.inner_m, designs), column(c.inner_m, designs))
    face = np.pi * (small**2 - hole**2) / 4
    if not joint or joint[0].contact_w_m2k is None:
        return face * LOOSE_W_M2K
    b = joint[0]
    long = small if b.from_m is None else column(b.to_m, designs) - column(b.from_m, designs)
    area = np.pi * small * long if b.made.startswith(("threaded", "pressed", "cemented")) else face
    return column(b.contact_w_m2k, designs) * area + column(b.extra_w_k, designs)
