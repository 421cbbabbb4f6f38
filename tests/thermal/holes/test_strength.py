"""Bending of a tube with holes: against beam theory by quadrature and plane-stress finite elements."""

import numpy as np
import pytest
from thermal.holes.plate_elastic import extra_when_pulled

from benchcalc.thermal.holes import strength as bs
from benchcalc.thermal.holes.closed_form import extra_length
from benchcalc.thermal.holes.pattern import Pattern, open_share


def by_counting(p, turns=360, pieces=20000):
    """Weakest section modulus of the ring that is left over that of the whole thin ring, by adding up its pieces."""
    angle = (np.arange(pieces) + 0.5) / pieces * 2 * np.pi
    half = np.arcsin(p.hole_m / ((p.outer_m + p.inner_m) / 2))
    gone = np.zeros(pieces, bool)
    for k in range(p.holes):
        gone |= np.abs((angle - 2 * np.pi * k / p.holes + np.pi) % (2 * np.pi) - np.pi) < half
    a, worst = angle[~gone], np.inf
    for turn in np.arange(turns) / turns * np.pi:
        y = np.cos(a - turn)
        y = y - y.mean()
        worst = min(worst, np.sum(y**2) * 2 * np.pi / pieces / (np.pi * np.abs(y).max()))
    return worst


@pytest.mark.parametrize("holes, hole_m", [(1, 3e-3), (2, 3e-3), (2, 5e-3), (1, 5e-3)])
def test_one_or_two_holes_against_a_ring_added_up(holes, hole_m):
    p = Pattern(10e-3, 9e-3, holes, hole_m)
    """On the safe side: the outermost metal counts as if it were still there."""
    assert 0.88 * by_counting(p) < bs.net_share_of(p) < 1.02 * by_counting(p)


@pytest.mark.parametrize("holes, hole_m", [(3, 3e-3), (4, 3e-3), (6, 3e-3)])
def test_three_and_more_holes_leave_the_share_of_the_wall(holes, hole_m):
    """The outermost metal may be gone, which only helps: the ring added up is never weaker."""
    p = Pattern(10e-3, 9e-3, holes, hole_m)
    assert bs.net_share_of(p) == pytest.approx(float(open_share(p, [0.0])[0]), rel=1e-9)
    assert bs.net_share_of(p) <= by_counting(p) * 1.02


def test_section_modulus_of_a_solid_rod():
    """Z = pi D^3/32, Roark's Formulas for Stress and Strain, table A.1."""
    assert bs.section_modulus(10e-3, 0.0) == pytest.approx(98.17e-9, rel=1e-4)


def test_stress_of_a_cantilever():
    """20 N at 100 mm on a solid 10 mm rod: 2 N m over 98.17 mm3 is 20.37 MPa."""
    assert bs.web_stress(20.0, 0.1, bs.section_modulus(10e-3, 0.0), 1.0) == pytest.approx(20.37e6, rel=1e-3)


def test_give_of_a_cantilever_with_a_stiff_front():
    """F L^3/(3 E I), Roark table 8.1; a front half that does not bend leaves 7/8 of it."""
    ei = 2e11 * np.pi * 0.01**4 / 64
    assert bs.tip_give([0.0, 0.1], [ei], 0.0) == pytest.approx(0.1**3 / 3 / ei)
    assert bs.tip_give([0.05, 0.1], [ei], 0.0) == pytest.approx(7 / 8 * 0.1**3 / 3 / ei)


@pytest.mark.parametrize(
    "pattern",
    [
        (10e-3, 8.1e-3, 3, 2e-3, 1, 4e-3, True),
        (10e-3, 8.1e-3, 6, 3e-3, 2, 4e-3, True),
        (10e-3, 8.8e-3, 6, 4e-3, 2, 5e-3, True),
        (12e-3, 10e-3, 4, 3e-3, 3, 4e-3, True),
    ],
)
def test_what_bends_over_what_conducts_against_finite_elements(pattern):
    ratio = extra_when_pulled(*pattern) / extra_length(Pattern(*pattern))
    assert 1.15 < ratio < 1.7
    assert ratio == pytest.approx(bs.STRETCH, rel=0.22)


def test_few_holes_stretch_by_three_parts_and_conduct_by_two():
    """Dilute round holes: 1 + 3f against 1 + 2f; Day, Snyder, Garboczi, Thorpe, J. Mech. Phys. Solids 40 (1992)
    1031."""
    p = (10e-3, 9.4e-3, 3, 1.2e-3, 1, 0.0, True)
    assert extra_when_pulled(*p) / extra_length(Pattern(*p)) == pytest.approx(1.5, rel=0.03)


def test_stiffness_left_falls_with_the_break():
    left = [bs.stiffness_left(1e-5, x, 0.1, 40.0) for x in (0.0, 5e-3, 20e-3)]
    assert left[0] == 1.0 and left[0] > left[1] > left[2] > 0
