"""How much a reading would firm what follows from it, told before it is taken, from the samples behind the bands."""

from dataclasses import dataclass

import numpy as np

from ...basics.band import CENTRAL_PERCENT

DEGREES = (1, 2, 3, 5, 8)  # of the curve through the samples; the fewest that predict best are taken
READINGS, WITHIN = 48, 8  # readings tried, and values within the error of each
LEAST_SAMPLES = 40
BY_CHANCE = 3.0  # a curve that explains less than this times what chance would is no curve


@dataclass(frozen=True, eq=False)
class Target:
    """What a reading tells: samples (d, n), half its error in each sample (d, n), ends (d, 2) of what it may be before
    it is read, all SI; logs (d,): drawn by the logarithm."""

    known: np.ndarray
    error: np.ndarray
    ends: np.ndarray
    logs: np.ndarray


@dataclass(frozen=True, eq=False)
class Firmed:
    """What a reading would do to each of v outcomes.  told: share of the doubt whether the outcome lies below 0 that it
    is expected to take away (v,), 0 to 1. left: width of the 90 % band then, over today's (v,), on the average.
    settled: chance that the whole band then lies on one side of 0 (v,). truths: samples that stood for the truth
    (readings,). bands: the ends after each of these readings (2, readings, v)."""

    told: np.ndarray
    left: np.ndarray
    settled: np.ndarray
    truths: np.ndarray
    bands: np.ndarray

    def typical(self, outcomes):
        """Ends of the band after the reading in the middle of all, for each outcome.  outcomes: as given to firmed_by.
        Returns (2, v)."""
        order = np.argsort(self.bands.mean(axis=0), axis=0)[len(self.truths) // 2]
        return self.bands[:, order, np.arange(len(outcomes))]


def firmed_by(target: Target, outcomes: np.ndarray, seed: int = 1) -> Firmed | None:
    """What a reading would do to outcomes of the same samples: the bands and chances expected after it.

    target: Target. outcomes: samples (v, n), finite, SI; what is asked of each is whether it lies below 0. seed: whole
    number.
    Returns Firmed; None for fewer than 40 samples.
    Method: each outcome is a smooth curve of what is read, by least squares, and a rest that does not depend on it;
    a reading narrows what stands in the curve to its own error and leaves the rest as wide as it was.  The curve is
    the regression estimate of the mean given the input (Strong, Oakley and Brennan, Medical Decision Making 34 (2014)
    311; Oakley and O'Hara, J. R. Statist. Soc. B 66 (2004) 751, both from memory), its degree by generalised
    cross-validation (Golub, Heath and Wahba, Technometrics 21 (1979) 215, from memory).
    Limits: what the input does together with others counts as rest; a rest that is wider at one end of the input than
    at the other is taken as even, so that of a limit far out, passed by one sample in twenty, as little as half of the
    doubt that it takes away is told; of several values read at once, only lines and parabolas of each.
    """
    n = target.known.shape[1]
    if n < LEAST_SAMPLES:
        return None
    truths, after = _after(target, np.random.default_rng(seed))
    curve, rest = _curves(target, outcomes, after)
    rest = np.sort(rest, axis=1)
    chances = np.empty((after.shape[0], len(outcomes)))
    now = np.percentile(outcomes, CENTRAL_PERCENT, axis=1)
    ends = np.repeat(now[:, None, :], after.shape[0], axis=1)  # where nothing is told, all stays as it is
    for v in range(len(outcomes)):
        chances[:, v] = np.searchsorted(rest[v], -curve[v], "left").mean(axis=1) / n
        if not np.ptp(curve[v]):
            continue
        whole = (curve[v][:, :, None] + rest[v][None, None, :: max(1, n // 100)]).reshape(after.shape[0], -1)
        ends[:, :, v] = np.percentile(whole, CENTRAL_PERCENT, axis=1)
    today = now[1] - now[0]
    left = np.minimum((ends[1] - ends[0]).mean(axis=0) / np.where(today > 0, today, np.inf), 1.0)
    mean = chances.mean(axis=0)
    even = np.where((mean > 0) & (mean < 1), mean * (1 - mean), np.inf)
    settled = ((ends[0] > 0) | (ends[1] < 0)).mean(axis=0)
    return Firmed(chances.var(axis=0) / even, left, settled, truths, ends)


def _after(target, rng):
    """Samples that stand for the truth, and what may still be true after a reading of each (readings, values, d)."""
    d, n = target.known.shape
    picked = np.linspace(0, n - 1, min(READINGS, n)).round().astype(int)
    picked = np.argsort(target.known[0])[picked]  # all over the range
    truth, error = target.known[:, picked], target.error[:, picked]
    read = truth + error * rng.uniform(-1, 1, truth.shape)
    low = np.clip(read - error, target.ends[:, :1], target.ends[:, 1:])
    high = np.clip(read + error, target.ends[:, :1], target.ends[:, 1:])
    even = (np.arange(WITHIN) + 0.5) / WITHIN
    places = np.stack([even if i == 0 else rng.permutation(even) for i in range(d)])
    return picked, np.moveaxis(low[:, :, None] + (high - low)[:, :, None] * places[:, None, :], 0, -1)


def _curves(target, outcomes, after):
    """Each outcome's curve at what is still possible (v, readings, values), and its rest (v, n)."""
    d, n = target.known.shape
    degrees = [k for k in (DEGREES if d == 1 else DEGREES[:2]) if d * k + 1 <= 0.4 * n] or [1]
    best, score = [None] * len(outcomes), np.full(len(outcomes), np.inf)
    for degree in degrees:
        x = _columns(target, target.known.T, degree)
        slope, *_ = np.linalg.lstsq(x, outcomes.T, rcond=1e-10)
        rest = outcomes.T - x @ slope
        own = (rest**2).sum(axis=0) / (n - x.shape[1]) ** 2
        for v in np.flatnonzero(own < score * (1 - 1e-9)):
            best[v], score[v] = (degree, slope[:, v], rest[:, v]), own[v]
    found, left = np.empty((len(outcomes), *after.shape[:2])), np.empty(outcomes.shape)
    columns = {k: _columns(target, after.reshape(-1, d), k) for k in {b[0] for b in best if b is not None}}
    for v, one in enumerate(best):
        mean = outcomes[v].mean()
        whole = ((outcomes[v] - mean) ** 2).sum()
        if one is None or whole - (one[2] ** 2).sum() <= BY_CHANCE * d * one[0] / n * whole:
            found[v], left[v] = mean, outcomes[v] - mean
        else:
            found[v] = (columns[one[0]] @ one[1]).reshape(after.shape[:2])
            left[v] = one[2]
    return found, left


def _columns(target, values, degree):
    """Columns of a curve: 1 and Legendre polynomials of where each value lies between its ends (m, 1 + d degree)."""
    columns = [np.ones((len(values), 1))]
    for i, (low, high) in enumerate(target.ends):
        one = values[:, i]
        if target.logs[i]:
            low, high, one = np.log(low), np.log(high), np.log(one)
        place = np.clip((2 * one - low - high) / max(high - low, 1e-300), -1, 1)
        columns.append(np.polynomial.legendre.legvander(place, degree)[:, 1:])
    return np.hstack(columns)
