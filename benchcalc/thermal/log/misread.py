"""Readings that no warm-up can give: single ones, or two in a row, that stand out from what comes before and after.

At steady power, from cold, no place of a tool ever falls, and once it has begun to rise more slowly it goes on so
(a network of stores and conductances is cooperative: Farina and Rinaldi, Positive Linear Systems, 2000, from memory).
So a reading is looked for between its neighbours, and between the level and the slope that lead to it from either side.
One that lies outside all of these, while the rest goes on as if it were not there, was misread or mistyped.
"""

from dataclasses import dataclass

import numpy as np

SPIKE_K, NOISES = 5.0, 8.0  # a reading stands out by this much, and by so many times the scatter (own judgement)
HAND, HAND_SHARE = 20, 0.04  # fewer readings do not tell their scatter: then by this share of their span (the same);
# a mistyped last digit is lost in what hand and needle scatter, a mistyped ten is not
WIDEST, PASSES, AROUND = 2, 8, 4
BEYOND = 6**0.5  # a line through two scattered readings, drawn on by as much, and a third: 1 + 4 + 1 variances
MOST_SHARE = 0.25  # of the readings: with more that stand out, none is taken as misread


@dataclass(frozen=True)
class Misread:
    """Which readings are kept (n,), and places of those that stand out: inside, the first, the last."""

    good: np.ndarray
    first: bool
    last: bool


def misread(seconds, temps, watts=None):
    """Readings that stand out.

    seconds, temps: arrays (n,), in order of time. watts: power (n,), or None: then it is taken as steady.
    Returns Misread; the first reading is told and never left out, since the clock begins with it.
    """
    n = len(temps)
    good, first, last = np.ones(n, bool), False, False
    if n < 5:
        return Misread(good, first, last)
    limit_k = _limit(temps)
    for wide in range(1, WIDEST + 1):
        for _ in range(PASSES):
            at = np.flatnonzero(good)[int(first) :]
            runs = _standing_out(seconds[at], temps[at], wide, limit_k)
            if watts is not None:
                runs = [i for i in runs if not _switched(watts[at], i, wide)]
            if not runs:
                break
            for i in _worst_of_each(seconds[at], temps[at], runs, wide):
                if at[i] == 0:
                    first = True
                else:
                    good[at[i : i + wide]] = False
    if (~good).sum() > max(1, MOST_SHARE * n):
        return Misread(np.ones(n, bool), False, False)
    return Misread(good, first, not good[-1])


def _limit(temps):
    """How far a reading must stand out, K."""
    if len(temps) >= HAND:
        return max(SPIKE_K, NOISES * scatter(temps))
    return max(SPIKE_K, HAND_SHARE * float(np.ptp(temps)))


def scatter(temps):
    """Scatter of the readings (K) from their second differences, at least a thousandth of the span.

    temps: degC (n,), n at least 3.
    """
    bend = temps[:-2] - 2 * temps[1:-1] + temps[2:]
    return max(float(np.median(np.abs(bend - np.median(bend)))) / 0.6745 / np.sqrt(6), 1e-3 * np.ptp(temps), 1e-3)


def _standing_out(t, x, wide, limit_k):
    """Places where a run of so many readings lies outside all that leads to it, on one side, by the limit."""
    n = len(x) - wide + 1
    if n < 3:
        return []
    start = np.arange(n)
    before, after = start - 1, start + wide
    high, low = np.full(n, np.inf), np.full(n, np.inf)  # the least that the run lies above, and below, what is allowed
    for k in range(wide):
        at, here = t[k : k + n], x[k : k + n]
        for bottom, top, there in (
            _between(x, before, after, n),
            _led_to(t, x, at, before, before - 1, np.r_[False, False, np.ones(n - 2, bool)]),
            _led_to(t, x, at, after, after + 1, np.r_[np.ones(max(n - 2, 0), bool), False, False][:n]),
        ):
            high = np.where(there, np.minimum(high, here - top), high)
            low = np.where(there, np.minimum(low, bottom - here), low)
    found = (np.maximum(high, low) > limit_k) & np.isfinite(np.maximum(high, low))
    if wide == 1:
        found[0] &= high[0] > BEYOND * limit_k  # a first one that is low is a steep beginning
        found[-1] &= max(high[-1], low[-1]) > BEYOND * limit_k and _slowing(t, x, len(x) - 2)
        found[-1] &= high[-1] > low[-1] or x[-2] >= x[-3]  # a fall that has begun may well go on faster
    else:
        found[0] = found[-1] = False
    return [int(i) for i in np.flatnonzero(found)]


def _between(x, before, after, n):
    """Lowest and highest of the two neighbours of each run, and where both are there."""
    there = (before >= 0) & (after < len(x))
    one, other = x[np.maximum(before, 0)], x[np.minimum(after, len(x) - 1)]
    return np.minimum(one, other), np.maximum(one, other), there


def _led_to(t, x, at, near, far, there):
    """What a level and the slope before it lead to at other times.

    at: times (n,). near, far: places of the neighbour and of the one beyond it. there: where both are.
    Returns (lowest, highest, there).
    """
    near, far = np.clip(near, 0, len(x) - 1), np.clip(far, 0, len(x) - 1)
    step = np.where(there, t[near] - t[far], 1.0)
    led = x[near] + (x[near] - x[far]) / np.where(step == 0, 1.0, step) * (at - t[near])
    return np.minimum(x[near], led), np.maximum(x[near], led), there


def _slowing(t, x, last):
    """Whether the readings up to one change ever more slowly: only then does the next one say nothing new."""
    if last < 2:
        return False
    rate = np.abs(np.diff(x[last - 2 : last + 1]) / np.diff(t[last - 2 : last + 1]))
    return bool(rate[1] <= rate[0])


def _switched(watts, i, wide):
    """Whether the power changes about a run: then a jump may be true."""
    near = watts[max(i - 1, 0) : i + wide + 1]
    return bool(np.ptp(np.where(np.isfinite(near), near, 0.0)) > 0.02 * np.nanmax(watts, initial=0.0))


def _worst_of_each(t, x, runs, wide):
    """Of runs that touch, the one without which the slope goes on most steadily."""
    groups = [[runs[0]]]
    for i in runs[1:]:
        if i - groups[-1][-1] <= wide + 1:
            groups[-1].append(i)
        else:
            groups.append([i])
    return [_steadiest(t, x, group, wide) for group in groups]


def _steadiest(t, x, group, wide):
    a, b = max(group[0] - AROUND, 0), group[-1] + wide + AROUND

    def turns(i):
        rest = np.r_[a : max(i, a), i + wide : min(b, len(x))].astype(int)
        rate = np.diff(x[rest]) / np.diff(t[rest])
        return float(np.abs(np.diff(rate)).sum())

    return min(group, key=turns)
