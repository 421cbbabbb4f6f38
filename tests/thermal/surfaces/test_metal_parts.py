"""Drops, heat-up and press fits by hand."""

import numpy as np
import pytest

from benchcalc.basics.fault import Fault
from benchcalc.materials.metals import mean_between, metal_at
from benchcalc.show.page.worked import worked
from benchcalc.thermal.surfaces import by_hand as c
from benchcalc.thermal.surfaces.press_fit import fit_pressure, hoop_stress, hot_gap, screw_tightening, will_it_split


def test_the_drop_with_a_curve_equals_a_fine_march():
    """Sliced into 4000 pieces, each with the conductivity of its own temperature."""
    area, watts = c.rod_section(0.006), 6.0
    drop_k, k = c.drop_from("mild steel", 400.0, watts, 0.050, area)
    t = 400.0
    for _ in range(4000):
        t -= c.stem_drop(watts, 0.050 / 4000, mean_between("mild steel", "conductivity_w_mk", t, t), area)
    assert 400.0 - t == pytest.approx(drop_k, rel=1e-3)
    assert c.stem_drop(watts, 0.050, k, area) == pytest.approx(drop_k, rel=1e-9)


def test_watts_that_no_stem_would_pass():
    assert c.drop_from("stainless 304", 200.0, 100.0, 0.1, c.rod_section(0.006))[0] == float("inf")


@pytest.mark.parametrize(
    "numbers, words",
    [((5.0, -0.01, 1e-5), "length"), ((5.0, 0.05, 0.0), "cross-section"), ((-1.0, 0.05, 1e-5), "watts")],
)
def test_a_stem_that_cannot_be(numbers, words):
    with pytest.raises(Fault, match=words):
        c.drop_from("copper", 300.0, *numbers)


def test_mass_and_heat_up():
    """A steel rod 6 x 50 mm, 7850 kg/m3: 11.1 g; 434 J/(kg K) over 380 K at 20 W takes 92 s, by hand."""
    mass = c.tube_mass(c.rod_section(0.006), 0.050, 7850.0)
    assert mass == pytest.approx(0.0111, rel=0.01)
    assert c.heat_up_time(mass, 434.0, 380.0, 20.0) == pytest.approx(91.5, rel=0.01)


def test_equal_metals_and_temperatures_keep_their_gap():
    assert hot_gap(2e-5, 0.010, 1.2e-5, 300.0, 1.2e-5, 300.0) == pytest.approx(2e-5)


def test_pressure_of_a_plug_in_an_endless_block():
    """With the outside far away the wall factor is 1: p = d/D E/((1 + nu) + (1 - nu)) = d/D E/2 for one metal, and the
    hoop stress equals the pressure (Lame, limits)."""
    p = fit_pressure(1e-5, 0.010, 1e3, 2e11, 0.3, 2e11, 0.3)
    assert p == pytest.approx(1e-3 * 2e11 / 2, rel=1e-6)
    assert hoop_stress(p, 0.010, 1e3) == pytest.approx(p, rel=1e-6)


def test_hoop_stress_of_a_thin_tube():
    """The boiler formula p d/(2 s) for thin walls, of mean diameter (any text on strength of materials)."""
    assert hoop_stress(1e6, 0.100, 0.102) == pytest.approx(1e6 * 0.101 / (2 * 0.001), rel=0.01)


def test_stresses_of_lame_solve_the_equilibrium():
    """Finite differences of radial equilibrium through the wall, d(r s_r)/dr = s_t, with plane stress: an independent
    solution."""
    inner, outer, p, nu = 0.004, 0.006, 1e8, 0.3
    r = np.linspace(inner, outer, 2001)
    h = r[1] - r[0]
    # displacement u: u'' + u'/r - u/r2 = 0; stress s_r = E/(1-nu2) (u' + nu u/r)
    e = 2e11
    a = np.zeros((r.size, r.size))
    b = np.zeros(r.size)
    for i in range(1, r.size - 1):
        a[i, i - 1 : i + 2] = 1 / h**2 - 1 / (2 * h * r[i]), -2 / h**2 - 1 / r[i] ** 2, 1 / h**2 + 1 / (2 * h * r[i])
    for i, way, load in ((0, 1, -p), (-1, -1, 0.0)):
        k = [0, 1, 2] if way == 1 else [-1, -2, -3]
        a[i, k] = np.array([-3, 4, -1]) / (2 * h) * way
        a[i, i] += nu / r[i]
        b[i] = load * (1 - nu**2) / e
    u = np.linalg.solve(a, b)
    bore = e * u[0] / r[0] + nu * -p
    assert hoop_stress(p, 2 * inner, 2 * outer) == pytest.approx(bore, rel=1e-3)


def test_a_brass_plug_in_a_steel_tube_tightens_and_the_other_way_round_loosens():
    hot = will_it_split("mild steel", "brass", 1e-5, 0.008, 0.010, 300.0, 300.0)
    assert hot.hot_gap_m < hot.cold_gap_m
    loose = will_it_split("brass", "mild steel", 0.0, 0.008, 0.010, 300.0, 300.0)
    assert loose.hot_gap_m > 0 and loose.pressure_pa == 0 and loose.gives == ""


def test_a_sound_fit_a_stretched_tube_and_a_soft_plug():
    fine = will_it_split("mild steel", "mild steel", -1e-6, 0.008, 0.016, 20.0, 20.0)
    assert fine.gives == "" and fine.stress_pa < fine.yield_pa and fine.loose_after_m == -1e-6
    stretched = will_it_split("mild steel", "brass", -2e-5, 0.008, 0.010, 280.0, 284.0)
    assert stretched.gives == "tube" and stretched.loose_after_m > stretched.cold_gap_m
    soft = will_it_split("mild steel", "aluminium 1100", -8e-6, 0.008, 0.060, 300.0, 300.0)
    assert soft.gives == "plug" and soft.loose_after_m > 0
    assert soft.pressure_pa == pytest.approx(
        metal_at("aluminium 1100", "yield_pa", 300.0).value
    )  # capped by what the plug can bear


def test_cast_iron_has_no_yield_to_go_by():
    found = will_it_split("cast iron", "mild steel", -1e-5, 0.008, 0.016, 20.0, 20.0)
    assert found.gives == "not known" and np.isnan(found.yield_pa)


@pytest.mark.parametrize(
    "fit, words", [((0.0, 0.010, 0.008), "wall"), ((0.0, -0.01, 0.008), "wall"), ((2e-3, 0.010, 0.012), "5 %")]
)
def test_fits_that_cannot_be(fit, words):
    with pytest.raises(Fault, match=words):
        will_it_split("mild steel", "brass", *fit, 100.0, 100.0)
    with pytest.raises(Fault, match="elastic modulus"):
        will_it_split("mild steel", "tin", 0.0, 0.008, 0.010, 100.0, 100.0)


def test_a_set_screw_bites_into_brass_and_lets_go_of_steel_in_brass():
    """By hand: 4 mm radius of brass grows 4e-3 x 20e-6 x 260 = 20.8 um, steel around it 5 mm by 15.3 um less the
    screw's 3.1."""
    bites = screw_tightening(0.008, 0.001, 260.0, 1.18e-5, 2.0e-5, 1.18e-5)
    assert bites == pytest.approx(4e-3 * 260 * (2.0e-5 - 1.18e-5), rel=1e-6) and bites > 0
    assert screw_tightening(0.008, 0.001, 260.0, 2.0e-5, 1.18e-5, 1.18e-5) < 0


def test_each_can_be_shown_as_worked():
    assert worked(c.stem_drop, through_w=5.0, part_length_m=0.05, conductivity_w_mk=50.0, section_m2=28e-6).value > 0
    assert worked(c.joint_drop, through_w=5.0, contact_w_m2k=2500.0, contact_m2=1e-4).value == pytest.approx(20.0)
    assert worked(c.heat_up_time, mass_kg=0.02, specific_heat_j_kgk=434.0, rise_k=300.0, coil_w=20.0).value > 0
    assert (
        worked(
            hot_gap,
            cold_gap_m=1e-5,
            fit_m=0.008,
            outer_per_k=1.2e-5,
            outer_rise_k=300.0,
            inner_per_k=2e-5,
            inner_rise_k=300.0,
        ).value
        < 0
    )
    assert (
        worked(
            fit_pressure,
            squeeze_m=1e-5,
            fit_m=0.008,
            outer_m=0.01,
            tube_pa=2e11,
            tube_poisson=0.3,
            plug_pa=1e11,
            plug_poisson=0.34,
        ).value
        > 0
    )
    assert (
        worked(
            screw_tightening,
            plug_m=0.008,
            wall_m=0.001,
            rise_k=260.0,
            outer_per_k=1.2e-5,
            inner_per_k=2e-5,
            screw_per_k=1.2e-5,
        ).value
        > 0
    )
