"""Across the tool: layers, contacts and gaps between radial neighbours, and the way out to the room."""

from dataclasses import dataclass

import numpy as np

from ..network.curves import ABSOLUTE_ZERO_C, STEFAN_BOLTZMANN_W_M2K4, conductivity_at
from .bore import bores
from .clearance import ring_gap
from .paths import air
from .shoulders import shoulders
from .surface_curves import Round, in_warm_air, shed, tip_of
from .tracks import column, is_work, shell_area

FILM_C = 300.0  # temperature at which the air beside a layer is taken
WALL_C = 150.0  # the same for air beside a wall of wood


@dataclass(frozen=True, eq=False)
class _Stretch:
    """A stretch of the tool on which no part begins or ends: its first station, step_m (designs, stations) of each,
    how far a tip at the front lies bare (designs, 1), and what `across` is given."""

    tool: object
    mesh: object
    paths: object
    gas: object
    room: int
    start: int
    step_m: np.ndarray
    tip_m: np.ndarray | None


def between(tool, inner, outer):
    """All that the tool says of one pair of neighbours.

    tool: Tool. inner, outer: ids, "coil" or "room".
    """
    return [b for b in tool.between if (b.inner, b.outer) == (inner, outer)]


def across(tool, tracks, node, mesh, paths, gas, room):
    """Heat between radial neighbours at each station, and from the outermost to the room.

    tool: Tool. tracks: list of Track, inner ones first. node: node numbers (tracks, stations). mesh:
    Mesh. paths: Paths, added to. gas: Conductivity of air. room: node number of the room.
    """
    spans = {
        (start, stop): [
            i
            for i, t in enumerate(tracks)
            if t.first <= start and t.last >= stop and t.owner not in ("leads", "face", "bore") and not is_work(tool, t)
        ]
        for start, stop in zip(mesh.first_station, mesh.first_station[1:])
    }
    tip = tip_of(tool)
    bare_tip = max((stop for (_, stop), here in spans.items() if here and tracks[here[-1]].owner == tip), default=None)
    tip_m = None if bare_tip is None else mesh.edges_m[:, bare_tip : bare_tip + 1] - mesh.edges_m[:, :1]
    for (start, stop), here in spans.items():
        stretch = _Stretch(tool, mesh, paths, gas, room, start, mesh.step_m[:, start:stop], tip_m)
        for i, j in zip(here, here[1:]):
            _pair(stretch, tracks[i], tracks[j], node[i, start:stop], node[j, start:stop])
        if here:
            _outside(stretch, tracks[here[-1]], node[here[-1], start:stop])
    for end in (0, mesh.step_m.shape[1] - 1):
        _end_face(tool, tracks, node, end, paths, room)
    shoulders(tool, tracks, node, mesh, paths, room)
    bores(tool, tracks, node, mesh, paths, gas, room)


def _pair(stretch, a, b, nodes_a, nodes_b):
    """Heat between two tracks that are radial neighbours on a stretch; a the inner one."""
    tool, mesh, paths, gas, start, step = (
        getattr(stretch, k) for k in ("tool", "mesh", "paths", "gas", "start", "step_m")
    )
    designs = step.shape[0]
    if a.owner == b.owner and a.owner not in ("coil", "layer"):  # shells of one piece, or its skin
        paths.link(nodes_a, nodes_b, step / np.maximum(a.out_mk_w + b.in_mk_w, 1e-6))
        return
    if b.owner == "cover":
        paths.link(nodes_a, nodes_b, step / _layers_mk_w(between(tool, "coil", "room")[0], a.outer_m, designs))
        return
    owner_b = b.owner
    if b.owner == "layer":
        layer = next(x for x in tool.between if x.inner == "coil" and x.layers and x.outer != "room")
        paths.link(
            nodes_a,
            nodes_b,
            step / (_layers_mk_w(layer, a.outer_m, designs) + film_mk_w(tool, a.outer_m, gas, designs)),
        )
        return
    found = [
        x
        for x in between(tool, "coil" if a.owner == "layer" else a.owner, owner_b)
        if x.from_m is None or mesh.span(x.from_m, x.to_m).start <= start < mesh.span(x.from_m, x.to_m).stop
    ]
    touching = next((x for x in found if x.contact_w_m2k is not None), None)
    layered = next((x for x in found if x.layers), None) if a.owner != "layer" else None
    if touching is not None:
        h = column(touching.contact_w_m2k, designs)
        per_m = 1 / (a.out_mk_w + 1 / (h * np.pi * (a.outer_m + b.inner_m)) + b.in_mk_w)
        extra = column(touching.extra_w_k, designs) / step.sum(axis=1, keepdims=True)
        paths.link(nodes_a, nodes_b, (per_m + extra) * step)
    elif layered is not None and owner_b == "coil":  # wound tight on its layers
        resist = a.out_mk_w + _layers_mk_w(layered, a.outer_m, designs) + film_mk_w(tool, a.outer_m, gas, designs)
        paths.link(nodes_a, nodes_b, step / resist)
    else:
        gap = air_between(tool, a, b, layered, gas)
        paths.bar(nodes_a, nodes_b, gap.share * gap.shape * step, gas)
        paths.ray(nodes_a, nodes_b, gap.share * gap.exchange_w_k4_m * step)


@dataclass(frozen=True, eq=False)
class Air:
    """The air between two neighbours, for each metre: shape over which it conducts, exchange by radiation, and the
    share of both that what lies in series leaves, solid_mk_w of it.  All (designs, 1)."""

    shape: np.ndarray
    exchange_w_k4_m: np.ndarray
    solid_mk_w: np.ndarray
    share: np.ndarray


def air_between(tool, a, b, layered, gas):
    """The gap between two tracks that no joint holds together, on the axis or beside it, and radiation across it.

    tool: Tool. a, b: Track, the inner and the outer one. layered: Between whose layers lie round the inner one, or
    None. gas: Conductivity of air.
    Returns Air.  Parts that touch with no joint named have the air of a loose fit between them, a winding none.
    Equations: clearance.ring_gap; concentric gray cylinders, Incropera et al., table 13.3; what lies in series is taken
    at 150 degC beside a wall and at 300 degC beside a layer.
    """
    designs = len(a.outer_m)
    e, solid, inner = column(tool.place.eccentricity, designs), a.out_mk_w + b.in_mk_w, a.outer_m
    outer, at_c, covered = b.inner_m, WALL_C, 0.0 * a.outer_m
    if layered is not None:
        covered = _layers_mk_w(layered, inner, designs) + film_mk_w(tool, inner, gas, designs)
        inner, at_c = _outside_of(layered, inner, designs), FILM_C
    elif a.owner == "layer":  # the layer's own surface is the inner track
        own = next(x for x in tool.between if x.inner == "coil" and x.layers and x.outer != "room")
        bare = column(tool.winding.outer_m, designs) / 2
        covered, at_c = _layers_mk_w(own, bare, designs) + film_mk_w(tool, bare, gas, designs), FILM_C
    elif a.owner != "coil":
        outer = np.maximum(outer, inner + _least_gap(tool, a, b, designs))
    k = float(conductivity_at(gas, at_c))
    shape, radius = ring_gap(inner, outer, e, k, covered)
    shine = column(tool.place.layer_emissivity, designs) if layered is not None else a.emissivity
    effective = 1 / (1 / shine + (1 / b.emissivity - 1) * np.minimum(inner / outer, 1.0))
    exchange = STEFAN_BOLTZMANN_W_M2K4 * effective * 2 * np.pi * inner
    solid = solid + (covered if layered is not None else 0.0)
    by_rays = 4 * exchange * (at_c - ABSOLUTE_ZERO_C) ** 3
    return Air(shape, exchange, solid, 1 / (1 + solid * (shape * k + by_rays)))


def _outside_of(between, radius, designs):
    """Radius outside the layers."""
    return radius + sum(column(thickness, designs) for thickness, _ in between.layers)


def _least_gap(tool, a, b, designs):
    """Air between two neighbours that touch with no joint named; round the wood of a handle it is a wide band."""
    if any(p.role == "handle" and p.rings > 1 and p.id in (a.owner, b.owner) for p in tool.pieces):
        return float(conductivity_at(air(), WALL_C)) / column(tool.place.wood_contact_w_m2k, designs)
    return column(tool.place.loose_gap_m, designs)


def _layers_mk_w(between, radius, designs):
    """Resistance of layers per length: sum of ln(r2/r1)/(2 pi k), m K/W (Incropera et al., eq. 3.33)."""
    total, r = 0.0, radius
    for thickness, k in between.layers:
        outer = r + column(thickness, designs)
        total = total + np.log(outer / r) / (2 * np.pi * column(k, designs))
        r = outer
    return total


def film_mk_w(tool, radius, gas, designs):
    """Resistance of the slack air inside a wrap of layers, per length.

    tool: Tool. radius: of what is wrapped, m (designs, 1). gas: Conductivity of air. designs: 1 or more.
    Returns m K/W (designs, 1).
    """
    slack = column(tool.place.slack_m, designs)
    return np.log(1 + slack / radius) / (2 * np.pi * conductivity_at(gas, FILM_C))


def _outside(stretch, t, nodes):
    """Heat from the outermost track of a stretch to the room, and to a hand round the handle."""
    tool, mesh, paths, room, start, step = (
        getattr(stretch, k) for k in ("tool", "mesh", "paths", "room", "start", "step_m")
    )
    designs = step.shape[0]
    area = 2 * np.pi * t.outer_m * step
    handle = next((p for p in tool.pieces if p.role == "handle"), None)
    rear = in_warm_air(tool, mesh, start)
    share = tool.place.rear_convection if rear else 1.0
    height = stretch.tip_m if t.owner == tip_of(tool) and tool.place.attitude == "tip down" else None
    shed(tool, paths, nodes, area, Round(t.name, 2 * t.outer_m, share, height))
    paths.ray(nodes, room, STEFAN_BOLTZMANN_W_M2K4 * t.emissivity * area)
    if handle is not None and t.owner == handle.id and np.any(np.asarray(tool.place.grip_w_m2k) > 0):
        paths.link(nodes, np.full(len(nodes), room), column(tool.place.grip_w_m2k, designs) * area)  # a hand round it


def _end_face(tool, tracks, node, station, paths, room):
    """The free end: the tip's front face, a cup's bottom, the handle's rear."""
    for i, t in enumerate(tracks):
        if node[i, station] >= 0 and t.mass and t.owner not in ("coil", "leads") and not is_work(tool, t):
            area = shell_area(t)
            shed(tool, paths, node[i, station], area, Round(f"end of {t.name}", 2 * t.outer_m))
            paths.ray(node[i, station], room, STEFAN_BOLTZMANN_W_M2K4 * t.emissivity * area)
