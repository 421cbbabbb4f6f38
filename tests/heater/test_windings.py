"""Windings and taps, lamps as loads, used wire: against sums worked by hand."""

import numpy as np
import pytest

from benchcalc.basics.fault import Fault
from benchcalc.heater.soak import box_rise, rise_at_load
from benchcalc.heater.used_wire import contact_heat, diameter_left
from benchcalc.heater.windings import joined, lamp_current, parallel_line, series_line, windings

# A made-up transformer: primary a-b, secondary c-d-e with a tap, a second one f-g.
TAPPED = {
    ("a", "b"): 60.0,
    ("c", "d"): 0.4,
    ("d", "e"): 0.9,
    ("c", "e"): 1.3,
    ("f", "g"): 0.7,
    ("a", "c"): None,
    ("a", "f"): None,
    ("c", "f"): np.inf,
}


def test_leads_are_sorted_into_windings_and_taps_into_order():
    assert windings(TAPPED) == (("a", "b"), ("c", "d", "e"), ("f", "g"))
    swapped = {("e", "d"): 0.4, ("d", "c"): 0.9, ("e", "c"): 1.3}
    assert windings(swapped) == (("e", "d", "c"),)


def test_readings_that_no_winding_can_have_are_refused():
    with pytest.raises(Fault, match="add up to"):
        windings({("c", "d"): 3.0, ("d", "e"): 3.0, ("c", "e"): 3.5})
    with pytest.raises(Fault, match="not every pair"):
        windings({("c", "d"): 3.0, ("d", "e"): 3.0})
    with pytest.raises(Fault, match="0 or more"):
        windings({("c", "d"): -1.0})


@pytest.mark.parametrize(
    "volts, says",
    [
        ((6.0, 6.0, 12.1), "adding"),
        ((6.0, 6.0, 0.2), "opposing"),
        ((12.0, 5.0, 17.0), "adding"),
        ((12.0, 5.0, 7.1), "opposing"),
        ((6.0, 6.0, 6.0), "neither"),
    ],
)
def test_phase_of_two_windings(volts, says):
    assert joined(*volts) == says


def test_a_lamp_draws_its_rated_current_at_its_rated_volts_and_less_than_half_at_a_quarter():
    assert lamp_current(12.0, 21.0, 12.0) == pytest.approx(1.75)
    # filament lamps: resistance grows as volts^0.45, so a quarter of the volts leaves 0.25^0.55 = 0.466 of the amps
    assert lamp_current(12.0, 21.0, 3.0) / 1.75 == pytest.approx(0.4665, abs=1e-3)


def test_the_bulbs_of_the_wax_pot_demo_are_what_its_readings_say():
    for volts, amps, watts in ((12.35, 0.42, 5), (12.21, 1.76, 21), (11.90, 4.55, 55)):
        assert lamp_current(12.0, watts, volts) == pytest.approx(amps, rel=0.02)


def test_half_the_section_is_seven_tenths_of_the_diameter():
    assert diameter_left(0.5e-3, 2.0) == pytest.approx(0.5e-3 / np.sqrt(2))
    assert diameter_left(0.5e-3, 1.0) == pytest.approx(0.5e-3)
    assert contact_heat(2.0, 0.1) == pytest.approx(0.4)


def test_copper_loss_goes_with_the_square_and_iron_stays():
    assert rise_at_load(60.0, 2.0, 1.0, 0.0) == pytest.approx(15.0)
    assert rise_at_load(60.0, 2.0, 1.0, 1.0) == pytest.approx(60.0)
    assert rise_at_load(60.0, 2.0, 2.0, 0.3) == pytest.approx(60.0)


def test_the_loss_of_a_thin_box_is_that_of_two_still_films():
    """Natural convection and radiation at each face, in series, from the open library ht: a plate of 0.15 m, 20 K
    warmer."""
    from ht import Nu_free_vertical_plate

    beta, nu, pr, k = 1 / 313, 1.7e-5, 0.71, 0.027
    grashof = 9.81 * beta * 10 * 0.15**3 / nu**2  # each film takes half of the 20 K
    film = float(Nu_free_vertical_plate(pr, grashof)) * k / 0.15 + 4 * 0.9 * 5.67e-8 * 308**3
    assert 3 < film / 2 < 8
    assert box_rise(10.0, 0.1) == pytest.approx(20.0)


@pytest.mark.parametrize("ohm", [0.0, 3.0, 61.0, 4e6])
def test_anything_at_all_between_mains_and_low_side_cries_out(ohm):
    bridged = {**TAPPED, ("a", "c"): ohm}
    with pytest.raises(Fault, match=r"DANGER.*a, b \(mains\) and c, d, e \(low side\)") as told:
        windings(bridged, mains=("a", "b"), low=("c", "d", "e", "f", "g"))
    assert "Do not plug it in" in str(told.value)
    assert windings(TAPPED, mains=("a", "b"), low=("c", "d", "e", "f", "g")) == windings(TAPPED)
    with pytest.raises(Fault, match="none of the readings"):
        windings(TAPPED, mains=("z",))


def test_two_windings_joined_are_the_line_that_nodal_analysis_gives():
    """Two sources at one node, solved as linear equations for no load and for 2 A."""
    assert series_line(6.0, 0.5, 9.0, 0.8) == pytest.approx((15.0, 1.3))
    first, second = (12.0, 0.4), (11.8, 0.7)
    open_v, source_ohm, round_a = parallel_line(*first, *second)
    for load_a in (0.0, 2.0):
        # unknowns: node volts, current of each source: U + R1 I1 = U1; U + R2 I2 = U2; I1 + I2 = I
        node, one_a, _ = np.linalg.solve([[1, 0.4, 0], [1, 0, 0.7], [0, 1, 1]], [12.0, 11.8, load_a])
        assert node == pytest.approx(open_v - source_ohm * load_a)
        if load_a == 0:
            assert abs(one_a) == pytest.approx(round_a)
    with pytest.raises(Fault, match="2 % apart"):
        parallel_line(12.0, 0.4, 11.0, 0.4)
