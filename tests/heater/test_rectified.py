"""Rectified supplies: what a meter shows, what the heater feels, what the winding carries; against integrals, stepping
in time and the curves of Schade.
"""

import numpy as np
import pytest
from scipy.integrate import quad

from benchcalc.heater import rectified


@pytest.mark.parametrize("rectifier", ["half", "bridge"])
@pytest.mark.parametrize("winding_v", [4.0, 9.0, 24.0, 60.0])
def test_the_winding_behind_a_mean_reading_is_found_again_and_the_form_is_that_of_the_integral(rectifier, winding_v):
    drop_v = 1.8 if rectifier == "bridge" else 0.9

    def wave(x):
        up = np.sqrt(2) * winding_v * np.sin(x)
        return max((abs(up) if rectifier == "bridge" else up) - drop_v, 0.0)

    # scipy.integrate.quad over a period
    points = [np.pi, *(np.arcsin(drop_v / np.sqrt(2) / winding_v) + k * np.pi for k in (0, 1))]
    mean = quad(wave, 0, 2 * np.pi, points=points, limit=200)[0] / 2 / np.pi
    rms = np.sqrt(quad(lambda x: wave(x) ** 2, 0, 2 * np.pi, points=points, limit=200)[0] / 2 / np.pi)
    assert rectified.winding_volts(rectifier, mean) == pytest.approx(winding_v, rel=1e-3)
    assert rectified.form_factor(rectifier, mean) == pytest.approx(rms / mean, rel=1e-3)


def test_smooth_and_alternating_readings_stand_as_they_are():
    assert rectified.winding_volts("none", 18.0) == 18.0 and rectified.form_factor("none", 18.0) == 1.0
    assert rectified.winding_volts("bridge with capacitor", 24.0) == pytest.approx((24 + 1.8) / np.sqrt(2))


@pytest.mark.parametrize("held", [0.6, 0.75, 0.9])
def test_the_winding_charges_a_large_capacitor_in_bursts(held):
    # scipy.integrate.quad of the burst (cos x - held) between its two ends, load current its mean
    end = np.arccos(held)
    mean = quad(lambda x: np.cos(x) - held, -end, end)[0] / np.pi
    square = quad(lambda x: (np.cos(x) - held) ** 2, -end, end)[0] / np.pi
    assert rectified.winding_factor("bridge with capacitor", held) == pytest.approx(np.sqrt(square) / mean, rel=1e-9)
    assert rectified.winding_factor("bridge", held) == 1.0
