"""The metals page: its picture and tables say what the numbers say, its panel holds at every end of every slider."""

from dataclasses import replace

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.basics.fault import Fault
from benchcalc.chain.metals.ranking import STANDS
from benchcalc.materials.which_metal import which_metal
from benchcalc.show.drawing.live_picture import Live, picture
from benchcalc.show.metals import joint_tables as joint_rows
from benchcalc.show.metals import piece_tables as piece_rows
from benchcalc.show.metals import tables as metal_rows
from benchcalc.show.metals.figure import LADDER, MARK
from benchcalc.show.metals.panel import at_heater, metals_derive, metals_panel, metals_says, own_conductivity, share_of
from benchcalc.show.panel.sliders import results_at, settings

WITH_PARTS = ("insert_press", "foil_iron", "wax_pot")


@pytest.fixture(scope="module", params=WITH_PARTS)
def page(request):
    build = bc.load_chosen(request.param)
    at, work = at_heater(build)
    return build, at, work


def test_the_panel_starts_where_the_sheet_stands(page):
    build, at, work = page
    out, stem = bc.work_out(build, samples=0), work(at)
    own = stem.rungs[stem.own]
    assert stem.part == build.coil.on and own.metal == stem.metal
    assert stem.heater_c == pytest.approx(out.heat.hottest(stem.part), abs=0.6)
    assert stem.through_w == pytest.approx(out.metals.through_w, rel=5e-3)
    if build.name != "Wax pot":  # a cup is hottest in the middle and drops a little to both ends
        assert own.drop_k == pytest.approx(out.metals.drop_k, rel=0.02)


def test_a_cold_end_that_cannot_be_is_not_told():
    build, work = at_heater(bc.load_chosen("insert_press"))
    cool = work(replace(build, heater_c=21.0))
    assert cool.rungs[cool.own].cold_c < 0
    rows = dict(metals_says(cool, build, None))
    assert rows["cold end"] == "–" and rows["drop along the stem"] == "cannot pass it"
    assert "cannot pass those watts" in LADDER.caption(LADDER.numbers(build, cool))


def test_the_caption_and_the_marks_say_how_each_metal_stands(page):
    _, at, work = page
    n = LADDER.numbers(at, work(at))
    words = LADDER.caption(n)
    assert set(MARK) == set(STANDS)
    for r in n.rungs:
        assert r.stands.lower() in words.lower()
    assert bc.say("heater_c", n.heater_c) in words
    assert len(picture(LADDER, at, work(at)).png) > 5000


@pytest.mark.parametrize("name", WITH_PARTS)
def test_the_panel_holds_at_every_end_of_every_slider(name):
    spec = metals_panel(bc.load_chosen(name)).spec
    for words, moved in settings(spec):
        at = results_at(spec, moved)
        assert len(at.rows) == 5 and len(at.verdicts) == 2, words
        assert metals_derive(at.result, at.build)


def test_sliding_the_heater_moves_margin_and_drop_of_every_metal():
    shown = metals_panel(bc.load_chosen("insert_press"))
    before = shown.good.numbers.rungs
    shown.set("heater_c", 560.0)
    hot = shown.good.numbers.rungs
    assert all(b.margin_k < a.margin_k for a, b in zip(before, hot))
    shown.set("want.power_w", 40.0)
    both = shown.good.numbers.rungs
    assert all(c.drop_k > b.drop_k for b, c in zip(hot, both) if np.isfinite(c.drop_k))
    assert {v.state for v in shown.good.verdicts} == {"over", "fine"}  # past 540 degC steel scales, and does not melt


def test_what_a_sheet_holds_is_kept_and_what_only_looks_is_not(tmp_path, monkeypatch):
    monkeypatch.setenv("BENCHCALC_MY", str(tmp_path / "my"))
    shown = metals_panel(bc.load_chosen("insert_press"))
    shown.set("heater_c", 500.0)
    shown.keep()
    assert "No sheet holds hot end of the stem" in shown.told.value and not (tmp_path / "my").exists()
    shown.set("part.stem.material", "copper")
    shown.keep()
    assert "Kept" in shown.told.value and 'material = "copper"' in next((tmp_path / "my").glob("*.toml")).read_text()
    assert shown.good.numbers.heater_c == 500.0  # still looked at


def test_a_melting_part_says_so():
    build = bc.change(bc.load_chosen("foil_iron"), "part.core.material", "aluminium")
    at, work = at_heater(build)
    stem = work(replace(at, heater_c=560.0))
    assert np.isnan(own_conductivity(stem)[0]) and "Nothing to derive" in metals_derive(stem, at)[0]
    assert "melts" in LADDER.caption(LADDER.numbers(at, stem))


def test_sheets_and_parts_that_give_nothing_are_told():
    with pytest.raises(Fault, match="no metal part"):
        share_of(bc.load_chosen("foam_bow"))
    with pytest.raises(Fault, match="Closest: stem"):
        share_of(bc.load_chosen("insert_press"), "stam")
    with pytest.raises(Fault, match="Known: tip, stem, tube"):
        share_of(bc.load_chosen("insert_press"), "handle")


def test_a_picture_is_redrawn_when_a_metal_changes():
    at, work = at_heater(bc.load_chosen("insert_press"))
    live = Live(LADDER)
    first = live.png(LADDER.numbers(at, work(at)))
    other = bc.change(at, "part.stem.material", "copper")
    assert live.png(LADDER.numbers(other, work(other))) != first


def test_fahrenheit_is_followed():
    at, work = at_heater(replace(bc.load_chosen("insert_press"), degrees="F"))
    n = LADDER.numbers(at, work(at))
    assert "degF" in LADDER.caption(n) and len(Live(LADDER).png(n)) > 1000


@pytest.mark.parametrize("name", [*WITH_PARTS, "foam_bow"])
def test_tables_hold_on_every_demo(name):
    build = bc.load_chosen(name)
    out = bc.work_out(build, samples=0)
    for make in (
        metal_rows.margins,
        metal_rows.drops,
        joint_rows.joints,
        joint_rows.fits,
        metal_rows.least_warm_up,
        joint_rows.joint_as_length,
    ):
        assert make(build, out).rows
    id = build.coil.on or "bow"
    ranked = metal_rows.ranking(build, out, id)
    assert name == "foam_bow" or sum("(yours)" in r[1] for r in ranked.rows) == 1


def test_the_least_time_is_energy_over_power():
    build = bc.load_chosen("insert_press")
    out = bc.work_out(build, samples=0)
    last = metal_rows.least_warm_up(build, out).rows[-1]
    assert float(last[4].split()[0]) == pytest.approx(float(last[3].split()[0]) / out.coil.coil_w, rel=0.01)


def test_other_tables():
    build = bc.load_chosen("insert_press")
    screws = joint_rows.screws(build)
    assert screws.rows[0][1] == "+0 um" and screws.rows[0][2].startswith("+") and screws.rows[1][1].startswith("-")
    assert any("times" in c for c in piece_rows.spread(build).rows[0])
    assert piece_rows.guesses(which_metal(magnet="no", filed="red")).rows[0][0] == "copper"
    assert "No metal" in piece_rows.guesses(()).rows[0][0]
