"""The contact of a sliding fit: heat crosses the air of its clearance."""

import numpy as np

from ..network.curves import conductivity_at
from .paths import air

FILM_C = 150.0  # temperature at which the air of a clearance fit is taken
ROUGH_CENTRED_M, ROUGH_OFF_CENTRE_M = 3e-6, 5e-6
WIDEST_FIT_M = 3e-4  # radial clearance that still counts as a fit; beyond, the value of the table stands


def clearance_contact(clearance_m, off_centre, otherwise_w_m2k):
    """Contact conductance of a sliding fit through its air.

    clearance_m: radial clearance, m; nan or above 0.3 mm is no fit. off_centre: pushed to one side by
    a screw. otherwise_w_m2k: value where there is no clearance to go by.
    Returns W/(m2 K): k/(c + 3 um) centred, k/sqrt((c + 5 um)^2 - c^2) off-centre (own derivation).
    """
    gas = air()
    k = float(conductivity_at(gas, FILM_C))
    c = np.asarray(clearance_m, float)
    with np.errstate(invalid="ignore"):
        fit = k / np.sqrt((c + ROUGH_OFF_CENTRE_M) ** 2 - c**2) if off_centre else k / (c + ROUGH_CENTRED_M)
    return np.where((c > 0) & (c < WIDEST_FIT_M), fit, otherwise_w_m2k)
