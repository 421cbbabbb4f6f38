"""The logs of the sheets: invented and said so, read with every fault told, fitted, judged, kept."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.basics.fault import Fault
from benchcalc.basics.tables import data_folder, rows
from benchcalc.chain.log.link import attached_end, listed_parts, sheet_log, work_log
from benchcalc.chain.log.verdicts import log_checks
from benchcalc.sheet.build import Log
from benchcalc.sheet.keep_log import keep_log
from benchcalc.thermal.log.power import data_of
from benchcalc.thermal.log.reading import log_of_text, read_log
from benchcalc.thermal.warmup.as_seen import seen_capacity
from benchcalc.thermal.warmup.curve import Data
from benchcalc.thermal.warmup.forecast import forecast

LOGS = sorted((data_folder() / "logs").glob("*.csv"))


@pytest.fixture(scope="module")
def press():
    build = bc.load_chosen("insert_press")
    return build, bc.work_out(build, samples=0)


def test_invented_logs_say_so_and_measured_ones_name_their_source():
    assert len(LOGS) >= 3
    for path in LOGS:
        assert path.read_text(encoding="utf-8").splitlines()[0].startswith("# Invented log")
    for path in (data_folder() / "measured").glob("*.csv"):
        head = path.read_text(encoding="utf-8")
        assert head.startswith("# Measured, not invented") and "Source:" in head and "licence" in head


def test_every_log_of_a_demo_is_there_and_can_be_fitted():
    found = []
    for name in bc.demos():
        build = bc.load_chosen(name)
        for i, at in enumerate(build.log):
            part = work_log(bc.links(build)[2], sheet_log(build, i), at=at)
            found.append(at.file)
            assert (
                np.isfinite(part.end_c)
                and part.wide_low_c <= part.low_c <= part.end_c <= part.high_c <= part.wide_high_c
            )
    assert {p.name for p in LOGS} <= set(found)


def test_the_faulty_log_tells_every_fault():
    told = " ".join(str(r) for r in sheet_log(bc.load_chosen("foil_iron")).remarks)
    for fault in ("midnight", "no reading", "spike", "stuck", "come off", "gap", "same time", "room"):
        assert fault in told


def test_the_short_log_is_short_and_the_long_one_holds_its_truth(press):
    build, out = press
    short = work_log(out.coil, sheet_log(build, 0), at=build.log[0])
    step = work_log(out.coil, sheet_log(build, 1), at=build.log[1])
    assert any("too short" in w for w in short.forecast.warnings)
    assert short.wide_low_c < step.end_c < short.wide_high_c
    assert step.load_w == pytest.approx(out.coil.coil_w, abs=0.05) and 0.7 < step.forecast.exponent < 0.95
    assert step.metal_low_c < step.metal_c < step.metal_high_c and step.metal_c > step.end_c + 20


def test_fitted_heat_capacity_is_near_the_parts_list(press):
    build, out = press
    parts = listed_parts(build, out.heat)
    tip = next(p for p in parts if p.id == "tip")  # brass 8 x 30 mm by hand: 8.5 g/cm3, 0.38 to 0.41 J/(g K)
    assert tip.mass_kg == pytest.approx(np.pi / 4 * 0.8**2 * 3.0 * 8.5e-3, rel=0.02)
    assert tip.capacity_j_k == pytest.approx(1e3 * tip.mass_kg * 0.395, rel=0.03)
    step = work_log(out.coil, sheet_log(build, 1))
    assert 0.75 < step.capacity_j_k / seen_capacity(parts, out.heat.tip_c, build.room.ambient_c) < 1.33


def test_seen_capacity_of_a_network_of_lumps():
    # three lumps in a row to a room: the area between the warm-up of the heated lump and its end, by linear algebra
    c = np.array([5.0, 20.0, 60.0])
    g = np.array([[0.5, -0.5, 0.0], [-0.5, 0.8, -0.2], [0.0, -0.2, 0.3]])
    settled = np.linalg.solve(g, [10.0, 0, 0])
    area = np.linalg.solve(g, c * settled)[0]  # integral of (settled - temperature) at the heated lump
    fitted = area / settled[0] / (settled[0] / 10.0)
    parts = [type("P", (), {"capacity_j_k": x, "mean_c": 20 + s}) for x, s in zip(c, settled)]
    assert seen_capacity(parts, 20 + settled[0], 20.0) == pytest.approx(fitted, rel=1e-9)


def test_a_probe_that_reads_low_is_put_right():
    assert attached_end(Log(attached="pressed bead"), 20.0, (220.0, 220.0, 220.0))[1:] == pytest.approx(
        (20 + 200 / 0.95, 20 + 200 / 0.65)
    )
    untold = attached_end(Log(), 20.0, (220.0, 215.0, 230.0))  # who tells less is not told a narrower band
    assert untold == pytest.approx((220.0, 215.0, 20 + 210 / (1 - 0.35)))
    assert attached_end(None, 20.0, (220.0, 215.0, 230.0)) == (220.0, 215.0, 230.0)


def test_verdicts_of_a_log(press):
    build, out = press
    step = work_log(out.coil, sheet_log(build, 1), at=build.log[1])
    assert [v.state for v in log_checks(build, step, build.log[1])] == ["fine"]  # this sheet names no job
    wants = replace(build, want=replace(build.want, job=rows("work")[0]["job"]))
    assert {v.what for v in log_checks(wants, step, build.log[1])} >= {
        "left on, by the log",
        "hot enough for the job, by the log",
    }
    assert len(log_checks(wants, step, Log(at_m=0.15))) == 1 and log_checks(build, None) == []


def text_of(temps, every_s=20):
    return "s,degC\n" + "\n".join(f"{i * every_s},{x:.2f}" for i, x in enumerate(temps))


def test_what_cannot_be_fitted_says_why():
    with pytest.raises(Fault, match="is all it rises"):
        data_of(log_of_text(text_of([20.0, 20.1, 20.0, 20.2] * 8)))
    cooling = 20 + 200 * np.exp(-np.arange(40) / 10)
    with pytest.raises(Fault, match="it only cools"):
        data_of(log_of_text(text_of(cooling)))
    with pytest.raises(Fault, match="need"):
        data_of(log_of_text(text_of(cooling[::-1])), until_s=30.0)


def test_a_cooling_log_gives_its_time_constant():
    log = log_of_text(text_of(20 + 200 * np.exp(-np.arange(60) / 10)))
    part = work_log(None, log, cooling=True)
    assert part.slow_s == pytest.approx(200.0, rel=0.01) and part.end_c == pytest.approx(20.0, abs=0.5)
    assert np.isnan(part.resistance_k_per_w) and np.isnan(part.metal_c)


def test_a_switching_off_that_nobody_wrote_down():
    up = 20 + 200 * (1 - np.exp(-np.arange(40) / 10))
    log = log_of_text(text_of(np.concatenate([up, 20 + (up[-1] - 20) * np.exp(-np.arange(1, 41) / 10)])))
    data, _, remarks = data_of(log)
    assert data.steps == ((0.0, 1.0), (780.0, 0.0)) and "switched off" in remarks[0].text


def test_a_very_long_log_is_thinned_and_says_so():
    t = np.arange(20000)
    log = log_of_text("s,degC\n" + "\n".join(f"{i},{20 + 200 * (1 - np.exp(-i / 900)):.2f}" for i in t))
    data, _, remarks = data_of(log)
    assert data.time_s.size == 1500 and "means of neighbours" in remarks[0].text


def test_a_log_is_kept_in_the_sheet(tmp_path):
    sheet = tmp_path / "mine.toml"
    sheet.write_text('# my own words\n[sheet]\nname = "mine"\n', encoding="utf-8")
    data = LOGS[0].read_bytes()
    assert keep_log(sheet, data, Log("warm.csv", 0.002, "pressed bead")) == 0
    assert keep_log(sheet, data + b"\n", Log("warm.csv")) == 1
    build = bc.load(sheet)
    assert [x.file for x in build.log] == ["warm.csv", "warm_2.csv"] and build.log[0].at_m == pytest.approx(0.002)
    assert sheet.read_text().startswith("# my own words") and Path(f"{sheet}.previous").is_file()
    assert sheet_log(build, 0).time_s.size == read_log(LOGS[0]).time_s.size
    with pytest.raises(Fault, match="Closest: warm.csv"):
        sheet_log(replace(build, log=(Log(file="warn.csv"),)))
    with pytest.raises(Fault, match=r"no \[\[log\]\]"):
        sheet_log(replace(build, log=()))


def test_a_kept_log_keeps_how_it_is_written(tmp_path):
    """Times in minutes and degrees Fahrenheit without a word in the file: the sheet says so, then and later."""
    path = tmp_path / "mine.toml"
    path.write_text(
        Path(bc.load_chosen("insert_press").file).read_text(encoding="utf-8").split("[[log]]")[0], encoding="utf-8"
    )
    lines = "".join(f"{m / 2:g};{32 + 1.8 * (20 + 200 * (1 - np.exp(-m / 5))):.1f}\n" for m in range(40))
    keep_log(path, lines.encode(), Log("hand.csv", 0.01, time="min", reads="degF"))
    build = bc.load(path)
    log = sheet_log(build, 0)
    assert build.log[0].time == "min" and build.log[0].reads == "degF"
    assert log.time_s[-1] == pytest.approx(39 / 2 * 60) and log.temp_c[-1] == pytest.approx(220, abs=1)
    with pytest.raises(bc.Fault, match="is not one of"):
        bc.read(path.read_text(encoding="utf-8").replace('time = "min"', 'time = "minutes"'))


def test_measured_watts_of_a_log_stand_before_those_of_the_supply(tmp_path):
    build = bc.load_chosen("foil_iron")
    coil = bc.links(build)[2]
    one = work_log(coil, sheet_log(build, 0), at=build.log[0])
    said = replace(build.log[0], power_w=50.0)
    assert work_log(coil, sheet_log(build, 0), at=said).load_w == 50.0 and one.load_w != 50.0


def test_twelve_points_by_hand_get_the_wide_band_and_say_so():
    rng, held = np.random.default_rng(3), 0
    times = np.array([0, 0.5, 1, 1.5, 2, 3, 4, 5, 6, 7, 8, 9]) * 60.0
    truth = 20 + 221
    for _ in range(20):
        temps = np.round(truth - 150 * np.exp(-times / 200) - 71 * np.exp(-times / 40) + rng.normal(0, 1, 12))
        found = forecast(Data(times, temps, ((0.0, 1.0),), 1.0))
        held += found.low_c <= truth <= found.high_c
        assert any("too few" in w for w in found.warnings)
    assert held >= 18


def test_a_comma_and_a_blank_part_columns():
    text = "time min, temp degC\n" + "".join(f"{m / 2:g}, {20 + 15 * m}\n" for m in range(12))
    log = log_of_text(text, "hand")
    assert log.time_s.size == 12 and log.time_s[1] == 30.0 and log.temp_c[-1] == 185.0


def test_a_model_that_cannot_follow_keeps_nothing():
    from benchcalc.show.calibrate import tables as calibrate_rows
    from benchcalc.studies.calibrate.calibrate import MISFIT_LIMIT, calibrate
    from benchcalc.studies.calibrate.probe import probe
    from benchcalc.studies.calibrate.put_back import calibrated

    build = bc.load_chosen("insert_press")
    times = np.linspace(0, 1800, 40)
    odd = probe("odd", 0.01, times, 20 + 180 * np.abs(np.sin(times / 300)), attached="peened or embedded")
    found = calibrate(build, (odd,), run_count=4)
    assert found.misfit > MISFIT_LIMIT and calibrated(build, found) is build
    assert "cannot follow" in str(calibrate_rows.predictions(found)) and "cannot follow" in str(
        calibrate_rows.next_table(found)
    )


def test_own_logs_take_the_place_of_invented_ones(tmp_path):
    from benchcalc.studies.calibrate.practice_readings import page_probes

    build = bc.load_chosen("insert_press")
    assert page_probes(build)[1] is not None
    own, hidden, said = page_probes(replace(build, invented=False))
    assert hidden is None and len(own) == len(build.log) and "your own sheet" in said
    stepped = next(p for p in own if "step" in p.name)
    assert len(stepped.steps) > 1 and stepped.steps[-1][1] == pytest.approx(0.5, abs=0.05)


def test_an_end_at_the_bound_of_the_search_is_no_answer():
    from benchcalc.show.log.panel import log_says

    build = bc.load_chosen("foil_iron")
    part = work_log(bc.links(build)[2], sheet_log(build, 0), at=build.log[0])
    told = dict(log_says(replace(part, wide_high_c=1400.0, high_c=1400.0)))
    assert told["ends at"] == "cannot tell yet" and told["outer band"].endswith("and up")
    assert dict(log_says(part))["ends at"].count("to") == 1


def test_who_does_not_tell_how_a_probe_sits_is_told_no_safer_end(press):
    """The same log by a bead pressed on and by one of which nobody tells: the high end is the same, and it is said."""
    build, out = press
    wants = replace(build, want=replace(build.want, job=rows("work")[0]["job"]))
    told = []
    for at in (build.log[1], replace(build.log[1], attached=None)):
        part = work_log(out.coil, sheet_log(build, 1), at=at)
        told.append(next(v for v in log_checks(wants, part, at) if v.what == "left on, by the log"))
    sure, untold = told
    assert build.log[1].attached == "pressed bead" and untold.band.high == pytest.approx(sure.band.high)
    assert untold.band.low < sure.band.low and untold.value < sure.value
    assert "35% of the rise may hide" in untold.why and "not told, so" not in sure.why
