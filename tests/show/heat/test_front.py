"""The warm front: picture, tables and form say what the study says, at the edges too, and never a traceback."""

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.basics.band import Band
from benchcalc.basics.fault import Fault
from benchcalc.basics.tables import rows
from benchcalc.show.drawing.live_picture import picture
from benchcalc.show.heat import spread_tables
from benchcalc.show.heat.bare_tube import bare_tube
from benchcalc.show.heat.front_figure import FRONT
from benchcalc.show.heat.front_form import front_form
from benchcalc.show.heat.front_numbers import front_numbers, front_words
from benchcalc.show.heat.spread_tables import asked_first
from benchcalc.show.heat.tables import joint_matters
from benchcalc.show.page import shared_tables
from benchcalc.studies.asked_temperature import asked_temperature
from benchcalc.studies.spread_in_time import spread_in_time
from benchcalc.studies.still_air import in_still_air
from benchcalc.studies.when_and_where import front_of


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
    assert told[0][1] == front_words(n.moments[0][4], bare_m=spread.bare_m) and told[0][1] in FRONT.caption(n)
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
    assert "has not been worked out" in spread.why and asked_first(spread) == "130 degC"
    for one in (spread_tables.times(build, spread), spread_tables.ready_times(build, spread, "100")):
        assert spread.why in one.rows[0][0]
    assert "No tube" in spread_tables.fronts(build, spread, "100").rows[0][0]
    assert spread.why in picture(FRONT, build, (spread, asked_temperature(100))).caption
    front_form(build, spread).ask("tin", 8.0)


def test_the_front_goes_on_under_the_handle(iron):
    build, spread = iron
    tube, handle = (next(p for p in build.part if p.role == r) for r in ("tube", "handle"))
    assert spread.bare_m == handle.from_m and spread.tube_m[-1] == tube.to_m > spread.bare_m
    edge = float(np.interp(spread.bare_m, spread.tube_m, spread.tube_settled_c))
    assert edge == pytest.approx(spread.settled["entry_c"], abs=0.6)
    asked = asked_temperature((edge + spread.tube_settled_c[-1]) / 2)
    place = front_of(spread, asked.temp_c)
    assert spread.bare_m < place.nominal < spread.tube_m[-1]
    assert "under the handle" in FRONT.caption(front_numbers(build, spread, asked))
    told = spread_tables.fronts(build, spread, str(asked.temp_c), moments_s=(np.inf,)).rows[0][1]
    assert f"{bc.say('length_m', place.nominal - spread.bare_m)} under the handle" in told
    low = spread.bare_settled_c.min()
    assert all(asked_temperature(m).temp_c > low for m in spread_tables.markers_on(spread))  # none under the handle


def test_the_wanted_temperature_has_a_row_of_its_own(iron):
    build, spread = iron
    wanted = bc.change(build, "want.tip_c", 300.0)
    row = spread_tables.ready_times(wanted, spread).rows[0]
    assert row[0] == "tip at 300 degC (wanted)"
    (same,) = (r for r in spread_tables.ready_times(build, spread, "300").rows if "300 degC" in r[0])
    assert row[1:] == same[1:]


def test_samples_that_cannot_be_worked_out_are_told_and_the_rest_stands(monkeypatch):
    from benchcalc.chain.heat.part import refused_heat
    from benchcalc.studies import spread_in_time as study

    build = bc.load_chosen("foil_iron")
    chain = study.chain
    monkeypatch.setattr(study, "chain", lambda b: chain(b)._replace(heat=refused_heat("Two parts fill one place.")))
    spread = spread_tables.spread_of(build, bc.work_out(build, samples=0))
    for one in (spread_tables.times(build, spread), spread_tables.ready_times(build, spread)):
        assert "64 of 64 samples" in one.caption and "Two parts fill one place" in one.caption
    last = spread_tables.times(build, spread).rows[-1]
    assert last[1] == bc.say("tip_c", spread.settled["tip_c"])  # a value without a range
    assert "mm" in spread_tables.fronts(build, spread, "130").rows[0][-1]
    assert all(r[2] == "–" for r in spread_tables.ready_times(build, spread).rows)
    assert "Temperature along" in front_form(build, spread).words


def test_a_few_lost_samples_widen_what_is_told(iron):
    from dataclasses import replace

    _, spread = iron
    lost = spread.tube_settled_samples_c.copy()
    whole = front_of(replace(spread, tube_settled_samples_c=np.repeat(lost, 4, axis=0)), 130.0)
    lost = np.repeat(lost, 4, axis=0)
    lost[:2] = np.nan
    some = front_of(replace(spread, tube_settled_samples_c=lost, missing=2), 130.0)
    assert some.low <= whole.low and some.high >= whole.high


def test_the_joint_shown_has_the_largest_drop():
    """By hand from the settled tool: threaded tip and stem 20 K, set screw of tip and tube 4 K."""
    build = bc.load_chosen("insert_press")
    workings = bc.work_out(build, samples=0)
    assert joint_matters(build, workings).head[0].startswith("joint of tip and stem, threaded, 19.8 K")
    other = bc.change(build, "joint.0.contact_scale", 100.0)
    assert "tip and tube" in joint_matters(other, bc.work_out(other, samples=0)).head[0]
    pot = bc.load_chosen("wax_pot")  # its one joint is one piece
    assert "no joint" in joint_matters(pot, bc.work_out(pot, samples=0)).rows[0][0]


@pytest.mark.parametrize("name", ["insert_press", "foil_iron", "wax_pot"])
def test_the_fin_by_hand_begins_where_the_curve_of_the_model_stands(name):
    build = bc.load_chosen(name)
    workings = bc.work_out(build, samples=0)
    fin = bare_tube(build, workings)
    heat, room = workings.heat, build.room.ambient_c
    x, t = heat.model.along(fin.part.id, heat.temps_c)
    assert fin.near_k + room == pytest.approx(np.interp(fin.near_m, x, t)) and fin.length_m > 0.001
    if fin.covered:
        assert fin.near_m == heat.model.tool.winding.to_m and fin.near_k < heat.hottest(fin.part.id) - room
        assert fin.far_k == pytest.approx(heat.entry_c - room, abs=0.6)


def test_still_air_stands_beside_what_the_handle_comes_to_where_nobody_read_the_air():
    """A shut room is the usual one; where the sheet says how the air moves, that counts alone."""
    build = bc.load_chosen("insert_press")
    workings = bc.work_out(build, samples=20)
    still = in_still_air(build)
    fields = "heat.tip_c", "heat.entry_c", "heat.grip_c"
    for told in (
        [row[1] for row in shared_tables.numbers(build, workings, *fields).rows],
        spread_tables.times(build, spread_in_time(build, workings, designs=8, until_s=600.0), (2,)).rows[-1],
    ):
        for field in ("entry_c", "grip_c"):
            assert sum(f"; in still air {bc.say(field, getattr(still, field))}" in cell for cell in told) == 1
    text = bc.chosen("insert_press").read_text(encoding="utf-8")
    said = bc.read(text.replace("[room]", '[room]\nair_speed = "0.2 m/s"'))
    rows = shared_tables.numbers(said, bc.work_out(said, samples=0), *fields).rows
    assert not any("still" in row[1] for row in rows)
