"""A number with its band: nominal value and the central 90 % of what it may be."""

from dataclasses import dataclass

import numpy as np

CENTRAL_PERCENT = (5.0, 95.0)
MEDIAN_AND_ENDS = (CENTRAL_PERCENT[0], 50.0, CENTRAL_PERCENT[1])


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

    nominal: float. samples: array (n,). A sample that cannot be worked out (nan) may be anything: it counts below the
    low end and above the high end, so that it never makes the band narrower.
    Returns Band; low and high are nan where either of them would not be finite: the band is not known.
    """
    every = np.asarray(samples, dtype=float)
    if every.size and np.isfinite(every).all():
        return Band(float(nominal), *_percentiles(every))
    if every.size == 0:
        return Band(float(nominal), float("nan"), float("nan"))
    below, above = (np.sort(np.where(np.isnan(every), end, every)) for end in (-np.inf, np.inf))
    first, last = ((every.size - 1) * percent / 100 for percent in CENTRAL_PERCENT)
    low, high = float(below[int(np.floor(first))]), float(above[int(np.ceil(last))])
    known = np.isfinite([low, high]).all()
    return Band(float(nominal), *((low, high) if known else (float("nan"), float("nan"))))


def _percentiles(samples):
    """The two ends of the central share, straight between neighbours in order: what numpy.percentile gives, in a tenth
    of its time for a few hundred samples."""
    ordered, found = np.sort(samples, axis=None), []
    for percent in CENTRAL_PERCENT:
        at = percent / 100 * (ordered.size - 1)
        before = int(at)
        a, b = float(ordered[before]), float(ordered[min(before + 1, ordered.size - 1)])
        share = at - before
        found.append(a + (b - a) * share if share < 0.5 else b - (b - a) * (1 - share))
    return found


def draw(low, high, n, rng, *, spread="uniform", shared=None, middle=None):
    """Draw n samples between two ends.

    low, high: ends of the input, SI; equal ends give a constant.
    n: number of samples. rng: numpy random Generator.
    spread: "uniform", or "log" (uniform in the logarithm; needs low > 0).
    shared: (array (n,) in -1..1 that moves together with other readings of one instrument, share of the half width
    that moves with it, 0..1), or None; the rest is this reading's own.
    middle: what half of the samples lie above and half below, None for the middle between the ends; at an end, half
    of the samples are that end.
    Returns array (n,).  One sample of each n-th of the range, so that few of them cover it (McKay, Beckman and Conover,
    Technometrics 21 (1979) 239).
    """
    return placed(low, high, mixed(even(n, rng), shared), spread=spread, middle=middle)


def mixed(own, shared):
    """A reading's own place joined with what it shares with others of its instrument.

    own: array (n,), -1 to 1. shared: as draw, or None.
    Returns array (n,), -1 to 1.
    """
    if shared is None:
        return own
    together, share = shared
    return share * together + (1 - share) * own


def placed(low, high, place, *, spread="uniform", middle=None):
    """Values at places between two ends.

    low, high, spread, middle: as draw. place: array, -1 at low, 0 in the middle, 1 at high.
    Returns array.
    """
    scale, back = (np.log, np.exp) if spread == "log" else (float, np.asarray)
    ends = scale(low), scale(high)
    centre = sum(ends) / 2 if middle is None else scale(min(max(middle, low), high))
    return back(centre + np.where(place < 0, place * (centre - ends[0]), place * (ends[1] - centre)))


def apart(places):
    """The columns of a sample put in another order each, so that none goes with another by chance.

    places: array (n, k), of columns with a mean of about 0.
    Returns array (n, k), each column with its own values; unchanged where k is not well below n.
    Method: Iman and Conover, Commun. Statist. Simul. Comput. 11 (1982) 311.
    """
    n, k = places.shape
    if 1.6 * k > n:
        return places
    centred = places - places.mean(axis=0)
    chance = np.linalg.cholesky(np.corrcoef(centred, rowvar=False).reshape(k, k))
    wanted = np.linalg.solve(chance, (centred / centred.std(axis=0)).T).T
    found = np.empty_like(places)
    np.put_along_axis(found, np.argsort(wanted, axis=0), np.sort(places, axis=0), axis=0)
    return found


def even(n, rng):
    """One place in each n-th of -1 to 1, in no order.

    n: number of places, 1 or more. rng: numpy random Generator.
    Returns array (n,).
    """
    return 2 * (rng.permutation(n) + rng.uniform(0.0, 1.0, n)) / n - 1
