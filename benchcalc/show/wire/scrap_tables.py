"""Tables of the scrap box: what an unmarked wire may be, and which wire of the sheet suits the job."""

import numpy as np

from ...basics.fault import Fault
from ...basics.names import say
from ...chain.wire.scrap_box import pieces_of, work_box
from ...chain.wire.unmarked import guess_wire, piece_lengths
from ...chain.wire.which_supply import NOT_KNOWN, rank_supplies
from ...heater.unknown_wire import RoundErrors, guess, tell_apart
from ...heater.wire_candidates import SELDOM, kind_name, magnet_odds, wire_kind
from ..page.table import table
from ..supply.tables import instead_of


def candidates(found, units="metric"):
    """Ranked candidates for an unmarked wire.

    found: Guess. units: for sizes.
    Returns Table; where nothing fits, the nearest and how far off it is, and whether feet were read as metres.
    """
    if not found.candidates:
        near = found.nearest
        off = f"ohms off by {near.misfit_ohm:+.0%}, diameter by {near.misfit_diameter:+.0%}"
        out = [("nearest, but it does not fit", f"{kind_name(near.alloy)}, {near.size}", off)]
        if found.if_feet is not None:
            off = f"ohms off by {found.if_feet.misfit_ohm:+.1%}"
            out.append((FEET, f"{kind_name(found.if_feet.alloy)}, {found.if_feet.size}", off))
        return table(("nothing in the tables fits", "wire", "how far off"), out)
    first, out = found.candidates[0], []
    for c in found.candidates:
        out.append((*_row(c, units), f"{c.likelihood:.0%}", *_off(c), "–" if c is first else _apart(first, c)))
    if found.if_feet is not None:
        out.append((*_row(found.if_feet, units), "–", *_off(found.if_feet), FEET + ": the likelier reading"))
    return table(("alloy", "size", "likelihood", "ohms off by", "diameter off by", "what tells it from the first"), out)


FEET = "if the length was in feet, not metres"


def _row(c, units):
    return kind_name(c.alloy), f"{c.size} ({say('diameter_m', c.diameter_m, units=units, figures=3)})"


def _off(c):
    return f"{c.misfit_ohm:+.1%}", f"{c.misfit_diameter:+.1%}"


_WAYS = {
    "magnet": "a magnet: one clings, the other does not",
    "hot ohms": "ohms red-hot over cold",
    "diameter": "a better diameter",
    "ohms per metre": "ohms over a longer piece",
    "nothing here": "nothing on this bench: treat them as one",
}


def _apart(first, other):
    way, size = tell_apart(first, other)
    return _WAYS[way] + (f" ({size:.0%} apart)" if way not in ("magnet", "nothing here") else "")


def unmarked(build):
    """What the measured wires of the sheet may be: the family first, the likeliest grade in it, and its rival.

    build: Build.
    Returns Table.
    """
    out = []
    for wire in build.wire:
        if wire.measured_ohm is not None and wire.measured_length_m is None:
            continue
        try:
            found = guess_wire(build, wire.id)
        except Fault as told:
            if wire.measured_ohm is not None:
                out.append((wire.id, str(told), *["–"] * 4))
            continue
        out.append((wire.id, *_named(found, wire.magnetic)))
    return table(
        (
            "measured wire",
            "family",
            "how likely",
            "likeliest grade",
            "how likely alone",
            "what tells it from its rival",
        ),
        out or [("none: write measured_ohm, measured_length and a size for it", *["–"] * 5)],
    )


def _named(found, magnetic):
    """Family and grade of a guess with their likelihoods, and what tells the first from its rival."""
    if not found.candidates:
        near = found.nearest
        words = f"nothing fits; nearest {kind_name(near.alloy)}, ohms off by {near.misfit_ohm:+.0%}"
        return words, *["–"] * 4
    (family, share), (alloy, likely) = found.families[0], found.alloys[0]
    first = (
        next(c for c in found.candidates if c.alloy == alloy)
        if alloy in {c.alloy for c in found.candidates}
        else found.candidates[0]
    )
    rival = next((c for c in found.candidates if c.alloy != first.alloy), None)
    rival = "no rival fits" if rival is None else f"{kind_name(rival.alloy)}: {_apart(first, rival)}"
    if magnetic is not None and magnet_odds(wire_kind(alloy), magnetic) < SELDOM:
        rival = f"the magnet contradicts it: measure again, and try the magnet on another end; {rival}"
    if found.if_feet is not None:
        rival += f"; {FEET}: {kind_name(found.if_feet.alloy)}"
    return family, f"{share:.0%}", kind_name(alloy), f"{likely:.0%}", rival


def lengths_by_ohms(build):
    """How long each piece is whose ohms were read and whose length was not: by its ohms alone.

    build: Build.
    Returns Table.
    """
    way, out = {"units": build.units}, []
    for wire in build.wire:
        if wire.measured_ohm is None or wire.measured_length_m is not None:
            continue
        try:
            found = piece_lengths(build, wire.id)
        except Fault as told:
            out.append((wire.id, str(told), *["–"] * 3))
            continue
        for p in found:
            ends = f"{say('length_m', p.low_m, **way)} to {say('length_m', p.high_m, **way)}"
            out.append((wire.id, p.name, f"{p.share:.0%}", say("length_m", p.length_m, **way), ends))
    if not out:
        return table(
            ("pieces by their ohms",), [("none here: write measured_ohm and a size for one, without a length",)]
        )
    return table(("piece", "if it is of", "how likely, before its ohms count", "length", "likely range"), out)


def example(ohm, length_m, diameter_m, units="metric", *, errors=(0.02, 0.005, 0.02), magnetic=None):
    """Candidates for readings typed into a cell.

    ohm: leads taken off. length_m, diameter_m: m. units: for sizes. errors: standard errors of the three, as shares.
    magnetic: as heater.unknown_wire.guess.
    Returns Table.
    """
    try:
        return candidates(guess(ohm, length_m, diameter_m, errors=RoundErrors(*errors), magnetic=magnetic), units)
    except Fault as told:
        return table(("unmarked wire",), [(str(told),)])


def box(build, workings):
    """All wires of the sheet, ranked for the wanted power.

    build: Build. workings: Workings.
    Returns Table.
    """
    if (no := instead_of(workings, "wire", sized=True)) is not None:
        return no
    tried = work_box(build, workings.supply, workings.wire, workings.coil)
    way, out = {"units": build.units}, []
    untold = {p.id for p in pieces_of(build)[0] if not np.isfinite(p.have_m)}
    for t in tried:
        number = [
            say(k, v, **way) if np.isfinite(v) else "–"
            for k, v in (
                ("length_m", t.length_m),
                ("load_a", t.load_a),
                ("surface_load_w_m2", t.surface_load_w_m2),
                ("winding_m", t.winding_m),
            )
        ]
        out.append((t.id, f"{t.reason}, if you have that much" if t.works and t.id in untold else t.reason, *number))
    out += (
        [(id, "its size or its ohms of a metre are not on the sheet", *["–"] * 4) for id in pieces_of(build)[1]]
        if tried
        else []
    )
    return table(
        ("wire", "for the wanted power", "length", "current", "surface load", "room it takes, turns half a wire apart"),
        out or [("The sheet needs a supply's line, a wanted power and a wire.", *["–"] * 5)],
    )


def supplies(build):
    """Every supply of the sheet, tried for the wanted power with the wires of the box, best first.

    build: Build.
    Returns Table.
    """
    way, out = {"units": build.units}, []
    for t in rank_supplies(build):
        numbers = [
            say(k, x, **way) if np.isfinite(x) else "–"
            for k, x in (("length_m", t.length_m), ("load_a", t.load_a), ("source_loss_w", t.source_loss_w))
        ]
        volts = say("open_v", t.open_v) if np.isfinite(t.open_v) else "not known"
        touch = "" if t.touchable or t.stage >= NOT_KNOWN else ", no bare parts in reach"
        most = say("coil_w", t.most_w) if np.isfinite(t.most_w) else "–"
        fits = f"{t.wire}, {numbers[0]}" if t.works else "–"
        place = f"{len(out) + 1}. {t.id}"
        out.append((place, t.reason, volts + touch, most, t.hours or "–", fits, *numbers[1:]))
    return table(
        (
            "supply",
            "for the wanted power",
            "no load",
            "most in any coil",
            "how long",
            "wire that suits it",
            "current",
            "heat in supply, tails",
        ),
        out or [("The sheet needs a wanted power and a supply, or [[other_supply]].", *["–"] * 7)],
        caption="Ranked by: that it works, or how near it comes; what may be touched bare; how long it lasts; and how "
        "much of its watts is left over.",
    )
