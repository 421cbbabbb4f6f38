"""The verdicts on the tool as it was built: what was read on the finished coil, and the readings kept of its card."""

import numpy as np

from ...basics.fault import Fault
from ...basics.names import say
from ...sheet.typed_reading import typed_reading
from ..verdict import Limit, judge
from .fit_verdicts import OWN_SHEET, wire_across

UNPOWERED = (
    "Electrical: no power until it is found. What is reckoned with watts is of the coil as planned, not of this one."
)
# Rows of the card that are held against what the sheet expects as it now is; the others against what the card did then.
NOW = {
    "gate.open_v": "supply.open_v",
    "line.source_ohm": "supply.source_ohm",
    "wire.ohm_per_m": "wire.linear_ohm_per_m",
    "full.load_v": "coil.load_v",
    "full.load_a": "coil.load_a",
    "full.coil_w": "coil.coil_w",
}
FINISHED = ("winding.cold_ohm", "winding.turns", "winding.winding_m")  # judged as of the finished coil
SAID = {
    "gate.open_v": "volts of the supply, nothing connected",
    "line.loaded_v": "volts of the supply, loaded",
    "line.source_ohm": "ohms of the supply",
    "wire.ohm_per_m": "ohms of one metre of wire",
    "wire.length_m": "length of wire that is heated",
    "tails.drop_v": "volts kept by tails and joints",
    "closed.cold_ohm": "cold ohms after closing",
    "first.load_a": "amps at the first heat",
    "first.hot_over_cold": "hot ohms over cold ones",
    "full.load_v": "volts at the tool",
    "full.load_a": "amps at full power",
    "full.coil_w": "watts in the coil",
    "full.cable_v": "volts lost in the cable",
    "full.joint_c": "joint of tails and cable",
    "soak.hot_ohm": "ohms of the supply's winding, hot",
    "time.tip_c": "tip",
    "time.work_c": "what is melted",
    "time.entry_c": "tube at the handle",
    "time.grip_c": "handle outside",
}
PAGE_10 = "Page 10 says which reading to look at first, and what it most likely means; no power before that is found."
NEAR_M = 1e-3  # a winding's length is told to 1 mm
ROUNDED = 0.02  # of watts that are worked out by hand (own judgement)
TOLD = "what the card expected of it"
SUM = "arithmetic of your own readings"


def as_built_checks(build, coil, bands):
    """Verdicts on the finished coil, and on readings of its card that contradict what was expected, or one another.

    build: Build. coil: CoilPart. bands: path -> Band.
    Yields Verdicts; a reading of the card that agrees has none.
    """
    if build.as_built.cold_ohm is not None and not np.ndim(coil.meter_ohm):
        yield _cold_ohms(build, coil, bands)
    yield from _counted(build, coil, bands)
    read = _kept(build)
    for row, (kept, value, low, high) in read.items():
        if row not in FINISHED:
            yield from _off(build, row, kept, (value, low, high), bands)
    if np.ndim(coil.coil_w) or np.ndim(coil.turns):
        return
    yield from _watts(read, coil)
    yield from _wire_and_turns(build, read, coil)


def _kept(build):
    """What was read of the card: row -> (CardReading, value, low, high), only what can be read as a number."""
    found = {}
    for r in build.as_built.reading:
        try:
            found[r.row] = (r, *typed_reading(build, r.row, r.quantity or "", r.read or ""))
        except Fault:
            continue
    return found


def _said(row):
    """A row of the card in words.  row: its id; that of a temperature ends with the minutes, or "settled"."""
    begins, _, when = row.rpartition("_")
    if begins in SAID and row not in SAID:
        return f"{SAID[begins]}, {when if when == 'settled' else f'after {when} min'}"
    return SAID.get(row, row)


def _off(build, row, kept, ends, bands):
    """A reading that lies outside what was expected, its meter counted."""
    now = bands.get(NOW.get(row))
    expected = (kept.low, kept.high) if now is None else (now.low, now.high)
    if None in expected or not np.isfinite(expected).all() or not expected[0] < expected[1]:  # what is set has no band
        return
    value, low, high = ends
    if low <= expected[1] and high >= expected[0]:
        return
    source = f"{OWN_SHEET}; {TOLD if now is None else 'this sheet as it now is'}"
    end = (expected[0], "at least") if value < expected[0] else (expected[1], "at most")
    way = {"units": build.units, "degrees": build.degrees}
    yield judge(
        f"card: {_said(row)}",
        kept.quantity,
        value,
        Limit(*end, source, advice=True),
        why=f"Expected: {' to '.join(say(kept.quantity, x, **way) for x in expected)}. {PAGE_10}",
    )


def _watts(read, coil):
    """Watts that do not follow from the volts and amps beside them."""
    volts, amps, watts = (read.get(f"full.{name}") for name in ("load_v", "load_a", "coil_w"))
    if not (volts and amps and watts) or not np.isfinite(coil.tails_w) or not coil.load_a > 0:
        return
    tails_ohm = coil.tails_w / coil.load_a**2
    low, made, high = (
        v * a - tails_ohm * a**2 for v, a in ((volts[2], amps[2]), (volts[1], amps[1]), (volts[3], amps[3]))
    )
    low, high = low * (1 - ROUNDED), high * (1 + ROUNDED)
    if low <= watts[1] <= high:
        return
    yield judge(
        "card: watts against volts and amps",
        "coil_w",
        watts[1],
        Limit(*((low, "at least") if watts[1] < low else (high, "at most")), SUM, advice=True),
        why=f"{say('load_v', volts[1])} × {say('load_a', amps[1])}, less the tails, make {say('coil_w', made)}: one of "
        "the three is misread, or they were not read at the same time.",
    )


def _wire_and_turns(build, read, coil):
    """Wire and winding that do not fit the turns that were counted."""
    turns, way = build.as_built.turns, {"units": build.units}
    if turns is None or np.ndim(turns):
        return
    length = read.get("wire.length_m")
    if length and np.isfinite(coil.turn_m):
        low, high = ((turns + off) * coil.turn_m for off in (-1, 1))  # to a turn: by eye, half at each end
        if length[3] < low or length[2] > high:
            end = (low, "at least") if length[1] < low else (high, "at most")
            yield judge(
                "card: wire against its turns",
                "length_m",
                length[1],
                Limit(*end, f"geometry of the helix; {SUM}", advice=True),
                why=f"{turns:g} turns on this former take {say('length_m', turns * coil.turn_m, **way)}: turns or wire "
                "are miscounted, or the former is another one.",
            )
    wound, across = build.as_built.winding_m, wire_across(build)
    if wound is None or np.ndim(wound) or np.ndim(across) or not np.isfinite(coil.turns):
        return
    shortest = (turns - 0.5) * across
    if wound + NEAR_M < shortest:
        yield judge(
            "card: winding against its turns",
            "winding_m",
            wound,
            Limit(shortest, "at least", f"geometry of the helix; {SUM}", advice=True),
            why=f"{turns:g} turns side by side are longer: turns or length are misread, or turns lie on one another.",
        )


def _counted(build, coil, bands):
    """Turns and length of the finished winding against those planned, as near as they are told by eye."""
    built = build.as_built
    for what, key, read, near in (
        ("turns of the finished coil", "turns", built.turns, 0.5),
        ("winding of the finished coil", "winding_m", built.winding_m, NEAR_M),
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


def _cold_ohms(build, coil, bands):
    read = build.as_built.cold_ohm
    band = bands.get("coil.meter_ohm")
    low, high = (band.low, band.high) if band else (coil.meter_ohm, coil.meter_ohm)
    if read < low:
        lost = (coil.meter_ohm - read) / coil.one_turn_ohm
        wound = build.coil.on is not None
        lost = f", by about {lost:.1f} turns" if np.isfinite(lost) else ""
        cause = "turns touch, or the wire is shorter" if wound else "the wire is shorter, or part of it is bridged"
        return judge(
            "cold ohms of the finished coil",
            "cold_ohm",
            read,
            Limit(low, "at least", OWN_SHEET),
            why=f"It reads low{lost}: {cause}. {UNPOWERED}",
        )
    return judge(
        "cold ohms of the finished coil",
        "cold_ohm",
        read,
        Limit(high, "at most", OWN_SHEET),
        why=(
            f"Inside the band{': no turns touch' if build.coil.on is not None else ''}."
            if read <= high
            else f"It reads high: a bad joint, a nick, or more wire than planned. {UNPOWERED}"
        ),
    )
