"""The readings of a supply and the line that they make.  No physics here, only the calls; an unknown value is nan."""

from dataclasses import replace

import numpy as np

from ...basics.names import say
from ...heater import supply as s
from ...sheet.readings_first import left_out, on_line, overruled
from ..parts import NAN


def read_line(supply):
    """The line of a supply from what the sheet has.

    supply: Supply, floats or arrays.
    Returns (open_v, source_ohm, how it is known, what is not known yet, which reading comes next), V and ohm.
    """
    readings = on_line(supply)
    loaded = [r for r in readings if np.all(np.asarray(r.amps_a) > 0)]
    steady = supply.kind in s.LIMITS
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
        NO_LOAD_FIRST if open_v is None else LOAD_NEXT,
    )


TYPED = {"open_v": "no-load voltage", "source_ohm": "source resistance"}


def overruled_words(build):
    """That typed numbers of the supply's line count and its readings do not, in words; "" where none does.

    build: Build.
    """
    fields = overruled(build.supply)
    if not fields:
        return ""
    read = dict(zip(TYPED, read_line(replace(build.supply, open_v=None, source_ohm=None, source_share=NAN))))

    def one(field):
        typed, told = getattr(build.supply, field), read[field]
        if np.ndim(typed) or np.ndim(told):
            return TYPED[field]
        by = f", by the readings {say(field, float(told))}" if np.isfinite(told) else ""
        return f"{TYPED[field]} {say(field, typed)} as typed{by}"

    return (
        f"What was typed counts, the readings do not: {'; '.join(map(one, fields))}. Empty "
        f"{'these fields' if len(fields) > 1 else 'that field'}, or mark "
        f"{'them' if len(fields) > 1 else 'it'} as assumed, and the readings count."
    )


LOAD_NEXT = "Take volts and amps with one load: a lamp or a piece of the wire itself."
NO_LOAD_FIRST = (
    "Read its volts with nothing connected first, and write them down with 0 A. Only where they are within extra-low "
    "voltage take volts and amps with one load: a lamp or a piece of the wire itself."
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


def quality_of(build):
    """How well the readings lie on their line.

    build: Build.
    Returns LineQuality, its distances nan for readings that were left out; None for samples.
    """
    readings, out = build.supply.reading, left_out(build.supply)
    if any(np.ndim(r.volts_v) or np.ndim(r.amps_a) for r in readings):
        return None
    errors, used = [], [i for i in range(len(readings)) if i not in out]
    for i in used:
        k = build.known.get(f"supply.reading.{i}.volts_v")
        half = (k.high - k.low) / 2 * (1 - k.share) if k else 0.0
        errors.append(half or 0.01 * readings[i].volts_v)
    found = s.judge_line([readings[i].volts_v for i in used], [readings[i].amps_a for i in used], errors)
    residual_v = np.full(len(readings), NAN)
    residual_v[used] = found.residual_v
    return replace(found, residual_v=residual_v, odd=None if found.odd is None else used[found.odd])
