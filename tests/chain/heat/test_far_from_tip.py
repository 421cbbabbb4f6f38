"""A winding far from its tip: the way between them by Fourier's law, told where it takes much of the rise."""

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.chain.heat.far_from_tip import far_words, way_to_tip

SHEET = """[sheet]
name = "brand"
[supply]
kind = "bench supply"
limit = "10 A"
[[supply.reading]]
volts = 12
amps = 0
[[supply.reading]]
volts = 12
amps = 2
[[wire]]
id = "reel"
alloy = "nicr-80-20"
diameter = "0.4 mm"
[coil]
wire = "reel"
on = "{on}"
length = "800 mm"
mounting = "bench tool core in a tube"
from = "{from}"
to = "{to}"
[[part]]
id = "tip"
role = "tip"
material = "brass"
from = "0 mm"
to = "30 mm"
outer = "20 mm"
[[part]]
id = "tube"
role = "tube"
material = "stainless"
from = "30 mm"
to = "200 mm"
inner = "10 mm"
outer = "12 mm"
[[joint]]
between = ["tip", "tube"]
made = "one piece"
[[layer]]
between = ["{on}", "coil"]
material = "mica"
thickness = "0.3 mm"
[want]
temperature = "300 degC"
"""


def settled(on, start, end):
    build = bc.read(SHEET.replace("{on}", on).replace("{from}", start).replace("{to}", end))
    return build, bc.work_out(build, samples=0)


def test_the_way_of_a_thin_tube_by_hand_and_what_is_said_of_it():
    """30 mm of a 12/10 tube: L/(kA) with 18 W/(m K) for stainless steel near 300 degC (Incropera, table A.1: AISI 304
    has 16.6 at 400 K, 19.8 at 600 K) is 48 K for a watt."""
    build, out = settled("tube", "35 mm", "85 mm")
    drop_k, way_m, k_per_w = way_to_tip(build, out.heat)
    assert way_m == pytest.approx(0.030) and k_per_w == pytest.approx(
        0.030 / (18 * np.pi / 4 * (0.012**2 - 0.010**2)), rel=0.1
    )
    assert drop_k > 0.4 * (out.heat.wire_c - 20)
    told = {v.what: v.why for _, v in out.verdicts}
    assert far_words(build, out.heat) in told["hottest wire"] and "for each watt" in told["hottest wire"]
    assert "The watts do not reach the tip" in told["tip against the wanted temperature"]
    near, wound = settled("tip", "2 mm", "28 mm")  # on the tip itself nothing lies between
    assert far_words(near, wound.heat) == "" and way_to_tip(near, wound.heat) is None
    assert wound.heat.wire_c - wound.heat.tip_c < 0.3 * (out.heat.wire_c - out.heat.tip_c)
