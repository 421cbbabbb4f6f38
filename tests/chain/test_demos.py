"""The four invented demos: they load, work out, and tell their story.

The numbers are the demos' own design figures (invented builds), worked by hand from Ohm's law;
a difference is a change of the story or of the sums.
"""

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.chain.verdict import STATES, worst_state

# open V, source ohm, ohm/m, length m, cold ohm, hot ohm, A, W, W/m2 (None: free air), turns, former m
STORY = {
    "insert_press": (18.2, 1.30, 17.70, 0.733, 12.98, 13.5, 1.22, 20.1, 3.1e4, 34, 6.5e-3),
    "wax_pot": (12.40, 0.11, 4.55, 1.012, 4.60, 4.69, 2.56, 30.7, 1.7e4, 5.2, 62e-3),
    "foam_bow": (10.6, 1.15, 8.466, 0.457, 3.87, 3.97, 2.03, 16.4, None, None, None),
    "foil_iron": (27.6, 1.05, 6.977, 1.419, 9.9, 10.2, 2.43, 60.3, 2.7e4, 47, 9.0e-3),
}
TURNS_WITHIN = {"wax_pot": 0.2}  # a belt of few turns on a wide cup


@pytest.fixture(scope="module", params=sorted(STORY))
def demo(request):
    build = bc.load_chosen(request.param)
    return request.param, build, bc.work_out(build)


def test_the_demos_are_these_and_the_insert_press_comes_first():
    assert set(bc.demos()) == set(STORY) and bc.demos()[0] == "insert_press"


def test_a_demo_says_that_it_is_invented(demo):
    name, build, _ = demo
    assert build.invented is True
    with open(build.file, encoding="utf-8") as text:
        assert "nvented" in text.readline()


def test_a_demo_tells_its_story(demo):
    name, build, out = demo
    c = out.coil
    got = (
        out.supply.open_v,
        out.supply.source_ohm,
        out.wire.linear_ohm_per_m,
        c.length_m,
        c.cold_ohm,
        c.hot_ohm,
        c.load_a,
        c.coil_w,
        c.surface_load_w_m2,
        c.turns,
        c.former_m,
    )
    for number, (ours, told) in enumerate(zip(got, STORY[name])):
        if told is not None:
            within = TURNS_WITHIN.get(name, 0.03) if number == 9 else 0.03
            assert ours == pytest.approx(told, rel=within), number
    assert build.want.power_w == pytest.approx(c.coil_w, rel=0.05)


def test_a_demo_balances_and_fits(demo):
    name, build, out = demo
    c, s = out.coil, out.supply
    assert s.open_in_use_v * c.load_a == pytest.approx(c.coil_w + c.tails_w + c.source_loss_w, rel=1e-9)
    assert c.load_v == pytest.approx(s.open_v - s.source_ohm * c.load_a, rel=1e-9)
    assert c.coil_w < s.most_power_w and c.coil_w < out.wire.most_in_coil_w
    if name == "foam_bow":  # a stretched wire lies on no former
        assert np.isnan(c.turns) and np.isnan(c.spare_m) and c.cut_m == pytest.approx(c.length_m)
    else:
        assert c.spare_m > 0 and c.former_m > c.smallest_former_m
        assert c.spare_m == pytest.approx(c.room_m - c.winding_m, rel=1e-9)
        assert c.cut_m == pytest.approx(c.length_m + c.anchor_m, rel=1e-9)


def test_bands_hold_the_nominal_and_are_the_same_every_time(demo):
    name, build, out = demo
    assert out.bands["coil.coil_w"].low < out.coil.coil_w < out.bands["coil.coil_w"].high
    margins = {f"margin.{link}.{v.what}": v.margin for link, v in out.verdicts}
    for path, band in out.bands.items():
        if path.startswith("margin."):
            assert band.nominal == margins[path] and not band.low > band.high
            continue
        part, field, *number = path.replace("heat.at_mains.", "heat.").replace("heat.itself.", "heat.").split(".")
        nominal = getattr(getattr(out, part), field)
        if number:  # of one part: by its id, or by its place in the list
            nominal = nominal(number[0]) if callable(nominal) else nominal[int(number[0])]
        assert band.nominal == pytest.approx(nominal, nan_ok=True)
        if np.isfinite(band.low):
            assert band.low <= band.high
    again = bc.work_out(build)
    assert again.bands["coil.coil_w"] == out.bands["coil.coil_w"]


def test_mains_swing_is_about_twice_as_large_in_watts(demo):
    # P goes with the square of the volts: +-10 % in volts is +-20 % in watts
    _, build, out = demo
    for mains in (0.9, 1.1):
        watts = bc.links(bc.change(build, "supply.mains", mains))[2].coil_w
        assert watts / bc.links(build)[2].coil_w == pytest.approx(mains**2, rel=1e-9)


def test_every_verdict_has_a_state_a_reason_and_a_source(demo):
    _, _, out = demo
    for _, v in out.verdicts:
        assert v.state in STATES and v.why and (v.source or v.state == "not known"), v
        if v.state in ("fine", "tight"):
            assert v.margin >= 0
        if v.state == "over":
            assert v.margin < 0


def test_verdicts_of_the_stories():
    by = {n: {v.what: v for _, v in bc.work_out(bc.load_chosen(n)).verdicts} for n in STORY}
    assert by["foil_iron"]["gap between turns"].state == "tight"
    assert by["foil_iron"]["touch with dry hands, AC"].state == "over"  # 27.6 V against 25 V
    assert by["foam_bow"]["touch with dry hands, AC"].state == "fine"
    assert by["foam_bow"]["surface load of the wire"].state == "does not apply"
    for name in ("insert_press", "wax_pot", "foil_iron"):
        assert by[name]["length of the winding"].state in ("fine", "tight")
        assert by[name]["surface load of the wire"].state in ("fine", "tight")
    for name in STORY:
        assert by[name]["most power for the coil, against the wanted power"].state == "fine"
        assert by[name]["distance of the readings from a line"].state == "fine"
        electrical = [v for link, v in bc.work_out(bc.load_chosen(name)).verdicts if link in ("supply", "wire", "coil")]
        assert worst_state(electrical) != "over"
    assert by["foam_bow"]["supply's winding after hours of load"].state == "over"  # the lesson of the soak test
    assert by["insert_press"]["supply's winding after hours of load"].state == "fine"
    assert by["foam_bow"]["load against the core's hint"].state == "over"
    assert by["foil_iron"]["load against the core's hint"].state == "fine"
    assert by["wax_pot"]["load against the core's hint"].state == "does not apply"  # a toroid
    assert by["insert_press"]["wood at the tube, for years"].state == "over"  # heat creeps to the handle
    assert by["wax_pot"]["what is melted, left on"].state == "over"  # power is not temperature
    assert by["foil_iron"]["wood at the tube, for years"].state in ("fine", "tight")
