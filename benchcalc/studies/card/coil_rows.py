"""The card's rows with wire in the hand: wire, winding, coil to metal, tails.  No physics here, only the calls."""

import numpy as np

from ...basics.band import Band
from ...basics.names import say
from ...basics.tables import rows as table_rows
from ...chain.insulation.bare_tails import WHAT as BARE_TAILS
from ...chain.wire.coil import coil_span
from ...chain.wire.turn_steps import turn_steps
from ...materials.alloys import alloy_name
from ...sheet.change import item
from ...sheet.load import by_instrument
from ...sheet.typed_reading import reader_of
from .expected import band_at
from .record import CardRow, CardSection


def wire(build, workings):
    """The wire before it is wound.

    build: Build. workings: Workings.
    Returns CardSection.
    """
    w, coil = workings.wire, workings.coil
    if w is None:
        return CardSection("4  Wire", (CardRow("wire.none", "Wire", words="none on the sheet yet", ask=False),))
    how = "as measured" if w.measured else "by the table, nobody measured it" if np.isfinite(w.linear_ohm_per_m) else ""
    found = [
        CardRow("wire.which", f"Wire: {w.id}", words=_which(build, w.id), outside="Another one: a new card first."),
        CardRow(
            "wire.ohm_per_m",
            f"Ohms of one metre{f' ({how})' if how else ''}",
            "linear_ohm_per_m",
            band_at(workings, "wire.linear_ohm_per_m"),
            "" if how else "not known yet: measure a metre",
            outside="Another alloy or size: type the reading on page 00 and print a new card before you cut.",
        ),
        CardRow(
            "wire.magnet", "A small magnet, wire cold", words=_magnet(build, w), outside="Not this alloy: ask page 02."
        ),
    ]
    if coil is not None and np.isfinite(coil.cut_m):
        found.append(_cut(build, workings, coil))
        found.append(
            CardRow(
                "wire.length_m", "of it heated, between the anchors", "length_m", band_at(workings, "coil.length_m")
            )
        )
    return CardSection("4  Wire", tuple(found))


def _cut(build, workings, coil):
    """The length to cut: tails are in it only where the sheet says how long they are and of the coil's own wire."""
    tails, leads = build.coil.tails, workings.parts.get("leads")
    if tails.material is not None:
        what = "Cut, with anchors; tails are of another wire"
    elif tails.length_m is not None:
        what = "Cut, with anchors and tails of the same wire"
    else:
        what = "Cut, with anchors, tails NOT in it"
    add = "Tails of this wire: add twice their way to the joint with the cable"
    if what.endswith("it") and leads is not None and np.isfinite(leads.way_m):
        add += f", {say('cut_m', 2 * leads.way_m * tails.strands, units=build.units)} here"
    outside = f"{add}." if what.endswith("it") else ""
    return CardRow("wire.cut_m", what, "cut_m", _one(coil.cut_m), outside=outside)


def _one(value):
    return Band(value, value, value)


def _which(build, id):
    """Alloy and size of a wire, as one asks for it."""
    wire, way = item(build.wire, id), {"units": build.units}
    size = "size not told"
    if wire.gauge or wire.diameter_m is not None:
        size = wire.gauge or say("diameter_m", wire.diameter_m, **way)
    elif wire.width_m is not None and wire.thickness_m is not None:
        size = f"{say('width_m', wire.width_m, **way)} x {say('thickness_m', wire.thickness_m, **way)}"
    return f"{alloy_name(wire.alloy) if wire.alloy else 'alloy not known'}, {size}"


def _where(build, coil):
    """Where the winding lies: in the middle of its room, from the tip's end."""
    part = item(build.part, build.coil.on) if build.coil.on else None
    start, end = (None, None) if part is None else coil_span(build.coil, part)
    if start is None or end is None or not 0 < coil.winding_m <= end - start:
        return None
    near = (start + end - coil.winding_m) / 2
    ends = " to ".join(say("length_m", x, units=build.units) for x in (near, near + coil.winding_m))
    return CardRow("winding.place", f"It lies on {part.id}, from the tip's end", words=ends)


def _magnet(build, w):
    if w.alloy is None:
        seen = item(build.wire, w.id).magnetic
        return "alloy not known" if seen is None else f"clings: {seen} (as on the sheet)"
    note = next(r["note"] for r in table_rows("alloys") if r["key"] == w.alloy) or ""
    first = note.split(".")[0]
    return first.lower() if "agnetic" in first else "not in the tables"


def winding(build, workings):
    """After winding, before anything covers it.

    build: Build. workings: Workings.
    Returns CardSection.
    """
    coil, band = workings.coil, workings.bands.get("coil.meter_ohm")
    if coil is None or not np.isfinite(coil.meter_ohm):
        none = CardRow("winding.none", "Winding", words="no coil is worked out on this sheet yet", ask=False)
        return CardSection("5  After winding", (none,))
    steps = turn_steps(workings.supply, workings.wire, coil, band)
    by_word = {s.word: s for s in steps}
    found = [
        CardRow(
            "winding.cold_ohm",
            "Ohms, tail end to tail end, cold: the accept band",
            "cold_ohm",
            band_at(workings, "coil.meter_ohm"),
            _ends(by_word),
            outside="Outside: count turns, measure the wire again. Low may be two turns that touch.",
        )
    ]
    if np.isfinite(coil.turns) and np.isfinite(coil.one_turn_ohm):
        found += [
            CardRow("winding.former_m", "Former under the wire, layers on it", "former_m", _one(coil.former_m)),
            CardRow(
                "winding.turns", "Turns", "turns", band_at(workings, "coil.turns"), outside="Another former or pitch."
            ),
            CardRow("winding.winding_m", "Length of the winding", "winding_m", band_at(workings, "coil.winding_m")),
            CardRow("winding.pitch_m", "Pitch, middle to middle", "pitch_m", band_at(workings, "coil.pitch_m")),
            *(row for row in (_where(build, coil),) if row is not None),
            _one_turn(build, coil, by_word),
        ]
    return CardSection("5  After winding", tuple(found))


def _ends(by_word):
    low, high = (by_word.get(f"{end} end of the accept band") for end in ("low", "high"))
    if low is None or high is None:
        return ""
    return f"at its ends {say('coil_w', low.coil_w)} and {say('coil_w', high.coil_w)}"


def _one_turn(build, coil, by_word):
    """What one turn is worth, and whether the meter can see it."""
    meter = reader_of(build, "ohm")
    own = by_word.get("one turn more")
    watts = "" if own is None else f", {say('coil_w', abs(own.more_w))}"
    k = by_instrument(coil.meter_ohm, "ohm", meter)
    half = (k.high - k.low) / 2
    sees = "sees" if half < coil.one_turn_ohm else "cannot see"
    turn = say("one_turn_ohm", coil.one_turn_ohm)
    return CardRow(
        "winding.one_turn",
        "One turn is worth",
        words=f"{turn}{watts}; the {meter} (± {say('cold_ohm', half)} here) {sees} one turn",
        ask=False,
        outside="" if sees == "sees" else "Use volts and amps, not its ohms, to tell one turn.",
    )


def metal(build, step, again=False):
    """Coil to metal.

    build: Build. step: word of the section, for the row's id. again: after closing.
    Returns tuple of one CardRow; of none for a wire that lies on no part.
    """
    if build.coil is None or build.coil.on is None:
        return ()
    metals = ", ".join(p.id for p in build.part if p.role not in ("handle", "work", "frame"))
    return (
        CardRow(
            f"{step}.to_metal",
            f"Tail to {metals}: highest ohms range" + (", again" if again else ", cold"),
            words="open: no reading",
            outside="Any reading: bare wire touches metal. Do not power it.",
        ),
    )


def _tails_made(build, bare):
    """Metal, length, section and sleeve of the tails, as far as the sheet says them; bare: no sleeve, beside metal."""
    if build.coil is None:
        return ""
    t, way = build.coil.tails, {"units": build.units}
    size = [
        "" if t.length_m is None else f"each {say('length_m', t.length_m, **way)}",
        "" if t.material is None or t.section_m2 is None else say("area_m2", t.section_m2, **way),
        "" if t.strands == 1 else f"{t.strands} strands",
    ]
    sleeve = "no sleeve on this sheet" if bare else t.sleeve
    return ", ".join(word for word in (t.material, *size, sleeve) if word)


def tails(build, workings):
    """Tails and joints, by the volts they keep at the coil's own current.

    build: Build. workings: Workings.
    Returns CardSection.
    """
    w, coil, leads = workings.wire, workings.coil, workings.leads
    found = [*metal(build, "tails")]
    if w is not None and coil is not None and np.isfinite(coil.load_a):
        ohm, amps = band_at(workings, "wire.tails_ohm"), coil.load_a
        band = None if ohm is None else Band(*(x * amps for x in (ohm.nominal, ohm.low, ohm.high)))
        found.append(
            CardRow(
                "tails.drop_v",
                f"Both tails with their joints, {say('load_a', amps)} flowing: cable end to coil, the two added",
                "load_v",
                band,
                outside="More: a poor joint. Make it again: warming makes it worse.",
            )
        )
    bare = any(v.what == BARE_TAILS for v in workings.of("insulation"))
    told = _tails_made(build, bare)
    if told:
        short = "Bare, they short on the metal that they pass: sleeve them all the way first." if bare else ""
        found.insert(0, CardRow("tails.made", "Tails of, and their sleeve", words=told, outside=short))
    if build.lead_out.joint is not None and leads is not None:
        at_m, pull = build.lead_out.joint_at_m, "Pull at it: it holds, or it is made again."
        at = "" if at_m is None else f", {say('at_m', at_m, units=build.units)} from the tip's end"
        found.append(
            CardRow("tails.joint", "Joint to the cable, made", words=f"{build.lead_out.joint}{at}", outside=pull)
        )
    return CardSection("6  Coil to metal, tails and joints", tuple(found))
