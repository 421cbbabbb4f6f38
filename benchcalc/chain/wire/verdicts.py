"""The verdicts on wire and coil: ohms, surface load, current, room on the former."""

import numpy as np

from ...basics.band import Band
from ...basics.names import say
from ...basics.tables import rows, source_words
from ...heater.supply import SHUTS_OFF
from ...heater.wire_candidates import CLINGS, SELDOM, kind_name, magnet_odds, wire_kind
from ...sheet.defaults import default
from ..verdict import Limit, judge, not_applying, unknown
from .as_built_verdicts import as_built_checks
from .coil import TRIPPED, asked_a, trips_on
from .fit_verdicts import OWN_SHEET, bore_checks, fit_words, former_check, overlap_words, wire_across
from .unmarked import length_there

MEANT = 0.3  # of the room: a wire that differs by less from it may be a winding that was typed (own judgement)


def wire_checks(build, wire, coil, bands):
    """Verdicts on the wire.

    build: Build. wire, coil: parts or None. bands: path -> Band.
    Returns list of Verdict.
    """
    if wire is None:
        return [unknown("wire", "length_m", why="The sheet names no wire yet.")]
    return list(_wire(build, wire, coil, bands))


def coil_checks(build, supply, coil, bands):
    """Verdicts on the coil.

    build: Build. supply, coil: parts or None. bands: path -> Band.
    Returns list of Verdict, empty without a coil.
    """
    if coil is None:
        return []
    if supply is not None and supply.refused:
        return [unknown("coil", "coil_w", why="Nothing is sized on a supply that is refused.")]
    return [*_coil(build, supply, coil, bands), *as_built_checks(build, coil, bands)]


def _wire(build, wire, coil, bands):
    if wire.measured and not np.ndim(wire.table_ohm_per_m) and np.isfinite(wire.table_ohm_per_m):
        known = build.known[f"wire.{wire.id}.resistivity_ohm_m"]
        nominal = next(w for w in build.wire if w.id == wire.id).resistivity_ohm_m
        off = abs(wire.linear_ohm_per_m / wire.table_ohm_per_m - 1)
        yield judge(
            "measured against tabulated ohms per metre",
            "misfit",
            off,
            Limit((known.high - known.low) / (2 * nominal), "at most", source_words(known.text), advice=True),
            why="The reading is used. If it is far off, the alloy or the diameter is not what the sheet says.",
        )
    yield from _magnet(build, wire)
    yield from _on_hand(build, wire, coil, bands)
    mounting = build.coil.mounting if build.coil is not None else None
    if coil is not None and mounting is None:
        yield unknown(
            "surface load of the wire",
            "surface_load_w_m2",
            advice=True,
            why="The sheet does not say how the coil is mounted: write mounting = ... under [coil], one of "
            + ", ".join(r["mounting"] for r in rows("surface_load"))
            + ".",
        )
    if coil is None or mounting is None:
        return
    row = next(r for r in rows("surface_load") if r["mounting"] == mounting)
    what = "surface load of the wire"
    most = max(r["high_w_m2"] for r in rows("surface_load"))
    if mounting == "bare wire in free air":
        yield not_applying(
            what,
            "surface_load_w_m2",
            source=source_words(row["source_id"]),
            why="In free air the wire's temperature decides, not a table of surface loads.",
        )
        return
    if trips_on(build.supply.kind, coil):
        yield unknown(what, "surface_load_w_m2", why=TRIPPED, source=source_words(row["source_id"]))
        return
    yield judge(
        what,
        "surface_load_w_m2",
        coil.surface_load_w_m2,
        Limit(
            row["high_w_m2"],
            "at most",
            source_words(row["source_id"]),
            advice=not np.any(np.asarray(coil.surface_load_w_m2) > most),  # past every mounting it is no guidance
        ),
        why=f"Guidance for: {row['words']}. The temperature has the last word.",
        band=bands.get("coil.surface_load_w_m2"),
    )


def _on_hand(build, wire, coil, bands):
    """Whether the piece of the sheet is long enough for what is to be cut from it."""
    reel = next(w for w in build.wire if w.id == wire.id)
    if (
        coil is None
        or not (reel.used or reel.there_m is not None)
        or any(np.ndim(x) for x in (coil.cut_m, reel.measured_ohm, reel.measured_length_m, reel.there_m))
    ):
        return
    there_m = length_there(build, reel)
    needed, path = (coil.cut_m, "coil.cut_m") if np.isfinite(coil.cut_m) else (coil.length_m, "coil.length_m")
    if not np.isfinite(there_m) or not np.isfinite(needed) or np.all(np.isnan(coil.load_a)):
        return
    short_m, way = needed - there_m, {"units": build.units}
    yield judge(
        "wire on hand, against what is cut from it",
        "cut_m",
        needed,
        Limit(there_m, "at most", OWN_SHEET),
        why=f"The piece is long enough, {_ends_counted(build)} counted."
        if short_m <= 0
        else f"It is {say('cut_m', short_m, **way)} too short. Take two pieces end to end, another wire, or a supply "
        "that needs fewer ohms; the tables of page 02 try each.",
        band=bands.get(path),
    )


def _ends_counted(build):
    """What else is in the length that is cut: tails only where the sheet says what they are."""
    tails = build.coil.tails
    known = tails.length_m is not None or tails.material is not None
    return "anchors and tails of its own" if known else "anchors but no tails"


def _magnet(build, wire):
    """Whether the magnet contradicts the alloy that the sheet names."""
    reel = next(w for w in build.wire if w.id == wire.id)
    if reel.magnetic is None or reel.alloy is None:
        return
    kind = wire_kind("fecral-25-5" if reel.alloy == "fecral" else reel.alloy)  # one family, one answer
    if magnet_odds(kind, reel.magnetic) > SELDOM:
        return
    usual = max(CLINGS, key=lambda word: kind.clings[word])
    said = {"yes": "clings to", "weakly": "clings weakly to", "no": "does not cling to"}
    yield unknown(
        "alloy of the wire, by a magnet",
        "misfit" if wire.measured else "linear_ohm_per_m",
        why=f"A magnet {said[reel.magnetic]} this wire, but {said[usual]} {kind_name(kind.key)}: it is another "
        "alloy, or the magnet held on to something else. Leave out the alloy, write measured_ohm and measured_length.",
        source=source_words("OWN-JUDGEMENT"),
        advice=True,
    )


def _winding_meant(build, coil):
    """A question, where the length of wire is about that of the winding; "" elsewhere."""
    if np.ndim(coil.length_m) or not abs(coil.length_m - coil.room_m) <= MEANT * coil.room_m:
        return ""
    wire, room = (say("length_m", x, units=build.units) for x in (coil.length_m, coil.room_m))
    return (
        f" Did you mean the winding, which has room for {room}? The {wire} on the sheet are the length of wire: as "
        "many turns as fit there take far more of it."
    )


def _coil(build, supply, coil, bands):
    if supply is not None and supply.limit_a is not None and not supply.refused:
        yield judge(
            "current that the coil asks for",
            "load_a",
            asked_a(supply, coil),
            Limit(supply.limit_a, "at most", OWN_SHEET),
            why="Past its limit a supply trips, or holds the current and gives less.",
        )
    if supply is not None and not supply.refused and supply.kind in SHUTS_OFF:
        yield _switch_on(supply, coil, bands)
    if build.coil.on is None:
        return
    practice = "common practice, no source (data/defaults.csv)"
    if np.any(np.asarray(coil.turns) < 1):
        yield judge(
            "turns on the former",
            "turns",
            coil.turns,
            Limit(1.0, "at least", "geometry of the helix; " + OWN_SHEET),
            why="Less than one turn is no winding: the wire is too short for this former, or its power too much."
            + _winding_meant(build, coil),
        )
    overlap = np.asarray(coil.gap_m) < -1e-9
    if np.any(overlap):
        yield judge(
            "turns side by side",
            "gap_m",
            coil.gap_m,
            Limit(0.0, "at least", "geometry of the helix; " + OWN_SHEET),
            why=overlap_words(build, coil),
        )
    if (
        overlap.ndim or np.ndim(coil.spare_m) or not (overlap and coil.spare_m >= 0)
    ):  # of turns that lie in one another no length is fine
        yield judge(
            "length of the winding",
            "winding_m",
            coil.winding_m,
            Limit(coil.room_m, "at most", "geometry of the helix; " + OWN_SHEET),
            why=fit_words(build, coil),
            band=bands.get("coil.winding_m") if build.coil.pitch_m is not None else None,
        )
    across = wire_across(build)
    ribbon = next(w for w in build.wire if w.id == build.coil.wire).width_m is not None
    wide = "one width of the ribbon" if ribbon else "one wire diameter"
    yield judge(
        "gap between turns",
        "gap_m",
        coil.gap_m,
        Limit(default("coil.gap_wire_diameters")["value"] * across, "at least", practice),
        why=f"Bare turns nearer than {wide} touch when the coil is handled or warms up.",
        band=bands.get("coil.gap_m"),
    )
    yield from former_check(build, coil, bands, practice)
    yield from bore_checks(build, coil)


def _switch_on(supply, coil, bands):
    """Current of the cold wire against the limit of a supply that trips: a brick, a trigger board, a battery pack."""
    what = "current at switch-on, the wire cold"
    asked = supply.open_in_use_v / (supply.source_in_use_ohm + coil.meter_ohm)
    if supply.limit_a is None:
        draws = "" if np.any(np.isnan(asked)) else f" This coil draws {np.max(asked):.3g} A for a moment."
        return unknown(
            what,
            "load_a",
            why=f"No limit on the sheet: a brick or a pack may trip before the wire is warm.{draws} Read its label, or "
            "the fuse of a battery, and write limit = ... under [supply].",
        )
    volts, ohms, source = (bands.get(p) for p in ("supply.open_in_use_v", "coil.meter_ohm", "supply.source_in_use_ohm"))
    band = None
    if volts and ohms and source:
        band = Band(asked, volts.low / (source.high + ohms.high), volts.high / (source.low + ohms.low))
    return judge(
        what,
        "load_a",
        asked,
        Limit(supply.limit_a, "at most", OWN_SHEET),
        why="A brick or a pack trips on the cold wire, which draws the most, and may never start.",
        band=band,
    )
