"""Rectified supplies: what a meter shows, what the heater feels, what the winding carries; against integrals, stepping
in time and the curves of Schade.
"""

import numpy as np
import pytest
from scipy.integrate import quad, solve_ivp

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


@pytest.mark.parametrize("circuit, frequency_hz", [("bridge", 50.0), ("half wave", 60.0)])
def test_stepping_equals_a_solver_of_differential_equations(circuit, frequency_hz):
    # scipy.integrate.solve_ivp over enough periods to settle; 18.2 V behind 1.3 ohm into 13.4 ohm and 10 mF
    source_ohm, load_ohm, farad, open_v, drops = 1.3, 13.4, 10e-3, 18.2, 1.8 if circuit == "bridge" else 0.9

    def burst(t, volts):
        up = np.sqrt(2) * open_v * np.sin(2 * np.pi * frequency_hz * t)
        return np.maximum((np.abs(up) if circuit == "bridge" else up) - drops - volts, 0.0) / source_ohm

    periods = 25
    far = solve_ivp(
        lambda t, u: (burst(t, u) - u / load_ohm) / farad,
        (0, periods / frequency_hz),
        [18.0],
        max_step=0.01 / frequency_hz,
        dense_output=True,
        rtol=1e-6,
    )
    t = np.linspace(periods - 1, periods, 4001)[:-1] / frequency_hz
    volts = far.sol(t)[0]
    amps = burst(t, volts)
    got = rectified.behind(circuit, (open_v, source_ohm), load_ohm, farad, frequency_hz=frequency_hz)
    assert (got.mean_v, got.rms_v) == pytest.approx((volts.mean(), np.sqrt((volts**2).mean())), rel=2e-3)
    assert got.winding_a == pytest.approx(np.sqrt((amps**2).mean()), rel=5e-3)
    assert got.ripple_v == pytest.approx(np.ptp(volts), rel=0.02)
    assert got.bias_a == pytest.approx(0.0 if circuit == "bridge" else amps.mean(), rel=5e-3)
    assert got.rms_v**2 / load_ohm == pytest.approx((volts**2).mean() / load_ohm, rel=4e-3)
    assert got.rms_v**2 / load_ohm < 0.65 * (np.sqrt(2) * open_v - drops) ** 2 / load_ohm  # a source without ohms


@pytest.mark.parametrize(
    "circuit, source_share, held",
    # volts held over the peak with a large capacitor; Schade, Proc. IRE 31 (1943) 341, figures 3 (half wave) and 4
    # (full wave), read from memory to 2 % of the peak
    [("bridge", 0.01, 0.935), ("bridge", 0.1, 0.75), ("half wave", 0.01, 0.90), ("half wave", 0.1, 0.64)],
)
def test_a_large_capacitor_holds_what_the_curves_of_schade_say(circuit, source_share, held):
    got = rectified.behind(circuit, (10.0, source_share * 100.0), 100.0, 0.01, diode_v=0.0)
    assert got.mean_v / 10 / np.sqrt(2) == pytest.approx(held, abs=0.02)
    if circuit == "bridge":  # the limit of a large capacitor, in closed form
        factor = rectified.winding_factor("bridge with capacitor", got.mean_v / 10 / np.sqrt(2))
        assert got.winding_a == pytest.approx(factor * got.mean_v / 100.0, rel=0.01)


def test_half_a_wave_leaves_the_whole_load_current_in_the_winding_one_way():
    got = rectified.behind("half wave", (12.0, 0.8), 6.0)
    assert got.bias_a == pytest.approx(got.mean_v / 6.0) and got.bias_a / got.winding_a == pytest.approx(
        2 / np.pi, 0.05
    )
    assert rectified.behind("bridge", (12.0, 0.8), 6.0).bias_a == 0.0
