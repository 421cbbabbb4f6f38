"""A wound coil that lies in the air: what it settles at, between a closed cylinder and turns that stand free."""

from dataclasses import dataclass, replace

import numpy as np

from ..network.curves import STEFAN_BOLTZMANN_W_M2K4
from ..surfaces.surface_loss import convection_of

MOST_C = 1500.0


@dataclass(frozen=True)
class Helix:
    """The wire of a winding: its whole length, diameter and pitch (m), how many layers lie on one another."""

    length_m: float
    diameter_m: float
    pitch_m: float
    layers: int = 1


def turns_see(pitch_m, diameter_m):
    """The share of what a helix of wire shines that leaves it, past its neighbours and through the turns across.

    pitch_m: at least the diameter. diameter_m: of the wire.
    Returns view_share, 1/pi for turns that touch (a closed cylinder) up to nearly 1.
    Equation: a row of parallel cylinders before a plane, Hottel; Incropera et al., Fundamentals of Heat and Mass
    Transfer, table 13.1, with reciprocity: what faces out leaves, what faces in must pass the turns across.
    Assumes a coil much longer and wider than its pitch; its open ends are left out.
    """
    ratio = np.minimum(diameter_m / pitch_m, 1.0)
    caught_share = 1 - np.sqrt(1 - ratio**2) + ratio * np.arccos(ratio)
    view_share = caught_share * (2 - caught_share) / (np.pi * ratio)
    return view_share


def shed_by_turns(temp_c, helix, emissivity, place):
    """Heat shed by turns that stand so far apart that each meets fresh air.

    temp_c: degC. helix: Helix. emissivity: of the wire. place: Place.
    Returns W.  The outer layer alone sheds.  Equations: surface_loss.convection_of; a gray surface in a large room by
    its view of it, Incropera et al., eq. 13.23.
    """
    area = np.pi * helix.diameter_m * helix.length_m / helix.layers
    view = turns_see(helix.pitch_m, helix.diameter_m)
    air = convection_of(temp_c, place.ambient_c, helix.diameter_m, place.air_speed_m_s)
    return area * (air + _rays(temp_c, place.ambient_c) / ((1 - emissivity) / emissivity + 1 / view))


def shed_by_cylinder(temp_c, winding, emissivity, place):
    """Heat shed by the outside of the winding alone, as if its turns closed.

    temp_c: degC. winding: Winding. emissivity, place: as shed_by_turns.
    Returns W.
    """
    area = np.pi * winding.outer_m * (winding.to_m - winding.from_m)
    air = convection_of(temp_c, place.ambient_c, winding.outer_m, place.air_speed_m_s)
    return area * (air + emissivity * _rays(temp_c, place.ambient_c))


def _rays(temp_c, room_c):
    return STEFAN_BOLTZMANN_W_M2K4 * ((temp_c + 273.15) ** 4 - (room_c + 273.15) ** 4)


def bare_coil(tool, helix, power_w, *, closed=0.5, emissivity=None, air_speed_m_s=None):
    """A coil in the air, alone.

    tool: Tool. helix: Helix of its wire. power_w: W. closed: where between turns that stand free (0) and a closed
    cylinder (1) it lies; nothing in a sheet tells, so both ends make its band. emissivity, air_speed_m_s: None for the
    tool's own.
    Returns degC, nan above 1500.  Equation: watts = shed by turns to the power (1 - closed), by the cylinder to closed.
    The brick under it, which keeps some of its heat, is left out.
    """
    from scipy.optimize import brentq

    own = tool.winding.emissivity if emissivity is None else emissivity
    place = tool.place if air_speed_m_s is None else replace(tool.place, air_speed_m_s=air_speed_m_s)

    def off(temp_c):
        free = float(np.ravel(shed_by_turns(temp_c, helix, own, place))[0])
        shut = float(np.ravel(shed_by_cylinder(temp_c, tool.winding, own, place))[0])
        return max(free, 1e-12) ** (1 - closed) * max(shut, 1e-12) ** closed - power_w

    return float(brentq(off, place.ambient_c, MOST_C)) if off(MOST_C) > 0 else float("nan")
