"""What is fitted of a log: its power steps, and a switching-off that nobody wrote down; thinned where very long."""

import numpy as np

from ...basics.fault import fault
from ..warmup.curve import Data
from .cells import Remark
from .misread import HAND, NOISES, scatter

FEWEST = 5  # readings: with fewer there is nothing to fit
MOST_POINTS = 1500
LEAST_RISE_K = 3.0
FALL_SHARE = 0.08
FEWEST_FALLING = 3  # readings, the highest counted: with fewer nothing is said of a fall
AGAIN_K, AGAIN_SHARE = (
    5.0,
    0.1,
)  # a rise after a fall, in K and as a share of it, that scatter does not make (judgement)
STILL_WARM, FALLS_ON = 0.5, 0.1  # with more of the rise left than this, a tool without power goes on falling (the same)
OFF = "falls for good after {at}, its hottest reading: taken as switched off there"
NOT_OFF = (
    "falls after {at} and rises again or stays, as no tool without power does: not taken as switched off there. The "
    "power or the air changed, a control held it, or a reading is wrong; it cannot tell its end"
)
TO_AND_FRO = 1 / 3  # of the steps turn round, where chance turns two of three: with fewer they are no noise (the same)


def data_of(log, *, steps=None, until_s=None, cooling=False):
    """The Data to fit: all of a log, or its first part.

    log: WarmUpLog. steps: power ((time_s, W or share), ...), None for the log's own power column, or steady.
    until_s: s, use the log up to here; None for all of it. cooling: True where the log begins at switching off.
    Returns (Data, full power in W or None, list of Remark).  A log that falls for good without a power column is
    taken as switched off where it is hottest, which is said; one that rises again is not, which is said too.
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
        off, swings = _falls(log)
        steps = ((0.0, 1.0),) if off is None else ((0.0, 1.0), (off, 0.0))
        for at, said in ((swings, NOT_OFF), (off, OFF)):
            if at is not None:
                remarks.append(
                    Remark(0, said.format(at=f"{at:.0f} s ({at / 60:.1f} min)"), look=True, spoils=said is NOT_OFF)
                )
    keep = log.time_s <= (np.inf if until_s is None else until_s)
    if keep.sum() < FEWEST:
        where = "are all there are" if until_s is None else f"lie within the first {until_s:.0f} s"
        gone = "; ".join(str(r) for r in log.remarks if "left out" in r.text)[:400]
        cause = f"Before that: {gone}." if gone and until_s is None else ""
        raise fault(
            log.name, f"{keep.sum()} readings", f"{where}: a fit needs {FEWEST}.", cause, "Write down more points."
        )
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
    way = np.sign(steps[steps != 0])  # noise goes to and fro; a warm-up one way, and back when it is switched off
    noise = float(np.median(np.abs(steps))) if (way[1:] != way[:-1]).sum() >= TO_AND_FRO * steps.size else 0.0
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


def _falls(log):
    """Where a log without a power column falls: for good, as a tool without power does, and otherwise.

    Returns (time of its hottest reading in s where it then falls for good, or None; time in s of the reading from which
    it falls otherwise, or None).
    A tool without power never rises again, and goes on falling while most of its rise is left. One that does not had
    its power changed, or a draught, or holds a reading that is wrong.
    """
    time_s, temps, start_c = log.time_s, log.temp_c, float(np.median(log.temp_c[:3]))
    top, noise_k = int(np.argmax(temps)), NOISES * scatter(temps) if temps.size >= HAND else 0.0
    least_k = max(FALL_SHARE * (temps[top] - start_c) + 2 * log.resolution_k, noise_k)
    low_k = np.maximum.accumulate(temps[: top + 1]) - temps[: top + 1]
    dip, swings = int(np.argmax(low_k)), None
    if low_k[dip] > max(least_k, AGAIN_K):  # before its hottest reading: made good again
        swings = float(time_s[int(np.argmax(temps[:dip]))])
    after = temps[top:]
    fall_k, back_k = float(after[0] - after[-1]), float((after - np.minimum.accumulate(after)).max())
    if after.size < FEWEST_FALLING or max(fall_k, back_k) < least_k:
        return None, swings
    late = after[after.size - max(after.size // 3, 2) :]
    warm = after[-1] - start_c > STILL_WARM * (after[0] - start_c)
    stays = after.size > FEWEST_FALLING and warm and late[0] - late[-1] < FALLS_ON * fall_k
    if stays or back_k > max(AGAIN_K, AGAIN_SHARE * fall_k, noise_k):
        return None, float(time_s[top]) if swings is None else swings
    return float(time_s[top]), swings
