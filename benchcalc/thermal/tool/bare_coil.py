"""A wound coil that lies in the air: what it settles at."""

import numpy as np

from ..network.curves import STEFAN_BOLTZMANN_W_M2K4
from ..surfaces.surface_loss import convection_of


def bare_coil(tool, power_w):
    """A coil in the air: a cylinder of its outer size that sheds its power by convection and radiation.

    tool: Tool. power_w: W.
    Returns degC, nan above 1500.  Equation: watts = area (convection + emissivity sigma (T^4 - room^4)).
    The inside of the coil and the brick are left out, so the real one runs a little cooler.
    """
    from scipy.optimize import brentq

    w, place = tool.winding, tool.place
    area = np.pi * w.outer_m * (w.to_m - w.from_m)

    def off(temp_c):
        convection = float(
            np.ravel(
                convection_of(
                    np.array([[temp_c]]), place.ambient_c, w.outer_m, place.air_speed_m_s, "lying", w.to_m - w.from_m
                )
            )[0]
        )
        radiation = w.emissivity * STEFAN_BOLTZMANN_W_M2K4 * ((temp_c + 273.15) ** 4 - (place.ambient_c + 273.15) ** 4)
        return area * (convection + radiation) - power_w

    return float(brentq(off, place.ambient_c, 1500.0)) if off(1500.0) > 0 else float("nan")
