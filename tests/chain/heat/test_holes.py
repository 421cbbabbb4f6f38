"""A heat break in the sheet: read, refused, filled, kept, and in the heat model worth its extra length of tube."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.basics.fault import Fault
from benchcalc.chain.heat.holes import narrow_of, with_break
from benchcalc.chain.heat.tool_of import tool_of
from benchcalc.chain.workings import links
from benchcalc.sheet.hole_defaults import pattern_of
from benchcalc.thermal.holes.closed_form import extra_length
from benchcalc.thermal.holes.pattern import span_of
from benchcalc.thermal.network.curves import conductivity
from benchcalc.thermal.network.steady import steady
from benchcalc.thermal.tool.model import model_of

DEMO = bc.load_chosen("insert_press")
TEXT = Path(DEMO.file).read_text(encoding="utf-8")
BREAK = (
    '[[heat_break]]\nid = "ring"\non = "tube"\nfrom = "95 mm"\n'
    'rings = 2\nholes = 6\ndiameter = "3.5 mm"\nspacing = "4.5 mm"\n'
)


def drilled(text=BREAK):
    return bc.read(TEXT + "\n" + text)


def test_a_break_is_read_and_lowers_the_handle():
    build = drilled()
    hole = build.heat_break[0]
    assert (hole.rings, hole.holes, hole.staggered) == (2, 6, True)
    assert (hole.hole_m, hole.ring_spacing_m) == pytest.approx((3.5e-3, 4.5e-3))
    before, after = (bc.work_out(b, samples=0).heat for b in (DEMO, build))
    assert after.entry_c < before.entry_c - 10 and after.bore_c < before.bore_c and after.tip_c > before.tip_c


def test_what_is_left_out_is_filled_and_marked():
    build = drilled('[[heat_break]]\nid = "ring"\n')
    hole = build.heat_break[0]
    assert (
        hole.on == "tube"
        and hole.holes == 6
        and hole.from_m == pytest.approx(0.095)
        and hole.hole_m == 3e-3
        and hole.ring_spacing_m == 4e-3
    )
    assert build.known["heat_break.ring.hole_m"].how == "assumed"


@pytest.mark.parametrize(
    "text, told",
    [
        (BREAK.replace("holes = 6", "holes = 9"), "At most 7 fit"),
        (BREAK.replace('"4.5 mm"', '"2 mm"') + "staggered = false\n", "run into"),
        (BREAK.replace("95 mm", "175 mm"), "of tube for it"),
        (BREAK.replace('on = "tube"', 'on = "tubes"'), "tube"),
        (BREAK.replace('on = "tube"', 'on = "stem"').replace("95", "60"), "no bore"),
        (BREAK.replace("95 mm", "5 mm"), "before the tube"),
        (BREAK.replace("rings = 2", "rings = 1.5"), "whole number"),
        (BREAK + BREAK, "stands twice"),
        (BREAK.replace("3.5 mm", "8.5 mm"), "as wide as the bore"),
        (BREAK.replace("spacing", "spacings"), "Closest: spacing"),
    ],
)
def test_a_break_that_cannot_be_is_told_with_its_line(text, told):
    with pytest.raises(Fault, match=told) as fault:
        drilled(text)
    assert fault.value.complaints[0].line is not None


def test_in_the_network_it_is_worth_its_extra_length():
    """A tube in series: the same heat through the break falls by what the extra length of whole tube would take."""
    build = drilled()
    _, wire, coil = links(build)
    (narrow,) = narrow_of(build)
    p = pattern_of(build.heat_break[0], bc.sheet.change.item(build.part, "tube"))
    assert narrow.extra_m == extra_length(p) and narrow.to_m - narrow.from_m == pytest.approx(span_of(p))
    tool = tool_of(build, wire, coil)
    bare = replace(
        tool,
        leads=None,
        pieces=tuple(
            replace(p, emissivity=1e-6, conductivity=conductivity("metal", 50.0)) if p.id == "tube" else p
            for p in tool.pieces
        ),
        place=replace(tool.place, rear_convection=1e-6, rear_length_m=0.035, air_speed_m_s=0.0, bore_open=0.0),
    )  # this stretch keeps its heat
    longer = []
    for extra in (0.0, narrow.extra_m, 3 * narrow.extra_m):
        model = model_of(replace(bare, narrow=(replace(narrow, extra_m=extra),)))
        x, t = model.along("tube", steady(model.net).temps_c)
        i, j = np.searchsorted(x, (narrow.from_m - 2e-3, narrow.to_m + 2e-3))
        slope = (t[i - 1] - t[i]) / (x[i] - x[i - 1])
        longer.append((t[i] - t[j]) / slope - (x[j] - x[i]))
    assert longer == pytest.approx([0.0, narrow.extra_m, 3 * narrow.extra_m], abs=2e-4)


@pytest.mark.parametrize(
    "path, values",
    [
        ("heat_break.ring.holes", [3.0, 4.0, 6.0]),
        ("heat_break.ring.rings", [0.0, 1.0, 2.0]),
        ("heat_break.ring.hole_m", [2e-3, 3e-3, 3.5e-3]),
        ("heat_break.ring.ring_spacing_m", [4e-3, 5e-3, 6e-3]),
        ("heat_break.ring.from_m", [0.09, 0.095, 0.1]),
        ("heat_break.ring.slot_m", [0.0, 0.1e-3, 0.2e-3]),
        ("part.tube.inner_m", [8.1e-3, 8.12e-3, 8.15e-3]),
        ("part.handle.density_kg_m3", [500.0, 600.0, 700.0]),
        ("part.handle.moisture", [0.0, 0.08, 0.2]),
        ("heat.grip_w_m2k", [0.0, 6.0, 12.0]),
    ],
)
def test_many_side_by_side_are_the_single_runs(path, values):
    build = bc.change(drilled(), "part.handle.density_kg_m3", 650.0) if "moisture" in path else drilled()
    together = bc.work_out(bc.change(build, path, np.array(values))).heat
    for i, value in enumerate(values):
        one = bc.work_out(bc.change(build, path, value), samples=0).heat
        for field in ("tip_c", "entry_c", "bore_c", "grip_c"):
            assert getattr(together, field)[i] == pytest.approx(getattr(one, field), abs=2e-3), field


def test_holes_that_do_not_fit_are_refused_alone():
    many = bc.work_out(bc.change(drilled(), "heat_break.ring.holes", np.array([4.0, 9.0]))).heat
    assert np.isfinite(many.entry_c[0]) and np.isnan(many.entry_c[1])
    assert "At most 7 fit" in bc.work_out(bc.change(drilled(), "heat_break.ring.holes", 9.0), samples=0).heat.refused


def test_bands_cost_no_more_with_a_break():
    """Places drawn at random may cross the break: still one network for all samples."""
    drawn = bc.sample(drilled(BREAK.replace("95 mm", "82 mm")), 20)
    _, wire, coil = links(drawn)
    assert model_of(tool_of(drawn, wire, coil)).designs == 20


def test_a_page_plays_with_a_break_on_a_sheet_that_has_none():
    assert with_break(DEMO).heat_break[0] == bc.read(TEXT + '[[heat_break]]\nid = "break"\n').heat_break[0]
    build = with_break(DEMO, rings=0)
    assert build.heat_break[0].id == "break"
    assert bc.work_out(build, samples=0).heat.entry_c == bc.work_out(DEMO, samples=0).heat.entry_c
    assert with_break(drilled()).heat_break[0].id == "ring"
    assert with_break(bc.load_chosen("wax_pot")).heat_break == ()


def test_a_break_moved_on_a_page_is_kept_in_a_sheet_that_had_none(tmp_path):
    path = tmp_path / "own.toml"
    path.write_text(TEXT, encoding="utf-8")
    kept = bc.keep(
        path, {"heat_break.break.rings": 2.0, "heat_break.break.holes": 5.0, "heat_break.break.hole_m": 3e-3}
    )
    assert (kept.heat_break[0].rings, kept.heat_break[0].holes, kept.heat_break[0].hole_m) == (2, 5, 3e-3)
    again = bc.keep(path, {"heat_break.break.holes": 4.0})
    assert len(again.heat_break) == 1 and again.heat_break[0].holes == 4


def test_weighed_wood_conducts_and_stores_by_its_weight():
    light, heavy = (
        bc.work_out(bc.change(DEMO, "part.handle.density_kg_m3", d), samples=0).heat for d in (450.0, 800.0)
    )
    assert light.bore_c > heavy.bore_c and light.grip_c < heavy.grip_c
    with pytest.raises(Fault, match="moisture"):
        bc.read(TEXT.replace('material = "beech"', 'material = "beech"\nmoisture = "40 %"'))


def test_a_hand_round_the_handle_cools_it():
    free, held = (bc.work_out(bc.change(DEMO, "heat.grip_w_m2k", g), samples=0).heat for g in (0.0, 12.0))
    assert held.grip_c < free.grip_c and held.bore_c < free.bore_c
