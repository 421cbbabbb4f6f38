"""Sensors against published tables and an open library."""

import numpy as np
import pytest
import thermocouples

from benchcalc.basics.fault import Fault
from benchcalc.materials.sensors import pt100_ohms, pt100_temp, tolerance, type_k_temp, type_k_voltage

LIBRARY = thermocouples.get_thermocouple("K")


@pytest.mark.parametrize("temp_c", [-190.0, -20.0, 0.0, 21.0, 137.0, 400.0, 725.0, 1000.0, 1370.0])
def test_type_k_is_that_of_the_open_library(temp_c):
    assert type_k_voltage(temp_c) == pytest.approx(LIBRARY.temp_to_volt(temp_c), abs=1e-8)


def test_a_bead_is_read_with_its_other_end_in_the_room():
    for temp_c in (30.0, 250.0, 600.0):
        seen_v = LIBRARY.temp_to_volt(temp_c) - LIBRARY.temp_to_volt(23.0)
        assert type_k_temp(seen_v, 23.0) == pytest.approx(temp_c, abs=0.01)
        assert type_k_temp(seen_v) < temp_c - 20  # forgotten: it reads low by about the room


def test_there_and_back():
    temps = np.linspace(-199, 849, 700)
    assert type_k_temp(type_k_voltage(temps)) == pytest.approx(temps, abs=0.01)
    assert pt100_temp(pt100_ohms(temps)) == pytest.approx(temps, abs=0.01)
    assert pt100_temp(pt100_ohms(300.0, 1000.0), 1000.0) == pytest.approx(300.0, abs=0.01)


def test_outside_its_range_a_sensor_says_nothing():
    assert np.isnan(type_k_voltage(1400.0)) and np.isnan(type_k_temp(0.06)) and np.isnan(pt100_temp(500.0))
    assert np.isnan(tolerance("type K", "3", 300.0).half_k)


def test_an_unknown_class_lists_the_near_ones():
    with pytest.raises(Fault, match="type K class 2"):
        tolerance("type K", "5", 100.0)
