"""Power stuck on: where each place ends, and when it passes its limit.

A switch that has fused in an empty room IS a tool that is left on: the same day counts, that of `heat.left_on`.
"""

from dataclasses import dataclass, field, replace

import numpy as np

from ...sheet.roles import ids_by_role
from ...thermal.control.held_run import Held, reading_of, readings_in
from ...thermal.control.law import State
from ...thermal.network.steady import steady
from ...thermal.network.warm_up import warm_up
from ..heat.in_time import time_to
from ..heat.left_on import left_on
from ..heat.limits import PART, places_of
from ..parts import kept_last
from .part import Harm
from .seat import held_role, joint_of, watched

STUCK_S = 2 * 3600.0
POINTS, FIRST_S = 721, 120.0  # every ten seconds, in the first two minutes every second: a wire answers at once
MOST_KEPT = 4  # runs of one tool


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
    start = None if begins.start_c is None else begins.start_c.tobytes()  # the same for each law at one dial
    work = lambda: passing_of(left, stuck_run(left, heat.model, begins.start_c))  # noqa: E731
    passing = kept_last(left.kept.setdefault("runs", {}), start, work, MOST_KEPT)
    held = passing.run.temp_c.get(held_role(ids_by_role(heat.model.tool.pieces)))
    use = _use(heat, begins, on_w / left.coil.coil_w if left.coil.coil_w > 0 else 1.0)
    found |= {"harms": harms_of(passing, left.heat, use), "untold": passing.untold, "stuck": passing.run}
    return found | {"used": use[0]} | ({} if held is None else {"stuck_c": float(held[-1])})


def stuck_run(left, model, start_c):
    """The tool with its power stuck on, on the worse day.

    left: LeftOn. model: Model of the tool in use. start_c: degC of every node of it, None for the room.
    Returns Held of two hours, what is held under the name it has in use.
    """
    net = left.heat.model.net
    if start_c is not None:
        was = dict(zip(model.net.names, start_c))
        start_c = np.array([was.get(name, left.room_c) for name in net.names])
    run = warm_up(net, STUCK_S, start_c=start_c, accounted=False)
    time_s = np.union1d(np.linspace(0.0, STUCK_S, POINTS), np.arange(FIRST_S))
    used = held_role(ids_by_role(model.tool.pieces))
    names = () if used is None else (used,)
    return Held(time_s, np.ones(time_s.size), readings_of(left, run, time_s, names), State(), run)


def readings_of(left, run, time_s, names=()):
    """Watched places of the tool on the worse day in a run of it.

    left: LeftOn. run: of its network. time_s: s (t,). names: of places that are told besides, as they are called in
    use; one that is gone there, as what lay on the tip, is told by what is held now.
    Returns {name: degC (t,)}.
    """
    own = left.heat.model
    roles = ids_by_role(own.tool.pieces)
    watch = watched(own, left.heat, roles, held_role(roles)) | joint_of(own)
    if held_role(roles) in watch:
        watch |= {name: watch[held_role(roles)] for name in names if name not in watch}
    return readings_in(run, time_s, watch)


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


def wire_curve(control, run=None):
    """Hottest wire with power stuck on: above the winding by as much as in the end while power is on, as `curve_of`.

    control: ControlPart with its run of power stuck on. run: Held, None for that one.
    Returns degC, at the times of the run.
    """
    run, end = control.stuck if run is None else run, control.left.heat
    return run.temp_c["sheath"] + (end.wire_c - end.sheath_c) * run.share


@dataclass(frozen=True, eq=False)
class Passing:
    """Power stuck on, whatever use was.  run: Held of two hours. places: WeakPlaces; curves_c of each, degC at
    run.time_s; after_s: when each passes its limit, nan for never. untold: places that nobody knows, in words."""

    run: Held
    places: tuple
    curves_c: tuple
    after_s: tuple
    untold: tuple


def passing_of(left, run):
    """The Passing of a run.  left: LeftOn. run: Held of `stuck_run`, or one in which the power goes off."""
    end = left.heat
    places, untold = places_of(left.build, left.wire, left.coil, end)
    parts = {p.name.removeprefix(PART): None for p in places if p.name.startswith(PART)}
    parts = {name: end.model.nodes_of(name) for name in parts}
    nodes = np.unique(np.concatenate([np.zeros(0, int), *parts.values()]))
    temps = run.run.at(run.time_s, nodes)

    def along(name):
        return temps[:, np.searchsorted(nodes, parts[name])].max(axis=-1)

    curves = tuple(curve_of(p, run.temp_c, along, end, run.share) for p in places)
    after_s = tuple(time_to(run.time_s, curve, p.limit_c) for p, curve in zip(places, curves))
    return Passing(run, places, curves, after_s, untold)


def harms_of(passing, end, use):
    """When each limit is passed with power stuck on.

    passing: Passing. end: as `curve_of`. use: (watched places, function of a part's id, share of the watts) while used,
    as `curve_of`.
    Returns tuple of Harm, those first that are passed first; what is never passed stands last.
    """
    harms = []
    for p, curve, after_s in zip(passing.places, passing.curves_c, passing.after_s):
        used = float(curve_of(p, *use[:2], end, use[2]))
        harms.append(Harm(p, 0.0 if used >= p.limit_c else after_s, curve, used))
    return tuple(sorted(harms, key=lambda h: (not np.isfinite(h.after_s), h.after_s, h.limit_c - h.end_c)))


def _use(heat, begins, watts_share):
    """What a tool in use shows, as `harms_of` wants it."""
    model, roles = heat.model, ids_by_role(heat.model.tool.pieces)
    role = held_role(roles)
    settled = reading_of(watched(model, heat, roles, role) | joint_of(model), begins.normal_c)
    seen = {name: max(float(c), begins.tops_c.get(name, -np.inf)) for name, c in settled.items()}
    over_k = 0.0 if role not in settled else seen[role] - float(settled[role])
    return seen, lambda name: model.along(name, begins.normal_c)[1].max() + over_k, watts_share
