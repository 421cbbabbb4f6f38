"""Where on the tube it is as hot as asked, and when a place is: read off a warm-up with its bands."""

import numpy as np

from ..basics.band import CENTRAL_PERCENT, Band
from ..basics.fault import fault
from ..chain.heat.in_time import time_to


def _middle(values):
    """Low and high of the central part of values that may be infinite, or nan: those may be anything."""
    ends = []
    for percent, unknown in zip(CENTRAL_PERCENT, (-np.inf, np.inf)):
        order = np.sort(np.where(np.isnan(values), unknown, values))
        ends.append(float(order[round(percent / 100 * (order.size - 1))]))
    return tuple(ends)


def front_of(spread, temp_c, time_s=np.inf):
    """Where on the tube it is as hot as this: how far from its hottest place the warm front has come, under the handle
    too.

    spread: SpreadInTime. temp_c: degC. time_s: s after switching on, or inf for the settled tool.
    Returns Band of places, m from the tip; nan: nowhere so hot yet, inf: to the end of the tube.  Past `bare_m` it is
    the tube under the handle; the wood that lies on it may be as hot.  Without bands all three are one.
    Raises Fault: no tube, a time beyond the run.
    """
    if spread.tube_m.size == 0:
        raise fault("place of a temperature", "", "needs a part with the role tube.")
    if not np.isinf(time_s) and not 0 <= time_s <= spread.run.time_s[-1]:
        raise fault("place of a temperature", f"{time_s:g} s", f"lies outside 0 to {spread.run.time_s[-1]:g} s.")
    nominal, many = spread.tube_at(time_s)
    at = _front(spread.tube_m, nominal[None], temp_c)[0]
    low, high = _middle(_front(spread.tube_m, many, temp_c)) if spread.ranged else (at, at)
    return Band(*(np.nan if x == -np.inf else float(x) for x in (at, min(low, at), max(high, at))))


def _front(places_m, temps_c, temp_c):
    """Last place of each row (n, p) that is as hot; -inf: none, inf: all."""
    warm = temps_c >= temp_c
    last = places_m.size - 1 - np.argmax(warm[:, ::-1], axis=1)
    rows = np.arange(len(temps_c))
    after = np.minimum(last + 1, places_m.size - 1)
    fall = temps_c[rows, last] - temps_c[rows, after]
    share = np.where(fall > 0, (temps_c[rows, last] - temp_c) / np.where(fall > 0, fall, 1.0), 0.0)
    found = places_m[last] + share * (places_m[after] - places_m[last])
    found = np.where(np.isnan(temps_c).any(axis=1), np.nan, found)
    ends = np.where(~warm.any(axis=1), -np.inf, np.where(last == places_m.size - 1, np.inf, found))
    return np.where(np.isnan(found), np.nan, ends)


def ready_after(spread, temp_c, field="tip_c"):
    """When a place is as hot as this.

    spread: SpreadInTime. temp_c: degC. field: one of FIELDS.
    Returns (Band of s; inf: not within the run, chance that it ever gets there, 0 to 1).  Without bands the ends are
    nan, and the chance is that of the nominal tool.
    """
    nominal, many = getattr(spread.run, field), spread.samples[field]
    settled = spread.settled_samples[field]
    times = np.array([time_to(spread.run.time_s, many[:, i], temp_c) for i in range(many.shape[1])])
    at = time_to(spread.run.time_s, nominal, temp_c)
    at = np.inf if np.isnan(at) else at
    if not spread.ranged:
        return Band(at, np.nan, np.nan), float(spread.settled[field] >= temp_c)
    low, high = _middle(np.where(np.isnan(settled), np.nan, np.where(np.isnan(times), np.inf, times)))
    return Band(at, max(min(low, at), 0.0), max(high, at)), float(np.mean(settled >= temp_c))


def settled_after(spread, field="entry_c", left=0.1):
    """When a place has come within a share of its last rise.

    spread: SpreadInTime. field: one of FIELDS. left: share still missing, above 0 to below 1.
    Returns Band of s; inf: not within the run.
    """

    def when(time_s, values, end):
        found = time_to(time_s, values, values[0] + (1 - left) * (end - values[0]))
        return np.inf if np.isnan(found) else found

    many, ends = spread.samples[field], spread.settled_samples[field]
    at = when(spread.run.time_s, getattr(spread.run, field), spread.settled[field])
    if not spread.ranged:
        return Band(at, np.nan, np.nan)
    whens = [when(spread.run.time_s, many[:, i], ends[i]) for i in range(ends.size)]
    low, high = _middle(np.where(np.isnan(ends), np.nan, np.array(whens)))
    return Band(at, max(min(low, at), 0.0), max(high, at))
