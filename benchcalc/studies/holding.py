"""A held tool over time: tuning, the law at work, touching work, and the cut-out that would fit.  The chain tells where
it settles; here it moves.
"""

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from ..basics.fault import Fault
from ..basics.tables import one, rows
from ..chain.control.link import work_control
from ..chain.control.part import ControlPart
from ..chain.control.standing import WARM_S, hold
from ..chain.control.stuck import failing_state, places_for
from ..chain.heat.limits import own_bands
from ..chain.heat.places import excess_of
from ..chain.heat.verdicts import job_row
from ..chain.parts import Keyed
from ..chain.workings import chain, drawn_builds
from ..sheet.build import Build
from ..sheet.build_control import Sensor
from ..thermal.control.failing import CutOut, RiseRule, cut_out_for, rise_rule
from ..thermal.control.held_run import Held, exact_run
from ..thermal.control.law import ON_OFF, Law, State, checked_law
from ..thermal.control.measures import Measures, measures_of
from ..thermal.control.seated import SENSOR, WORK, with_work
from ..thermal.control.tuning import Tuning
from ..thermal.network.curves import heat_of, melting
from .tuned import tool_parts, tuning_of

SHORTEST_S, LONGEST_S = 3600.0, WARM_S
TOUCH_WINDOW_S, TOUCH_LOOK_S = 4.0, 1.0  # a dip of many seconds needs no finer pulses
TOUCH_POINTS, LONG_TOUCH_S = 481, 300.0


@dataclass(frozen=True, eq=False)
class HeldTool:
    """A held tool over time.  parts: (supply, wire, coil, heat). control: its ControlPart. tuning, law, run: what was
    asked for and what came. held, read, sheath: Measures of what is held, of the reading, of the winding; wire_top_c:
    hottest wire in a pulse. refused: why nothing was held, or ""."""

    parts: tuple
    control: ControlPart | None
    tuning: Tuning | None = None
    law: Law | None = None
    run: Held | None = None
    held: Measures | None = None
    read: Measures | None = None
    sheath: Measures | None = None
    wire_top_c: float = float("nan")
    refused: str = ""


def holding(build: Build) -> HeldTool:
    """Hold the tool as the sheet says and watch.

    build: Build with a controller (floats).
    Returns HeldTool; `refused` says why nothing could be held.
    """
    parts = tool_parts(build)
    supply, wire, coil, heat = parts
    control = work_control(build, *parts)
    if control is None:
        why = heat.refused if heat is not None and heat.refused else "There is no tool with a network to hold."
        return HeldTool(parts, None, refused=why)
    if control.refused:
        return HeldTool(parts, control, refused=control.refused)
    try:
        tuning = tuning_of(build, control.standing)
        law = law_of(build, control.set_c, tuning)
    except Fault as told:
        return HeldTool(parts, control, refused=str(told))
    time_s, places = control.standing.full_times
    reached = float(time_s[np.argmax(places[SENSOR] >= control.set_c)])
    run = hold(control.standing, law, float(np.clip(3 * reached, SHORTEST_S, LONGEST_S)))
    held, read, sheath = (measures_of(run, place, control.set_c) for place in (control.place, SENSOR, "sheath"))
    top = float(sheath.top_c + excess_of(build, wire, coil, control.on_w))
    return HeldTool(parts, control, tuning, law, run, held, read, sheath, top)


def law_of(build, set_c, tuning):
    """The law that the sheet asks for; what it does not say comes from the tuning.

    build: Build with a controller. set_c: set point, degC. tuning: Tuning.
    Returns Law.  Raises Fault for a law that cannot work.
    """
    control = build.control
    gain = tuning.gain_per_k if control.proportional_k is None else 1 / control.proportional_k
    reset = tuning.integral_s if control.integral_s is None else control.integral_s
    return checked_law(
        Law(control.law, set_c, control.band_k, window_s=control.window_s, gain_per_k=gain, integral_s=reset)
    )


@dataclass(frozen=True)
class Touch:
    """What a touch does.  dip_k: of what is held. back_s: until it is within 5 K again, nan if not in the time watched.
    energy_j: heat that the work takes in all. run: Held."""

    words: str
    dip_k: float
    back_s: float
    energy_j: float
    run: Held


def touched(build: Build, found: HeldTool, touch: str | None = None, until_s: float = 120.0) -> Touch:
    """The tip touches work, held until then.

    build: Build with a controller. found: its HeldTool. touch: of data/touches.csv, None for the sheet's own, else for
    the job's, else a joint. until_s: s.
    Returns Touch, stepped exactly.
    """
    row = touch_row(build, touch)
    seat, control = found.control.standing.seat, found.control
    job = one("work", "job", row["job"])
    melts_j_k = row["melts_kg"] * job["specific_heat_j_kgk"]
    capacity = row["mass_kg"] * row["specific_heat_j_kgk"] + (melts_j_k if row["melts_kg"] < row["mass_kg"] else 0.0)
    latent = row["melts_kg"] * (job["latent_j_kg"] or 0.0)
    low, high = job["melting_low_c"], job["melting_high_c"]
    content = melting(capacity, low, high, latent) if latent and low is not None else None
    (node,), _ = seat.watch[control.place]
    net = with_work(seat.net, node, capacity, row["contact_w_k"], content)
    at = net.names.index(WORK)
    watch = {n: (tuple(k + (k >= at) for k in nodes), w) for n, (nodes, w) in seat.watch.items()}
    start = np.insert(control.standing.settled(control.duty), at, build.room.ambient_c)
    law = replace(found.law, window_s=max(found.law.window_s, TOUCH_WINDOW_S), look_s=TOUCH_LOOK_S)
    run = exact_run(net, law, watch, until_s, start_c=start, state=State(True, control.duty), tol_k=0.1)
    time_s = np.linspace(0.0, until_s, TOUCH_POINTS)  # a dip need not end where the switch moves
    nodes, weights = watch[control.place]
    curve = run.run.at(time_s)[:, list(nodes)] @ np.asarray(weights)
    low_at = int(curve.argmin())
    back = np.flatnonzero(curve[low_at:] >= control.held_c - 5.0)
    end_c, room_c = float(run.run[WORK]), build.room.ambient_c
    taken = heat_of(content, end_c) - heat_of(content, room_c) if content else capacity * (end_c - room_c)
    return Touch(
        row["words"],
        float(max(control.held_c - curve.min(), 0.0)),
        float(time_s[low_at + back[0]]) if back.size else float("nan"),
        float(taken),
        run,
    )


def touch_row(build, touch=None):
    """The row of data/touches.csv that fits a build.

    build: Build with a controller. touch: its name, or None.
    Returns dict.
    """
    known = {r["touch"]: r for r in rows("touches")}
    job = job_row(build.want.job) if build.want.job else None
    of_job = None if job is None else next((k for k in ("wax", "insert", "solder") if k in job["job"]), None)
    guess = {"wax": "cold wax", "insert": "insert"}.get(of_job, "joint")
    return known[touch or build.control.touch or guess]


def rule_of(build: Build, found: HeldTool) -> RiseRule | None:
    """The rule for power without a rise, from the tool's own warm-up at low mains: it spares a tool that is held, and
    one that touches work.

    build: Build with a controller. found: HeldTool.
    Returns RiseRule or None.
    """
    kept = found.__dict__
    if "rule" not in kept:
        time_s, places = found.control.standing.full_times
        known = build.known.get("supply.mains")
        low = known.low / build.supply.mains if known is not None else 1.0
        runs = [found.run, *(touched(build, found, r["touch"], LONG_TOUCH_S).run for r in fitting_touches(found))]
        sound = [(r.time_s, r.share, r.temp_c[SENSOR]) for r in runs]
        kept["rule"] = rise_rule(time_s, places[SENSOR], back_of(found.law), mains_low=low, sound=sound)
    return kept["rule"]


def back_of(law):
    """Reading below which a law gives full power: only there a missing rise is asked for.  law: Law.  Returns degC."""
    return law.set_c - law.band_k if law.kind == ON_OFF else law.set_c - law.most / law.gain_per_k


def fitting_touches(found):
    """Rows of data/touches.csv that a tool can touch: a pot is not soldered with, an iron melts no block of wax.

    found: HeldTool.
    Returns list of dict.
    """
    melts = found.control.place == "work"
    return [r for r in rows("touches") if melts == (r["touch"] == "cold wax")]


def cut_out(build: Build, found: HeldTool) -> CutOut | None:
    """The cut-out that fits best, overshoot and ripple counted as use, each limit passed as early as it may be.

    build: Build with a controller. found: HeldTool.
    Returns CutOut, or None where no rating fits or no limit can be passed.
    """
    doubt = found.control.doubt_k + found.held.overshoot_k + found.held.ripple_k / 2
    return cut_out_for(*places_for(found.parts[3].model, found.control, own_doubt(build), doubt, room_doubt(build)))


def harm_possible(build: Build, found: HeldTool) -> bool:
    """Whether power stuck on may pass a limit that use does not.

    build: Build with a controller. found: HeldTool.
    """
    return failing_state(found.control, own_doubt(build)) is not None


def own_doubt(build: Build) -> dict:
    """Bands of the places of a tool by its own doubt, as those of Workings; worked out once for each tool.

    build: Build (floats).
    Returns dict of path -> Band.
    """
    known = {p: k for p, k in build.known.items() if not p.startswith(("control.", "sensor."))}
    return _own_doubt(Keyed(repr((replace(build, control=None, sensor=Sensor(), known={}), known)), build))


@lru_cache(maxsize=4)
def _own_doubt(kept):
    build = kept.thing
    _, wire, _, heat = tool_parts(build)
    if heat is None or heat.refused:
        return {}
    drawn = drawn_builds(build, heat, wire)
    return own_bands(heat, chain(drawn).heat, drawn)


def room_doubt(build):
    """How much warmer the room may be than it counts, K.  build: Build."""
    known = build.known.get("room.ambient_c")
    return known.high - build.room.ambient_c if known is not None else 0.0


def after_rule(found, rule: RiseRule, time_s=None):
    """What is held and the winding at the moment when the rule switches off, the sensor fallen off while held.

    found: HeldTool. rule: RiseRule. time_s: s, None for its wait.
    Returns {name: degC}.
    """
    stuck, wait = found.control.stuck, rule.wait_s if time_s is None else time_s
    return {name: float(np.interp(wait, stuck.time_s, curve)) for name, curve in stuck.temp_c.items()}


def set_elsewhere(build, set_c):
    """The build with another set point.  build: Build with a controller. set_c: degC."""
    return replace(build, control=replace(build.control, set_c=set_c))
