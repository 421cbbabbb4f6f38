"""The lead-out: tails, their joint to the cable inside the handle, the cable.  No physics here, only the calls; unknown
is nan.
"""

from dataclasses import dataclass

import numpy as np

from ...heater.protection import cable_resistance
from ...sheet.build import Build
from ..heat.part import HeatPart
from ..heat.tails import joint_place, own_tails_ohm, tails_way
from ..parts import NAN, as_floats
from ..wire.coil import CoilPart
from ..wire.link import WirePart


@dataclass(frozen=True)
class LeadsPart:
    """The way out for the current.  at_m: place of the joint to the cable. joint_c: its temperature. tails_c: hottest
    place of the tails behind the coil. carried_w: heat that the tails carry past the beginning of the handle. lead_a:
    current. cable_drop_v, cable_share: volts lost in the cable, and as a share of what the coil gets. way_m: from the
    winding to the joint. tails_ohm: both tails; own_ohm: what the coil's own wire would have over that way."""

    at_m: float
    joint_c: float
    tails_c: float
    carried_w: float
    lead_a: float
    cable_drop_v: float
    cable_share: float
    way_m: float
    tails_ohm: float
    own_ohm: float


def work_leads(build: Build, wire: WirePart | None, coil: CoilPart | None, heat: HeatPart | None) -> LeadsPart | None:
    """Temperatures along the tails, and the cable's volts and amps.

    build: Build. wire, coil, heat: results of the links.
    Returns LeadsPart, or None without a coil.  Temperatures are nan where no tails run to the rear (way_m is nan then
    too), or where their ohms are not those of the wire they count as.
    """
    if coil is None:
        return None
    cable, amps = build.supply.cable, coil.load_a
    known = cable.length_m is not None and cable.area_m2 is not None
    drop = amps * cable_resistance(cable.length_m, cable.area_m2) if known else NAN
    share = drop / (amps * coil.hot_ohm) if known else NAN
    temps = (NAN,) * 3 if heat is None else (heat.joint_c, heat.tails_c, heat.carried_w)
    way = tails_way(build, coil) if _run_rearward(heat) else NAN
    own = NAN if wire is None else own_tails_ohm(build, wire, way)
    return as_floats(LeadsPart(joint_place(build), *temps, amps, drop, share, way, coil.meter_ohm - coil.cold_ohm, own))


def _run_rearward(heat):
    """Whether tails run through the tool to its rear."""
    if heat is None or heat.refused:
        return False
    return not np.all(np.isnan(heat.joint_c)) if heat.model is None else heat.model.tool.leads is not None
