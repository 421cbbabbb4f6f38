"""The ways down side by side: what each leaves the coil, what flows in the winding, what is lost elsewhere."""

from dataclasses import dataclass

import numpy as np

from ..basics.fault import closest, fault
from ..basics.tables import rows
from .power import duty_for, mean_share, passed_share, series_resistor, tapped_volts
from .supply import SHUTS_OFF

BRIDGE_V = 0.9  # one diode of a bridge; two are always in the way
BRICK_V = (5.0, 9.0, 12.0, 15.0, 20.0)  # steps of a supply after IEC 62680-1-2 (from memory)
KNOB = ("transformer", "bench supply", "battery")


@dataclass(frozen=True)
class Line:
    """A line with a load: kind and output of the supply, open-circuit V, source ohm, coil ohm (hot), what else is in
    line (tails), the current at which it limits or trips, or None, and the coil's cold ohms, None for the hot ones."""

    kind: str
    output: str
    open_v: float
    source_ohm: float
    coil_ohm: float
    tails_ohm: float = 0.0
    limit_a: float | None = None
    cold_ohm: float | None = None


@dataclass(frozen=True)
class WayDown:
    """One way down on one line.  key, words, parts, to_the_supply, fails, stuck: of data/ways_down.csv.

    coil_w: mean watts in the coil, share: of full. equal_a, peak_a: effective and peak current in the winding.
    direct_a: direct part that biases the core. elsewhere_w: heat in resistor, diode or switch. source_w: in the
    supply's own copper. on_w: watts while on. setting: what to set, in words. why_not: why it does not serve here.
    """

    key: str
    words: str
    coil_w: float
    share: float
    equal_a: float
    peak_a: float
    direct_a: float
    elsewhere_w: float
    source_w: float
    on_w: float
    setting: str
    why_not: str
    parts: str
    to_the_supply: str
    fails: str
    stuck: str


def full_watts(line):
    """Watts and current with nothing in the way.

    line: Line.
    Returns (W in the coil, A).  A bench supply in its limit holds its current; one that trips counts as if it did not:
    ask `trips`.
    """
    amps = line.open_v / _loop(line)
    if line.limit_a is not None and line.kind == "bench supply":
        amps = min(amps, line.limit_a)
    return amps**2 * line.coil_ohm, amps


def _loop(line):
    return line.source_ohm + line.coil_ohm + line.tails_ohm


def trips(line, volts_share=1.0, series_ohm=0.0):
    """Why a supply trips at switch-on, or "".

    line: Line. volts_share: of its open-circuit volts that are left. series_ohm: added to the line.
    A brick or a pack gives no more than its limit and shuts off on the cold wire, which draws the most.
    """
    if line.limit_a is None or line.kind not in SHUTS_OFF:
        return ""
    cold_ohm = line.coil_ohm if line.cold_ohm is None else min(line.cold_ohm, line.coil_ohm)
    asked = volts_share * line.open_v / (_loop(line) - line.coil_ohm + cold_ohm + series_ohm)
    if asked <= line.limit_a * (1 + 1e-9):
        return ""
    return f"The cold coil asks for {asked:.3g} A here: past {line.limit_a:.3g} A this supply trips."


def way_rows():
    """The rows of data/ways_down.csv by their key.  Returns dict."""
    return {r["key"]: r for r in rows("ways_down")}


def ways_down(line, power_share):
    """Every way down for a wanted share of the coil's full watts.

    line: Line. power_share: above 0, up to 1.
    Returns tuple of WayDown, in the order of data/ways_down.csv; one that does not serve on this line says why, and its
    numbers are nan.  Raises Fault: a share that is none, a line that is not known.
    """
    if not 0 < power_share <= 1:
        raise fault("power", f"{power_share:g}", "must be a share above 0 and up to 1 of the full watts.")
    if not all(np.isfinite([line.open_v, line.source_ohm, line.coil_ohm])) or line.coil_ohm <= 0:
        raise fault("supply", "", "is not known well enough: it needs its line and a coil.")
    return tuple(way_down(line, key, power_share) for key in way_rows())


def way_down(line, key, power_share, drop_v=None):
    """One way down.

    line: Line. key: of data/ways_down.csv. power_share: wanted share of the full watts, above 0 to 1. drop_v: volts of
    its switch, None for the table's.
    Returns WayDown.
    """
    table = way_rows()
    if key not in table:
        raise fault("control.way", key, "is no way down here.", closest(key, table))
    row = table[key]
    made = _MADE[key](line, power_share, row["drop_v"] if drop_v is None else drop_v)
    return WayDown(key, row["words"], *made, row["parts"], row["to_the_supply"], row["fails"], row["stuck"])


def _told(line, square_a2, waves, elsewhere_w, on_w, setting):
    """The fields of a WayDown from the mean square of its current; waves: its peak and direct part, A."""
    peak_a, direct_a = waves
    coil_w = square_a2 * line.coil_ohm
    share = coil_w / full_watts(line)[0]
    source_w = square_a2 * line.source_ohm
    numbers = (coil_w, share, np.sqrt(square_a2), peak_a, direct_a, elsewhere_w, source_w, on_w)
    return *(float(x) for x in numbers), setting, ""


def _not_here(why):
    return *[float("nan")] * 8, "", why


def _steady(line, power_share, elsewhere_w, setting):
    _, amps = full_watts(line)
    equal = amps * np.sqrt(power_share)
    crest = np.sqrt(2) if line.output == "AC" else 1.0
    return _told(line, equal**2, (crest * equal, 0.0), elsewhere_w(equal), equal**2 * line.coil_ohm, setting)


def _lower(line, power_share, _):
    if line.kind not in KNOB:
        return _not_here("A supply of fixed volts has no tap and no knob.")
    _, amps = full_watts(line)
    volts = tapped_volts(amps * _loop(line), power_share)  # in its current limit a supply has volts to spare
    if why := trips(line, volts / line.open_v):
        return _not_here(why)
    word = "cells for" if line.kind == "battery" else "a tap of" if line.kind == "transformer" else "the knob at"
    return _steady(line, power_share, lambda a: 0.0, f"{word} {volts:.1f} V without load")


def _resistor(line, power_share, _):
    _, amps = full_watts(line)
    spare_ohm = line.open_v / amps - _loop(line)  # what a current limit holds back already
    load_ohm = line.coil_ohm + line.tails_ohm + spare_ohm
    ohm = spare_ohm + series_resistor(line.source_ohm, load_ohm, power_share)
    if why := trips(line, series_ohm=ohm):
        return _not_here(why)
    own_w = amps**2 * power_share * ohm
    setting = f"{ohm:.3g} ohm, which takes {own_w:.3g} W: buy {2 * own_w:.2g} W or more"
    return _steady(line, power_share, lambda a: a**2 * ohm, setting)


def _diode(line, power_share, drop_v):
    if line.output != "AC":
        return _not_here("Direct current passes a diode: it would only lose its drop.")
    if drop_v >= np.sqrt(2) * line.open_v:
        return _not_here("The volts are no more than the diode keeps for itself.")
    total = _loop(line)
    amps = line.open_v / total
    square, mean = amps**2 * passed_share(line.open_v, drop_v) / 2, amps * mean_share(line.open_v, drop_v) / 2
    peak = (np.sqrt(2) * line.open_v - drop_v) / total
    return _told(
        line, square, (peak, mean), drop_v * mean, square * line.coil_ohm, "nothing to set: it gives what it gives"
    )


def _switched(line, power_share, drop_v, rectified=False):
    """Watts while on behind a switch, and the share of the time that it must be on."""
    total = _loop(line)
    if why := trips(line):
        return _not_here(why)
    if line.output == "AC":
        drop = drop_v + (2 * BRIDGE_V if rectified else 0.0)
        if drop >= np.sqrt(2) * line.open_v:
            return _not_here("The volts are no more than the switch keeps for itself.")
        amps = line.open_v / total
        square, mean = amps**2 * passed_share(line.open_v, drop), amps * mean_share(line.open_v, drop)
        peak = (np.sqrt(2) * line.open_v - drop) / total
    else:
        drop = drop_v
        if drop >= line.open_v:
            return _not_here("The volts are no more than the switch keeps for itself.")
        mean = (line.open_v - drop) / total
        if line.limit_a is not None and line.kind == "bench supply":
            mean = min(mean, line.limit_a)
        square, peak = mean**2, mean
    on_w = square * line.coil_ohm
    duty = duty_for(power_share * full_watts(line)[0], on_w)
    if duty > 1:
        setting = f"on all the time: the switch keeps {1 - on_w / full_watts(line)[0]:.0%} for ever"
        duty = 1.0
    else:
        setting = f"on {duty:.0%} of the time"
    setting += f"; {drop:.2g} V lost"
    if rectified and line.output == "AC":
        setting += f", two diodes counted; no large capacitor, or the coil sees up to {np.sqrt(2) * line.open_v:.0f} V"
    return _told(line, duty * square, (peak, 0.0), duty * drop * mean, on_w, setting)


def _burst(line, power_share, drop_v):
    if line.output != "AC":
        return _not_here("A triac never lets go of direct current.")
    return _switched(line, power_share, drop_v)


def _transistor(line, power_share, drop_v):
    return _switched(line, power_share, drop_v, rectified=True)


def _relay(line, power_share, drop_v):
    return _switched(line, power_share, drop_v)


_MADE = {
    "lower volts": _lower,
    "series resistor": _resistor,
    "diode": _diode,
    "burst": _burst,
    "switched DC": _transistor,
    "relay": _relay,
}


@dataclass(frozen=True)
class BrickStep:
    """One step of a supply with fixed steps: its volts, and watts and amperes of this coil on it."""

    step_v: float
    coil_w: float
    load_a: float


def brick_steps(line, steps_v=BRICK_V):
    """What this coil would take from a supply with fixed steps.

    line: Line; only its coil and tails count. steps_v: V, several.
    Returns tuple of BrickStep.  Such a supply holds its volts up to its current limit: compare the amperes with its
    label, which steps it really has included.
    Source: IEC 62680-1-2, fixed steps of 5, 9, 15 and 20 V; 12 V is common besides (from memory).
    """
    ohm = line.coil_ohm + line.tails_ohm
    return tuple(BrickStep(float(v), float((v / ohm) ** 2 * line.coil_ohm), float(v / ohm)) for v in steps_v)
