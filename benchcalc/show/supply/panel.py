"""The panel of the supply page: slide the load along the supply's line and see what the hours make of it."""

from dataclasses import replace

import numpy as np

from ...basics.band import band_of
from ...basics.names import said_number, say
from ...chain.bench.link import run_of
from ...chain.bench.load_at import work_load
from ...chain.bench.load_verdicts import load_checks, winding_melts_c
from ...chain.supply.link import most_open_v, work_supply
from ...chain.workings import SAMPLES, SEED, band_text, links
from ...heater import supply as s
from ...sheet.build import Build
from ...sheet.change import sample
from ..drawing.live_picture import stack
from ..page.worked import shown_in, worked
from ..panel.from_sheet import FromSheet
from ..panel.panel import Kept, panel
from ..panel.sliders import Slider, Telling
from .line_figure import LOAD_LINE
from .soak_figure import SOAK

SUPPLY = stack(LOAD_LINE, SOAK)


def with_load(build: Build) -> Build:
    """The build with a load to look at: its own coil, or one that takes a third of the short-circuit current.

    build: Build.
    Returns Build; unchanged where the supply's line is not known.
    """
    supply, _, coil = links(build)
    if supply is None or supply.refused or np.isnan(supply.source_in_use_ohm):
        return build
    ohm = coil.hot_ohm + coil.meter_ohm - coil.cold_ohm if coil is not None else np.nan
    if not np.isfinite(ohm):
        loaded = [r.volts_v / r.amps_a for r in build.supply.reading if r.amps_a]
        ohm = (
            loaded[-1]
            if loaded
            else 2 * supply.source_in_use_ohm
            if supply.source_in_use_ohm > 0
            else supply.open_in_use_v / (0.5 * (supply.limit_a or 1.0))
        )
    return replace(build, supply=replace(build.supply, load_ohm=float(f"{ohm:.3g}")))


def at_load(build: Build) -> tuple:
    """Supply and load: the link behind the panel.

    build: Build with supply.load_ohm.
    Returns (SupplyPart, LoadPart).
    """
    supply = work_supply(build)
    return supply, work_load(build, supply)


def load_bands(build):
    """Bands of volts, amps and watts at the load, in slices.  build: Build.  Returns dict of field -> Band."""
    one = at_load(build)[1]
    yield 1, 2, ""
    many = at_load(sample(build, SAMPLES, SEED))[1]
    if one is None or many is None:
        return {}
    return {
        f: band_of(getattr(one, f), np.broadcast_to(getattr(many, f), SAMPLES))
        for f in ("load_v", "load_a", "load_w", "source_loss_w")
    }


def _says(result, build, bands):
    load = result[1]
    if load is None:
        refused = result[0] is not None and result[0].refused
        return [("load", "none: this supply is refused" if refused else "the supply's line is not known yet")]
    rows = [
        (word, band_text(replace(bands[f], nominal=getattr(load, f)), f) if bands else say(f, getattr(load, f)))
        for word, f in (
            ("power in this load", "load_w"),
            ("current in it", "load_a"),
            ("volts at it", "load_v"),
            ("heat inside", "source_loss_w"),
        )
    ]
    if build.supply.kind in s.LIMITS and not result[0].source_ohm > 0:  # what it loses inside its case nobody typed
        rows[3] = (rows[3][0], "not known: what it loses itself")
    if _trips(result):
        rows[0] = (rows[0][0], f"none: it asks for {say('load_a', _asked_a(result))}, and the supply trips")
        rows[1:3] = [(word, "–") for word, _ in rows[1:3]]
    if build.supply.kind == "battery":
        rows.append(("one charge lasts", run_words(build, result[0], load.load_a)))
    if build.supply.kind != "transformer":
        return rows
    rows.append(
        (
            "supply's winding after hours",
            "not known: needs a soak"
            if np.isnan(load.winding_rise_k)
            else "melts: its copper runs before that"
            if load.winding_c >= winding_melts_c()
            else f"{say('winding_c', load.winding_c, degrees=build.degrees)} "
            + (
                f"({_room(build, load.low_k)} to {_room(build, load.high_k)})"
                if np.isfinite(load.high_k)
                else "or more: no readings over the hours"
            ),
        )
    )
    return rows


def _trips(result):
    supply, load = result
    return supply.kind in s.TRIPS and bool(load.limited)


def _asked_a(result):
    supply, load = result
    return s.load_current(supply.open_in_use_v, supply.source_in_use_ohm, load.load_ohm)


def run_words(build, supply, load_a):
    """How long a battery lasts under a load.

    build: Build. supply: SupplyPart. load_a: A.
    Returns words, with the band of what is usable.
    """
    mid = run_of(build, supply, load_a)
    if np.isnan(mid):
        return 'not known: write charge = "4 Ah" or energy = "72 Wh", as its label says'
    if not load_a > 0:
        return "no current flows"
    usable = build.known.get("supply.usable")
    ends = (1.0, 1.0) if usable is None else [x / build.supply.usable for x in (usable.low, usable.high)]
    return f"{mid / 60:.0f} min ({ends[0] * mid / 60:.0f} to {ends[1] * mid / 60:.0f})"


def _room(build, rise_k):
    temp_c = build.room.ambient_c + rise_k
    return "melts" if temp_c >= winding_melts_c() else said_number("winding_c", temp_c, degrees=build.degrees)


def _verdicts(result, build, _):
    return [("bench", v) for v in load_checks(build, *result)]


def _derive(result, build):
    supply, load = result
    if load is None:
        return []
    made = worked(
        s.load_current, open_v=supply.open_in_use_v, source_ohm=supply.source_in_use_ohm, load_ohm=load.load_ohm
    )
    if load.limited and supply.kind in s.LIMITS:
        gives = "it trips, and the load gets nothing" if _trips(result) else f"it gives {say('load_a', load.load_a)}"
        told = f"That is past the supply's limit of {say('limit_a', supply.limit_a)}: {gives}."
        return [shown_in(made, build.units, build.degrees), f"<p>{told}</p>"]
    return [
        shown_in(made, build.units, build.degrees),
        shown_in(worked(s.load_power, load_a=load.load_a, load_ohm=load.load_ohm), build.units, build.degrees),
    ]


def supply_panel(build: Build) -> Kept:
    """Slide the load, the supply's line and the mains.

    build: Build of the sheet.
    Returns a widget box, as show.panel.panel.
    """
    start = supply_start(build)
    drawn = LOAD_LINE if build.supply.kind not in (None, "transformer") else SUPPLY  # only a transformer is soaked
    telling = Telling(says=_says, verdicts=_verdicts, derive=_derive, slow=load_bands)
    return panel(*start, at_load, drawn, telling, begins=FromSheet(build, supply_start))


def supply_start(sheet):
    """Where the panel begins: with a load to look at.  sheet: Build.  Returns (Build, its sliders)."""
    build = with_load(sheet)
    supply = work_supply(build)
    ohm, pack = build.supply.load_ohm or 10.0, build.supply.kind == "battery"
    source = supply.source_in_use_ohm if supply is not None and np.isfinite(supply.source_in_use_ohm) else 1.0
    mains = (
        Slider("supply.mains", 0.8 if pack else 0.9, 1.1, 0.01, f"{'charge' if pack else 'mains'}, share of today's"),
    )
    mains = () if build.supply.kind in s.LIMITS else mains  # such a supply holds its volts whatever the mains
    sliders = [
        Slider("supply.load_ohm", max(0.3 * source, 0.05 * ohm), 4.0 * ohm, 0.02 * ohm, "load"),
        Slider("supply.open_v", 3.0, most_open_v(build.supply), 0.1, "no-load voltage"),
        Slider("supply.source_ohm", 0.0, max(3.0, 3 * source), 0.01, "source resistance"),
        *mains,
        Slider("room.ambient_c", 5.0, 50.0, 1.0, "air: room or box"),
    ]
    return build, sliders
