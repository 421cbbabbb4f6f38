"""Tables of the wire page: what to cut, the two resistances for the wanted power, other sizes."""

import numpy as np

from ...basics.names import say
from ...chain.workings import links
from ...sheet.change import change
from ..page.table import table


def cut(build, workings):
    """What to cut from the reel, piece by piece, and what to read afterwards.

    build: Build. workings: Workings.
    Returns Table.
    """
    coil, tails, way = workings.coil, build.coil.tails, {"units": build.units}
    copper = tails.material is not None
    tail = (
        "the sheet gives no length: add two, as long as the way out needs"
        if tails.length_m is None
        else "of another metal: not off this reel"
        if copper
        else f"2 times {tails.strands} of {say('length_m', tails.length_m, **way)}"
    )
    rows = [
        ("heats", say("length_m", coil.length_m, **way)),
        (
            "two anchors, close turns at the ends",
            say("anchor_m", coil.anchor_m, **way) if np.isfinite(coil.anchor_m) else "none",
        ),
        ("two tails", tail),
        ("together" + (", tails not counted" if tails.length_m is None else ""), say("cut_m", coil.cut_m, **way)),
    ]
    return table(("wire to cut", "length"), rows)


def two_answers(build, workings):
    """The two resistances that take the wanted power, side by side.

    build: Build. workings: Workings.
    Returns Table.
    """
    supply, wire = workings.supply, workings.wire
    rows = []
    for word, ohm in (("higher", wire.higher_ohm), ("lower", wire.lower_ohm)):
        amps = np.sqrt(wire.wanted_w / ohm) if ohm > 0 else np.nan
        lost = amps**2 * (supply.source_in_use_ohm + wire.tails_ohm)
        rows.append(
            (
                word,
                *(
                    say(k, x) if np.isfinite(x) else "not known"
                    for k, x in (("load_ohm", ohm), ("load_a", amps), ("source_loss_w", lost))
                ),
            )
        )
    return table(("resistance", "hot coil", "current", "heat in supply and tails"), rows)


def other_sizes(build, workings, sizes):
    """The wanted power from the same alloy in other sizes, spread over the room there is.

    build: Build. workings: Workings. sizes: tuple of (name, diameter_m).
    Returns Table.
    """
    if not sizes or workings.wire.diameter_m != workings.wire.diameter_m:
        return table(("wire",), [("The sheet gives no wire size to compare with.",)])
    free = change(change(build, "coil.length_m", None), "coil.pitch_m", None)
    free = change(free, f"wire.{workings.wire.id}.measured_ohm", None)
    _, wire, coil = links(change(free, f"wire.{workings.wire.id}.diameter_m", [d for _, d in sizes]))
    way = {"units": build.units}

    def told(key, values):
        return [say(key, float(x), **way) if np.isfinite(x) else "–" for x in np.broadcast_to(values, len(sizes))]

    gaps = [
        "–" if np.isnan(g) else say("gap_m", float(g), **way) if g > 0 else "turns overlap"
        for g in np.broadcast_to(coil.gap_m, len(sizes))
    ]
    return table(
        ("wire", "length", "surface load", "turns", "gap between turns"),
        zip(
            [n for n, _ in sizes],
            told("length_m", wire.length_m),
            told("surface_load_w_m2", coil.surface_load_w_m2),
            told("turns", coil.turns),
            gaps,
        ),
    )
