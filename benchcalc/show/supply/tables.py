"""Tables of the supply page: clip tests, lamps, limits, refused kinds, rectified supplies."""

import numpy as np

from ...basics.fault import Fault
from ...basics.names import say
from ...basics.tables import rows as _table_rows
from ...chain.bench.clips import MOST_C, clip_lengths, clip_temp
from ...chain.bench.link import mains_hz
from ...chain.supply.link import judged_volts
from ...heater import load_test, rectified
from ...heater.supply import load_current
from ...heater.windings import lamp_on_line
from ..page.table import table

LAMPS = ((12.0, 5.0), (12.0, 10.0), (12.0, 21.0), (12.0, 55.0), (24.0, 21.0), (24.0, 70.0))


def instead_of(workings, head):
    """The table that stands where a refused supply must not be told what to do with it.

    workings: Workings. head: of the one column.
    Returns Table with the reason, or None where the supply is not refused.
    """
    refused = "" if workings.supply is None else workings.supply.refused
    return table((head,), [(f"Nothing to plan here. {refused}",)]) if refused else None


def clip_plan(build, workings):
    """What the meter should show when the sheet's own wire is clipped at three places, and how hot it gets there.

    build: Build. workings: Workings.
    Returns Table; no piece is so short that it would glow.
    """
    if (no := instead_of(workings, "clip at")) is not None:
        return no
    supply, wire = workings.supply, workings.wire
    if supply is None or wire is None or np.isnan(supply.source_in_use_ohm) or np.isnan(wire.linear_ohm_per_m):
        return table(("clip at",), [("This needs a supply's line and a wire on the sheet.",)])
    fuse_a = np.nan if workings.bench is None else workings.bench.fuse_a
    lengths, out = clip_lengths(build, supply, wire, fuse_a), []
    if not len(lengths):
        return table(("clip at",), [("No piece of this wire stays below a glow on this supply: take a thicker wire.",)])
    for length, hot in zip(lengths, clip_temp(build, supply, wire, lengths)):
        ohm = length * wire.linear_ohm_per_m
        amps = load_current(supply.open_v, supply.source_ohm, ohm)
        out.append(
            (
                say("length_m", float(length), units=build.units),
                say("load_ohm", ohm),
                say("load_v", amps * ohm),
                say("load_a", amps),
                say("load_w", (amps * supply.form) ** 2 * ohm),
                f"about {say('wire_c', float(round(hot, -1)), degrees=build.degrees)}",
            )
        )
    head = ("clip at", "cold ohms between", "volts", "amps", "heat in the wire", "bare wire, in still air")
    most = say("wire_c", MOST_C, degrees=build.degrees)
    caption = (
        f"Nothing shorter than the last row: bare wire begins to glow at about {most}, and burns long before. The "
        "temperatures come from a model that is good to 15 % in current."
        + ("" if np.isnan(fuse_a) else f" None draws more than the fuse of {fuse_a:g} A carries.")
    )
    return table(head, out, caption=caption)


def clip_result(build):
    """The supply's line and the wire's ohms per metre from the sheet's clipped readings.

    build: Build whose readings hold `clipped`.
    Returns Table, or one that says what is missing.
    """
    used = [r for r in build.supply.reading if r.clip_m is not None and r.amps_a]
    if not used:
        return table(
            ("clip test",),
            [('No reading of this sheet says how much wire was between the clips: add clipped = "60 cm" to it.',)],
        )
    try:
        found = load_test.clip_test([r.clip_m for r in used], [r.volts_v for r in used], [r.amps_a for r in used])
    except Fault as told:
        return table(("clip test",), [(str(told),)])
    straight = {None: "two rows cannot tell", True: "yes", False: "no: look for a bad clip or a wire that got hot"}[
        found.straight
    ]
    return table(
        ("from the clipped readings", "value"),
        [
            ("no-load voltage", say("open_v", found.open_v)),
            ("source resistance", say("source_ohm", found.source_ohm)),
            ("wire", say("linear_ohm_per_m", found.linear_ohm_per_m, units=build.units)),
            ("clips and leads", say("load_ohm", found.contact_ohm)),
            ("on a line", straight),
        ],
    )


def lamps(build, workings):
    """Filament lamps as loads on this supply.

    build: Build. workings: Workings.
    Returns Table.
    """
    if (no := instead_of(workings, "lamp")) is not None:
        return no
    supply = workings.supply
    if supply is None or np.isnan(supply.source_in_use_ohm):
        return table(("lamp",), [("The supply's line is not known yet: these lamps are how you learn it.",)])
    out, core_va = [], np.nan if workings.bench is None else workings.bench.core_va
    for rated_v, rated_w in LAMPS:
        volts, amps = lamp_on_line(rated_v, rated_w, supply.open_v * supply.form, supply.source_ohm)
        word = (
            "more than the core's hint: a minute at most"
            if volts * amps > core_va
            else "past the supply's limit"
            if supply.limit_a is not None and amps > supply.limit_a
            else "too bright: it soon dies"
            if volts > 1.2 * rated_v
            else "hardly glows"
            if volts < 0.25 * rated_v
            else "good load"
        )
        out.append((f"{rated_v:g} V {rated_w:g} W", say("load_v", volts), say("load_a", amps), word))
    return table(("lamp", "volts", "amps", ""), out)


def refused_kinds():
    """Supplies that are refused by name, and why.  Returns Table."""
    return table(
        ("kind", "why not", "instead"), [(r["kind"], r["reason"], r["do"]) for r in _table_rows("refused_kinds")]
    )


def voltage_limits(build, workings):
    """Where today's no-load voltage stands among the limits.

    build: Build. workings: Workings.
    Returns Table.
    """
    supply = workings.supply
    volts, output = judged_volts(build.supply, np.nan if supply is None else supply.open_v)
    kind = (output or "AC").lower()
    wanted = [
        r for r in _table_rows("limits") if r["key"].endswith(f"_{kind}_v") and not r["key"].startswith(("bell", "toy"))
    ]
    out = [
        (
            r["words"],
            say("open_v", r["value"]),
            "–" if np.isnan(volts) else "below" if volts <= r["value"] else "ABOVE",
            r["note"] or "–",
        )
        for r in sorted(wanted, key=lambda r: r["value"])
    ]
    return table(("limit", "volts, no load", "this supply", "note"), out)


def rectifiers(build, workings):
    """What a meter shows of a rectified supply, and what the heater feels.

    build: Build. workings: Workings.
    Returns Table.
    """
    if (no := instead_of(workings, "rectified")) is not None:
        return no
    supply, coil = workings.supply, workings.coil
    if supply is not None and supply.output == "DC":
        return table(("rectified",), [("This table starts from alternating volts: this supply gives direct ones.",)])
    known = supply is not None and np.isfinite(supply.source_ohm)
    feed = (supply.open_v, supply.source_ohm) if known else (12.0, 0.5)
    ohm = 10.0 if coil is None or np.isnan(coil.hot_ohm) else coil.hot_ohm
    out = []
    for circuit in rectified.CIRCUITS:
        for farad in (0.0, 1e-3, 10e-3):
            got = rectified.behind(circuit, feed, ohm, farad, frequency_hz=mains_hz(build))
            out.append(
                (
                    circuit,
                    "none" if farad == 0 else f"{farad * 1e3:g} mF",
                    say("load_v", got.mean_v),
                    say("load_v", got.rms_v),
                    say("load_w", got.mean_v**2 / ohm),
                    say("load_w", got.rms_v**2 / ohm),
                    f"{got.ripple_v / got.mean_v:.0%}",
                    say("winding_a", got.winding_a),
                    say("winding_a", got.bias_a) if got.bias_a else "–",
                )
            )
    return table(
        (
            f"{say('open_v', feed[0])} AC behind {say('source_ohm', feed[1])} into {say('load_ohm', ohm)}",
            "capacitor",
            "direct range shows (mean)",
            "heater feels (rms)",
            "watts from the meter",
            "real watts",
            "ripple",
            "winding carries (rms)",
            "one-way current in the winding",
        ),
        out,
        caption="The winding's root mean square is what warms it and its fuse. One-way current pushes the iron to one "
        "side: it warms even without load, and only a soak test with the diode in place tells how much.",
    )
