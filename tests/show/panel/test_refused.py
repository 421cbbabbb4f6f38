"""What cannot be is drawn as refused, and sliders end where geometry ends."""

from pathlib import Path

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.chain.wire.fit_verdicts import bores_around
from benchcalc.chain.workings import links
from benchcalc.sheet.change import change
from benchcalc.show.handle.panel import BREAK, handle_links, handle_panel, handle_sliders, to_play, with_holes
from benchcalc.show.heat.numbers import heat_caption, heat_numbers
from benchcalc.show.heat.panel import at_own_power, at_wanted_power, heat_panel, heat_verdicts
from benchcalc.show.heat.sliders import heat_sliders
from benchcalc.show.insulation.panel import insulation_sliders
from benchcalc.show.metals.panel import at_heater, metals_sliders
from benchcalc.show.wire.coil_figure import COIL
from benchcalc.show.wire.panel import wire_sliders

PRESS = bc.load_chosen("insert_press")


def across_and_bore_m(build):
    ((tube, across),) = bores_around(build, links(build)[2])
    return across, tube.inner_m


@pytest.mark.parametrize(
    "sliders, path, end",
    [
        (wire_sliders(PRESS), "part.stem.outer_m", "high"),
        (heat_sliders(at_own_power(PRESS)), "layer.0.thickness_m", "high"),
        (insulation_sliders(PRESS), "layer.1.thickness_m", "high"),
        (metals_sliders(at_heater(PRESS)[0], "stem"), "part.stem.outer_m", "high"),
    ],
)
def test_a_slider_ends_where_the_wound_coil_just_fills_the_bore(sliders, path, end):
    """By hand: stem 6 mm, mica 0.25 mm and glass sleeve 0.4 mm both sides, wire 0.28 mm both sides: 7.86 mm of 8.1."""
    assert across_and_bore_m(PRESS) == pytest.approx((7.86e-3, 8.1e-3))
    slider = next(s for s in sliders if s.path == path)
    across, bore = across_and_bore_m(change(PRESS, path, getattr(slider, end)))
    assert across == pytest.approx(bore)


def test_the_handle_slider_begins_behind_the_winding_and_ends_on_the_tube():
    slider = next(s for s in heat_sliders(at_own_power(PRESS)) if s.path == "part.handle.from_m")
    ends = {p.id: p.to_m for p in PRESS.part}
    assert ends["stem"] < slider.low < slider.high < ends["tube"]


def test_a_winding_too_thick_for_its_tube_is_crossed_out_and_told():
    build = bc.read(Path(PRESS.file).read_text(encoding="utf-8").replace('inner = "8.1 mm"', 'inner = "7 mm"'))
    n = COIL.numbers(build, links(build))
    assert n.tube == "tube" and n.across_all_m > n.bore_m == pytest.approx(7e-3)
    assert "does not go into the tube" in COIL.caption(n)
    assert COIL.numbers(PRESS, links(PRESS)).tube == ""


def test_a_part_past_its_melting_is_crossed_out_and_over():
    """Aluminium melts whole at 660 degC (CRC Handbook of Chemistry and Physics); its alloys begin below."""
    build = at_own_power(PRESS)
    hot = change(change(build, "part.stem.material", "aluminium"), "want.power_w", 40.0)
    parts = at_wanted_power(hot)
    n = heat_numbers(hot, parts[3])
    assert [(o.id, o.melts_c) for o in n.outlines if o.melts_c is not None] == [("stem", pytest.approx(550, abs=110))]
    assert "the stem would melt" in heat_caption(n)
    assert any(v.what == "melting of the stem" and v.state == "over" for v in heat_verdicts(parts, hot, None))
    cool = heat_numbers(build, at_wanted_power(build)[3])
    assert {o.id for o in cool.outlines} == {p.id for p in PRESS.part}
    assert all(o.melts_c is None for o in cool.outlines)


def test_holes_that_meet_are_drawn_where_they_would_lie_and_no_heat_flows():
    build = with_holes(to_play(PRESS), holes=12.0, hole_m=4.6e-3)
    n = BREAK.numbers(build, handle_links(build))
    good = BREAK.numbers(to_play(PRESS), handle_links(to_play(PRESS)))
    assert n.frame[:4] == good.frame[:4] and not n.lines and len(n.holes) > len(good.holes)
    assert "refused" in n.told and "no web is left" in BREAK.caption(n)
    assert [c[0] for c in n.curves] == ["whole tube"] and np.isfinite(n.entries[0])
    assert any(s.path.endswith("hole_m") for s in handle_sliders(build))


def test_a_coil_that_does_not_go_in_and_a_gap_are_refused_drawn_and_not_kept(monkeypatch, tmp_path):
    """By hand: 7.86 mm across for a bore of 8.1 mm; 0.2 mm more under the coil make it 8.26 mm."""
    monkeypatch.setenv("BENCHCALC_MY", str(tmp_path))
    shown = heat_panel(PRESS)
    thin_m, tube_m = PRESS.layer[0].thickness_m, next(p.to_m for p in PRESS.part if p.id == "tube")
    for moved, said, names in (
        ({"layer.0.thickness_m": thin_m + 0.2e-3}, "8.26 mm across and does not go into a bore of 8.10", "coil tube"),
        ({"part.handle.from_m": tube_m + 0.014}, "tube and handle: leave a gap of 14.0 mm", "handle tube"),
    ):
        shown.reset()
        assert shown.keeper.disabled is False
        shown.try_on(moved)
        for path, value in moved.items():  # past the end of its slider, as a sheet may be
            shown.handles[path].max = max(shown.handles[path].max, 1e3 * value)
            shown.set(path, value)
        assert said in shown.trouble and said in shown.good.caption and "Refused" in shown.good.caption
        crossed = [o.id for o in shown.good.numbers.outlines if o.crossed]
        assert sorted(crossed) == names.split() and shown.good.numbers.cells.size == 0
        assert shown.good.rows == (("temperatures", "not worked out"),)
        shown.keep()
        assert shown.keeper.disabled and "Not kept" in shown.told.value and not list(tmp_path.iterdir())


def test_the_bore_slider_ends_where_the_part_in_it_just_fills_it():
    """The tip of the press, 8 mm, lies in the tube's bore of 8.1 mm, and so does the coil of 7.86 mm."""
    slider = next(s for s in heat_sliders(at_own_power(PRESS)) if s.path == "part.tube.inner_m")
    assert slider.low == pytest.approx(8.0e-3)


def test_sliders_for_the_tube_s_length_and_the_layer_over_the_coil():
    sliders = {s.path: s for s in heat_sliders(at_own_power(PRESS))}
    tube, handle = (next(p for p in PRESS.part if p.role == role) for role in ("tube", "handle"))
    ends = sliders["part.tube.to_m"]
    assert ends.low == pytest.approx(handle.from_m + 0.01) and ends.high == pytest.approx(max(handle.to_m, tube.to_m))
    pot = bc.load_chosen("wax_pot")  # 5 mm of wool in the open: more of it can be tried
    outside = next(i for i, y in enumerate(pot.layer) if y.between[0] == "coil")
    wool = next(s for s in heat_sliders(at_own_power(pot)) if s.path == f"layer.{outside}.thickness_m")
    assert wool.high > pot.layer[outside].thickness_m
    over = next(i for i, y in enumerate(PRESS.layer) if y.between[0] == "coil")
    slider = sliders[f"layer.{over}.thickness_m"]
    across, bore = across_and_bore_m(change(PRESS, slider.path, slider.high))
    assert across == pytest.approx(bore)


def test_holes_that_meet_are_not_kept(monkeypatch, tmp_path):
    monkeypatch.setenv("BENCHCALC_MY", str(tmp_path))
    shown = handle_panel(PRESS)
    shown.try_on({s.path: value for s, value in _meeting(shown)})
    assert "no web is left" in shown.trouble and shown.keeper.disabled
    shown.keep()
    assert "Not kept" in shown.told.value and not list(tmp_path.iterdir())
    shown.reset()
    assert not shown.keeper.disabled and not shown.trouble


def _meeting(shown):
    """Twelve holes of 4.6 mm round a 10 mm tube: more than its circumference."""
    ends = {"holes": 12.0, "hole_m": 4.6e-3}
    found = [(s, ends[s.path.rsplit(".", 1)[-1]]) for s in shown.spec.sliders if s.path.rsplit(".", 1)[-1] in ends]
    for s, value in found:
        handle = shown.handles[s.path]
        handle.max = max(handle.max, 1e3 * value if s.path.endswith("_m") else value)
    return found
