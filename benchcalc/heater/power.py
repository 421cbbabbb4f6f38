"""Turning a heater down: watts, effective and peak amperes of each kind of wave, on a real line.

The heater counts as a plain resistance; the supply as its open-circuit voltage behind a source resistance.
"""

import numpy as np

from ..basics.fault import fault

RATING_OVER, RATING_STEP_W = 1.5, 5.0  # of a resistor: its rating over what it makes, and steps it is told in


def tapped_volts(open_v, power_share):
    """Open-circuit voltage that leaves the coil a share of its watts.

    open_v: open-circuit voltage now. power_share: wanted share of the watts, above 0 to 1.
    Returns tapped_v.  The source resistance is taken as it was; a tap has a little less.
    Equation: watts go with the square of the volts (Joule and Ohm).
    """
    tapped_v = open_v * np.sqrt(power_share)
    return tapped_v


def series_resistor(source_ohm, load_ohm, power_share):
    """Resistor in the line that leaves the coil a share of its watts.

    source_ohm: source resistance. load_ohm: coil, tails and cable. power_share: wanted share, above 0 to 1.
    Returns series_ohm.
    Equation: the current falls with the root of the watts; Ohm's law on the whole circuit.
    """
    total_ohm = source_ohm + load_ohm
    series_ohm = total_ohm * (1 / np.sqrt(power_share) - 1)
    return series_ohm


def resistor_rating(made_w):
    """What a resistor in the line should be rated for, so that it stays well within it.

    made_w: most that it makes, W, above 0.
    Returns W, a whole number of five.
    Rule: at most two thirds of its rating, common practice, no source: at its full rating a wire-wound one is some
    hundred kelvin hotter than the room.
    """
    rating_w = RATING_STEP_W * np.ceil(RATING_OVER * made_w / RATING_STEP_W)
    return rating_w


def share_behind(series_ohm, source_ohm, load_ohm):
    """Share of its watts that a resistor in the line leaves the coil: series_resistor turned round.

    series_ohm: in the line. source_ohm, load_ohm: as series_resistor.
    Returns power_share, above 0 to 1.  Equation: as series_resistor.
    """
    total_ohm = source_ohm + load_ohm
    power_share = (total_ohm / (total_ohm + series_ohm)) ** 2
    return power_share


def passed_share(open_v, switch_v):
    """Share of the watts that a diode lets through in the half waves that it passes.

    open_v: open-circuit voltage, effective. switch_v: what the diode keeps for itself, 0 to below the peak.
    Returns passed: 1 without a drop.  One diode passes every other half wave: half of it is left.
    Equation: mean of (sqrt 2 U sin x - u)^2 over a half cycle, from where the sine passes u to where it falls below it,
    over U^2; elementary integral.  Limits: the drop counts as constant, whatever the current.
    """
    lost = switch_v / (np.sqrt(2) * open_v)
    flow_angle = np.pi - 2 * np.arcsin(lost)
    passed = ((1 + 2 * lost**2) * flow_angle - 6 * lost * np.sqrt(1 - lost**2)) / np.pi
    return passed


def mean_share(open_v, switch_v):
    """Mean current of a half wave behind a diode, over the effective current without it.

    open_v, switch_v: as `passed_share`.
    Returns mean_passed: 2 sqrt 2 / pi without a drop.
    Equation: mean of sqrt 2 U sin x - u over the same stretch, over U.
    """
    lost = switch_v / (np.sqrt(2) * open_v)
    flow_angle = np.pi - 2 * np.arcsin(lost)
    mean_passed = np.sqrt(2) * (2 * np.sqrt(1 - lost**2) - lost * flow_angle) / np.pi
    return mean_passed


def duty_for(wanted_w, on_w):
    """Share of the time that must be on.

    wanted_w: mean watts wanted. on_w: watts while on.
    Returns duty; above 1 where it cannot be reached.
    Equation: whole cycles on and off: the mean is in proportion, n of N cycles give n/N of the watts.
    """
    duty = wanted_w / on_w
    return duty


def on_cycles(duty, window_s, frequency_hz=50.0):
    """Whole mains cycles that are on in each window.

    duty: share wanted, 0 to 1. window_s: length of a window, at least one cycle. frequency_hz: 50 or 60.
    Returns (cycles on, cycles in all), whole numbers.  Raises Fault for a window shorter than a cycle.
    """
    if not window_s * frequency_hz >= 1 - 1e-9:
        raise fault(
            "control.window",
            f"{window_s:g} s",
            f"is shorter than one mains cycle ({1 / frequency_hz:g} s): nothing is left to count.",
            do="Take a second or more.",
        )
    in_all = int(round(window_s * frequency_hz))
    return int(round(min(max(duty, 0.0), 1.0) * in_all)), in_all


def phase_share(fire_rad):
    """Share of the watts left where every half wave is let through from an angle on.

    fire_rad: firing angle, 0 (all) to pi (nothing), float or array.
    Returns ratio.  For understanding only: a phase control on the mains side of a transformer is no home work.
    Equation: (1/pi) times the integral of 2 sin^2 from the angle to pi = 1 - a/pi + sin(2a)/(2 pi).
    """
    a = np.asarray(fire_rad, dtype=float)
    share = 1 - a / np.pi + np.sin(2 * a) / (2 * np.pi)
    return share if share.ndim else float(share)


def relay_life(moves, window_s):
    """How long a contact lasts that moves on and off once in each window.

    moves: electrical life, switching cycles. window_s: s, above 0.
    Returns contact_life_s.
    Equation: own derivation: one switching cycle a window.
    """
    contact_life_s = moves * window_s
    return contact_life_s
