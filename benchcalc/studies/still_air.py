"""The tool in still air, which an assumed room of moving air leaves out."""

from ..chain.heat.still_air import STILL_M_S, is_left_out
from ..chain.workings import chain
from ..sheet.build import Build
from ..sheet.change import change

__all__ = ["STILL_M_S", "in_still_air", "is_left_out"]


def in_still_air(build: Build):
    """The settled tool in air that does not move, all else as it stands.

    build: Build (floats).
    Returns HeatPart, or None, as the chain.

    >>> from benchcalc import load_chosen
    >>> press = load_chosen("insert_press")
    >>> in_still_air(press).entry_c > chain(press).heat.entry_c
    True
    """
    return chain(change(build, "room.air_speed_m_s", STILL_M_S)).heat
