"""Link of the bench before the coil: soak test, core, fuse, cable.  No physics here, only the calls; an unknown value
is nan.
"""

from dataclasses import dataclass

import numpy as np

from ...basics.fault import Fault
from ...heater import soak
from ...heater.battery import charge_of, run_time
from ...heater.rectified import winding_factor
from ...sheet.build import Build
from ...sheet.defaults import default
from ..parts import NAN, as_floats
from ..supply.link import SupplyPart, cable_ohm_of, judged_volts
from ..wire.coil import CoilPart
from .fuse import fuse_of
from .hours import end_of_hours

METALS = {None: soak.COPPER_K, "copper": soak.COPPER_K, "aluminium": soak.ALUMINIUM_K}
UNMARKED_CLASS = 105


@dataclass(frozen=True)
class BenchPart:
    """What the bench tells before the coil is wound.

    cable_ohm: cable, contacts. load_a, winding_a, load_va: current of the coil, root mean square in the supply's
    winding, and what that winding delivers. core_va: the core's hint. fuse_a, fuse_kind: proposed fuse. short_a: into a
    dead short at the handle, all warm. latest_s: when the fuse has opened at the latest (inf: it need not).
    winding_rise_k, winding_c: from the soak's readings; limit_c: of the class. settled_k, settled_low_k,
    settled_high_k: where the hours lead. reached: share of it that the test saw. run_s: how long a battery's
    charge lasts. said: why there is no fuse, or remarks on the readings.
    """

    cable_ohm: float
    load_a: float
    winding_a: float
    load_va: float
    core_va: float
    fuse_a: float
    fuse_kind: str
    short_a: float
    latest_s: float
    winding_rise_k: float
    winding_c: float
    limit_c: float
    settled_k: float
    settled_low_k: float
    settled_high_k: float
    reached: float
    run_s: float
    said: str


def work_bench(build: Build, supply: SupplyPart | None, coil: CoilPart | None) -> BenchPart | None:
    """Soak, core, fuse and cable.

    build: Build, floats or arrays. supply, coil: results of the links before, or None.
    Returns BenchPart, or None without a supply.  The settled rise is worked out for plain readings only.
    """
    if supply is None:
        return None
    cable = cable_ohm_of(build.supply)
    amps = NAN if coil is None or supply.refused else coil.load_a
    volts = supply.open_in_use_v - (supply.source_in_use_ohm - cable) * amps
    rise, room = rise_of(build)
    winding_a = winding_amps(supply, volts, amps)
    cold_a = NAN if coil is None else supply.open_in_use_v / (supply.source_in_use_ohm + coil.meter_ohm)
    *fuse, said = fuse_of(build, supply, winding_a, np.fmax(cold_a, winding_a), cable)
    settled = _settled(build)
    limit_c, _ = soak.class_limit(int(build.soak.winding_class or UNMARKED_CLASS))
    return as_floats(
        BenchPart(
            cable,
            amps,
            winding_a,
            _winding_volts(build, supply, volts) * winding_a,
            _core(build),
            *fuse,
            rise,
            rise + room,
            limit_c,
            *settled,
            run_of(build, supply, amps),
            " ".join(w for w in (said, remark_of(build)) if w),
        )
    )


def end_room(build):
    """The room at the end of the soak, degC; 20 where nobody wrote it.  build: Build."""
    return 20.0 if build.soak.end_room_c is None else build.soak.end_room_c


def rise_of(build):
    """Rise of the winding at the end of the soak, and the room then.

    build: Build.
    Returns (winding_rise_k, end room in degC); nan where the sheet has no soak test.
    """
    test = build.soak
    room = end_room(build)
    if test.cold_ohm is None or not (test.cooling or test.hour):
        return NAN, room
    if test.cooling:
        times = np.array(np.broadcast_arrays(*[np.asarray(r.after_s, float) for r in test.cooling]))
        ohms = np.array(np.broadcast_arrays(*[np.asarray(r.resistance_ohm, float) for r in test.cooling]))
        hot, _, _ = soak.back_to_zero(test.cold_ohm, times, ohms)
    else:
        hot = max(test.hour, key=lambda r: np.max(r.loaded_s)).resistance_ohm
    cold_room = room if test.cold_room_c is None else test.cold_room_c
    return soak.winding_rise(test.cold_ohm, hot, cold_room, room, METALS[test.metal]), room


def remark_of(build):
    """What is to be said of the readings taken while the winding cooled.

    build: Build.
    Returns sentence, or "".
    """
    test = build.soak
    if (
        test.cold_ohm is None
        or not test.cooling
        or any(np.ndim(x) for r in test.cooling for x in (r.resistance_ohm, r.after_s))
        or np.ndim(test.cold_ohm)
    ):
        return ""
    try:
        return soak.at_switch_off(
            test.cold_ohm, [r.after_s for r in test.cooling], [r.resistance_ohm for r in test.cooling]
        ).remark
    except Fault as told:
        return str(told)


def hours_of(build):
    """The readings over the hours as times and rises.

    build: Build.
    Returns (times in s, rises in K), arrays; empty without such readings.  The room is taken to drift evenly from the
    cold reading to the end.
    """
    test = build.soak
    if test.cold_ohm is None or not test.hour:
        return np.zeros(0), np.zeros(0)
    room = end_room(build)
    cold_room = room if test.cold_room_c is None else test.cold_room_c
    rows = sorted(test.hour, key=lambda r: r.loaded_s)
    times = np.array([r.loaded_s for r in rows])
    rooms = cold_room + (room - cold_room) * times / times[-1]
    rises = [
        soak.winding_rise(test.cold_ohm, r.resistance_ohm, cold_room, at, METALS[test.metal])
        for r, at in zip(rows, rooms)
    ]
    return times, np.array(rises)


def soak_end(build):
    """Where the hours lead.

    build: Build.
    Returns SoakEnd, or None where the hours do not tell or hold samples.
    """
    test = build.soak
    if any(np.ndim(x) for r in test.hour for x in (r.resistance_ohm, r.loaded_s)) or np.ndim(test.cold_ohm):
        return None
    times, rises = hours_of(build)
    counts_ohm = 0.0
    for i in range(len(test.hour)):
        known = build.known.get(f"soak.hour.{i}.resistance_ohm")
        if known is not None:
            counts_ohm = max(counts_ohm, (known.high - known.low) / 2 * (1 - known.share))
    per_ohm_k = METALS[test.metal] / test.cold_ohm if test.cold_ohm else 0.0
    return end_of_hours(tuple(times.tolist()), tuple(rises.tolist()), float(counts_ohm * per_ohm_k))


def _settled(build):
    """(settled, low, high, reached), nan where the hours do not tell."""
    found = soak_end(build)
    return (NAN,) * 4 if found is None else (found.rise_k, found.low_k, found.high_k, found.reached)


def run_of(build, supply, load_a):
    """How long a battery lasts under a load.

    build: Build. supply: SupplyPart. load_a: A, float or array.
    Returns s; nan where the sheet tells neither charge nor energy, inf without a current.
    """
    told = build.supply
    charge = told.charge_a_s
    if charge is None and told.energy_j is not None:
        charge = charge_of(told.energy_j, supply.open_v)
    if charge is None:
        return NAN
    usable = default("supply.usable")["value"] if told.usable is None else told.usable
    with np.errstate(divide="ignore"):
        return run_time(charge, usable, load_a)


def mains_hz(build):
    """Frequency of the mains: 50 Hz where the sheet is silent, which makes the core's hint the smaller one.

    build: Build.
    Returns Hz.
    """
    return 60.0 if build.supply.frequency == "60 Hz" else 50.0


def _core(build):
    supply = build.supply
    if supply.core != "stacked" or supply.core_width_m is None or supply.core_stack_m is None:
        return NAN
    return soak.core_rating(supply.core_width_m * supply.core_stack_m, mains_hz(build))


def winding_amps(supply, terminal_v, load_a):
    """Root mean square current in the supply's winding, which a capacitor behind a rectifier makes larger.

    supply: SupplyPart. terminal_v: at its terminals under load, V. load_a: current of the load, A.
    Returns A; load_a itself without such a capacitor.
    """
    with np.errstate(invalid="ignore", divide="ignore"):
        return load_a * winding_factor(supply.rectifier, terminal_v / supply.open_in_use_v)


def _winding_volts(build, supply, terminal_v):
    """Alternating volts at the winding that the core carries: a diode leaves it half of each cycle unused."""
    if supply.rectifier == "half":
        return np.sqrt(2) * terminal_v
    if supply.rectifier == "bridge with capacitor":
        return judged_volts(build.supply, supply.open_v)[0]
    return terminal_v
