"""The lead-out: tails, their joint to the cable inside the handle, the cable.  No physics here, only the calls; unknown is nan."""

from dataclasses import dataclass

import numpy as np

from ..heater.cable import most_amps
from ..heater.protection import cable_resistance
from .build import Build
from .link_coil import CoilPart
from .link_heat import HeatPart
from .plain import NAN, plain

JOINT_BEFORE_END_M = 0.02  # where the sheet does not say: this far before the rear end of the tool


@dataclass(frozen=True)
class LeadsPart:
    """The way out for the current.  at_m: place of the joint to the cable. joint_c: its temperature. tails_c: hottest place of the
    tails behind the coil. carried_w: heat that the tails carry past the beginning of the handle. lead_a: current. cable_drop_v,
    cable_share: volts lost in the cable, and as a share of what the coil gets. cable_most_a: most current for its section."""

    at_m: float
    joint_c: float
    tails_c: float
    carried_w: float
    lead_a: float
    cable_drop_v: float
    cable_share: float
    cable_most_a: float


def work_leads(build: Build, coil: CoilPart | None, heat: HeatPart | None) -> LeadsPart | None:
    """Temperatures along the tails, and the cable's volts and amps.

    build: Build. coil, heat: results of the links.
    Returns LeadsPart, or None without a coil.  Temperatures are nan where no tails run to the rear.
    """
    if coil is None:
        return None
    cable, amps = build.supply.cable, coil.load_a
    known = cable.length_m is not None and cable.area_m2 is not None
    drop = amps * cable_resistance(cable.length_m, cable.area_m2) if known else NAN
    share = drop / (amps * coil.hot_ohm) if known else NAN
    most = most_amps(cable.area_m2) if cable.area_m2 is not None else NAN
    at, joint, tails, carried = _along(build, heat)
    return plain(LeadsPart(at, joint, tails, carried, amps, drop, share, most))


def _along(build, heat):
    """(place of the joint, its temperature, hottest tail, heat carried into the handle)."""
    if heat is None or heat.refused or heat.model is None or not any(t.owner == "leads" for t in heat.model.tracks):
        return NAN, NAN, NAN, NAN
    places, temps = heat.model.along("leads", heat.temps_c)
    rear = places[..., -1]
    at = np.asarray(rear - JOINT_BEFORE_END_M if build.lead_out.joint_at_m is None else build.lead_out.joint_at_m, float)

    def read(where, values):
        if values.ndim == 1:
            return np.interp(where, np.ravel(places), values)
        flat = np.broadcast_to(places, values.shape)
        return np.array([np.interp(w, x, t) for w, x, t in zip(np.broadcast_to(where, len(values)), flat, values)])

    handle = next((p for p in build.part if p.role == "handle"), None)
    carried = NAN
    if handle is not None:
        step = 2e-3
        fall = read(handle.from_m - step, temps) - read(handle.from_m + step, temps)
        carried = np.asarray(heat.model.tool.leads.conduction_w_m_k) * fall / (2 * step)
    return (float(at) if at.ndim == 0 else at), read(at, temps), temps.max(axis=-1), carried
