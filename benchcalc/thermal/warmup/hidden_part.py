"""What a short log cannot show: a further slow part, and a skin that sheds ever more as it gets hotter."""

from functools import cache

import numpy as np

from .curve import USED, model

BENT = 1.3  # loss goes with rise^1.3: between free convection (1.25) and a glowing skin (judgement)
TAUS, DEADS, POINTS = 48, 9, 200


HIDDEN = (0.3, 0.6, 1.2)  # time constants of a part that may hide, in lengths of the log


def hidden(data, fitted, sigmas=2.0):
    """Where the end may lie if a further, slower part hides in the log: wood, a far tube, a room that warms.

    data: Data. fitted: Fit. sigmas: how far the log must object, 1 to 3.
    Returns (low, high) end, degC.  The part heats the same way as the rest and is at most half of it.
    Method: one more exponential of fixed time constant beside the slopes of the fit, linear least squares.
    """
    root = np.sqrt(fitted.weight)
    _, slopes = model(fitted.inner, data, fitted.form == "two")
    free, rise = list(USED[fitted.form]), fitted.shape.rise_k
    end, sigma = fitted.shape.end_c, fitted.scatter_k * np.sqrt(fitted.widen)
    ends = [end]
    for lengths in HIDDEN:
        tau, part, before = max(lengths * data.span_s, 1.5 * fitted.shape.slow_s), np.zeros(data.time_s.size), 0.0
        for at, level in data.steps:
            part += (level - before) * (1 - np.exp(-np.maximum(data.time_s - at, 0.0) / tau))
            before = level
        a = root[:, None] * np.column_stack([slopes[:, free], part])
        size = np.maximum(np.sqrt((a**2).sum(axis=0)), 1e-300)
        inverse = np.linalg.pinv((a / size).T @ (a / size), rcond=1e-13, hermitian=True) / np.outer(size, size)
        moved = inverse @ (a.T @ (root * fitted.residual_k))
        own, along = inverse[-1, -1], inverse[1, -1] / inverse[-1, -1]
        for more in (-sigmas, 0.0, sigmas):
            size_k = np.clip((moved[-1] + more * sigma * np.sqrt(own)) * np.sign(rise), 0.0, 0.5 * abs(rise)) * np.sign(
                rise
            )
            ends.append(end + moved[1] + along * (size_k - moved[-1]) + size_k)
    return float(min(ends)), float(max(ends))


def by_a_bent_loss(data):
    """How much lower the end would come out if the loss grew faster than the rise, as radiation and convection make it.

    data: Data.
    Returns K, zero or less, for a log from one switching-on; 0 for logs with power steps, whose bend is fitted.
    Method: one lump, C d(rise)/dt = P - k rise^1.3 against the same with exponent 1, both with a dead time, best of a
    grid of time constants; the difference of their ends.
    """
    if len(data.steps) > 1:
        return 0.0
    every = np.unique(np.linspace(0, data.time_s.size - 1, POINTS).astype(int))
    t, y = data.time_s[every] - data.steps[0][0], data.temp_c[every]
    ends = [_end_of(t, y, n) for n in (1.0, BENT)]
    return float(np.sign(y[-1] - y[0]) * min((ends[1] - ends[0]) * np.sign(y[-1] - y[0]), 0.0))


def _end_of(t, y, n):
    taus = np.exp(np.linspace(np.log(t[-1] / 12), np.log(4 * t[-1]), TAUS))
    deads = np.linspace(0, 0.2 * t[-1], DEADS)
    x = np.maximum(t[None, None, :] - deads[None, :, None], 0.0) / taus[:, None, None]
    s = np.interp(x, *_lump(n))
    mean, off = s.mean(axis=-1, keepdims=True), y - y.mean()
    rise = ((s - mean) * off).sum(axis=-1) / np.maximum(((s - mean) ** 2).sum(axis=-1), 1e-12)
    cost = ((off - rise[..., None] * (s - mean)) ** 2).sum(axis=-1)
    i, j = np.unravel_index(np.argmin(cost), cost.shape)
    return y.mean() + rise[i, j] * (1 - mean[i, j, 0])


@cache
def _lump(n):
    """The rise of one lump over time, both without unit: s' = 1 - s^n from 0."""
    from scipy.integrate import solve_ivp

    x = np.concatenate([np.linspace(0, 6, 400), [60.0]])
    found = solve_ivp(lambda _, s: 1 - np.maximum(s, 0) ** n, (0, 60), [0.0], t_eval=x, rtol=1e-8, atol=1e-10)
    return x, found.y[0]
