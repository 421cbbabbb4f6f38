"""The warm front: picture, tables and form say what the study says, at the edges too, and never a traceback."""

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.basics.band import Band
from benchcalc.basics.fault import Fault
from benchcalc.basics.tables import rows
from benchcalc.show.drawing.live_picture import picture
from benchcalc.show.heat import spread_tables
from benchcalc.show.heat.front_figure import FRONT
from benchcalc.show.heat.front_form import asked_first, front_form
from benchcalc.show.heat.front_numbers import front_numbers, front_words
from benchcalc.studies.asked_temperature import asked_temperature
from benchcalc.studies.spread_in_time import front_of, spread_in_time


@pytest.fixture(scope="module")
def iron():
    build = bc.load_chosen("foil_iron")
    return build, spread_in_time(build, bc.work_out(build), designs=16)


def test_what_is_asked_for_is_a_temperature_or_a_marker():
    assert asked_temperature("130").temp_c == asked_temperature(130).temp_c == 130.0
    assert asked_temperature("266 degF").temp_c == pytest.approx(130.0)
    assert asked_temperature("266", degrees="F").temp_c == pytest.approx(130.0)
    assert asked_temperature("130,5 degC").temp_c == pytest.approx(130.5)
    for r in rows("markers"):
        found = asked_temperature(r["marker"])
        assert (found.temp_c, found.safe) == (r["low_c"], r["safe"])
    assert asked_temperature("milk bottle").marker == asked_temperature("HDPE").marker
    for words, said in (
        ("brimstone", "neither a temperature nor"),
        ("", "neither a temperature nor"),
        ("9000", "must lie between"),
        ("-300 degC", "must lie"),
        ("nan", "neither"),
        ("12 volts", "volts"),
        ("1" * 500, "505"),
        ("<b>tin</b>", "neither"),
    ):
        with pytest.raises(Fault, match=said):
            asked_temperature(words)


def test_tables_and_picture_say_what_the_study_says(iron):
    build, spread = iron
    asked = asked_temperature("tin")
    n = front_numbers(build, spread, asked)
    assert [m[0] for m in n.moments] == ["8 min", "an hour", "settled"]
    for (_, nominal, low, high, place), time_s in zip(n.moments, (480.0, 3600.0, np.inf)):
        assert place == front_of(spread, asked.temp_c, time_s)
        assert (low <= nominal).all() and (nominal <= high).all()
        assert np.interp(place.nominal, n.places_m, nominal) == pytest.approx(asked.temp_c, abs=0.5)
    told = spread_tables.fronts(build, spread, "tin", "zinc", "PTFE").rows
    assert told[0][1] == front_words(n.moments[0][4]) and told[0][1] in FRONT.caption(n)
    assert "never on the bench" in told[1][0] and told[0][0].startswith("tin, 232")
    shown = spread_tables.times(build, spread, (8,)).rows
    assert shown[0][1].startswith(bc.say("tip_c", spread.band_at("tip_c", 480.0).nominal))
    ready = spread_tables.ready_times(build, spread, "150", "1300")
    assert "never" in ready.rows[1][1] and ready.rows[0][2] == "100%"
    assert any("to within a tenth" in r[0] for r in ready.rows)


def test_places_in_words_at_both_ends_of_the_tube():
    nan, inf = float("nan"), float("inf")
    assert front_words(Band(nan, nan, nan)) == "nowhere yet" and front_words(Band(inf, inf, inf)) == "all of it"
    assert front_words(Band(nan, nan, 0.1)) == "nowhere yet (nowhere yet to 100 mm)"
    assert front_words(Band(0.1, 0.09, 0.11)) == "100 mm (90.0 to 110)"


def test_the_form_takes_whatever_is_typed(iron):
    build, spread = iron
    form = front_form(build, spread)
    assert "As hot as" in form.words and "<img" in form.view.value
    form.ask("milk bottle", 12.0)
    assert "12 min" in form.words and "polyethylene" in form.words
    for words, minutes in (("<script>alert(1)</script>", 5.0), ("", 5.0), ("tin", 1e9), ("tin", float("nan"))):
        form.ask(words, minutes)
        assert "<script" not in form.view.value and "<img" not in form.view.value
    form.ask("900 degC", 0.5)
    assert "nowhere yet" in form.words
    form.ask("5 degC", 170.0)
    assert "all of it" in form.words
    assert "image/png" in form.kept()[0]


def test_a_tool_without_a_tube_or_without_a_model_is_told():
    build = bc.load_chosen("foam_bow")
    spread = spread_tables.spread_of(build, bc.work_out(build, samples=0))
    assert spread is None and asked_first(spread) == "130 degC"
    for one in (spread_tables.times(build, spread), spread_tables.ready_times(build, spread, "100")):
        assert "nothing to work on" in one.rows[0][0]
    assert "No tube" in spread_tables.fronts(build, spread, "100").rows[0][0]
    assert "no part with the role tube" in picture(FRONT, build, (spread, asked_temperature(100))).caption
    front_form(build, spread).ask("tin", 8.0)
