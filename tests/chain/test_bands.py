"""Bands of whole tools: the nominal in the middle of its own samples, one band for one number, today beside any day."""

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.basics.band import Band, draw
from benchcalc.basics.slices import finished
from benchcalc.chain.sampled import margin_path, with_margins
from benchcalc.chain.verdict import Limit, judge
from benchcalc.chain.workings import chain, drawn_builds
from benchcalc.pages import at_own_power
from benchcalc.show.heat.panel import heat_bands
from benchcalc.studies.today import bands_today


@pytest.mark.parametrize("name", ["insert_press", "foil_iron", "wax_pot", "foam_bow"])
def test_the_nominal_sits_in_the_middle_of_its_samples(name):
    """The median of a sample is within a few hundredths of its rank: 1/(2 sqrt n) is 0.04 of random samples."""
    build = bc.load_chosen(name)
    own = bc.work_out(build, samples=0)
    drawn = chain(drawn_builds(build, own.heat, own.wire))
    for field in ("tip_c", "wire_c", "entry_c", "grip_c"):
        nominal, many = getattr(own.heat, field), np.asarray(getattr(drawn.heat, field))
        if np.isfinite(nominal):
            assert np.isfinite(many).all() and 0.38 <= np.mean(many < nominal) <= 0.62, field


def test_draws_keep_their_middle_and_their_ends():
    rng = np.random.default_rng(4)
    speed, warming, skew = (0.05, 0.35, "log", 0.15), (1.0, 1.3, "uniform", 1.0), (0.0, 4.0, "uniform", 1.0)
    for low, high, spread, middle in (speed, warming, skew):
        drawn = draw(low, high, 400, rng, spread=spread, middle=middle)
        assert np.median(drawn) == pytest.approx(middle, rel=0.01) and low <= drawn.min() and drawn.max() <= high


def test_inputs_do_not_go_together_by_chance():
    build = bc.load_chosen("insert_press")
    drawn = bc.sample(build, 200)
    columns = [bc.get(drawn, p) for p, k in build.known.items() if k.low < k.high and not k.group]
    many = np.column_stack([c for c in columns if np.shape(c) == (200,)])
    assert np.abs(np.corrcoef(many, rowvar=False) - np.eye(many.shape[1])).max() < 0.1  # 0.07 is one deviation


def test_what_was_left_out_is_drawn():
    """Wire excess, winding and layers' emissivity, wood contact, typed diameters and thicknesses."""
    drawn = bc.sample(bc.load_chosen("insert_press"), 40)
    fields = ("excess_scale", "shine_place", "layer_emissivity", "wood_contact_w_m2k", "gap_eccentricity")
    assert all(np.ptp(getattr(drawn.heat, f)) > 0 for f in fields)
    part = {p.id: p for p in drawn.part}
    assert np.ptp(part["tube"].inner_m) == pytest.approx(2 * 0.45 * 0.1e-3, rel=0.1)  # the bit's 8 mm still go in
    assert np.all(part["tube"].inner_m > part["tip"].outer_m) and np.ptp(drawn.layer[0].thickness_m) > 0.05e-3
    assert np.array_equal(part["tube"].outer_m, part["handle"].inner_m)  # one was made to fit the other


def test_one_number_has_one_band_on_page_and_panel():
    build = bc.load_chosen("insert_press")
    page, panel = bc.work_out(build).bands, finished(heat_bands(at_own_power(build)))
    for path in ("heat.tip_c", "heat.wire_c", "heat.entry_c", "heat.grip_c"):
        assert (panel[path].low, panel[path].high) == pytest.approx((page[path].low, page[path].high), abs=0.5)


def test_today_is_narrower_than_any_day():
    build = bc.load_chosen("foil_iron")
    workings = bc.work_out(build)
    narrow = bands_today(build, workings)
    assert {"coil.coil_w", "heat.tip_c", "heat.grip_c"} <= set(narrow)
    for path, b in narrow.items():  # the handle hardly feels the mains: a kelvin of chance
        wide, chance = workings.bands[path], 1.0 if path in ("heat.grip_c", "heat.entry_c") else 0.0
        assert wide.low - chance < b.low < b.nominal < b.high < wide.high + chance


def test_a_part_that_is_not_of_metal_is_judged_with_its_band():
    text = bc.chosen("insert_press").read_text(encoding="utf-8")
    text = text.replace('material = "mild steel"', 'material = "beech"', 1)
    out = bc.work_out(bc.read(text), samples=60)
    stem = next(v for v in out.of("heat") if v.what.endswith("the stem"))
    assert stem.band.low < stem.value < stem.band.high and stem.state == "over"


def test_a_far_limit_in_doubt_gives_no_volts_below_nothing():
    """25 V against a layer that holds off 2500, give or take a fifth: no range of volts reaches below 0."""
    far = judge("volts", "withstand_v", 25.0, Limit(2500.0, "at most", "x"), why="")
    near = judge("volts", "withstand_v", 25.0, Limit(30.0, "at most", "x"), why="")
    wide = {margin_path("insulation", "volts"): Band(2475.0, 2000.0, 2950.0)}
    ((_, kept),) = with_margins([("insulation", far)], wide)
    assert kept.band is None and kept.state == "fine"
    ((_, over),) = with_margins([("insulation", near)], {margin_path("insulation", "volts"): Band(5.0, -20.0, 30.0)})
    assert over.band.low == 0.0 and over.state != "fine"
