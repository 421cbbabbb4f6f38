"""How a tool warms up, as a formula: one or two time constants, dead time, power steps; and what follows from it."""

from dataclasses import dataclass

import numpy as np

ZERO_K = 273.15
STILL_AIR = 1.25  # free convection around small bodies goes about with rise^1.25; a draught sheds in proportion
SKINS = (
    (0.2, 1.0),
    (0.8, STILL_AIR),
)  # bright skin in a draught, dark skin in still air: the ends of what is likely (judgement)
FORMS = ("one", "one with dead time", "two")


@dataclass(frozen=True)
class Shape:
    """The curve of a warm-up.  start_c; rise_k at full power once settled; slow_s, fast_s (0: only one time constant);
    weight of the slow part (1 for one; more than 1 where the start is rounded, as under a thick sleeve); dead_s."""

    form: str
    start_c: float
    rise_k: float
    slow_s: float
    fast_s: float = 0.0
    weight: float = 1.0
    dead_s: float = 0.0

    @property
    def end_c(self):
        """Settled temperature at full power, degC."""
        return self.start_c + self.rise_k


def reached(shape, time_s):
    """Share of the settled rise that is reached some time after a step of power.

    shape: Shape. time_s: s, float or array; 0 before the step.
    Returns 0 to 1.
    Equation: 1 - w exp(-t/slow) - (1-w) exp(-t/fast); two heat capacities in a row, e.g. Seborg, Edgar, Mellichamp,
    Process Dynamics and Control, ch. 5 (from memory).
    """
    t = np.maximum(np.asarray(time_s, dtype=float) - shape.dead_s, 0.0)
    left = shape.weight * np.exp(-t / shape.slow_s)
    if shape.fast_s > 0:
        left = left + (1 - shape.weight) * np.exp(-t / shape.fast_s)
    return 1 - left


def curve(shape, time_s, steps=((0.0, 1.0),)):
    """Temperature over time.

    shape: Shape. time_s: s, array. steps: ((time_s, share of the full power), ...), rising in time; before the first
    one nothing heats.
    Returns degC.  The response is taken as linear: twice the power, twice the rise.  It is not quite: a hot skin
    radiates, so the real rise lags behind at more power.
    """
    t = np.asarray(time_s, dtype=float) - shape.dead_s
    level, left, _ = decays(t, steps, shape.slow_s)
    total = level - shape.weight * left
    if shape.fast_s > 0:
        total = total - (1 - shape.weight) * decays(t, steps, shape.fast_s)[1]
    return shape.start_c + shape.rise_k * total


def decays(time_s, steps, constant_s):
    """What is left of each step of power as it dies away, added up over all steps before a time.

    time_s: s (n,). steps: ((time_s, share of the full power), ...), rising in time; before the first nothing heats.
    constant_s: time constant, s, above 0.
    Returns (share that heats, sum of jump exp(-x), sum of jump x exp(-x)), each (n,), x = time since the step over
    the constant.  The sums are carried from step to step, so thousands of steps cost no more than as many readings.
    """
    places, levels, sums, rises = [], [], [], []
    e = f = before = last = 0.0
    for at, level in steps:
        x = (at - last) / constant_s if places else 0.0
        shrunk = np.exp(-x)
        e, f = e * shrunk + level - before, (f + e * x) * shrunk
        before, last = level, at
        for kept, value in zip((places, levels, sums, rises), (at, level, e, f)):
            kept.append(value)
    t = np.asarray(time_s, dtype=float)
    k = np.searchsorted(places, t, side="left") - 1
    on = k >= 0
    x = np.where(on, (t - np.array(places)[k]) / constant_s, 0.0)
    left = np.exp(-x) * on
    e, f = np.array(sums)[k], np.array(rises)[k]
    return np.array(levels)[k] * on, e * left, (f + e * x) * left


def time_to_share(shape, share):
    """Time until a share of the settled rise is reached at steady power.

    shape: Shape. share: 0 to below 1.
    Returns s; 0 for a share of 0 or less, inf for 1 or more.
    """
    if share <= 0:
        return 0.0
    if share >= 1:
        return float("inf")
    from scipy.optimize import brentq

    top = shape.dead_s + shape.slow_s * (np.log(max(shape.weight, 1.0) / (1 - share)) + 5)
    return float(brentq(lambda t: reached(shape, t) - share, 0.0, top, xtol=1e-6 * top))


def time_to_temp(shape, temp_c):
    """Time until a temperature is reached from cold at full power.

    shape: Shape. temp_c: degC.
    Returns s, inf if never.
    """
    return time_to_share(shape, (temp_c - shape.start_c) / shape.rise_k)


def time_near_end(shape, near_k=5.0):
    """Time until the tool is within some kelvin of its end.  shape: Shape. near_k: K, above 0.  Returns s."""
    return time_to_share(shape, 1 - near_k / abs(shape.rise_k))


def one_constant_end(first_rise_k, second_rise_k):
    """End of a warm-up from two rises at equal steps of time, by hand.

    first_rise_k: rise over the start after some time, K. second_rise_k: after twice that time, K; more than
    first_rise_k and less than twice it.
    Returns settled_rise_k.  One time constant only: where a slow part follows, the answer is too low.
    Equation: from r1 = R (1-q), r2 = R (1-q^2): R = r1^2 / (2 r1 - r2).
    """
    settled_rise_k = first_rise_k**2 / (2 * first_rise_k - second_rise_k)
    return settled_rise_k


def time_constant(step_s, first_rise_k, settled_rise_k):
    """Time constant from one rise and the settled rise, by hand.

    step_s: time of the reading, s. first_rise_k: rise then, K. settled_rise_k: rise once settled, K, above it.
    Returns constant_s.
    Equation: first-order warming, Incropera et al., Fundamentals of Heat and Mass Transfer, eq. 5.6 and 5.7.
    """
    constant_s = step_s / np.log(settled_rise_k / (settled_rise_k - first_rise_k))
    return constant_s


def thermal_resistance(settled_rise_k, load_w):
    """Kelvin for each watt: how much the probe's place rises.

    settled_rise_k: K. load_w: power in the coil, W, above 0.
    Returns resistance_k_per_w, of this place at this heat; it falls a little as the tool gets hotter.
    Equation: R = rise / P, Incropera et al., Fundamentals of Heat and Mass Transfer, sec. 3.1.
    """
    resistance_k_per_w = settled_rise_k / load_w
    return resistance_k_per_w


def fitted_capacity(constant_s, resistance_k_per_w):
    """Heat capacity as the probe sees it.

    constant_s: mean time constant, s. resistance_k_per_w: K/W.
    Returns capacity_j_k.  Exact for one lump of metal; of a tool with cool parts it counts each part by how warm it
    gets.
    Equation: C = time constant / R, Incropera et al., Fundamentals of Heat and Mass Transfer, eq. 5.7.
    """
    capacity_j_k = constant_s / resistance_k_per_w
    return capacity_j_k


def no_loss_time(capacity_j_k, wanted_rise_k, load_w):
    """Shortest time in which the metal can be heated if nothing is lost.

    capacity_j_k: mass times specific heat of all that gets hot, J/K. wanted_rise_k: K. load_w: power, W.
    Returns floor_s.
    Equation: energy balance m cp dT = P t, Incropera et al., Fundamentals of Heat and Mass Transfer, eq. 1.12.
    """
    floor_s = capacity_j_k * wanted_rise_k / load_w
    return floor_s


def power_for_temp(load_w, end_c, ambient_c, wanted_c, radiated=0.5, convection=1.1):
    """Power that would settle the same place at another temperature.

    load_w: power of the log, W. end_c: where it settles, degC. ambient_c: room, degC. wanted_c: degC, above the room.
    radiated: share of the loss that is radiation at end_c, 0 to 1 (nobody measured it: try SKINS). convection: the rest
    of the loss goes with rise^convection, 1 in a draught to 1.25.
    Returns W, float or array.  In proportion it would be wrong: radiation grows with the fourth power of the absolute
    temperature, free convection about with rise^1.25, a draught in proportion.
    Equation: own derivation from Stefan and Boltzmann's law and free convection around small bodies.
    """
    share = (wanted_c - ambient_c) / (end_c - ambient_c)
    rays = ((wanted_c + ZERO_K) ** 4 - (ambient_c + ZERO_K) ** 4) / ((end_c + ZERO_K) ** 4 - (ambient_c + ZERO_K) ** 4)
    return load_w * (radiated * rays + (1 - radiated) * np.maximum(share, 0.0) ** convection)


def end_at_power(load_w, end_c, ambient_c, other_w, radiated=0.5, convection=1.1):
    """Where the same place settles at another power.

    load_w, end_c, ambient_c, radiated, convection: as `power_for_temp`. other_w: W.
    Returns degC.
    """
    from scipy.optimize import brentq

    if other_w <= 0:
        return float(ambient_c)
    top = ambient_c + (end_c - ambient_c) * max(other_w / load_w, 1.0) * 1.5
    return float(
        brentq(lambda t: power_for_temp(load_w, end_c, ambient_c, t, radiated, convection) - other_w, ambient_c, top)
    )
