"""Across the tool: layers, contacts and gaps between radial neighbours, and the way out to the room."""

from dataclasses import dataclass

import numpy as np

from ..network.curves import STEFAN_BOLTZMANN_W_M2K4
from .along import LOOSE_W_M2K
from .shoulders import shoulders
from .surface_curves import curve_of, in_warm_air, tip_of
from .tracks import column, is_work, shell_area

TOUCH_M = 2e-5  # surfaces nearer than this touch
FILM_M = 1.5e-4  # a gap up to this beside a layer is a film: one number for its gas
FILM_C = 300.0


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
            if t.first <= start and t.last >= stop and t.owner not in ("leads", "face") and not is_work(tool, t)
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
        _end_face(tool, tracks, node, mesh, end, paths, room)
    shoulders(tool, tracks, node, mesh, paths, room)


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
            nodes_a, nodes_b, step / (_layers_mk_w(layer, a.outer_m, designs) + _film(tool, a.outer_m, gas, designs))
        )
        return
    found = [
        x
        for x in between(tool, "coil" if a.owner == "layer" else a.owner, owner_b)
        if x.from_m is None or mesh.span(x.from_m, x.to_m).start <= start < mesh.span(x.from_m, x.to_m).stop
    ]
    touching = next((x for x in found if x.contact_w_m2k is not None), None)
    layered = next((x for x in found if x.layers), None) if a.owner != "layer" else None
    gap = b.inner_m - a.outer_m
    if touching is not None or np.all(gap < TOUCH_M) and layered is None:
        h = column(resting_w_m2k(tool, a, b) if touching is None else touching.contact_w_m2k, designs)
        per_m = 1 / (a.out_mk_w + 1 / (h * np.pi * (a.outer_m + b.inner_m)) + b.in_mk_w)
        extra = 0.0 if touching is None else column(touching.extra_w_k, designs) / step.sum(axis=1, keepdims=True)
        paths.link(nodes_a, nodes_b, (per_m + extra) * step)
    elif layered is not None:
        resist = (
            a.out_mk_w + _layers_mk_w(layered, a.outer_m, designs) + _film(tool, a.outer_m, gas, designs) + b.in_mk_w
        )
        paths.link(nodes_a, nodes_b, step / resist)
    else:  # a gas gap, off-centre by a factor, and radiation across it (concentric gray cylinders)
        ratio = np.maximum(b.inner_m, a.outer_m + TOUCH_M) / a.outer_m
        paths.bar(nodes_a, nodes_b, 2 * np.pi / np.log(ratio) * column(tool.place.gap_off_centre, designs) * step, gas)
        effective = 1 / (1 / a.emissivity + (1 / b.emissivity - 1) / ratio)
        paths.ray(nodes_a, nodes_b, STEFAN_BOLTZMANN_W_M2K4 * effective * 2 * np.pi * a.outer_m * step)


def resting_w_m2k(tool, a, b):
    """Contact of two neighbours that touch with no joint named; of the handle's wood it is a wide band.

    tool: Tool. a, b: Tracks.
    Returns W/(m2 K).
    """
    wood = any(p.role == "handle" and p.id in (a.owner, b.owner) for p in tool.pieces)
    return tool.place.wood_contact_w_m2k if wood else LOOSE_W_M2K


def _layers_mk_w(between, radius, designs):
    """Resistance of layers per length: sum of ln(r2/r1)/(2 pi k), m K/W (Incropera et al., eq. 3.33)."""
    total, r = 0.0, radius
    for thickness, k in between.layers:
        outer = r + column(thickness, designs)
        total = total + np.log(outer / r) / (2 * np.pi * column(k, designs))
        r = outer
    return total


def _film(tool, radius, gas, designs):
    """Resistance of the slack air beside a layer, per length, m K/W."""
    slack = column(tool.place.slack_m, designs)
    return np.log(1 + slack / radius) / (2 * np.pi * np.interp(FILM_C, gas.temps_c, gas.conductivity_w_mk))


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
    paths.skin(nodes, area, curve_of(tool, t.name, 2 * t.outer_m, designs, share, height))
    paths.ray(nodes, room, STEFAN_BOLTZMANN_W_M2K4 * t.emissivity * area)
    if handle is not None and t.owner == handle.id and np.any(np.asarray(tool.place.grip_w_m2k) > 0):
        paths.link(nodes, np.full(len(nodes), room), column(tool.place.grip_w_m2k, designs) * area)  # a hand round it


def eccentric_gain(inner_m, outer_m, offset_m):
    """How much better a gas gap conducts off-centre than centred.

    inner_m, outer_m: diameters of the two surfaces. offset_m: distance of their axes, less than the gap.
    Returns ratio, 1 and above.
    Equation: shape factors of eccentric and concentric cylinders, Incropera et al., Table 4.1 (case 7).
    """
    r, big = np.asarray(inner_m) / 2, np.asarray(outer_m) / 2
    eccentric = np.arccosh((big**2 + r**2 - np.asarray(offset_m) ** 2) / (2 * big * r))
    return np.log(big / r) / eccentric


def _end_face(tool, tracks, node, mesh, station, paths, room):
    """The free end: the tip's front face, a cup's bottom, the handle's rear."""
    designs = mesh.step_m.shape[0]
    for i, t in enumerate(tracks):
        if node[i, station] >= 0 and t.mass and t.owner not in ("coil", "leads") and not is_work(tool, t):
            area = shell_area(t)
            paths.skin(node[i, station], area, curve_of(tool, f"end of {t.name}", 2 * t.outer_m, designs))
            paths.ray(node[i, station], room, STEFAN_BOLTZMANN_W_M2K4 * t.emissivity * area)
