"""Sags of a hung wire against its exact catenary, the length of an arc, and the balance of forces at a weight."""

import numpy as np
import pytest

from benchcalc.heater.hung_wire import hung_weight_sag, slack_sag, taut_sag


@pytest.mark.parametrize("weight_n", (0.001, 0.02, 0.1))
def test_a_taut_wire_lies_as_the_catenary_does(weight_n):
    """y = a (cosh(x/a) - 1), a = F/w: the exact curve of a chain, here with sags below a fiftieth of the span."""
    low_m = 0.5 / weight_n
    assert taut_sag(0.4, weight_n, 0.5) == pytest.approx(low_m * (np.cosh(0.2 / low_m) - 1), rel=1e-3)


def test_an_arc_of_that_sag_has_that_length():
    """The parabola y = 4 s x (L - x) / L2, measured along itself by numpy."""
    x = np.linspace(0.0, 0.2, 20_001)
    y = 4 * slack_sag(0.2, 1e-3) * x * (0.2 - x) / 0.2**2
    assert np.hypot(np.diff(x), np.diff(y)).sum() - 0.2 == pytest.approx(1e-3, rel=0.02)


def test_both_halves_of_a_string_carry_what_hangs_on_it():
    """Upward parts of the pull in the two halves, by their slopes, add up to the weight."""
    at_m, span_m = np.array([0.05, 0.28, 0.3]), 0.6
    sag_m = hung_weight_sag(0.01, 0.05, at_m, span_m)
    assert 0.05 * (sag_m / at_m + sag_m / (span_m - at_m)) == pytest.approx(0.01)
