"""The guess from two readings beside the fit of a whole log, and why the two part company."""

from dataclasses import dataclass

import numpy as np

from ...thermal.warmup.formulas import one_constant_end, reached, time_constant


@dataclass(frozen=True)
class TwoReadings:
    """What two readings at a time and at twice that time say: end_c, constant_s; nan where the rise does not slow."""

    end_c: float
    constant_s: float


def guess_of(start_c, step_s, rises_k):
    """The guess from two readings.

    start_c: before the power came. step_s: time of the first reading. rises_k: (K, K) over the start, at step_s and at
    twice that.
    Returns TwoReadings.
    """
    first_k, second_k = (float(x) for x in rises_k)
    if not first_k < second_k < 2 * first_k:
        return TwoReadings(float("nan"), float("nan"))
    settled_k = one_constant_end(first_k, second_k)
    return TwoReadings(start_c + settled_k, float(time_constant(step_s, first_k, settled_k)))


def smooth_guess(shape, step_s):
    """The same guess from the fitted curve, so without any scatter.  shape: Shape. step_s: as guess_of."""
    return guess_of(shape.start_c, step_s, shape.rise_k * reached(shape, np.array([step_s, 2 * step_s])))


def delay_of(shape):
    """How much later than by its slow constant alone a curve comes, by the area over it, s.  shape: Shape."""
    return float(shape.dead_s + (1 - shape.weight) * (shape.fast_s - shape.slow_s))
