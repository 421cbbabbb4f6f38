"""Power stuck on: where each place ends, when it passes its limit, and what a cut-out can do about it."""

from dataclasses import replace

import numpy as np

from ...basics.tables import rows
from ...sheet.roles import part_with_role
from ...thermal.control.failing import CutOut
from ...thermal.control.held_run import Held
from ...thermal.control.law import State
from ...thermal.network.steady import steady
from ...thermal.network.warm_up import warm_up
from ..heat.in_time import time_to
from ..heat.limits import places_of
from ..heat.places import read_heat
from .part import Harm
from .seat import reading_of

STUCK_S = 2 * 3600.0
POINTS = 721  # every ten seconds
BEFORE_S = 10.0  # a place has its limit still before it then


def stuck_run(model, own, start_c, share):
    """The tool with its power stuck on, from the state that it was held in.

    model: Model. own: watched places of its network. start_c: degC of every node. share: watts over the coil's own.
    Returns Held of two hours.
    """
    net = replace(model.net, power_w=model.net.power_w * share)
    run = warm_up(net, STUCK_S, start_c=start_c, accounted=False)
    time_s = np.linspace(0.0, STUCK_S, POINTS)
    return Held(time_s, np.full(POINTS, share), reading_of(own, run.at(time_s)), State(), run)


def limits_of(build, wire, coil, heat, share):
    """The limits that power stuck on may pass.

    build, wire, coil, heat: of the chain (floats). share: watts over the coil's own.
    Returns (tuple of WeakPlace, words for what nobody knows, settled HeatPart).
    """
    model = heat.model
    net = replace(model.net, power_w=model.net.power_w * share)
    end = read_heat(build, wire, coil, coil.coil_w * share, model, steady(net))
    return *places_of(build, wire, coil, end), end


def curve_of(place, held, model, end):
    """Temperature of a place with power stuck on.

    place: WeakPlace. held: of `stuck_run`. model: Model. end: settled HeatPart then.
    Returns degC at held.time_s.  What is no place of the network follows the winding: hotter than it by as much as in
    the end, cooler in proportion.
    """
    room = model.tool.place.ambient_c
    if place.name not in held.temp_c:
        return model.along(place.name, held.run.at(held.time_s))[1].max(axis=-1)
    curve = held.temp_c[place.name]
    if place.name != "sheath":
        return curve
    if place.value_c >= end.sheath_c:
        return curve + place.value_c - end.sheath_c
    return room + (curve - room) * max(place.value_c - room, 0.0) / max(end.sheath_c - room, 1.0)


def harms_of(places, held, model, end):
    """When each limit is passed with power stuck on.

    places: of `limits_of`. held, model, end: as `curve_of`.
    Returns tuple of Harm, those first that are passed first; what is never passed stands last.
    """
    curves = [curve_of(p, held, model, end) for p in places]
    harms = [Harm(p, time_to(held.time_s, c, p.limit_c), c) for p, c in zip(places, curves)]
    return tuple(sorted(harms, key=lambda h: (not np.isfinite(h.after_s), h.after_s, h.limit_c - h.end_c)))


def outside_of(model):
    """The part on whose outside a cut-out can sit: the tube, else a cup, else what the winding lies on.

    model: Model.
    Returns part's id.
    """
    tube = part_with_role(model.tool.pieces, "tube", "cup")
    return tube.id if tube is not None else model.tool.winding.on


def failing_state(control, bands, room_c):
    """Every node when the first limit may be passed that use does not pass.

    control: ControlPart with harms. bands: path -> Band, as of Workings; each limit is passed as early as the upper end
    of its place would. room_c: degC.
    Returns degC (nodes,), None where no limit can be passed within the run.
    """
    held, times = control.stuck, []
    for harm in control.harms:
        if harm.after_s == 0:
            continue
        band, from_c = harm.at.doubt(bands, room_c), harm.curve_c[0]
        more = 0.0 if band is None else band.high - harm.end_c
        gone = (harm.curve_c - from_c) / (harm.end_c - from_c) if harm.end_c - from_c > 1.0 else 1.0
        times.append(time_to(held.time_s, harm.curve_c + more * np.clip(gone, 0.0, 1.0), harm.limit_c))
    times = [t for t in times if np.isfinite(t)]
    return held.run.at(np.array([max(min(times) - BEFORE_S, 0.0)]))[0] if times else None


def places_for(model, control, bands, doubt_k, room_k):
    """Where a cut-out can sit, and what it meets there in use and when the first limit may be passed.

    model: Model. control: ControlPart. bands: as `failing_state`. doubt_k: doubt of what is held, K, carried to each
    place by its share of the rise. room_k: how much warmer the room may be, K.
    Returns (places m, hottest in use degC, failing degC), each (n,): along the outside that the handle leaves free.
    """
    on, ambient = outside_of(model), model.tool.place.ambient_c
    places, use = model.along(on, control.normal_c)
    top = control.held_c - ambient
    use = use + doubt_k * (use - ambient) / max(top, 1.0) + room_k
    failing = failing_state(control, bands, ambient)
    fail = np.full(use.size, np.inf) if failing is None else model.along(on, failing)[1]
    free = _reachable(model, places)
    return places[free], use[free], fail[free]


def own_cut_out(build, model, control, bands, room_k):
    """How the cut-out that the sheet names would do.

    build: Build. model: Model. control: ControlPart. bands, room_k: as `places_for`.
    Returns CutOut, or None where the sheet names none, or not where.
    """
    rating, at = build.control.cut_out_c, build.control.cut_out_at_m
    if rating is None or at is None or control.normal_c is None:
        return None
    places, use, fail = places_for(model, control, bands, control.doubt_k, room_k)
    if not places.size:  # the handle leaves nothing of the outside free
        return None
    i = int(np.abs(places - at).argmin())
    row = next((r for r in rows("cut_outs") if r["rating_c"] == rating), None)
    low, high = (10.0, 0.0) if row is None else (row["low_k"], row["high_k"])
    numbers = (rating, use[i], fail[i], rating - low - use[i], fail[i] - high - rating)
    return CutOut(float(places[i]), "the sheet's own", *(float(x) for x in numbers))


def _reachable(model, places_m):
    """Places that the handle leaves free."""
    handle = part_with_role(model.tool.pieces, "handle")
    return places_m < handle.from_m if handle is not None else np.ones(places_m.size, bool)
