"""The heat page: its picture says what the numbers say, its panels hold at every end of every slider."""

from dataclasses import replace

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.show.drawing.live_picture import Live, picture
from benchcalc.show.drawing.style import shade_of
from benchcalc.show.heat.figure import TOOL
from benchcalc.show.heat.numbers import SHADE_STEPS, heat_numbers, merged
from benchcalc.show.heat.panel import (
    ROWS,
    at_moment,
    at_own_power,
    at_wanted_power,
    heat_panel,
    heat_verdicts,
    time_panel,
)
from benchcalc.show.panel.sliders import results_at, settings
from benchcalc.thermal.tool.watts_out import watts_out

WITH_PARTS = ("insert_press", "foil_iron", "wax_pot")


def test_insulation_past_its_rating_is_told_where_the_watts_are_moved():
    build = at_own_power(bc.load_chosen("insert_press"))
    rated = 482.0  # 900 degF: what data sheets print for untreated glass braid
    for watts, over in ((build.want.power_w, False), (2 * build.want.power_w, True)):
        at = replace(build, want=replace(build.want, power_w=watts))
        result = at_wanted_power(at)
        assert (result[3].wire_c > rated) == over
        told = {v.what: v.state for v in heat_verdicts(result, at, None) if "glass sleeve" in v.what}
        assert ("over" in told.values()) == over and "fine" not in told.values()


@pytest.mark.parametrize("name", WITH_PARTS)
def test_marks_and_curves_are_the_worked_out_temperatures(name):
    build = at_own_power(bc.load_chosen(name))
    heat = at_wanted_power(build)[3]
    n = heat_numbers(build, heat)
    marks = {word: t for word, _, t in n.marks}
    assert marks["hottest wire"] == heat.wire_c
    for word, field in (("tip", "tip_c"), ("tube at the handle", "entry_c"), ("work", "work_c")):
        assert (word in marks) == bool(np.isfinite(getattr(heat, field)))
    if "tube at the handle" in marks:
        _, x, t = next(c for c in n.curves if c[0] == "tube")
        assert np.interp(n.handle[0], x, t) == pytest.approx(marks["tube at the handle"], abs=0.6)
    assert n.cells[:, 4].max() == pytest.approx(
        heat.sheath_c, abs=1e-9
    )  # nothing drawn is hotter than the winding's mean
    assert bc.say("wire_c", heat.wire_c) in TOOL.caption(n)


@pytest.mark.parametrize("name", WITH_PARTS)
def test_the_panel_holds_at_every_end_of_every_slider(name):
    spec = heat_panel(bc.load_chosen(name)).spec
    assert len(spec.sliders) >= 4
    tried = settings(spec)
    for words, moved in tried:
        at = results_at(spec, moved, rest=False)
        assert at.rows and ("not worked out" in at.rows[0][1]) == bool(at.refused), words
        assert not at.refused or words.startswith("all "), (words, at.refused)  # one slider alone never ends in a clash


@pytest.mark.parametrize("name", WITH_PARTS)
def test_the_panels_begin_where_the_tables_of_the_page_stand(name):
    """At the coil's own watts, not at the nearest step of their slider."""
    build = bc.load_chosen(name)
    workings, settled, cold = bc.work_out(build), heat_panel(build), time_panel(build)
    told = dict(settled.good.rows)
    for shown in (settled, cold):
        assert shown.spec.build.want.power_w == workings.coil.coil_w
    for word, field in ROWS:
        if word in told:
            assert getattr(settled.good.result[3], field) == pytest.approx(getattr(workings.heat, field), abs=0.002)
            assert told[word] == bc.band_text(workings.bands[f"heat.{field}"], field)
    handle = settled.handles["want.power_w"]
    assert f"{handle.value:{handle.readout_format}}" == f"{workings.coil.coil_w:.1f}" and not settled.moved()


def test_the_power_slider_raises_every_temperature():
    shown = heat_panel(bc.load_chosen())
    before = dict(shown.good.rows)
    shown.set("want.power_w", 30.0)
    after = dict(shown.good.rows)
    assert before.keys() == after.keys()
    assert all(float(after[w].split()[0]) > float(before[w].split()[0]) for w in before)


def test_the_time_slider_walks_from_the_room_to_the_settled_tool():
    shown = time_panel(bc.load_chosen())
    seen = []
    for seconds in (0.0, 600.0, 3600.0):
        shown.set("at_s", seconds)
        seen.append({w: float(t.split()[0]) for w, t in shown.good.rows})
    assert seen[0]["tip"] == 20 and seen[0]["tip"] < seen[1]["tip"] < seen[2]["tip"]
    slow = [(s["tube at the handle"] - 20) / (seen[2]["tube at the handle"] - 20) for s in seen]
    fast = [(s["tip"] - 20) / (seen[2]["tip"] - 20) for s in seen]
    assert fast[1] > slow[1]  # the tip is ready before the tube is
    assert at_moment(replace(shown.spec.build, at_s=600.0)).run is not None


def test_a_sheet_without_parts_gives_a_sentence_not_an_error():
    build = bc.load_chosen("foam_bow")
    pictured = picture(TOOL, build, (*bc.links(build), None))
    assert "no tool to draw" in pictured.caption and len(pictured.png) > 1000


def test_a_picture_follows_in_time_for_a_slider():
    build = at_own_power(bc.load_chosen())
    live, parts = Live(TOOL), at_wanted_power(build)
    first = live.png(TOOL.numbers(build, parts))
    other = bc.change(build, "want.power_w", 12.0)
    assert live.png(TOOL.numbers(other, at_wanted_power(other))) != first


@pytest.mark.parametrize("name", WITH_PARTS)
def test_the_watts_close_the_account(name):
    build = bc.load_chosen(name)
    heat = bc.work_out(build, samples=0).heat
    assert sum(watts_out(heat.model, heat.temps_c).values()) == pytest.approx(heat.model.net.power_w.sum(), rel=1e-6)


def test_parts_side_by_side_are_two_curves_and_end_to_end_one():
    from benchcalc.show.heat.numbers import _joined

    x, t = _joined([np.array([0.0, 1.0, 2.0]), np.array([1.5, 2.5])], [np.array([5.0, 4.0, 3.0]), np.array([9.0, 8.0])])
    assert np.isnan(x[3]) and np.isnan(t[3]) and len(x) == 6
    x, t = _joined([np.array([2.5, 3.0]), np.array([0.0, 1.0])], [np.array([3.0, 2.0]), np.array([5.0, 4.0])])
    assert list(x) == [0.0, 1.0, 2.5, 3.0] and list(t) == [5.0, 4.0, 3.0, 2.0]


def test_a_kept_power_is_kept_with_the_length_that_gives_it(monkeypatch, tmp_path):
    monkeypatch.setenv("BENCHCALC_MY", str(tmp_path))
    monkeypatch.delenv("BENCHCALC_SHEET", raising=False)
    shown = heat_panel(bc.load_chosen("insert_press"))
    shown.set("want.power_w", 26.0)
    tip_c = shown.good.result[3].tip_c
    shown.keep()
    kept = bc.work_out(bc.load_chosen(), samples=0)
    assert kept.coil.coil_w == pytest.approx(26.0, rel=0.01) and kept.heat.tip_c == pytest.approx(tip_c, abs=3)


def test_a_panel_that_only_looks_offers_no_keeping():
    words = [b.description for b in time_panel(bc.load_chosen("insert_press"))._buttons().children[0].children]
    assert words == ["back to the sheet"]


def test_a_shade_is_one_temperature_whatever_the_power_and_the_hotter_is_the_darker():
    """From a warm hand to white heat no cell jumps in shade at any step of the slider."""
    spec, live, drawn = heat_panel(bc.load_chosen()).spec, Live(TOOL), []
    for w in (1.2, 8.0, 20.0, 20.1, 36.0, *np.linspace(44.0, 54.0, 21)):  # its winding passes 740 degC, and 800
        n = results_at(spec, {"want.power_w": w}, rest=False).numbers
        live.image(n)
        cells = live.artists.cells.get_facecolor()[: len(merged(n.cells, shade_of(n.cells[:, 4]))[0])]
        drawn.append((n.cells[:, 4].max(), cells.sum(axis=1).min(), cells.sum(axis=1).max()))
    hottest, darkest, palest = np.array(drawn).T
    assert hottest[5] < 740 < 800 < hottest[-1] and (np.diff(hottest) > 0).all()
    assert (np.diff(darkest) <= 1e-9).all() and np.abs(np.diff(darkest[5:])).max() < 0.05  # a step of shades
    assert palest[0] - darkest[0] < 0.3 < palest[-1] - darkest[-1]
    shades = shade_of(np.linspace(-20.0, 2000.0, 500))
    assert (np.diff(shades) >= 0).all() and shades[0] == 0 and shades[-1] == 1


def words_of(live, numbers):
    live.image(numbers)
    return {name: word.text for name, word in live.artists.words.items()}


def test_every_mark_has_its_words_and_no_zone_is_named_that_is_not_there():
    spec = heat_panel(bc.load_chosen()).spec
    live = Live(TOOL)
    for begins_m in (0.09, 0.1, 0.12, 0.14, 0.16):
        n = results_at(spec, {"part.handle.from_m": begins_m}, rest=False).numbers
        told = words_of(live, n)
        assert [told[f"mark {i}"].split(" " + n.says("temp_c", t))[0] for i, (_, _, t) in enumerate(n.marks)] == [
            word for word, *_ in n.marks
        ]
        assert "too hot for wood" in told["zone"]
    assert not words_of(live, results_at(spec, {"want.power_w": 1.2}, rest=False).numbers)["zone"]


@pytest.mark.parametrize("name", WITH_PARTS)
def test_cells_of_one_shade_are_drawn_as_one_and_leave_nothing_out(name):
    build = at_own_power(bc.load_chosen(name))
    n = heat_numbers(build, at_wanted_power(build)[3])
    shade = shade_of(n.cells[:, 4])
    fewer, stepped = merged(n.cells, shade)
    assert len(fewer) < 0.7 * len(n.cells)

    def volumes(cells, of):
        return np.sum((cells[:, 1] - cells[:, 0]) * (cells[:, 3] ** 2 - cells[:, 2] ** 2) * of)

    assert volumes(fewer, 1.0) == pytest.approx(volumes(n.cells, 1.0), rel=1e-12)
    assert volumes(fewer, stepped) == pytest.approx(
        volumes(n.cells, shade), abs=0.5 / SHADE_STEPS * volumes(fewer, 1.0)
    )
    for row, is_shade in zip(n.cells, shade):
        over = (fewer[:, 0] <= row[0]) & (fewer[:, 1] >= row[1]) & (fewer[:, 2:4] == row[2:4]).all(axis=1)
        assert np.abs(stepped[over] - is_shade).min() <= 0.5 / SHADE_STEPS + 1e-12
    assert merged(n.cells[:0], shade[:0])[0].shape == (0, 5)
