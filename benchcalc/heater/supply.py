"""What a supply gives: the line through its readings, and the point where a load sits on it.

A transformer or a battery is an open-circuit voltage behind a source resistance (Thevenin's
theorem); a bench supply holds its voltage up to a set current and then its current; a switching
supply holds its voltage and trips.  All functions take floats or arrays.
"""

from dataclasses import dataclass

import numpy as np

from ..basics.fault import fault
from ..basics.tables import one

KINDS = ("transformer", "switching supply", "bench supply", "battery")
TRIPS = ("switching supply",)
SHUTS_OFF = (*TRIPS, "battery")  # at switch-on, where the cold wire asks for more than the limit
LIMITS = ("switching supply", "bench supply")  # they hold their volts up to a limit of current
AT_LIMIT = 0.97  # of the limit: from here on a reading may be of the limit, not of the line (own judgement)


def source_from_two(first_v, first_a, second_v, second_a):
    """Source resistance is the voltage lost for each ampere more.

    first_v, first_a: reading with the smaller current (0 A: no load), V and A.
    second_v, second_a: reading with the larger current.
    Returns source_ohm.  Exact only for a straight line; two readings cannot show a bend.
    Equation: Ohm's law on Thevenin's equivalent, e.g. Horowitz and Hill, The Art of Electronics,
    section 1.2.5.
    """
    drop_v = first_v - second_v
    step_a = second_a - first_a
    source_ohm = drop_v / step_a
    return source_ohm


def open_from_two(first_v, first_a, source_ohm):
    """Open-circuit voltage is a reading plus what the source resistance took.

    first_v, first_a: any reading on the line, V and A. source_ohm: source resistance.
    Returns open_v.
    """
    open_v = first_v + source_ohm * first_a
    return open_v


def load_current(open_v, source_ohm, load_ohm):
    """The whole circuit sets the current.

    open_v: open-circuit voltage. source_ohm: source resistance. load_ohm: everything outside.
    Returns load_a.  Equation: Ohm's law; Thevenin's equivalent.
    """
    total_ohm = source_ohm + load_ohm
    load_a = open_v / total_ohm
    return load_a


def load_voltage(load_a, load_ohm):
    """Voltage at the load.

    load_a: current. load_ohm: load resistance.
    Returns load_v (Ohm's law).
    """
    load_v = load_a * load_ohm
    return load_v


def load_power(load_a, load_ohm):
    """Power turned to heat in the load.

    load_a: current. load_ohm: load resistance.
    Returns load_w (Joule's law).
    """
    load_w = load_a**2 * load_ohm
    return load_w


def most_power(open_v, source_ohm):
    """The most a straight line can give: the load then equals the source resistance.

    open_v: open-circuit voltage. source_ohm: source resistance, above 0.
    Returns most_power_w.  As much heat is then made inside the supply as outside: a bound,
    not a working point.
    Equation: maximum power transfer theorem (Jacobi), e.g. Horowitz and Hill, appendix on
    Thevenin's theorem.
    """
    most_power_w = open_v**2 / (4 * source_ohm)
    return most_power_w


def higher_resistance(open_v, source_ohm, wanted_w):
    """The higher of the two loads that take the wanted power: fewer amps, a cooler supply.

    open_v: open-circuit voltage. source_ohm: source resistance (0 allowed).
    wanted_w: power in the load, at most open_v^2/(4 source_ohm).
    Returns higher_ohm; nan where the power is out of reach.
    Equation: root of R^2 + (2 R_s - U^2/P) R + R_s^2 = 0, from P = U^2 R/(R_s + R)^2.
    """
    half_sum_ohm = open_v**2 / (2 * wanted_w) - source_ohm
    root_ohm = np.sqrt(half_sum_ohm**2 - source_ohm**2)
    higher_ohm = half_sum_ohm + root_ohm
    return higher_ohm


def lower_resistance(open_v, source_ohm, wanted_w):
    """The lower of the two loads that take the wanted power: most of the heat stays in the supply.

    open_v, source_ohm, wanted_w: as `higher_resistance`.
    Returns lower_ohm; 0 for source_ohm 0, nan where the power is out of reach.
    """
    half_sum_ohm = open_v**2 / (2 * wanted_w) - source_ohm
    root_ohm = np.sqrt(half_sum_ohm**2 - source_ohm**2)
    lower_ohm = half_sum_ohm - root_ohm
    return lower_ohm


def regulation_of(open_v, load_v):
    """Regulation: the voltage lost under load, as a share of the loaded voltage.

    open_v: open-circuit voltage. load_v: voltage under load.
    Returns ratio.  Some makers divide by the no-load voltage, which looks better.
    """
    regulation = (open_v - load_v) / load_v
    return regulation


def is_at_limit(kind, limit_a, load_a):
    """Whether a reading stands at the supply's limit of current, so that its volts say nothing of the line.

    kind: one of KINDS. limit_a: A, or None. load_a: read, A, float or array.
    Returns bool, or array of it: from AT_LIMIT of the limit on; never for a kind that has no such limit.
    """
    if kind not in LIMITS or limit_a is None:
        return np.zeros(np.shape(load_a), bool)[()]
    return np.asarray(load_a) >= AT_LIMIT * np.asarray(limit_a)


def line_through(volts_v, amps_a):
    """Straight line through two or more readings by least squares.

    volts_v, amps_a: arrays (k,) or (k, n): k readings, n samples side by side.
    Returns (open_v, source_ohm), each of shape () or (n,).
    Raises Fault: fewer than two different currents, or voltage that rises with the load.
    Equation: ordinary least squares, V = U_0 - R_s I.
    """
    volts_v, amps_a = np.asarray(volts_v, float), np.asarray(amps_a, float)
    span = np.ptp(np.atleast_2d(amps_a.T).T, axis=0)
    if len(volts_v) < 2 or np.any(span <= 0):
        raise fault(
            "supply readings",
            f"{len(volts_v)} reading(s)",
            "do not make a line: it needs two different currents.",
            do="Take one reading with no load and one with a load.",
        )
    mean_a, mean_v = amps_a.mean(axis=0), volts_v.mean(axis=0)
    source_ohm = -((amps_a - mean_a) * (volts_v - mean_v)).sum(axis=0) / ((amps_a - mean_a) ** 2).sum(axis=0)
    return mean_v + source_ohm * mean_a, source_ohm


@dataclass(frozen=True)
class LineQuality:
    """How well readings lie on their line.

    residual_v: reading minus line, V, in the order given. open_error_v, source_error_ohm: standard
    errors of the fit (nan for two readings). straight: True, False, or None (two readings).
    odd: index of the one reading whose removal makes the rest straight, or None.
    """

    residual_v: np.ndarray
    open_error_v: float
    source_error_ohm: float
    straight: bool | None
    odd: int | None


def judge_line(volts_v, amps_a, error_v):
    """Is it a straight line, and is one reading odd?

    volts_v, amps_a: arrays (k,). error_v: reading error that bends the line (counts, not gain),
    V, float or array (k,).
    Returns LineQuality.  Straight: no residual above twice the reading error.  An odd reading
    can be named from four readings on; with three, any one may be the odd one.
    Equation: standard errors of a straight line, e.g. Taylor, An Introduction to Error Analysis,
    chapter 8 (equations 8.15 to 8.17).
    """
    volts_v, amps_a = np.asarray(volts_v, float), np.asarray(amps_a, float)
    error_v = np.broadcast_to(np.asarray(error_v, float), volts_v.shape)
    open_v, source_ohm = line_through(volts_v, amps_a)
    residual_v = volts_v - (open_v - source_ohm * amps_a)
    k = len(volts_v)
    if k == 2:
        return LineQuality(residual_v, np.nan, np.nan, None, None)
    scatter_v = np.sqrt((residual_v**2).sum() / (k - 2))
    spread = ((amps_a - amps_a.mean()) ** 2).sum()
    source_error_ohm = scatter_v / np.sqrt(spread)
    open_error_v = scatter_v * np.sqrt(1 / k + amps_a.mean() ** 2 / spread)
    straight = bool(np.all(np.abs(residual_v) <= 2 * error_v))
    return LineQuality(
        residual_v,
        float(open_error_v),
        float(source_error_ohm),
        straight,
        None if straight or k < 4 else _odd_one(volts_v, amps_a, error_v),
    )


def _odd_one(volts_v, amps_a, error_v):
    best, best_worst = None, 1.0
    for i in range(len(volts_v)):
        rest = np.arange(len(volts_v)) != i
        if np.ptp(amps_a[rest]) <= 0:
            continue
        open_v, source_ohm = line_through(volts_v[rest], amps_a[rest])
        worst = np.max(np.abs(volts_v[rest] - open_v + source_ohm * amps_a[rest]) / (2 * error_v[rest]))
        if worst <= best_worst:
            best, best_worst = i, worst
    return best


def working_point(kind, open_v, source_ohm, limit_a, load_ohm):
    """Voltage and current at the load for any kind of supply.

    kind: one of KINDS. open_v: open-circuit or set voltage. source_ohm: source resistance.
    limit_a: current at which it limits or trips, or None. load_ohm: load resistance, above 0.
    Returns (load_v, load_a, limited); limited is True where the current limit acts.
    Assumes a trip gives nothing on average (it restarts and trips again); a fuse in a battery or
    a transformer is not modelled here: its limit_a is a limit to keep below.
    """
    load_a = load_current(open_v, source_ohm, load_ohm)
    limited = np.zeros(np.shape(load_a), bool) if limit_a is None else load_a > limit_a
    if kind == "bench supply":
        load_a = np.where(limited, limit_a if limit_a is not None else 0.0, load_a)
    elif kind in TRIPS:
        load_a = np.where(limited, 0.0, load_a)
    return load_voltage(load_a, load_ohm), load_a, limited


def most_with_limit(open_v, source_ohm, limit_a):
    """The most power into any load, with a current limit if there is one.

    open_v, source_ohm: the line; source_ohm may be 0 if there is a limit. limit_a: A, or None.
    Returns (most_power_w, load_ohm at which it is reached); (inf, 0) with neither limit nor source
    resistance; nan where the line is.
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        at_a = np.where(np.asarray(source_ohm) == 0, np.inf, open_v / (2 * np.asarray(source_ohm, float)))
        if limit_a is not None:
            at_a = np.minimum(at_a, limit_a)
        most_w = np.where(np.isinf(at_a), np.inf, at_a * (open_v - source_ohm * at_a))
        most_w = np.where(np.isnan(open_v), np.nan, most_w)
        return most_w, np.where(np.isinf(at_a), 0.0, open_v / at_a - source_ohm)


def extra_low_limit(output):
    """The no-load voltage above which nothing is sized here.

    output: "AC" (rms) or "DC".
    Returns (limit in V, row of data/limits.csv with its source).
    Source: IEC 61140 / IEC 61558-1, separated extra-low voltage.
    """
    row = one("limits", "key", f"extra_low_{output.lower()}_v")
    return row["value"], row


NO_RECTIFIER = (
    "A transformer gives alternating volts; the sheet says direct ones, and not what stands between: behind a bare "
    "rectifier a meter shows far less than the winding holds. Nothing is sized for it until the sheet says "
    'rectifier = "half", "bridge" or "bridge with capacitor" under [supply], or output = "AC" with its readings.'
)


def refusal(open_v, output):
    """Why a supply is refused, or "" when its no-load voltage is extra-low.

    open_v: no-load voltage, V (float), nan where nobody read it. output: "AC" or "DC".
    """
    limit_v, _ = extra_low_limit(output)
    if not open_v > limit_v:
        return ""
    return (
        f"{open_v:.1f} V {output} with no load is above {limit_v:.0f} V {output}, the end of extra-low "
        "voltage: a touch can kill. Nothing is sized for it here. Use a safety isolating "
        "transformer or supply with a lower voltage, and leave anything higher to a licensed person."
    )


def refusal_by_doubt(high_v, output):
    """Why a supply is refused although no reading is too high, or "": its no-load voltage may be.

    high_v: the most that the no-load voltage can be by the readings and their doubt, V (float); nan is no doubt.
    output: "AC" or "DC".
    """
    limit_v, _ = extra_low_limit(output)
    if not high_v > limit_v:
        return ""
    return (
        f"By what was read, it may stand at up to {high_v:.0f} V {output} with no load, and {limit_v:.0f} V {output} "
        "is the end of extra-low voltage: beyond, a touch can kill. Nothing is sized for it until its no-load voltage "
        "is read and lies below with its whole doubt. Where you are not sure of it, leave it to a licensed person."
    )
