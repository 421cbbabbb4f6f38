"""Fit a warm-up: bounded, robust least squares of each form, with a report of all that a reader may doubt."""

from dataclasses import dataclass

import numpy as np

from ...basics.fault import fault
from .curve import NAMES, USED, ends_of, first_guess, model, shape_of
from .formulas import FORMS, Shape
from .together import going_together

ASIDE = 4.0  # readings beyond four times the scatter count less
MOST_STEPS = 80


@dataclass(frozen=True, eq=False)
class Fit:
    """One form fitted.  names, first, value, error (one sigma), low and high bounds, correlation go together; times are
    fitted as logarithms and told in seconds.  residual_k, weight: of each reading; rms_k: of all residuals;
    scatter_k: the noise taken, far-off readings aside; follow: correlation of neighbouring residuals; widen:
    factor on variances, n / widen readings is what the log is worth; score: for the choice."""

    form: str
    shape: Shape
    names: tuple
    first: tuple
    value: tuple
    error: tuple
    low: tuple
    high: tuple
    correlation: np.ndarray
    residual_k: np.ndarray
    weight: np.ndarray
    rms_k: float
    scatter_k: float
    follow: float
    widen: float
    score: float
    inner: np.ndarray
    covariance: np.ndarray

    @property
    def at_bound(self):
        """Names of what ended at a bound: the log says nothing beyond it.  A ratio near one is none: two constants that
        are nearly equal are an answer."""
        return tuple(
            n
            for n, v, a, b in zip(self.names, self.value, self.low, self.high)
            if v <= a + 1e-4 * (b - a) or (v >= b - 1e-4 * (b - a) and n != "ratio")
        )

    @property
    def never_moved(self):
        """Names of what stayed where the fit began."""
        return tuple(
            n for n, v, f in zip(self.names, self.value, self.first) if abs(v - f) <= 1e-9 * max(abs(f), 1e-12)
        )


def solve(data, form, first, weight=None, fixed=None, huber=np.inf, close=1e-10):
    """Bounded least squares of one form.

    data: Data. form: one of FORMS. first: inner parameters (6,) to begin with. weight: of each reading, or None.
    fixed: {place among the six: value} held, or None. huber: K, residuals beyond it count in proportion, not squared.
    close: relative gain at which the search ends.
    Returns (inner parameters (6,), cost, places that were free).
    Method: Levenberg and Marquardt with exact slopes, steps clipped at the bounds and parameters held there while they
    press outward; Nocedal and Wright, Numerical Optimization, 2nd ed., sec. 10.3 and 16.7 (from memory).
    """
    low, high = ends_of(data)
    free = np.array([i for i in USED[form] if i not in (fixed or {})])
    inner = np.array(first, dtype=float)
    for i, value in (fixed or {}).items():
        inner[i] = value
    inner[free] = np.clip(inner[free], low[free], high[free])
    two = form == "two"

    def state(at):
        temps, slopes = model(at, data, two)
        rest = temps - data.temp_c
        size = np.abs(rest)
        count = np.minimum(1.0, huber / np.maximum(size, 1e-300))
        if weight is not None:
            count = count * weight
        cost = float((count * rest * np.where(size > huber, 2 * size - huber, size) * np.sign(rest)).sum())
        slopes = slopes[:, free]
        return cost, slopes.T @ (count * rest), slopes.T @ (count[:, None] * slopes)

    cost, push, stiff = state(inner)
    damping = 1e-3
    for _ in range(MOST_STEPS):
        x = inner[free]
        loose = ~(((x <= low[free]) & (push > 0)) | ((x >= high[free]) & (push < 0)))
        if not loose.any():
            break
        step = np.zeros(free.size)
        a = stiff[np.ix_(loose, loose)]
        step[loose] = -np.linalg.lstsq(a + damping * np.diag(np.diag(a) + 1e-30), push[loose], rcond=1e-15)[0]
        trial = inner.copy()
        trial[free] = np.clip(x + step, low[free], high[free])
        tried = state(trial)
        if tried[0] < cost:
            gain, inner, damping = cost - tried[0], trial, max(damping / 6, 1e-12)
            cost, push, stiff = tried
            if gain <= close * cost:
                break
        else:
            damping *= 5
            if damping > 1e9:
                break
    return inner, cost, free


def fit(data, form="one", first=None):
    """Fit one form to a log.

    data: Data, at least 5 readings. form: one of FORMS. first: inner parameters to begin with, None for a grid's best.
    Returns Fit.  Readings beyond four times the scatter count less (Huber); the errors are linear ones, widened
    where neighbouring residuals go together.
    Raises Fault: unknown form, too few readings.
    Method: `first_guess`, then `solve` twice, the second time with the weights of the first.
    """
    if form not in FORMS:
        raise fault("form of the warm-up", form, f"is none of {', '.join(FORMS)}.")
    if data.time_s.size < len(USED[form]) + 1:
        raise fault(
            "log", f"{data.time_s.size} readings", f"are too few for the form {form!r}.", do="Write down more points."
        )
    begin = first_guess(data, form) if first is None else np.array(first, float)
    two = form == "two"
    rest = model(begin, data, two, slopes=False)[0] - data.temp_c
    scale = max(1.4826 * float(np.median(np.abs(rest - np.median(rest)))), data.resolution_k / 3, 1e-4)
    inner, _, free = solve(data, form, begin, huber=ASIDE * scale)
    rest = model(inner, data, two, slopes=False)[0] - data.temp_c
    scale = max(1.4826 * float(np.median(np.abs(rest))), data.resolution_k / 3, 1e-6)
    weight = np.minimum(1.0, ASIDE * scale / np.maximum(np.abs(rest), 1e-12)) ** 2
    if weight.min() < 1:  # else nothing stood aside, and the fit before is the answer
        inner, _, free = solve(data, form, inner, weight)
    return _told(data, form, begin, inner, free, weight)


def _told(data, form, begin, inner, free, weight):
    temps, slopes = model(inner, data, form == "two")
    rest = data.temp_c - temps
    n, k = rest.size, len(free)
    cost = float(weight @ rest**2)
    scatter = np.sqrt(max(cost / max(n - k, 1), data.resolution_k**2 / 12, 1e-12))
    root = np.sqrt(weight)
    jac = root[:, None] * slopes[:, free]
    covariance, widen = going_together(data.time_s, root * rest, jac, free.tolist().index(1))
    least = scatter**2 * (n - k) / max(cost, 1e-300)  # above 1 where the sensor's steps hide the scatter
    covariance = covariance * max(least, 1.0)
    sigma = np.sqrt(np.maximum(np.diag(covariance), 0.0))
    correlation = covariance / np.outer(np.maximum(sigma, 1e-300), np.maximum(sigma, 1e-300))
    low, high = ends_of(data)
    log = [i in (2, 3) for i in free]

    def plain(values):
        return tuple(float(np.exp(v)) if is_log else float(v) for v, is_log in zip(values, log))

    value = plain(inner[free])
    error = tuple(float(s * v) if is_log else float(s) for s, v, is_log in zip(sigma, value, log))
    score = n * np.log(max(cost / n, data.resolution_k**2 / 12, 1e-12)) + (k + 1) * np.log(n)
    return Fit(
        form,
        shape_of(form, inner if form != "one" else np.where(np.arange(6) == 5, 0.0, inner)),
        tuple(NAMES[i] for i in free),
        plain(begin[free]),
        value,
        error,
        plain(low[free]),
        plain(high[free]),
        correlation,
        rest,
        weight,
        float(np.sqrt(np.mean(rest**2))),
        float(scatter),
        _follow(root * rest),
        widen,
        float(score),
        inner,
        covariance,
    )


def _follow(rest):
    """Correlation of neighbouring residuals, 0 where chance explains it."""
    n = rest.size
    spread = rest @ rest
    if n < 20 or spread == 0:
        return 0.0
    found = float(rest[1:] @ rest[:-1] / spread)
    return min(found, 0.95) if found > 2 / np.sqrt(n) else 0.0
