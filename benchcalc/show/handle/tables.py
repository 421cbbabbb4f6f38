"""Small tables of the handle page: remedies, estimates of a break, touch, hours, the wood."""

import numpy as np

from ...basics.fault import Fault
from ...basics.names import said_number, say
from ...basics.tables import rows as data
from ...chain.handle.link import GRIP_W_M2K
from ...chain.handle.verdicts import inspect_after_h
from ...chain.heat.in_time import warming
from ...chain.workings import band_text, chain
from ...sheet.change import change, item
from ...sheet.hole_defaults import pattern_of
from ...sheet.roles import part_with_role
from ...studies.remedies import advice, remedies
from ...thermal.holes import closed_form as hb
from ...thermal.holes.pattern import refuse_bad_pattern
from ...thermal.holes.solved_wall import solved_extra
from ..insulation.tables import hours_words
from ..page.table import say_state, table
from .numbers import whole_heat
from .panel import handle_links, with_holes

TIMES = ((1, "1 s"), (10, "10 s"), (60, "1 min"), (600, "10 min"), (28800, "8 h"))


def remedy_rows(build, found=None):
    """The remedies side by side.

    build: Build (floats). found: what studies.remedies.remedies gave, None to work it out.
    Returns Table.
    """
    way, rows = {"units": build.units, "degrees": build.degrees}, []
    for r in found or remedies(build):
        note = f" ({r.note})" if r.note else ""
        rows.append(
            (
                r.words + note,
                *(say("temp_c", t, **way) for t in (r.entry_c, r.bore_c, r.grip_c, r.tip_c)),
                f"{r.stiffness:.0%}" if np.isfinite(r.stiffness) else "not known",
                r.effort,
            )
        )
    return table(
        ("remedy", "tube at the handle", "wood at the tube", "handle outside", "tip", "stiffness", "effort"), rows
    )


def advice_rows(build, steps=None):
    """The advice step by step.

    build: Build. steps: what studies.remedies.advice gave, None to work it out.
    Returns Table.
    """
    way = {"units": build.units, "degrees": build.degrees}
    rows = [
        (
            s.words if i == 0 else f"+ {s.words}",
            band_text(s.entry, "entry_c", **way),
            say_state(s.wood),
            say_state(s.hand) if s.hand else "–",
        )
        for i, s in enumerate(steps or advice(build))
    ]
    return table(("step", "tube at the handle", "wood", "hand"), rows)


def estimates(build):
    """What the first heat break of a build is worth, by five ways, and which way each errs.

    build: Build with a heat break that has holes.
    Returns Table.
    """
    hole = build.heat_break[0]
    p = pattern_of(hole, item(build.part, hole.on))
    if p is None:
        return table(("estimate", "extra tube"), [("no holes", "none")])
    try:
        refuse_bad_pattern(p)
    except Fault as told:
        return table(("estimate", "extra tube"), [(f"not drilled: {told}", "none")])
    exact = solved_extra(p)
    tried = [
        ("heat flow solved in two dimensions", exact),
        ("smallest section over the whole break", hb.by_smallest_section(p)),
        ("slice by slice, heat spread evenly", hb.by_planes(p)),
    ]
    if p.rings <= 2 and p.slot_m == 0:
        limits = "" if hb.in_closed_form(p) else ", beyond its limits"
        tried.insert(1, ("closed form" + limits, hb.closed_form(p)))
    rows = []
    for word, extra in tried:
        off = extra / exact - 1
        errs = (
            "the measure of the others"
            if word.startswith("heat flow")
            else "agrees"
            if abs(off) < 0.012
            else "promises too much: unsafe"
            if off > 0
            else "promises too little: safe"
        )
        rows.append((word, say("extra_m", extra, units=build.units), f"{off:+.1%}" if abs(off) > 5e-4 else "0", errs))
    return table(("estimate", "extra tube", "off by", "which way"), rows)


def touch(build, handle):
    """How long the handle and the tube beside it may be touched, by material and with the spread of the sources.

    build: Build. handle: HandlePart.
    Returns Table.
    """
    limits = {(r["surface"], float(r["contact_time_s"])): r for r in data("touch_limits")}
    way, rows = {"degrees": build.degrees}, []

    def told(surface, seconds):
        row = limits[surface, seconds]
        ends = say("temp_c", row["value"], **way)
        return ends if row["high"] == row["value"] else f"{ends} (to {said_number('temp_c', row['high'], **way)})"

    for seconds, word in TIMES:
        wood, metal, plastic = (told(s, seconds) for s in ("wood", "metal", "plastic"))
        grip = "–" if np.isnan(handle.grip_c) else "yes" if handle.grip_c <= limits["wood", seconds]["value"] else "no"
        finger = "yes" if handle.finger_c <= limits["metal", seconds]["value"] else "no"
        rows.append((word, wood, plastic, metal, grip, finger))
    return table(("contact", "wood", "plastic", "bare metal", "this handle?", "the tube beside it?"), rows)


def hours(build, parts, minutes=(5, 15, 30, 60, 120, 240)):
    """The handle from cold: free, and what a hand round it does in the end.

    build: Build. parts: (supply, wire, coil, heat, ...) of the chain. minutes: times to show.
    Returns Table.
    """
    way = {"degrees": build.degrees}
    run = warming(build, *parts[1:4], until_s=60.0 * max(minutes), points=481)
    rows = [
        (
            f"{m} min",
            *(
                say("temp_c", float(np.interp(60.0 * m, run.time_s, y)), **way)
                for y in (run.tip_c, run.entry_c, run.grip_c)
            ),
        )
        for m in minutes
    ]
    free, held = chain(build)[3], chain(change(build, "heat.grip_w_m2k", GRIP_W_M2K))[3]
    for word, h in (("settled, handle free", free), ("settled, a hand round it (assumed)", held)):
        rows.append((word, *(say("temp_c", t, **way) for t in (h.tip_c, h.entry_c, h.grip_c))))
    return table(("after", "tip", "tube at the handle", "handle outside"), rows)


def rings(build, counts=(0, 1, 2, 3, 4)):
    """The handle and the stiffness against the number of rings.

    build: Build with a heat break. counts: numbers of rings.
    Returns Table.
    """
    way, rows = {"units": build.units, "degrees": build.degrees}, []
    for n in counts:
        *_, heat, handle = handle_links(with_holes(build, rings=float(n)))
        if handle is None:
            rows.append((n, "no room for them", "–", "–", "–"))
            continue
        rows.append(
            (
                n,
                say("extra_m", handle.extra_m, **way),
                say("entry_c", handle.entry_c, **way),
                say("grip_c", handle.grip_c, **way) if np.isfinite(handle.grip_c) else "–",
                f"{handle.stiffness:.0%}",
            )
        )
    return table(("rings", "worth in tube", "tube at the handle", "handle outside", "stiffness left"), rows)


def wood(build, handle):
    """What becomes of the handle's wood.

    build: Build. handle: HandlePart (floats).
    Returns Table.
    """
    way = {"units": build.units, "degrees": build.degrees}
    if np.isnan(handle.weaken_s):
        return table(("the wood", ""), [("handle", "not of wood, or its wood is not told apart: nothing to say")])
    rows = [
        ("moisture it comes to beside the tube", f"{100 * handle.dry:.1f} %" if handle.dry > 1e-3 else "next to none"),
        ("time at this heat until it is a tenth weaker (guess)", hours_words(handle.weaken_s)),
        ("look into the bore again after", hours_words(3600 * inspect_after_h(handle))),
    ]
    yearly = build.use.hours_per_year
    if yearly:
        weeks = 52 * inspect_after_h(handle) / yearly
        rows.append(
            ("that is, at the hours of your sheet", f"after {weeks:.1f} weeks" if weeks < 52 else "after a year")
        )
    if np.isfinite(handle.closing_m):
        rows.insert(
            1,
            (
                "its bore would close by, were no tube in it",
                f"{say('closing_m', handle.closing_m, **way)}, {handle.closing:.1%}",
            ),
        )
    return table(("the wood", "at the tube"), rows)


def marker_bench(build, parts, before_m=(0.0, 0.005, 0.010, 0.020, 0.030)):
    """Temperatures before the handle, with and without the holes: where a marker should turn.

    build: Build with a heat break. parts: (supply, wire, coil, heat, ...). before_m: distances from the handle, m.
    Returns Table.
    """
    way = {"degrees": build.degrees}
    handle = part_with_role(build, "handle", placed=True)
    tube = part_with_role(build, "tube", placed=True)
    rows = []
    for d in before_m:
        told = []
        for heat in (whole_heat(build, parts[1], parts[2]), parts[3]):
            x, t = heat.model.along(tube.id, heat.temps_c)
            told.append(say("temp_c", float(np.interp(handle.from_m - d, x, t)), **way))
        rows.append((say("length_m", d, units=build.units), *told))
    return table(("before the handle", "whole tube", "with the holes"), rows)
