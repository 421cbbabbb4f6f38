"""The tool held at a temperature.  No physics here, only the calls; an unknown value is nan."""

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
from ...thermal.control.seated import SENSOR, without_nodes
from ..heat.melting_wire import alloy_melts_c
from ..heat.part import HeatPart
from ..heat.verdicts import job_row
from ..parts import NAN
from ..supply.link import SupplyPart
from ..wire.coil import CoilPart
from ..wire.link import WirePart
from .part import ControlPart
from .seat import seat_of
from .standing import standing_of
from .stuck import Beginning, failed, unheld


def work_control(
    build: Build, supply: SupplyPart | None, wire: WirePart | None, coil: CoilPart | None, heat: HeatPart | None
) -> ControlPart | None:
    """Hold the tool at the sheet's set point, then let control fail.

    build: Build (floats). supply, wire, coil, heat: results of the links before.
    Returns ControlPart, None where the sheet has no controller or no tool was worked out; `refused` says what keeps
    it from being held.
    """
    if build.control is None or supply is None or heat is None or heat.model is None or heat.model.designs:
        return None
    try:
        return _held(build, supply, wire, coil, heat)
    except Fault as told:
        set_c = set_point(build)
        return ControlPart(set_c=set_c, refused=str(told), **failed(build, coil.coil_w, heat, unheld(heat, set_c)))


def set_point(build):
    """The set point: the sheet's own, else the wanted temperature, else the middle of the job's range.

    build: Build.
    Returns degC, nan without any of them.
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


def _held(build, supply, wire, coil, heat):
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
    way = way_down(line := line_of(supply, wire, coil), switch_of(build), 1.0)
    if way.why_not:
        kind = "direct current" if line.output == "DC" else "this supply"
        serve = [k for k in SWITCHES if k != way.key and not way_down(line, k, 1.0).why_not]
        do = f'Write way = "{serve[0]}" under [control].' if serve else "Take another supply."
        raise fault("control.way", switch_of(build), f"does not serve on {kind}.", way.why_not, do)
    on_share = way.on_w / full_watts(line)[0]
    seat = seat_of(build, heat, on_share)
    standing = standing_of(seat, set_c)
    share, most = standing.share_for(set_c), standing.settled(1.0)
    full_c = float(most[seat.watch[SENSOR][0][0]])
    known = build.known.get("supply.mains")
    mains = (known.low, known.high) if known is not None else (build.supply.mains,) * 2
    swings = [(m / build.supply.mains) ** 2 for m in mains]
    low_c, high_c = (float(standing.settled(s)[seat.watch[SENSOR][0][0]]) for s in swings)
    known_part = {"set_c": set_c, "full_c": full_c, "low_c": low_c, "high_c": high_c, "place": seat.held}
    known_part |= {"on_w": way.on_w, "standing": standing, "doubt_k": doubt_of(build, set_c)}
    if not share < 1:
        room, most_said = build.room.ambient_c, say("temp_c", full_c, degrees=build.degrees)
        low = set_c <= room
        why = (
            f"is not above the room of {say('temp_c', room, degrees=build.degrees)}."
            if low
            else f"is out of reach: at full power the sensor settles at {most_said}, and the power stays on for ever."
        )
        full = without_nodes(seat.net, most, SENSOR)
        begins = unheld(heat, set_c) if low else Beginning("full power", full, full)
        said = f"control.set: {say('temp_c', set_c, degrees=build.degrees)} {why}"
        return ControlPart(**known_part, refused=said, **failed(build, coil.coil_w, heat, begins))
    calm = standing.settled(share)
    held = float(reading_of(seat.watch, calm)[seat.held])
    known_part |= {"held_c": held, "offset_k": held - set_c, "hold_w": share * way.on_w, "duty": share}
    calm = without_nodes(seat.net, calm, SENSOR)
    begins = Beginning("held", calm, np.maximum(calm, _warmed(standing, set_c)))
    return ControlPart(**known_part, **failed(build, coil.coil_w, heat, begins))


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


def _warmed(standing, set_c):
    """Hottest that each node gets on the way to the set point at full power, degC."""
    time_s, places = standing.full_times
    above = np.flatnonzero(places[SENSOR] >= set_c)
    until = float(time_s[above[0]]) if above.size else time_s[-1]
    return without_nodes(standing.seat.net, standing.full.at(np.linspace(0.0, until, 40)), SENSOR).max(axis=0)
