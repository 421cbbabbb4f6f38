"""Heat breaks: closed forms and the two-dimensional solve against printed array formulas and finite elements."""

import numpy as np
import pytest
from thermal.holes.plate_fem import extra_by_fem

from benchcalc.basics.fault import Fault
from benchcalc.thermal.holes import closed_form as hb
from benchcalc.thermal.holes.pattern import Pattern, fitting_holes, refuse_bad_pattern, sizes_of, web_at_bore
from benchcalc.thermal.holes.solved_wall import outline, solve_wall, solved_extra


def square(f):
    """Rayleigh 1892; Perrins, McKenzie, McPhedran, Proc. R. Soc. A 369 (1979) 207: square array,
    insulating cylinders."""
    return 1 - 2 * f / (1 + f - 0.305827 * f**4 / (1 - 1.402958 * f**8) - 0.013362 * f**8)


def hexagonal(f):
    """Perrins, McKenzie, McPhedran, Proc. R. Soc. A 369 (1979) 207: hexagonal array, insulating cylinders."""
    return 1 - 2 * f / (1 + f - 0.075422 * f**6 / (1 - 1.060283 * f**12) - 0.000076 * f**12)


def flat(d_over_p, rings, spacing_over_p, staggered):
    """A pattern on a tube so wide that its wall is flat; pitch 5 mm."""
    pitch, holes = 5e-3, 4000
    middle = pitch * holes / np.pi
    return Pattern(middle + 0.5e-3, middle - 0.5e-3, holes, d_over_p * pitch, rings, spacing_over_p * pitch, staggered)


def conductivity_of_array(d_over_p, spacing_over_p, staggered, across):
    """Conductivity of an endless array, from what two more rings in the middle of many add."""
    few, many = (solve_wall(flat(d_over_p, n, spacing_over_p, staggered), across).extra_m for n in (4, 6))
    long = 2 * spacing_over_p * 5e-3
    return long / (long + many - few)


@pytest.mark.parametrize("d_over_p", [0.2, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9])
def test_square_arrays_against_rayleigh_and_perrins(d_over_p):
    found = conductivity_of_array(d_over_p, 1.0, False, 72)
    assert found == pytest.approx(square(np.pi * d_over_p**2 / 4), rel=1e-3)


@pytest.mark.parametrize("d_over_p", [0.2, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9])
def test_hexagonal_arrays_against_perrins(d_over_p):
    found = conductivity_of_array(d_over_p, np.sqrt(3) / 2, True, 72)
    assert found == pytest.approx(hexagonal(np.pi * d_over_p**2 / (2 * np.sqrt(3))), rel=1e-3)


@pytest.mark.parametrize("d_over_p", [0.2, 0.4])
def test_dilute_arrays_against_maxwell(d_over_p):
    """Maxwell 1873, two-dimensional form (1 - f)/(1 + f), named in Cheng and Hsu, J. Porous Media 2 (1999) 19."""
    f = np.pi * d_over_p**2 / 4
    assert conductivity_of_array(d_over_p, 1.0, False, 72) == pytest.approx((1 - f) / (1 + f), rel=1e-3)


PATTERNS = {
    "two staggered rings of 6 x 4": (10e-3, 8.8e-3, 6, 4e-3, 2, 5e-3, True),
    "one ring of 6 x 3.5": (10e-3, 8.1e-3, 6, 3.5e-3, 1, 0.0, True),
    "three staggered rings of 4 x 3": (12e-3, 10e-3, 4, 3e-3, 3, 4e-3, True),
    "two aligned rings of 5 x 3": (14e-3, 12.4e-3, 5, 3e-3, 2, 4e-3, False),
    "two rings of 3 x 2": (10e-3, 8.8e-3, 3, 2e-3, 2, 3e-3, True),
    "slots of 3 x (2 + 4)": (10e-3, 8.8e-3, 3, 2e-3, 2, 3e-3, True, 4e-3),
}


@pytest.mark.parametrize("name", PATTERNS)
def test_the_solve_against_finite_elements(name):
    """scikit-fem, quadratic triangles fitted to the holes, two pitches of plain wall on each side."""
    assert solved_extra(Pattern(*PATTERNS[name])) == pytest.approx(extra_by_fem(*PATTERNS[name]), rel=5e-3)


@pytest.mark.parametrize("name", [n for n, a in PATTERNS.items() if hb.in_closed_form(Pattern(*a))])
def test_the_closed_forms_against_finite_elements(name):
    assert hb.closed_form(Pattern(*PATTERNS[name])) == pytest.approx(extra_by_fem(*PATTERNS[name]), rel=1e-2)


@pytest.mark.parametrize("staggered", [True, False])
@pytest.mark.parametrize("rings", [1, 2])
def test_where_the_closed_forms_say_they_hold_they_hold(rings, staggered):
    tried = 0
    for holes in (3, 4, 6, 8):
        for hole_m in (1.5e-3, 2.5e-3, 3e-3, 3.5e-3, 4e-3):
            for web_m in (0.3e-3, 1e-3, 4e-3):
                p = Pattern(12e-3, 10.6e-3, holes, hole_m, rings, hole_m + web_m, staggered)
                if web_at_bore(p) > 0 and hb.in_closed_form(p):
                    assert hb.closed_form(p) == pytest.approx(solve_wall(p, 64).extra_m, rel=1.2e-2), p
                    tried += 1
    assert tried > 20


def test_the_slice_by_slice_estimate_is_a_lower_bound_and_the_smallest_section_promises_too_much():
    for a in PATTERNS.values():
        p = Pattern(*a)
        assert hb.by_planes(p) < solved_extra(p)
    dense = Pattern(*PATTERNS["two staggered rings of 6 x 4"])
    assert hb.by_smallest_section(dense) > 1.5 * solved_extra(dense)


def test_slice_by_slice_is_the_isotherm_formula_for_a_flat_row():
    """1/g = 1 - s - pi/2 + 2/sqrt(1 - s^2) atan(sqrt((1 + s)/(1 - s))) over one pitch of a flat plate; own
    derivation."""
    s = 0.6
    one_over_g = 1 - s - np.pi / 2 + 2 / np.sqrt(1 - s**2) * np.arctan(np.sqrt((1 + s) / (1 - s)))
    assert hb.by_planes(flat(s, 1, 1.0, True)) == pytest.approx(5e-3 * (one_over_g - 1), rel=1e-3)


def test_far_rings_add_up_and_staggered_beats_aligned():
    one = hb.closed_form(Pattern(10e-3, 8.8e-3, 5, 3e-3))
    far = [hb.closed_form(Pattern(10e-3, 8.8e-3, 5, 3e-3, 2, 30e-3, s)) for s in (True, False)]
    near = [hb.closed_form(Pattern(10e-3, 8.8e-3, 5, 3e-3, 2, 4e-3, s)) for s in (True, False)]
    assert far == pytest.approx([2 * one, 2 * one], rel=1e-6)
    assert near[0] > 2 * one > near[1]


def test_heat_flow_lines_hold_all_the_heat():
    wall = solve_wall(Pattern(*PATTERNS["two staggered rings of 6 x 4"]))
    assert np.allclose(wall.stream[-1], 1.0, atol=1e-9) and np.allclose(wall.stream[0], 0.0)
    assert np.all(np.diff(wall.stream, axis=0) > -1e-9)
    assert np.nanmin(wall.rise) > 0 and np.nanmax(wall.rise) < 1


def test_the_outline_is_the_hole():
    p = Pattern(10e-3, 8.8e-3, 3, 3e-3, slot_m=2e-3)
    y, z = outline(p)
    assert np.ptp(z) == pytest.approx(3e-3, rel=5e-3)
    assert np.ptp(y) == pytest.approx(sizes_of(p)[1], rel=5e-3)


@pytest.mark.parametrize(
    "pattern, told",
    [
        (Pattern(10e-3, 8e-3, 8, 3.5e-3), "At most 6 fit"),
        (Pattern(10e-3, 8e-3, 12, 3.5e-3), "more than one turn"),
        (Pattern(10e-3, 8e-3, 4, 8.5e-3), "as wide as the bore"),
        (Pattern(10e-3, 8e-3, 4, 3e-3, 2, 2.5e-3, False), "run into each other"),
        (Pattern(10e-3, 8e-3, 0, 3e-3), "at least"),
        (Pattern(10e-3, 8e-3, 3, 3e-3, slot_m=6e-3), "no web is left"),
    ],
)
def test_holes_that_cannot_be_drilled_are_refused(pattern, told):
    with pytest.raises(Fault, match=told):
        refuse_bad_pattern(pattern)


def test_a_break_longer_than_its_tube_says_how_many_rings_fit():
    with pytest.raises(Fault, match="At most 3 rings fit"):
        refuse_bad_pattern(Pattern(10e-3, 8e-3, 4, 3e-3, 6, 5e-3), room_m=14e-3)


def test_the_count_that_fits_is_the_count_that_passes():
    for hole_m in (1e-3, 2e-3, 3.3e-3, 5e-3):
        fit = fitting_holes(Pattern(10e-3, 8e-3, 1, hole_m))
        refuse_bad_pattern(Pattern(10e-3, 8e-3, fit, hole_m))
        with pytest.raises(Fault):
            refuse_bad_pattern(Pattern(10e-3, 8e-3, fit + 1, hole_m))
