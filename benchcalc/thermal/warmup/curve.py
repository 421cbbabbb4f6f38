"""The warm-up curve as a fit sees it: six inner parameters, temperatures and exact slopes, bounds, a first guess."""

from dataclasses import dataclass

import numpy as np

from .formulas import ZERO_K, Shape, decays

NAMES = ("start_c", "end_c", "slow_s", "ratio", "roundness", "dead_s")
USED = {"one": (0, 1, 2), "one with dead time": (0, 1, 2, 5), "two": (0, 1, 2, 3, 4)}
LONGEST, SHORTEST_RATIO, LARGEST_RATIO = 30.0, 0.01, 0.9
GRID = 24
HOTTEST_C = 1400.0  # no end is searched above: nickel-chromium wire is liquid by then (data/alloys.csv)


@dataclass(frozen=True, eq=False)
class Data:
    """What is fitted: time_s, temp_c, steps of power as shares of the full one, resolution_k."""

    time_s: np.ndarray
    temp_c: np.ndarray
    steps: tuple = ((0.0, 1.0),)
    resolution_k: float = 0.0

    @property
    def span_s(self):
        """Length of the log, s."""
        return float(self.time_s[-1] - self.time_s[0])


def shape_of(form, inner):
    """The Shape behind inner parameters.

    form: one of FORMS. inner: (start_c, end_c, log slow, log ratio, roundness, dead).
    Returns Shape.
    """
    start, end, slow, ratio, round_, dead = inner
    tau = float(np.exp(slow))
    if form != "two":
        return Shape(form, float(start), float(end - start), tau, dead_s=float(dead))
    q = float(np.exp(ratio))
    return Shape(form, float(start), float(end - start), tau, q * tau, float(round_ / (1 - q)))


def model(inner, data, two, slopes=True):
    """Temperatures, and their slopes by the six inner parameters.

    inner: as `shape_of`. data: Data. two: whether the second time constant counts. slopes: False for temperatures only.
    Returns (degC (n,), array (n, 6) or None).  With one constant ratio and roundness have no slope.
    """
    start, end, slow, ratio, round_, dead = inner
    tau = np.exp(slow)
    q = np.exp(ratio) if two else 1.0
    w = round_ / (1 - q) if two else 1.0
    t = data.time_s - dead
    level, e1, f1 = decays(t, data.steps, tau)
    _, e2, f2 = decays(t, data.steps, tau * q) if two else (0.0, 0.0, 0.0)
    share = level - w * e1 - (1 - w) * e2
    rows = np.zeros((5, t.size))
    if slopes:
        rows[1] = -w * f1 - (1 - w) * f2
        if two:
            rows[2] = w * q / (1 - q) * (e2 - e1) - (1 - w) * f2
            rows[3] = (e2 - e1) / (1 - q)
        rows[4] = -w * e1 / tau - (1 - w) * e2 / (tau * q)
    rise = end - start
    temps = start + rise * share
    if not slopes:
        return temps, None
    return temps, np.column_stack([1 - share, share, rise * rows[1], rise * rows[2], rise * rows[3], rise * rows[4]])


def ends_of(data):
    """Bounds of the six inner parameters.  data: Data.  Returns (low, high), arrays (6,)."""
    step = max(float(np.median(np.diff(data.time_s))), 1e-6)
    low_c, high_c = float(data.temp_c.min()), float(data.temp_c.max())
    wide = max(high_c - low_c, 1.0)
    return (
        np.array(
            [low_c - 0.3 * wide, max(low_c - 30 * wide, -ZERO_K), np.log(0.3 * step), np.log(SHORTEST_RATIO), 0.0, 0.0]
        ),
        np.array(
            [
                high_c + 0.3 * wide,
                max(min(high_c + 30 * wide, HOTTEST_C), high_c + 0.3 * wide),
                np.log(LONGEST * data.span_s),
                np.log(LARGEST_RATIO),
                1.0,
                0.3 * data.span_s,
            ]
        ),
    )


def first_guess(data, form):
    """Where the fit begins: the best of a grid of time constants, the rest by linear least squares.

    data: Data. form: one of FORMS.
    Returns inner parameters (6,).
    """
    low, high = ends_of(data)
    taus = np.exp(np.linspace(np.log(max(np.exp(low[2]), data.span_s / 200)), np.log(6 * data.span_s), GRID))
    every = np.vstack([np.ones(data.time_s.size), _answers(data, taus)])
    base = data.temp_c[0]  # taken off, so that the sums stay small
    y = data.temp_c - base
    gram, right = every @ every.T, every @ y
    if form != "two":
        pick = np.array([[0, 1 + i] for i in range(GRID)])
        p, cost = _linear(gram[pick[:, :, None], pick[:, None, :]], right[pick])
        i = int(np.argmin(cost))
        found = (base + p[i, 0], base + p[i].sum(), np.log(taus[i]), np.log(0.2), 1.0, 0.0)
        return np.clip(found, low + 1e-9, high - 1e-9)
    pairs = np.array([(i, j) for i in range(2, GRID) for j in range(i - 1) if taus[j] > 1.5 * SHORTEST_RATIO * taus[i]])
    q = taus[pairs[:, 1]] / taus[pairs[:, 0]]
    pick = np.column_stack([np.zeros(len(pairs), int), 1 + pairs])
    p, cost = _linear(gram[pick[:, :, None], pick[:, None, :]], right[pick])
    rise = p[:, 1] + p[:, 2]
    with np.errstate(all="ignore"):
        round_ = p[:, 1] / rise * (1 - q)
    off = ~(
        (round_ >= 0) & (round_ <= 1)
    )  # more than a row of heat capacities can do: the rounded start is the end of it
    mix = np.zeros((len(pairs), 2, 3))
    mix[:, 0, 0] = 1
    mix[:, 1, 1], mix[:, 1, 2] = 1 / (1 - q), -q / (1 - q)
    g = mix @ gram[pick[:, :, None], pick[:, None, :]] @ mix.transpose(0, 2, 1)
    p2, cost2 = _linear(g, (mix @ right[pick][:, :, None])[:, :, 0])
    cost = np.where(off, cost2, cost)
    i = int(np.argmin(cost))
    start, end, round_ = (p2[i, 0], p2[i].sum(), 1.0) if off[i] else (p[i, 0], p[i].sum(), round_[i])
    found = (
        base + start,
        base + end,
        np.log(taus[pairs[i, 0]]),
        np.log(min(q[i], 0.85)),
        min(max(round_, 0.02), 0.98),
        0.0,
    )
    return np.clip(found, low + 1e-9, high - 1e-9)


def _answers(data, taus):
    found = []
    for tau in taus:
        level, left, _ = decays(data.time_s, data.steps, tau)
        found.append(level - left)
    return np.array(found)


def _linear(gram, right):
    """Least squares from sums, many at once.

    gram: (m, k, k). right: (m, k).
    Returns (m, k), and cost less a constant (m,).
    """
    k = right.shape[1]
    g = gram.copy()
    g[:, range(k), range(k)] *= 1 + 1e-9
    p = np.linalg.solve(g, right[:, :, None])[:, :, 0]
    return p, np.einsum("mi,mij,mj->m", p, gram, p) - 2 * (p * right).sum(axis=1)
