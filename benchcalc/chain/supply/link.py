"""Link 1 of the chain: what the supply gives.  No physics here, only the calls; an unknown value is nan."""

from dataclasses import dataclass

import numpy as np

from ...heater import supply as s
from ...heater.protection import cable_resistance
from ...heater.rectified import form_factor, shorted_volts, winding_ohms, winding_volts
from ...sheet.build import Build
from ...sheet.readings_first import on_line
from ..parts import NAN, as_floats
from .line import quality_of, read_line


@dataclass(frozen=True)
class SupplyPart:
    """What the supply gives.  open_v, source_ohm: as read today; *_in_use: with mains and warm copper,
    with the cable to the handle, and as the root mean square that a heater feels; form: that over what is read.
    short_v, winding_ohm: what drives a dead short, and through which cold ohms: behind a capacitor the winding's own,
    which are far less than the source resistance."""

    kind: str
    output: str
    rectifier: str | None
    form: float
    open_v: float
    source_ohm: float
    open_in_use_v: float
    source_in_use_ohm: float
    short_v: float
    winding_ohm: float
    limit_a: float | None
    most_power_w: float
    best_load_ohm: float
    how: str
    quality: s.LineQuality | None
    unknown: tuple
    next_reading: str
    refused: str


def extrapolated(build: Build) -> bool:
    """Whether the no-load voltage is read off a line through loaded readings, since nobody read it.  build: Build."""
    amps = [r.amps_a for r in build.supply.reading if r.amps_a is not None and r.volts_v is not None]
    return build.supply.open_v is None and bool(amps) and bool(np.all([np.all(np.asarray(a) > 0) for a in amps]))


GUESSED = ("open_v", "source_ohm", "open_in_use_v", "source_in_use_ohm")


def is_guessed(part, field):
    """Whether a number of the supply's part is only a guess that carries the chain on, so that no page may print it.

    part: SupplyPart, or another link's part. field: of the part.
    One loaded reading says what its own load gets; where the line runs from there nobody knows.
    """
    return isinstance(part, SupplyPart) and part.how == "one reading" and field in GUESSED


def work_supply(build: Build) -> SupplyPart | None:
    """Link 1: the supply's line.

    build: Build.
    Returns SupplyPart, or None without a supply.  Fewer readings than a line needs: nan, with
    `unknown` and `next_reading` in words.

    >>> from benchcalc import load_chosen
    >>> work_supply(load_chosen("insert_press")).how
    'line through readings'
    """
    supply = build.supply
    if supply.kind is None:
        return None
    open_v, source_ohm, how, unknown, reading = read_line(supply)
    refused, safe = _gate(build, open_v, how)
    form = form_factor(supply.rectifier, open_v) if supply.form is None else supply.form
    open_use = np.where(safe, open_v * form * supply.mains, NAN)
    source_use = source_ohm * supply.warming + cable_ohm_of(supply)
    most_w, best_ohm = (NAN, NAN) if how == "one reading" else s.most_with_limit(open_use, source_use, supply.limit_a)
    quality = None
    if how == "line through readings":
        quality = quality_of(build)
    return as_floats(
        SupplyPart(
            supply.kind,
            supply.output,
            supply.rectifier,
            form,
            open_v,
            source_ohm,
            open_use,
            source_use,
            *_shorted(build, open_v, source_ohm, open_use),
            supply.limit_a,
            most_w,
            best_ohm,
            how,
            quality,
            unknown,
            reading,
            refused,
        )
    )


def nothing_sized(supply):
    """Why nothing may be sized on a supply, planned or tried with it, in words; "" where its line is known.

    supply: SupplyPart or None.
    """
    if supply is None:
        return "The sheet has no supply."
    if supply.refused:
        return supply.refused
    lacking = np.isnan(supply.open_in_use_v) | np.isnan(supply.source_in_use_ohm)
    return f"The supply's line is not known yet. {supply.next_reading}" if np.all(lacking) else ""


SAG = 0.15  # of the volts, where no reading with a load tells how far a capacitor was drained


def _shorted(build, open_v, source_ohm, open_use_v):
    """(volts that drive a dead short, cold ohms of the winding), as SupplyPart."""
    supply = build.supply
    if supply.rectifier != "bridge with capacitor":
        return open_use_v, source_ohm
    loaded = [r for r in on_line(supply) if np.all(np.asarray(r.amps_a) > 0)]
    if loaded:
        volts, amps = max(((r.volts_v, r.amps_a) for r in loaded), key=lambda both: np.max(both[1]))
    else:
        with np.errstate(divide="ignore", invalid="ignore"):
            volts, amps = (1 - SAG) * open_v, SAG * open_v / source_ohm
    with np.errstate(divide="ignore", invalid="ignore"):
        ohm = winding_ohms(open_v, volts, amps)
    safe = np.where(np.isnan(open_use_v), NAN, winding_volts(supply.rectifier, open_v))
    return shorted_volts(safe) * supply.mains, ohm


def judged_volts(supply, volts_v):
    """The volts that a supply is judged by: those of the winding, alternating, where a rectifier stands behind it.

    supply: Supply. volts_v: as read, V, float or array.
    Returns (V, "AC" or "DC").
    """
    if supply.rectifier in (None, "none"):
        return volts_v, supply.output
    return winding_volts(supply.rectifier, volts_v), "AC"


MOST_LOOKED_AT_V = 48.0  # no-load voltage up to which a page looks at other supplies


def most_open_v(supply):
    """How far a page may slide the no-load voltage of a supply, as it is read: below the end of extra-low voltage.

    supply: Supply.
    Returns V.
    """
    high_v, output = judged_volts(supply, MOST_LOOKED_AT_V)
    return float(np.floor(MOST_LOOKED_AT_V * min(1.0, (s.extra_low_limit(output or "AC")[0] - 2.0) / high_v)))


def crest_factor(supply):
    """Peak over root mean square of what reaches the heater.

    supply: SupplyPart.
    Returns ratio: of a sine, of a sine's halves, or 1 where it is smooth; diodes left out.
    """
    if supply.rectifier == "half":
        return 2.0
    return float(np.sqrt(2)) if supply.output == "AC" or supply.rectifier == "bridge" else 1.0


def _gate(build, open_v, how):
    """(why the supply is refused or "", whether each of its samples is within extra-low voltage)."""
    supply = build.supply
    read = [NAN if how == "one reading" else open_v, NAN if supply.open_v is None else supply.open_v]
    read += [r.volts_v for r in supply.reading if r.volts_v is not None]
    highest_v = np.fmax.reduce(np.broadcast_arrays(*[np.asarray(v, float) for v in read]))
    highest_v, output = judged_volts(supply, highest_v)
    if supply.kind == "transformer" and supply.output == "DC" and output == "DC":
        return s.NO_RECTIFIER, False
    doubted = s.refusal_by_doubt(judged_volts(supply, _high_end_v(build, how))[0], output)
    refused = "" if np.ndim(highest_v) else s.refusal(float(highest_v), output) or doubted
    if refused and output != supply.output:
        refused = "By the winding behind the rectifier: " + refused
    return refused, ~(highest_v > s.extra_low_limit(output)[0]) & (not doubted)


def _high_end_v(build, how):
    """The most volts that any reading, with its doubt, can stand for with no load, V; nan without one."""
    paths = ["supply.open_v", *(f"supply.reading.{i}.volts_v" for i in range(len(build.supply.reading)))]
    share = build.known.get("supply.source_share")
    grows = 1.0 + share.high if how == "one reading" and share is not None else 1.0
    return max((build.known[p].high * grows for p in paths if p in build.known), default=NAN)


def cable_ohm_of(supply):
    """Ohms of the cable and its contacts; 0 where the sheet names none.

    supply: Supply.
    """
    cable = supply.cable
    contacts = 0.0 if cable.contacts_ohm is None else cable.contacts_ohm
    if cable.length_m is None or cable.area_m2 is None:
        return contacts
    return cable_resistance(cable.length_m, cable.area_m2) + contacts
