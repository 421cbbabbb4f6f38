"""Link 1 of the chain: what the supply gives.  No physics here, only the calls; an unknown value is nan."""

from dataclasses import dataclass

import numpy as np

from ...heater import supply as s
from ...heater.protection import cable_resistance
from ...heater.rectified import form_factor, winding_volts
from ...sheet.build import Build
from ..parts import NAN, as_floats


@dataclass(frozen=True)
class SupplyPart:
    """What the supply gives.  open_v, source_ohm: as read today; *_in_use: with mains and warm copper,
    with the cable to the handle, and as the root mean square that a heater feels; form: that over what is read."""

    kind: str
    output: str
    rectifier: str | None
    form: float
    open_v: float
    source_ohm: float
    open_in_use_v: float
    source_in_use_ohm: float
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
    open_v, source_ohm, how, unknown, reading = _line(supply)
    refused, safe = _gate(build, open_v, how)
    form = form_factor(supply.rectifier, open_v) if supply.form is None else supply.form
    open_use = np.where(safe, open_v * form * supply.mains, NAN)
    source_use = source_ohm * supply.warming + cable_ohm_of(supply)
    most_w, best_ohm = (NAN, NAN) if how == "one reading" else s.most_with_limit(open_use, source_use, supply.limit_a)
    quality = None
    if how == "line through readings":
        quality = _quality(build)
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


def _line(supply):
    """(open_v, source_ohm, how, unknown, next_reading) from what the sheet has."""
    readings = [r for r in supply.reading if r.volts_v is not None and r.amps_a is not None]
    loaded = [r for r in readings if np.all(np.asarray(r.amps_a) > 0)]
    steady = supply.kind in ("switching supply", "bench supply")
    open_v, source_ohm = supply.open_v, supply.source_ohm
    if open_v is not None and source_ohm is not None:
        return open_v, source_ohm, "typed", (), ""
    if len(readings) >= 2 and loaded and _spread(readings):
        fitted_v, fitted_ohm = s.line_through(*_columns(readings))
        fitted_ohm = np.maximum(fitted_ohm, 0.0)  # a stiff supply reads level within the meter's error
        if open_v is None and source_ohm is None:
            more = "" if len(readings) > 2 else "One more load would show whether the line is straight."
            return fitted_v, fitted_ohm, "line through readings", (), more
        return (
            fitted_v if open_v is None else open_v,
            fitted_ohm if source_ohm is None else source_ohm,
            "typed",
            (),
            "",
        )
    one = loaded[0] if loaded else None
    if one is not None and source_ohm is not None:
        return s.open_from_two(one.volts_v, one.amps_a, source_ohm), source_ohm, "typed", (), ""
    if one is not None and open_v is not None:
        return open_v, np.maximum(s.source_from_two(open_v, 0.0, one.volts_v, one.amps_a), 0.0), "typed", (), ""
    limit = ("the current at which it limits",) if supply.limit_a is None else ()
    if one is not None and not steady:
        source_ohm = supply.source_share * one.volts_v / one.amps_a
        return (
            s.open_from_two(one.volts_v, one.amps_a, source_ohm),
            source_ohm,
            "one reading",
            ("the open-circuit voltage", "the source resistance", "the most it can give"),
            "Take the supply's voltage with no load, right after the loaded reading.",
        )
    if open_v is None and readings:
        open_v = np.mean(np.broadcast_arrays(*[np.asarray(r.volts_v, float) for r in readings]), axis=0)
    if steady and open_v is not None:
        return (
            open_v,
            0.0 if source_ohm is None else source_ohm,
            "typed",
            limit,
            "" if not limit else "Read its label or its display for the current limit.",
        )
    if open_v is not None and source_ohm is not None:
        return open_v, source_ohm, "typed", (), ""
    missing = ("the source resistance", "what any load gets", "the most it can give")
    return (
        NAN if open_v is None else open_v,
        NAN,
        "no load reading yet",
        missing,
        "Take volts and amps with one load: a lamp or a piece of the wire itself.",
    )


def _spread(readings):
    _, amps = _columns(readings)
    return bool(np.all(np.ptp(amps, axis=0) > 0))


def _columns(readings):
    volts = np.array(np.broadcast_arrays(*[np.asarray(r.volts_v, float) for r in readings]))
    amps = np.array(np.broadcast_arrays(*[np.asarray(r.amps_a, float) for r in readings]))
    if volts.ndim != amps.ndim:
        shape = np.broadcast_shapes(volts.shape[1:], amps.shape[1:])
        volts = np.broadcast_to(volts.reshape(len(readings), -1), (len(readings), *shape))
        amps = np.broadcast_to(amps.reshape(len(readings), -1), (len(readings), *shape))
    return volts, amps


def _quality(build):
    readings = build.supply.reading
    if any(np.ndim(r.volts_v) or np.ndim(r.amps_a) for r in readings):
        return None
    errors = []
    for i in range(len(readings)):
        k = build.known.get(f"supply.reading.{i}.volts_v")
        half = (k.high - k.low) / 2 * (1 - k.share) if k else 0.0
        errors.append(half or 0.01 * readings[i].volts_v)
    return s.judge_line([r.volts_v for r in readings], [r.amps_a for r in readings], errors)
