"""The rule for a fallen sensor spares sound work; a touch is read at times of its own."""

from dataclasses import replace

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.studies.holding import holding
from benchcalc.studies.stopping import noticing, sound_runs
from benchcalc.studies.touching import touched, touches_of
from benchcalc.thermal.control.failing import first_trip

IRON = bc.load_chosen("foil_iron")


@pytest.fixture(scope="module")
def iron():
    return holding(IRON)


def test_the_rule_for_a_fallen_sensor_spares_a_tool_that_is_held_or_touches_work(iron):
    """On-off gives a minute of full power while its late sensor still falls; so does a touch."""
    told, runs = noticing(IRON, iron), sound_runs(IRON, iron)
    assert told.rule.rise_k >= 5.0 and len(runs) == 1 + len(touches_of(iron)) and "part-way" in told.tried[-1]
    for run in runs.values():
        assert np.isnan(first_trip(told.rule, run.time_s, run.share, run.temp_c["sensor"]))
    near = replace(told.rule, below_c=1000.0)  # the same rule, asked at any reading
    assert np.isfinite(first_trip(near, iron.run.time_s, iron.run.share, iron.run.temp_c["sensor"]))
    assert told.rule.wait_s < told.after_s < 300 and 355 < told.temps_c["tip"] < iron.control.stuck_c


def test_a_dip_does_not_hang_on_when_the_switch_moves(iron):
    """The same iron and joint behind windows of 2, 30 and 600 s."""
    dips = []
    for window in (2.0, 30.0, 600.0):
        law = replace(iron.law, kind="proportional-integral", window_s=window, gain_per_k=0.013, integral_s=121.0)
        dips.append(touched(IRON, replace(iron, law=law, kept={}), "joint", until_s=40.0).dip_k)
    assert dips[1:] == pytest.approx([dips[0]] * 2, abs=6.0) and dips[0] > 30
