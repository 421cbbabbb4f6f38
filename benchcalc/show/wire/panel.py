"""The panels of the workbooks: which sliders, which link, which picture, which words."""

import numpy as np

from ...basics.fault import Fault
from ...basics.names import say
from ...chain.heat.verdicts import wire_check
from ...chain.supply.link import most_open_v, nothing_sized
from ...chain.wire.coil import asked_a, held_w, trips_on
from ...chain.wire.fit_verdicts import slack_m
from ...chain.workings import chain, electrical_bands, links, settled
from ...heater import wire as w
from ...materials.alloys import alloy_name
from ...materials.gauges import sizes
from ...sheet.build import Build
from ..page.worked import shown_in, worked
from ..panel.from_sheet import FromSheet
from ..panel.panel import Kept, panel
from ..panel.sliders import Choice, Slider, Telling, headlines, judged
from .length_figure import LENGTH
from .stacked_figure import WIRE_SIZING
from .wire_heat import AT_REST, wire_tile

LEAST_WALL_M = 0.3e-3
HEAT = "the settled tool"  # kept beside the bands that come at rest
ALLOYS = ("nicr-80-20", "nicr-60-15", "fecral", "fecral-25-5", "cuni-44")


def wire_sliders(build):
    """The sliders of the wire page, around what the sheet plans.

    build: Build with a supply, a wire and a coil.
    Returns list of Slider and Choice; those that this sheet has no field for are left out by the panel.
    """
    _, wire, coil = links(build)
    length_m = coil.length_m if coil is not None and coil.length_m == coil.length_m else 1.0
    own = [("as on the sheet", f"{1e3 * wire.diameter_m:.6g} mm")] if wire.diameter_m == wire.diameter_m else []
    around = wire.diameter_m if own else 0.4e-3
    near = [n for n, d in near_sizes(build, around)]
    untold = [] if wire.alloy else [("the sheet names none", None)]
    return [
        Slider("coil.length_m", min(0.15, length_m / 3), 2.2 * length_m, 0.005, "wire length in the coil"),
        Slider("supply.open_v", 3.0, most_open_v(build.supply), 0.2, "no-load voltage"),
        Choice(f"wire.{wire.id}.alloy", (*untold, *((alloy_name(k), k) for k in ALLOYS)), "alloy"),
        Choice(f"wire.{wire.id}.gauge", (*own, *near), "wire size"),
        Slider(f"part.{build.coil.on}.outer_m", *former_ends_m(build, coil), 0.25e-3, "former"),
    ]


def former_ends_m(build, coil):
    """How thin and how thick the former may be: from its bore and a wall, to what goes into the tube around the coil.

    build: Build (floats). coil: CoilPart or None.
    Returns (low, high) in m.
    """
    on = next((p for p in build.part if build.coil is not None and p.id == build.coil.on), None)
    if on is None or coil is None or on.outer_m is None:
        return 3e-3, 12e-3
    slack = slack_m(build, coil)
    high = 2 * on.outer_m if not np.isfinite(slack) else on.outer_m + max(slack, 0.0)
    return max((on.inner_m or 0.0) + 2 * LEAST_WALL_M, 0.5 * on.outer_m), high


def _spread(row, build, coil):
    """The tile on the room left, where the turns of a coil without a pitch are spread until none is left."""
    fills = row[0] == "room left" and build.coil.pitch_m is None and abs(coil.spare_m) < 1e-6
    return (row[0], "none (turns spread to fill it)") if fills else row


def near_sizes(build: Build, diameter_m: float) -> tuple:
    """Standard sizes of about one wire's diameter, in the system that the sheet uses.

    build: Build. diameter_m: of the wire.
    Returns tuple of (name, diameter_m), thickest first.
    """
    gauges = [wire.gauge or "" for wire in build.wire]
    system = "SWG" if any("SWG" in g.upper() for g in gauges) else "AWG" if build.units == "inch" else "metric"
    return tuple((n, d) for n, d in sizes(system) if 0.55 < d / diameter_m < 1.8)


def _nothing(result, _, __):
    refused = "none: this supply is refused" if result[0].refused else "none: the supply's line is not known yet"
    return [("coil on this supply", refused)]


def wire_panel(build: Build) -> Kept:
    """The signature panel: slide the wire, see watts, amps, surface load and room.

    build: Build of the sheet.
    Returns a widget box, as show.panel.panel; with nothing to slide where nothing can be sized on the supply.
    """

    supply = links(build)[0]
    if supply is not None and nothing_sized(supply):
        return panel(build, [], links, LENGTH, Telling(says=_nothing))

    def derive(parts, at):
        _, wire, coil = parts
        made = (
            worked(w.cold_resistance, linear_ohm_per_m=wire.linear_ohm_per_m, length_m=coil.length_m),
            worked(w.surface_load, coil_w=coil.coil_w, edge_m=wire.edge_m, length_m=coil.length_m),
        )
        return [shown_in(one, at.units, at.degrees) for one in made]

    told = headlines(
        ("power in the coil", "coil.coil_w"),
        ("current", "coil.load_a"),
        ("surface load", "coil.surface_load_w_m2"),
        ("turns", "coil.turns"),
        ("room left", "coil.spare_m"),
        ("cold ohms at the tails", "coil.meter_ohm"),
    )

    def says(result, at, bands):
        rows = [_spread(row, at, result[2]) for row in told(result, at, bands)]
        rows.append(("hottest wire", AT_REST if bands is None else wire_tile(at, bands.get(HEAT))))
        if not trips_on(result[0].kind, result[2]):
            return rows
        supply, _, coil = result
        asked, held = say("load_a", asked_a(supply, coil)), say("coil_w", held_w(supply, coil))
        return [
            (rows[0][0], f"none, or {held}: it trips, or holds its limit"),
            (rows[1][0], f"asks for {asked} of {say('limit_a', supply.limit_a)}"),
            (rows[2][0], "not known: it trips"),
            *rows[3:-1],
            (rows[-1][0], "not known (it trips)"),
        ]

    telling = Telling(says=says, verdicts=_with_heat, derive=derive, slow=_at_rest)
    begins = FromSheet(build, lambda sheet: (settled(sheet), wire_sliders(settled(sheet))))
    return panel(*begins.start(build), links, WIRE_SIZING, telling, begins=begins)


def _with_heat(result, build, bands):
    """The usual verdicts, and at rest what is wrong with the wire's heat.  result, build, bands: as `judged`."""
    heat = (bands or {}).get(HEAT)
    hot = [] if heat is None or heat.refused else [wire_check(build, heat, {})]
    return [*(("heat", v) for v in hot if v.state != "fine"), *judged(result, build, bands)]  # of two over, the graver


def _at_rest(build):
    """The bands of the electrical numbers, and the settled tool behind the wire's temperature, in slices.

    build: Build.
    """
    try:
        heat = chain(build).heat
    except Fault:
        heat = None
    yield 1, 2, ""
    return electrical_bands(build) | {HEAT: heat}
