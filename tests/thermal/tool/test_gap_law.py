"""One law of a gap: against closed forms of eccentric cylinders; on whole tools continuous and monotone."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import quad

import benchcalc as bc
from benchcalc.chain.heat.link import work_heat
from benchcalc.thermal.tool.clearance import ROUGH_OFF_CENTRE_M, gap_conductance, ring_gap

AIR_W_MK = 0.045


@pytest.mark.parametrize("ratio", [1.03, 1.3, 2.0])
@pytest.mark.parametrize("eccentricity", [0.0, 0.5, 0.9])
def test_ring_against_eccentric_cylinders(ratio, eccentricity):
    """Incropera et al., Fundamentals of Heat and Mass Transfer, Table 4.1 case 7: S = 2 pi L / arccosh((D^2 + d^2 -
    4 z^2) / (2 D d)).  The gap is so wide that the roughness does not count."""
    rod = 0.1
    bore, offset = ratio * rod, eccentricity * (ratio - 1) * rod
    exact = 2 * np.pi / np.arccosh((bore**2 + rod**2 - offset**2) / (2 * bore * rod))
    assert ring_gap(rod, bore, eccentricity, AIR_W_MK)[0] == pytest.approx(exact, rel=0.03)


@pytest.mark.parametrize("layer_m2k_w", [0.0, 5e-3])
@pytest.mark.parametrize("eccentricity", [0.0, 0.6, 1.0])
def test_law_against_its_mean_round_the_circle(eccentricity, layer_m2k_w):
    """Numerical quadrature of the thin slices that the closed form stands for (scipy.integrate.quad)."""
    gap, rough = 0.12e-3, 5e-6

    def slice_w_m2k(angle):
        return 1 / (layer_m2k_w + (gap + rough - eccentricity * gap * np.cos(angle)) / AIR_W_MK)

    mean = quad(slice_w_m2k, 0, np.pi, epsabs=0, epsrel=1e-10, limit=200)[0] / np.pi
    assert gap_conductance(gap, rough, eccentricity, AIR_W_MK, layer_m2k_w) == pytest.approx(mean, rel=1e-8)


def test_roughness_is_all_that_is_left_of_a_closed_gap():
    """Yovanovich 1981: h = k / (Y + M) of the gas in a contact; Y + M of 5 um in air at 300 degC is 9000 W/(m2 K)."""
    shape, radius = ring_gap(5e-3, np.array([4.9e-3, 5e-3, 5e-3 + 1e-9]), 0.5, AIR_W_MK)
    assert AIR_W_MK * shape / (2 * np.pi * radius) == pytest.approx(AIR_W_MK / ROUGH_OFF_CENTRE_M, rel=1e-3)


def settled(build, watts):
    _, wire, coil = bc.links(build)
    return work_heat(build, wire, coil, watts)


SWEPT = [  # a length, from and to in mm, what it does to the winding
    ("insert_press", "part.tube.inner_m", 7.9, 9.8, +1),  # past the layer's 7.86 mm and the bit's 8 mm
    ("insert_press", "layer.1.thickness_m", 0.02, 0.519, -1),  # up to a packed bore: glass for air
    ("insert_press", "layer.0.thickness_m", 0.05, 0.6, 0),
    ("foil_iron", "part.shroud.inner_m", 12.2, 13.9, 0),  # the collar's clearance, from none to past 0.3 mm
    ("foil_iron", "part.handle.inner_m", 14.0, 15.0, 0),  # the handle's
    ("foil_iron", "part.handle.from_m", 150.0, 210.0, 0),
]


@pytest.mark.parametrize("name, path, low_mm, high_mm, way", SWEPT)
def test_temperatures_are_continuous_in_lengths(name, path, low_mm, high_mm, way):
    """No physics jumps with a size: in fine steps no change is far from its neighbours'; a looser bore
    leaves the winding hotter, a sleeve that takes the place of air cooler."""
    build, places = bc.load_chosen(name), np.linspace(low_mm, high_mm, 41) * 1e-3
    watts = bc.links(build).coil.coil_w
    many = settled(bc.change(build, path, places), watts)
    for field in ("wire_c", "tip_c", "entry_c", "grip_c"):
        values = getattr(many, field)
        good = values[np.isfinite(values)]
        assert good.size > 30  # the rest overlap
        steps = np.diff(good)
        beside = np.maximum(np.abs(np.r_[steps[0], steps[:-1]]), np.abs(np.r_[steps[1:], steps[-1]]))
        assert np.all(np.abs(steps) <= 2.5 * beside + 0.15), (path, field)
    if way:
        wire_c = many.wire_c[np.isfinite(many.wire_c)]
        assert np.all(way * np.diff(wire_c) > -0.02)


@pytest.mark.parametrize(
    "path, values_mm", [("part.tube.inner_m", (8.01, 8.1, 8.17, 8.4)), ("layer.1.thickness_m", (0.2, 0.36, 0.38, 0.5))]
)
def test_designs_side_by_side_are_the_single_ones(path, values_mm):
    """Whatever gap one design has, it does not change what another gets."""
    build, values = bc.load_chosen("insert_press"), np.array(values_mm) * 1e-3
    many = settled(bc.change(build, path, values), 20.0)
    for i, value in enumerate(values):
        one = settled(bc.change(build, path, float(value)), 20.0)
        for field in ("tip_c", "wire_c", "entry_c", "grip_c"):
            assert getattr(many, field)[i] == pytest.approx(getattr(one, field), abs=1e-6)


def test_more_doubt_of_a_bore_gives_no_cooler_upper_end():
    """The bore typed to 0.02, 0.05 and 0.09 mm: the upper end of the winding's band does not fall."""
    text, path, upper = bc.chosen("insert_press").read_text(encoding="utf-8"), "part.tube.inner_m", []
    for doubt in ("0.02", "0.05", "0.09"):
        build = bc.read(text.replace('inner = "8.1 mm"', f'inner = "8.1 mm +- {doubt} mm"'))
        build = replace(build, known={path: build.known[path]})
        upper.append(np.percentile(settled(bc.sample(build, 64, 3), 20.0).sheath_c, 95))
    assert upper[0] < upper[1] < upper[2]


def test_where_there_is_no_rod_nothing_is_conducted_to_it():
    with np.errstate(all="raise"):
        shape, radius = ring_gap(0.0, 5e-3, 0.5, AIR_W_MK)
    assert shape == 0 and radius == 0  # the limit of 2 pi k / ln(b / a) as a goes to 0, by hand
