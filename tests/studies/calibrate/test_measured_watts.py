"""Watts measured beside a log: they stand for the day's power in a calibration, and two days are not mixed."""

from dataclasses import replace
from types import MappingProxyType

import pytest

import benchcalc as bc
from benchcalc.sheet.build import Known, Log
from benchcalc.studies.calibrate.measured_watts import METER_W_SHARE, common, log_watts, watts_of
from benchcalc.studies.calibrate.practice_readings import own_probes
from benchcalc.studies.calibrate.start import trial_of
from benchcalc.studies.calibrate.unknowns import POWER
from benchcalc.thermal.log.reading import log_of_text

SHORT, STEP = "insert_press_short.csv", "insert_press_step.csv"


def press(*logs, known=()):
    build = bc.load_chosen("insert_press")
    return replace(build, invented=False, log=logs, known=MappingProxyType({**build.known, **dict(known)}))


def said(file, power_w):
    return Log(file, 0.001, "pressed bead", power_w=power_w)


def test_the_watts_of_a_log_are_those_of_its_column_then_those_of_the_sheet():
    build = press(said(SHORT, None), said(SHORT, 18.0), said(STEP, 99.0))
    assert log_watts(build, 0) is None
    half = METER_W_SHARE * 3**0.5
    assert log_watts(build, 1) == pytest.approx((18 * (1 - half), 18 * (1 + half)))
    assert log_watts(build, 2) == pytest.approx((20.2 * (1 - half), 20.2 * (1 + half)))
    told = press(said(SHORT, 18.0), known={"log.0.power_w": Known(17.0, 19.0, "measured", "18 W +- 1 W", 1)}.items())
    assert log_watts(told, 0) == (17.0, 19.0)
    assert log_watts(press(said("gone.csv", 18.0)), 0) is None


def test_a_column_of_duty_tells_no_watts():
    rows = "".join(f"{20 * i};{20 + 5 * i};{x}\n" for i, x in enumerate([100] * 20))
    for head, watts in (("s;degC;duty %", False), ("s;degC;heater", False), ("s;degC;power W", True)):
        assert log_of_text(f"{head}\n{rows}").in_watts is watts


def test_measured_watts_are_the_band_of_the_day_in_a_calibration():
    build = press(said(SHORT, 18.0))
    probes, troubles = own_probes(build)
    assert not troubles and watts_of(build, probes) == log_watts(build, 0)
    told = trial_of(build, probes)
    guessed = trial_of(replace(build, log=(said(SHORT, None),)), probes)
    share, wide = (next(u for u in t.unknowns if u.path == POWER) for t in (told, guessed))
    assert share.low * told.coil.coil_w == pytest.approx(log_watts(build, 0)[0])
    assert share.high - share.low < 0.5 * (wide.high - wide.low)


def test_logs_of_two_days_are_not_mixed():
    probes, troubles = own_probes(press(said(SHORT, 14.0), said(STEP, None)))
    assert [p.name for p in probes] == [SHORT] and "another day" in troubles[0]
    probes, troubles = own_probes(press(said(SHORT, 20.0), said(STEP, None)))
    assert len(probes) == 2 and not troubles
    assert common([(1.0, 3.0), None, (2.0, 4.0)]) == (2.0, 3.0) and common([None]) is None
    assert common([(1.0, 2.0), (3.0, 4.0)]) is None


def test_a_log_whose_power_was_off_in_between_calibrates_nothing(tmp_path):
    rows = enumerate((20, 90, 150, 190, 220, 150, 120, 170, 210, 230, 240))
    (tmp_path / "swings.txt").write_text("min degC\n" + "".join(f"{m} {x}\n" for m, x in rows), encoding="utf-8")
    build = replace(press(Log("swings.txt", 0.001, "pressed bead")), file=str(tmp_path / "mine.toml"))
    probes, troubles = own_probes(build)
    assert probes == () and "rises again" in troubles[0]
