"""Tables of the bench: fuses, cables, what may be drawn with rests, what may be drawn for hours."""

import numpy as np

from ...basics.names import say
from ...basics.tables import one
from ...chain.bench.fuse import short_of
from ...chain.bench.lasting import lasting
from ...chain.bench.link import METALS, UNMARKED_CLASS, soak_end
from ...chain.bench.load_at import most_amps
from ...heater import protection, soak
from ...sheet.change import change
from ..page.table import table
from .tables import instead_of

CABLES_M2 = (0.5e-6, 0.75e-6, 1.0e-6, 1.5e-6)


def fuses(build, workings):
    """Every preferred rating against this coil's current and a short at the handle.

    build: Build. workings: Workings.
    Returns Table.
    """
    if (no := instead_of(workings, "fuse")) is not None:
        return no
    bench, supply = workings.bench, workings.supply
    if bench is None or np.isnan(bench.fuse_a):
        return table(
            ("fuse",),
            [(bench.said if bench is not None and bench.said else "No current is known yet to choose a fuse for.",)],
        )
    out, known = [], build.known.get("supply.warming")
    limit_a = np.inf if supply.limit_a is None else supply.limit_a
    for rating in protection.RATINGS_A:
        if not 0.4 * bench.winding_a < rating < 5.0 * bench.winding_a:
            continue
        ohm = float(protection.fuse_ohms(rating))
        source_ohm = supply.winding_ohm * (known.high if known else 1.0)
        short = short_of(supply, supply.short_v, source_ohm, limit_a, bench.cable_ohm + ohm)
        word = (
            "too small for hours"
            if bench.winding_a > protection.RUN_AT_MOST * rating
            else ("the smallest that carries it" if supply.kind == "switching supply" else "proposed")
            if rating == bench.fuse_a
            else "larger than needed"
        )
        out.append(
            (
                f"{rating:g} A",
                word,
                "not known" if np.isnan(short) else f"{short / rating:.1f}",
                *(_opens(supply, kind, rating, short) for kind in ("time-lag", "quick-acting")),
                say("load_v", bench.winding_a * ohm),
            )
        )
    return table(
        (
            "rating",
            "for this coil",
            "short, times the rating",
            "time-lag opens within",
            "quick-acting opens within",
            "volts it costs",
        ),
        out,
        caption=_fuse_words(supply, bench.fuse_kind),
    )


def _fuse_words(supply, kind):
    told = "" if supply.kind == "switching supply" else f"Proposed: {kind}. "
    told += (
        "Gates of the standard's sheets, straight in logarithms between their points: read off, not "
        "promised there; those of quick-acting fuses from memory. A heater of resistance wire has no inrush; a lamp or "
        "a smoothing capacitor has, and asks for time-lag."
    )
    if supply.kind == "switching supply":
        told = (
            "This supply limits itself: into a short it gives its limit for a moment and stops, so no fuse is promised "
            "to open. Its limit is the protection, and the cable must carry that. " + told
        )
    if supply.kind == "battery":
        told = (
            "A battery is not stopped by a fuse that only promises alternating current: at its terminal belongs one "
            "that is marked for direct current and for the short it can give. " + told
        )
    return told


def _opens(supply, kind, rating, short):
    latest_s = np.nan if np.isnan(short) else protection.opening(kind, rating, short).latest_s
    if np.isnan(latest_s):
        return "not known"
    if np.isinf(latest_s) or supply.kind == "switching supply":
        return "no promise"
    return f"{latest_s / 60:.2g} min" if latest_s >= 100 else f"{latest_s:.2g} s"


def cables(build, workings, length_m=1.5):
    """What a two-core cable costs.

    build: Build. workings: Workings. length_m: of the cable, there and back counted in the answer.
    Returns Table.
    """
    coil, out = workings.coil, []
    if coil is None or np.isnan(coil.load_a):
        return table(("cable",), [("No current is known yet.",)])
    for area in CABLES_M2:
        ohm = protection.cable_resistance(length_m, area)
        out.append(
            (
                f"{area * 1e6:g} mm2",
                say("cable_ohm", ohm),
                say("load_v", coil.load_a * ohm),
                say("load_w", coil.load_a**2 * ohm),
                f"{ohm / (coil.hot_ohm + ohm):.1%}",
            )
        )
    return table(
        (f"{length_m:g} m of cable", "ohms, both cores", "volts lost", "heat in it", "share of the coil's ohms"), out
    )


def duties(build, workings):
    """How much more a load may draw when it rests in between.

    build: Build. workings: Workings.
    Returns Table.
    """
    va, supply = np.nan if workings.bench is None else workings.bench.load_va, workings.supply
    if np.isnan(va):
        return table(("duty",), [("No load is known yet.",)])
    if supply.kind == "battery":
        shares = ((share, workings.bench.run_s / share) for share in (1.0, 0.75, 0.5, 0.25))
        return table(("on, of each minute", "one charge lasts"), [(f"{s:.0%}", say("run_s", r)) for s, r in shares])
    if supply.kind != "transformer":
        no = "Rests do not help it: its limit acts on the amps while they flow, cold wire first."
        return table(("duty",), [(no,)])
    out = [
        (f"{share:.0%}", say("load_va", float(soak.steady_equal(va, 60.0 * share, 60.0))))
        for share in (1.0, 0.75, 0.5, 0.25)
    ]
    head = ("on, of each minute", f"warms like a steady load of (now {say('load_va', va)})")
    told = "By the root of the share, since copper goes with the square of the amps, but never below "
    told += f"{1 / soak.MOST_DUTY_GAIN:.0%} of the load: the iron never rests (own judgement)."
    return table(head, out, caption=told)


def soak_stops(build, workings):
    """What ends a soak test before its hours are over.

    build: Build. workings: Workings.
    Returns Table.
    """
    if (no := instead_of(workings, "stop when")) is not None:
        return no
    test, bench = build.soak, workings.bench
    if build.supply.kind not in (None, "transformer"):
        return table(
            ("stop when", "because"),
            [
                ("there is any smell, or a noise that was not there", "something in it burns: unplug it, and leave it"),
                ("its case is too hot to hold a hand on", "it is loaded past what it was built for"),
                ("it swells, or its volts fall on and on", "a cell is at its end: take the load off, outside"),
            ][: 3 if build.supply.kind == "battery" else 2],
        )
    limit = soak.class_limit(UNMARKED_CLASS)[0] if bench is None else bench.limit_c
    room = 20.0 if test.cold_room_c is None else test.cold_room_c
    gain = float(soak.hot_winding(1.0, room, limit, METALS[test.metal]))
    reads = f"has gained {gain - 1:.0%}" if test.cold_ohm is None else f"reads {say('load_ohm', gain * test.cold_ohm)}"
    past = f"the mean of the winding is past {say('limit_c', limit, degrees=build.degrees)}, the end of its class"
    return table(
        ("stop when", "because"),
        [
            ("there is any smell", "varnish or paper is burning: this transformer has had its last test"),
            ("the core is too hot to hold a hand on", "inside it is hotter by tens of kelvin"),
            (f"the primary {reads}", past),
            ("the primary reads open", "its one-shot thermal link has opened: never bridge it, it is scrap"),
        ],
    )


def _no_end(build):
    """Why a soak test does not tell where the hours lead."""
    if soak_end(build) is None:
        return "Nobody knows where the hours lead: the sheet needs three readings or more over them, [[soak.hour]]."
    return "The soak test was too short to tell where the hours lead: go on."


def hours_allow(build, workings):
    """The current that the soak test allows for hours, in today's room and in a closed box.

    build: Build. workings: Workings.
    Returns Table.
    """
    if (no := instead_of(workings, "for hours")) is not None:
        return no
    bench, supply = workings.bench, workings.supply
    if supply is not None and supply.kind != "transformer":
        words = lasting(build, supply, np.nan if bench is None else bench.load_a)[0]
        return table(("supply", "how long, with this coil"), [(supply.kind, words or "no current is known yet")])
    if bench is None or np.isnan(bench.winding_rise_k) or build.soak.load_a is None:
        return table(("for hours",), [("No soak test with its amps on this sheet yet.",)])
    out, amps = [], bench.winding_a
    copper_w = (amps if np.isfinite(amps) else build.soak.load_a) ** 2 * (supply.source_in_use_ohm - bench.cable_ohm)
    lost = copper_w / (1 - one("defaults", "key", "soak.iron_share")["value"])
    drawn = workings.bands["bench.winding_a"].high if "bench.winding_a" in workings.bands else amps
    room = build.room.ambient_c if build.soak.end_room_c is None else build.soak.end_room_c
    for word, more in (("in the open room", 0.0), ("in a closed box, 10 cm cube", soak.box_rise(lost, 0.06))):
        low, mid, high = most_amps(change(build, "room.ambient_c", room + float(more)), bench.limit_c)
        if np.isnan(mid):
            return table(("for hours",), [(_no_end(build),)])
        out.append(
            (
                word,
                say("rise_k", float(more), degrees=build.degrees),
                f"{say('load_a', mid)} ({low:.2f} to {high:.2f})",
                "–" if np.isnan(amps) else "fine" if drawn <= low else "tight" if amps <= mid else "over",
            )
        )
    return table(
        (
            "where",
            "air warmer by",
            f"amps that reach {say('limit_c', bench.limit_c, degrees=build.degrees)}",
            "this coil",
        ),
        out,
    )
