"""Tables that pages share: numbers of a build with their bands, readings beside their line, inputs."""

import numpy as np

from ...basics.fault import Fault
from ...basics.names import NAMES, digits, say
from ...basics.tables import rows as _table_rows
from ...chain.workings import band_text
from .table import table


def numbers(build, workings, *paths, head="value (likely range)"):
    """Worked-out numbers with their bands.

    build: Build, for its units. workings: Workings. paths: e.g. "coil.coil_w". head: title of the column.
    Returns Table; what is not known yet says so.
    """
    way = {"units": build.units, "degrees": build.degrees}
    rows = []
    for path in paths:
        link, field = path.split(".")
        value = getattr(getattr(workings, link), field, None)
        known = value is not None and not np.isnan(value)
        band = workings.bands.get(path)
        rows.append(
            (
                NAMES[field].word,
                band_text(band, field, **way)
                if known and band
                else say(field, value, **way)
                if known
                else "not known yet",
            )
        )
    return table(("", head), rows)


def readings(build, workings):
    """The readings of the supply, each with its distance from the fitted line.

    build: Build. workings: Workings.
    Returns Table.
    """
    quality = workings.supply.quality if workings.supply is not None else None
    rows = []
    for i, r in enumerate(build.supply.reading):
        off = "–" if quality is None else f"{1e3 * quality.residual_v[i]:+.0f} mV"
        rows.append((f"{i + 1}", say("load_v", r.volts_v), say("load_a", r.amps_a), off))
    return table(("reading", "volts", "amps", "off the line"), rows or [("none yet", "–", "–", "–")])


def inputs(build):
    """Every input that has a range, with its ends and where they come from.

    build: Build.
    Returns Table.
    """
    rows = []
    for path, k in sorted(build.known.items()):
        field = path.rsplit(".", 1)[-1]
        if k.low < k.high:
            word = NAMES[field].word if field in NAMES else path
            rows.append(
                (
                    word,
                    f"{say(field, k.low)} to {say(field, k.high)}"
                    if field in NAMES
                    else f"{digits(k.low)} to {digits(k.high)}",
                    k.how,
                    k.text or "–",
                )
            )
    return table(("input with a range", "ends", "how known", "from"), rows or [("none", "–", "–", "–")])


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
    from ...chain.workings import links
    from ...sheet.change import change

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


def times(build, workings, minutes=(0, 2, 5, 10, 20, 40, 60)):
    """Temperatures at some times after switching on, and once settled.

    build: Build. workings: Workings. minutes: whole numbers.
    Returns Table.
    """
    from ...chain.heat.in_time import warming

    heat = workings.heat
    if heat is None or heat.refused:
        return table(("after switching on",), [("The heat model has nothing to work on for this sheet.",)])
    run = warming(build, workings.wire, workings.coil, heat, until_s=60.0 * max(minutes))
    fields = [
        (word, f)
        for word, f in (
            ("tip", "tip_c"),
            ("hottest wire", "wire_c"),
            ("tube at the handle", "entry_c"),
            ("handle outside", "grip_c"),
            ("what is melted", "work_c"),
        )
        if np.isfinite(getattr(run, f)[0])
    ]
    way = {"degrees": build.degrees}
    rows = [
        (f"{m} min", *(say(f, float(np.interp(60.0 * m, run.time_s, getattr(run, f))), **way) for _, f in fields))
        for m in minutes
    ]
    rows.append(("settled", *(say(f, float(getattr(heat, f)), **way) for _, f in fields)))
    return table(("after switching on", *(word for word, _ in fields)), rows)


def assembly(build, workings):
    """What each stage of assembly settles at, to check before the tool is closed.

    build: Build. workings: Workings.
    Returns Table.
    """
    from ...chain.heat.stages import stages

    way = {"degrees": build.degrees}
    try:
        found = stages(build, workings.wire, workings.coil) if workings.coil is not None else ()
    except Fault as told:
        return table(("stage",), [(str(told),)])
    rows = [
        (s.name, say("wire_c", s.wire_c, **way), say("tip_c", s.tip_c, **way) if np.isfinite(s.tip_c) else "–", s.word)
        for s in found
    ]
    return table(("stage", "hottest wire", "tip", "look for"), rows or [("no parts on this sheet", "–", "–", "–")])


def watts(build, workings):
    """Where the settled tool's watts go, part by part, as numbers and as bars of one scale.

    build: Build. workings: Workings.
    Returns Table; the last row closes the account.
    """
    from ...thermal.tool.watts_out import watts_out

    heat = workings.heat
    if heat is None or heat.model is None:
        return table(("heat given off by",), [("The heat model has nothing to work on for this sheet.",)])
    out = watts_out(heat.model, heat.temps_c)
    put_in = float(heat.model.net.power_w.sum())
    rows = [
        (part, f"{w:.2f} W", f"{w / put_in:.0%}", "▇" * round(30 * w / put_in))
        for part, w in sorted(out.items(), key=lambda x: -x[1])
    ]
    rows.append(
        (
            "together",
            f"{sum(out.values()):.2f} W",
            f"{sum(out.values()) / put_in:.0%}",
            f"put in, tails included: {put_in:.2f} W",
        )
    )
    return table(("heat given off by", "watts", "share", "bar"), rows)


def joint_matters(build, workings, scales=(0.03, 0.1, 0.3, 1.0, 3.0)):
    """The same tool with its first joint worse and better.

    build: Build. workings: Workings. scales: of the joint's conductance.
    Returns Table.
    """
    from ...chain.heat.link import work_heat
    from ...sheet.change import change

    if not build.joint or workings.heat is None or workings.heat.refused:
        return table(("joint",), [("This sheet names no joint.",)])
    first, way, rows = build.joint[0], {"degrees": build.degrees}, []
    for scale in scales:
        heat = work_heat(
            change(build, "joint.0.contact_scale", scale * first.contact_scale), workings.wire, workings.coil
        )
        rows.append(
            (
                f"{scale:g} times",
                *(
                    say(k, v, **way) if np.isfinite(v) else "–"
                    for k, v in (("tip_c", heat.tip_c), ("wire_c", heat.wire_c), ("entry_c", heat.entry_c))
                ),
            )
        )
    return table(
        (f"joint of {' and '.join(first.between)}, {first.made}", "tip", "hottest wire", "tube at the handle"), rows
    )


def marker_places(build, workings):
    """Where along the tube each safe melting marker should turn.

    build: Build. workings: Workings.
    Returns Table: marker, its melting, the place on the settled tube.
    """
    heat = workings.heat
    tube = next((p.id for p in build.part if p.role == "tube"), None)
    if heat is None or heat.model is None or tube is None:
        return table(("marker",), [("No tube to slide a marker along.",)])
    x, t = heat.model.along(tube, heat.temps_c)
    start = int(np.argmax(t))
    rows = []
    handle = next((p for p in build.part if p.role == "handle"), None)
    bare = x <= (handle.from_m if handle is not None else x[-1])  # under the handle nothing can be slid
    x, t = x[bare], t[bare]
    start = int(np.argmax(t))
    for r in sorted((r for r in _table_rows("markers") if r["safe"] == "yes"), key=lambda r: r["low_c"]):
        if t[start:].min() < r["low_c"] < t[start:].max():
            at = float(np.interp(-r["low_c"], -t[start:], x[start:]))
            rows.append(
                (
                    r["marker"],
                    say("temp_c", r["low_c"], degrees=build.degrees),
                    f"{r['bench_error_k']:g} K",
                    say("length_m", at, units=build.units),
                )
            )
    return table(
        ("marker", "melts from", "sure to", "turns on the tube at"), rows or [("none of the list", "–", "–", "–")]
    )


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


def powers(build, workings, shares=(1.0, 0.75, 0.5, 0.25)):
    """The settled tool at shares of its power.

    build: Build. workings: Workings. shares: of the coil's power.
    Returns Table.
    """
    from ...chain.heat.link import work_heat

    if workings.heat is None or workings.heat.model is None:
        return table(("power",), [("The heat model has nothing to work on for this sheet.",)])
    watts = np.array(shares) * workings.coil.coil_w
    heat, way = work_heat(build, workings.wire, workings.coil, watts), {"degrees": build.degrees}
    fields = [
        (word, f)
        for word, f in (
            ("tip", "tip_c"),
            ("hottest wire", "wire_c"),
            ("tube at the handle", "entry_c"),
            ("handle outside", "grip_c"),
            ("what is melted", "work_c"),
        )
        if not np.all(np.isnan(getattr(heat, f)))
    ]
    rows = [
        (f"{share:.0%}, {say('coil_w', float(w))}", *(say(f, float(getattr(heat, f)[i]), **way) for _, f in fields))
        for i, (share, w) in enumerate(zip(shares, watts))
    ]
    return table(("power in the coil", *(word for word, _ in fields)), rows)
