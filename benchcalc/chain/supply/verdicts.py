"""The verdicts on the supply: no-load voltage, touch, straight readings, the wanted power."""

import numpy as np

from ...basics.band import Band
from ...basics.names import say
from ...basics.tables import one, source_words
from ...heater.supply import LIMITS, extra_low_limit
from ...sheet.readings_first import left_out, overruled
from ..verdict import Limit, judge, unknown
from .line import overruled_words
from .link import extrapolated, judged_volts
from .unread import READ_IT, unread_words

WHY_ADVICE = (
    "Above this, bare live parts must be out of reach. It is advice, since extra-low volts are held to be no shock to "
    "dry and whole skin; to wet hands, sweat or a cut they can be one."
)
OWN_SHEET = "your own sheet"
FOR_COIL = "most power for the coil, against the wanted power"  # what is in doubt is the supply, not the wish


def supply_checks(build, supply, wire, bands):
    """Verdicts on the supply.

    build: Build. supply, wire: parts or None. bands: path -> Band.
    Returns list of Verdict.
    """
    if supply is None:
        return [unknown("supply", "open_v", why="The sheet has no supply yet.")]
    return list(_supply(build, supply, wire, bands))


def _supply(build, supply, wire, bands):
    yield from _no_load(build, supply, bands)
    yield from _at_limit(build, supply)
    if overruled(build.supply):
        yield unknown(
            "readings, beside what was typed", "open_v", why=overruled_words(build), source=OWN_SHEET, advice=True
        )
    if supply.unknown and not supply.refused:
        key = "limit_a" if np.all(np.isfinite(supply.source_ohm)) and supply.how == "typed" else "source_ohm"
        yield unknown("supply line", key, why=f"Not known yet: {', '.join(supply.unknown)}. " + supply.next_reading)
    if supply.quality is not None and supply.quality.straight is not None:
        yield _straight(build, supply)
    if wire is not None and not np.all(np.isnan(wire.wanted_w)) and not np.all(np.isnan(wire.most_in_coil_w)):
        cut = build.coil is not None and build.coil.length_m is not None  # else no length at all gives what is wanted
        yield judge(
            FOR_COIL,
            "load_w",
            wire.most_in_coil_w,
            Limit(wire.wanted_w, "at least", "maximum power transfer; " + OWN_SHEET, wish=cut),
            why=_most_words(supply, wire),
        )


def _most_words(supply, wire):
    """The most for any coil, with these tails and without, and where the rest of the heat then is made, in a sentence.

    By Ohm's law: at the most the coil has the ohms of supply and tails together, so these make as much heat as it.
    """
    most_w, tails_ohm = (float(np.max(x)) for x in (wire.most_in_coil_w, wire.tails_ohm))
    source_ohm = float(np.max(supply.source_in_use_ohm))
    limits = supply.kind in LIMITS or supply.limit_a is not None
    most, tails = say("load_w", most_w), say("tails_ohm", tails_ohm)
    if not tails_ohm > 0 or limits or not np.isfinite([most_w, source_ohm]).all():
        heat = "." if limits else "; near that, as much heat is made inside the supply."
        return f"The most this supply can put into any coil is {most}{heat}"
    if not source_ohm > 0:
        return (
            f"The supply shows no resistance of its own, so the tails of {tails} alone set this most of {most}. No "
            "supply is so stiff: take a reading at a heavier load."
        )
    inside_w = most_w * source_ohm / (source_ohm + tails_ohm)
    bare, inside, outside = (
        say("load_w", x) for x in (most_w * (source_ohm + tails_ohm) / source_ohm, inside_w, most_w - inside_w)
    )
    return (
        f"The most this supply can put into any coil is {most} with these tails of {tails}, {bare} with none; near "
        f"that, {inside} are made inside the supply and its cable and {outside} in the tails."
    )


def _no_load(build, supply, bands):
    """The no-load voltage against extra-low voltage and a touch with dry hands."""
    _, out = judged_volts(build.supply, 0.0)
    limit_v, row = extra_low_limit(out)
    behind = " of the winding behind the rectifier" if out != supply.output else ""
    what = f"no-load voltage{behind}, {out}"
    known = supply.how != "one reading"
    guessed = " Extrapolated from loaded readings: read it with nothing connected." if extrapolated(build) else ""
    if not supply.refused and known and np.all(np.isnan(supply.open_v)):
        yield unknown(
            what, "open_v", why="Nobody has read it yet. " + supply.next_reading, source=source_words(row["source_id"])
        )
    elif known or supply.refused:
        value = supply.open_v if known else max(r.volts_v for r in build.supply.reading)
        band = bands.get("supply.open_in_use_v") if known else None
        value, band = _judged(build, value, band, supply)
        source = source_words(row["source_id"])
        unread = unread_words(build, value, limit_v)
        doubted = supply.refused or (unread.strip() if unread.endswith(READ_IT) else "")
        yield (
            unknown(what, "open_v", why=doubted, source=source)
            if doubted and np.all(np.asarray(value) <= limit_v)
            else judge(
                what,
                "open_v",
                value,
                Limit(limit_v, "at most", source),
                why=(
                    supply.refused
                    or "Within extra-low voltage, which must hold with no load at all and on the highest mains."
                )
                + guessed
                + unread,
                band=band,
            )
        )
        if supply.refused or np.all(np.isnan(value)):  # a refusal is no place for what else holds at extra-low volts
            return
        yield _touch(build, out, value, band, guessed)
    else:
        yield unknown(
            what,
            "open_v",
            why="Only a loaded reading is known. " + supply.next_reading,
            source=source_words(row["source_id"]),
        )


def _touch(build, out, value, band, guessed):
    """Whether bare parts may be touched."""
    row, what = one("limits", "key", f"dry_touch_{out.lower()}_v"), f"touch with dry hands, {out}"
    source, unread = source_words(row["source_id"]), unread_words(build, value, row["value"])
    if unread.endswith(READ_IT) and np.all(np.asarray(value) <= row["value"]):
        return unknown(what, "open_v", why=unread.strip(), source=source, advice=True)
    why = f"{WHY_ADVICE}{guessed}"
    return judge(what, "open_v", value, Limit(row["value"], "at most", source, advice=True), why=why, band=band)


def _judged(build, value, band, supply):
    """A voltage and its band as they are judged: those of the winding, where a rectifier stands behind it."""
    value = judged_volts(build.supply, value)[0]
    if band is None or supply.rectifier in (None, "none"):
        return value, band
    ends = [judged_volts(build.supply, end / supply.form)[0] for end in (band.low, band.high)]
    return float(value), Band(float(value), *(float(e) for e in ends))


def _at_limit(build, supply):
    """Readings that are of the supply's limit, not of its line."""
    for i in left_out(build.supply):
        reading = build.supply.reading[i]
        if np.ndim(reading.volts_v) or np.ndim(reading.amps_a) or np.ndim(supply.limit_a):
            continue
        yield unknown(
            f"reading {i + 1}, at the supply's own limit",
            "load_v",
            advice=True,
            why=f"{reading.volts_v:.3g} V at {reading.amps_a:.3g} A was read at or past the limit of "
            f"{supply.limit_a:.3g} A on the sheet: there it holds its current, not its volts, so the reading is left "
            "out of the line. Take one with a smaller load; if it stood past the limit, read the limit again.",
            source=OWN_SHEET,
        )


def _straight(build, supply):
    q = supply.quality
    worst = int(np.nanargmax(np.abs(q.residual_v)))
    allowed = _allowed(build, worst)
    if q.straight:
        why = "The readings lie on a line within their own error."
    elif q.odd is not None:
        why = f"Reading {q.odd + 1} is the odd one: without it the rest are straight. Take it again."
    elif np.isfinite(q.residual_v).sum() == 3:
        why = "Three readings cannot tell which one is odd: take a fourth, or all again."
    else:
        why = "The line bends: leakage, a rectifier or warming copper. Use readings near the working load."
    return judge(
        "distance of the readings from a line",
        "load_v",
        float(np.abs(q.residual_v[worst])),
        Limit(allowed, "at most", "twice the meter's own error; data/instruments.csv", advice=True),
        why=why,
    )


def _allowed(build, i):
    k = build.known.get(f"supply.reading.{i}.volts_v")
    half = (k.high - k.low) / 2 * (1 - k.share) if k else 0.0
    return 2 * (half or 0.01 * build.supply.reading[i].volts_v)
