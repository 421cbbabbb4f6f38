"""Where the hours of a soak lead: the outer band of a warm-up fit, since a transformer has a fast and a slow part."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from ...basics.fault import Fault
from ...thermal.warmup.curve import Data
from ...thermal.warmup.forecast import forecast
from ...thermal.warmup.formulas import Shape, curve

ENOUGH = 2 / 3  # of the highest end that the readings allow; with less a test is too short


@dataclass(frozen=True)
class SoakEnd:
    """Where a winding's rise ends.

    rise_k: by the fit chosen; low_k, high_k: outer band, for a slow part that still hides. reached: last reading over
    rise_k. enough: whether it is two thirds of high_k. shape: Shape of the fit.
    """

    rise_k: float
    low_k: float
    high_k: float
    reached: float
    enough: bool
    shape: Shape

    def rises(self, times_s):
        """Rise over time.  times_s: s (n,).  Returns K (n,)."""
        return curve(self.shape, np.asarray(times_s, float), ((0.0, 1.0),))


@lru_cache(maxsize=64)
def end_of_hours(times_s, rises_k, counts_k=0.0):
    """The rise that a warming transformer is heading for.

    times_s, rises_k: tuples of times under load, s, above 0, and of rises then, K, three or more. counts_k: what the
    meter's last digits are worth, K.
    Returns SoakEnd, or None where there are too few readings or no curve fits them.
    Assumes load and room unchanged; the winding starts at the room's temperature.
    Method: thermal.warmup.forecast, outer band.
    """
    if len(set(times_s)) < 3:
        return None
    try:
        found = forecast(Data(np.array((0.0, *times_s)), np.array((0.0, *rises_k)), resolution_k=counts_k))
    except Fault:
        return None
    rise, low, high = found.shape.end_c, min(found.low_c, found.wide_low_c), max(found.high_c, found.wide_high_c)
    last = rises_k[int(np.argmax(times_s))]
    return SoakEnd(rise, low, high, last / rise, last >= ENOUGH * high, found.shape)
