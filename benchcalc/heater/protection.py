"""Protection on the low-voltage side: which fuse, and whether it will act at all.

Nothing here designs the mains side: the primary fuse and its enclosure belong to the transformer's
maker and to a licensed person.
"""

from dataclasses import dataclass
from functools import cache

import numpy as np

from ..basics.fault import closest, fault
from ..basics.tables import rows

# Preferred ratings of IEC 60127 (R10 series), 1 A and up; data/fuses.csv covers no others.
RATINGS_A = (1.0, 1.25, 1.6, 2.0, 2.5, 3.15, 4.0, 5.0, 6.3)
RUN_AT_MOST = 0.8  # of the rating, steady (common practice, no source)
COPPER_OHM_M = 1.7241e-8  # annealed copper at 20 degC, IEC 60028


def fuse_rating(load_a):
    """The smallest preferred fuse that carries a steady current at 80 % of its rating.

    load_a: steady current, above 0, up to 5 A.
    Returns rating in A.  Raises Fault above the largest rating of the table.
    Basis: 80 % is common practice, no source; ratings are the R10 series of IEC 60127.
    """
    if not load_a > 0:
        raise fault("fuse", f"{load_a} A", "is no current to choose a fuse for: it must be above 0 A.")
    rating_a = float(smallest_fuse(load_a))
    if np.isnan(rating_a):
        raise fault(
            "fuse",
            f"{load_a:.3g} A",
            f"needs a fuse above {RATINGS_A[-1]:g} A, where the table ends.",
            do="Ask a licensed person; such a current also asks for thick leads.",
        )
    return rating_a


def smallest_fuse(load_a):
    """As fuse_rating, for many currents.

    load_a: A, float or array.
    Returns ratings in A; nan where no current flows, or more than the largest rating of the table carries.
    """
    load_a = np.asarray(load_a, float)
    at = np.searchsorted(RUN_AT_MOST * np.array(RATINGS_A) * (1 + 1e-9), load_a)
    return np.where(load_a > 0, np.array([*RATINGS_A, np.nan])[at], np.nan)


def characteristic_for(inrush_a, rating_a, capacitor=False):
    """Which fuse carries the first moment without being slower than it needs to be.

    inrush_a: current of the cold load, A, above 0. rating_a: of the fuse, A. capacitor: True where a smoothing
    capacitor lies behind the fuse: it takes many times the rating for some milliseconds.
    Returns "quick-acting" where the inrush is within what its sheet carries for an hour, else "time-lag": a wire of
    resistance alloy takes a twentieth more when cold, a lamp about ten times as much.
    Source: data/fuses.csv, first point of the sheets.
    """
    return "time-lag" if needs_slow(inrush_a, rating_a, capacitor) else "quick-acting"


def needs_slow(inrush_a, rating_a, capacitor=False):
    """Whether a quick-acting fuse would not carry the first moment; of many designs too.

    inrush_a, rating_a, capacitor: as characteristic_for, floats or arrays.
    Returns bool or array.
    """
    carried = min(float(r["times"]) for r in rows("fuses") if r["characteristic"] == "quick-acting")
    return capacitor | (inrush_a > carried * rating_a)


def breaking(rating_a):
    """The current that each kind of fuse can still break.

    rating_a: of the fuse, A, above 0.
    Returns list of (kind of fuse, A, row of data/fuse_breaking.csv), weakest first.
    Source: data/fuse_breaking.csv.
    """
    told = rows("fuse_breaking")
    most = [max(float(r["at_least_a"]), float(r["times_rating"]) * rating_a) for r in told]
    return sorted(((r["kind"], a, r) for a, r in zip(most, told)), key=lambda t: t[1])


@dataclass(frozen=True)
class Opening:
    """When a fuse opens at a current: times the rating, earliest and latest in s (inf: it need not)."""

    times: float
    earliest_s: float
    latest_s: float

    @property
    def acts(self):
        """True where the standard sheet promises that it opens within five seconds."""
        return self.latest_s <= 5.0


def opening(characteristic, rating_a, short_a):
    """When a fuse opens at a current, between its earliest and latest time.

    characteristic: "time-lag" or "quick-acting". rating_a: one of RATINGS_A. short_a: current, at least 0, float or
    array.
    Returns Opening.  Between the points of a sheet both gates run straight in logarithms; below
    2.1 times the rating nothing is promised: latest is inf.  Above 10 times the last point holds.
    Source: data/fuses.csv (IEC 60127-2, sheets 5 and 2).
    """
    if characteristic not in {r["characteristic"] for r in rows("fuses")}:
        raise fault(
            "fuse",
            characteristic,
            "is no characteristic.",
            closest(characteristic, {r["characteristic"] for r in rows("fuses")}),
        )
    if rating_a not in RATINGS_A:
        raise fault(
            "fuse", f"{rating_a} A", f"is no preferred rating. Known: {', '.join(f'{r:g}' for r in RATINGS_A)} A."
        )
    times = short_a / rating_a

    def gate(column):
        at, seconds = _gate(characteristic, rating_a, column)
        opens_s = np.exp(np.interp(np.log(np.maximum(times, 1e-9)), np.log(at), np.log(seconds)))
        opens_s = np.where(times >= at[0], opens_s, np.inf)
        return opens_s if np.ndim(times) else float(opens_s)

    return Opening(times, gate("shortest_s"), gate("longest_s"))


def opens_from(characteristic, rating_a):
    """The least current at which a fuse is sure to open at all, and within what time.

    characteristic: "time-lag" or "quick-acting". rating_a: one of RATINGS_A.
    Returns (A, s).  Between the current it carries for an hour and this one nobody promises anything.
    Source: data/fuses.csv (IEC 60127-2, sheets 5 and 2): 2.1 times the rating, half an hour.
    """
    times, seconds = _gate(characteristic, rating_a, "longest_s")
    return float(times[0]) * rating_a, float(seconds[0])


@cache
def _gate(characteristic, rating_a, column):
    """Points of one gate of a sheet: times the rating (n,), s (n,)."""
    known = sorted(
        (float(r["times"]), r[column])
        for r in rows("fuses")
        if r["characteristic"] == characteristic
        and float(r["from_a"]) <= rating_a <= float(r["to_a"])
        and r[column] is not None
    )
    return np.array(known).T


@cache
def _fuse_ohms():
    return np.array(sorted((float(r["rating_a"]), float(r["resistance_ohm"])) for r in rows("fuse_ohms"))).T


def fuse_ohms(rating_a):
    """Cold resistance of a time-lag fuse of a rating.

    rating_a: 1 to 6.3 A.
    Returns ohm, between the printed ratings straight in logarithms.
    Source: data/fuse_ohms.csv.
    """
    at, ohm = _fuse_ohms()
    if np.any(np.asarray(rating_a) < at[0]) or np.any(np.asarray(rating_a) > at[-1]):
        raise fault("fuse", f"{rating_a} A", f"is outside the table, which runs from {at[0]:g} to {at[-1]:g} A.")
    return np.exp(np.interp(np.log(rating_a), np.log(at), np.log(ohm)))


def cable_resistance(cable_m, cable_m2, resistivity_ohm_m=COPPER_OHM_M):
    """Ohms of a two-core copper cable, there and back.

    cable_m: length of the cable. cable_m2: section of one core.
    resistivity_ohm_m: annealed copper unless said.
    Returns cable_ohm at 20 degC; at 60 degC 16 % more.  Connectors: 5-20 mohm for each contact when
    clean, more when old (common practice, no source): measure.
    Equation: R = rho l / A; resistivity from IEC 60028.
    """
    cable_ohm = 2 * resistivity_ohm_m * cable_m / cable_m2
    return cable_ohm


def short_current(open_v, source_ohm, warming, cable_ohm):
    """Current into a dead short at the tool's end of the cable, everything warm.

    open_v: open-circuit voltage. source_ohm: cold source resistance. warming: warm over cold copper, 1.0-1.4.
    cable_ohm: cable, contacts and fuse.
    Returns short_a: the warm one is the smaller, and the one a fuse must see.
    Equation: Ohm's law on Thevenin's equivalent.
    """
    short_a = open_v / (source_ohm * warming + cable_ohm)
    return short_a


def leakage(open_v, volts_v, amps_a):
    """Resistance and leakage reactance of a transformer from two or more loads and one no-load reading.

    open_v: no-load voltage. volts_v, amps_a: two or more resistive loads, array (k,), different currents above 0.
    Returns (source_ohm, reactance_ohm, lowest_a, highest_a): good between those two currents and not beyond.
    Reactance 0 means that the meter cannot see it.
    Raises Fault: fewer than two loads, or loads alike.
    Equation: phasor sum for a resistive load, U0^2 = U^2 + 2 U I R + I^2 (R^2 + X^2); least squares.
    """
    volts_v, amps_a = np.asarray(volts_v, float), np.asarray(amps_a, float)
    if len(volts_v) < 2 or np.ptp(amps_a) <= 0 or np.any(amps_a <= 0):
        raise fault(
            "leakage reactance",
            f"{len(volts_v)} load(s)",
            "is too little: it needs no load and two different loads.",
            do="Add a load near the one you will use.",
        )
    known = (open_v**2 - volts_v**2) / amps_a
    (source_ohm, square), *_ = np.linalg.lstsq(np.column_stack([2 * volts_v, amps_a]), known, rcond=None)
    return float(source_ohm), float(np.sqrt(max(square - source_ohm**2, 0.0))), float(amps_a.min()), float(amps_a.max())


def leakage_ends(open_v, volts_v, amps_a, error_v):
    """How far readings that err by a little leave resistance and leakage reactance open.

    open_v, volts_v, amps_a: as leakage. error_v: what the meter may be off for each reading by itself, V, above 0.
    Returns ((lowest, highest source_ohm), (lowest, highest reactance_ohm)), over every reading at either end.
    """
    signs = np.array(np.meshgrid(*[(-1.0, 1.0)] * (1 + len(volts_v)))).reshape(1 + len(volts_v), -1).T
    found = [leakage(open_v + s[0] * error_v, np.asarray(volts_v) + s[1:] * error_v, amps_a)[:2] for s in signs]
    source, reactance = np.array(found).T
    return (float(source.min()), float(source.max())), (float(reactance.min()), float(reactance.max()))
