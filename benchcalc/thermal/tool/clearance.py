"""Air between two round surfaces: one law from a tight fit to a wide gap, on the axis or pushed to one side."""

import numpy as np

from ...basics.tables import one
from ..network.curves import conductivity_at
from .paths import air

FILM_C = 150.0  # temperature at which the air of a clearance fit is taken
ROUGH_CENTRED_M, ROUGH_OFF_CENTRE_M = 3e-6, 5e-6
THINNEST_M = 1e-9


def gap_conductance(air_m, rough_m, eccentricity, gas_w_mk, layer_m2k_w=0.0):
    """Conductance of an air gap round a rod, with what lies in series with it, per area.

    air_m: mean radial gap, 0 or more. rough_m: closest distance of two surfaces that touch: roughness and the jump of
    temperature at a wall, above 0. eccentricity: 0 on the axis, 1 pushed until the surfaces touch. gas_w_mk: of the
    air. layer_m2k_w: resistance of a layer that covers one of the two surfaces, by area.
    Returns gap_w_m2k.  Falls with the gap and with the layer, rises with the eccentricity.
    Equation: mean round the circle of 1/(R + (d + g - e d cos angle)/k), which is 1/sqrt(A^2 - B^2) (Gradshteyn and
    Ryzhik, Table of Integrals, 3.613.1 with n = 0); for no layer and no roughness within 3 % of the eccentric cylinders
    of Incropera et al., Table 4.1, case 7, up to a bore of twice the rod.  The roughness adds to the gap as in
    Yovanovich, Thermal contact correlations, AIAA 81-1164 (1981).
    """
    centred_m2k_w = layer_m2k_w + (air_m + rough_m) / gas_w_mk
    swing_m2k_w = eccentricity * air_m / gas_w_mk
    gap_w_m2k = 1 / np.sqrt(centred_m2k_w**2 - swing_m2k_w**2)
    return gap_w_m2k


def ring_gap(inner_m, outer_m, eccentricity, gas_w_mk, layer_mk_w=0.0):
    """The air alone in the ring between a rod and its bore, in series with layers on one of them.

    inner_m, outer_m: radii; a bore that is no larger than the rod touches all round, and where there is no rod, of
    radius 0, nothing is conducted to it. eccentricity: 0 to 1. gas_w_mk:
    of the air, where layers lie in series. layer_mk_w: resistance of those layers by length.
    Returns (shape, radius_m): conductance of the air per length over its conductivity, and the mean radius.
    Assumes a rod, a layer and a bore each of one temperature round the circle.
    """
    gap = np.maximum(outer_m - inner_m, 0.0)
    with np.errstate(divide="ignore"):
        radius = np.maximum(gap, THINNEST_M) / np.log1p(np.maximum(gap, THINNEST_M) / inner_m)
        around = 2 * np.pi * radius
        whole = around * gap_conductance(gap, ROUGH_OFF_CENTRE_M, eccentricity, gas_w_mk, layer_mk_w * around)
        return 1 / (1 / whole - layer_mk_w) / gas_w_mk, radius


def clearance_contact(clearance_m, off_centre, otherwise_w_m2k):
    """Contact conductance of a sliding fit through its air.

    clearance_m: radial clearance, m; nan is no fit. off_centre: pushed to one side by
    a screw. otherwise_w_m2k: value where there is no clearance to go by.
    Returns W/(m2 K): gap_conductance, on the axis or pushed until the surfaces touch.  A fit that slides has some air
    round it: less than joint.gap_m of data/defaults.csv at its lower end counts as that, so that equal diameters are a
    close fit.
    """
    k = float(conductivity_at(air(), FILM_C))
    c = np.maximum(np.asarray(clearance_m, float), one("defaults", "key", "joint.gap_m")["low"])
    rough_m, eccentricity = (ROUGH_OFF_CENTRE_M, 1.0) if off_centre else (ROUGH_CENTRED_M, 0.0)
    return np.where(np.isnan(c), otherwise_w_m2k, gap_conductance(c, rough_m, eccentricity, k))
