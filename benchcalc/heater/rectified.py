"""Rectified supplies: what a meter reads, and what the watts really are.

A heater feels the root mean square; a meter on its direct range shows the mean.  Plain diodes,
resistive load, 50 or 60 Hz.
"""

from dataclasses import dataclass

import numpy as np

from ..basics.fault import closest, fault

CIRCUITS = ("bridge", "half wave")
RECTIFIERS = ("none", "half", "bridge", "bridge with capacitor")  # what may stand between a winding and what is read
DIODE_V = 0.9  # one silicon diode under some amps: 0.7 to 1.0 (common practice, no source)


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


@dataclass(frozen=True)
class Behind:
    """What a rectifier gives into a resistive load, settled.

    mean_v, rms_v, ripple_v: across the load, V; ripple peak to peak. winding_a: root mean square in the winding, A.
    bias_a: mean in the winding, A: one-way current that pushes the iron to one side, 0 for a bridge.
    """

    mean_v: float
    rms_v: float
    ripple_v: float
    winding_a: float
    bias_a: float


STEPS = 1000  # of a period


def behind(circuit, feed, load_ohm, capacitor_f=0.0, *, frequency_hz=50.0, diode_v=DIODE_V):
    """What reaches a resistive load behind a rectifier, with the source's own resistance in the way.

    circuit: "bridge" or "half wave". feed: (no-load volts of the winding, rms, above 0; source resistance in ohm, 0
    allowed). load_ohm: heater, above 0. capacitor_f: farad across it, 0 for none. frequency_hz: 50 or 60. diode_v: drop
    of one diode; two in a bridge.
    Returns Behind, by stepping through a period that ends where it began.  Leakage field of the winding left out: it
    widens the bursts and lowers the winding's current.
    Equation: C dU/dt = max(e - U, 0)/Rs - U/R, with e the rectified sine less the drops; without capacitor U = e R/(R +
    Rs).  Circuit and curves: O. H. Schade, Analysis of Rectifier Operation, Proc. IRE 31 (1943) 341.
    """
    _known(circuit)
    open_v, source_ohm = feed
    phase = (np.arange(STEPS) + 0.5) / STEPS * 2 * np.pi
    sine = np.sqrt(2) * open_v * np.sin(phase)
    wave = np.maximum((np.abs(sine) if circuit == "bridge" else sine) - diode_v * (1 + (circuit == "bridge")), 0.0)
    if capacitor_f == 0:
        out = wave * load_ohm / (load_ohm + source_ohm)
        winding = out / load_ohm
    else:
        step_s = 1 / (STEPS * frequency_hz)
        out = _settled_period(wave, step_s, max(source_ohm, 1e-6 * load_ohm), load_ohm, capacitor_f)
        charge = capacitor_f * np.diff(out, prepend=out[-1]) / step_s
        winding = np.maximum(charge + out / load_ohm, 0.0)
        winding[wave == 0] = 0.0
    bias = 0.0 if circuit == "bridge" else winding.mean()
    rms = [float(np.sqrt((x**2).mean())) for x in (out, winding)]
    return Behind(float(out.mean()), rms[0], float(np.ptp(out)), rms[1], float(bias))


def _settled_period(wave, step_s, source_ohm, load_ohm, capacitor_f):
    """Volts on the capacitor at the end of each step of a period that ends where it began."""
    rest = np.exp(-step_s / (load_ohm * capacitor_f))
    charging = np.exp(-step_s / capacitor_f * (1 / source_ohm + 1 / load_ohm))
    share = load_ohm / (load_ohm + source_ohm)

    def run(level):
        followed = []
        for top in wave.tolist():
            level = (level - top * share) * charging + top * share if top > level else level * rest
            followed.append(level)
        return followed

    low, high = 0.0, float(wave.max())
    while high - low > 1e-6 * wave.max():  # the end of a period rises less than its start: one crossing
        middle = (low + high) / 2
        end = run(middle)[-1]
        low, high = (middle, high) if end > middle else (low, middle)
    return np.array(run((low + high) / 2))


def winding_volts(rectifier, direct_v, diode_v=DIODE_V):
    """The alternating volts, rms, of the winding behind direct volts that a meter shows (the mean).

    rectifier: one of RECTIFIERS. direct_v: reading on the direct range, V, above 0, float or array; with a capacitor:
    without load. diode_v: drop of one diode; two in a bridge.
    Returns V rms; the reading itself for "none".  Without load a diode drops less than under load: the answer is high.
    Equation: mean of the rectified sine less the drops, 2/pi (cos a - (pi/2 - a) sin a) of its peak, with sin a the
    drops over the peak (half of it for one diode); with a capacitor without load, the peak less the drops.
    """
    direct_v = np.asarray(direct_v, float)
    if rectifier in (None, "none"):
        return direct_v
    if rectifier == "bridge with capacitor":
        return (direct_v + 2 * diode_v) / np.sqrt(2)
    drop_v, mean, _ = _conducting(rectifier, diode_v)
    share = _share_of_peak(direct_v, drop_v, mean)
    return drop_v / share / np.sqrt(2)


def form_factor(rectifier, direct_v, diode_v=DIODE_V):
    """What a heater feels (root mean square) over what a meter's direct range shows (mean), without a capacitor.

    rectifier, direct_v, diode_v: as winding_volts.
    Returns ratio: 1.11 for a bridge and 1.57 for a half wave of many volts, more where the diodes take their share;
    1 for the others.
    Equation: root of the mean square of the rectified sine less the drops, over its mean.
    """
    direct_v = np.asarray(direct_v, float)
    if rectifier not in ("half", "bridge"):
        return np.ones_like(direct_v)
    drop_v, mean, rms = _conducting(rectifier, diode_v)
    share = _share_of_peak(direct_v, drop_v, mean)
    return np.interp(share, SHARES, rms / mean)


SHARES = np.geomspace(1e-4, 0.98, 2000)  # drops of the diodes over the peak of the winding


def _share_of_peak(direct_v, drop_v, mean):
    """Drops over peak for a mean reading: the mean over the drops falls steadily as that share grows."""
    in_drops = np.maximum(direct_v / drop_v, 1e-9)
    return np.exp(np.interp(-np.log(in_drops), -np.log(mean / SHARES), np.log(SHARES)))


def _conducting(rectifier, diode_v):
    """Drops in V, and over SHARES the mean and root mean square of the rectified wave as shares of the peak."""
    drop_v, ways = (2 * diode_v, 1.0) if rectifier == "bridge" else (diode_v, 0.5)
    start = np.arcsin(SHARES)
    left = np.pi / 2 - start
    mean = 2 / np.pi * (np.cos(start) - left * SHARES)
    square = 2 / np.pi * (left / 2 + np.sin(2 * start) / 4 - 2 * SHARES * np.cos(start) + SHARES**2 * left)
    return drop_v, ways * mean, np.sqrt(ways * square)


def winding_factor(rectifier, volts_held):
    """Root mean square amps in the winding over the direct amps of the load.

    rectifier: one of RECTIFIERS. volts_held: volts under load over volts without, 0.02-0.999, float or array.
    Returns ratio: 1 without a capacitor, where load and winding carry the same current (told as r.m.s.); with a large
    capacitor about 1.4 to 3, since the winding charges it in short bursts.  A small capacitor makes less.
    Equation: conduction angle a with cos a = volts_held; mean 2 (sin a - a cos a), mean square a (1 + 2 cos^2 a) -
    3 sin a cos a, both over pi: O. H. Schade, Analysis of Rectifier Operation, Proc. IRE 31 (1943) 341, limit of a
    large capacitor.
    """
    held = np.clip(np.asarray(volts_held, float), 0.02, 0.999)
    if rectifier != "bridge with capacitor":
        return np.ones_like(held)
    angle = np.arccos(held)
    mean = 2 / np.pi * (np.sin(angle) - angle * held)
    square = (angle * (1 + 2 * held**2) - 3 * np.sin(angle) * held) / np.pi
    return np.sqrt(square) / mean


def winding_ohms(open_v, load_v, load_a):
    """The winding's own ohms behind a bridge with a large capacitor, from one reading with a load.

    open_v: direct volts without load. load_v, load_a: with a load, V (below open_v) and A, above 0.
    Returns ohm: far less than the volts lost for each ampere, since the winding feeds the capacitor for a short part of
    the time.  The highest it can be: a small capacitor sags by itself, and leaves less for the winding.
    Equation: mean of the bursts, I = 2 U0 (sin a - a cos a)/(pi R) with cos a = U/U0: O. H. Schade, Analysis of
    Rectifier Operation, Proc. IRE 31 (1943) 341, limit of a large capacitor.
    """
    held = np.clip(np.asarray(load_v, float) / open_v, 0.0, 1.0)
    angle = np.arccos(held)
    return 2 * np.asarray(open_v, float) * (np.sin(angle) - angle * held) / (np.pi * np.asarray(load_a, float))


def shorted_volts(winding_v, diode_v=DIODE_V):
    """What drives the current into a dead short behind a bridge, once a capacitor is empty.

    winding_v: of the winding, V rms, well above two drops. diode_v: drop of one diode.
    Returns V rms.
    Equation: root of the mean square of |e| - d, V^2 - (4 sqrt 2/pi) V d + d^2, d both drops; its ends near zero left
    out.
    """
    drop_v = 2 * diode_v
    return np.sqrt(winding_v**2 - 4 * np.sqrt(2) / np.pi * winding_v * drop_v + drop_v**2)


def _known(circuit):
    if circuit not in CIRCUITS:
        raise fault("rectifier", circuit, "is no circuit here.", closest(circuit, CIRCUITS))
