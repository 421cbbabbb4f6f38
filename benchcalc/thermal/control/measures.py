"""What a controlled run comes to: overshoot, ripple, steady error, duty; and the same of on-off in closed form."""

from dataclasses import dataclass

import numpy as np

SETTLED_SHARE = 0.5  # the last half of a run counts as settled
NEAR_K = 5.0
CALM_K, CALM_SHARE = 0.5, 0.25  # tops that move by less than this have settled


@dataclass(frozen=True)
class Measures:
    """Measures of a run.  top_c: hottest. overshoot_k: over the mean that it settles at. mean_c, ripple_k (peak to
    peak): of the last half. error_k: mean less the wanted temperature. ready_s: first within 5 K of the settled mean.
    duty: mean share of full power in the last half. drift_k: how far tops and bottoms still move between the last two
    quarters. slow_k: swing of the mean over a window, in the last quarter: what is not the window's own ripple."""

    top_c: float
    overshoot_k: float
    mean_c: float
    ripple_k: float
    error_k: float
    ready_s: float
    duty: float
    drift_k: float
    slow_k: float

    @property
    def settled(self):
        """Whether the run had come to rest, or to a swing that repeats, in the time watched."""
        return self.drift_k <= max(CALM_K, CALM_SHARE * self.ripple_k)


def measures_of(held, place, wanted_c, window_s=0.0):
    """Measures of one watched place of a run.

    held: Held. place: its name among those watched. wanted_c: degC. window_s: of the switching, 0 for on-off.
    Returns Measures.
    """
    time_s, temp_c = held.time_s, held.temp_c[place]
    late = time_s >= time_s[-1] * (1 - SETTLED_SHARE)
    mean = mean_over(time_s[late], temp_c[late])
    near = np.flatnonzero(temp_c >= mean - NEAR_K)
    ends, shares = time_s[1:], held.share[1:]
    lengths = np.diff(time_s)
    counted = ends > time_s[-1] * (1 - SETTLED_SHARE)
    return Measures(
        float(temp_c.max()),
        float(max(temp_c.max() - mean, 0.0)),
        mean,
        float(np.ptp(temp_c[late])),
        mean - wanted_c,
        float(time_s[near[0]]) if near.size else float("nan"),
        float((lengths * shares)[counted].sum() / lengths[counted].sum()),
        _drift(time_s, temp_c),
        _slow(time_s, temp_c, window_s),
    )


def _quarters(time_s, temp_c):
    """The last two quarters of a run, each (time_s, temp_c)."""
    for begin, end in ((0.5, 0.75), (0.75, 1.0)):
        inside = (time_s >= begin * time_s[-1]) & (time_s <= end * time_s[-1])
        yield time_s[inside], temp_c[inside]


def _drift(time_s, temp_c):
    (_, before), (_, after) = _quarters(time_s, temp_c)
    if not before.size or not after.size:
        return 0.0
    return float(max(abs(after.max() - before.max()), abs(after.min() - before.min())))


def _slow(time_s, temp_c, window_s):
    """Swing of the mean over a window in the last quarter, K; 0 where that holds fewer than two windows."""
    _, (late, values) = _quarters(time_s, temp_c)
    if window_s <= 0 or late.size < 3 or late[-1] - late[0] < 2 * window_s:
        return 0.0
    area = np.concatenate([[0.0], np.cumsum((values[1:] + values[:-1]) / 2 * np.diff(late))])
    ends = np.arange(late[-1], late[0] + window_s, -window_s)
    return float(np.ptp((np.interp(ends, late, area) - np.interp(ends - window_s, late, area)) / window_s))


def period_of(held):
    """How long one round of on and off takes in the last half of a run, s; nan where it does not switch twice there.

    held: Held.
    """
    on = np.flatnonzero(np.diff((held.share[1:] > 0).astype(int)) > 0)
    times = held.time_s[on + 1]
    times = times[times >= held.time_s[-1] * (1 - SETTLED_SHARE)]
    return float(np.diff(times).mean()) if times.size > 1 else float("nan")


def mean_over(time_s, values):
    """Mean of a curve over time, straight between its points.

    time_s: s (n,), rising, two at least. values: (n,).
    Returns float.
    """
    return float(np.sum((values[1:] + values[:-1]) / 2 * np.diff(time_s)) / (time_s[-1] - time_s[0]))
