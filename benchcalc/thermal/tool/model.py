"""From a tool's parts to a thermal network of hundreds of nodes, and back to temperatures along a part.

Radially: layers, contacts, or a gas gap with radiation (across).  Along the axis: conduction in each
part, butt joints through their contact (axis).  Inside: leads and work (inside).  Outside: convection
by a curve, radiation to the room.
"""

from dataclasses import dataclass, field, replace
from functools import lru_cache

import numpy as np

from ..network.network import Bars, Links, Network, Rays, Skins
from ..network.side_by_side import design
from .across import across
from .along import along, apart_of, butts, faces, has_holes, skin_track
from .bore import bore_tracks
from .leads_and_work import heat_at_the_end, leads, melting_in, workpiece
from .mesh import FINE, make_mesh, refuse_bad_places, refuse_loose_joints, same_order
from .parts import Tool, designs_of
from .paths import Paths, air
from .tracks import Track, column, number_cells, shell_area, tracks_of_piece
from .what_it_stores import add_layers, stores_of


@dataclass(frozen=True, eq=False)
class Model:
    """A tool as a network: the network (None where only its temperatures are kept), its mesh, its tracks, node numbers
    (tracks, stations), and what melts, as workpiece of leads_and_work.py tells it."""

    tool: Tool
    net: Network | None
    mesh: object
    tracks: tuple
    node: np.ndarray
    designs: int
    melts: dict = field(default_factory=dict, repr=False)

    def along(self, owner, temps_c):
        """Temperatures along a part: (places in m, degC), each (..., cells); of its hottest shell.

        owner: id of a part, "coil" or "leads". temps_c: (..., nodes) from the solver.
        """
        mine = self._shells(owner)
        cells = self.node[mine[0]] >= 0
        values = np.stack([temps_c[..., self.node[i][cells]] for i in mine]).max(axis=0)
        middle = self.mesh.middle_m[:, cells]
        return (middle if self.designs else middle[0]), values

    def nodes_of(self, owner):
        """Numbers of the nodes that `along` reads.  owner: as there.  Returns array (shells times cells,)."""
        rows = self.node[self._shells(owner)]
        return rows[rows >= 0]

    def _shells(self, owner):
        return [i for i, t in enumerate(self.tracks) if t.owner == owner and t.mass]

    def shell(self, name, temps_c):
        """Temperatures of one track by name: (places in m, degC).

        name: track's name, e.g. "handle skin". temps_c: (..., nodes).
        """
        i = next(i for i, t in enumerate(self.tracks) if t.name == name)
        cells = self.node[i] >= 0
        middle = self.mesh.middle_m[:, cells]
        return (middle if self.designs else middle[0]), temps_c[..., self.node[i][cells]]

    def alone(self, number):
        """The network of one design out of many, what melts in it included.  number: which.  Returns Network."""
        if not self.designs:
            return self.net
        return replace(design(self.net, number), contents=melting_in(self.melts, self.net.capacity_j_k, number))

    def with_power(self, tool):
        """The model of a tool of one design that differs from this one's in nothing but power.

        tool: Tool.
        Returns Model that shares all but the power; None where the tool differs in more.
        """
        if self.designs or self.net is None or designs_of(tool):
            return None
        idle = [replace(t, **{k: replace(v, power_w=0.0) for k, v in _powered(t).items()}) for t in (tool, self.tool)]
        if idle[0] != idle[1]:
            return None
        power = np.zeros((1, len(self.net.names)))
        for i, t in enumerate(self.tracks):
            _make_heat(tool, t, self.node[i, t.first : t.last], self.mesh.step_m[:, t.first : t.last], power)
        heat_at_the_end(tool, self.tracks, self.node, self.mesh, power)
        return replace(self, tool=tool, net=replace(self.net, power_w=power[0]))

    def with_holes(self, tool):
        """The model of a tool of one design that differs from this one's in nothing but its holes.

        tool: Tool.
        Returns Model that shares all but the bars of what is drilled; None where the tool differs in more.
        """
        if self.designs or self.net is None or designs_of(tool):
            return None
        if replace(tool, narrow=()) != replace(self.tool, narrow=()):
            return None
        bars, count, by_name = self.net.bars, len(self.net.names), {p.id: p for p in tool.pieces}
        pairs, shape_m = bars.first * count + bars.second, bars.shape_m.copy()
        for i, t in enumerate(self.tracks):
            if t.mass and (has_holes(tool, t) or has_holes(self.tool, t)):
                cells, step = self.node[i, t.first : t.last], self.mesh.step_m[:, t.first : t.last]
                before, now = (apart_of(one, t, step, self.mesh)[0] for one in (self.tool, tool))
                metal = bars.material == self.net.materials.index(by_name[t.owner].conductivity)  # not the bore's air
                shape_m[metal & np.isin(pairs, cells[:-1] * count + cells[1:])] *= before / now
        return replace(self, tool=tool, net=replace(self.net, bars=replace(bars, shape_m=shape_m)))


def model_of(tool, grain=FINE):
    """The network of a tool.

    tool: Tool; arrays (designs,) in any of its numbers make a network of many designs. grain: Grain.
    Returns Model.  Raises Fault: parts that overlap or leave a gap.
    Assumes: all parts round and on one axis; metals equally warm across their wall; k of thin
    films at 300 degC.  See each function for its equation.
    """
    laid = cut_up(tool, grain)
    mesh, tracks, node, many = laid.mesh, laid.tracks, laid.node, laid.designs
    designs, stations = many or 1, mesh.step_m.shape[1]
    count = int(node.max()) + 1
    room = count
    paths = Paths(designs, grain)
    gas = air()
    capacity, power = np.zeros((designs, count + 1)), np.zeros((designs, count + 1))
    by_name = {p.id: p for p in tool.pieces}
    for i, t in enumerate(tracks):
        cells, step = node[i, t.first : t.last], mesh.step_m[:, t.first : t.last]
        _fill(tool, t, cells, step, capacity, by_name)
        _make_heat(tool, t, cells, step, power)
        along(tool, t, cells, step, paths, by_name, mesh)
    heat_at_the_end(tool, tracks, node, mesh, power)
    butts(tool, tracks, node, mesh, paths)
    across(tool, tracks, node, mesh, paths, gas, room)
    leads(tool, tracks, node, mesh, paths)
    melts = workpiece(tool, tracks, node, mesh, paths, capacity, room)
    add_layers(tool, tracks, node, mesh, capacity)
    held = np.full((designs, count + 1), np.nan)
    held[:, room] = column(tool.place.ambient_c, designs)[:, 0]
    names = _names(tuple((t.name, t.first, t.last) for t in tracks), stations)
    single = not many

    def plain(array):
        return array[0] if single else array

    links, bars, rays, skins = (paths.stack(k, single) for k in ("links", "bars", "rays", "skins"))
    net = Network(
        names,
        plain(capacity),
        plain(power),
        plain(held),
        links=Links(*links) if links else Links(),
        bars=Bars(*bars) if bars else Bars(),
        rays=Rays(*rays) if rays else Rays(),
        skins=Skins(*skins) if skins else Skins(),
        materials=tuple(paths.materials),
        curves=tuple(paths.curves),
        contents=melting_in(melts, capacity, 0) if single else {},
        station_by_station=True,
        **stores_of(tool, tracks, node, count + 1),
    )
    return replace(laid, net=net, melts=melts)


def cut_up(tool, grain=FINE):
    """The mesh and the tracks of a tool, without its network.

    tool, grain: as model_of.
    Returns Model whose net is None.  Raises Fault as model_of; ValueError for a grain that does not fit the tool.
    """
    refuse_bad_places(tool.pieces)
    refuse_loose_joints(tool.pieces, tool.between)
    many = designs_of(tool)
    mesh = make_mesh(*_places(tool), many or 1, grain.cells)
    tracks = _tracks(tool, mesh, many or 1)
    if grain.tracks:
        by = {t.name: t for t in tracks}
        if sorted(t.name for t in tracks) != sorted(grain.tracks) or len(by) < len(tracks):
            raise ValueError(f"tracks {', '.join(by)} are not those of {', '.join(grain.tracks)}")
        tracks = [by[name] for name in grain.tracks]
    return Model(tool, None, mesh, tuple(tracks), number_cells(tracks, mesh.step_m.shape[1]), many)


def axis_places(tool):
    """Every place where something begins or ends, m, always in the same order.

    tool: Tool.
    Returns list of floats or arrays (designs,).
    """
    return _places(tool)[0]


def orders_of(tool, designs):
    """Which designs have their places in the same order along the axis, so that one structure serves them.

    tool: Tool of several designs. designs: their number.
    Returns whole numbers (designs,): equal for equal orders, from 0 on.
    """
    return same_order(_places(tool)[0], designs)


def _places(tool):
    """Every place where something begins or ends, and the stretches that want small cells."""
    places, fine = [], []
    for p in tool.pieces:
        places += [p.from_m, p.to_m]
    if tool.winding is not None:
        places += [tool.winding.from_m, tool.winding.to_m]
    if tool.leads is not None:
        places += [tool.leads.from_m, tool.leads.to_m]
    for b in tool.between:
        if b.from_m is not None:
            places += [b.from_m, b.to_m]
            fine.append((b.from_m, b.to_m))
    handle = next((p for p in tool.pieces if p.role == "handle"), None)
    if handle is not None:
        front = np.min(np.broadcast_arrays(*places), axis=0)
        rear = np.maximum(handle.from_m - tool.place.rear_length_m, front)
        if np.any(rear > front):
            places.append(rear)
    return places, fine


def _tracks(tool, mesh, designs):
    """All tracks, inner ones first; skins (points without mass) where a thin-walled shell or cover meets the room."""
    found = []
    for p in tool.pieces:
        span = mesh.span(p.from_m, p.to_m)
        shells = tracks_of_piece(p, span, designs)
        if p.work:  # one temperature: a single cell in the middle of its place
            middle = (span.start + span.stop - 1) // 2
            t = shells[0]
            shells = [Track(t.name, t.owner, t.inner_m, t.outer_m, middle, middle + 1, t.in_mk_w, t.out_mk_w)]
        found += shells
        if np.any(shells[-1].out_mk_w > 0) and not p.work:
            found.append(skin_track(f"{p.id} skin", p.id, shells[-1].outer_m, span, column(p.emissivity, designs)))
    if tool.winding is not None:
        w = tool.winding
        span, zero = mesh.span(w.from_m, w.to_m), np.zeros((designs, 1))
        found.append(
            Track(
                "coil",
                "coil",
                column(w.inner_m, designs) / 2,
                column(w.outer_m, designs) / 2,
                span.start,
                span.stop,
                zero,
                zero,
                emissivity=column(w.emissivity, designs),
            )
        )
        shine = column(tool.place.layer_emissivity, designs)
        cover = next((b for b in tool.between if b.inner == "coil" and b.outer == "room"), None)
        if cover is not None:
            radius = column(w.outer_m, designs) / 2 + sum(column(t, designs) for t, _ in cover.layers)
            found.append(skin_track("cover", "cover", radius, span, shine))
        for b in tool.between:  # the surface of a layer that faces the gap to the next part is a point
            if b.inner == "coil" and b.outer != "room" and b.layers and b.contact_w_m2k is None:
                bore = next(column(p.inner_m, designs) / 2 for p in tool.pieces if p.id == b.outer)
                radius = column(w.outer_m, designs) / 2 + sum(column(t, designs) for t, _ in b.layers)
                found.append(skin_track("layer over the coil", "layer", np.minimum(radius, bore), span, shine))
    if tool.leads is not None:
        span, zero = mesh.span(tool.leads.from_m, tool.leads.to_m), np.zeros((designs, 1))
        found.append(Track("leads", "leads", zero, zero, span.start, span.stop, zero, zero))
    found += faces(tool, mesh, designs) + bore_tracks(tool, mesh, designs)
    return sorted(found, key=lambda t: (float(t.outer_m[0, 0]), float(t.inner_m[0, 0]), t.mass))


@lru_cache(maxsize=16)
def _names(tracks, stations):
    """Names of all nodes in their order, the room behind them; the same for all tools that are cut up alike.

    tracks: of (name, first station, the one behind the last). stations: their number.
    """
    return (*(f"{name} @{s}" for s in range(stations) for name, first, last in tracks if first <= s < last), "room")


def _fill(tool, t, cells, step, capacity, by_name):
    """Heat capacity of a track's cells."""
    if t.owner in by_name and t.mass and not by_name[t.owner].work:
        capacity[:, cells] = column(by_name[t.owner].heat_j_m3k, len(step)) * shell_area(t) * step
    elif t.name == "coil":
        capacity[:, cells] = column(tool.winding.capacity_j_k, len(step)) * (step / step.sum(axis=1, keepdims=True))
    elif t.name == "leads":
        capacity[:, cells] = column(tool.leads.capacity_j_mk, len(step)) * step


def _powered(tool):
    """What makes heat in a tool, by name."""
    return {k: getattr(tool, k) for k in ("winding", "leads") if getattr(tool, k) is not None}


def _make_heat(tool, t, cells, step, power):
    """Power of a track's cells."""
    made = {"coil": tool.winding, "leads": tool.leads}.get(t.name)
    if made is not None:
        power[:, cells] = column(made.power_w, len(step)) * (step / step.sum(axis=1, keepdims=True))
