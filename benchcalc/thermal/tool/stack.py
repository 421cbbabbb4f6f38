"""A stack of layers between two neighbours: how hot each of its faces is."""

from dataclasses import dataclass

import numpy as np

from ..network.curves import ABSOLUTE_ZERO_C, conduction_integral
from .across import air_between, film_mk_w
from .paths import air
from .tracks import column


@dataclass(frozen=True, eq=False)
class Faces:
    """Temperatures of a stack's faces from the inside out, (..., places) each, and the heat that crosses it.

    radii_m: radius of each face. places_m: middle of each place along the axis. stations: their numbers. flow_w_m: heat
    outwards for each metre of tool, of the same shape as a face's temperatures.
    """

    temps_c: tuple
    radii_m: tuple
    places_m: np.ndarray
    stations: np.ndarray
    flow_w_m: np.ndarray


@dataclass(frozen=True, eq=False)
class Shell:
    """One ring of a cut across the tool: kind "part", "winding", "layer" or "air".

    owner: id of a part, or the pair of neighbours of a layer, and `order` its number among theirs. inner_m, outer_m:
    radii. inner_c, outer_c: temperatures at them, floats or arrays (designs,).
    """

    kind: str
    owner: object
    order: int
    inner_m: float
    outer_m: float
    inner_c: float
    outer_c: float


def layer_drop(flow_w_m, inner_m, layer_m, layer_w_mk):
    """Temperature drop across a round layer.

    flow_w_m: heat that crosses each metre of the tool, W/m. inner_m: its inner diameter, above 0. layer_m: its
    thickness. layer_w_mk: its conductivity, 0.03 to 40.
    Returns drop_k.  Equation: Incropera, DeWitt, Bergman, Lavine, Fundamentals of Heat and Mass Transfer, eq. 3.32.
    """
    outer_m = inner_m + 2 * layer_m
    drop_k = flow_w_m * np.log(outer_m / inner_m) / (2 * np.pi * layer_w_mk)
    return drop_k


def stack_faces(model, temps_c, between):
    """Temperatures of the faces of the layers between two neighbours.

    model: Model. temps_c: (..., nodes), degC. between: Between of the model's tool, with layers.
    Returns Faces, or None where the two do not meet along the axis.
    Assumes: the slack air beside the layers lies on the side away from the winding, which leaves them at their hottest;
    layers under a gas gap have theirs at the gap.
    """
    inner, outer = _track(model, between.inner, last=True), _track(model, between.outer)
    skin = _track(model, "layer") if between.inner == "coil" and between.outer != "room" else None
    outer = skin if skin is not None else outer
    if inner is None or outer is None:
        return None
    here = (model.node[inner] >= 0) & (model.node[outer] >= 0)
    if not np.any(here):
        return None
    designs = max(model.designs, 1)
    radius = column(2 * model.tracks[inner].outer_m[:, 0], designs) / 2
    radii, resist = [radius], []
    for thickness, k in between.layers:
        further = radii[-1] + column(thickness, designs)
        resist.append(np.log(further / radii[-1]) / (2 * np.pi * column(k, designs)))
        radii.append(further)
    film = film_mk_w(model.tool, radius, air(), designs) * (between.outer != "room")
    start, end = (temps_c[..., model.node[i][here]] for i in (inner, outer))
    before, behind = model.tracks[inner].out_mk_w, model.tracks[outer].in_mk_w  # walls of wood and the like
    if skin is None and between.outer not in ("coil", "room"):
        flow = _across_gap(model, model.tracks[inner], model.tracks[outer], between, start, end)
    else:
        whole = before + sum(resist) + film + behind
        flow = (start - end) / (whole if model.designs else whole[0])
    temps, met = [], before + (film if between.outer == "coil" else 0.0 * film)
    for r in (*resist, None):
        temps.append(start - flow * (met if model.designs else met[0]))
        met = met + r if r is not None else met
    places = model.mesh.middle_m[:, here]
    single = not model.designs
    return Faces(
        tuple(temps),
        tuple(float(r[0, 0]) if single else r[:, 0] for r in radii),
        places[0] if single else places,
        np.flatnonzero(here),
        flow,
    )


def _across_gap(model, inner, outer, between, start, end):
    """Heat that crosses layers and the gap beyond them, W/m, as the network has it."""
    gap = air_between(model.tool, inner, outer, between, air())
    shape, exchange = gap.share * gap.shape, gap.share * gap.exchange_w_k4_m
    if not model.designs:
        shape, exchange = shape[0], exchange[0]
    by_air = conduction_integral(air(), start) - conduction_integral(air(), end)
    return shape * by_air + exchange * ((start - ABSOLUTE_ZERO_C) ** 4 - (end - ABSOLUTE_ZERO_C) ** 4)


def first_layer(model, temps_c):
    """What a drop across the first layer of a tool is derived from: the arguments of layer_drop, nan without a layer.

    model: Model, one design, or None. temps_c: (nodes,), degC.
    Returns dict: flow_w_m (the largest along the layer), inner_m, layer_m, layer_w_mk.
    """
    for between in () if model is None else model.tool.between:
        faces = stack_faces(model, temps_c, between) if between.layers else None
        if faces is not None:
            thickness, k = between.layers[0]
            return {
                "flow_w_m": float(np.abs(faces.flow_w_m).max()),
                "inner_m": 2 * faces.radii_m[0],
                "layer_m": thickness,
                "layer_w_mk": k,
            }
    return dict.fromkeys(("flow_w_m", "inner_m", "layer_m", "layer_w_mk"), float("nan"))


def radial_section(model, temps_c):
    """The tool cut across where its winding is hottest, from the axis outwards.

    model: Model; designs may differ in power, not in size. temps_c: (..., nodes), degC.
    Returns tuple of Shell.
    """
    coil = _track(model, "coil")
    cells = np.flatnonzero(model.node[coil] >= 0)
    along = temps_c[..., model.node[coil, cells]].reshape(-1, len(cells)).mean(axis=0)
    s = int(cells[np.argmax(along)])
    walk = [
        i
        for i, t in enumerate(model.tracks)
        if model.node[i, s] >= 0
        and t.owner not in ("leads", "face", "bore")
        and not any(p.work and p.id == t.owner for p in model.tool.pieces)
    ]
    found = []
    for i, j in zip(walk, [*walk[1:], None]):
        t, at = model.tracks[i], temps_c[..., model.node[i, s]]
        if t.mass:
            found.append(
                Shell("winding" if t.owner == "coil" else "part", t.owner, 0, _r(t.inner_m), _r(t.outer_m), at, at)
            )
        if j is None or model.tracks[j].owner == t.owner:
            continue
        found += _between(model, temps_c, t, model.tracks[j], s, at, temps_c[..., model.node[j, s]])
    return tuple(found)


def _between(model, temps_c, t, other, s, at, at_other):
    """Layers and air between two neighbouring tracks at a station."""
    names = {"cover": "room", "layer": None}
    wanted = names.get(other.owner, other.owner)
    layered = next(
        (
            b
            for b in model.tool.between
            if b.layers and b.inner == t.owner and (b.outer == wanted or wanted is None and b.outer != "room")
        ),
        None,
    )
    rings, reached = [], _r(t.outer_m)
    if layered is not None:
        faces = stack_faces(model, temps_c, layered)
        k = int(np.flatnonzero(faces.stations == s)[0])
        for order, (a, b) in enumerate(zip(faces.temps_c, faces.temps_c[1:])):
            thick = _r(layered.layers[order][0])
            rings.append(
                Shell("layer", (layered.inner, layered.outer), order, reached, reached + thick, a[..., k], b[..., k])
            )
            reached, at = reached + thick, b[..., k]
    if _r(other.inner_m) - reached > 1e-6:
        rings.append(Shell("air", "", 0, reached, _r(other.inner_m), at, at_other))
    return rings


def _r(value):
    return float(np.ravel(value)[0])


def _track(model, owner, last=False):
    """Number of a part's outermost (or innermost) shell, of the coil, or of a layer's own surface; None if none."""
    wanted = "cover" if owner == "room" else owner
    found = [i for i, t in enumerate(model.tracks) if t.owner == wanted and (t.mass or wanted in ("cover", "layer"))]
    return None if not found else found[-1 if last else 0]
