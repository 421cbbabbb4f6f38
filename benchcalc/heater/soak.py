"""The soak test: how warm a transformer's winding is after hours, from its resistance.

Volts that hold up under load say nothing about heat: a winding tells it by its own ohms, read on
the primary at the pins of the unplugged plug.
"""

from dataclasses import dataclass

import numpy as np

from ..basics.fault import fault
from ..basics.tables import one, rows

COPPER_K, ALUMINIUM_K = 234.5, 225.0
MOST_DUTY_GAIN = 1.5
CLASSES = (105, 120, 130, 155, 180)


def winding_rise(cold_winding_ohm, hot_winding_ohm, cold_temp_c, end_temp_c, metal_k=COPPER_K):
    """Mean rise of a winding over the room, from its resistance cold and hot.

    cold_winding_ohm: before, at cold_temp_c. hot_winding_ohm: at switch-off, above cold.
    cold_temp_c: winding and room at the first reading, 0-40. end_temp_c: room at the end, 0-40.
    metal_k: 234.5 copper, 225 aluminium.
    Returns winding_rise_k: the mean of the winding; its hottest place is 5-15 K warmer.
    Equation: IEC 61558-1, clause 14.2 (resistance method).
    """
    growth = (hot_winding_ohm - cold_winding_ohm) / cold_winding_ohm
    winding_rise_k = growth * (metal_k + cold_temp_c) - (end_temp_c - cold_temp_c)
    return winding_rise_k


def hot_winding(cold_winding_ohm, cold_temp_c, winding_c, metal_k=COPPER_K):
    """Resistance of a winding at another temperature.

    cold_winding_ohm: at cold_temp_c, 0-40 degC. winding_c: other temperature, 0-250.
    metal_k: 234.5 copper, 225 aluminium.
    Returns hot_winding_ohm.  The coefficient 0.00428 per kelvin belongs to 0 degC: used with a
    winding that was read warm it gives too much.
    Equation: IEC 60028, International standard of resistance for copper; linear in temperature.
    """
    hot_winding_ohm = cold_winding_ohm * (metal_k + winding_c) / (metal_k + cold_temp_c)
    return hot_winding_ohm


def _checked(cold_ohm, hot_ohm):
    low = np.min(hot_ohm)
    if not cold_ohm > 0:
        raise fault(
            "soak test, cold ohms",
            cold_ohm,
            "must be above 0 ohm.",
            "The leads were not touching, or the range was wrong.",
            "Read the primary again at the pins of the unplugged plug.",
        )
    if low <= cold_ohm:
        raise fault(
            "soak test, hot ohms",
            f"{low:g} ohm",
            f"must be above the cold {cold_ohm:g} ohm: copper gains 0.4 % for each kelvin.",
            "The two readings were swapped, or the winding had cooled, or the meter's leads changed.",
            "Read both with the same meter, range and leads.",
        )


@dataclass(frozen=True)
class SwitchOff:
    """Ohms at switch-off: resistance_ohm, its standard error (nan for two readings), and remark."""

    resistance_ohm: float
    error_ohm: float
    remark: str


def at_switch_off(cold_ohm, times_s, hot_ohm):
    """Resistance at the moment of switching off, from readings taken while it cools.

    cold_ohm: cold reading. times_s: seconds after switch-off, array (k,), k at least 1, 0-1800.
    hot_ohm: readings, array (k,), above cold_ohm.
    Returns SwitchOff.  One reading is taken as it stands and reads low, since cooling has begun.
    Assumes the excess over cold falls by one exponential; a winding falls faster in its first
    minute (it gives heat to the core), so the answer errs a little low.
    Raises Fault: hot not above cold, equal times, lists of unequal length.
    Method: straight line through the logarithm of the excess, extrapolated to zero time.
    """
    times_s, hot_ohm = np.asarray(times_s, float), np.asarray(hot_ohm, float)
    if times_s.shape != hot_ohm.shape or times_s.ndim != 1 or not times_s.size:
        raise fault(
            "soak test",
            f"{times_s.size} times and {hot_ohm.size} readings",
            "do not pair up: each reading needs its time.",
        )
    if np.any(times_s < 0):
        raise fault("soak test", f"{times_s.min():g} s", "is before switch-off: a winding is read unplugged only.")
    _checked(cold_ohm, hot_ohm)
    if len(hot_ohm) == 1:
        return SwitchOff(
            float(hot_ohm[0]),
            np.nan,
            "One reading, taken as it stands: the winding was warmer at switch-off. "
            "Take three or four, a minute apart.",
        )
    if np.ptp(times_s) <= 0:
        raise fault("soak test", f"{times_s[0]:g} s", "is the time of all readings: they need different times.")
    at_ohm, slope, left = back_to_zero(cold_ohm, times_s, hot_ohm)
    at_ohm = float(at_ohm)
    if len(hot_ohm) == 2:
        return SwitchOff(at_ohm, np.nan, "Two readings: no error can be told.")
    mean_s = times_s.mean()
    spread = ((times_s - mean_s) ** 2).sum()
    scatter = np.sqrt((left**2).sum() / (len(hot_ohm) - 2))
    error = scatter * np.sqrt(1 / len(hot_ohm) + mean_s**2 / spread)
    remark = "" if slope < 0 else "The readings do not fall: it was not cooling, or the meter drifts."
    return SwitchOff(at_ohm, float((at_ohm - cold_ohm) * error), remark)


def back_to_zero(cold_ohm, times_s, hot_ohm):
    """The straight line through the logarithm of the excess over cold, followed back to zero time.

    cold_ohm: float or array (n,). times_s, hot_ohm: array (k,) or (k, n); different times unless k is 1.
    Returns (ohms at zero time, slope in 1/s, what the line leaves (k, ...)); nan where a reading is not above cold.
    One reading is taken as it stands.
    """
    times_s, hot_ohm = np.asarray(times_s, float), np.asarray(hot_ohm, float)
    both = max(times_s.ndim, hot_ohm.ndim)
    times_s, hot_ohm = (x.reshape(x.shape + (1,) * (both - x.ndim)) for x in (times_s, hot_ohm))
    with np.errstate(invalid="ignore", divide="ignore"):
        excess = np.log(np.where(hot_ohm > cold_ohm, hot_ohm - cold_ohm, np.nan))
    if len(times_s) == 1:
        return hot_ohm[0] * 1.0, 0.0 * excess[0], 0.0 * excess
    mean_s = times_s.mean(axis=0)
    off_s = times_s - mean_s
    slope = (off_s * excess).sum(axis=0) / (off_s**2).sum(axis=0)
    start = excess.mean(axis=0) - slope * mean_s
    left = excess - start - times_s * slope
    return cold_ohm + np.exp(start), slope, left


def rise_at_load(winding_rise_k, test_a, load_a, iron_share):
    """What a measured rise becomes at another current.

    winding_rise_k: settled rise at test_a. test_a: current of the test. load_a: other current. iron_share: part
    of the rise that the iron makes whatever the load, 0-1; 0.1 to 0.5 covers small transformers (own judgement).
    Returns other_rise_k.
    Assumes rise in proportion to loss; a hotter winding has more ohms, so far above test_a the true rise is higher.
    Equation: copper loss goes with the square of the current.
    """
    load_ratio = load_a / test_a
    other_rise_k = winding_rise_k * (iron_share + (1 - iron_share) * load_ratio**2)
    return other_rise_k


def class_limit(class_c):
    """Highest mean winding temperature of a thermal class, in normal use.

    class_c: the class by its number: 105, 120, 130, 155 or 180. Letters mean different things in different lists.
    Returns (limit in degC, row of data/limits.csv).  Raises Fault for another number.
    Source: IEC 61558-1, table of winding temperatures (from memory: check the standard).
    """
    known = {}
    for row in rows("limits"):
        if row["key"].startswith("winding_class_"):
            known[int(row["words"].split("(")[1].split(")")[0])] = row
    if class_c not in known:
        raise fault(
            "winding class",
            class_c,
            f"is no class here. Known: {', '.join(map(str, sorted(known)))}.",
            do="Take 105 for a transformer without a mark.",
        )
    return known[class_c]["value"], known[class_c]


def core_rating(section_m2, frequency_hz=50.0):
    """What a stacked E-I core of this section usually carries, in volt-amperes (a hint).

    section_m2: middle limb, width x stack, 1e-4 to 30e-4. frequency_hz: 50 or 60.
    Returns VA.  No use for toroids, cut cores or switching supplies; the soak test decides.
    Equation: Reference Data for Radio Engineers, 2nd ed. 1946, core section against watts.
    """
    return one("defaults", "key", "soak.core_va_per_m4")["value"] * section_m2**2 * frequency_hz / 50


def steady_equal(on_va, on_s, cycle_s):
    """The steady volt-amperes that warm a winding as much as a load that comes and goes.

    on_va: load while on. on_s: time on in each cycle. cycle_s: whole cycle, much shorter than the
    warming of the transformer (some minutes).
    Returns VA.  Iron losses never rest, so the gain is held at 1.5.
    Equation: root mean square of the current, with copper loss only.
    """
    share = np.asarray(on_s, float) / cycle_s
    if np.any(share <= 0) or np.any(share > 1):
        raise fault("duty", f"{on_s} s of {cycle_s} s", "must be above 0 and at most the whole cycle.")
    return on_va * np.maximum(np.sqrt(share), 1 / MOST_DUTY_GAIN)


def box_rise(source_loss_w, box_m2, loss_w_m2k=5.0):
    """How much warmer the air gets in a closed box that holds the transformer.

    source_loss_w: heat made inside. box_m2: outside of the box, all faces that see the room. loss_w_m2k: heat passed by
    each square metre and kelvin from inner to outer air, 3-8 for a thin box (own judgement: two films of still air in a
    row).
    Returns box_rise_k: it adds to the winding's temperature in full.  No vents, no sun.
    Equation: Newton's law of cooling.
    """
    box_rise_k = source_loss_w / (loss_w_m2k * box_m2)
    return box_rise_k
