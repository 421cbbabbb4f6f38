"""What a cut-out meets at its place: what use brings it to, where it is when a limit is passed, whether it fits."""

import numpy as np

from ...basics.names import say
from ...basics.tables import rows
from ...sheet.roles import part_with_role
from ...thermal.control.failing import CutOut, holding_c
from ..heat.in_time import time_to
from ..heat.limits import ITSELF, upper_end
from ..heat.places import along_at

BEFORE_S = 10.0  # a place has its limit still before it then
OFF_M = 0.005  # a cut-out further than this from the free outside sits somewhere else
ROUND_M = (0.005, 0.001)  # places that a ruler finds, the first of them that leaves a few to choose from
FEW = 3


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
    Returns list of (s, Harm).  What is passed only after the run counts as passed at its end: of a slow tool nobody may
    conclude that nothing happens to it.
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
        if harm.end_c + more > harm.limit_c:
            found.append((time_s if np.isfinite(time_s) else float(held.time_s[-1]), harm))
    return sorted(found, key=lambda pair: pair[0])


def failing_from_s(control, bands, skip=0, before_s=BEFORE_S):
    """Just before the first limit may be passed that use does not pass.

    control, bands: as `failing_order`. skip: limits left unguarded, 0 for none. before_s: so much before it.
    Returns s, nan where no limit can be passed within the run.
    """
    left = failing_order(control, bands)[skip:]
    return max(left[0][0] - before_s, 0.0) if left else float("nan")


def _outside(control, time_s):
    """The outside while power is stuck on, no other node being asked for: (places, degC (times, places))."""
    model, run = control.left.heat.model, control.stuck.run
    nodes = model.nodes_of(outside_of(model))
    temps = np.zeros((time_s.size, len(run.net.names)))
    temps[:, nodes] = run.at(time_s, nodes)
    return model.along(outside_of(model), temps)


def places_for(model, control, bands, doubt_k, room_k, skip=0, before_s=BEFORE_S):
    """Where a cut-out can sit, and what it meets there in use and when the first limit may be passed.

    model: Model. control: ControlPart. bands: as `failing_order`. doubt_k: doubt of what is held, K, carried to each
    place by its share of the rise. room_k: how much warmer the room may be, K. skip: limits left unguarded.
    before_s: so long before the limit a cut-out must have opened, s.
    Returns (places m, hottest in use degC, failing degC), each (n,): along the outside that the handle leaves free, in
    whole steps that a ruler finds; failing is inf where no limit is passed.
    """
    places, *temps = _free_outside(model, control, bands, doubt_k, room_k, skip, before_s)
    if not places.size:
        return places, *temps
    for step in ROUND_M:
        first, last = np.ceil(places.min() / step - 1e-6), np.floor(places.max() / step + 1e-6)
        at = np.round(np.arange(first, last + 1) * step, 6)
        if at.size >= FEW:
            break
    return at, *(np.interp(at, places, c) for c in temps)


def _free_outside(model, control, bands, doubt_k, room_k, skip=0, before_s=BEFORE_S):
    """As `places_for`, at the network's own places."""
    on, ambient = outside_of(model), model.tool.place.ambient_c
    places, use = model.along(on, control.normal_c)
    top = control.held_c if np.isfinite(control.held_c) else control.set_c
    top = top - ambient if np.isfinite(top) else float(control.normal_c.max()) - ambient
    use = use + doubt_k * (use - ambient) / max(top, 1.0) + room_k
    fail, from_s = np.full(use.size, np.inf), failing_from_s(control, bands, skip, before_s)
    if np.isfinite(from_s):
        where, failing = _outside(control, np.array([from_s]))
        fail = np.interp(places, where, failing[0])
    free = _reachable(model, places)
    return places[free], use[free], fail[free]


def cut_out_run(control, at_m):
    """Temperature of a place on the outside while power is stuck on.

    control: ControlPart with its run of power stuck on. at_m: place, from the tip.
    Returns degC, at control.stuck.time_s.
    """
    return along_at(*_outside(control, control.stuck.time_s), at_m)


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
    told_c, use_c = build.control.cut_out_hold_c, float(np.interp(at, places, use))
    where = float(np.clip(at, places.min(), places.max()))
    fail_c, saves, late = _in_time(control, bands, where, rating + high)
    spares = rating - low - use_c, fail_c - high - rating
    hold_c = holding_c(rating, told_c)
    own = CutOut(float(at), "the sheet's own", rating, use_c, fail_c, *spares, hold_c, told_c is not None, saves, late)
    return own, ""


def _in_time(control, bands, at_m, opens_c):
    """What a cut-out comes in time for: (degC of its place just before that limit, the limit in words, those before).

    control, bands: as `failing_order`. at_m: its place. opens_c: where it opens at the latest, degC. Where it is late
    for all, the first limit counts; degC is inf where no limit is passed.
    """
    order, first_c = failing_order(control, bands), np.inf
    for number, (time_s, harm) in enumerate(order):
        fail_c = float(along_at(*_outside(control, np.array([max(time_s - BEFORE_S, 0.0)])), at_m)[0])
        first_c = fail_c if number == 0 else first_c
        if fail_c >= opens_c:
            return fail_c, harm.place, tuple(dict.fromkeys(h.place for _, h in order[:number]))
    return first_c, "", ()


def _reachable(model, places_m):
    """Places that the handle leaves free."""
    handle = part_with_role(model.tool.pieces, "handle")
    return places_m < handle.from_m if handle is not None else np.ones(places_m.size, bool)
