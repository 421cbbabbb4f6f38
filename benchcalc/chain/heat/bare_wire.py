"""The sheet's wire stretched bare in the sheet's room: what holds it at a temperature.  No physics here, only the
calls.
"""

from dataclasses import dataclass

import numpy as np

from ...sheet.build import Build
from ...thermal.surfaces.bare_wire import Surroundings, cooled_length, heat_shed, loss_coefficient, wire_heat
from ...thermal.surfaces.fins import reach_of
from ...thermal.surfaces.stretched_wire import current_for
from ..wire.link import WirePart, hot_factor_of
from .wire_metal import wire_conducts, wire_shine


@dataclass(frozen=True)
class BarePart:
    """A long bare wire at a temperature: current, heat of each metre, how it leaves, reach of a cold clamp.

    load_v: across one metre. convected_w_m and radiated_w_m make up wire_w_m.  Floats, or arrays with wire_c.
    """

    wire_c: float
    load_a: float
    load_v: float
    hot_factor: float
    wire_w_m: float
    convected_w_m: float
    radiated_w_m: float
    loss_w_m2k: float
    reach_m: float
    cooled_m: float


def work_bare(build: Build, wire: WirePart | None, wire_c) -> BarePart | None:
    """The wire of the sheet, straight and bare in its room, at a temperature that is asked for.

    build: Build. wire: result of the wire link. wire_c: degC, above the room, float or array.
    Returns BarePart, or None where the wire's section or ohms are not known.  A ribbon counts as a round wire of the
    same circumference.
    Limits: 15 % in current, 200 to 1100 degC; see thermal.surfaces.bare_wire.
    """
    if wire is None or np.any(np.isnan(wire.edge_m)) or np.any(np.isnan(wire.linear_ohm_per_m)):
        return None
    around = Surroundings(
        wire_shine(build, wire), build.room.ambient_c, build.room.air_speed_m_s, build.room.attitude or "lying"
    )
    d, factor = (
        wire.edge_m / np.pi,
        hot_factor_of(build, wire.id, wire_c),
    )  # a ribbon: a round wire of its circumference
    amps = current_for(wire_c, d, wire.linear_ohm_per_m, factor, around)
    convected, radiated = heat_shed(wire_c, d, around)
    loss = loss_coefficient(wire_c, d, around)
    reach = reach_of(wire_conducts(build, wire), wire.area_m2, loss, wire.edge_m)
    made = wire_heat(amps, wire.linear_ohm_per_m, factor)
    return BarePart(
        wire_c,
        amps,
        amps * wire.linear_ohm_per_m * factor,
        factor,
        made,
        convected,
        radiated,
        loss,
        reach,
        cooled_length(reach),
    )
