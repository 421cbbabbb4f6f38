"""The settled tool in still air, which an assumed room of moving air leaves out: a shut workshop has no draught."""

from dataclasses import dataclass

import numpy as np

from ...basics.band import Band
from ...basics.names import say
from ...sheet.build import Build
from ...sheet.change import change
from ...sheet.key import ASSUMED
from ...sheet.learned_together import LEARNED
from .link import work_heat
from .part import HeatPart

STILL_M_S, AIR = 0.0, "room.air_speed_m_s"


def is_left_out(build: Build) -> bool:
    """Whether the ranges of a build leave still air out.

    build: Build (floats).
    """
    known = build.known.get(AIR)
    return (build.room.air_speed_m_s if known is None else known.low) > STILL_M_S


@dataclass(frozen=True, eq=False)
class StillAir:
    """A tool in air that does not move.  heat: HeatPart. degrees, units: of the sheet."""

    heat: HeatPart
    degrees: str = "C"
    units: str = "metric"

    def reach(self, field, value_c, band):
        """A band that reaches to still air too, never narrower.

        field: of HeatPart. value_c: degC. band: Band, or None.
        Returns Band, or None.
        """
        still_c = getattr(self.heat, field)
        if band is None or not np.isfinite([value_c, still_c]).all() or not still_c > band.high:
            return band
        return Band(band.nominal, band.low, float(still_c))

    def words(self, field, value_c, air_m_s):
        """What still air does to a place, in a sentence.  field, value_c: as reach. air_m_s: that counts now."""
        still_c = getattr(self.heat, field)
        if not np.isfinite([value_c, still_c]).all() or not still_c > value_c:
            return ""
        still, air = say(field, still_c, degrees=self.degrees), say("air_speed_m_s", air_m_s, units=self.units)
        return f" It counts on air that moves at {air}, which nobody read; in still air it is {still}."


def is_unread(build: Build) -> bool:
    """Whether nobody read how the air moves, and the ranges leave stillness out.  build: Build (floats)."""
    known = build.known.get(AIR)
    return known is not None and known.how in (ASSUMED, LEARNED) and is_left_out(build)


def still_air_of(build: Build, wire, coil, heat, power_w=None) -> StillAir | None:
    """The tool in still air where nobody read how the air moves, and the ranges leave stillness out.

    build: Build (floats). wire, coil, heat: parts of the chain. power_w: as work_heat.
    Returns StillAir, None where the sheet itself says how the air moves, or no heat can be worked out.
    """
    if not is_unread(build):
        return None
    if heat is None or heat.refused or coil is None or np.ndim(heat.tip_c):
        return None
    still = work_heat(change(build, AIR, STILL_M_S), wire, coil, power_w)
    return None if still is None or still.refused else StillAir(still, build.degrees, build.units)
