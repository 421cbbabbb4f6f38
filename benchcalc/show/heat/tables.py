"""Tables of the heat page: bands of today, at less power, watts by part, assembly, the joint."""

import numpy as np

from ...basics.band import Band
from ...basics.fault import Fault
from ...basics.names import NAMES, say
from ...chain.heat.by_hand import hand_steps
from ...chain.heat.link import work_heat
from ...chain.heat.melting_wire import told_band, told_c, told_end, wire_melts_c
from ...chain.heat.stages import stages
from ...chain.workings import drawn_builds, links
from ...sheet.change import change
from ...studies.still_air import STILL_M_S, in_still_air, is_left_out
from ...studies.today import bands_today
from ...thermal.tool.bare_coil import MOST_C
from ...thermal.tool.watts_between import temps_at_joint
from ...thermal.tool.watts_out import watts_out
from ..page.table import table

ONE_PIECE = "one piece"
PLACES = (
    ("tip", "tip_c"),
    ("hottest wire", "wire_c"),
    ("tube at the handle", "entry_c"),
    ("handle outside", "grip_c"),
    ("what is melted", "work_c"),
)


def powers(build, workings, shares=(1.0, 0.75, 0.5, 0.25)):
    """The settled tool at shares of its power.

    build: Build. workings: Workings. shares: of the coil's power.
    Returns Table.
    """
    if workings.heat is None or workings.heat.model is None:
        return table(("power",), [("The heat model has nothing to work on for this sheet.",)])
    watts, melts_c = np.array(shares) * workings.coil.coil_w, wire_melts_c(build)
    heat, way = work_heat(build, workings.wire, workings.coil, watts), {"degrees": build.degrees}
    fields = [(word, f) for word, f in PLACES if not np.all(np.isnan(getattr(heat, f)))]
    rows = [
        (
            f"{share:.0%}, {say('coil_w', float(w))}",
            *(told_c(f, float(getattr(heat, f)[i]), melts_c, **way) for _, f in fields),
        )
        for i, (share, w) in enumerate(zip(shares, watts))
    ]
    return table(("power in the coil", *(word for word, _ in fields)), rows)


def any_day_and_today(build, workings):
    """The bands of any day beside those of the day that the supply was read, when the mains stays where it is.

    build: Build. workings: Workings.
    Returns Table.
    """
    way, rows, melts_c = {"units": build.units, "degrees": build.degrees}, [], wire_melts_c(build)
    for path, narrow in bands_today(build, workings).items():
        field = path.split(".")[1]
        wide = workings.bands.get(path, narrow)
        spans = (
            " to ".join(dict.fromkeys(told_end(field, x, melts_c, **way) for x in (b.low, b.high)))
            for b in (wide, narrow)
        )
        rows.append((NAMES[field].word, told_c(field, wide.nominal, melts_c, **way), *spans))
    return table(("", "value", "any day", "today"), rows or [("temperatures", "not known yet", "–", "–")])


def still_air(build, workings):
    """What still air does to the tube at the handle and to the handle, where the ranges leave it out.

    build: Build. workings: Workings.
    Returns a sentence; "" where still air is within the ranges, or neither place is known.
    """
    heat = None if workings.heat is None or workings.heat.refused or not is_left_out(build) else in_still_air(build)
    told, way = [], {"degrees": build.degrees}
    for place, field in (PLACES[2], PLACES[3]):
        if heat is not None and np.isfinite(getattr(heat, field)):
            band = workings.bands.get(f"heat.{field}")
            beyond = ", past its range" if band is not None and getattr(heat, field) > band.high else ""
            now = say(field, getattr(workings.heat, field), **way)
            told.append(f"{place} {say(field, getattr(heat, field), **way)} in place of {now}{beyond}")
    still = say("air_speed_m_s", STILL_M_S, units=build.units)
    return f"Still air, {still}, lies outside these ranges: {'; '.join(told)}." if told else ""


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


def hand_and_tool(build, workings, reach_m, conductivity_w_mk, section_m2):
    """The tube at the handle by hand beside the tool, one simplification less a row.

    build: Build. workings: Workings. reach_m, conductivity_w_mk, section_m2: of the tube, as by hand.
    Returns Table.
    """
    steps = hand_steps(build, workings.heat, reach_m, conductivity_w_mk, section_m2)
    if steps is None:
        return table(("by hand and in the tool",), [("No tube runs from a winding into a handle on this sheet.",)])
    way = {"degrees": build.degrees}
    beyond = say("load_w", abs(steps.beyond_w))
    rows = [
        ("by hand: from where the winding ends, nothing lost at the handle", steps.hand_k),
        (f"and {beyond} that {'go on under' if steps.beyond_w > 0 else 'come from'} the handle", steps.drained_k),
        ("the tool: loss and conductivity of its own temperature at each place", steps.tool_k),
    ]
    return table(
        ("tube at the handle, rise over the room", "rise", "step"),
        [
            (words, say("rise_k", rise, **way), "–" if i == 0 else say("rise_k", rise - rows[i - 1][1], **way))
            for i, (words, rise) in enumerate(rows)
        ],
    )


def assembly(build, workings):
    """What each stage of assembly settles at, to check before the tool is closed.

    build: Build. workings: Workings.
    Returns Table.
    """
    way, melts_c, found = {"degrees": build.degrees}, wire_melts_c(build), ()
    try:
        if workings.coil is not None and workings.heat is not None:
            drawn = drawn_builds(build, workings.heat, workings.wire)
            _, wires, coils = links(drawn)
            found = stages(build, workings.wire, workings.coil, many=(drawn, wires, coils))
    except Fault as told:
        return table(("stage",), [(str(told),)])
    bands = [s.band for s in found[:-1]] + [workings.bands.get("heat.wire_c")]  # the closed tool is the chain's own
    rows = [
        (
            s.name,
            _stage_c(Band(s.wire_c, s.wire_c, s.wire_c) if band is None else band, melts_c, way),
            say("tip_c", s.tip_c, **way) if np.isfinite(s.tip_c) else "–",
            f"{s.word} {s.glow}".strip(),
        )
        for s, band in zip(found, bands)
    ]
    return table(("stage", "hottest wire", "tip", "look for"), rows or [("no parts on this sheet", "–", "–", "–")])


def _stage_c(band, melts_c, way):
    """The wire of a stage in words; past the reach of the coil alone, of an alloy whose melting nobody knows."""
    if np.isinf(band.nominal) and np.isinf(melts_c):
        return f"over {say('wire_c', MOST_C, **way)}"
    return told_band(band, "wire_c", melts_c, **way)


def joint_matters(build, workings, scales=(0.03, 0.1, 0.3, 1.0, 3.0)):
    """The same tool with the joint that has the largest drop across it worse and better.

    build: Build. workings: Workings. scales: of the joint's conductance.
    Returns Table.
    """
    found = _dropping_joint(build, workings.heat)
    if found is None:
        return table(("joint",), [("This sheet names no joint that heat must cross.",)])
    number, drop_k = found
    own, way, rows = build.joint[number], {"degrees": build.degrees}, []
    for scale in scales:
        moved = change(build, f"joint.{number}.contact_scale", scale * own.contact_scale)
        heat = work_heat(moved, workings.wire, workings.coil)
        rows.append(
            (
                f"{scale:g} times",
                *(
                    told_c(k, v, wire_melts_c(build), **way) if np.isfinite(v) else "–"
                    for k, v in (("tip_c", heat.tip_c), ("wire_c", heat.wire_c), ("entry_c", heat.entry_c))
                ),
            )
        )
    head = f"joint of {' and '.join(own.between)}, {own.made}, {say('drop_k', drop_k, **way)} across it"
    return table((head, "tip", "hottest wire", "tube at the handle"), rows)


def _dropping_joint(build, heat):
    """(number of the joint with the largest drop across it, K), None where heat crosses none; what is one piece has
    no surfaces that could part."""
    if heat is None or heat.model is None:
        return None
    drops = {
        i: abs(np.subtract(*temps_at_joint(heat.model, heat.temps_c, *joint.between)))
        for i, joint in enumerate(build.joint)
        if joint.made != ONE_PIECE
    }
    drops = {i: float(k) for i, k in drops.items() if np.isfinite(k)}
    return max(drops.items(), key=lambda d: d[1], default=None)
