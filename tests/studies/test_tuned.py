"""Settings come from the sheet's own log where its probe saw what the sensor sees, else from the tool's network."""

import pytest

import benchcalc as bc
from benchcalc.chain.control.tuned import seen_shape
from benchcalc.chain.log.link import work_warm_up
from benchcalc.show.control.panel import to_hold
from benchcalc.studies.holding import holding
from benchcalc.studies.tuned import tool_parts, tuning_of, warm_up_seen

PRESS, _ = to_hold(bc.load_chosen("insert_press"))


@pytest.fixture(scope="module")
def standing():
    return holding(PRESS).control.standing


def test_the_two_constants_of_the_log_are_those_of_the_settings(standing):
    """By hand: the log's own fit, its rise carried from its watts to those of the coil behind the switch."""
    coil = tool_parts(PRESS)[2]
    log, _, _ = work_warm_up(PRESS, coil)
    seen, fitted = warm_up_seen(PRESS, standing), log.forecast.shape
    assert (seen.shape.slow_s, seen.shape.fast_s, seen.shape.dead_s) == (fitted.slow_s, fitted.fast_s, fitted.dead_s)
    on_w = float(standing.seat.net.power_w.sum()) * coil.coil_w / (coil.coil_w + coil.tails_w)
    carried = fitted.rise_k * (on_w / log.load_w) ** log.forecast.exponent
    assert seen.shape.rise_k == pytest.approx(carried, rel=0.01) and log.name in seen.source
    assert seen.shape.slow_s != pytest.approx(seen_shape(standing).slow_s, rel=0.01)
    wide = tuning_of(PRESS, standing)
    assert wide.delay_s > PRESS.control.window_s / 2 and wide.integral_s <= wide.lumped_s


def test_a_log_of_another_part_or_none_leaves_the_tool_itself(standing):
    elsewhere = holding(bc.change(bc.change(PRESS, "sensor.on", "tube"), "sensor.at_m", 0.1)).control.standing
    for build, there in ((PRESS, elsewhere), (bc.change(PRESS, "log.1.at_m", 0.15), None)):
        there = there or standing
        seen = warm_up_seen(build, there)
        assert seen.shape == seen_shape(there) and "no log" in seen.source and seen.lag_s == 0
