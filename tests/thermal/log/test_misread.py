"""Readings that no warm-up can give: found wherever they stand, named, and none taken for a switching-off.

The true curves are closed forms of one and two constants, with and without dead time; no fit stands between.
"""

import numpy as np
import pytest

from benchcalc.basics.fault import Fault
from benchcalc.thermal.log.misread import misread
from benchcalc.thermal.log.power import data_of
from benchcalc.thermal.log.reading import log_of_text
from benchcalc.thermal.warmup.curve import HOTTEST_C
from benchcalc.thermal.warmup.forecast import forecast
from benchcalc.thermal.warmup.formulas import Shape, curve

MINUTES = (0, 1, 2, 3, 4, 5, 7, 10, 15, 20)
TEMPS = (21, 118, 205, 268, 313, 345, 376, 392, 400, 401)  # invented readings of a hand with a clock
GRIDS = (60.0 * np.array(MINUTES), 60.0 * np.arange(0, 20, 0.5), np.arange(0.0, 1800.0, 5.0))


def log_of(changes, minutes=MINUTES, temps=TEMPS, head="min degC", more=""):
    rows = [f"{m} {changes.get(i, x)}{more}" for i, (m, x) in enumerate(zip(minutes, temps))]
    return log_of_text("\n".join((head, *rows)), "by_hand.txt")


def told(log):
    return "; ".join(str(r) for r in log.remarks)


def test_a_mistyped_reading_is_left_out_and_named_and_is_no_switching_off():
    log = log_of({5: 435})
    data, _, remarks = data_of(log)
    assert "line 7: 435 degC: a spike" in told(log) and data.steps == ((0.0, 1.0),) and not remarks
    found, good = forecast(data), forecast(data_of(log_of({}))[0])
    assert found.shape.end_c == pytest.approx(good.shape.end_c, abs=3) and found.high_c < 430


@pytest.mark.parametrize("times", (1.25, 0.1, 0.7))
@pytest.mark.parametrize("at", range(2, 10))
def test_one_bad_reading_anywhere_leaves_the_end_where_it_was(at, times):
    """From the third reading to the last, high or low; where it stands out it is named with its line."""
    bad = round(TEMPS[at] * times)
    log = log_of({at: bad})
    data, _, remarks = data_of(log)
    assert data.steps == ((0.0, 1.0),)
    assert forecast(data).shape.end_c == pytest.approx(400, abs=12)
    before, after = TEMPS[at - 1], TEMPS[min(at + 1, 9)]
    if bad > max(before, after) + 20 or bad < min(before, after) - 20:
        assert f"line {at + 2}: {bad} degC" in told(log) and log.time_s.size == 9


def test_a_bad_second_reading_is_left_out_or_moves_the_end_by_little():
    assert "line 3: 435 degC: a spike" in told(log_of({1: 435}))
    assert forecast(data_of(log_of({1: 208}))[0]).shape.end_c == pytest.approx(400, abs=12)


def test_a_first_reading_that_is_too_high_is_told_and_kept_since_the_clock_begins_with_it():
    log = log_of({0: 210})
    assert "line 2: the first reading does not fit" in told(log) and log.time_s.size == 10
    assert forecast(data_of(log)[0]).shape.end_c == pytest.approx(400, abs=12)


def test_two_bad_readings_apart_or_side_by_side():
    for changes in ({2: 305, 6: 476}, {5: 435, 6: 476}, {5: 435, 8: 40}):
        data, _, remarks = data_of(log_of(changes))
        assert data.time_s.size == 8 and not remarks and data.steps == ((0.0, 1.0),)
        assert forecast(data).shape.end_c == pytest.approx(400, abs=5)


def test_a_bad_reading_in_a_log_that_ends_with_real_cooling():
    minutes, temps = (*MINUTES, 21, 22, 23, 25, 30), (*TEMPS, 330, 270, 220, 150, 70)
    for tail in (5, 2):  # as short as two readings
        keep = [*range(10), *range(10, 15)][: 10 + tail] if tail == 5 else [*range(10), 11, 13]
        log = log_of({5: 435}, [minutes[i] for i in keep], [temps[i] for i in keep])
        data, _, remarks = data_of(log)
        assert "line 7: 435 degC" in told(log) and data.steps == ((0.0, 1.0), (1200.0, 0.0))
        assert "falls for good after 1200 s (20.0 min)" in str(remarks[0])


def test_a_log_with_a_power_column_and_a_pulse_that_is_true():
    log = log_of({5: 435}, head="min degC W", more=" 20")
    assert "line 7: 435 degC" in told(log)
    watts = np.where(np.arange(10) == 5, 60.0, 20.0)  # full power for one reading: the jump is what it does
    temps = np.array(TEMPS, float)
    temps[5] = 435
    assert misread(GRIDS[0], temps, watts).good.all() and not misread(GRIDS[0], temps, np.full(10, 20.0)).good.all()


def test_degrees_fahrenheit_hot_starts_and_gaps():
    fahrenheit = log_of({5: 815}, temps=[round(1.8 * x + 32) for x in TEMPS], head="min degF")
    assert "line 7: 815 degF: a spike" in told(fahrenheit)
    hot = log_of({5: 450}, temps=(90, 150, 220, 280, 320, 350, 380, 395, 400, 401))
    assert "450 degC: a spike" in told(hot)
    gap = log_of({5: 480}, (0, 1, 2, 3, 12, 13, 15, 20), (21, 118, 205, 268, 397, 399, 400, 401))
    assert "480 degC: a spike" in told(gap)


def test_too_few_readings_left_say_which_one_was_left_out():
    log = log_of({2: 413}, (0, 2, 4, 7, 10), (21, 205, 313, 376, 392))
    with pytest.raises(Fault, match="4 readings.*line 4: 413 degC"):
        data_of(log)


def test_power_off_and_on_again_is_no_switching_off_for_good_and_is_told():
    minutes = (0, 1, 2, 3, 4, 5, 6, 7, 8, 10, 12, 15, 20)
    log = log_of({}, minutes, (21, 118, 205, 268, 313, 345, 270, 215, 260, 320, 360, 390, 400))
    data, _, remarks = data_of(log)
    assert log.time_s.size == 13 and data.steps == ((0.0, 1.0),)
    assert "falls after 300 s (5.0 min) and rises again" in str(remarks[0]) and "it cannot tell its end" in str(
        remarks[0]
    )
    low = log_of({}, minutes, (21, 118, 205, 268, 313, 345, 270, 215, 200, 210, 260, 290, 300))
    assert data_of(low)[0].steps == ((0.0, 1.0),) and "rises again" in str(data_of(low)[2][0])


def test_a_control_that_swings_over_and_holds_is_no_switching_off():
    held = [352, 351, 352, 351, 352, 351, 352, 351]
    log = log_of({}, range(12), (20, 200, 320, 385, *held))
    data, _, remarks = data_of(log)
    assert data.steps == ((0.0, 1.0),) and "not taken as switched off" in str(remarks[0])


def test_a_log_that_falls_as_far_as_it_rose_is_not_taken_for_noise():
    """Thirteen readings, off after twenty minutes: its steps go both ways, but not to and fro."""
    minutes, temps = (*MINUTES, 22, 24, 27), (21, 70, 108, 137, 158, 174, 196, 207, 213, 214, 160, 118, 80)
    assert data_of(log_of({}, minutes, temps))[0].steps == ((0.0, 1.0), (1200.0, 0.0))


def shapes(rng, count):
    """Curves of the three forms, with rises, constants, delays and roundness of bench tools."""
    for _ in range(count):
        rise_k, slow_s, form = rng.uniform(40, 600), rng.uniform(60, 900), rng.integers(3)
        ratio = rng.uniform(0.02, 0.8)
        yield (
            Shape("one", 20.0, rise_k, slow_s),
            Shape("two", 20.0, rise_k, slow_s, ratio * slow_s, rng.uniform(0, 1) / (1 - ratio), 0.0),
            Shape("one with dead time", 20.0, rise_k, slow_s, dead_s=rng.uniform(0, 0.3) * slow_s),
        )[form]


@pytest.mark.parametrize("grid", range(3))
def test_no_clean_log_loses_a_reading_and_real_cooling_is_not_touched(grid):
    rng, t = np.random.default_rng(5 + grid), GRIDS[grid]
    for shape in shapes(rng, 300):
        scatter_k = 0.003 * shape.rise_k * rng.normal(size=t.size)
        for steps in (((0.0, 1.0),), ((0.0, 1.0), (float(t[t.size // 2]), 0.0))):
            assert misread(t, np.round(curve(shape, t, steps) + scatter_k)).good.all()


@pytest.mark.parametrize("grid", range(3))
def test_a_spike_is_found_where_it_stands_and_nothing_else_is_lost(grid):
    """A spike that leaves both neighbours by a tenth of the rise: 99 of 100 found, one good reading lost in 100."""
    rng, t = np.random.default_rng(15 + grid), GRIDS[grid]
    tried = found = lost = 0
    for shape in shapes(rng, 300):
        temps = np.round(curve(shape, t, ((0.0, 1.0),)) + 0.003 * shape.rise_k * rng.normal(size=t.size))
        i = int(rng.integers(1, t.size - 1))
        temps[i] += rng.choice([-1, 1]) * rng.uniform(0.15, 0.6) * shape.rise_k
        near = temps[[i - 1, i + 1]]
        if max(temps[i] - near.max(), near.min() - temps[i]) < 0.1 * shape.rise_k:
            continue
        gone = set(np.flatnonzero(~misread(t, temps).good))
        tried, found, lost = tried + 1, found + (i in gone), lost + bool(gone - {i})
    assert tried > 200 and found >= 0.99 * tried and lost <= 0.01 * tried


def test_where_more_than_a_quarter_jumps_about_none_is_left_out():
    temps = np.array([20, 200, 60, 300, 90, 350, 150, 380, 200, 400], float)
    assert misread(GRIDS[0], temps).good.all()


def test_no_fit_ends_above_what_a_bench_tool_can_be():
    for temps in (range(20, 420, 40), (21, 80, 143, 205, 268, 332, 398, 466, 535, 605)):
        found = forecast(data_of(log_of({}, range(10), temps))[0])
        assert found.shape.end_c <= HOTTEST_C and found.high_c <= HOTTEST_C and found.wide_low_c >= -273.15
        assert max(temps) * 0.95 < found.wide_low_c < HOTTEST_C
