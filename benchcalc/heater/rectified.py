"""Rectified supplies: what a meter reads, and what the watts really are.

A heater feels the root mean square; a meter on its direct range shows the mean.  Plain diodes,
resistive load, 50 or 60 Hz.
"""

import numpy as np

from ..basics.fault import closest, fault

CIRCUITS = ("bridge", "half wave")
AVERAGING_METER = np.pi / (2 * np.sqrt(2))  # scale of an averaging meter's alternating range (form factor of a sine)


def rms_and_mean(circuit, input_v):
    """Root mean square and mean of an unsmoothed rectified voltage, diodes left out.

    circuit: "bridge" or "half wave". input_v: alternating input, rms, above 0.
    Returns (rms_v, mean_v).
    Equation: integrals of |sin| over a period, e.g. Horowitz and Hill, The Art of Electronics, rectifiers.
    """
    _known(circuit)
    peak_v = np.sqrt(2) * input_v
    if circuit == "bridge":
        return peak_v / np.sqrt(2), 2 * peak_v / np.pi
    return peak_v / 2, peak_v / np.pi


def true_share(circuit):
    """Watts that a mean reading shows, as a share of the real ones, without a capacitor.

    circuit: "bridge" or "half wave".
    Returns ratio: 0.81 for a bridge, 0.41 for a half wave.
    """
    rms_v, mean_v = rms_and_mean(circuit, 1.0)
    return (mean_v / rms_v) ** 2


def smoothed(circuit, input_v, capacitor_f, load_ohm, frequency_hz=50.0, diode_v=0.9):
    """Mean, root mean square and ripple across a resistive load with a capacitor.

    circuit: "bridge" or "half wave". input_v: rms under load. capacitor_f: farad, 0 allowed (none).
    load_ohm: heater. frequency_hz: 50 or 60. diode_v: drop of one diode (two in a bridge).
    Returns (mean_v, rms_v, ripple_v peak to peak), by stepping through one settled period.
    Assumes a source without resistance: a real one is lower, so measure under load.
    Equation: the capacitor follows the rectified wave and else discharges through the load, dU/dt = -U/(R C).
    """
    _known(circuit)
    steps = 4000
    phase = np.arange(2 * steps) / steps * 2 * np.pi
    drops = 2 * diode_v if circuit == "bridge" else diode_v
    wave = np.sqrt(2) * input_v * np.sin(phase)
    wave = np.maximum((np.abs(wave) if circuit == "bridge" else wave) - drops, 0.0)
    if capacitor_f == 0:
        out = wave[steps:]
    else:
        decay = np.exp(-1 / (steps * frequency_hz * load_ohm * capacitor_f))
        level, followed = wave.max(), np.empty_like(wave)
        for i, top in enumerate(wave):
            level = max(top, level * decay)
            followed[i] = level
        out = followed[steps:]
    return float(out.mean()), float(np.sqrt((out**2).mean())), float(np.ptp(out))


def _known(circuit):
    if circuit not in CIRCUITS:
        raise fault("rectifier", circuit, "is no circuit here.", closest(circuit, CIRCUITS))
