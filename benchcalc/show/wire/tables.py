"""Tables of the wire page: what to cut, the two resistances for the wanted power, other sizes."""

import numpy as np

from ...basics.names import say
from ...basics.quantity import FOOT_M
from ...chain.supply.link import work_supply
from ...chain.wire.to_buy import what_to_buy
from ...chain.wire.turn_steps import turn_steps, two_coils
from ...chain.wire.two_answers import two_resistances
from ...chain.workings import links
from ...materials.alloys import alloy_name
from ...sheet.change import change
from ..page.table import table
from ..supply.tables import instead_of, no_plan


def cut(build, workings):
    """What to cut from the reel, piece by piece, and what to read afterwards.

    build: Build. workings: Workings.
    Returns Table.
    """
    if (no := instead_of(workings, "wire to cut", sized=True)) is not None:
        return no
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
    if (no := instead_of(workings, "resistance", sized=True)) is not None:
        return no
    rows = [
        (
            one.word,
            *(
                say(k, getattr(one, k)) if np.isfinite(getattr(one, k)) else "not known"
                for k in ("load_ohm", "load_a", "source_loss_w")
            ),
        )
        for one in two_resistances(workings.supply, workings.wire)
    ]
    return table(("resistance", "hot coil", "current", "heat in supply and tails"), rows)


def other_sizes(build, workings, sizes):
    """The wanted power from the same alloy in other sizes, spread over the room there is.

    build: Build. workings: Workings. sizes: tuple of (name, diameter_m).
    Returns Table.
    """
    if (no := instead_of(workings, "wire", sized=True)) is not None:
        return no
    if not sizes or workings.wire.diameter_m != workings.wire.diameter_m:
        return table(("wire",), [("The sheet gives no wire size to compare with.",)])
    if next(w for w in build.wire if w.id == workings.wire.id).resistivity_ohm_m is None:
        no = "The sheet names no alloy for this wire: nobody knows its ohms in another size until it is named."
        return table(("wire",), [(no,)])
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


def steps(build, workings):
    """What one turn or one per cent of ohms more or less does to the watts, beside the accept band.

    build: Build. workings: Workings.
    Returns Table.
    """
    if (no := instead_of(workings, "coil", sized=True)) is not None:
        return no
    made = turn_steps(workings.supply, workings.wire, workings.coil, workings.bands.get("coil.meter_ohm"))
    rows = [(t.word, say("meter_ohm", t.meter_ohm), say("coil_w", t.coil_w), f"{t.more_w:+.2f} W") for t in made]
    rows[:1] = [(*rows[0][:3], "–")] if rows else []
    return table(
        ("coil", "meter, cold, tails and all", "watts", "against the plan"),
        rows or [("The sheet needs a supply's line, a wire and a coil.", *["–"] * 3)],
    )


def coils(build, workings):
    """The sheet's coil with a second of the same wire on the same supply: what each takes.

    build: Build. workings: Workings.
    Returns Table.
    """
    if (no := instead_of(workings, "your coil and", sized=True)) is not None:
        return no
    limit = {False: "", True: ", past the supply's limit"}
    rows = [
        (
            t.word,
            say("load_a", t.load_a) + limit[t.limited],
            *(say("coil_w", x) for x in (t.one_w, t.other_w, t.total_w)),
            *(say("surface_load_w_m2", x) for x in (t.one_w_m2, t.other_w_m2)),
        )
        for t in two_coils(workings.supply, workings.wire, workings.coil)
    ]
    head = ("your coil and", "current", "first", "second", "together", "surface load of the first", "of the second")
    return table(head, rows or [("The sheet needs a supply's line, a wire and a coil.", *["–"] * 6)])


def buy(build, most=6):
    """What to buy where nothing in the box works: alloy, size and metres, most room to spare first.

    build: Build. most: how many rows.
    Returns Table.
    """
    if (no := no_plan(work_supply(build), "alloy", sized=True)) is not None:
        return no
    way = {"units": build.units}
    found = what_to_buy(build)
    rows = [
        (
            alloy_name(b.alloy),
            b.size,
            say("linear_ohm_per_m", b.linear_ohm_per_m, **way),
            f"{say('length_m', b.low_m, **way)} to {say('length_m', b.high_m, **way)}",
            say("surface_load_w_m2", b.surface_load_w_m2, **way),
            say("winding_m", b.winding_m, **way) if np.isfinite(b.winding_m) else "–",
            f"{np.ceil(b.buy_m / FOOT_M):.0f} ft" if build.units == "inch" else f"{b.buy_m:g} m",
        )
        for b in found[:most]
    ]
    head = ("alloy", "size", "ohms", "heats, by the reel's tolerance", "surface load, at most", "room it takes", "buy")
    return table(
        head, rows or [("No size sold does this job: the power, the room or the supply must change.", *["–"] * 6)]
    )
