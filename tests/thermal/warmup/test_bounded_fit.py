"""The fit and the draws behind a calibration, against scipy's own least squares and truncated normal."""

import numpy as np
import pytest
from scipy.optimize import least_squares
from scipy.stats import truncnorm

from benchcalc.thermal.warmup.bounded_fit import PRIOR_DEVIATION, bounded_fit, draws, precision_of

TIMES = np.linspace(0, 5, 30)


def two_ways(place):
    """A curve of three unknowns that bends in each of them."""
    a, b, c = place
    return (2 + a) * (1 - np.exp(-TIMES * np.exp(0.5 * b))) + 0.3 * c * TIMES


def slope(place, there):
    return np.stack([(two_ways(place + 1e-5 * e) - two_ways(place - 1e-5 * e)) / 2e-5 for e in np.eye(3)], axis=-1)


@pytest.mark.parametrize("truth", [(0.5, -0.4, 0.3), (-0.9, 0.8, 1.4), (1.2, 0.1, -1.5)])
def test_the_fit_ends_where_scipy_ends(truth):
    read = two_ways(truth) + np.random.default_rng(4).normal(0, 0.05, TIMES.size)
    low, high = np.full(3, -1.0), np.full(3, 1.3)

    def misfits(place):
        return np.concatenate([(two_ways(place) - read) / 0.05, place / PRIOR_DEVIATION])

    ours = bounded_fit(two_ways, slope, lambda place, there, steep: ((there - read) / 0.05, steep / 0.05), (low, high))
    theirs = least_squares(misfits, np.zeros(3), bounds=(low, high), xtol=1e-12, ftol=1e-12, gtol=1e-12)
    assert ours.at_rest and ours.slopes <= 4
    assert misfits(ours.place) @ misfits(ours.place) <= 2 * theirs.cost + 0.1
    assert ours.place == pytest.approx(theirs.x, abs=0.03)


def test_draws_of_a_cut_off_normal_have_its_mean_and_deviation():
    """One unknown, no reading: a normal of deviation 1/sqrt(3), cut off at -0.2 and 1; scipy.stats.truncnorm."""
    found = draws(np.zeros(1), np.zeros(1), np.zeros((1, 1)), (np.array([-0.2]), np.array([1.0])), 20000)
    exact = truncnorm(-0.2 / PRIOR_DEVIATION, 1 / PRIOR_DEVIATION, scale=PRIOR_DEVIATION)
    assert found.mean() == pytest.approx(exact.mean(), abs=0.01)
    assert found.std() == pytest.approx(exact.std(), abs=0.01)


def test_draws_far_from_the_bounds_are_the_normal_of_linear_regression():
    """Gelman et al., Bayesian Data Analysis, 3rd ed., 14.2 with a normal prior: covariance (X'X + prior)^-1, exact for
    a line."""
    rng = np.random.default_rng(2)
    x = np.stack([np.ones(12), np.linspace(-1, 1, 12)], axis=-1) * 3
    misfits = x @ np.array([0.2, -0.1]) + rng.normal(0, 0.2, 12)
    _, covariance = precision_of(x)
    exact = -covariance @ (x.T @ misfits)
    found = draws(np.zeros(2), misfits, x, (np.full(2, -9.0), np.full(2, 9.0)), 20000)
    assert found.mean(axis=0) == pytest.approx(exact, abs=0.01)
    assert np.cov(found.T) == pytest.approx(covariance, abs=0.002)
