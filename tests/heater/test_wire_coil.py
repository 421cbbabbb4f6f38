"""Wire and coil: units, helix length by integration, turns, layers, the smallest former."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from benchcalc.heater import coil as c
from benchcalc.heater import wire as w

WIRE = st.floats(0.05e-3, 2e-3)
FORMER = st.floats(3e-3, 60e-3)
LENGTH = st.floats(0.05, 20)


def test_wire_by_hand():
    # 1 mm wire of 1 microohm m: area pi/4 mm2, 4/pi ohm/m; 2 m cold 2.546 ohm, hot at 1.05 2.674 ohm.
    # 20 W on pi mm x 2 m = 62.83 cm2: 0.3183 W/cm2 = 3183 W/m2.
    r = w.linear_resistance(1e-6, w.round_area(1e-3))
    assert r == pytest.approx(4 / np.pi, rel=1e-12)
    assert w.hot_resistance(w.cold_resistance(r, 2.0), 1.05) == pytest.approx(2.6738, rel=1e-4)
    assert w.surface_load(20.0, w.round_edge(1e-3), 2.0) == pytest.approx(3183.1, rel=1e-4)
    assert w.measured_linear(5.3, 0.3, 2.0) == 2.5
    # ribbon 1 mm x 0.1 mm: 0.1 mm2 and 2.2 mm round
    assert w.ribbon_area(1e-3, 0.1e-3) == pytest.approx(1e-7) and w.ribbon_edge(1e-3, 0.1e-3) == pytest.approx(2.2e-3)


def test_units_are_si_all_the_way():
    # surface load by the trade's own units: W/cm2 from mm and m (1 W/cm2 = 10 000 W/m2)
    watts, d_mm, metres = 20.0, 0.28, 0.733
    w_cm2 = watts / (np.pi * d_mm / 10 * metres * 100)
    assert w.surface_load(watts, w.round_edge(d_mm / 1000), metres) == pytest.approx(w_cm2 * 1e4, rel=1e-12)
    # ohms per metre by the trade's: ohm mm2/m over mm2
    assert w.linear_resistance(1.09e-6, w.round_area(d_mm / 1000)) == pytest.approx(
        1.09 / (np.pi * d_mm**2 / 4), rel=1e-12
    )


@given(LENGTH, WIRE, st.floats(1.0, 1.2), st.floats(1e-7, 2e-6))
def test_length_and_resistance_undo_each_other(length_m, diameter_m, factor, resistivity_ohm_m):
    r = w.linear_resistance(resistivity_ohm_m, w.round_area(diameter_m))
    hot = w.hot_resistance(w.cold_resistance(r, length_m), factor)
    assert w.length_for(hot, factor, r) == pytest.approx(length_m, rel=1e-12)


@given(st.floats(1e-3, 0.1), st.floats(1e-4, 0.05))
def test_turn_length_equals_the_length_of_the_curve(mean_m, pitch_m):
    # scipy.integrate.quad over the speed of (D/2 cos t, D/2 sin t, p t / 2 pi), the tangent by differences
    def place(t):
        return np.array([mean_m / 2 * np.cos(t), mean_m / 2 * np.sin(t), pitch_m * t / (2 * np.pi)])

    def speed(t, h=1e-4):
        return np.linalg.norm(place(t + h) - place(t - h)) / (2 * h)

    curve_m, _ = quad(speed, 0, 2 * np.pi, epsrel=1e-9)
    assert c.turn_length(mean_m, pitch_m) == pytest.approx(curve_m, rel=1e-6)


@given(LENGTH, FORMER, WIRE, st.floats(0.01, 0.2), st.integers(1, 4))
def test_pitch_to_fill_fills_the_room(length_m, former_m, diameter_m, room_m, layers):
    mean = c.mean_diameter(former_m, diameter_m, layers)
    pitch = c.pitch_to_fill(length_m, mean, room_m, diameter_m, layers)
    if length_m <= layers * (room_m - diameter_m):
        assert np.isinf(pitch)
    else:
        turns = c.number_of_turns(length_m, c.turn_length(mean, pitch))
        assert c.winding_length(turns, pitch, diameter_m, layers) == pytest.approx(room_m, rel=1e-6)


def test_no_room_has_no_pitch():
    assert np.isnan(c.pitch_to_fill(1.0, 6e-3, -0.01, 0.3e-3))
    assert np.isnan(c.pitch_to_fill(1.0, 6e-3, 0.3e-3, 0.3e-3))


@given(FORMER, WIRE, st.integers(1, 6), st.integers(1, 80), st.floats(0, 1e-3))
def test_layers_in_closed_form_equal_the_layers_summed(former_m, diameter_m, layers, each, between_m):
    steps = [former_m + diameter_m + 2 * i * (diameter_m + between_m) for i in range(layers)]
    mean = c.mean_diameter(former_m, diameter_m, layers, between_m)
    flat_m = sum(each * np.pi * d for d in steps)
    assert layers * each * c.turn_length(mean, 0.0) == pytest.approx(flat_m, rel=1e-12)
    # with a pitch of two wire diameters the mean turn stands for all to better than 1 %
    pitch = 2 * diameter_m
    helix_m = sum(each * np.hypot(np.pi * d, pitch) for d in steps)
    assert layers * each * c.turn_length(mean, pitch) == pytest.approx(helix_m, rel=0.01)
    assert layers * each * c.turn_length(mean, pitch) <= helix_m * (1 + 1e-12)


@given(LENGTH, WIRE, st.floats(0.01, 0.2), st.integers(1, 4), st.floats(1.0, 3.0))
def test_the_smallest_former_fits_exactly(length_m, diameter_m, room_m, layers, spread):
    pitch = spread * diameter_m
    former = c.smallest_former(length_m, diameter_m, room_m - diameter_m, pitch, 5.0, layers)
    assert former >= 5 * diameter_m * (1 - 1e-12)

    def winding(former_m):
        turn = c.turn_length(c.mean_diameter(former_m, diameter_m, layers), pitch)
        return c.winding_length(c.number_of_turns(length_m, turn), pitch, diameter_m, layers)

    assert winding(former) <= room_m * (1 + 1e-9)
    if former > 5 * diameter_m * 1.001:  # not held up by the bend: one per cent less is too small
        assert winding(former) == pytest.approx(room_m, rel=1e-6)
        assert winding(0.99 * former) > room_m


def test_no_room_for_one_turn_has_no_former():
    assert c.smallest_former(1.0, 0.3e-3, 0.2e-3 - 0.3e-3, 0.6e-3, 5.0) == np.inf


def test_ends_anchors_and_cut_by_hand():
    # 50 mm former, 3 mm free and 2 close turns of 0.28 mm at each end: 50 - 2 (3 + 0.56) = 42.88 mm
    assert c.room_for(50e-3, 3e-3, 2, 0.28e-3) == pytest.approx(42.88e-3, rel=1e-12)
    # anchors: 4 turns of pi x 6.78 mm = 85.2 mm; cut: 733 + 85.2 + 2 x 100 mm
    anchor = c.anchor_wire(2, 6.78e-3)
    assert anchor == pytest.approx(85.2e-3, rel=1e-3)
    assert c.wire_to_cut(0.733, anchor, 0.1) == pytest.approx(1.0182, rel=1e-4)
    assert c.turn_gap(1.16e-3, 0.28e-3) == pytest.approx(0.88e-3)
    assert c.turn_resistance(13.0, 26.0) == 0.5


@given(LENGTH, st.floats(0.1, 30), st.floats(0.01, 50))
def test_touching_turns_lower_the_reading_by_one_turn_each(length_m, linear_ohm_per_m, turns):
    cold = w.cold_resistance(linear_ohm_per_m, length_m)
    assert c.turn_resistance(cold, turns) * turns == pytest.approx(cold, rel=1e-12)


def test_one_per_cent_of_ohms_is_the_slope_of_the_power_curve():
    """Against a numerical derivative of the whole circuit's power (scipy.optimize.approx_fprime)."""
    from scipy.optimize import approx_fprime

    from benchcalc.heater.coil import watts_by_percent

    for open_v, source_ohm, hot_ohm in ((18.2, 1.4, 13.5), (12.0, 4.0, 4.0), (12.0, 4.0, 1.0)):

        def power(ohm, u=open_v, s=source_ohm):
            return float((u / (s + ohm[0])) ** 2 * ohm[0])

        slope = approx_fprime([hot_ohm], power, 1e-6)[0]
        assert watts_by_percent(power([hot_ohm]), hot_ohm, source_ohm) == pytest.approx(
            0.01 * hot_ohm * slope, rel=1e-4, abs=1e-6
        )
