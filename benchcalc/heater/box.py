"""The box round a transformer and its switch: how much warmer its air gets, closed or with vents."""

import numpy as np

from ..basics.fault import fault
from .soak import box_rise

GRAVITY_M_S2 = 9.80665
VENT = 0.6  # discharge coefficient of a sharp-edged opening (textbook value, from memory)
AIR_J_M3K_AT_K = 1.19 * 1006 * 296.5  # density times specific heat times absolute temperature, near 20 degC


def vented_rise(loss_w, box_m2, vent_m2, height_m, room_c=25.0, loss_w_m2k=5.0):
    """How much warmer the air gets in a box with a vent low down and a like one at the top.

    loss_w: heat made inside, W, at least 0. box_m2: outside of the box, all faces that see the room. vent_m2: free area
    of each of the two vents, 0 for a closed box. height_m: from the middle of the lower vent to that of the upper.
    room_c: degC. loss_w_m2k: W/(m2 K) through the walls, as `soak.box_rise`.
    Returns K.  Still air outside, no fan, no sun, nothing in the way of the air; a grille halves the free area.
    Raises Fault: sizes below zero, no box.
    Equation: P = h A dT + Q rho c dT, with the flow of the stack effect Q = C A_v/sqrt(2) sqrt(2 g H dT / T) through
    two equal openings in a row; ASHRAE Handbook, Fundamentals, chapter on ventilation (from memory).
    """
    if not box_m2 > 0 or min(loss_w, vent_m2, height_m) < 0:
        raise fault("box", f"{box_m2:g} m2", "must have an outside above 0, and vents and watts of 0 or more.")
    closed_k = box_rise(loss_w, box_m2, loss_w_m2k)
    if vent_m2 * height_m == 0 or loss_w == 0:
        return float(closed_k)
    from scipy.optimize import brentq

    def left(rise_k):
        inside_k = room_c + 273.15 + rise_k
        flow_m3_s = VENT * vent_m2 / np.sqrt(2) * np.sqrt(2 * GRAVITY_M_S2 * height_m * rise_k / inside_k)
        return loss_w - loss_w_m2k * box_m2 * rise_k - flow_m3_s * AIR_J_M3K_AT_K / inside_k * rise_k

    return float(brentq(left, 0.0, closed_k, xtol=1e-9))
