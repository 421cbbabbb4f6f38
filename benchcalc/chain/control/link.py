"""The tool held at a temperature.  No physics here, only the calls; an unknown value is nan."""

from dataclasses import replace

import numpy as np

from ...basics.fault import Fault, fault
from ...basics.names import say
from ...heater.power import on_cycles
from ...heater.ways_down import Line, full_watts, way_down
from ...materials.sensors import tolerance
from ...sheet.build import Build
from ...sheet.build_control import SWITCHES, switch_of
from ...sheet.defaults import default
from ...thermal.control.held_run import reading_of
from ...thermal.control.law import ON_OFF, as_heard
from ...thermal.control.measures import measures_of
from ...thermal.control.seated import SENSOR, without_nodes
from ..heat.melting_wire import alloy_melts_c
from ..heat.part import HeatPart
from ..heat.verdicts import job_row
from ..parts import NAN, kept_last
from ..supply.link import SupplyPart
from ..wire.coil import CoilPart
from ..wire.link import WirePart
from .part import ControlPart
from .reach import beyond_reach
from .seat import seat_of
from .standing import WARM_S, dial_for, hold, standing_of
from .stuck import Beginning, failed, unheld
from .tuned import law_of, settings_of

KEYS = {
    "control.set": "The set point",
    "control.way": "The switch",
    "control.window": "The window of the switching",
    "sensor.at": "The sensor's place",
    "sensor.on": "The part under the sensor",
    "control": "The controller",
    "coil": "The wire",
}
MOST_RUNS = 12
SHORTEST_S = 900.0  # a quarter of an hour has the first swings, the hottest; a slow tool is watched longer


def work_control(
    build: Build,
    supply: SupplyPart | None,
    wire: WirePart | None,
    coil: CoilPart | None,
    heat: HeatPart | None,
    watched_s: float = SHORTEST_S,
    failing: bool = True,
) -> ControlPart | None:
    """Hold the tool at the sheet's set point, then let control fail.

    build: Build (floats). supply, wire, coil, heat: results of the links before. watched_s: s, how long the held tool
    is watched at least. failing: False to leave out what power stuck on does.
    Returns ControlPart, None where the sheet has no controller or no tool was worked out; `refused` says what keeps
    it from being held.
    """
    if build.control is None or supply is None or heat is None or heat.model is None or heat.model.designs:
        return None
    try:
        control = _held(build, (supply, wire, coil, heat), watched_s)
    except Fault as told:
        control = ControlPart(set_c=set_point(build), refused=_in_words(told))
    return with_failure(build, control, coil, heat) if failing else control


def with_failure(build: Build, control: ControlPart, coil: CoilPart, heat: HeatPart) -> ControlPart:
    """The held tool with what power stuck on does to it.

    build: Build (floats). control: ControlPart without its failure. coil, heat: of the chain.
    Returns ControlPart.  It begins from the held state; from full power where the dial is out of reach above; from cold
    where nothing holds it.
    """
    standing, set_c, on_w = control.standing, control.set_c, coil.coil_w
    if standing is None or control.refused and not set_c > build.room.ambient_c:
        begins = unheld(heat, set_c)
    elif control.refused:
        full = without_nodes(standing.seat.net, standing.settled(1.0), SENSOR)
        begins = Beginning("full power", full, full)
    else:
        calm, run, on_w = standing.settled(control.duty), control.run, control.on_w
        start_c = without_nodes(standing.seat.net, calm, SENSOR)
        begins = Beginning("held", start_c, _in_use(standing, calm, run), _tops(run))
    return replace(control, **failed(build, on_w, heat, begins))


def _in_words(told):
    """What keeps a tool from being held, its keys in words.  told: Fault."""
    said = str(told)
    for key, words in KEYS.items():
        said = said.replace(f"{key}: ", f"{words}: ")
    return said


def set_point(build):
    """What is to be held: the sheet's own set point, else the wanted temperature, else the middle of the job's range.

    build: Build.
    Returns degC, nan without any of them.  The set point is what the controller reads; the other two are wanted of the
    metal itself, and `held_calmly` takes the reading that goes with them.
    """
    control, job = build.control, job_row(build.want.job) if build.want.job else None
    if control is not None and control.set_c is not None:
        return control.set_c
    if build.want.tip_c is not None:
        return build.want.tip_c
    return NAN if job is None else (job["low_c"] + job["high_c"]) / 2


def line_of(supply: SupplyPart, wire: WirePart, coil: CoilPart) -> Line:
    """The supply's line with the coil on it, for the ways down.

    supply, wire, coil: parts of the chain (floats).
    Returns Line.
    """
    return Line(
        supply.kind,
        supply.output,
        supply.open_in_use_v,
        supply.source_in_use_ohm,
        coil.hot_ohm,
        wire.tails_ohm,
        supply.limit_a,
        coil.cold_ohm,
    )


def _held(build, parts, watched_s):
    control = held_calmly(build, parts)
    standing, set_c = control.standing, control.set_c
    if control.refused:
        return control
    law = law_of(build, set_c, _settings(build, parts, standing))
    run, held = held_by(standing, law, watched_s), control.held_c
    told = measures_of(run, control.place, set_c, 0.0 if law.kind == ON_OFF else law.window_s)
    mean = told.mean_c if told.settled else held
    swing_k = max(told.top_c - held, 0.0)
    found = {"mean_c": mean, "offset_k": mean - set_c, "swing_k": swing_k, "law": law, "run": run}
    return replace(control, **found)


def held_calmly(build: Build, parts: tuple) -> ControlPart:
    """The tool settled at the watts that hold its sensor at the set point; no swing of a law, no failure.

    build: Build with a controller (floats). parts: (supply, wire, coil, heat) of the chain.
    Returns ControlPart; `refused` says why it is out of reach.  Raises Fault for what cannot be held at all.
    """
    supply, wire, coil, heat = parts
    control, set_c = build.control, set_point(build)
    if not np.isfinite(set_c):
        raise fault(
            "control.set",
            "",
            "is missing, and the sheet names neither a temperature nor a job.",
            do='Write set = "350 degC" under [control].',
        )
    on_cycles(0.5, control.window_s)
    _unmolten(wire, heat, build.degrees)
    line = line_of(supply, wire, coil)
    way = _serving(build, line)
    seat = seat_of(build, heat, way.on_w / full_watts(line)[0])
    standing = standing_of(seat, set_c)
    if control.set_c is None:  # what is wanted is wanted of the metal, not of its sensor
        dial_c = dial_for(standing, seat.held, set_c)
        set_c = dial_c if np.isfinite(dial_c) else set_c
    share, node = standing.share_for(set_c), seat.watch[SENSOR][0][0]
    known = build.known.get("supply.mains")
    mains = (known.low, known.high) if known is not None else (build.supply.mains,) * 2
    swings = (1.0, *((m / build.supply.mains) ** 2 for m in mains))
    full_c, low_c, high_c = (float(standing.settled(s)[node]) for s in swings)
    found = ControlPart(
        set_c=set_c, full_c=full_c, low_c=low_c, high_c=high_c, place=seat.held, on_w=way.on_w, standing=standing,
        doubt_k=doubt_of(build, set_c),
    )  # fmt: skip
    if not share < 1:
        if set_c > build.room.ambient_c:
            return replace(found, **beyond_reach(build, parts, found))
        dial, room = (say("temp_c", c, degrees=build.degrees) for c in (set_c, build.room.ambient_c))
        return replace(found, refused=f"The set point of {dial} is not above the room of {room}.")
    held = float(reading_of(seat.watch, standing.settled(share))[seat.held])
    calm = {"held_c": held, "mean_c": held, "offset_k": held - set_c}
    return replace(found, **calm, hold_w=share * way.on_w, duty=share)


def _serving(build, line):
    """The switch of a build on its supply's line.  Raises Fault where it does not serve, with one that does."""
    way = way_down(line, switch_of(build), 1.0)
    if way.why_not:
        serve = [k for k in SWITCHES if k != way.key and not way_down(line, k, 1.0).why_not]
        do = f'Write way = "{serve[0]}" under [control].' if serve else "Take another supply."
        raise fault("control.way", switch_of(build), "does not serve here.", way.why_not, do)
    return way


def _settings(build, parts, standing):
    """What the law asks for gain and integral time: None where it needs none."""
    return None if build.control.law == ON_OFF else lambda: settings_of(build, parts, standing)


def held_by(standing, law, least_s=SHORTEST_S):
    """The held tool from cold, for three times its way up or longer.

    standing: Standing. law: Law, its set point within reach. least_s: s, at least so long.
    Returns Held; kept for the laws that were asked for last.
    """
    law = as_heard(law)

    def run():
        time_s, places = standing.full_times
        reached = float(time_s[np.argmax(places[SENSOR] >= law.set_c)])
        return hold(standing, law, float(np.clip(3 * reached, least_s, WARM_S)))

    return kept_last(standing.kept.setdefault("held by", {}), (law, least_s), run, MOST_RUNS)


def _unmolten(wire, heat, degrees):
    """Nothing is held by a wire that melts on the way.  Raises Fault."""
    melts_c = alloy_melts_c(wire.alloy)
    if np.isfinite(melts_c) and not heat.wire_c < melts_c:
        raise fault(
            "coil",
            say("wire_c", heat.wire_c, degrees=degrees),
            f"at full power is past the melting of its wire, {say('limit_c', melts_c, degrees=degrees)}.",
            "It is gone before anything is held.",
            "Take a longer wire or fewer volts first, on page 02.",
        )


def doubt_of(build, set_c):
    """How far the sensor's word may be from the metal: tolerance, cold end, attachment, added up.

    build: Build with a controller. set_c: degC.
    Returns K, half width; the attachment by the wider side of its band.
    """
    sensor = build.sensor
    own = tolerance(sensor.sort, sensor.tolerance_class, set_c).half_k
    cold = default("sensor.cold_end_k")["high"] if sensor.sort == "type K" else 0.0
    row = default(f"sensor.low_share/{sensor.fixed}")
    wide = max(row["high"] - row["value"], row["value"] - row["low"]) / (1 - row["value"])
    return float(own + cold + wide * max(set_c - build.room.ambient_c, 0.0))


def _in_use(standing, calm, run):
    """Hottest that each node of the tool gets while it is held, degC: settled, or on the way up at full power when the
    law first holds back; up to then each only gets hotter."""
    net, back = standing.seat.net, np.flatnonzero(run.share[1:] < 1)
    until = float(run.time_s[back[0]]) if back.size else float(run.time_s[-1])
    return without_nodes(net, np.maximum(calm, standing.full.at(until)), SENSOR)


def _tops(run):
    """Hottest that each watched place gets in a run, degC by name."""
    return {name: float(temps.max()) for name, temps in run.temp_c.items() if name != SENSOR}
