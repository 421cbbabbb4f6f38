"""A temperature in still air beside one that counts on air which moves, where nobody read how the air moves."""

import numpy as np

from ...basics.names import say
from ...chain.heat.still_air import is_unread
from ...studies.still_air import in_still_air

NEAR_HAND = ("entry_c", "bore_c", "grip_c")  # a shut room makes these hotter, and wood and hand are there


def still_beside(build, heat, fields):
    """What still air makes of the places at the handle, to stand behind their values.

    build: Build. heat: its HeatPart, or None. fields: of HeatPart that are shown.
    Returns dict: field -> text such as "; in still air 114 degC"; without those that it does not make hotter. Empty
    where the sheet says how the air moves: then that is what counts.
    """
    asked = [f for f in fields if f in NEAR_HAND]
    if not asked or heat is None or heat.refused or not is_unread(build):
        return {}
    still, told = in_still_air(build), {}
    for field in asked if still is not None and not still.refused else ():
        now_c, still_c = getattr(heat, field), getattr(still, field)
        if np.isfinite([now_c, still_c]).all() and still_c > now_c:
            told[field] = f"; in still air {say(field, still_c, degrees=build.degrees)}"
    return told
