"""Tables of the supply page: clip tests, lamps, limits, refused kinds, rectified supplies."""

import numpy as np

from ...basics.fault import Fault
from ...basics.names import say
from ...basics.tables import rows as _table_rows
from ...chain.bench.clips import MOST_C, clip_lengths, clip_temp
from ...chain.bench.link import mains_hz
from ...chain.bench.load_at import most_amps
from ...chain.supply.link import judged_volts, nothing_sized
from ...chain.wire.unmarked import length_there
from ...heater import load_test, rectified
from ...heater.protection import RUN_AT_MOST
from ...heater.supply import LIMITS, load_current, most_power, most_with_limit
from ...heater.windings import lamp_at_first, lamp_on_line
from ..editor.form_words import on_page
from ..page.open_page import derive
from ..page.table import table
from ..page.words import Words

LAMPS = ((12.0, 5.0), (12.0, 10.0), (12.0, 21.0), (12.0, 55.0), (24.0, 21.0), (24.0, 70.0))
NO_CLIPS = (
    'No reading of this sheet says how much wire was between the clips: write clipped = "60 cm" under [supply.reading].'
)


def instead_of(workings, head, *, sized=False):
    """The table that stands where nothing may be done with a supply: it is refused, or nobody read its no-load volts.

    workings: Workings. head: of the one column. sized: whether the table needs the supply's whole line.
    Returns Table with the reason, or None where the table may stand.
    """
    return no_plan(workings.supply, head, sized=sized)


def no_plan(supply, head, *, sized=False):
    """As instead_of, from the supply's part.  supply: SupplyPart or None. head, sized: as instead_of."""
    if supply is None:
        return None
    stops = supply.refused or sized or np.isnan(supply.open_v)
    why = nothing_sized(supply) if stops else ""
    return table((head,), [(f"Nothing to plan here. {why}",)]) if why else None


def most_there_is(build, workings):
    """The summit of the supply's line, or the limit of current that comes before it.

    build: Build. workings: Workings.
    Returns Derivation or Words.
    """
    line = workings.supply
    way = {"open_v": line.open_in_use_v, "source_ohm": line.source_in_use_ohm}
    limited = line.limit_a is not None and np.isfinite(line.most_power_w)
    if limited and line.most_power_w < (1 - 1e-9) * float(most_with_limit(*way.values(), None)[0]):
        return Words(
            f"*No summit is reached here: the supply limits at {say('limit_a', line.limit_a)} before it, and the most "
            f"it gives there is {say('most_power_w', line.most_power_w)}.*"
        )
    return derive(most_power, on=build, **way)


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
    there_m = min((length_there(build, w) for w in build.wire if w.id == wire.id), default=np.inf)
    lengths, out = clip_lengths(build, supply, wire, fuse_a, there_m), []
    if not len(lengths):
        there = f" of the {say('length_m', there_m, units=build.units)} there are" if np.isfinite(there_m) else ""
        return table(
            ("clip at",), [(f"No piece{there} stays below a glow on this supply: take a longer or a thicker wire.",)]
        )
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
        + ("" if supply.form <= 1.001 else " Volts and amps are those of the meter: " + _mean_words(supply))
        + (" There is no more of this wire on the sheet than the first row." if np.isfinite(there_m) else "")
    )
    return table(head, out, caption=caption)


def clip_result(build):
    """The supply's line and the wire's ohms per metre from the sheet's clipped readings.

    build: Build whose readings hold `clipped`.
    Returns Table, or one that says what is missing.
    """
    used = [r for r in build.supply.reading if r.clip_m is not None and r.amps_a]
    if not used:
        return table(("clip test",), [(on_page(NO_CLIPS),)])
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
        first_a = lamp_at_first(rated_v, rated_w, supply.open_v * supply.form, supply.source_ohm)
        limit_a = np.inf if supply.limit_a is None else supply.limit_a
        word = (
            "more than the core's hint: a minute at most"
            if volts * amps > core_va
            else "past the supply's limit"
            if amps > limit_a
            else "too bright: it soon dies"
            if volts > 1.2 * rated_v
            else "hardly glows"
            if volts < 0.25 * rated_v
            else "may trip the supply: cold it asks for more than its limit"
            if supply.kind != "bench supply" and first_a > limit_a
            else "good load"
        )
        amounts = (say("load_v", volts), say("load_a", amps), say("load_a", first_a))
        out.append((f"{rated_v:g} V {rated_w:g} W", *amounts, word))
    if supply.kind in LIMITS and supply.limit_a is None:
        out = [(*row[:-1], "not known: the supply's limit is not on the sheet") for row in out]
    told = "A pack may trip on a cold lamp: its limit is not on the sheet. " if supply.kind == "battery" else ""
    told = told if supply.limit_a is None else ""
    if supply.form > 1.001:
        told += "Volts and amps as the lamp feels them, root mean square: " + _mean_words(supply)
    return table(("lamp", "volts", "amps", "at first, cold", ""), out, caption=told)


def _mean_words(supply):
    """How a meter's direct range reads what stands behind a rectifier without a capacitor."""
    return f"a meter's direct range shows {1 / supply.form:.0%} of them."


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
    soak_a = most_amps(build, workings.bench.limit_c)[0] if workings.bench is not None else np.nan
    fuse_a = np.nan if workings.bench is None else RUN_AT_MOST * workings.bench.fuse_a
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
                    say("winding_a", got.winding_a)
                    + ", past what the soak allows" * bool(got.winding_a > soak_a)
                    + ", past the fuse proposed above" * bool(got.winding_a > fuse_a),
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
        "side: it warms even without load, and only a soak test with the diode in place tells how much. "
        + (f"The soak test on the sheet allows {say('winding_a', soak_a)}." if np.isfinite(soak_a) else ""),
    )
