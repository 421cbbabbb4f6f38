"""The warm-up page: picture, panel, form and tables, at every setting and on every sheet, mostly without a widget."""

from dataclasses import replace
from datetime import UTC

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.basics.tables import data_folder
from benchcalc.chain.log.link import sheet_log, work_log
from benchcalc.show.drawing.live_picture import Live
from benchcalc.show.log import capacity_tables as capacity_rows
from benchcalc.show.log import fit_tables as fit_rows
from benchcalc.show.log import tables as log_rows
from benchcalc.show.log.figure import LOG
from benchcalc.show.log.form import EXAMPLE, log_form
from benchcalc.show.log.numbers import log_caption, log_numbers, view_of
from benchcalc.show.log.page import first_part, lent_panel, page_log, warm_up_answers, warm_up_panel
from benchcalc.show.log.panel import log_panel, log_says
from benchcalc.show.panel.sliders import results_at, settings
from benchcalc.studies.spread_in_time import spread_in_time
from benchcalc.thermal.log.reading import log_of_text, read_log
from benchcalc.thermal.warmup.forecast import FEW

HEATER = data_folder() / "measured" / "heater_step.csv"


@pytest.fixture(scope="module")
def press():
    return bc.load_chosen("insert_press")


def test_the_panel_works_at_every_setting(press):
    for log, at in ((sheet_log(press, 1), press.log[1]), (read_log(HEATER), None)):
        box = log_panel(press, log, at)
        for name, moved in settings(box.spec):
            for rest in (False, True):
                at_ = results_at(box.spec, moved, rest)
                assert len(at_.rows) in (4, 6) and at_.verdicts and "Temperature over time" in at_.caption, name
                Live(LOG).png(at_.numbers)


def test_the_picture_holds_the_numbers_of_the_fit(press):
    log = read_log(HEATER)
    build = replace(press, at_s=260.0)
    view = view_of(build, None, log)
    n = log_numbers(build, view)
    assert n.used.sum() == 27 and n.end[0] == view.part.end_c and n.rest_k.size == 27
    fitted = np.interp(n.rest_s, n.line_s, n.line_c)
    assert log.temp_c[:27] - fitted == pytest.approx(n.rest_k, abs=0.25)
    assert np.all(n.low_c <= n.line_c + 1e-9) and np.all(n.line_c <= n.high_c + 1e-9)
    assert n.high_c[-1] - n.low_c[-1] > 3 * (n.high_c[20] - n.low_c[20])  # the band opens towards what was not measured


def test_what_cannot_be_fitted_is_said_in_the_picture(press):
    log = log_of_text("s,degC\n" + "\n".join(f"{i * 10},20.0" for i in range(30)) + "\n300,20.1")
    view = view_of(press, None, log)
    n = log_numbers(press, view)
    assert "is all it rises" in log_caption(n) and Live(LOG).png(n)


def test_the_form_takes_a_file_and_keeps_it(press, tmp_path, monkeypatch):
    monkeypatch.setenv("BENCHCALC_MY", str(tmp_path / "my"))
    monkeypatch.delenv("BENCHCALC_SHEET", raising=False)
    form = log_form(press)
    form.keep()
    assert "no log to keep" in form.told.value
    form.take("heater.csv", HEATER.read_bytes())
    assert "ends at" in form.view.value and "alt=" in form.view.value and "Not kept yet" in form.told.value
    form.take("bad.csv", b"1\n2\n3\n")
    assert "one column only" in form.told.value and form.view.value.count("<table") == 0
    form.take("plain.csv", b"0,20\n1,60\n2,80\n3,90\n4,95\n5,98\n6,99\n")
    assert "seconds or minutes" in form.told.value
    form.asked["time"].value = "min"
    assert "ends at" in form.view.value
    form.asked["attached"].value = "pressed bead"
    form.keep()
    made = bc.load(tmp_path / "my" / "my_insert_press.toml")
    assert made.log[-1].file == "plain.csv" and made.log[-1].attached == "pressed bead"
    form.path.value = str(HEATER)
    assert "heater_step.csv" in form.view.value
    form.path.value = "/nowhere/at/all.csv"
    assert "is not there" in form.told.value


def test_tables(press):
    out = bc.work_out(press, samples=0)
    log = sheet_log(press, 1)
    part = work_log(out.coil, log, at=press.log[1])
    beside, ratio = capacity_rows.capacity_beside(press, out, part, out.heat.tip_c)
    assert "they agree" in repr(beside) and 0.8 < ratio < 1.2
    assert "all of it" in repr(capacity_rows.slow_or_not(press, out, part))
    assert "(chosen)" in repr(fit_rows.forms(part)) and "at a bound" in repr(fit_rows.fit_report(part))
    assert "half power" in repr(log_rows.powers_for_less(part, 20.0)) and "own steps" in repr(
        log_rows.powers_for_less(part, 20.0)
    )
    assert "infrared" in repr(log_rows.meters()) and "header read" in repr(log_rows.report(log))
    assert len(fit_rows.correlations(part).rows) == 4


def test_half_power_of_the_log_lies_between_the_two_skins(press):
    # the step log goes on at half power: what the full-power part foretells must hold what was read at its end
    log = sheet_log(press, 1)
    part = work_log(bc.links(press)[2], log, until_s=1500.0)
    from benchcalc.thermal.warmup.formulas import SKINS, end_at_power

    low, high = sorted(end_at_power(part.load_w, part.end_c, 20.0, part.load_w / 2, *skin) for skin in SKINS)
    assert low < np.median(log.temp_c[-20:]) < high


def test_a_dropped_file_is_taken(press):
    from datetime import datetime

    form = log_form(press)
    data = HEATER.read_bytes()
    form.drop.value = (
        {
            "name": "heater.csv",
            "type": "text/csv",
            "size": len(data),
            "content": memoryview(data),
            "last_modified": datetime.now(UTC),
        },
    )
    assert "heater.csv" in form.view.value and "ends at" in form.view.value


def test_the_first_part_of_a_log_is_the_fit_of_a_log_stopped_early(press):
    whole = read_log(HEATER)
    third = first_part(press, whole, 1 / 3)
    assert third.forecast.data.time_s[-1] == whole.time_s[whole.time_s <= whole.time_s[-1] / 3][-1]
    early = view_of(replace(press, at_s=float(whole.time_s[-1]) / 3), bc.links(press)[2], whole).part
    assert (third.low_c, third.end_c, third.high_c) == (early.low_c, early.end_c, early.high_c)
    assert first_part(press, whole, 1e-6) is None


def test_without_a_log_the_page_answers_for_the_sheets_own_tool_and_names_the_lent_log():
    iron = replace(bc.load_chosen("foil_iron"), log=(), name="Mine")
    workings = bc.work_out(iron, samples=0)
    page = page_log(iron)
    assert not page.own and page.own_part is None and "no log yet" in page.top.text
    spread = spread_in_time(iron, workings, designs=8, until_s=1800.0)
    first = warm_up_panel(iron, page)
    at_8_min = bc.say("tip_c", float(np.interp(480.0, spread.run.time_s, spread.run.tip_c)))
    assert dict(first.good.rows)["tip"] == at_8_min and first.handles["at_s"].value == 8.0
    assert warm_up_answers(iron, page, spread).rows[0][0].startswith("tip at")
    lent = "Log of the demo insert_press, not of your tool."
    below = lent_panel(page)
    assert below.good.caption.startswith(lent) and all("demo insert_press" in v.named for v in below.good.verdicts)
    assert page.named(log_rows.answers(page.part)).caption == lent
    assert lent in page.whose.text and "lent by the demo insert_press" in page.said.text
    assert all("demo insert_press" in v.named for v in page.verdicts())
    parts = capacity_rows.slow_or_not(iron, workings, page.own_part)
    assert {r[0] for r in parts.rows} >= {p.id for p in iron.part if p.role != "work"} and "measured" not in repr(parts)
    heater = view_of(replace(page.build, at_s=None), None, read_log(HEATER))
    assert log_numbers(page.build, heater, rest=False).lent == ""  # open data are no demo's log


def test_a_log_of_its_own_stands_first_and_is_named_by_nobody(press):
    page = page_log(press)
    first = warm_up_panel(press, page)
    assert page.own and first.good.caption.startswith("Temperature over time") and page.top.text == ""
    table = log_rows.answers(page.part)
    assert page.named(table) is table and warm_up_answers(press, page, None).rows == table.rows
    assert not hasattr(lent_panel(page), "good") and not any("demo" in v.named for v in page.verdicts())


def test_a_log_typed_by_hand_is_read_and_kept_with_the_place_of_its_probe(press, tmp_path, monkeypatch):
    monkeypatch.setenv("BENCHCALC_MY", str(tmp_path / "my"))
    monkeypatch.delenv("BENCHCALC_SHEET", raising=False)
    form = log_form(press)
    form.typed.value = EXAMPLE  # what the form shows as an example can be read
    assert "ends at" in form.view.value and f"fewer than {FEW} readings" in form.view.value
    form.place.value = "nowhere"
    form.keep()
    assert "place of the probe" in form.told.value and not (tmp_path / "my").exists()
    form.place.value = "3 mm"
    form.keep()
    made = bc.load(tmp_path / "my" / "my_insert_press.toml")
    log = sheet_log(made, len(made.log) - 1)
    assert made.log[-1].at_m == pytest.approx(0.003) and log.time_s[-1] == 900.0 and log.temp_c[-1] == 225.0
    form.place.value, form.where.value = "", None
    form.keep()
    assert "button “markers, logs”" in form.told.value


def test_an_end_that_no_reading_tells_is_told_by_no_number():
    build = bc.load_chosen("foil_iron")
    view = view_of(replace(build, at_s=300.0), None, read_log(HEATER))
    open_end = replace(view.part, end_c=1208.0, low_c=208.0, high_c=1401.0, wide_low_c=208.0, wide_high_c=1401.0)
    n = replace(log_numbers(build, view, rest=False), end=(1208.0, 208.0, 1401.0, 208.0, 1401.0))
    assert dict(log_says(open_end))["ends at"] == "cannot tell yet" and n.no_end
    assert "1208" not in log_caption(n) and "208 degC and up" in log_caption(n)
