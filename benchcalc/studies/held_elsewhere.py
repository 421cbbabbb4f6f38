"""What to dial so that the metal, not the sensor, is at a temperature; and the watts that hold it, with their band."""

from dataclasses import replace

import numpy as np

from ..basics.band import band_of
from ..basics.fault import Fault
from ..chain.control.link import held_calmly
from ..chain.control.standing import dial_for
from ..chain.heat.link import nominal_heat, work_heat
from ..chain.heat.verdicts import job_row
from ..chain.workings import links, settled
from ..sheet.build import Build
from ..sheet.change import sample
from ..sheet.defaults import default
from ..sheet.key import ASSUMED
from ..thermal.control.held_run import reading_of
from .holding import HeldTool, holding

BAND_SAMPLES, BAND_STEPS = 48, 3


def set_elsewhere(build: Build, set_c: float) -> Build:
    """The build with another set point.  build: Build with a controller. set_c: degC."""
    return replace(build, control=replace(build.control, set_c=float(set_c)))


def wants(build: Build) -> bool:
    """Whether a sheet says how hot what is held has to be, apart from its dial.  build: Build."""
    return build.want.tip_c is not None or job_row(build.want.job or "") is not None


def aim_of(build: Build, set_c: float) -> float:
    """What is to be held: the wanted temperature, else the middle of the job's range, else the dial's own figure.

    build: Build. set_c: the dial, degC.
    Returns degC.
    """
    job = job_row(build.want.job or "")
    if build.want.tip_c is not None:
        return float(build.want.tip_c)
    return set_c if job is None else (job["low_c"] + job["high_c"]) / 2


def with_own_lag(build: Build) -> Build:
    """The build with the lag of a sensor that is fixed like its own, where nobody typed one.  build: Build."""
    known = build.known.get("sensor.lag_s")
    if known is None or known.how != ASSUMED or known.line is not None:
        return build
    return replace(build, sensor=replace(build.sensor, lag_s=default(f"sensor.lag_s/{build.sensor.fixed}")["value"]))


def seated(build: Build, found: HeldTool):
    """Where the tool would settle with its sensor elsewhere; no run of it and no failure.

    build: Build with a controller and another sensor. found: HeldTool of the tool.
    Returns ControlPart, None where it would never get there.
    """
    try:
        got = held_calmly(build, found.parts)
    except Fault:  # a place off its part
        return None
    return None if got.refused else got


def loosened(control, seen):
    """Where the tool is held by a bead that has come half loose: what is held, the winding, and the power for it.

    control: ControlPart that holds. seen: share of the rise over the room that the bead still sees, above 0 to 1.
    Returns ({name of a watched place: degC}, share of the full power), None where that reading is never reached and the
    power stays on.
    Equation: a reading is the room and the share that it sees of its seat's rise (`with_sensor`), so that today's bead
    reads (1 - its own low share)/seen as much over the room.
    """
    standing, seat = control.standing, control.standing.seat
    room = float(np.nanmean(seat.net.held_c))
    share = standing.share_for(room + (1 - seat.low_share) / seen * (control.set_c - room))
    if not share < 1:
        return None
    return reading_of(seat.watch, standing.settled(share)), share


def for_wanted(build: Build, wanted_c: float) -> tuple[Build, float]:
    """The build with the dial turned so that what is held is really at a temperature, on the mean of its swing.

    build: Build with a controller. wanted_c: degC.
    Returns (Build, reading to dial in degC, nan where it is out of reach).
    """
    found = holding(build)
    standing = None if found.control is None else found.control.standing
    dial = float("nan") if standing is None else dial_for(standing, found.control.place, wanted_c)
    if not np.isfinite(dial):
        return build, dial
    once = holding(set_elsewhere(build, dial))
    if not once.refused and once.held.settled:  # on-off does not swing evenly about its set point
        dial += wanted_c - once.held.mean_c
    return set_elsewhere(build, dial), dial


def hold_band(build: Build, found: HeldTool) -> tuple[float, float, float]:
    """Watts that hold the tip, with the band that the sheet's doubts leave.

    build: Build with a controller. found: its HeldTool.
    Returns (mean W, low, high); the band is nan where many designs cannot be solved side by side.
    Method: three secant steps on samples; 5th and 95th percentile.
    """
    watts, wanted = found.control.hold_w, found.control.held_c
    field = "work_c" if found.control.place == "work" else "tip_c"
    try:
        own = settled(build)
        drawn = sample(own, BAND_SAMPLES)
        _, wire, coil = links(drawn)
        room = np.broadcast_to(drawn.room.ambient_c, BAND_SAMPLES)
        near = nominal_heat(work_heat(own, *links(own)[1:], float(watts)))
        guess = np.full(BAND_SAMPLES, float(watts))
        for _ in range(BAND_STEPS):
            got = getattr(work_heat(drawn, wire, coil, guess, near=near), field)
            guess = guess * np.maximum((wanted - room) / (got - room), 0.1) ** 1.15
    except Fault:
        return watts, float("nan"), float("nan")
    band = band_of(watts, guess)
    return watts, band.low, band.high
