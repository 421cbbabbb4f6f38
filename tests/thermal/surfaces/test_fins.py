"""Fins by hand against printed examples."""

import numpy as np
import pytest

from benchcalc.show.page.worked import worked
from benchcalc.thermal.surfaces.fins import (
    critical_radius,
    drained_end_rise,
    far_end_rise,
    long_fin_foot,
    reach_of,
    tube_section,
)
from benchcalc.thermal.surfaces.sliced_fin import far_end_by_slices


def test_steel_pin():
    """A 3 mm pin, 30 mm long, k 15, h 10, 120 degC in 20 degC air, end insulated: 90.06 degC.

    Sukhatme, Ex 2.13b, recomputed.
    """
    reach_m = reach_of(15.0, np.pi * 0.003**2 / 4, 10.0, np.pi * 0.003)
    assert 20 + far_end_rise(100.0, 0.030, reach_m) == pytest.approx(90.06, abs=0.01)


def test_long_rod_reach():
    """Incropera Ex 3.9: 5 mm rods, h 100: infinite from 2.65 reaches, 0.19, 0.13 and 0.04 m for k 398, 180, 14."""
    for k, printed in ((398, 0.1869), (180, 0.1257), (14, 0.0351)):
        assert 2.65 * reach_of(k, np.pi * 0.005**2 / 4, 100.0, np.pi * 0.005) == pytest.approx(printed, rel=0.01)


def test_critical_radius():
    """Cengel Ex 3-9: k 0.15, h 12: 12.5 mm.  Holman Ex 2-5: k 0.17, h 3: 5.67 cm."""
    assert critical_radius(0.15, 12.0) == pytest.approx(0.0125)
    assert critical_radius(0.17, 3.0) == pytest.approx(0.0567, abs=5e-5)


def test_each_can_be_shown_as_worked():
    assert worked(tube_section, outer_m=0.010, inner_m=0.008).value == pytest.approx(28.27e-6, rel=1e-3)
    assert worked(far_end_rise, near_rise_k=100.0, part_length_m=0.05, reach_m=0.05).value == pytest.approx(
        100 / np.cosh(1.0)
    )


def test_a_fin_drained_by_what_goes_on_for_ever_falls_as_a_long_rod():
    """Cut a long rod: its rest takes sqrt(h P k A) theta, and theta falls as exp(-x/reach) (Incropera et al., 3.80 and
    3.81)."""
    k, section, loss, edge, long_m = 15.0, 7e-6, 10.0, 9e-3, 0.04
    reach = reach_of(k, section, loss, edge)
    far = 100 * np.exp(-long_m / reach)
    rest_w = np.sqrt(loss * edge * k * section) * far
    assert drained_end_rise(100.0, long_m, reach, k, section, rest_w) == pytest.approx(far)
    assert drained_end_rise(100.0, long_m, reach, k, section, 0.0) == pytest.approx(far_end_rise(100.0, long_m, reach))


def test_slices_come_to_the_steel_pin():
    """The same printed pin, by the network: 90.06 degC (Sukhatme, Ex 2.13b, recomputed)."""
    pin = (100.0, 0.030, np.pi * 0.003**2 / 4, np.pi * 0.003, 15.0, 10.0)
    assert 20 + far_end_by_slices(*pin) == pytest.approx(90.06, abs=0.01)


def test_twice_the_slices_leave_a_quarter_of_the_error():
    """Finite volumes are of second order: hyperbolic cosine of three reaches as the exact answer."""
    pin = (100.0, 3 * reach_of(15.0, 7e-6, 10.0, 9e-3), 7e-6, 9e-3, 15.0, 10.0)
    few, more = (far_end_by_slices(*pin, slices=n) - 100 / np.cosh(3.0) for n in (20, 40))
    assert few / more == pytest.approx(4, rel=0.02) and 0 < more < 0.01 * 100 / np.cosh(3.0)


def test_what_enters_a_long_fin_is_what_its_whole_side_loses():
    """Its loss added up along ten reaches by numpy, the rise falling as exp(-x / reach)."""
    reach_m = reach_of(13.0, 7e-8, 60.0, 9.4e-4)
    x = np.linspace(0.0, 10 * reach_m, 20_001)
    lost_w = np.trapezoid(60.0 * 9.4e-4 * 216.0 * np.exp(-x / reach_m), x)
    assert long_fin_foot(216.0, reach_m, 13.0, 7e-8) == pytest.approx(lost_w, rel=1e-4)
