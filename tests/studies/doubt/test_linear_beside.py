"""Bands beside linear propagation of errors (uncertainties, a general-purpose library): alike where all is smooth and
narrow, apart where heat radiates."""

from dataclasses import replace
from types import MappingProxyType

import numpy as np
import pytest
from scipy.constants import Stefan_Boltzmann
from uncertainties import ufloat, umath

import benchcalc as bc
from benchcalc.basics.band import band_of, draw
from benchcalc.chain.workings import chain
from benchcalc.sheet.build import Known

SHEET = """[sheet]
name = "smooth"
[supply]
kind = "bench supply"
open = "15 V +- 0.15 V"
source = "1.2 ohm +- 0.05 ohm"
[[wire]]
id = "w"
alloy = "nicr-80-20"
diameter = "0.28 mm"
measured_ohm = "17.6 ohm +- 0.2 ohm"
measured_length = "1 m +- 4 mm"
[coil]
wire = "w"
length = "700 mm +- 5 mm"
wire_temperature = "500 degC"
[coil.tails]
ohm = "0.1 ohm +- 0.02 ohm"
"""


def even(middle, half):
    """A uniform input as the library knows it: by its deviation."""
    return ufloat(middle, half / np.sqrt(3))


def test_watts_amps_and_ohms_of_a_smooth_chain():
    """Ohm's law through `uncertainties`, 3.x: value within 0.1 %, deviation within 4 %."""
    build = bc.read(SHEET)
    typed = {p: k for p, k in build.known.items() if k.how == "measured"}
    assert len(typed) == 6
    build = replace(build, known=MappingProxyType(typed))
    factor = bc.links(build).wire.hot_factor
    parts = bc.links(bc.sample(build, 1500))
    open_v, source, tails = even(15, 0.15), even(1.2, 0.05), even(0.1, 0.02)
    cold = even(17.6, 0.2) / even(1, 0.004) * even(0.7, 0.005)
    amps = open_v / (source + tails + cold * factor)
    for ours, theirs in (
        (parts.coil.cold_ohm, cold),
        (parts.coil.load_a, amps),
        (parts.coil.coil_w, amps**2 * cold * factor),
    ):
        assert np.mean(ours) == pytest.approx(theirs.nominal_value, rel=1e-3)
        assert np.std(ours) == pytest.approx(theirs.std_dev, rel=0.04)


def test_linear_propagation_misses_the_hot_side_of_what_radiates():
    """A surface of 4 W/cm2 that only radiates, emissivity even on 0.1 to 0.7: T = (q / (sigma e) + Ta^4)^(1/4).  Its
    95th percentile is exact, at the emissivity that one in twenty lies below."""
    q, room_k = 4e4, 293.15

    def temp_k(e, root=lambda x: x**0.25):
        return root(q / (Stefan_Boltzmann * e) + room_k**4)

    low, high = 0.1, 0.7
    exact = temp_k(low + 0.05 * (high - low)), temp_k(low + 0.95 * (high - low))
    ours = band_of(temp_k(0.4), temp_k(draw(low, high, 400, np.random.default_rng(3))))
    assert (ours.high, ours.low) == pytest.approx(exact, rel=0.01)
    line = temp_k(even(0.4, 0.3), lambda x: umath.pow(x, 0.25))
    hot = line.nominal_value + 1.645 * line.std_dev
    assert exact[0] - hot > 120  # kelvin too cool, on the side that burns
    assert ours.high > hot + 100


def test_the_hot_side_of_a_tool_that_radiates():
    """The winding of a demo at ten times its power, one emissivity in doubt: the band ends where the chain itself is at
    the emissivity that one in twenty lies below, hotter than a straight line through the middle says."""
    build = bc.change(bc.load_chosen("insert_press"), "coil.wire_temp_c", 600.0)
    build = bc.change(bc.change(build, "supply.open_v", 50.0), "supply.source_ohm", 1.0)
    path, low, high = "part.tube.emissivity", 0.05, 0.95
    build = bc.change(build, path, (low + high) / 2)
    alone = replace(build, known=MappingProxyType({path: Known(low, high, "assumed")}))
    drawn = chain(bc.sample(alone, 200)).heat.tip_c
    at = lambda e: chain(bc.change(alone, path, e)).heat.tip_c  # noqa: E731
    exact, middle = at(low + 0.05 * (high - low)), at(0.5)
    band = band_of(middle, drawn)
    assert band.high == pytest.approx(exact, abs=0.02 * (exact - middle))
    slope = (at(0.51) - at(0.49)) / 0.02
    linear = middle + 1.645 * abs(slope) * (high - low) / 2 / np.sqrt(3)
    assert exact > linear + 20, (exact, linear)
