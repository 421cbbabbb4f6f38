"""What stops a tool whose control has failed: a rule in the controller that a sound tool never meets, and a cut-out."""

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from ..chain.control.cut_out import BEFORE_S, failing_order, own_cut_out, places_for
from ..chain.control.guarded import unguarded
from ..chain.control.in_use import passed_in_use
from ..chain.control.part import ControlPart
from ..chain.heat.left_on import room_doubt, warmest_room
from ..chain.heat.limits import AT_MAINS, ITSELF, own_bands
from ..chain.heat.link import nominal_heat
from ..chain.parts import Keyed
from ..chain.workings import Workings, chain, drawn_builds
from ..sheet.build import Build
from ..sheet.build_control import Sensor
from ..sheet.defaults import default
from ..thermal.control.failing import CutOut, RiseRule, cut_out_for, first_trip, noticed_after, rise_rules
from ..thermal.control.law import ON_OFF, State
from ..thermal.control.seated import SENSOR
from ..thermal.network.warm_up import warm_up
from ..thermal.tool.model import Model
from .holding import HeldTool
from .touching import touched, touches_of
from .tuned import tool_parts

COOLED = (0.8, 0.5, 0.25)  # of the rise: from here a tool that was unplugged is switched on again
CLIMB_S, STEP_S, CLIMB_TOL_K = 3600.0, 1.0, 0.1
SOONER_S = (BEFORE_S, 60.0, 120.0, 240.0)  # before a limit: tried until what is left of the heat spares it
SPARE_SHARE, SPARE_K = 0.25, 5.0  # the rule begins this much below the lowest reading that work brings


@dataclass(frozen=True, eq=False)
class Noticing:
    """A rule and what it was tried against.  rule: RiseRule or None. why: why there is none, else "". tried: in words.
    after_s: when it notices a fallen sensor. temps_c: {place: degC} of power stuck on at that moment."""

    rule: RiseRule | None
    why: str
    tried: tuple
    after_s: float = float("nan")
    temps_c: dict | None = None


def noticing(build: Build, found: HeldTool) -> Noticing:
    """The rule for power without a rise: taken from the tool's ways up at low mains, tried against ordinary holding and
    each touch of work before it is offered.

    build: Build with a controller. found: HeldTool, held.
    Returns Noticing; worked out once for each held tool.
    """
    if "noticing" not in found.kept:
        found.kept["noticing"] = _noticing(build, found)
    return found.kept["noticing"]


def sound_runs(build, found):
    """What a sound tool does every day.  build: Build. found: HeldTool.  Returns {words: Held}."""
    runs = {"an hour of holding from cold": found.run}
    return runs | {(one := touched(build, found, t)).words: one.run for t in touches_of(found)}


def _noticing(build, found):
    runs, held_c = sound_runs(build, found), found.read.mean_c
    tried = (*runs, "switched on again part-way down")
    lowest = _lowest(found, runs, held_c)
    room_c = warmest_room(build)
    rules = rise_rules(_climbs(build, found), lowest, room_c)
    if not rules:
        return Noticing(
            None, "this tool is too slow, or work cools its sensor too far, for a rule of five minutes", tried
        )
    rules = [
        r for r in rules if all(np.isnan(first_trip(r, x.time_s, x.share, x.temp_c[SENSOR])) for x in runs.values())
    ]
    fallen = (held_c, room_c, default("sensor.air_lag_s")["high"])
    state = State(False, 0.0 if found.law.kind == ON_OFF else found.control.duty)
    after = [noticed_after(r, found.law, state, fallen) for r in rules]
    caught = [(t, r) for t, r in zip(after, rules) if np.isfinite(t)]
    if not caught:
        why = (
            "every rule tried would switch a sound tool off"
            if not rules
            else "the law gives no full power to a cold reading"
        )
        return Noticing(None, why, tried)
    after_s, rule = min(caught, key=lambda pair: pair[0])
    stuck = found.control.stuck
    temps = {} if stuck is None else {n: float(np.interp(after_s, stuck.time_s, c)) for n, c in stuck.temp_c.items()}
    return Noticing(rule, "", tried, after_s, temps)


def _lowest(found, runs, held_c):
    """Highest reading at which the rule may be asked: below all that a sound tool comes to once it is held."""
    law = found.law
    back_c = law.set_c - law.band_k if law.kind == ON_OFF else law.set_c - law.most / law.gain_per_k
    lows = []
    for run in runs.values():
        read = run.temp_c[SENSOR]
        hot = np.flatnonzero(read >= min(back_c, held_c - SPARE_K))
        lows += [read[hot[0] :].min()] if hot.size else []
    low = min(lows, default=back_c)
    return min(back_c, low - max(SPARE_K, SPARE_SHARE * (held_c - low)))


def _climbs(build, found):
    """Ways up at full power and low mains, as the sensor sees them: from cold, and from part-way down."""
    standing = found.control.standing
    net = standing.seat.net
    known = build.known.get("supply.mains")
    share = 1.0 if known is None else (min(known.low, build.supply.mains) / build.supply.mains) ** 2
    low = replace(net, power_w=net.power_w * share)
    node, times = standing.seat.watch[SENSOR][0][0], np.arange(0.0, CLIMB_S, STEP_S)
    starts, off = [None], replace(net, power_w=net.power_w * 0.0)
    cooling = warm_up(
        off, 3 * CLIMB_S, start_c=standing.settled(found.control.duty), accounted=False, tol_k=CLIMB_TOL_K
    )
    cool_s = np.linspace(0.0, 3 * CLIMB_S, 721)
    cooled, room = cooling.at(cool_s)[:, node], build.room.ambient_c
    for part in COOLED:
        below = np.flatnonzero(cooled <= room + part * (cooled[0] - room))
        starts += [cooling.at(cool_s[below[0]])] if below.size else []
    return [
        (times, warm_up(low, CLIMB_S, start_c=s, accounted=False, tol_k=CLIMB_TOL_K).at(times, SENSOR)) for s in starts
    ]


def may_pass(build: Build, found: HeldTool) -> list:
    """The limits that power stuck on may pass and use does not, first those that come first.

    build: Build with a controller. found: HeldTool.
    Returns list of (s, Harm): when it may be passed, by the upper end of its doubt.
    """
    return failing_order(found.control, own_doubt(build))


@dataclass(frozen=True)
class Advice:
    """The cut-out to fit.  best: CutOut, or None: none is worth fitting. guards: words of the first limit that it
    guards. saved: of the others that it saves too. late: of those that none is quick enough for. unsure: of those that
    only their doubt may bring to a limit, where nothing else is left to guard."""

    best: CutOut | None
    guards: str = ""
    late: tuple = ()
    unsure: tuple = ()
    saved: tuple = ()


def cut_out_advice(build: Build, found: HeldTool) -> Advice | None:
    """The cut-out that guards most of what power stuck on passes and use does not, overshoot and ripple counted as use.

    build: Build with a controller. found: HeldTool.
    Returns as `advised_for`.
    """
    return advised_for(found.parts[3].model, found.control, own_doubt(build), room_doubt(build))


def advised_for(model: Model, control: ControlPart, bands: dict, room_k: float) -> Advice | None:
    """The cut-out that guards most of what power stuck on passes and use does not.

    model: Model of the tool in use. control: ControlPart with power stuck on. bands: path -> Band. room_k: how much
    warmer the room may be in use, K.
    Returns Advice, None where nothing is left to guard.  A limit that only the doubt of its place may reach is guarded
    on the way, and alone only where use passes no limit: a link for it would save nothing of what is harmed before.
    """
    limits = [harm for _, harm in failing_order(control, bands)]
    if not limits:
        return None
    sure = [k for k, harm in enumerate(limits) if harm.end_c > harm.limit_c]
    last = sure[-1] if sure else 0
    if not sure and passed_in_use(control):
        return Advice(None, unsure=tuple(dict.fromkeys(h.place for h in limits)))
    for skip in range(last + 1):
        best = _best_cut_out(model, control, bands, room_k, skip)
        if best is not None:
            late = tuple(dict.fromkeys(h.place for h in limits[:skip]))
            first = limits[skip].place
            saved = tuple(place for place in unguarded(control, bands, best).saved if place != first)
            return Advice(best, first, late, saved=saved)
    return Advice(None)


def _best_cut_out(model, control, bands, room_k, skip):
    """The cut-out that fits best, each limit passed as early as it may be, or None where no rating fits.  Where the
    heat that is left after it has opened would still bring the place past its limit, it has to open sooner.

    model, control, bands, room_k: as `advised_for`. skip: limits that come first and are left unguarded.
    """
    place = failing_order(control, bands)[skip][1].place
    for before_s in SOONER_S:
        best = cut_out_for(*places_for(model, control, bands, control.use_doubt_k, room_k, skip, before_s))
        if best is None or place in unguarded(control, bands, best).saved:
            return best
    return None


def sheets_cut_out(build: Build, found: HeldTool):
    """How the cut-out that the sheet names would do, overshoot and ripple counted as use.

    build: Build with a controller. found: HeldTool.
    Returns (CutOut or None, why it cannot be judged).
    """
    model = found.parts[3].model
    return own_cut_out(build, model, found.control, own_doubt(build), found.control.use_doubt_k, room_doubt(build))


def own_doubt(build: Build, workings: Workings | None = None) -> dict:
    """Bands of the places of a tool by its own doubt, as those of Workings; worked out once for each tool.

    build: Build (floats). workings: Workings of this tool with as many samples as work_out draws, whose bands they are;
    None: samples are drawn here where they were not before.
    Returns dict of path -> Band.
    """
    known = {p: k for p, k in build.known.items() if not p.startswith(("control.", "sensor."))}
    key = repr((replace(build, control=None, sensor=Sensor(), known={}), known))
    return _own_doubt(Keyed(key, (build, workings)))


@lru_cache(maxsize=4)
def _own_doubt(kept):
    build, workings = kept.thing
    if workings is not None and workings.drawn is not None:
        return {path: band for path, band in workings.bands.items() if path.startswith((AT_MAINS, ITSELF))}
    _, wire, _, heat = tool_parts(build)
    if heat is None or heat.refused:
        return {}
    drawn = drawn_builds(build, heat, wire)
    return own_bands(heat, chain(drawn, nominal_heat(heat)).heat, drawn)
