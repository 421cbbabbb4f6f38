"""The band of a log's end: by profile or linear errors, for one form, and averaged over the forms that may be true."""

from dataclasses import dataclass

import numpy as np

from .curve import HOTTEST_C, USED, ends_of, shape_of
from .fit import solve

CHANCE = 0.95
WEIGHT_WORTH = 0.02  # a form less likely than this is left out of the average


@dataclass(frozen=True, eq=False)
class Profile:
    """The road along which the end is moved: shapes that still fit (fixed end), the lowest and highest end (degC).

    open_low, open_high: True where the search met its bound, so that the log sets no end on that side.
    """

    low_c: float
    high_c: float
    shapes: tuple
    open_low: bool
    open_high: bool


def _t(data, fitted, chance):
    """Quantile of Student's t.  What the readings are worth is counted in the variance, once."""
    from scipy.special import stdtrit

    freedom = max(data.time_s.size - len(fitted.names), 1.0)
    return float(stdtrit(freedom, (1 + chance) / 2))


def profile_of(data, fitted, chance=CHANCE):
    """Profile: the end is held ever farther off, all else is fitted anew, until the log objects.

    data: Data. fitted: Fit. chance: of the band, 0.5 to 0.999.
    Returns Profile.  Honest also for short logs, where an error bar on both sides is not.
    Equation: likelihood-ratio interval for one parameter, Bates and Watts, Nonlinear Regression Analysis and Its
    Applications, ch. 6 (from memory): cost(end) / cost(best) - 1 = t^2 / (n - k), widened for residuals that go
    together.
    """
    limit = fitted.scatter_k**2 * _t(data, fitted, chance) ** 2 * fitted.widen
    least = float(fitted.weight @ fitted.residual_k**2)
    sigma = float(np.sqrt(fitted.covariance[1, 1]))
    low_end, high_end = (float(e[1]) for e in ends_of(data))
    found = {}
    for side, bound in ((-1, max(low_end, -200.0)), (1, min(high_end, HOTTEST_C))):
        here, inner, shapes = float(fitted.inner[1]), fitted.inner, []
        step, inside, outside = min(max(sigma, 1e-4), 0.3 * abs(fitted.shape.rise_k) + 1e-3), here, None
        for _ in range(22):
            there = here + side * step if outside is None else (inside + outside) / 2
            met = side * (there - bound) >= 0
            there = bound if met else there
            trial, cost, _ = solve(data, fitted.form, inner, fitted.weight, {1: there}, close=1e-7)
            if cost - least <= limit:
                inside, inner = there, trial
                shapes.append(shape_of(fitted.form, trial))
                if met:
                    break
                here, step = there, 1.6 * step
            else:
                outside = there
            if outside is not None and abs(outside - inside) < 0.02 * abs(inside - fitted.inner[1]) + 1e-4:
                break
        found[side] = (inside, shapes, outside is None)
    return Profile(found[-1][0], found[1][0], tuple(found[-1][1] + found[1][1]), found[-1][2], found[1][2])


def linear_profile(data, fitted, chance=CHANCE):
    """The band of a long log from the linear errors: cheap, and there as good as the profile.

    data: Data. fitted: Fit. chance: as `profile_of`.
    Returns Profile; its shapes lie on both ends of each direction of the covariance.
    """
    t = _t(data, fitted, chance)
    free = list(USED[fitted.form])
    low, high = ends_of(data)
    shapes = []
    for place in range(len(free)):
        sigma = np.sqrt(max(fitted.covariance[place, place], 0.0))
        if sigma == 0:
            continue
        for side in (-1, 1):
            inner = fitted.inner.copy()
            inner[free] += side * t * fitted.covariance[:, place] / sigma
            shapes.append(shape_of(fitted.form, np.clip(inner, low, high)))
    half = t * float(np.sqrt(fitted.covariance[1, 1]))
    end = fitted.shape.end_c
    return Profile(end - half, end + half, tuple(shapes), False, False)


def likely_forms(fits, resolution_k):
    """How likely each form is, by readings counted at what they are worth.

    fits: Fits of one log. resolution_k: smallest step of its readings, K.
    Returns list of (Fit, weight), weights add up to 1; those below WEIGHT_WORTH are left out.
    Equation: weights exp(-BIC / 2), Burnham and Anderson, Model Selection and Multimodel Inference, 2nd ed., sec. 6.4
    (from memory); n is the effective number by the residuals of the form that fits best.
    """
    n = fits[0].residual_k.size
    worth = n / min(fits, key=lambda f: f.score).widen
    floor = max(resolution_k**2 / 12, 1e-12)

    def score(f):
        mean = float(f.weight @ f.residual_k**2) / n
        return worth * np.log(max(mean, floor)) + (len(f.names) + 1) * np.log(max(worth, 2.0))

    scores = np.array([score(f) for f in fits])
    weights = np.exp(-(scores - scores.min()) / 2)
    weights = np.where(weights < WEIGHT_WORTH * weights.sum(), 0.0, weights)
    return [(f, float(w / weights.sum())) for f, w in zip(fits, weights) if w > 0]


def averaged(ends, chance=CHANCE):
    """Band of an end over several forms, each as likely as its weight.

    ends: (weight, end, low, high) of each form, low and high at this chance. chance: of the band.
    Returns (low, high): quantiles of the mixture of normals, each with its own deviation on either side.
    """
    from scipy.optimize import brentq
    from scipy.special import ndtr, ndtri

    weight, middle, low, high = (np.array(x, dtype=float) for x in zip(*ends))
    z = float(ndtri((1 + chance) / 2))
    below, above = np.maximum(middle - low, 1e-9) / z, np.maximum(high - middle, 1e-9) / z

    def share(x):
        return float(weight @ ndtr((x - middle) / np.where(x < middle, below, above)))

    first, last = float((low - 3 * (middle - low) - 1).min()), float((high + 3 * (high - middle) + 1).max())
    return tuple(
        brentq(lambda x, p=p: share(x) - p, first, last, xtol=1e-4) for p in ((1 - chance) / 2, (1 + chance) / 2)
    )
