"""Tables of the scrap box: what an unmarked wire may be, and which wire of the sheet suits the job."""

import numpy as np

from ...basics.fault import Fault
from ...basics.names import say
from ...chain.wire.scrap_box import guess_wire, pieces_of, work_box
from ...heater.unknown_wire import guess, tell_apart
from ...materials.alloys import alloy_name
from ..page.table import table


def candidates(found, units="metric"):
    """Ranked candidates for an unmarked wire.

    found: Guess. units: for sizes.
    Returns Table; where nothing fits, the nearest and how far off it is, and whether feet were read as metres.
    """
    if not found.candidates:
        near = found.nearest
        out = [
            (
                "nearest, but it does not fit",
                f"{alloy_name(near.alloy)}, {near.size}",
                f"ohms off by {near.misfit_ohm:+.0%}, diameter by {near.misfit_diameter:+.0%}",
            )
        ]
        if found.if_feet is not None:
            out.append(
                (
                    "if the length was in feet, not metres",
                    f"{alloy_name(found.if_feet.alloy)}, {found.if_feet.size}",
                    f"ohms off by {found.if_feet.misfit_ohm:+.1%}",
                )
            )
        return table(("nothing in the tables fits", "wire", "how far off"), out)
    first, out = found.candidates[0], []
    for c in found.candidates:
        out.append(
            (
                alloy_name(c.alloy),
                f"{c.size} ({say('diameter_m', c.diameter_m, units=units, figures=3)})",
                f"{c.likelihood:.0%}",
                f"{c.misfit_ohm:+.1%}",
                f"{c.misfit_diameter:+.1%}",
                "–" if c is first else _apart(first, c),
            )
        )
    return table(("alloy", "size", "likelihood", "ohms off by", "diameter off by", "what tells it from the first"), out)


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
    """What the measured wires of the sheet may be: the best guess for each, with its rival.

    build: Build.
    Returns Table.
    """
    out = []
    for wire in build.wire:
        if wire.measured_ohm is None:
            continue
        try:
            found = guess_wire(build, wire.id)
        except Fault as told:
            out.append((wire.id, str(told), "–", "–", "–"))
            continue
        if not found.candidates:
            out.append(
                (
                    wire.id,
                    f"nothing fits; nearest {alloy_name(found.nearest.alloy)}, ohms off by "
                    f"{found.nearest.misfit_ohm:+.0%}",
                    "–",
                    "–",
                    "–",
                )
            )
            continue
        first = found.candidates[0]
        rival = next((c for c in found.candidates if c.alloy != first.alloy), None)
        share = sum(c.likelihood for c in found.candidates if c.alloy == first.alloy)
        out.append(
            (
                wire.id,
                alloy_name(first.alloy),
                f"{share:.0%}",
                "none" if rival is None else alloy_name(rival.alloy),
                "–" if rival is None else _apart(first, rival),
            )
        )
    return table(
        ("measured wire", "most likely", "likelihood of the alloy", "its rival", "what tells them apart"),
        out or [("none: write measured_ohm, measured_length and a size for it", "–", "–", "–", "–")],
    )


def example(ohm, length_m, diameter_m, units="metric", **errors):
    """Candidates for readings typed into a cell.

    ohm: leads taken off. length_m, diameter_m: m. units: for sizes. errors: error_ohm, error_length, error_diameter
    as shares.
    Returns Table.
    """
    try:
        return candidates(guess(ohm, length_m, diameter_m, **errors), units)
    except Fault as told:
        return table(("unmarked wire",), [(str(told),)])


def box(build, workings):
    """All wires of the sheet, ranked for the wanted power.

    build: Build. workings: Workings.
    Returns Table.
    """
    tried = work_box(build, workings.supply, workings.wire, workings.coil)
    way, out = {"units": build.units}, []
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
        out.append((t.id, t.reason, *number))
    out += [(id, "size or ohms not on the sheet", *["–"] * 4) for id in pieces_of(build)[1]] if tried else []
    return table(
        ("wire", "for the wanted power", "length", "current", "surface load", "room it takes, turns half a wire apart"),
        out or [("The sheet needs a supply's line, a wanted power and a wire.", *["–"] * 5)],
    )
