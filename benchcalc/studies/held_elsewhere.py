"""What to dial so that what is held is at a temperature, and the band of the watts that hold it."""

import numpy as np

from ..basics.band import CENTRAL_PERCENT
from ..basics.fault import Fault
from ..chain.heat.link import work_heat
from ..chain.workings import links, settled
from ..sheet.change import sample
from ..thermal.control.seated import SENSOR
from .holding import holding, set_elsewhere

BAND_SAMPLES, BAND_STEPS = 48, 3


def dial_for(control, wanted_c):
    """Reading at which what is held is at a temperature.

    control: ControlPart with its standing. wanted_c: degC.
    Returns degC at the sensor, nan where it is out of reach.
    """
    from scipy.optimize import brentq

    standing, place = control.standing, control.place
    nodes, weights = standing.seat.watch[place]

    def off(share):
        return float(standing.settled(share)[list(nodes)] @ np.array(weights)) - wanted_c

    if off(1.0) < 0 or off(1e-6) > 0:
        return float("nan")
    share = brentq(off, 1e-6, 1.0, xtol=1e-5)
    return float(standing.settled(share)[standing.seat.watch[SENSOR][0][0]])


def hold_band(build, found):
    """Watts that hold the tip, with the band that the sheet's doubts leave.

    build: Build with a controller. found: its HeldTool.
    Returns (mean W, low, high); the band is nan where many designs cannot be solved side by side.
    Method: three secant steps on samples; 5th and 95th percentile.
    """
    watts, wanted = found.control.hold_w, found.control.held_c
    field = "work_c" if found.control.place == "work" else "tip_c"
    try:
        drawn = sample(settled(build), BAND_SAMPLES)
        _, wire, coil = links(drawn)
        room = np.broadcast_to(drawn.room.ambient_c, BAND_SAMPLES)
        guess = np.full(BAND_SAMPLES, float(watts))
        for _ in range(BAND_STEPS):
            got = getattr(work_heat(drawn, wire, coil, guess), field)
            guess = guess * np.maximum((wanted - room) / (got - room), 0.1) ** 1.15
    except Fault:
        return watts, float("nan"), float("nan")
    low, high = np.percentile(guess, CENTRAL_PERCENT)
    return watts, float(low), float(high)


def for_wanted(build, wanted_c):
    """The build with the dial turned so that what is held is really at a temperature.

    build: Build with a controller. wanted_c: degC.
    Returns (Build, reading to dial in degC, nan where it is out of reach).
    """
    found = holding(build)
    dial = (
        dial_for(found.control, wanted_c)
        if found.control is not None and found.control.standing is not None
        else float("nan")
    )
    return (set_elsewhere(build, dial) if np.isfinite(dial) else build), dial
