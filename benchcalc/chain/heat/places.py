"""The solver's temperatures in the words of the trade: tip, wire, entry of the handle, tails and their joint."""

from dataclasses import replace

import numpy as np

from ...sheet.roles import ids_by_role, part_with_role
from ...thermal.network.flows import beyond_data
from ..parts import NAN, as_floats
from .excess import excess_of
from .part import HeatPart
from .tails import is_unlike, joint_place, own_tails_ohm, tails_way

BEYOND_K = 30.0
FINGER_M = 0.010  # a finger slips this far beyond the handle
INSIDE_M = 2e-3  # of a winding: what the tails draw from its end is hardly felt there
STEP_M = 2e-3  # either side of the handle's beginning, for the slope along the tails


def read_heat(build, wire, coil, power_w, model, found):
    """Put the solver's temperatures into words of the trade.

    build, wire, coil: as work_heat. power_w: power in the coil, W. model: Model. found: Steady.
    Returns HeatPart.
    """
    temps = found.temps_c
    ids = tuple(p.id for p in model.tool.pieces)
    hottest = tuple(model.along(i, temps)[1].max(axis=-1) for i in ids)
    sheath = model.along("coil", temps)[1].max(axis=-1)
    excess = excess_of(build, wire, coil, power_w)
    roles = ids_by_role(model.tool.pieces)
    tip = model.along(roles["tip"], temps)[1][..., 0] if "tip" in roles else NAN
    work = model.along(roles["work"], temps)[1][..., 0] if "work" in roles else NAN
    entry, bore, grip = NAN, NAN, NAN
    if "handle" in roles:
        entry = entry_of(model, temps, roles)
        bore = model.shell(f"{roles['handle']} shell 1", temps)[1].max(axis=-1) if _rings(model) else NAN
        grip = model.shell(f"{roles['handle']} skin", temps)[1].max(axis=-1) if _rings(model) else NAN
    part = HeatPart(
        tip,
        sheath + excess,
        sheath,
        excess,
        entry,
        bore,
        grip,
        work,
        found.balance_w,
        ids,
        hottest,
        model,
        temps,
        "",
        _beyond(model, temps),
        *_along_known_leads(build, wire, coil, model, temps),
        _finger(model, temps, roles),
        _breaks(model, temps),
    )
    part = replace(part, part_hottest_c=tuple(float(h) if np.ndim(h) == 0 else h for h in hottest))
    kept = part.model, part.temps_c
    return replace(as_floats(replace(part, model=None, temps_c=None)), model=kept[0], temps_c=kept[1])


def _beyond(model, temps):
    """Names of materials that are further beyond their table than its first step below room temperature."""
    if model.designs:
        return ()
    return tuple(name for name, met_c, end_c in beyond_data(model.net, temps) if abs(met_c - end_c) > BEYOND_K)


def _finger(model, temps, roles):
    """Tube where a finger slips to."""
    tube = part_with_role(model.tool.pieces, "tube")
    if tube is None or "handle" not in roles:
        return NAN
    handle = next(p for p in model.tool.pieces if p.id == roles["handle"])
    return _at(model, tube.id, np.asarray(handle.from_m) - FINGER_M, temps)


def _breaks(model, temps):
    found = [_at(model, b.on, b.from_m, temps) for b in model.tool.narrow]
    return np.max(found, axis=0) if found else NAN


def _at(model, id, place_m, temps):
    """Temperature of a part at a place, of one or many designs."""
    return along_at(*model.along(id, temps), place_m)


def _rings(model):
    """Whether the handle that is told of, the first, is of wood: a metal one has neither shells nor a skin."""
    handle = part_with_role(model.tool.pieces, "handle")
    return handle is not None and handle.rings > 1


def entry_of(model, temps_c, roles):
    """Temperature of the tube where the handle begins, between the two cells that meet there.

    model: Model. temps_c: (..., nodes). roles: role -> part id.
    Returns degC (...,), nan without a tube under the handle.
    """
    found = entry_cells(model, roles)
    if found is None:
        return NAN
    (before, behind), (da, db) = found
    return (temps_c[..., before] * db + temps_c[..., behind] * da) / (da + db)


def entry_cells(model, roles):
    """The two cells that meet where the handle begins, and how long each is.

    model: Model. roles: role -> part id.
    Returns (node numbers before and behind, their lengths in m: floats or (designs,)), None without a tube under the
    handle.
    """
    handle = next(p for p in model.tool.pieces if p.id == roles["handle"])
    inside = part_with_role(model.tool.pieces, "tube")
    if inside is None:
        return None
    at = model.mesh.span(handle.from_m, handle.to_m).start
    own = (inside.id, f"{inside.id} shell {inside.rings}")  # wood is cut into shells: the outermost meets the handle
    i = next(k for k, t in enumerate(model.tracks) if t.name in own)
    if at == 0 or model.node[i, at] < 0 or model.node[i, at - 1] < 0:
        return None
    step_m = model.mesh.step_m if model.designs else model.mesh.step_m[0]
    return (model.node[i, at - 1], model.node[i, at]), (step_m[..., at - 1], step_m[..., at])


def _along_known_leads(build, wire, coil, model, temps):
    """As along_leads; nan where the tails' ohms are not those of the wire they count as."""
    if is_unlike(build, wire.tails_ohm, own_tails_ohm(build, wire, tails_way(build, coil))):
        return NAN, NAN, NAN
    return along_leads(build, model, temps)


def along_leads(build, model, temps_c):
    """Hottest place of the tails, their joint to the cable, and the heat they carry past the beginning of the handle.

    build: Build. model: Model. temps_c: (..., nodes).
    Returns (tails_c, joint_c, carried_w); nan where no tails run to the rear.
    """
    if not any(t.owner == "leads" for t in model.tracks):
        return NAN, NAN, NAN
    places, temps = model.along("leads", temps_c)
    carried, handle = NAN, part_with_role(build, "handle", placed=True)
    if handle is not None:
        fall = along_at(places, temps, handle.from_m - STEP_M) - along_at(places, temps, handle.from_m + STEP_M)
        carried = model.tool.leads.conduction_w_m_k * fall / (2 * STEP_M)
    return _at_the_coil(model, places, temps, temps_c), along_at(places, temps, joint_place(build)), carried


def _at_the_coil(model, places_m, temps_c, all_c):
    """Hottest place of the tails: mostly where they leave the winding, half a cell before their first middle.

    The winding counts too, INSIDE_M before its end: what sleeves a tail is pushed up against the last turn, and a few
    millimetres of wire farther in it is that hot.
    """
    ahead_m = places_m[..., 0] - model.tool.leads.from_m
    slope = (temps_c[..., 0] - temps_c[..., 1]) / (places_m[..., 1] - places_m[..., 0])
    hottest = np.maximum(temps_c.max(axis=-1), temps_c[..., 0] + ahead_m * slope)
    if model.tool.winding is not None:
        hottest = np.maximum(hottest, along_at(*model.along("coil", all_c), model.tool.winding.to_m - INSIDE_M))
    return hottest if np.ndim(hottest) else float(hottest)


def along_at(places_m, temps_c, at_m):
    """Temperature at a place along a part.

    places_m, temps_c: as Model.along gives them. at_m: float or array (designs,).
    Returns degC, () or (designs,).
    """
    if temps_c.ndim == 1:
        return float(np.interp(float(at_m), places_m, temps_c))
    at = np.broadcast_to(at_m, len(temps_c))[:, None]
    places = np.broadcast_to(places_m, temps_c.shape)
    last = places.shape[1] - 1
    behind = np.clip((places <= at).sum(axis=1, keepdims=True), 1, last) if last else np.zeros((len(temps_c), 1), int)
    (x, u), (y, v) = (
        [np.take_along_axis(of, np.maximum(behind - k, 0), axis=1)[:, 0] for k in (1, 0)] for of in (places, temps_c)
    )
    share = np.clip((at[:, 0] - x) / np.where(u > x, u - x, 1.0), 0.0, 1.0)
    return y + share * (v - y)
