"""What is fitted of a log: its power steps, and a switching-off that nobody wrote down; thinned where very long."""

import numpy as np

from ...basics.fault import fault
from ..warmup.curve import Data
from .cells import Remark

FEWEST = 5  # readings: with fewer there is nothing to fit
MOST_POINTS = 1500
LEAST_RISE_K = 3.0
FALL_SHARE = 0.08
AGAINST = 0.2  # of the steps: with fewer that go against the rest, steps are no noise (own judgement)


def data_of(log, *, steps=None, until_s=None, cooling=False):
    """The Data to fit: all of a log, or its first part.

    log: WarmUpLog. steps: power ((time_s, W or share), ...), None for the log's own power column, or steady.
    until_s: s, use the log up to here; None for all of it. cooling: True where the log begins at switching off.
    Returns (Data, full power in W or None, list of Remark).  A log that falls for good without a power column is
    taken as switched off where it is hottest, which is said.
    Raises Fault: no rise at all, only cooling, too short a part.
    """
    remarks = []
    steps = log.steps if steps is None else tuple(steps)
    full_w = None
    if steps:
        full_w = max(w for _, w in steps)
        if not full_w > 0:
            raise fault(f"{log.name}, power", f"{full_w:g} W", "is never above zero: there is nothing that heats.")
        steps = tuple((t, w / full_w) for t, w in steps)
    _check_rise(log, cooling or (steps is not None and steps[0][1] == 0 and len(steps) == 1))
    if steps is None and not cooling:
        off = _switched_off(log)
        steps = ((0.0, 1.0),) if off is None else ((0.0, 1.0), (off, 0.0))
        if off is not None:
            remarks.append(Remark(0, f"falls for good after {off:.0f} s: taken as switched off there"))
    keep = log.time_s <= (np.inf if until_s is None else until_s)
    if keep.sum() < FEWEST:
        where = "are all there are" if until_s is None else f"lie within the first {until_s:.0f} s"
        raise fault(log.name, f"{keep.sum()} readings", f"{where}: a fit needs {FEWEST}.", do="Write down more points.")
    time, temp = log.time_s[keep], log.temp_c[keep]
    if time.size > MOST_POINTS:
        blocks = np.array_split(np.arange(time.size), MOST_POINTS)
        time, temp = (np.array([x[b].mean() for b in blocks]) for x in (time, temp))
        remarks.append(Remark(0, f"{keep.sum()} readings fitted as {MOST_POINTS} means of neighbours"))
    steps = tuple(s for s in (steps or ((0.0, 1.0),)) if s[0] < time[-1])
    return Data(time, temp, steps, log.resolution_k), full_w, remarks


def _check_rise(log, cooling):
    first = float(np.median(log.temp_c[:3]))
    steps = np.diff(log.temp_c)
    back = min((steps < 0).sum(), (steps > 0).sum())  # noise goes both ways; a few bold steps one way are a warm-up
    noise = float(np.median(np.abs(steps))) if back >= AGAINST * steps.size else 0.0
    least = max(LEAST_RISE_K, 4 * noise, 3 * log.resolution_k)
    rise, fall = float(log.temp_c[3:].max()) - first, first - float(log.temp_c.min())
    if cooling:
        if fall < least:
            raise fault(log.name, f"{fall:.1f} K", "is all it falls: there is no cooling to fit.")
        return
    if rise < least and fall < least:
        raise fault(
            log.name,
            f"{max(rise, 0):.1f} K",
            f"is all it rises; a fit needs {least:.0f} K or more.",
            "The power was off, the probe is not on the tool, or another channel is meant.",
            "Look at the channels named in the report.",
        )
    if rise < least:
        raise fault(
            log.name,
            f"falls by {fall:.0f} K",
            "and never rises: it only cools.",
            "A cooling curve tells time constants, but neither watts nor the settled temperature.",
            "Read it as cooling (cooling=True), or log a warm-up from cold.",
        )


def _switched_off(log):
    """Time (s) after which the log falls for good, or None."""
    top = int(np.argmax(log.temp_c))
    rise = log.temp_c[top] - np.median(log.temp_c[:3])
    after = log.temp_c[top:]
    if after.size < 4 or log.temp_c[top] - after[-1] < FALL_SHARE * rise + 2 * log.resolution_k:
        return None
    return float(log.time_s[top])
