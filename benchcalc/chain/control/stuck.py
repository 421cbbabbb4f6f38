"""Power stuck on: where each place ends, when it passes its limit, and what a cut-out can do about it."""

from dataclasses import replace

import numpy as np

from ...basics.tables import rows
from ...materials.alloys import alloy_value
from ...sheet.roles import part_with_role
from ...thermal.control.failing import CutOut
from ...thermal.control.held_run import Held
from ...thermal.control.law import State
from ...thermal.network.steady import steady
from ...thermal.network.warm_up import warm_up
from ..heat.in_time import time_to
from ..heat.places import read_heat
from ..heat.solid_verdicts import solid_places
from ..heat.verdicts import job_row
from .part import Harm
from .seat import reading_of

STUCK_S = 2 * 3600.0
POINTS = 721  # every ten seconds


def stuck_run(model, own, start_c, share):
    """The tool with its power stuck on, from the state that it was held in.

    model: Model. own: watched places of its network. start_c: degC of every node. share: watts over the coil's own.
    Returns Held of two hours, and the temperature of every node over it (times, nodes).
    """
    net = replace(model.net, power_w=model.net.power_w * share)
    run = warm_up(net, STUCK_S, start_c=start_c, accounted=False)
    time_s = np.linspace(0.0, STUCK_S, POINTS)
    temps = run.at(time_s)
    return Held(time_s, np.full(POINTS, share), reading_of(own, temps), State(), run), temps


def limits_of(build, wire, coil, heat, share):
    """The limits that power stuck on may pass.

    build, wire, coil, heat: of the chain (floats). share: watts over the coil's own.
    Returns (list of (place in words, name of the watched place or part, settled degC, limit degC, source's id), settled
    HeatPart).
    """
    model = heat.model
    net = replace(model.net, power_w=model.net.power_w * share)
    end = read_heat(build, wire, coil, coil.coil_w * share, model, steady(net))
    found = []
    service = alloy_value(wire.alloy, "service_limit_c") if wire.alloy else None
    if service is not None:
        found.append(("the wire", "sheath", end.wire_c, service.value, service.source_id))
    if np.isfinite(end.entry_c):
        wood = next(r for r in rows("wood_limits") if r["key"] == "long_term_c")
        found.append(("the wood at the tube", "entry", end.entry_c, wood["value"], wood["source_id"]))
    job = job_row(build.want.job) if build.want.job else None
    if job is not None:
        name = "work" if np.isfinite(end.work_c) else "tip"
        word = f"the {job['material']}" if name == "work" else f"the tip, for: {job['job']}"
        found.append((word, name, getattr(end, f"{name}_c"), job["never_c"], job["source_id"]))
    found += [
        (word, word.removeprefix("the "), value, limit, src) for word, value, limit, src in solid_places(build, end)
    ]
    return found, end


def harms_of(found, held, temps, model, excess_k):
    """When each limit is passed with power stuck on.

    found: limits of `limits_of`. held, temps: of `stuck_run`. model: Model. excess_k: wire over its winding then, K.
    Returns tuple of Harm, those first that are passed first; what is never passed stands last.
    """
    harms = []
    for word, name, end_c, limit_c, source_id in found:
        curve = held.temp_c[name] if name in held.temp_c else model.along(name, temps)[1].max(axis=-1)
        curve = curve + (excess_k if name == "sheath" else 0.0)
        harms.append(Harm(word, float(end_c), float(limit_c), time_to(held.time_s, curve, limit_c), source_id))
    return tuple(sorted(harms, key=lambda h: (not np.isfinite(h.after_s), h.after_s, h.limit_c - h.end_c)))


def outside_of(model):
    """The part on whose outside a cut-out can sit: the tube, else a cup, else what the winding lies on.

    model: Model.
    Returns part's id.
    """
    tube = part_with_role(model.tool.pieces, "tube", "cup")
    return tube.id if tube is not None else model.tool.winding.on


def failing_state(harms, held, temps):
    """Every node when the first limit is passed that use does not pass.

    harms: of `harms_of`. held, temps: of `stuck_run`.
    Returns degC (nodes,), None where no limit is passed within the run.
    """
    times = [h.after_s for h in harms if h.after_s > 0]  # nan is not
    return temps[max(int(np.searchsorted(held.time_s, min(times))) - 1, 0)] if times else None


def places_for(model, control, doubt_k, room_k):
    """Where a cut-out can sit, and what it meets there in use and when the first limit is passed.

    model: Model. control: ControlPart. doubt_k: doubt of what is held, K, carried to each place by its share of the
    rise. room_k: how much warmer the room may be, K.
    Returns (places m, hottest in use degC, failing degC), each (n,): along the outside that the handle leaves free.
    """
    on, ambient = outside_of(model), model.tool.place.ambient_c
    places, use = model.along(on, control.normal_c)
    top = control.held_c - ambient
    use = use + doubt_k * (use - ambient) / max(top, 1.0) + room_k
    fail = np.full(use.size, np.inf) if control.failing_c is None else model.along(on, control.failing_c)[1]
    free = _reachable(model, places)
    return places[free], use[free], fail[free]


def own_cut_out(build, model, control, room_k):
    """How the cut-out that the sheet names would do.

    build: Build. model: Model. control: ControlPart. room_k: as `places_for`.
    Returns CutOut, or None where the sheet names none, or not where.
    """
    rating, at = build.control.cut_out_c, build.control.cut_out_at_m
    if rating is None or at is None or control.normal_c is None:
        return None
    places, use, fail = places_for(model, control, control.doubt_k, room_k)
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
