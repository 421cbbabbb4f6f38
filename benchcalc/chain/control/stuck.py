"""Power stuck on: where each place ends, when it passes its limit, and what a cut-out can do about it.

A switch that has fused in an empty room IS a tool that is left on: the same day counts, that of `heat.left_on`.
"""

from dataclasses import dataclass, field, replace

import numpy as np

from ...basics.names import say
from ...basics.tables import rows
from ...sheet.roles import ids_by_role, part_with_role
from ...thermal.control.failing import CutOut, holding_c
from ...thermal.control.held_run import Held, reading_of, readings_in
from ...thermal.control.law import State
from ...thermal.network.steady import steady
from ...thermal.network.warm_up import warm_up
from ..heat.in_time import time_to
from ..heat.left_on import left_on
from ..heat.limits import ITSELF, PART, places_of, upper_end
from ..heat.places import along_at
from .part import Harm
from .seat import held_role, watched

STUCK_S = 2 * 3600.0
POINTS, FIRST_S = 721, 120.0  # every ten seconds, in the first two minutes every second: a wire answers at once
BEFORE_S = 10.0  # a place has its limit still before it then
OFF_M = 0.005  # a cut-out further than this from the free outside sits somewhere else
ROUND_M = (0.005, 0.001)  # places that a ruler finds, the first of them that leaves a few to choose from
FEW = 3


@dataclass(frozen=True, eq=False)
class Beginning:
    """What power stuck on begins from.  word: one of BEGINS. start_c: degC of every node of the tool, None for the
    room. normal_c: hottest that each gets in use. tops_c: {name of a watched place: hottest in use}, where a run of the
    held tool told them."""

    word: str
    start_c: np.ndarray | None
    normal_c: np.ndarray
    tops_c: dict = field(default_factory=dict)


def unheld(heat, set_c):
    """The beginning where nothing holds the tool: switched on from cold; its use is what was asked for.

    heat: HeatPart with a model. set_c: what was to be held, degC, or nan.
    Returns Beginning: use is the tool settled with what is held at set_c, or at full power where that is less.
    """
    from scipy.optimize import brentq

    model, room = heat.model, heat.model.tool.place.ambient_c
    role = held_role(ids_by_role(model.tool.pieces))

    def settled(share):
        return steady(replace(model.net, power_w=model.net.power_w * share)).temps_c

    def over(share):
        return reading_of(watch, settled(share))[role] - set_c

    share = 1.0
    if role is not None and np.isfinite(set_c) and set_c > room + 1:
        watch = watched(model, heat, ids_by_role(model.tool.pieces), role)
        share = float(brentq(over, 1e-6, 1.0, xtol=1e-4)) if over(1.0) > 0 > over(1e-6) else 1.0
    return Beginning("cold", None, settled(share))


def failed(build, on_w, heat, begins):
    """What power stuck on does: fields of ControlPart.

    build: Build with a controller (floats). on_w: watts in the coil while on, in use. heat: HeatPart with a model.
    begins: Beginning.
    Returns dict.
    """
    found = {"begins": begins.word, "normal_c": begins.normal_c, "left": (left := left_on(build))}
    if left is None or left.heat.refused:
        return found | {"untold": ("the tool on a worse day",)}
    run = stuck_run(left, heat.model, begins.start_c)
    places, untold = places_of(left.build, left.wire, left.coil, left.heat)
    held = run.temp_c.get(held_role(ids_by_role(heat.model.tool.pieces)))
    use = _use(heat, begins, on_w / left.coil.coil_w if left.coil.coil_w > 0 else 1.0)
    found |= {"harms": harms_of(places, run, left.heat, use), "untold": untold, "stuck": run, "used": use[0]}
    return found if held is None else found | {"stuck_c": float(held[-1])}


def stuck_run(left, model, start_c):
    """The tool with its power stuck on, on the worse day.

    left: LeftOn. model: Model of the tool in use. start_c: degC of every node of it, None for the room.
    Returns Held of two hours, what is held under the name it has in use.
    """
    own, net = left.heat.model, left.heat.model.net
    if start_c is not None:
        was = dict(zip(model.net.names, start_c))
        start_c = np.array([was.get(name, left.room_c) for name in net.names])
    run = warm_up(net, STUCK_S, start_c=start_c, accounted=False)
    time_s = np.union1d(np.linspace(0.0, STUCK_S, POINTS), np.arange(FIRST_S))
    roles = ids_by_role(own.tool.pieces)
    watch = watched(own, left.heat, roles, held_role(roles))
    used = held_role(ids_by_role(model.tool.pieces))
    if used is not None and used not in watch and held_role(roles) in watch:  # what lay on the tip is gone
        watch[used] = watch[held_role(roles)]
    return Held(time_s, np.ones(time_s.size), readings_in(run, time_s, watch), State(), run)


def curve_of(place, seen, along, end, watts_share=1.0):
    """Temperature of a place that has a limit, out of what the network says.

    place: WeakPlace. seen: {name: degC} of watched places. along: function of a part's id to its hottest place, degC.
    end: HeatPart that settles with power stuck on. watts_share: watts now over those.
    Returns degC, as many as seen has.  What is no place of the network follows the winding: hotter than it by as much
    as in the end, less with fewer watts, or cooler in proportion.
    """
    room = end.model.tool.place.ambient_c
    if place.name.startswith(PART):
        return along(place.name.removeprefix(PART))
    curve = seen[place.name]
    if place.name != "sheath":
        return curve
    if place.value_c >= end.sheath_c:
        return curve + (place.value_c - end.sheath_c) * watts_share
    return room + (curve - room) * max(place.value_c - room, 0.0) / max(end.sheath_c - room, 1.0)


def wire_curve(control):
    """Hottest wire with power stuck on: above the winding by as much as in the end, as `curve_of`.

    control: ControlPart with its run of power stuck on.
    Returns degC, at control.stuck.time_s.
    """
    return control.stuck.temp_c["sheath"] + control.left.heat.wire_c - control.left.heat.sheath_c


def harms_of(places, held, end, use):
    """When each limit is passed with power stuck on.

    places: tuple of WeakPlace. held: of `stuck_run`. end: as `curve_of`. use: (watched places, function of a part's id,
    share of the watts) while used, as `curve_of`.
    Returns tuple of Harm, those first that are passed first; what is never passed stands last.
    """

    parts = {p.name.removeprefix(PART): None for p in places if p.name.startswith(PART)}
    parts, harms = {name: end.model.nodes_of(name) for name in parts}, []
    nodes = np.unique(np.concatenate([np.zeros(0, int), *parts.values()]))
    temps = held.run.at(held.time_s, nodes)

    def along(name):
        return temps[:, np.searchsorted(nodes, parts[name])].max(axis=-1)

    for p in places:
        curve, used = curve_of(p, held.temp_c, along, end), float(curve_of(p, *use[:2], end, use[2]))
        after_s = 0.0 if used >= p.limit_c else time_to(held.time_s, curve, p.limit_c)
        harms.append(Harm(p, after_s, curve, used))
    return tuple(sorted(harms, key=lambda h: (not np.isfinite(h.after_s), h.after_s, h.limit_c - h.end_c)))


def _use(heat, begins, watts_share):
    """What a tool in use shows, as `harms_of` wants it."""
    model, roles = heat.model, ids_by_role(heat.model.tool.pieces)
    role = held_role(roles)
    settled = reading_of(watched(model, heat, roles, role), begins.normal_c)
    seen = {name: max(float(c), begins.tops_c.get(name, -np.inf)) for name, c in settled.items()}
    over_k = 0.0 if role not in settled else seen[role] - float(settled[role])
    return seen, lambda name: model.along(name, begins.normal_c)[1].max() + over_k, watts_share


def outside_of(model):
    """The part on whose outside a cut-out can sit: the tube, else a cup, else what the winding lies on.

    model: Model.
    Returns part's id.
    """
    tube = part_with_role(model.tool.pieces, "tube", "cup")
    return tube.id if tube is not None else model.tool.winding.on


def failing_order(control, bands):
    """The limits that power stuck on may pass and use does not, first those that come first.

    control: ControlPart. bands: path -> Band, as of Workings; each limit is passed as early as the upper end of its
    place would, at once where that end is not known.
    Returns list of (s, Harm).
    """
    held, found = control.stuck, []
    for harm in control.harms:
        if harm.after_s == 0:
            continue
        band, from_c = harm.at.doubt(bands, control.left.room_c, ITSELF), harm.curve_c[0]
        more = upper_end(harm.end_c, band) - harm.end_c
        if np.isinf(more):
            found.append((0.0, harm))
            continue
        gone = (harm.curve_c - from_c) / (harm.end_c - from_c) if harm.end_c - from_c > 1.0 else 1.0
        time_s = time_to(held.time_s, harm.curve_c + more * np.clip(gone, 0.0, 1.0), harm.limit_c)
        found += [(time_s, harm)] if np.isfinite(time_s) else []
    return sorted(found, key=lambda pair: pair[0])


def failing_state(control, bands, skip=0):
    """Every node when the first limit may be passed that use does not pass.

    control, bands: as `failing_order`. skip: limits left unguarded, 0 for none.
    Returns degC (nodes of control.left,), None where no limit can be passed within the run.
    """
    left = failing_order(control, bands)[skip:]
    return control.stuck.run.at(np.array([max(left[0][0] - BEFORE_S, 0.0)]))[0] if left else None


def places_for(model, control, bands, doubt_k, room_k, skip=0):
    """Where a cut-out can sit, and what it meets there in use and when the first limit may be passed.

    model: Model. control: ControlPart. bands: as `failing_state`. doubt_k: doubt of what is held, K, carried to each
    place by its share of the rise. room_k: how much warmer the room may be, K. skip: limits left unguarded.
    Returns (places m, hottest in use degC, failing degC), each (n,): along the outside that the handle leaves free, in
    whole steps that a ruler finds; failing is inf where no limit is passed.
    """
    places, *temps = _free_outside(model, control, bands, doubt_k, room_k, skip)
    if not places.size:
        return places, *temps
    for step in ROUND_M:
        first, last = np.ceil(places.min() / step - 1e-6), np.floor(places.max() / step + 1e-6)
        at = np.round(np.arange(first, last + 1) * step, 6)
        if at.size >= FEW:
            break
    return at, *(np.interp(at, places, c) for c in temps)


def _free_outside(model, control, bands, doubt_k, room_k, skip=0):
    """As `places_for`, at the network's own places."""
    on, ambient = outside_of(model), model.tool.place.ambient_c
    places, use = model.along(on, control.normal_c)
    top = control.held_c if np.isfinite(control.held_c) else control.set_c
    top = top - ambient if np.isfinite(top) else float(control.normal_c.max()) - ambient
    use = use + doubt_k * (use - ambient) / max(top, 1.0) + room_k
    failing = failing_state(control, bands, skip)
    fail = np.full(use.size, np.inf)
    if failing is not None:
        fail = np.interp(places, *control.left.heat.model.along(on, failing))
    free = _reachable(model, places)
    return places[free], use[free], fail[free]


def cut_out_run(control, at_m):
    """Temperature of a place on the outside while power is stuck on.

    control: ControlPart with its run of power stuck on. at_m: place, from the tip.
    Returns degC, at control.stuck.time_s.
    """
    model = control.left.heat.model
    places, temps = model.along(outside_of(model), control.stuck.run.at(control.stuck.time_s))
    return along_at(places, temps, at_m)


def own_cut_out(build, model, control, bands, doubt_k, room_k):
    """How the cut-out that the sheet names would do.

    build: Build. model: Model. control: ControlPart. bands, doubt_k, room_k: as `places_for`.
    Returns (CutOut or None, why it cannot be judged): (None, "") where the sheet names none.
    """
    rating, at = build.control.cut_out_c, build.control.cut_out_at_m
    if rating is None and at is None:
        return None, ""
    if rating is None or at is None:
        key, sample = ("cut_out", "150 degC") if rating is None else ("cut_out_at", "60 mm")
        return None, f'The sheet names half of it: write {key} = "{sample}" under [control] too.'
    places, use, fail = _free_outside(model, control, bands, doubt_k, room_k)
    if not places.size or not places.min() - OFF_M <= at <= places.max() + OFF_M:
        words = [say("length_m", x, units=build.units) for x in (places.min(), places.max())] if places.size else []
        free = f"is free from {words[0]} to {words[1]}" if words else "is nowhere free"
        return None, f"{say('length_m', at, units=build.units)} is no place for it: the {outside_of(model)} {free}."
    row = next((r for r in rows("cut_outs") if r["rating_c"] == rating), None)
    low, high = (10.0, 0.0) if row is None else (row["low_k"], row["high_k"])
    use_c, fail_c = (float(np.interp(at, places, x)) for x in (use, fail))
    told_c = build.control.cut_out_hold_c
    spares = rating - low - use_c, fail_c - high - rating
    hold_c = holding_c(rating, told_c)
    return CutOut(float(at), "the sheet's own", rating, use_c, fail_c, *spares, hold_c, told_c is not None), ""


def _reachable(model, places_m):
    """Places that the handle leaves free."""
    handle = part_with_role(model.tool.pieces, "handle")
    return places_m < handle.from_m if handle is not None else np.ones(places_m.size, bool)
