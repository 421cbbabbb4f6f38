"""A stack of layers between two neighbours: how hot each of its faces is."""

from dataclasses import dataclass

import numpy as np

from .across import FILM_C
from .curves import conductivity_at
from .tracks import column
from .ways import air


@dataclass(frozen=True, eq=False)
class Faces:
    """Temperatures of a stack's faces from the inside out, (..., places) each, and the heat that crosses it.

    radii_m: radius of each face. places_m: middle of each place along the axis. flow_w_m: heat outwards for each
    metre of tool, of the same shape as a face's temperatures.
    """

    temps_c: tuple
    radii_m: tuple
    places_m: np.ndarray
    flow_w_m: np.ndarray


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
    slack = column(model.tool.place.slack_m, designs)
    film = np.log(1 + slack / radius) / (2 * np.pi * float(conductivity_at(air(), FILM_C)))
    if between.outer == "room":
        film = 0.0 * film
    start, end = (temps_c[..., model.node[i][here]] for i in (inner, outer))
    before, behind = model.tracks[inner].out_mk_w, model.tracks[outer].in_mk_w  # walls of wood and the like
    whole = before + sum(resist) + film + behind
    flow = (start - end) / (whole if model.designs else whole[0])
    temps, met = [], before + (film if between.outer == "coil" else 0.0 * film)
    for r in (*resist, None):
        temps.append(start - flow * (met if model.designs else met[0]))
        met = met + r if r is not None else met
    places = model.mesh.middle_m[:, here]
    single = not model.designs
    return Faces(tuple(temps), tuple(float(r[0, 0]) if single else r[:, 0] for r in radii), places[0] if single else places, flow)


def _track(model, owner, last=False):
    """Number of a part's outermost (or innermost) shell, of the coil, or of a layer's own surface; None where there is none."""
    wanted = "cover" if owner == "room" else owner
    found = [i for i, t in enumerate(model.tracks) if t.owner == wanted and (t.mass or wanted in ("cover", "layer"))]
    return None if not found else found[-1 if last else 0]
