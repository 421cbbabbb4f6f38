"""The insulation page: pictures and tables say what the numbers say, the panel holds at every end of every slider."""

from dataclasses import replace

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.basics.names import years_words
from benchcalc.chain.insulation.organic_place import ages_where
from benchcalc.show.drawing.live_picture import picture
from benchcalc.show.insulation import tables as rows
from benchcalc.show.insulation.chart_figure import STAYS
from benchcalc.show.insulation.chart_numbers import stays_numbers
from benchcalc.show.insulation.panel import PICTURE, at_own_temperature, insulation_panel
from benchcalc.show.insulation.stack_figure import STACK
from benchcalc.show.insulation.stack_numbers import stack_numbers
from benchcalc.show.panel.sliders import results_at, settings
from benchcalc.studies.stack_at_temperature import at_winding

DEMOS = ("insert_press", "foil_iron", "wax_pot", "foam_bow")


@pytest.mark.parametrize("name", DEMOS[:3])
def test_the_stack_at_its_own_temperature_is_that_of_the_chain(name):
    build = bc.load_chosen(name)
    out = bc.work_out(build, samples=0)
    at = at_winding(build)
    assert at.wire_c == pytest.approx(out.heat.wire_c, abs=3)  # the chain adjusts the hot ohms once more
    for a, b in zip(at.insulation.cold_c, out.insulation.cold_c):
        assert a == pytest.approx(b, abs=4)
    rings = stack_numbers(build, at).rings
    assert [r.inner_m for r in rings[1:]] == pytest.approx(
        [r.outer_m for r in rings[:-1]], abs=1e-6
    )  # no hole, no overlap
    temps = [t for r in rings for t in (r.inner_c, r.outer_c)]
    top = int(np.argmax(temps))
    assert all(np.diff(temps[: top + 1]) >= -0.5) and all(
        np.diff(temps[top:]) <= 0.5
    )  # downhill from the winding both ways
    assert rings[-1].outer_m > rings[0].outer_m


@pytest.mark.parametrize("name", DEMOS)
def test_the_panel_holds_at_every_end_of_every_slider(name):
    spec = insulation_panel(bc.load_chosen(name)).spec
    assert {"at_c", "use.hours_per_year"} <= {s.path for s in spec.sliders}
    for words, moved in settings(spec):
        at = results_at(spec, moved, rest=False)
        assert (
            len(at.rows) >= 3
            and at.caption
            and len(at.verdicts) == len(results_at(spec, {}, rest=False).verdicts)
            or "material" in words
            or words.startswith("all")
        ), words


def test_winding_temperature_throws_materials_out_and_moves_the_stack():
    shown = insulation_panel(bc.load_chosen())
    seen = []
    for temp_c in (100.0, 300.0, 520.0, 900.0):
        shown.set("at_c", temp_c)
        told = dict(shown.good.rows)
        seen.append(
            (
                int(told["materials that stay"].split()[0]),
                float(told["watts that takes"].split()[0]),
                float(told["least margin to a rating"].split()[0]),
            )
        )
    stay, watts, margin = zip(*seen)
    assert list(stay) == sorted(stay, reverse=True) and stay[0] > stay[-1]
    assert list(watts) == sorted(watts) and list(margin) == sorted(margin, reverse=True) and margin[-1] < 0 < margin[0]
    assert {v.state for v in shown.good.verdicts if "braid" in v.what} == {"over"}


def test_no_number_goes_and_comes_while_the_temperature_moves():
    spec = insulation_panel(bc.load_chosen()).spec
    told = [dict(results_at(spec, {"at_c": t}, rest=False).rows) for t in (60.0, 300.0, 599.0, 601.0, 1000.0)]
    assert len({tuple(rows) for rows in told}) == 1
    lives = [rows["life, were it silicone rubber"] for rows in told]
    assert lives[0] == "over 100 years" and lives[-2:] == ["past all ageing data"] * 2 and lives[2] != lives[3]


def test_hours_of_use_share_out_the_years():
    build = bc.load_chosen()
    few, many = (stays_numbers(replace(build, use=replace(build.use, hours_per_year=h)), 200.0) for h in (50.0, 500.0))
    for a, b in zip(few.stays, many.stays):
        assert (np.isnan(a.years) and np.isnan(b.years)) or a.years == pytest.approx(10 * b.years)
        assert np.isnan(a.years) or a.low_years <= a.years <= a.high_years
    assert {s.name for s in few.stays if np.isnan(s.years)} >= {"steatite", "mica plate"}  # minerals do not age so


@pytest.mark.parametrize(
    "years, said",
    [
        (200, "over 100 years"),
        (12.4, "12 years"),
        (3.24, "3.2 years"),
        (0.5, "6 months"),
        (0.04, "15 days"),
        (0.004, "35 h"),
        (5e-4, "4 h"),
        (2e-5, "11 min"),
        (6e-15, "under a minute"),
        (-7.0, "-7.0 years"),
        (float("nan"), ""),
    ],
)
def test_years_do_not_pretend(years, said):
    assert years_words(years) == said


def test_a_sheet_without_a_winding_on_a_part_says_so():
    build = at_own_temperature(bc.load_chosen("foam_bow"))
    pictured = picture(PICTURE, build, at_winding(build))
    assert "no stack to cut through" in pictured.caption and "these stay" in pictured.caption


def test_captions_carry_the_temperatures_and_words():
    build = bc.load_chosen("foil_iron")
    at = at_winding(build)
    assert bc.say("wire_c", at.wire_c) in STACK.caption(STACK.numbers(build, at)) and "over" in STACK.caption(
        STACK.numbers(build, at)
    )
    told = STAYS.caption(STAYS.numbers(build, at))
    assert "These leave: " in told and "Never in a tool: PVC" in told


def test_the_tables_are_those_of_the_workings():
    for name in DEMOS:
        build, out = bc.load_chosen(name), bc.work_out(bc.load_chosen(name), samples=0)
        for made in (
            rows.stack_table(build, out),
            rows.first_heat(build),
            rows.over_power(build, out),
            rows.instead(build, out),
        ):
            assert made.rows
    iron = bc.load_chosen("foil_iron")
    out = bc.work_out(iron)
    assert "mica plate" not in {r[0] for r in rows.instead(iron, out).rows}
    assert {r[0] for r in rows.never().rows} >= {"PVC", "beryllium oxide ceramic"}
    wrong = rows.points_and_lines("IEC 60216-3 worked example", -15.2, 9500.0).rows
    assert [float(r[4].split()[0]) > 5 for r in wrong] == [True] * 3
    assert [r[0] for r in rows.ladder().rows][:2] == ["90", "105"]


def test_what_ages_is_the_sheet_s_own_if_it_is_organic_and_the_tails_otherwise():
    build = bc.load_chosen("insert_press")
    out = bc.work_out(build, samples=0)
    r, place, temp_c = ages_where(build, out.heat, out.insulation)
    assert (
        r.key == "silicone-rubber"
        and "30.0 mm behind the coil" in place
        and out.heat.entry_c < temp_c < out.heat.wire_c
    )
    sleeved = bc.change(build, "coil.tails.sleeve", "PTFE")
    out = bc.work_out(sleeved, samples=0)
    assert ages_where(sleeved, out.heat, out.insulation)[::2] == (out.insulation.sleeve, out.insulation.tails_c)
    rubber = bc.change(bc.load_chosen("wax_pot"), "layer.1.material", "silicone rubber")
    out = bc.work_out(rubber, samples=0)
    assert ages_where(rubber, out.heat, out.insulation)[2] == out.insulation.hot_c[1]
    less = [float(r[3].split()[0]) for r in rows.over_power(build, bc.work_out(build, samples=0)).rows]
    assert less == sorted(less, reverse=True)


def test_a_coated_sleeve_beyond_all_ageing_data_is_told_not_raised():
    build = bc.change(bc.load_chosen("insert_press"), "layer.0.material", "silicone-varnished glass sleeve")
    build = bc.change(build, "coil.length_m", 0.35)
    workings = bc.work_out(build, samples=10)
    organic, _, temp_c = ages_where(build, workings.heat, workings.insulation)
    assert temp_c > 600
    life = rows.life_or_why(build, organic, temp_c, 8.7, 7.2e7)
    assert (
        "482 to 510" in repr(life)
        and "coat is gone" in repr(life)
        and "none either" in repr(rows.lives(build, organic, temp_c, life))
    )
    heat = next(v for v in workings.of("insulation") if "silicone-varnished" in v.what)
    assert heat.state == "over" and "bare braid" in heat.why


def test_volts_below_the_least_breakdown_of_air_are_not_over():
    # a thin hot braid holds off 25 V by its field alone, under the peak of 26 V; no gap of air does below 300
    build = bc.change(bc.load_chosen("insert_press"), "layer.0.material", "bare glass sleeve")
    volts = next(v for v in bc.work_out(build, samples=0).of("insulation") if v.what.startswith("volts between stem"))
    assert volts.state == "fine" and volts.limit == 300 and "air" in volts.why
    build = bc.change(build, "layer.0.material", "silicone-varnished glass sleeve")  # 408 degC is far past its heat
    volts = next(v for v in bc.work_out(build, samples=0).of("insulation") if v.what.startswith("volts between stem"))
    assert volts.state == "not known" and "past its own heat" in volts.why
    metal = bc.change(build, "layer.0.material", "copper")
    volts = next(v for v in bc.work_out(metal, samples=0).of("insulation") if v.what.startswith("volts between stem"))
    assert volts.state == "over" and volts.limit == 0


@pytest.mark.parametrize("name", ["insert_press", "foil_iron", "wax_pot"])
def test_the_stack_where_the_tool_settles_has_the_wire_of_every_page(name):
    build = bc.load_chosen(name)
    out, own = bc.work_out(build, samples=0), at_winding(build)
    assert own.wire_c == pytest.approx(out.heat.wire_c, abs=0.05) and own.power_w == pytest.approx(
        out.coil.coil_w, rel=0.01
    )


def test_a_layer_that_grows_changes_the_scale_of_the_stack_in_few_steps():
    """A sweep of twenty presses draws the still parts a few times; what is outermost is in the picture all along."""
    shown = insulation_panel(bc.load_chosen("wax_pot"))
    handle = shown.handles["layer.1.thickness_m"]
    frames, outer = set(), set()
    for press in range(20):
        at = results_at(shown.spec, {"layer.1.thickness_m": (handle.min + press * handle.step) * 1e-3}, rest=False)
        stack = at.numbers.parts[0]
        frames.add(at.numbers.frame)
        outer.add(stack.rings[-1].outer_m)
        assert stack.rings[-1].outer_m <= stack.frame[2] + 1e-9
    assert len(outer) == 20 and len(frames) <= 4
