"""Load tests with what is at hand: the wire itself as the load, one meter, no power resistors."""

from dataclasses import dataclass

import numpy as np

from ..basics.fault import fault
from .supply import judge_line, line_through


@dataclass(frozen=True)
class ClipTest:
    """One set of clip readings, read twice: the supply's line and the wire's ohms per metre.

    open_v, source_ohm with standard errors; linear_ohm_per_m with its standard error; contact_ohm: ohms
    that do not grow with length (clips, leads). Errors are nan for two rows. straight: as LineQuality.
    """

    open_v: float
    source_ohm: float
    open_error_v: float
    source_error_ohm: float
    linear_ohm_per_m: float
    linear_error_ohm_per_m: float
    contact_ohm: float
    straight: bool | None
    odd: int | None


def clip_test(length_m, volts_v, amps_a, *, error_v=0.02):
    """Supply line and ohms per metre from clipping the wire at several lengths.

    length_m: wire between the clips, array (k,), k at least 2, 0.01-100. volts_v: at the supply's terminals.
    amps_a: current, above 0. error_v: counts of the meter.
    Returns ClipTest.  The longest length first, the shortest (warmest) last and quick: Ni-Cr gains up to
    7 % when it glows, copper-nickel nothing.
    Raises Fault: one row, equal lengths, currents that do not rise as the wire gets shorter, ohms that fall.
    Method: least squares twice: V = U0 - Rs I; V/I = contact + r length (Taylor, An Introduction to Error Analysis, ch.
    8).
    """
    length_m, volts_v, amps_a = (np.asarray(x, float) for x in (length_m, volts_v, amps_a))
    if not len(length_m) == len(volts_v) == len(amps_a):
        raise fault(
            "clip test", f"{len(length_m)} lengths, {len(volts_v)} volts, {len(amps_a)} amps", "do not pair up."
        )
    if len(length_m) < 2 or np.ptp(length_m) <= 0:
        raise fault(
            "clip test",
            f"{len(length_m)} row(s)",
            "is no line: it needs two different lengths, better three.",
            do="Clip at a half and at a third of the wire too.",
        )
    if np.any(amps_a <= 0) or np.any(volts_v <= 0) or np.any(length_m <= 0):
        raise fault("clip test", "", "needs lengths, volts and amps above 0.")
    ohms = volts_v / amps_a
    r, r_error, contact = _line(length_m, ohms)
    if r <= 0:
        raise fault(
            "clip test",
            f"{ohms.round(3).tolist()} ohm",
            "does not grow with the length.",
            "Rows are mixed up, or turns touch.",
            "Check which length belongs to which reading.",
        )
    quality = judge_line(volts_v, amps_a, error_v)
    open_v, source_ohm = line_through(volts_v, amps_a)
    return ClipTest(
        float(open_v),
        float(source_ohm),
        quality.open_error_v,
        quality.source_error_ohm,
        r,
        r_error,
        contact,
        quality.straight,
        quality.odd,
    )


def _line(x, y):
    """Slope, its standard error (nan for two points), and intercept."""
    mean, spread = x.mean(), ((x - x.mean()) ** 2).sum()
    slope = ((x - mean) * y).sum() / spread
    start = y.mean() - slope * mean
    left = y - start - slope * x
    error = np.sqrt((left**2).sum() / (len(x) - 2) / spread) if len(x) > 2 else np.nan
    return float(slope), float(error), float(start)


def without_burden(open_v, read_a, burden_v):
    """The current that flows once the ammeter is taken out of the circuit.

    open_v: open-circuit voltage. read_a: reading with the ammeter in. burden_v: volts across the ammeter then.
    Returns load_a: what one meter, used first as ammeter and then as voltmeter, must be put right by.
    Equation: Ohm's law on the whole circuit with and without the ammeter.
    """
    load_a = read_a * open_v / (open_v - burden_v)
    return load_a


def without_drift(before_v, loaded_v, after_v):
    """Volts lost to a load while the mains drifts: no-load readings before and after, averaged.

    before_v, after_v: no-load voltage right before and after. loaded_v: voltage under load.
    Returns drop_v.  A steady drift drops out.
    """
    drop_v = (before_v + after_v) / 2 - loaded_v
    return drop_v


def from_volts_and_amps(load_v, load_a):
    """A fraction of an ohm: current through it, volts across it, probes inside the current clips.

    load_v: volts between the inner probes. load_a: current, about 1 A or more.
    Returns load_ohm.  Lead and contact ohms drop out, since the inner probes carry no current (four-wire).
    """
    load_ohm = load_v / load_a
    return load_ohm


def half_width(reading, share, floor):
    """The error of a reading, by what its meter promises.

    reading: value, any unit. share: share of the reading. floor: counts or leads, same unit, 0 or more.
    Returns half the width of its band, same unit; over the reading it is a share, and of volts over amps both shares
    add up in the worst case, their squares in the likely one.
    """
    return share * np.abs(reading) + floor
