"""Logs from other people's machines: bold rows, dates of other lands, wide letters, huge cells, a switching power."""

import datetime

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchcalc.basics.fault import Fault
from benchcalc.thermal.log.cells import number, plain_numbers
from benchcalc.thermal.log.power import data_of
from benchcalc.thermal.log.reading import log_of_bytes, log_of_text
from benchcalc.thermal.warmup.curve import Data, model
from benchcalc.thermal.warmup.forecast import forecast
from benchcalc.thermal.warmup.formulas import Shape, curve, decays, reached

TEMPS = 20 + 200 * (1 - np.exp(-np.arange(40) / 8))
PLAIN = "s,degC\n" + "".join(f"{20 * i},{x:.1f}\n" for i, x in enumerate(TEMPS))


@pytest.mark.parametrize("end_c, slow_s", [(150, 120), (230, 240), (320, 400), (90, 60)])
def test_six_good_rows_by_hand_are_a_warm_up(end_c, slow_s):
    """Whole degrees at bold steps: read, fitted, the true end in the outer band; the last digit is the step."""
    for times in ((0, 1, 2, 3, 5, 8), (0, 2, 4, 6, 8, 10), (0, 1, 2, 4, 7, 12)):
        rows = [(t, round(20 + (end_c - 20) * (1 - np.exp(-60 * t / slow_s)))) for t in times]
        log = log_of_text("min;degC\n" + "".join(f"{t};{x}\n" for t, x in rows))
        data, _, _ = data_of(log)
        found = forecast(data)
        assert log.resolution_k < 12 and data.time_s.size == 6
        assert found.wide_low_c <= end_c <= found.wide_high_c


def test_noise_without_a_warm_up_is_still_refused_and_a_noisy_one_is_not():
    rng = np.random.default_rng(1)
    flat = log_of_text("s,degC\n" + "".join(f"{i},{x:.1f}\n" for i, x in enumerate(21 + 2 * rng.normal(size=300))))
    with pytest.raises(Fault, match="is all it rises"):
        data_of(flat)
    noisy = TEMPS + rng.normal(0, 3, 40)
    assert data_of(log_of_text("s,degC\n" + "".join(f"{20 * i},{x:.1f}\n" for i, x in enumerate(noisy))))


def test_four_steep_readings_are_told_to_be_too_few():
    with pytest.raises(Fault, match="4 readings.*a fit needs 5"):
        data_of(log_of_text("s,degC\n0,20\n10,120\n20,400\n400,1000\n"))


@pytest.mark.parametrize("code", ["utf-32", "utf-32-le", "utf-32-be", "utf-16-le", "utf-16-be"])
def test_wide_letters_with_or_without_a_mark(code):
    log = log_of_bytes(PLAIN.encode(code))
    assert log.temp_c == pytest.approx(TEMPS, abs=0.06) and "utf-" in log.remarks[0].text


DATED = (
    "%m/%d/%Y %H:%M:%S", "%m/%d/%Y %I:%M:%S %p", "%m/%d/%y %H:%M:%S", "%d/%m/%Y %H:%M:%S", "%d.%m.%y %H:%M:%S",
    "%Y-%m-%dT%H:%M:%S+01:00", "%Y-%m-%d %H:%M:%S.000 +0200", "%Y-%m-%dT%H:%M:%SZ", "%Y-%m-%d %H:%M:%S UTC",
    "%Y/%m/%d %H:%M:%S", "%H:%M:%S+01:00", "%I:%M:%S %p",
)  # fmt: skip


@pytest.mark.parametrize("way", DATED)
@pytest.mark.parametrize("day", [(2031, 3, 4), (2031, 1, 31), (2030, 12, 31), (2032, 2, 28)])
def test_a_log_over_midnight_in_any_land(way, day):
    start = datetime.datetime(*day, 23, 55)
    cells = [(start + datetime.timedelta(seconds=20 * i)).strftime(way) for i in range(40)]
    log = log_of_text("time;degC\n" + "".join(f"{t};{x:.1f}\n" for t, x in zip(cells, TEMPS)))
    assert log.time_s == pytest.approx(20.0 * np.arange(40), abs=0.01)


def test_a_zone_that_changes_midway_is_counted():
    rows = [f"2031-03-30T01:59:{40 + i}+01:00;{20 + i}" for i in range(20)]
    rows += [f"2031-03-30T03:00:{i:02d}+02:00;{40 + i}" for i in range(20)]
    assert log_of_text("time;degC\n" + "\n".join(rows)).time_s[-1] == 39.0


def test_huge_cells_odd_channels_and_two_words():
    for text in (PLAIN + '20,"' + "9" * 200_000 + '"\n', 's,degC\n"' + "x" * 200_000 + '",3\n' + PLAIN):
        assert log_of_text(text).time_s.size == 40
    for channel in ("²", "①", "0", "99", ""):
        with pytest.raises(Fault, match="channel"):
            log_of_text(PLAIN, channel=channel)
    assert log_of_text(PLAIN, channel="1").channel == "degC"
    for text in ("hello world", "time temp\n5", "a b\nc d\n1", "1 x\n2", "tip\n20 30", '"', ',"', "0 0\n0 0"):
        with pytest.raises(Fault):
            log_of_text(text)


def test_a_column_at_once_is_read_as_each_cell_by_itself():
    for cells, comma in ((["1", "2.5", "-3e2", "+.5"], False), (["1,5", "2", "-0,25"], True)):
        assert plain_numbers(cells, comma).tolist() == [number(c, comma) for c in cells]
    for cells in (["1", "nan"], ["1", ""], ["1", "1,5"], ["1", "12:30"], ["1", "1e999"], ["1_0", "2"], ["1", "--"]):
        assert plain_numbers(cells, False) is None


@settings(max_examples=60, deadline=None)
@given(st.text(alphabet='12 ,;:./-+T\t\n"²xpmZ', max_size=60))
def test_whatever_is_dropped_is_read_or_refused_in_words(text):
    try:
        data_of(log_of_bytes(text.encode()))
    except Fault as told:
        assert len(str(told)) > 10


# ---- power that switches


def test_thousands_of_steps_are_summed_as_one_by_one():
    rng = np.random.default_rng(2)
    steps = tuple((float(t), float(x)) for t, x in zip(np.sort(rng.uniform(0, 900, 40)), rng.uniform(0, 1, 40)))
    t = np.linspace(0, 1200, 77)
    level, left, turned = decays(t, steps, 130.0)
    jumps = np.diff([0.0, *(x for _, x in steps)])
    x = [(t - at) / 130.0 for at, _ in steps]
    one = [(t > at) for at, _ in steps]
    assert level == pytest.approx(sum(j * on for j, on in zip(jumps, one)), abs=1e-12)
    assert left == pytest.approx(sum(j * on * np.exp(-y * on) for j, on, y in zip(jumps, one, x)), abs=1e-12)
    assert turned == pytest.approx(sum(j * on * y * np.exp(-y * on) for j, on, y in zip(jumps, one, x)), abs=1e-12)
    shape = Shape("two", 20.0, 300.0, 300.0, 60.0, 1.1, 0.0)
    slow = 20 + 300 * sum(j * reached(shape, np.maximum(t - at, 0)) for j, (at, _) in zip(jumps, steps))
    assert curve(shape, t, steps) == pytest.approx(slow, abs=1e-9)
    inner = (20.0, 320.0, np.log(300.0), np.log(0.2), 1.1 * 0.8, 0.0)
    assert model(inner, Data(t, t, steps), True)[0] == pytest.approx(slow, abs=1e-9)


def test_a_power_that_switches_on_and_off_is_fitted():
    """600 switchings of a tool by the closed form: the settled end at full power comes back, and few sums are made."""
    t = np.arange(0.0, 3000.0, 2.5)
    steps = tuple((5.0 * i, float(i % 2 == 0)) for i in range(600))
    shape = Shape("one", 20.0, 300.0, 240.0)
    rows = zip(t, 20 * (np.floor(t / 5.0) % 2 == 0), curve(shape, t, steps))
    log = log_of_text("s,power W,degC\n" + "".join(f"{a},{b:.0f},{c:.2f}\n" for a, b, c in rows))
    data, full_w, _ = data_of(log)
    assert full_w == 20 and len(data.steps) == 600
    assert forecast(data, quick=True).shape.end_c == pytest.approx(320.0, abs=3.0)
