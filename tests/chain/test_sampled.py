"""Verdicts without a band of their own are judged by the band of their margin: doubt of the limit counts too."""

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.chain.sampled import margin_bands, with_margins
from benchcalc.chain.verdict import Limit, judge
from benchcalc.chain.workings import electrical_bands, electrical_verdicts

PRESS = bc.chosen("insert_press").read_text(encoding="utf-8")
BORE = "wound coil in the bore of the tube"
STACK = "thickness of layers between coil and tube"


def press(sleeve):
    assert PRESS.count('thickness = "0.4 mm"') == 1
    return bc.read(PRESS.replace('thickness = "0.4 mm"', f'thickness = "{sleeve}"'))


def of(out, what):
    return next(v for _, v in out.verdicts if v.what == what)


def beside_a_slider(build):
    made = electrical_verdicts(build, *bc.links(build), electrical_bands(build, samples=100))
    return next(v for _, v in made if v.what == BORE)


@pytest.fixture(scope="module")
def near():
    """The press with a sleeve over its coil that leaves a twentieth of a millimetre, give or take more than that."""
    return bc.work_out(press("0.47 mm +- 0.08 mm"), samples=40)


@pytest.mark.parametrize("what", [BORE, STACK])
def test_a_coil_that_may_not_go_into_its_bore_is_not_fine(near, what):
    v = of(near, what)
    assert np.mean(near.drawn.margins[("coil" if what == BORE else "insulation"), what] < 0) > 0.05
    assert v.margin > 0 and v.band.low < v.value < v.limit < v.band.high and v.state == "tight"


def test_more_doubt_is_never_the_safer_end():
    ends = []
    for half in ("0.02", "0.05", "0.1"):
        ends.append(beside_a_slider(press(f"0.4 mm +- {half} mm")).band.high)
    assert ends[0] < ends[1] < ends[2]


def test_the_same_verdict_beside_a_slider():
    assert beside_a_slider(press("0.47 mm +- 0.08 mm")).state == "tight"


def test_a_sample_that_cannot_be_judged_counts_as_past_the_limit():
    v = judge("x", "temp_c", 90.0, Limit(100.0, "at most", "example"), why="why")
    many = np.linspace(5.0, 15.0, 20)
    many[:3] = np.nan
    bands = margin_bands([("a", v)], {("a", "x"): many})
    ((_, told),) = with_margins([("a", v)], bands)
    assert told.state == "not known"
    many[:3] = -1.0
    ((_, told),) = with_margins([("a", v)], margin_bands([("a", v)], {("a", "x"): many}))
    assert told.state == "tight" and told.band.high > 100


def test_threads_and_creep_carry_the_band_of_their_part(near):
    thread = of(near, "thread of the stem and the tip: will it seize")
    assert thread.band.low < thread.value < thread.band.high and thread.state == "tight"
