"""Tables of the heat page: in time, at less power, watts by part, assembly, the joint, melting markers."""

import numpy as np

from ...basics.fault import Fault
from ...basics.names import say
from ...basics.tables import rows as table_rows
from ...chain.heat.in_time import warming
from ...chain.heat.link import work_heat
from ...chain.heat.stages import stages
from ...sheet.change import change
from ...sheet.roles import part_with_role
from ...thermal.tool.watts_out import watts_out
from ..page.table import table

PLACES = (
    ("tip", "tip_c"),
    ("hottest wire", "wire_c"),
    ("tube at the handle", "entry_c"),
    ("handle outside", "grip_c"),
    ("what is melted", "work_c"),
)


def times(build, workings, minutes=(0, 2, 5, 10, 20, 40, 60)):
    """Temperatures at some times after switching on, and once settled.

    build: Build. workings: Workings. minutes: whole numbers.
    Returns Table.
    """
    heat = workings.heat
    if heat is None or heat.refused:
        return table(("after switching on",), [("The heat model has nothing to work on for this sheet.",)])
    run = warming(build, workings.wire, workings.coil, heat, until_s=60.0 * max(minutes))
    fields = [(word, f) for word, f in PLACES if np.isfinite(getattr(run, f)[0])]
    way = {"degrees": build.degrees}
    rows = [
        (f"{m} min", *(say(f, float(np.interp(60.0 * m, run.time_s, getattr(run, f))), **way) for _, f in fields))
        for m in minutes
    ]
    rows.append(("settled", *(say(f, float(getattr(heat, f)), **way) for _, f in fields)))
    return table(("after switching on", *(word for word, _ in fields)), rows)


def powers(build, workings, shares=(1.0, 0.75, 0.5, 0.25)):
    """The settled tool at shares of its power.

    build: Build. workings: Workings. shares: of the coil's power.
    Returns Table.
    """
    if workings.heat is None or workings.heat.model is None:
        return table(("power",), [("The heat model has nothing to work on for this sheet.",)])
    watts = np.array(shares) * workings.coil.coil_w
    heat, way = work_heat(build, workings.wire, workings.coil, watts), {"degrees": build.degrees}
    fields = [(word, f) for word, f in PLACES if not np.all(np.isnan(getattr(heat, f)))]
    rows = [
        (f"{share:.0%}, {say('coil_w', float(w))}", *(say(f, float(getattr(heat, f)[i]), **way) for _, f in fields))
        for i, (share, w) in enumerate(zip(shares, watts))
    ]
    return table(("power in the coil", *(word for word, _ in fields)), rows)


def watts(build, workings):
    """Where the settled tool's watts go, part by part, as numbers and as bars of one scale.

    build: Build. workings: Workings.
    Returns Table; the last row closes the account.
    """
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


def assembly(build, workings):
    """What each stage of assembly settles at, to check before the tool is closed.

    build: Build. workings: Workings.
    Returns Table.
    """
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


def joint_matters(build, workings, scales=(0.03, 0.1, 0.3, 1.0, 3.0)):
    """The same tool with its first joint worse and better.

    build: Build. workings: Workings. scales: of the joint's conductance.
    Returns Table.
    """
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
    tube = part_with_role(build, "tube")
    if heat is None or heat.model is None or tube is None:
        return table(("marker",), [("No tube to slide a marker along.",)])
    x, t = heat.model.along(tube.id, heat.temps_c)
    start = int(np.argmax(t))
    rows = []
    handle = part_with_role(build, "handle")
    bare = x <= (handle.from_m if handle is not None else x[-1])  # under the handle nothing can be slid
    x, t = x[bare], t[bare]
    start = int(np.argmax(t))
    for r in sorted((r for r in table_rows("markers") if r["safe"] == "yes"), key=lambda r: r["low_c"]):
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
