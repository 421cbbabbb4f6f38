"""Gain and integral time from a warm-up: the half rule and the SIMC rule, straight lines that a page can show.

Skogestad, Simple analytic rules for model reduction and PID controller tuning, J. Process Control 13 (2003) 291.
"""

from dataclasses import dataclass

from ...basics.fault import fault


def half_rule_constant(slow_s, fast_s):
    """One time constant that stands for two.

    slow_s: larger time constant. fast_s: smaller one, 0 for none.
    Returns lumped_s.
    Equation: half rule: half of the neglected lag goes to the constant; Skogestad 2003, sec. 2.
    """
    lumped_s = slow_s + fast_s / 2
    return lumped_s


def half_rule_delay(dead_s, fast_s, window_s):
    """Dead time that stands for what is neglected.

    dead_s: true dead time. fast_s: smaller time constant. window_s: switching window; power comes half of it late.
    Returns delay_s.
    Equation: half rule: the other half of the neglected lag; half a sampling time; Skogestad 2003, sec. 2.
    """
    delay_s = dead_s + fast_s / 2 + window_s / 2
    return delay_s


def simc_gain(lumped_s, full_k, closed_s, delay_s):
    """Gain of the SIMC rule.

    lumped_s: time constant. full_k: rise at full power, K. closed_s: wanted time constant of the closed loop, tight
    when it is the delay and smooth when several times that. delay_s: effective dead time.
    Returns gain_per_k, share of full power for each kelvin.
    Equation: Skogestad 2003, eq. 23: Kc = tau / (k (tau_c + theta)).
    """
    gain_per_k = lumped_s / (full_k * (closed_s + delay_s))
    return gain_per_k


def simc_integral(closed_s, delay_s):
    """Integral time of the SIMC rule for a slow tool.

    closed_s: wanted time constant of the closed loop. delay_s: effective dead time.
    Returns slow_integral_s; where the tool's own constant is smaller, that one counts.
    Equation: Skogestad 2003, eq. 24: tau_I = min(tau, 4 (tau_c + theta)).
    """
    slow_integral_s = 4 * (closed_s + delay_s)
    return slow_integral_s


def band_share(gain_per_k, range_k):
    """A proportional band as the menu of a controller may ask for it: in per cent of the box's own range.

    gain_per_k: share of full power for each kelvin, above 0. range_k: from the lowest to the highest temperature that
    the box is set for, K, above 0.
    Returns per cent.
    Equation: the change of reading that drives the output through its whole range, over the measuring range; Astrom and
    Hagglund, Advanced PID Control, ch. 3 (from memory).
    """
    return 100 / (gain_per_k * range_k)


def repeats_per_minute(integral_s):
    """An integral time as repeats a minute, the other way that boxes ask for it.

    integral_s: s, above 0.
    Returns 1/min.  Equation: the proportional part is repeated once in each integral time; as `band_share`.
    """
    return 60 / integral_s


@dataclass(frozen=True)
class Tuning:
    """Settings of a proportional-integral law, and what they came from: s; full_k is the rise at full power, K.

    The half rule was given slow_s, second_s and, besides the window, late_s of dead time and smaller lags. zero_s: what
    was taken off a constant before, since a part of the heat is seen at once; 0 for nothing."""

    gain_per_k: float
    integral_s: float
    lumped_s: float
    delay_s: float
    closed_s: float
    full_k: float
    slow_s: float = float("nan")
    second_s: float = 0.0
    late_s: float = 0.0
    zero_s: float = 0.0


def simc(shape, *, lag_s=0.0, window_s=0.0, smooth=1.0):
    """SIMC settings from the curve of a warm-up at full power.

    shape: thermal.warmup Shape of one or two time constants and dead time, at full power. lag_s: of the sensor, where
    the curve is not by it. window_s: of the switching. smooth: wanted closed-loop constant over the effective dead
    time, above 0; 1 is tight.
    Returns Tuning.  Raises Fault: no rise, no smooth above 0, nothing late in the loop (the rule then has no end).
    A part that is seen at once makes the true start steeper than the rule knows: the zero it brings is taken off the
    neighbouring larger constant, the fast one (T3) or, where it is larger than that, the slow one: by T3 where it is
    small and by T2 where it is large against the delay.
    Equation: half rule, SIMC; Skogestad 2003, sec. 2 and 3 (rules T2 and T3 from memory).
    """
    if not (shape.rise_k > 0 and smooth > 0):
        raise fault("tuning", f"rise {shape.rise_k:g} K", "needs a tool that warms up, and a smooth above 0.")
    two, fast_s = shape.fast_s > 0, shape.fast_s
    seen_s = shape.weight * shape.fast_s + (1 - shape.weight) * shape.slow_s if two else 0.0
    zero_s, dead_s = max(seen_s, 0.0), shape.dead_s + max(-seen_s, 0.0)
    if 0 < seen_s <= fast_s:
        fast_s, seen_s = fast_s - seen_s, 0.0
    lags = sorted((x for x in (fast_s, lag_s) if x > 0), reverse=True)
    first_s = shape.slow_s
    gain_k = shape.rise_k
    second_s, late_s = lags[0] if lags else 0.0, dead_s + sum(lags[1:])
    delay_s = half_rule_delay(late_s, second_s, window_s)
    if seen_s > 0:  # part of the heat is seen at once: it speeds the loop up
        reach_s = min(first_s, 5 * max(delay_s, 1e-9))
        if seen_s >= reach_s:
            gain_k *= seen_s / first_s  # T2: it cancels the slow constant, the fast one is left
            first_s, second_s = max(second_s, 1e-9), lags[1] if len(lags) > 1 else 0.0
            late_s = dead_s + sum(lags[2:])
            delay_s = half_rule_delay(late_s, second_s, window_s)
        elif two:
            gain_k, first_s = gain_k * reach_s / first_s, reach_s - seen_s
    lumped_s = half_rule_constant(first_s, second_s)
    if not delay_s > 0:
        raise fault(
            "tuning",
            "0 s",
            "is no dead time: with nothing late any gain would do, which no real tool is.",
            do="Give the sensor its lag, or the switching its window.",
        )
    closed_s = smooth * delay_s
    gain = simc_gain(lumped_s, gain_k, closed_s, delay_s)
    reset_s = min(lumped_s, simc_integral(closed_s, delay_s))
    return Tuning(gain, reset_s, lumped_s, delay_s, closed_s, gain_k, first_s, second_s, late_s, zero_s)
