"""A long bare wire from current or volts, and its cooled ends, against a maker's table and the network."""

import csv
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchcalc.materials.alloys import hot_factor
from benchcalc.materials.gauges import diameter_of
from benchcalc.show.page.worked import is_straight
from benchcalc.thermal.surfaces import bare_wire
from benchcalc.thermal.surfaces.bare_wire import (
    STILL_AIR,
    Feed,
    Surroundings,
    cooled_length,
    heat_shed,
    long_wire_temp,
    loss_coefficient,
    wire_heat,
)
from benchcalc.thermal.surfaces.fins import reach_of
from benchcalc.thermal.surfaces.stretched_wire import current_for, stretched_wire

D, RHO, ALLOY = 0.4e-3, 1.09e-6, "nicr-80-20"
LINEAR = RHO / (np.pi * D**2 / 4)
TABLE = list(
    csv.DictReader(line for line in (Path(__file__).parent / "wire_current.csv").open() if not line.startswith("#"))
)
SIZES, TEMPS, AMPS = (
    np.array(c)
    for c in zip(*((diameter_of(r["gauge"]), float(r["wire_temp_c"]), float(r["current_a"])) for r in TABLE))
)


def test_all_170_published_points_read_backwards():
    """Temperature from the maker's current, 400 to 1000 degC: it lies between ours at 15 % less and 15 % more current,
    and the mean between ours at 5 % less and more.  At 200, 300 and 1100 degC only the current is tested (below), since
    the maker's air is not stated and counts most on a cool wire, and 1100 is near the end of the alloy's service."""

    def ours(share):
        return long_wire_temp(SIZES, RHO / (np.pi * SIZES**2 / 4), ALLOY, Feed(share * AMPS), STILL_AIR)

    middle = (TEMPS >= 400) & (TEMPS <= 1000)
    cold, found, hot = ours(0.85), ours(1.0), ours(1.15)
    assert middle.sum() > 100 and not np.isnan(cold[middle]).any()
    assert np.all(cold[middle] < TEMPS[middle]) and np.all((hot > TEMPS)[middle] | np.isnan(hot[middle]))
    assert ours(0.95)[middle].mean() < TEMPS[middle].mean() < ours(1.05)[middle].mean()
    for d in np.unique(SIZES):
        one = d == SIZES
        assert np.all(np.diff(found[one][np.argsort(TEMPS[one])]) > 0)


def test_all_170_published_currents():
    """Every point of the maker's table, 200 to 1100 degC, within 15 % of the current."""
    assert len(TABLE) == 170
    ours = current_for(TEMPS, SIZES, RHO / (np.pi * SIZES**2 / 4), hot_factor(ALLOY, TEMPS))
    assert np.all(np.abs(ours / AMPS - 1) < 0.15)


@pytest.mark.parametrize("temp_c", [60.0, 306.0, 700.0, 1100.0])
def test_current_and_temperature_are_each_others_inverse(temp_c):
    amps = current_for(temp_c, D, LINEAR, hot_factor(ALLOY, temp_c))
    assert long_wire_temp(D, LINEAR, ALLOY, Feed(amps), STILL_AIR) == pytest.approx(temp_c, abs=0.01)


def test_volts_with_a_sagging_supply_close_the_loop():
    temp_c = long_wire_temp(D, LINEAR, ALLOY, Feed(load_v=9.0, length_m=0.5, source_ohm=0.4))
    amps = 9.0 / (0.4 + 0.5 * LINEAR * hot_factor(ALLOY, temp_c))
    made = wire_heat(amps, LINEAR, hot_factor(ALLOY, temp_c))
    assert made == pytest.approx(sum(heat_shed(temp_c, D)), rel=1e-6)
    assert long_wire_temp(D, LINEAR, ALLOY, Feed(amps)) == pytest.approx(temp_c, abs=1e-3)


def test_many_equal_single_and_too_hot_is_not_a_number():
    amps = np.array([0.5, 2.0, 4.0, 40.0])
    many = long_wire_temp(D, LINEAR, ALLOY, Feed(amps))
    assert np.isnan(many[-1]) and np.isnan(long_wire_temp(D, LINEAR, ALLOY, Feed(40.0)))
    for a, t in zip(amps[:-1], many):
        assert long_wire_temp(D, LINEAR, ALLOY, Feed(float(a))) == pytest.approx(t, abs=1e-9)
    with pytest.raises(TypeError):
        Feed()
    with pytest.raises(TypeError):
        Feed(load_v=5.0)


@settings(max_examples=60, deadline=None)
@given(st.floats(0.05e-3, 2e-3), st.floats(0.0, 3.0), st.sampled_from(["lying", "tip up"]), st.floats(0.3, 1.0))
def test_more_current_is_hotter_and_moving_air_cooler(d, speed, attitude, emissivity):
    linear = RHO / (np.pi * d**2 / 4)
    amps = current_for(500.0, d, linear, 1.04, Surroundings(emissivity)) * np.array([0.3, 0.6, 1.0])
    air = {"emissivity": emissivity, "attitude": attitude}
    still = long_wire_temp(d, linear, ALLOY, Feed(amps), Surroundings(**air))
    moved = long_wire_temp(d, linear, ALLOY, Feed(amps), Surroundings(air_speed_m_s=speed, **air))
    assert np.all(np.diff(still) > 0) and np.all(moved <= still + 1e-6)


@settings(max_examples=60, deadline=None)
@given(st.floats(0.02e-3, 0.05), st.floats(0.0, 2.0), st.sampled_from(["lying", "tip up"]))
def test_loss_rises_with_temperature_without_a_jump(d, speed, attitude):
    temps = np.linspace(20.0, 1400.0, 1381)
    shed = sum(heat_shed(temps, d, Surroundings(air_speed_m_s=speed, attitude=attitude)))
    assert np.all(np.diff(shed) > 0)
    late = temps[1:] > 40.0
    assert np.max((np.diff(shed) / shed[1:])[late]) < 0.10


def test_morgan_joins_within_one_per_cent():
    from benchcalc.thermal.surfaces.surface_loss import nusselt_morgan

    for edge in (1e-2, 1e2, 1e4, 1e7):
        assert nusselt_morgan(edge * (1 + 1e-9)) == pytest.approx(nusselt_morgan(edge * (1 - 1e-9)), rel=0.01)


@pytest.mark.parametrize("length_m, within", [(0.02, 0.05), (0.03, 0.03), (0.06, 0.01)])
def test_middle_of_a_short_wire_against_the_network(length_m, within):
    """A fin with heat made inside, between clamps as cold as the room: its middle rises by 1 - 1/cosh(L / 2 reach) of a
    long wire's; Carslaw and Jaeger, Conduction of Heat in Solids, 2nd ed., section 4.10 (from memory)."""
    temp_c = long_wire_temp(D, LINEAR, ALLOY, Feed(3.0))
    reach = reach_of(13.0, np.pi * D**2 / 4, loss_coefficient(temp_c, D), np.pi * D)
    watts = wire_heat(3.0, LINEAR, hot_factor(ALLOY, temp_c)) * length_m
    full = stretched_wire(length_m, D, watts, conductivity_w_mk=13.0, around=STILL_AIR)[1].max() - 20.0
    assert (temp_c - 20.0) * (1 - 1 / np.cosh(length_m / (2 * reach))) == pytest.approx(full, rel=within)


def test_cooled_length_is_on_the_safe_side_of_the_network():
    """True loss grows faster than the rise, so the wire is full sooner than the straight-line form says."""
    temp_c = long_wire_temp(D, LINEAR, ALLOY, Feed(3.0))
    reach = reach_of(13.0, np.pi * D**2 / 4, loss_coefficient(temp_c, D), np.pi * D)
    watts = wire_heat(3.0, LINEAR, hot_factor(ALLOY, temp_c)) * 0.06
    x, t = stretched_wire(0.06, D, watts, conductivity_w_mk=13.0, around=STILL_AIR)
    true = np.interp(20.0 + 0.98 * (temp_c - 20.0), t[:30], x[:30])
    assert 0.4 * cooled_length(reach) < true < cooled_length(reach)


def test_derivable():
    assert all(is_straight(f) for f in (bare_wire.wire_heat, bare_wire.cooled_length))
