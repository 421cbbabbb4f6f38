"""The band of a place through the hour, from a few runs through time and many draws of the settled tool."""

from functools import lru_cache

import numpy as np

from ...basics.band import MEDIAN_AND_ENDS
from .calibrate import Calibration
from .trial_tool import PLACES


@lru_cache(maxsize=64)
def hour_band(found: Calibration, place, which="after"):
    """Middle and 90 % band of a place at each moment of the hour.

    found: Calibration with hours run, two dozen or more. place: one of PLACES. which: "before" or "after" the readings.
    Returns degC (3, times): low end, middle, high end; not to be written to.
    Method: at each moment a straight line through the hours over where the same tools settle; read at where every draw
    settles, with what the line leaves of each hour added to each (Duan, Smearing estimate: a nonparametric
    retransformation method, J. American Statistical Association 78 (1983) 605, from memory).  Once settled it is the
    band of all draws.
    Of two dozen hours an end so misses that of four hundred, at its worst moment, by 5 % of the widest band on average
    and by 10 % in one of twenty; percentiles of the hours alone by 15 and 25 %, mostly too narrow (tip, wire and handle
    entry of the two demos in which nothing melts).  While wax melts it is 10 and 19 % against 16 and 31.
    """
    i = PLACES.index(place)
    hours_c, settled_c = (
        (found.hour_before_c, found.settled_before_c)
        if which == "before"
        else (found.hour_after_c, found.settled_after_c)
    )
    hours_c, every_k = hours_c[:, :, i], settled_c[:, i] - settled_c[: len(hours_c), i].mean()
    own_k = every_k[: len(hours_c)]
    size = own_k @ own_k
    slope = own_k @ hours_c / size if size > 0 else np.zeros(hours_c.shape[1])
    left_c = (hours_c - np.outer(own_k, slope)).T
    return np.array([np.percentile(s * every_k[:, None] + left, MEDIAN_AND_ENDS) for s, left in zip(slope, left_c)]).T
