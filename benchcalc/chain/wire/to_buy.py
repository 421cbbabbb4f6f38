"""Nothing in the box: which alloy and size to buy for the job, and how much.  No physics here, only the calls."""

from dataclasses import dataclass, replace

import numpy as np

from ...heater import coil as c
from ...heater.scrap_box import BoxWire, try_pieces
from ...heater.wire import linear_resistance, round_area
from ...materials.alloys import alloy_value, hot_factor
from ...materials.gauges import sizes
from ...sheet.build import Build, Wire
from ...sheet.defaults import default
from ..heat.link import BARE
from ..parts import NAN
from ..supply.link import work_supply
from .coil import work_coil
from .link import work_wire
from .scrap_box import job_of

SOLD = ("nicr-80-20", "nicr-60-15", "fecral-25-5", "cuni-44")
SAME_LENGTH = 0.1  # a wire stretched in a frame must come out as long as it, within this share (own judgement)
STEP_M = 0.5  # wire is bought by the half metre


@dataclass(frozen=True)
class ToBuy:
    """A wire to buy: alloy, size; linear_ohm_per_m nominal; length_m that heats, low_m and high_m where the trade's
    tolerance puts it; surface_load_w_m2 and winding_m at their worse ends; margin: the smaller of what is left of
    surface load and of room, a share; buy_m: with spare."""

    alloy: str
    size: str
    linear_ohm_per_m: float
    low_m: float
    length_m: float
    high_m: float
    surface_load_w_m2: float
    winding_m: float
    margin: float
    buy_m: float


def system_of(build):
    """The sizes that a sheet's maker buys in: SWG or AWG where the sheet says so, else metric.  build: Build."""
    gauges = " ".join(wire.gauge or "" for wire in build.wire).upper()
    return "SWG" if "SWG" in gauges else "AWG" if build.units == "inch" or "AWG" in gauges else "metric"


def what_to_buy(build: Build):
    """Alloys and sizes sold that do the job with the whole tolerance of the trade, most room to spare first.

    build: Build (floats); a wire of its own is not needed.
    Returns tuple of ToBuy; empty without a supply's line or a wanted power.  An alloy is left out where the wire would
    be hotter than its limit; a size that breaks in the hand, or where the former is too thin for it.
    """
    build = build if build.wire else replace(build, wire=(Wire(id="to buy", alloy=SOLD[0]),))
    supply = work_supply(build)
    wire = work_wire(build, supply)
    if supply is None or supply.refused or build.want.power_w is None or np.isnan(supply.source_in_use_ohm):
        return ()
    if build.coil is not None and build.coil.mounting == BARE and build.coil.length_m is None:
        return ()  # in free air its temperature decides, and that wants a length
    job, found = job_of(build, supply, wire, work_coil(build, supply, wire)), []
    hot_c = 400.0 if build.coil is None or build.coil.wire_temp_c is None else build.coil.wire_temp_c
    bend, thinnest_m = (default(k)["value"] for k in ("coil.former_wire_diameters", "wire.thinnest_to_buy_m"))
    for alloy in SOLD:
        rho, factor = alloy_value(alloy, "resistivity_ohm_m"), float(hot_factor(alloy, hot_c))
        if hot_c >= alloy_value(alloy, "service_limit_c").value:
            continue
        for size, diameter_m in sizes(system_of(build)):
            if diameter_m < thinnest_m or np.isfinite(job.room_m) and job.former_m < bend * diameter_m:
                continue
            linear = [float(linear_resistance(r, round_area(diameter_m))) for r in (rho.high, rho.value, rho.low)]
            tried = [try_pieces((BoxWire("", x, diameter_m, factor),), job)[0] for x in linear]
            if all(t.works for t in tried) and _as_long(build, tried[1].length_m):
                found.append(_offer(build, job, alloy, size, linear[1], tried, diameter_m))
    return tuple(sorted(found, key=lambda b: -b.margin))


def _as_long(build, length_m):
    """Whether a wire that lies on nothing comes out as long as its frame."""
    coil = build.coil
    if coil is None or coil.on is not None or coil.length_m is None:
        return True
    return abs(length_m / coil.length_m - 1) <= SAME_LENGTH


def _offer(build, job, alloy, size, linear, tried, diameter_m):
    short, middle, long = tried
    left = [1 - short.surface_load_w_m2 / job.most_w_m2, 1 - long.winding_m / job.room_m]
    tails = None if build.coil is None else build.coil.tails
    own = 0.0 if tails is None or tails.material or tails.length_m is None else tails.length_m * tails.strands
    turns = 0.0 if build.coil is None or build.coil.anchor_turns is None else build.coil.anchor_turns
    cut = c.wire_to_cut(long.length_m, c.anchor_wire(turns, job.former_m + diameter_m), own)
    coils = default("wire.coils_to_buy")["value"]
    return ToBuy(
        alloy,
        size,
        linear,
        short.length_m,
        middle.length_m,
        long.length_m,
        short.surface_load_w_m2,
        long.winding_m if np.isfinite(job.room_m) else NAN,
        float(min(left)),
        float(np.ceil(coils * cut / STEP_M) * STEP_M),
    )
