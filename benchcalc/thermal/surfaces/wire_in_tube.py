"""A thin wire in the middle of a bare tube: what closing it does to its temperature."""

from dataclasses import dataclass, replace

import numpy as np

from ...basics.fault import fault
from ..network.curves import STEFAN_BOLTZMANN_W_M2K4
from .bare_wire import MOST_C, STILL_AIR, heat_shed
from .surface_loss import air_at


@dataclass(frozen=True)
class Closed:
    """A tube round the wire.  inner_m, outer_m: diameters. emissivity: of both its faces."""

    inner_m: float
    outer_m: float
    emissivity: float = 0.7


def between_faces(wire_c, tube_c, diameter_m, wire_emissivity, tube):
    """Heat that each metre of wire passes to the tube round it.

    wire_c, tube_c: degC. diameter_m: of the wire. wire_emissivity: 0 to 1. tube: Closed.
    Returns W/m: conduction of the air, and radiation.
    Equations: 2 pi k dT / ln(D/d), air at the mean temperature, Incropera et al., eq. 3.32; radiation between long
    cylinders, eq. 13.20.  Limits: a tube below some 15 mm, where the air inside does not stir (Rayleigh number by the
    gap below about 1700); wire in the middle: off it, it is cooler.
    """
    k, _, _ = air_at((wire_c + tube_c) / 2)
    air_w_m = 2 * np.pi * k * (wire_c - tube_c) / np.log(tube.inner_m / diameter_m)
    seen = 1 / wire_emissivity + diameter_m / tube.inner_m * (1 / tube.emissivity - 1)
    fourth = (wire_c + 273.15) ** 4 - (tube_c + 273.15) ** 4
    return air_w_m + STEFAN_BOLTZMANN_W_M2K4 * np.pi * diameter_m * fourth / seen


def wire_in_tube(wire_w_m, diameter_m, tube, around=STILL_AIR):
    """Settled temperatures of a long wire in the middle of a long tube.

    wire_w_m: heat made in each metre of wire, above 0. diameter_m: of the wire. tube: Closed. around: Surroundings of
    the tube; its emissivity is the wire's.
    Returns (wire_c, tube_c), degC; nan for what is above 1400 degC.
    Raises Fault: a wire that does not go into the tube, a tube without a wall.
    Method: the tube sheds what the wire makes (bare_wire.heat_shed), then the wire passes it; both by scipy's brentq.
    """
    from scipy.optimize import brentq

    if not 0 < diameter_m < tube.inner_m < tube.outer_m:
        raise fault("tube", f"{tube.inner_m * 1e3:g} mm inside", "must be wider than the wire and have a wall.")
    outside = replace(around, emissivity=tube.emissivity)

    def shed(tube_c):
        return sum(heat_shed(tube_c, tube.outer_m, outside)) - wire_w_m

    def over(wire_c):
        return between_faces(wire_c, tube_c, diameter_m, around.emissivity, tube) - wire_w_m

    if shed(MOST_C) < 0:
        return float("nan"), float("nan")
    tube_c = float(brentq(shed, around.ambient_c, MOST_C))
    return float("nan") if over(MOST_C) < 0 else float(brentq(over, tube_c, MOST_C)), tube_c
