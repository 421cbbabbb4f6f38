"""What a controlled run comes to: overshoot, ripple, steady error, duty; and the same of on-off in closed form."""

from dataclasses import dataclass

import numpy as np

SETTLED_SHARE = 0.5  # the last half of a run counts as settled
NEAR_K = 5.0
STILL_K = 1.0


@dataclass(frozen=True)
class Measures:
    """Measures of a run.  top_c: hottest. overshoot_k: over the mean that it settles at. mean_c, ripple_k (peak to
    peak): of the last half. error_k: mean less the wanted temperature. ready_s: first within 5 K of the settled mean.
    duty: mean share of full power in the last half. drift_k: mean of the last quarter less that of the one before it;
    what still drifts has not settled."""

    top_c: float
    overshoot_k: float
    mean_c: float
    ripple_k: float
    error_k: float
    ready_s: float
    duty: float
    drift_k: float

    @property
    def settled(self):
        """Whether it still moves by no more than a kelvin from quarter to quarter."""
        return abs(self.drift_k) <= STILL_K


def measures_of(held, place, wanted_c):
    """Measures of one watched place of a run.

    held: Held. place: its name among those watched. wanted_c: degC.
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
    )


def _drift(time_s, temp_c):
    """Mean of the last quarter of a run less that of the quarter before it."""
    middle, last = (np.linspace(a * time_s[-1], b * time_s[-1], 400) for a, b in ((0.5, 0.75), (0.75, 1.0)))
    return float(np.interp(last, time_s, temp_c).mean() - np.interp(middle, time_s, temp_c).mean())


def mean_over(time_s, values):
    """Mean of a curve over time, straight between its points.

    time_s: s (n,), rising, two at least. values: (n,).
    Returns float.
    """
    return float(np.sum((values[1:] + values[:-1]) / 2 * np.diff(time_s)) / (time_s[-1] - time_s[0]))


@dataclass(frozen=True)
class Cycle:
    """The cycle that on-off settles to: top and bottom, degC; period, s; share of the time that is on."""

    top_c: float
    bottom_c: float
    period_s: float
    duty: float


def on_off_cycle(shape, law):
    """The cycle of on-off on a first-order tool with dead time, in closed form.

    shape: (off_c, full_c, constant_s, dead_s): where the tool settles without and with full power, its time constant
    and dead time. law: Law of kind on-off, its switching temperatures strictly between the two; dead_s or its band
    above 0.
    Returns Cycle.
    Equation: exponentials joined at the switchings; with no band and the set point half way it is Tsypkin's result for
    a relay, half amplitude (full - off)/2 (1 - exp(-dead/constant)), period 2 constant ln(2 exp(dead/constant) - 1);
    Astrom and Hagglund, Advanced PID Control, relay feedback (from memory).
    """
    off_c, full_c, constant_s, dead_s = shape
    high, low = law.set_c + law.band_k / 2, law.set_c - law.band_k / 2
    left = np.exp(-dead_s / constant_s)
    top = full_c + (high - full_c) * left
    bottom = off_c + (low - off_c) * left
    up_s = constant_s * np.log((full_c - bottom) / (full_c - high)) + dead_s
    down_s = constant_s * np.log((top - off_c) / (low - off_c)) + dead_s
    return Cycle(float(top), float(bottom), float(up_s + down_s), float(up_s / (up_s + down_s)))
