"""The verdicts on wire and coil: ohms, surface load, current, room on the former, the finished coil."""

import numpy as np

from ...basics.names import say
from ...basics.tables import rows, source_words
from ...heater.coil import layers_needed
from ...heater.wire_candidates import CLINGS, kind_name, magnet_odds, wire_kind
from ...sheet.defaults import default
from ..verdict import Limit, judge, not_applying, unknown

OWN_SHEET = "your own sheet"


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
    return [] if coil is None else list(_coil(build, supply, coil, bands))


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


SELDOM = 0.05  # of all such wires: rarer than this a magnet contradicts the name (own judgement)


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
        "linear_ohm_per_m",
        why=f"A magnet {said[reel.magnetic]} this wire, but {said[usual]} {kind_name(kind.key)}: it is another "
        "alloy, or the magnet held on to something else. Leave out the alloy, write measured_ohm and measured_length.",
        source=source_words("OWN-JUDGEMENT"),
        advice=True,
    )


def _coil(build, supply, coil, bands):
    if supply is not None and supply.limit_a is not None and not supply.refused:
        asked = supply.open_in_use_v / (supply.source_in_use_ohm + coil.hot_ohm + coil.meter_ohm - coil.cold_ohm)
        yield judge(
            "current that the coil asks for",
            "load_a",
            asked,
            Limit(supply.limit_a, "at most", OWN_SHEET),
            why="Past its limit a supply trips, or holds the current and gives less.",
        )
    if build.coil.on is None:
        return
    practice = "common practice, no source (data/defaults.csv)"
    if np.any(np.asarray(coil.turns) < 1):
        yield judge(
            "turns on the former",
            "turns",
            coil.turns,
            Limit(1.0, "at least", "geometry of the helix; " + OWN_SHEET),
            why="Less than one turn is no winding: the wire is too short for this former, or its power too much.",
        )
    overlap = np.asarray(coil.gap_m) < -1e-9
    if np.any(overlap):
        yield judge(
            "turns side by side",
            "gap_m",
            coil.gap_m,
            Limit(0.0, "at least", "geometry of the helix; " + OWN_SHEET),
            why=_overlap_words(build, coil),
        )
    if overlap.ndim or not (overlap and coil.spare_m >= 0):  # of turns that lie in one another no length is fine
        yield judge(
            "length of the winding",
            "winding_m",
            coil.winding_m,
            Limit(coil.room_m, "at most", "geometry of the helix; " + OWN_SHEET),
            why=_fit_words(build, coil),
            band=bands.get("coil.winding_m") if build.coil.pitch_m is not None else None,
        )
    across = _across(build)
    yield judge(
        "gap between turns",
        "gap_m",
        coil.gap_m,
        Limit(default("coil.gap_wire_diameters")["value"] * across, "at least", practice),
        why="Bare turns nearer than one wire diameter touch when the coil is handled or warms up.",
        band=bands.get("coil.gap_m"),
    )
    yield from _former(build, coil, bands, practice)
    yield from _bore(build, coil)
    if build.as_built.cold_ohm is not None and not np.ndim(coil.meter_ohm):
        yield _as_built(build, coil, bands)
    yield from _counted(build, coil, bands)


def _former(build, coil, bands, practice):
    """Whether the former is thick enough for the wire."""
    bend = default("coil.former_wire_diameters")["value"]
    thick = next(w for w in build.wire if w.id == build.coil.wire)
    thick = thick.thickness_m if thick.width_m is not None else thick.diameter_m
    if thick is not None:
        yield judge(
            "former for this wire",
            "former_m",
            coil.former_m,
            Limit(bend * thick, "at least", practice),
            why="On a former too small for it the wire cracks or springs off.",
            band=bands.get("coil.former_m"),
        )


def _counted(build, coil, bands):
    """Turns and length of the finished winding against those planned, as near as they are told by eye."""
    built = build.as_built
    for what, key, read, near in (
        ("turns of the finished coil", "turns", built.turns, 0.5),
        ("winding of the finished coil", "winding_m", built.winding_m, 1e-3),
    ):
        planned = getattr(coil, key)
        if read is None or np.ndim(planned) or np.ndim(read):
            continue
        band = bands.get(f"coil.{key}")
        low, high = (band.low, band.high) if band else (planned, planned)
        close = "half a turn" if key == "turns" else "1 mm"
        source = f"{OWN_SHEET}; told to {close} (common practice, no source)"
        end = (low - near, "at least") if read < planned else (high + near, "at most")
        yield judge(
            what,
            key,
            read,
            Limit(*end, source, advice=True),
            why=f"Planned: {say(key, planned)}. Past this wire, former or pitch are not as the sheet says.",
        )


def _bore(build, coil):
    """Whether the wound coil, with the layers over it, goes into the part around it."""
    on = next(p for p in build.part if p.id == build.coil.on)
    start = build.coil.from_m if build.coil.from_m is not None else on.from_m
    end = build.coil.to_m if build.coil.to_m is not None else on.to_m
    wire = next(w for w in build.wire if w.id == build.coil.wire)
    thick = wire.thickness_m if wire.width_m is not None else wire.diameter_m
    if thick is None or start is None or end is None:
        return
    for part in build.part:
        inside = part.inner_m is not None and part.from_m is not None and part.to_m is not None and part.id != on.id
        if not inside or _within(part, on) or np.all(part.to_m <= start) or np.all(part.from_m >= end):
            continue
        cover = sum(y.thickness_m for y in build.layer if y.between == ("coil", part.id) and y.thickness_m is not None)
        across = coil.former_m + 2 * build.coil.layers * thick + 2 * cover
        yield judge(
            f"wound coil in the bore of the {part.id}",
            "outer_m",
            across,
            Limit(part.inner_m, "at most", "geometry; " + OWN_SHEET),
            why="Former, insulation, wire and the layers over it, across; bare turns that touch the bore short to it.",
        )


def _within(part, on):
    """Whether a hollow part lies in the one that the coil is on, or has no outside to tell it by."""
    if part.outer_m is None:
        return np.any(part.inner_m < on.outer_m)
    return np.all(np.asarray(part.outer_m) <= on.outer_m)


def _overlap_words(build, coil):
    if np.ndim(coil.gap_m) or np.isnan(coil.spare_m):
        return "At this pitch the turns would lie in one another."
    room = "which is within the room" if coil.spare_m >= -1e-9 else "which is more than the room"
    return (
        f"It does not fit: the turns would overlap. Side by side and touching they take "
        f"{say('winding_m', coil.winding_m, units=build.units)}, {room}. {layers_words(build, coil)}"
    )


def _fit_words(build, coil):
    if np.ndim(coil.spare_m) or np.isnan(coil.spare_m):
        return "The winding and the room for it."
    units = build.units
    if coil.spare_m >= -1e-9:
        return f"It fits with {say('length_m', coil.spare_m, units=units)} to spare."
    return (
        f"It is {say('length_m', -coil.spare_m, units=units)} too long for the former. {layers_words(build, coil)} "
        f"Or at the tightest pitch a former at least {coil.smallest_former_m * 1e3:.1f} mm thick."
    )


def layers_words(build, coil):
    """How many layers would take the wire at the tightest pitch that bare turns allow, in a sentence.

    build: Build with a coil on a part. coil: CoilPart (floats).
    """
    across, wire = _across(build), next(w for w in build.wire if w.id == build.coil.wire)
    thick = wire.thickness_m if wire.width_m is not None else wire.diameter_m
    tightest = (1 + default("coil.gap_wire_diameters")["value"]) * across
    layers = layers_needed(coil.length_m, coil.former_m, thick, coil.room_m - across, tightest)
    if layers is None:
        return "No number of layers takes this wire here."
    told = "layer" if layers == 1 else "layers, with insulation between them,"
    return f"With a gap of one wire between turns it takes {layers} {told} in this room."


def _across(build):
    wire = next(w for w in build.wire if w.id == build.coil.wire)
    across = wire.width_m if wire.width_m is not None else wire.diameter_m
    return float("nan") if across is None else across


def _as_built(build, coil, bands):
    read = build.as_built.cold_ohm
    band = bands.get("coil.meter_ohm")
    low, high = (band.low, band.high) if band else (coil.meter_ohm, coil.meter_ohm)
    if read < low:
        lost = (coil.meter_ohm - read) / coil.one_turn_ohm
        return judge(
            "cold ohms of the finished coil",
            "cold_ohm",
            read,
            Limit(low, "at least", OWN_SHEET),
            why=f"It reads low, by about {lost:.1f} turns: turns touch, or the wire is shorter.",
        )
    return judge(
        "cold ohms of the finished coil",
        "cold_ohm",
        read,
        Limit(high, "at most", OWN_SHEET),
        why=(
            "Inside the band: no turns touch."
            if read <= high
            else "It reads high: a bad joint, a nick, or more wire than planned."
        ),
    )
