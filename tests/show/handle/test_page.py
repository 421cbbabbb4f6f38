"""The handle page: panel at every end, picture, tables, remedies."""

from dataclasses import replace

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.chain.heat.holes import with_break
from benchcalc.show.drawing.live_picture import Live, still
from benchcalc.show.handle import panel as handle_panel_module
from benchcalc.show.handle import tables as handle_rows
from benchcalc.show.handle.figure import BREAK
from benchcalc.show.handle.numbers import break_caption, break_numbers
from benchcalc.show.handle.panel import (
    handle_bands,
    handle_links,
    handle_panel,
    handle_says,
    handle_sliders,
    handle_verdicts,
    to_play,
    with_holes,
)
from benchcalc.show.panel.sliders import Telling, plan, results_at, settings
from benchcalc.studies.remedies import advice, remedies, tip_give_of, without_holes

NAMES = ("insert_press", "foil_iron")


def spec(name):
    build = to_play(bc.load_chosen(name))
    return plan(
        build, handle_sliders(build), handle_links, BREAK, Telling(handle_says, handle_verdicts, slow=handle_bands)
    )


@pytest.mark.parametrize("name", NAMES)
def test_every_end_of_every_slider_can_be_drawn(name):
    s, live = spec(name), Live(BREAK)
    refused = 0
    for word, moved in settings(s):
        at = results_at(s, moved, rest=False)
        assert live.png(at.numbers) and at.caption and at.rows, word
        refused += at.result[3].refused != ""
        if at.result[3].refused:
            assert "fit" in at.caption or "tube" in at.caption or "run into" in at.caption, at.caption
    assert refused < len(settings(s)) / 2


@pytest.mark.parametrize("name", NAMES)
def test_at_rest_there_are_bands(name):
    at = results_at(spec(name), {}, rest=True)
    assert at.extra["handle.entry_c"].low < at.result[4].entry_c < at.extra["handle.entry_c"].high
    assert any("(" in text for _, text in at.rows) and at.verdicts


def test_lines_of_heat_keep_off_the_holes_and_go_from_end_to_end():
    build = with_holes(to_play(bc.load_chosen("insert_press")), rings=2.0, hole_m=3.5e-3, ring_spacing_m=4.5e-3)
    n = break_numbers(build, handle_links(build))
    near, far = n.frame[1:3]
    assert len(n.lines) > 30 and len(n.holes) >= 12
    for line in n.lines:
        assert line[0, 0] == near and line[-1, 0] == far
        for hole in n.holes:
            middle, half = hole.mean(axis=0), np.ptp(hole, axis=0) / 2
            assert np.all(np.hypot(*((line - middle) / half).T) > 0.96)


def test_lines_and_holes_are_on_the_picture():
    build = with_holes(to_play(bc.load_chosen("insert_press")), rings=2.0)
    live = Live(BREAK)
    for at in (build, with_holes(build, rings=0.0), build):
        pixels = np.asarray(live.image(break_numbers(at, handle_links(at))).convert("RGB")).astype(int)
        brown = np.abs(pixels - (0x7D, 0x3A, 0x0C)).sum(axis=2) < 90
        assert brown[:250].sum() > 5000
    paper = np.abs(pixels[60:230, 150:760] - (0xFF, 0xFD, 0xF7)).sum(axis=2) < 12
    assert paper.sum() > 1500  # the holes


def test_the_picture_says_what_it_shows():
    build = to_play(bc.load_chosen("insert_press"))
    n = break_numbers(build, handle_links(build))
    with_c, without_c = (handle_links(b)[4].entry_c for b in (build, without_holes(build)))
    assert with_c < without_c - 5
    assert f"{with_c:.0f} degC with the holes and {without_c:.0f} degC without" in break_caption(n)
    none = with_holes(build, rings=0.0)
    assert " with the holes and " not in break_caption(break_numbers(none, handle_links(none)))
    assert still(BREAK, n)[:4] == b"\x89PNG"
    pot = bc.load_chosen("wax_pot")
    assert "nothing to drill" in break_caption(break_numbers(pot, handle_links(pot)))


def test_a_pattern_that_does_not_fit_says_how_many_do():
    build = with_holes(to_play(bc.load_chosen("insert_press")), holes=12.0, hole_m=3e-3)
    result = handle_links(build)
    assert "fit" in break_caption(break_numbers(build, result))
    assert [v.state for v in handle_verdicts(result, build, None)] == ["not known"]


def test_what_is_kept_is_what_was_shown(tmp_path, monkeypatch):
    monkeypatch.setenv("BENCHCALC_MY", str(tmp_path))
    shown = handle_panel(bc.load_chosen("insert_press"))
    for path, value in (("rings", 2.0), ("hole_m", 3.5e-3), ("staggered", False)):
        shown.set(f"heat_break.break.{path}", value)
    shown.set("part.handle.from_m", 0.13)
    shown.keep()
    assert "Kept in my_insert_press.toml" in shown.told.value
    kept = bc.load(tmp_path / "my_insert_press.toml")
    hole, moved = kept.heat_break[0], shown.good.build.heat_break[0]
    assert (hole.rings, hole.holes, hole.staggered) == (2, 6, False)
    for field in ("from_m", "hole_m", "ring_spacing_m"):
        assert getattr(hole, field) == pytest.approx(getattr(moved, field)), field
    assert handle_links(to_play(kept))[4].entry_c == pytest.approx(shown.good.result[4].entry_c, abs=0.5)


def test_remedies_move_what_they_should():
    by = {r.words: r for r in remedies(bc.load_chosen("insert_press"))}
    today = by["as it is, no holes"]
    for words in (
        "laid down instead of tip down",
        "80% of the power",
        "20 mm more bare tube",
        "wall thinner by 0.3 mm",
        "one ring of holes",
    ):
        assert by[words].entry_c < today.entry_c - 2, words
    assert by["80% of the power"].tip_c < today.tip_c and by["wall thinner by 0.3 mm"].stiffness < 1
    assert by["handle 1 mm off the tube"].bore_c < today.bore_c < by["handle 1 mm off the tube"].entry_c
    own_wire = bc.change(bc.load_chosen("insert_press"), "coil.tails.material", None)
    thick = {r.words: r for r in remedies(own_wire)}
    assert thick["tails of copper"].entry_c > thick["as it is, no holes"].entry_c
    assert min(r.entry_c for r in by.values()) == by["the same, laid down, 40 mm more"].entry_c < 77


def test_the_advice_ends_fine_for_the_insert_press():
    """Its own road: laid down, holes, then a longer tube; holes do not do it alone."""
    steps = advice(bc.load_chosen("insert_press"), samples=60)
    assert steps[0].wood == "over" and steps[-1].done and len(steps) <= 7
    assert "holes" in steps[2].words and steps[2].wood == "over" and "tube" in steps[-1].words
    entries = [s.entry.nominal for s in steps]
    assert entries == sorted(entries, reverse=True)


def test_stiffness_is_cantilever_arithmetic():
    """A tube twice as far out gives by the cube: F L^3/(3 E I), Roark table 8.1."""
    build = bc.load_chosen("insert_press")
    tube = build.part[2]
    ei = 2.0e11 * np.pi * (tube.outer_m**4 - tube.inner_m**4) / 64
    assert tip_give_of(build) == pytest.approx((0.12**3 - 0.024**3) / 3 / ei, rel=0.08)


def test_tables_read():
    build = to_play(bc.load_chosen("insert_press"))
    parts = handle_links(build)
    assert "unsafe" in repr(handle_rows.estimates(build)) and "safe" in repr(handle_rows.estimates(build))
    assert len(handle_rows.touch(build, parts[4]).rows) == 5
    assert [r[0] for r in handle_rows.rings(build).rows] == ["0", "1", "2", "3", "4"]
    assert "weaker" in repr(handle_rows.wood(build, parts[4]))
    late = handle_rows.hours(build, parts, minutes=(5, 60))
    assert "hand round it" in repr(late)
    assert len(handle_rows.marker_bench(build, parts).rows) == 5


@pytest.mark.parametrize("name", NAMES)
def test_the_panel_begins_with_the_tube_as_the_sheet_has_it(name):
    """No holes on it: the numbers and limits of the page's tables, one curve, and the rings' slider at 0."""
    build, rings = bc.load_chosen(name), "heat_break.break.rings"
    assert not build.heat_break
    made, workings = handle_panel(build), bc.work_out(build)
    told = dict(made.good.rows)
    assert told["holes"] == "none (as on your sheet)" and made.handles[rings].value == 0 and not made.moved()
    for word, field in (("tube at the handle", "entry_c"), ("handle outside", "grip_c")):
        assert getattr(made.good.result[4], field) == pytest.approx(getattr(workings.handle, field), abs=0.01)
        assert told[word].split(" (")[0] == bc.say(field, getattr(workings.handle, field))
    judged = {v.what for v in workings.of("handle") if v.state != "does not apply"}
    assert {v.what for v in made.good.verdicts} == judged
    assert [word for word, *_ in made.good.numbers.curves] == ["whole tube"] and not made.good.numbers.holes
    assert "with no holes" in made.good.caption
    lent = handle_panel(replace(build, lent=name))
    assert dict(lent.good.rows)["holes"] == f"none (as on the demo {name})"


def test_holes_are_an_offer_by_a_slider_that_begins_at_none(tmp_path, monkeypatch):
    monkeypatch.setenv("BENCHCALC_MY", str(tmp_path))
    made, at = handle_panel(bc.load_chosen("insert_press")), "heat_break.break."
    shapes = {made.handles[at + field] for field in ("holes", "hole_m", "ring_spacing_m", "staggered")}
    whole_c = made.good.result[4].entry_c
    made.set(at + "holes", 5.0)
    assert not shapes & set(made.rack.children) and not made.moved() and made.good.result[4].entry_c == whole_c
    made.set(at + "rings", 2.0)
    assert shapes < set(made.rack.children) and dict(made.good.rows)["holes"] == "2 x 5 (not on your sheet)"
    assert made.good.result[4].entry_c < whole_c - 3 and len(made.good.numbers.curves) == 2
    made.set(at + "rings", 0.0)
    assert not made.moved() and made.good.result[4].entry_c == whole_c
    made.set(at + "rings", 1.0)
    made.keep()
    assert dict(made.good.rows)["holes"] == "1 x 5 (as on your sheet)" and not made.moved()
    kept = bc.load(tmp_path / "my_insert_press.toml")
    assert handle_panel(kept).good.rows == made.good.rows


def test_a_sheet_with_holes_begins_with_them():
    drilled = with_holes(with_break(bc.load_chosen("insert_press")), rings=2.0)
    made = handle_panel(drilled)
    assert dict(made.good.rows)["holes"] == "2 x 6 (as on your sheet)" and len(made.good.numbers.curves) == 2
    assert made.good.result[4].entry_c == pytest.approx(bc.work_out(drilled, samples=0).handle.entry_c, abs=0.01)
    made.set("heat_break.break.rings", 0.0)
    assert dict(made.good.rows)["holes"] == "none" and made.moved() == {"heat_break.break.rings": 0.0}


def test_without_holes_one_tool_is_worked_out(monkeypatch):
    calls, build = [], handle_panel(bc.load_chosen("insert_press")).spec.build
    monkeypatch.setattr(handle_panel_module, "work_heat", lambda *a, **k: calls.append(1))
    assert handle_links(build)[4] is not None and not calls


def test_the_handle_is_named_inside_the_picture_wherever_it_begins():
    spec, live = handle_panel(bc.load_chosen()).spec, Live(BREAK)
    ends = next(s for s in spec.sliders if s.path == "part.handle.from_m")
    for begins_m in (ends.low, 0.12, ends.high):
        live.image(results_at(spec, {ends.path: begins_m}, rest=False).numbers)
        word, (low, high) = live.artists.words["handle"], live.artists.axes.get_xlim()
        left, right = (word.place[0] - w * (high - low) for w in ((0.0, -0.2) if word.ha == "left" else (0.2, 0.0)))
        assert low <= left and right <= high
