"""Readings that go together: how many a log is truly worth, and how far a room that drifts moves the end."""

from functools import lru_cache

import numpy as np

from ...basics.tables import one
from .curve import USED, model

FEWEST = 12  # readings: with fewer no correlation can be told from chance
BLOCKS = 96  # a longer log is looked at in means of neighbours: what matters are its long waves
SHARES = np.linspace(0, 1, 9)  # of the variance that goes together
SPANS = 7  # correlation times tried, from one reading to a third of the log


def going_together(time_s, rest, slopes, place):
    """Errors of unknowns that were fitted by least squares to readings which go together.

    time_s: s (n,), rising. rest: residuals, K (n,). slopes: of the readings by each unknown (n, k). place: number of
    the unknown that the widening is told of.
    Returns (covariance (k, k), widening): its variance over that of independent readings, 1 or more; n over it is what
    the log is worth.
    Equations: (J'J)^-1 J'RJ (J'J)^-1 for least squares with correlated errors; for a mean this is the effective number
    of readings n / (1 + 2 sum (1 - k/n) r_k) over all lags k, Bayley and Hammersley, J. R. Stat. Soc. Suppl. 8 (1946)
    184.  R: a share of the variance goes together, r = share exp(-dt / span), the rest by itself.  Share and span are
    averaged over (the logarithm of the variance) by restricted likelihood, which counts the waves that the fit has
    swallowed: Patterson and Thompson, Biometrika 58 (1971) 545 (from memory).
    """
    n, k = slopes.shape
    whole = np.maximum(np.sqrt((slopes**2).sum(axis=0)), 1e-300)
    each = np.linalg.pinv(slopes / whole, rcond=1e-7)[place] / whole[place]
    alone = float(each @ each) * float(rest @ rest) / max(n - k, 1)
    starts = np.array([b[0] for b in np.array_split(np.arange(n), min(n, BLOCKS))])
    each_of = np.diff(starts, append=n)
    t, r, j = ((np.add.reduceat(x, starts, axis=0).T / each_of).T for x in (time_s, rest, slopes))
    size = np.maximum(np.sqrt((j**2).sum(axis=0)), 1e-300)
    j = j / size
    back = np.linalg.pinv(j, rcond=1e-7)
    plain = back @ back.T
    freedom = max(len(r) - k, 1)
    if n < FEWEST or not r.any():
        return plain * float(r @ r) / freedom / np.outer(size, size), 1.0
    each_block = max(n // starts.size, 1)
    values, modes = _modes(t.tobytes(), each_block)
    rj, rr, rb = modes.transpose(0, 2, 1) @ j, modes.transpose(0, 2, 1) @ r, (back @ modes).transpose(0, 2, 1)
    share = SHARES[:, None]
    d = (1 - share) / each_block + share * values[:, None]  # of each span, share and mode
    inner = _over_modes(1 / d, rj, rj) + 1e-10 * np.eye(k)
    swallowed = _over_modes(1 / d, rj, rr[..., None])
    kept = _over_modes(1 / d, rr[..., None], rr[..., None]) - swallowed.transpose(0, 1, 3, 2) @ np.linalg.solve(
        inner, swallowed
    )
    cost = np.maximum(kept[..., 0, 0], 1e-300)
    chances = -(np.log(d).sum(axis=-1) + np.linalg.slogdet(inner)[1] + freedom * np.log(cost)) / 2
    spreads = _over_modes(d, rb, rb) * (cost / freedom)[..., None, None]
    weights = np.exp(chances - chances.max())
    weights[:, 0] *= SHARES.size - 1  # as likely beforehand that each reading errs by itself as that they go together
    weights, spreads = weights.ravel() / weights.sum(), spreads.reshape(-1, k, k)
    spread = np.tensordot(weights, spreads, 1)
    middle = np.exp(weights @ np.log(np.maximum(spreads[:, place, place], 1e-300)))  # not led by the least likely
    spread *= middle / max(spread[place, place], 1e-300)
    spread = spread / np.outer(size, size)
    widen = float(spread[place, place]) / max(alone, 1e-300)
    return spread * max(1.0, 1 / max(widen, 1e-12)), max(widen, 1.0)


def _over_modes(weights, one, other):
    """Sums over modes of products of two vectors.  weights: (spans, shares, modes). one, other: (spans, modes, k)."""
    products = one[..., :, None] * other[..., None, :]
    found = weights @ products.reshape(*products.shape[:2], -1)
    return found.reshape(*found.shape[:2], *products.shape[2:])


@lru_cache(maxsize=8)
def _modes(times, each):
    """Eigenvalues (spans, n) and vectors (spans, n, n) of the correlations of block means, for each span tried.

    times: bytes of the blocks' middles. each: readings in a block, which are taken as equally far apart.
    """
    t, found = np.frombuffer(times), []
    step = float(np.median(np.diff(t)))
    places = step * (np.arange(each) - (each - 1) / 2) / each
    for span in np.geomspace(step / each, (t[-1] - t[0]) / 3, SPANS):
        mean = np.exp(places / span).mean() * np.exp(-places / span).mean()
        together = np.exp(-np.abs(t[:, None] - t) / span) * mean
        np.fill_diagonal(together, np.exp(-np.abs(places[:, None] - places) / span).mean())
        values, modes = np.linalg.eigh(together)
        found.append((np.maximum(values, 1e-6), modes))
    return tuple(np.array(every) for every in zip(*found))


def end_by_drift(data, fitted):
    """How far the end may come out wrong where the room's temperature drifts all along.

    data: Data. fitted: Fit.
    Returns K, one standard deviation, 0 or more: a steady drift, uniform between the ends of room.drift_k_per_h in
    data/defaults.csv, followed by the tool with its slow time constant.
    Equation: own derivation: least squares answer of the end to a ramp behind one lag, t - tau (1 - exp(-t / tau)).
    """
    root = np.sqrt(fitted.weight)
    _, slopes = model(fitted.inner, data, fitted.form == "two")
    t, tau = data.time_s - data.time_s[0], fitted.shape.slow_s
    ramp_h = (t - tau * (1 - np.exp(-t / tau))) / 3600
    free = list(USED[fitted.form])
    a = root[:, None] * slopes[:, free]
    size = np.maximum(np.sqrt((a**2).sum(axis=0)), 1e-300)
    moved = np.linalg.pinv(a / size, rcond=1e-7) @ (root * ramp_h) / size
    row = one("defaults", "key", "room.drift_k_per_h")
    return abs(float(moved[1])) * (row["high"] - row["low"]) / np.sqrt(12)
