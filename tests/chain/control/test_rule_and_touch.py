"""The rule for a fallen sensor spares sound work; a touch is read at times of its own."""

from dataclasses import replace

import pytest

import benchcalc as bc
from benchcalc.studies.holding import back_of, holding, rule_of, touched
from benchcalc.thermal.control.failing import would_trip

IRON = bc.load_chosen("foil_iron")


@pytest.fixture(scope="module")
def iron():
    return holding(IRON)


def test_the_rule_for_a_fallen_sensor_spares_a_tool_that_is_held_or_touches_work(iron):
    rule = rule_of(IRON, iron)
    assert rule.rise_k >= 5.0
    for run in (iron.run, touched(IRON, iron, "joint", until_s=150.0).run):
        assert not would_trip(rule, run.time_s, run.share, run.temp_c["sensor"], back_of(iron.law), 0.9)


def test_a_dip_does_not_hang_on_when_the_switch_moves(iron):
    """The same iron and joint behind windows of 2 and 30 s."""
    dips = []
    for window in (2.0, 30.0):
        law = replace(iron.law, kind="proportional-integral", window_s=window, gain_per_k=0.013, integral_s=121.0)
        dips.append(touched(IRON, replace(iron, law=law), "joint", until_s=40.0).dip_k)
    assert dips[1] == pytest.approx(dips[0], abs=6.0) and dips[0] > 30
