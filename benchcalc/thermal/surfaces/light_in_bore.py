"""What a hot end face shines down an open bore."""

import numpy as np

from ..network.curves import STEFAN_BOLTZMANN_W_M2K4


def light_in_bore(emissivity, diameter_m, hot_c, cold_c):
    """The most that a hot round face gives off into a bore: all of it reaches the far end, as in a bright bore.

    emissivity: of the face, 0 to 1. diameter_m: of the face, or of the bore where that is narrower. hot_c: of the face.
    cold_c: of the far end.
    Returns W.  Equation: P = emissivity sigma A (T1^4 - T2^4); Incropera et al., Fundamentals of Heat and Mass
    Transfer, eq. 1.7.
    """
    face = np.pi * diameter_m**2 / 4
    return emissivity * STEFAN_BOLTZMANN_W_M2K4 * face * ((hot_c + 273.15) ** 4 - (cold_c + 273.15) ** 4)
