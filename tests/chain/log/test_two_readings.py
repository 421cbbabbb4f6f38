"""Two readings against a curve that is known: right for one constant, late and high after a delay."""

import math

import pytest

from benchcalc.chain.log.by_hand import delay_of, guess_of, smooth_guess
from benchcalc.thermal.warmup.formulas import Shape

ONE = Shape("one", 20.0, 200.0, 210.0)


def test_of_one_time_constant_two_readings_tell_all():
    """theta = theta_end (1 - exp(-t/tau)), lumped capacity (Incropera et al., eq. 5.6)."""
    rises = [200 * (1 - math.exp(-t / 210)) for t in (240, 480)]
    found = guess_of(20.0, 240.0, rises)
    assert (found.end_c, found.constant_s) == pytest.approx((220.0, 210.0))
    assert smooth_guess(ONE, 240.0).constant_s == pytest.approx(210.0) and delay_of(ONE) == 0


def test_a_delay_is_taken_for_slowness_and_a_higher_end():
    late = Shape("one", 20.0, 200.0, 210.0, dead_s=40.0)
    found = smooth_guess(late, 240.0)
    assert found.end_c > 221 and found.constant_s > 230 and delay_of(late) == pytest.approx(40.0)


def test_a_straight_rise_has_no_end():
    assert math.isnan(guess_of(20.0, 60.0, (10.0, 20.0)).end_c)
