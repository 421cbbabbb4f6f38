"""The metals of a sheet: watts along and across, margins, fits, and every metal side by side."""

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.basics.fault import Fault
from benchcalc.chain.metals.link import work_metals
from benchcalc.chain.metals.ranking import LADDER, STANDS, metal_ladder, metals_side_by_side, standing
from benchcalc.chain.metals.verdicts import metal_checks
from benchcalc.thermal.surfaces.by_hand import stem_drop
from benchcalc.thermal.tool.watts_between import temps_at_joint, watts_across, watts_along
from benchcalc.thermal.tool.watts_out import watts_out

WITH_PARTS = ("insert_press", "foil_iron", "wax_pot")


@pytest.fixture(scope="module", params=WITH_PARTS)
def tool(request):
    build = bc.load_chosen(request.param)
    return build, bc.work_out(build, samples=0)


def test_every_drop_is_the_straight_formula_with_the_watts_that_pass(tool):
    """The network and Fourier's law by hand agree along every metal part."""
    _, out = tool
    assert out.metals.drops
    for d in out.metals.drops:
        assert stem_drop(d.through_w, d.part_length_m, d.conductivity_w_mk, d.section_m2) == pytest.approx(
            d.drop_k, rel=2e-3
        ), d.id


def test_watts_into_the_tip_leave_by_the_tip():
    """What crosses into the brass tip of the insert press is what its skin gives off, within the film to the tube."""
    build = bc.load_chosen("insert_press")
    heat = bc.work_out(build, samples=0).heat
    into = watts_across(heat.model, heat.temps_c, "stem", "tip") + watts_across(heat.model, heat.temps_c, "tube", "tip")
    assert into == pytest.approx(watts_out(heat.model, heat.temps_c)["tip"], rel=0.02)
    assert watts_across(heat.model, heat.temps_c, "tip", "stem") == -watts_across(
        heat.model, heat.temps_c, "stem", "tip"
    )


def test_a_joint_drops_by_its_own_conductance(tool):
    """Watts over drop is the joint's conductance: for the threaded one, area of the thread times the table's value."""
    build, out = tool
    if build.name != "Insert press":
        pytest.skip("one demo has a threaded end-to-end joint")
    heat = out.heat
    joint = next(j for j in out.metals.joints if j.made == "threaded")
    assert joint.through_w / joint.drop_k == pytest.approx(2500.0 * np.pi * 0.006 * 0.006, rel=1e-6)
    tip_c, stem_c = temps_at_joint(heat.model, heat.temps_c, "tip", "stem")
    assert stem_c - tip_c == joint.drop_k and joint.hot_c == stem_c
    assert np.all(np.isnan(temps_at_joint(heat.model, heat.temps_c, "stem", "handle")))


def test_heat_along_a_part_points_away_from_its_hottest_place():
    heat = bc.work_out(bc.load_chosen("insert_press"), samples=0).heat
    along = watts_along(heat.model, heat.temps_c, "tube")
    x, t = heat.model.along("tube", heat.temps_c)
    hot = x[np.argmax(t)]
    assert np.all(along.rearward_w[along.place_m < hot - 1e-3] < 0) and np.all(
        along.rearward_w[along.place_m > hot + 1e-3] > 0
    )


def test_margins_of_every_metal_part_with_bands():
    out = bc.work_out(bc.load_chosen("insert_press"))
    told = {v.what: v for v in out.of("metals")}
    for id in ("tip", "stem", "tube"):
        assert told[f"melting of the {id}"].state == "fine"
        assert told[f"long service of the {id}"].band.low < told[f"long service of the {id}"].value
    assert told["long service of the tip"].state == "tight"  # brass at 284 degC against 300, band across it
    assert out.metals.margin_k == pytest.approx(300 - out.heat.hottest("tip"))
    assert out.bands["metals.margin_k"].low < out.metals.margin_k < out.bands["metals.margin_k"].high


def test_the_classic_temptation_is_over():
    """Aluminium in place of the copper core of an iron whose winding passes 550 degC: past its limits."""
    build = bc.change(bc.load_chosen("foil_iron"), "part.core.material", "aluminium")
    told = {v.what: v for v in bc.work_out(build, samples=0).of("metals")}
    assert told["melting of the core"].state == "over" and told["long service of the core"].state == "over"
    assert not told["long service of the core"].advice


def test_a_service_limit_is_advice_up_to_its_boldest_end():
    build = bc.load_chosen("wax_pot")
    told = {v.what: v for v in bc.work_out(build, samples=0).of("metals")}["long service of the cup"]
    assert told.state == "over" and told.advice and told.value < 250


def test_a_pressed_copper_plug_stretches_a_thin_steel_collar_and_spares_a_stainless_shroud():
    out = bc.work_out(bc.load_chosen("foil_iron"), samples=0)
    fits = {f.plug: f for f in out.metals.fits}
    assert fits["bit"].hot.gives == "tube" and fits["bit"].cold.gives == "" and not fits["bit"].typed
    assert fits["collar"].hot.hot_gap_m > fits["collar"].cold.cold_gap_m  # stainless grows more than mild steel
    told = {v.what: v for v in out.of("metals")}
    assert told["fit of the bit in the collar: will it split"].state == "over"
    assert told["fit of the collar in the shroud: will it split"].state == "fine"


def test_a_thread_in_brass_counts_by_its_limit_under_load():
    """Open materials database, C27400: 120 degC where a load acts; the table's 300 is for a part that bears none."""
    press = bc.load_chosen("insert_press")
    by = {v.what: v for _, v in bc.work_out(press, samples=0).verdicts}
    verdict = by["creep of the tip at its joint with the stem"]
    assert verdict.limit == 120.0 < by["long service of the tip"].limit and verdict.advice
    assert not any(what.startswith("creep of the stem") for what in by)


def test_threads_that_may_seize_are_told():
    build = bc.load_chosen("insert_press")
    told = {v.what: v for v in bc.work_out(build, samples=0).of("metals")}[
        "thread of the stem and the tip: will it seize"
    ]
    assert told.advice and told.state == ("over" if told.value > 300 else "fine")
    assert "galls" not in told.why
    both = bc.change(bc.change(build, "part.tip.material", "stainless 304"), "part.stem.material", "stainless 316")
    assert any("galls even cold" in v.why for v in bc.work_out(both, samples=0).of("metals"))


@pytest.mark.parametrize("name", WITH_PARTS)
def test_arrays_equal_single_ones(name):
    build = bc.change(bc.load_chosen(name), "room.ambient_c", np.array([10.0, 20.0, 30.0]))
    many = bc.work_out(build, samples=0)
    for i, t in enumerate((10.0, 20.0, 30.0)):
        one = bc.work_out(bc.change(bc.load_chosen(name), "room.ambient_c", t), samples=0).metals
        assert many.metals.margin_k[i] == pytest.approx(one.margin_k, rel=1e-9)
        assert many.metals.melt_margin_k[i] == pytest.approx(one.melt_margin_k, rel=1e-9)
    assert many.metals.drops == () and np.all(np.isnan(many.metals.drop_k))


def test_no_metal_no_part():
    build = bc.load_chosen("foam_bow")
    out = bc.work_out(build, samples=0)
    assert out.metals is None and work_metals(build, None) is None and metal_checks(build, None, {}) == []


def test_side_by_side_ranks_with_reasons():
    build = bc.load_chosen("insert_press")
    out = bc.work_out(build, samples=0)
    rows = metals_side_by_side(
        build, out, "stem", ("stainless 304", "copper", "aluminium", "tin", "lead", "mild steel")
    )
    assert [r.metal for r in rows] == ["copper", "mild-steel", "stainless-304", "aluminium", "tin", "lead"]
    assert [STANDS.index(r.stands) for r in rows] == sorted(STANDS.index(r.stands) for r in rows)
    assert all(r.why for r in rows)
    own = next(r for r in rows if r.metal == "mild-steel")
    assert own.tip_c == pytest.approx(out.heat.tip_c, abs=1.0) and own.drop_k == pytest.approx(
        out.metals.drop_k, rel=0.01
    )
    tube = metals_side_by_side(build, out, "tube", ("copper", "stainless 304", "mild steel"))
    assert [r.metal for r in tube] == ["stainless-304", "mild-steel", "copper"]  # a tube must keep heat from the handle
    with pytest.raises(Fault, match="Closest: stem"):
        metals_side_by_side(build, out, "stam")
    with pytest.raises(Fault, match="Closest: brass"):
        metals_side_by_side(build, out, "stem", ("brazz",))


def test_the_ladder_by_hand():
    rungs = {r.metal: r for r in metal_ladder(450.0, 5.0, 0.05, 28e-6)}
    assert list(rungs) == list(LADDER)
    assert rungs["copper"].drop_k < rungs["brass-free-cutting"].drop_k < rungs["stainless-304"].drop_k
    assert rungs["galvanised-steel"].stands == "melts" and np.isnan(rungs["galvanised-steel"].drop_k)
    assert rungs["mild-steel"].stands == "stays" and rungs["aluminium-6061"].stands == "past its limit"
    assert standing("lead", 20.0)[0] == "not here"
    with pytest.raises(Fault, match="length"):
        metal_ladder(450.0, 5.0, -0.05, 28e-6)
    assert metal_ladder(450.0, 500.0, 0.05, 28e-6, ("stainless-304",))[0].drop_k == float("inf")
