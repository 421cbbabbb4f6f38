"""Least squares with bounds for a costly model, and draws from what is left uncertain.

The unknowns are scaled so that -1..1 is each one's band before any reading.  A uniform band is taken
as a soft prior of the same standard deviation, 1/sqrt(3); the bounds themselves may lie further out.
"""

from dataclasses import dataclass

import numpy as np

from ...basics.slices import finished

PRIOR_DEVIATION = 1 / np.sqrt(3.0)
CLOSE_ENOUGH = 0.05  # of the sum of squared misfits: less than this cannot be told from noise
MOST_MOVES, LONGEST_MOVE, SHORTEST_MOVE = 16, 0.8, 0.05
CHAINS_WARM_UP, ROUNDS_A_SLICE = 60, 10


@dataclass(frozen=True, eq=False)
class Fitted:
    """Where the search ended: place (n,), what the model gave there, its slope, moves, slopes measured, and whether it
    came to rest."""

    place: np.ndarray
    model: np.ndarray
    slope: np.ndarray
    moves: int
    slopes: int
    at_rest: bool


def bounded_fit(model, slope, observe, ends, *, start=None):
    """The unknowns that fit best, with as few runs of the model as can be.

    model: function of the unknowns' costly part (k,) -> what the model gives (m,). slope: function of
    (place, what it gave there) -> (m, k). observe, ends, start: as search.
    Returns Fitted.
    """
    asking, answer = search(observe, ends, start=start), None
    while True:
        try:
            place, given = asking.send(answer)
        except StopIteration as found:
            return found.value
        answer = model(place) if given is None else slope(place, given)


def search(observe, ends, *, start=None):
    """The search behind bounded_fit, for whoever runs the costly model in slices of its own.

    observe: cheap function of (place (n,), given (m,), slope (m, k)) -> (misfits (r,), their slope (r, n)), n >= k:
    unknowns of the readings alone come after the model's. ends: (low (n,), high (n,)) bounds. start: (n,), None for
    the middle of the bands, 0.
    Yields (place, None), to be sent what the model gives there (m,), or (place, given), to be sent its slope (m, k).
    Returns Fitted.
    Equations: Gauss-Newton with bounds and a limited step (Nocedal and Wright, Numerical Optimization,
    2nd ed., 10.3 and 4.1); between measured slopes Broyden's update (the same, eq. 11.13).
    Fails: a model that jumps; then it stops where it is, with at_rest False.
    """
    from scipy.optimize import lsq_linear

    low, high = (np.asarray(e, float) for e in ends)
    place = np.clip(np.zeros(low.size) if start is None else np.asarray(start, float), low, high)
    given = yield place, None
    steep = yield place, given
    k, fresh, slopes, reach, moves, rest = steep.shape[1], True, 1, LONGEST_MOVE, 0, False

    def parts(place, given):
        off, of = observe(place, given, steep)
        return np.concatenate([off, place / PRIOR_DEVIATION]), np.vstack([of, np.eye(low.size) / PRIOR_DEVIATION])

    off, of = parts(place, given)
    while moves < MOST_MOVES:
        gap = np.maximum(np.minimum(high - place, reach), 1e-9), np.maximum(np.minimum(place - low, reach), 1e-9)
        step = lsq_linear(of, -off, bounds=(-gap[1], gap[0])).x
        ahead = off + of @ step
        worth = off @ off - ahead @ ahead
        if worth < CLOSE_ENOUGH and fresh:
            rest = True
            break
        if worth >= CLOSE_ENOUGH:
            trial = np.clip(place + step, low, high)
            step = trial - place
            there = yield trial, None
            moves += 1
            before = steep
            if step[:k] @ step[:k] > 0:
                steep = steep + np.outer(there - given - steep @ step[:k], step[:k]) / (step[:k] @ step[:k])
            new = parts(trial, there)
            better = new[0] @ new[0] < off @ off
            if better:
                place, given, (off, of), fresh = trial, there, new, False
                continue
            reach = np.abs(step).max() / 3
            if fresh:  # the slope is right but the step too long: shorten it
                steep = before
                if reach < SHORTEST_MOVE:  # nothing better near by: a slope over a stretch is off by that much
                    rest = True
                    break
                continue
        steep = yield place, given
        fresh, slopes = True, slopes + 1
        off, of = parts(place, given)
    if not fresh:
        steep = yield place, given
        slopes += 1
    return Fitted(place, given, steep, moves, slopes, rest)


def precision_of(slope):
    """How sharply readings and bands together hold the unknowns, and the covariance that follows.

    slope: of the misfits (r, n), in units of each reading's own deviation.
    Returns (precision (n, n), covariance (n, n)).
    Equation: Gelman et al., Bayesian Data Analysis, 3rd ed., section 4.1 (normal approximation).
    """
    precision = slope.T @ slope + np.eye(slope.shape[1]) / PRIOR_DEVIATION**2
    return precision, np.linalg.inv(precision)


def draws(place, misfits, slope, ends, n, *, seed=1):
    """Draws from the normal approximation at the best fit, cut off at the bounds, all at once.

    place, misfits, slope, ends, n, seed: as drawing.
    Returns (n, k).
    """
    return finished(drawing(place, misfits, slope, ends, n, seed=seed))


def drawing(place, misfits, slope, ends, n, *, seed=1):
    """Draws from the normal approximation at the best fit, cut off at the bounds, in slices of a few rounds.

    place: best fit (k,). misfits: (r,) there. slope: (r, k). ends: (low, high) bounds. n: number of draws.
    seed: whole number.
    Yields () between slices.  Returns (n, k).
    Equation: Gibbs sampling of a truncated normal: each unknown in turn from its normal given the
    others (Gelman et al., Bayesian Data Analysis, 3rd ed., section 11.1), n chains side by side.
    """
    from scipy.special import ndtr, ndtri

    rng = np.random.default_rng(seed)
    precision, covariance = precision_of(slope)
    centre = place - covariance @ (slope.T @ misfits + place / PRIOR_DEVIATION**2)
    low, high = ends
    now = np.clip(centre + rng.normal(size=(n, place.size)) @ np.linalg.cholesky(covariance).T, low, high)
    spread = 1 / np.sqrt(np.diag(precision))
    for done in range(CHAINS_WARM_UP):
        if done % ROUNDS_A_SLICE == 0:
            yield ()
        for j in range(place.size):
            others = (now - centre) @ precision[j] - (now[:, j] - centre[j]) * precision[j, j]
            mean = centre[j] - others / precision[j, j]
            a, b = ndtr((low[j] - mean) / spread[j]), ndtr((high[j] - mean) / spread[j])
            share = np.clip(a + rng.uniform(size=n) * (b - a), 1e-12, 1 - 1e-12)
            now[:, j] = np.clip(mean + spread[j] * ndtri(share), low[j], high[j])
    return now
