"""How far a hung wire sags: slack between fixed ends, taut under a weight, and where something hangs on it.

All three are shallow: a sag beyond a tenth of the span comes out too small.
"""

import numpy as np


def slack_sag(length_m, grown_m):
    """Sag of a wire that has grown between ends that hold still.

    length_m: between the ends, above 0. grown_m: by how much it is longer, 0 or more, small beside length_m.
    Returns sag_m.  Equation: a parabola of length L + dL over L sags by sqrt(3 L dL / 8); the shallow cable, Irvine,
    Cable Structures, ch. 1 (from memory).
    """
    sag_m = np.sqrt(3 * length_m * grown_m / 8)
    return sag_m


def taut_sag(length_m, newton_m, pull_n):
    """Sag of a wire under its own weight.

    length_m: between supports, above 0. newton_m: its weight, N for each metre. pull_n: that holds it, N, above 0.
    Returns sag_m.  Equation: w L^2 / (8 F), the shallow cable; Irvine, Cable Structures, ch. 1 (from memory).
    """
    sag_m = newton_m * length_m**2 / (8 * pull_n)
    return sag_m


def hung_weight_sag(mass_kg, pull_kg, at_m, span_m):
    """How far a taut wire without weight of its own sags where something hangs on it.

    mass_kg: of what hangs, 0 or more. pull_kg: of the weight that pulls the wire taut, above 0. at_m: from one end,
    within span_m. span_m: between the ends.
    Returns sag_m.  Equation: balance of a point weight on a taut string, y = m a (L - a) / (M L).
    """
    sag_m = mass_kg / pull_kg * at_m * (span_m - at_m) / span_m
    return sag_m
