"""The insulation link: the demos' stories, a stack that is too thick, bare metal, ageing layers, arrays."""

from dataclasses import replace

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.chain.insulation.bare_tails import metal_beside
from benchcalc.chain.insulation.link import work_insulation
from benchcalc.chain.insulation.verdicts import insulation_checks
from benchcalc.chain.workings import chain
from benchcalc.materials.ageing import life_of
from benchcalc.studies.card.coil_rows import tails
from benchcalc.studies.harm import harm_of


@pytest.fixture(scope="module")
def outs():
    return {n: bc.work_out(bc.load_chosen(n), samples=60) for n in bc.demos()}


def said(out):
    return {v.what: v for v in out.of("insulation")}


def part_of(build):
    return work_insulation(build, *chain(build)[:4])


def verdicts_of(build):
    return {v.what: v for v in insulation_checks(build, part_of(build), {})}


def test_the_foil_iron_cooks_its_mica(outs):
    told = said(outs["foil_iron"])
    plate = told["mica plate, core to coil"]
    assert (plate.state, plate.limit) == ("over", 550.0) and plate.value == outs["foil_iron"].heat.wire_c
    assert "Some print as much as 700 degC" in plate.why
    assert told["mica sheet, coil to shroud"].state == "over"


def test_phlogopite_or_half_the_power_is_the_remedy(outs):
    build = bc.load_chosen("foil_iron")
    other = bc.change(bc.change(build, "layer.0.material", "phlogopite"), "layer.1.material", "phlogopite")
    assert {v.state for v in verdicts_of(other).values()} == {"fine"}


def test_the_press_keeps_its_sleeve_and_the_pot_its_fibre(outs):
    sleeve = said(outs["insert_press"])["glass sleeve, bare braid, coil to tube"]
    assert sleeve.limit == 482.0 and sleeve.state in ("fine", "tight") and sleeve.band.high > sleeve.value
    assert {v.state for v in said(outs["wax_pot"]).values()} == {"fine"}
    assert outs["foam_bow"].insulation is None and not said(outs["foam_bow"])


@pytest.mark.parametrize("name", ["insert_press", "foil_iron", "wax_pot"])
def test_faces_lie_between_the_parts_and_the_wire(outs, name):
    out = outs[name]
    for layer, hot, cold in zip(out.insulation.layers, out.insulation.hot_c, out.insulation.cold_c):
        assert cold <= hot + 1e-9
        assert layer.touches and hot == out.heat.wire_c  # each demo has one layer to each side of its winding
        if layer.between[0] in out.heat.part_ids:
            assert cold > out.heat.hottest(layer.between[0]) - 60


def test_a_second_layer_meets_less_than_the_wire():
    build = bc.load_chosen("insert_press")
    under = build.layer[0]
    two = replace(
        build, layer=(replace(under, thickness_m=1.25e-4), replace(under, thickness_m=1.25e-4), *build.layer[1:])
    )
    part = part_of(two)
    assert [y.touches for y in part.layers] == [False, True, True]  # the outer sheet of the two lies against the wire
    assert part.cold_c[0] < part.hot_c[0] < part.hot_c[1]
    assert part.layers[1].inner_m == pytest.approx(6e-3 + 2.5e-4)


def test_a_stack_thicker_than_the_gap_is_over_and_no_crash():
    build = bc.change(bc.load_chosen("insert_press"), "layer.1.thickness_m", 2e-3)
    told = {v.what: v for v in bc.work_out(build, samples=0).of("insulation")}
    over = told["thickness of layers between coil and tube"]
    assert over.state == "over" and over.margin == pytest.approx(0.52e-3 - 2e-3, abs=1e-6)
    wide = bc.change(bc.load_chosen("insert_press"), "layer.0.thickness_m", 3e-3)  # a former wider than the bore
    assert {v.what: v.state for v in bc.work_out(wide, samples=0).of("insulation")}[over.what] == "over"


def test_a_bare_coil_on_metal_is_over_and_on_steatite_is_not():
    build = bc.load_chosen("insert_press")
    bare = replace(build, layer=build.layer[1:])
    assert verdicts_of(bare)["insulation under the coil, on the stem"].state == "over"
    assert "insulation under the coil, on the stem" not in verdicts_of(
        bc.change(bare, "part.stem.material", "steatite")
    )


def test_volts_grow_with_thickness_and_alternating_volts_count_at_their_peak():
    build = bc.load_chosen("insert_press")
    part = part_of(build)
    assert part.peak_v == pytest.approx(np.sqrt(2) * chain(build)[0].open_in_use_v)
    double = part_of(bc.change(build, "layer.1.thickness_m", 8e-4))
    assert double.pair_v[1] == pytest.approx(2 * part.pair_v[1])
    thin = verdicts_of(bc.change(build, "layer.1.thickness_m", 1e-4))
    volts = thin["volts between coil and tube"]  # braid is mostly air, and air breaks down at no gap below 300 V
    assert volts.state == "fine" and volts.limit == 300 and "whole" in volts.why


def test_organic_layers_age_and_mineral_ones_do_not():
    build = bc.load_chosen("wax_pot")
    rubber = bc.change(build, "layer.1.material", "silicone rubber")
    part = part_of(rubber)
    assert np.isnan(part.life_s[0]) and part.life_s[1] == pytest.approx(life_of(180.0, part.hot_c[1]))
    assert part.years == pytest.approx(part.life_s[1] / 3600 / build.use.hours_per_year)
    told = verdicts_of(rubber)
    assert told["silicone rubber, coil to room"].state == "over"
    assert told["years of the insulation that ages first"].state == "over"
    assert np.isnan(part_of(build).years)
    no_hours = replace(rubber, use=replace(rubber.use, hours_per_year=None))
    assert verdicts_of(no_hours)["years of the insulation that ages first"].state == "not known"


def test_years_have_a_band_from_the_halving_interval():
    out = bc.work_out(bc.change(bc.load_chosen("wax_pot"), "layer.1.material", "silicone rubber"), samples=60)
    band = out.bands["insulation.years"]
    assert band.low < out.insulation.years < band.high


def test_pvc_is_told_never_and_a_metal_is_no_insulation():
    build = bc.load_chosen("wax_pot")
    told = verdicts_of(bc.change(build, "layer.1.material", "pvc"))["PVC, coil to room"]
    assert told.state == "over" and "never" in told.why
    foil = verdicts_of(bc.change(build, "layer.0.material", "copper"))
    assert foil["copper, cup to coil"].state == "not known" and foil["volts between cup and coil"].state == "over"


def test_without_temperatures_the_rest_still_stands():
    build = bc.load_chosen("insert_press")
    cold = replace(build, supply=replace(build.supply, kind=None, reading=()))
    told = {v.what: v.state for v in bc.work_out(cold, samples=0).of("insulation")}
    assert told["mica sheet, stem to coil"] == "not known"
    assert (
        told["volts between stem and coil"] == "not known"
        and told["thickness of layers between coil and tube"] == "fine"
    )


def entry(value, i):
    return np.asarray(value)[i] if np.ndim(value) else value


@pytest.mark.parametrize(
    "path",
    [
        "layer.0.thickness_m",
        "layer.1.thickness_m",
        "supply.open_v",
        "use.hours_per_year",
        "want.power_w",
        "room.ambient_c",
        "coil.length_m",
        "use.halving_k",
    ],
)
@pytest.mark.parametrize("name", ["insert_press", "wax_pot", "rubber"])
def test_arrays_are_stacked_single_runs(name, path):
    build = bc.load_chosen("wax_pot" if name == "rubber" else name)
    if name == "rubber":
        build = bc.change(build, "layer.1.material", "silicone rubber")
    value = bc.get(build, path) or {"supply.open_v": 15.0}.get(path)
    if path == "supply.open_v":
        build = bc.change(build, "supply.source_ohm", 0.5)
    values = value * np.array([0.98, 1.0, 1.02])
    together = part_of(bc.change(build, path, values))
    for i, x in enumerate(values):
        one = part_of(bc.change(build, path, float(x)))
        for field in ("hot_c", "cold_c", "life_s", "stack_m", "space_m", "pair_v"):
            for many, single in zip(getattr(together, field), getattr(one, field)):
                assert np.isclose(entry(many, i), single, rtol=2e-3, equal_nan=True), (
                    field
                )  # cells of the mesh differ a little
        for field in ("years", "peak_v"):
            assert np.isclose(entry(getattr(together, field), i), getattr(one, field), rtol=2e-2, equal_nan=True), field


def test_a_sleeve_on_the_tails_is_told_where_it_may_begin():
    build = bc.load_chosen("insert_press")
    rubber = bc.change(build, "coil.tails.sleeve", "silicone rubber")
    part = part_of(rubber)
    heat = chain(rubber)[3]
    places, temps = heat.model.along("leads", heat.temps_c)
    winding_c = heat.model.along("coil", heat.temps_c)[1]
    assert winding_c[-1] < part.tails_c < winding_c[-4] and part.tails_c > temps.max() > 180  # it is pushed up to there
    assert part.holds_from_m == places[np.argmax(temps <= 180.0)] and temps[-1] < 180 < temps[0]
    told = verdicts_of(rubber)["silicone rubber on the tails"]
    assert told.state == "over" and f"{1e3 * part.holds_from_m:.0f} mm from the tip" in told.why
    glass = bc.change(build, "coil.tails.sleeve", "bare glass sleeve")
    assert (
        part_of(glass).holds_from_m == places[0]
        and verdicts_of(glass)["glass sleeve, bare braid on the tails"].state == "fine"
    )
    assert np.isfinite(part.years) and np.isnan(part_of(glass).years)
    lone = replace(rubber, layer=())
    assert part_of(lone).layers == () and part_of(lone).tails_c > 100


def test_the_least_margin_counts_the_sleeve_where_the_tails_leave_the_coil():
    """By hand: the rating of the sleeve less the hottest place of the tails; one that stands more changes nothing."""
    build = bc.load_chosen("insert_press")
    sleeved = [part_of(bc.change(build, "coil.tails.sleeve", s)) for s in ("glass sleeve", "ceramic fibre braid")]
    (weak, strong), layers = sleeved, [y.rating.limit_c for y in sleeved[0].layers]
    least = min(limit_c - hot_c for limit_c, hot_c in zip(layers, weak.hot_c))
    assert weak.margin_k == pytest.approx(155.0 - weak.tails_c) and weak.margin_k < 0 < least
    assert strong.margin_k == pytest.approx(least)


def test_the_sleeve_is_a_key_of_the_sheet_and_goes_through_arrays():
    build = bc.read(
        '[sheet]\nname = "x"\n[[wire]]\nid = "w"\nalloy = "fecral"\ngauge = "30 AWG"\n[coil]\nwire = "w"\n'
        '[coil.tails]\nsleeve = "PTFE sleeve"\nohm = 0.1\n'
    )
    assert build.coil.tails.sleeve is not None and part_of(build).sleeve.key == "ptfe"
    with pytest.raises(bc.Fault, match="Closest"):
        bc.read('[sheet]\nname = "x"\n[coil.tails]\nsleeve = "ptfee"\n')
    rubber = bc.change(bc.load_chosen("insert_press"), "coil.tails.sleeve", "silicone rubber")
    watts = bc.change(rubber, "supply.mains", np.array([0.9, 1.0, 1.1]))
    many = part_of(watts)
    for i, mains in enumerate((0.9, 1.0, 1.1)):
        one = part_of(bc.change(rubber, "supply.mains", mains))
        assert many.tails_c[i] == pytest.approx(one.tails_c, rel=1e-3) and many.holds_from_m[i] == pytest.approx(
            one.holds_from_m, abs=1e-3
        )


def test_a_sleeve_brings_its_cautions():
    from benchcalc.chain.cautions.cautions import cautions_for

    build = bc.load_chosen("insert_press")
    for text, caution in (
        ("PTFE", "ptfe-fume"),
        ("pvc", "pvc-fume"),
        ("silicone glass sleeve", "silicone-sleeve-smoke"),
        ("silicone rubber", "silicone-limit"),
    ):
        sleeved = bc.change(build, "coil.tails.sleeve", text)
        ids = {r["id"] for r in cautions_for(sleeved, bc.work_out(sleeved, samples=0))}
        assert caution in ids and caution not in {r["id"] for r in cautions_for(build, bc.work_out(build, samples=0))}


def test_tails_without_a_sleeve_beside_metal_are_not_known_and_the_card_says_so(outs):
    """By hand: from the end of the winding to the joint in the press's handle; a coil whose tails meet no metal says
    nothing, one with a sleeve neither."""
    build = bc.load_chosen("insert_press")
    assert all("insulation on the tails" not in said(out) for out in outs.values())
    bare = replace(build, coil=replace(build.coil, tails=replace(build.coil.tails, sleeve=None)))
    found = bc.work_out(bare, samples=0)
    verdict = said(found)["insulation on the tails"]
    way_m = 0.190 - 0.055 - found.coil.winding_m / 2  # stem from 30 to 80 mm, joint 20 mm before the end at 210 mm
    assert metal_beside(bare, found.coil) == (("stem", "tube"), pytest.approx(way_m))
    assert verdict.state == "not known" and "tube" in verdict.why
    assert harm_of(verdict) == (1, "a short")
    row = next(r for r in tails(bare, found).rows if r.id == "tails.made")
    assert "no sleeve" in row.words and "short" in row.outside
    coil_alone = replace(bare, part=tuple(replace(p, material=None) for p in build.part))
    assert metal_beside(coil_alone, found.coil)[0] == ()
