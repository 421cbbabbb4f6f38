"""What cannot be is drawn as refused, and sliders end where geometry ends."""

from pathlib import Path

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.chain.wire.fit_verdicts import bores_around
from benchcalc.chain.workings import links
from benchcalc.sheet.change import change
from benchcalc.show.handle.panel import BREAK, handle_links, handle_sliders, to_play, with_holes
from benchcalc.show.heat.numbers import heat_caption, heat_numbers
from benchcalc.show.heat.panel import at_own_power, at_wanted_power, heat_sliders, heat_verdicts
from benchcalc.show.insulation.panel import insulation_sliders
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
        (heat_sliders(at_own_power(PRESS)), "part.tube.inner_m", "low"),
        (heat_sliders(at_own_power(PRESS)), "layer.0.thickness_m", "high"),
        (insulation_sliders(PRESS), "layer.1.thickness_m", "high"),
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
