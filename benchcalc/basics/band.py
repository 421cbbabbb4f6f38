"""A number with its band: nominal value and the central 90 % of what it may be."""

from dataclasses import dataclass

import numpy as np

CENTRAL_PERCENT = (5.0, 95.0)


@dataclass(frozen=True)
class Band:
    """Nominal value with the 5th and 95th percentile of its samples (same SI unit).

    >>> Band(20.1, 15.9, 24.6).high
    24.6
    """

    nominal: float
    low: float
    high: float


def band_of(nominal, samples):
    """The band of a nominal value from samples of the same quantity.

    nominal: float. samples: array (n,); entries that are not finite are left out.
    Returns Band; low and high are nan when no sample is finite.
    """
    good = np.asarray(samples, dtype=float)
    good = good[np.isfinite(good)]
    if good.size == 0:
        return Band(float(nominal), float("nan"), float("nan"))
    low, high = np.percentile(good, CENTRAL_PERCENT)
    return Band(float(nominal), float(low), float(high))


def draw(low, high, n, rng, *, spread="uniform", shared=None, share=0.0):
    """Draw n samples between two ends.

    low, high: ends of the input, SI; equal ends give a constant.
    n: number of samples. rng: numpy random Generator.
    spread: "uniform", or "log" (uniform in the logarithm; needs low > 0).
    shared: array (n,) in -1..1 that moves together with other readings of one instrument, or None.
    share: 0..1, part of the half width that moves with `shared`; the rest is this reading's own.
    Returns array (n,).
    """
    own = rng.uniform(-1.0, 1.0, n)
    if shared is not None:
        own = share * shared + (1 - share) * own
    if spread == "log":
        middle, half = np.log(low * high) / 2, np.log(high / low) / 2
        return np.exp(middle + half * own)
    return (low + high) / 2 + (high - low) / 2 * own
