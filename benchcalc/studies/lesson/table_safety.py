"""What the first evening's table asks of its box, and what its wire does while it hangs."""

from dataclasses import dataclass

import numpy as np

from ...basics.band import Band
from ...heater.hung_wire import hung_weight_sag, slack_sag, taut_sag
from ...heater.protection import COPPER_OHM_M, characteristic_for, opening
from ...heater.supply import load_current, load_power
from ...heater.windings import lamp_at_first, lamp_on_line
from ...heater.wire import round_area
from ...materials.alloys import alloy_value
from ...materials.metals import metal_value
from ...thermal.surfaces.bare_wire import loss_coefficient
from ...thermal.surfaces.by_hand import heat_up_time, tube_mass
from ...thermal.surfaces.fins import long_fin_foot, reach_of, tube_section
from ...thermal.surfaces.wire_in_tube import wire_in_tube
from .first_evening_readings import held_volts
from .four_ways import ON_THE_TABLE, ROOM, WAYS, Demonstration, four_ways, shortest_ohm, without_the_lamp

STANDARD_M_S2 = 9.80665  # exact: standard acceleration of free fall (ISO 80000-3)
TUBE_METAL = "mild-steel"
LEADS_M, LEAD_M2 = 1.5, 1e-6  # three bench leads of half a metre, from the outlet through the ammeter to the clips
AMMETER_OHM = 0.03  # socket for 10 A of a small meter, with its leads: from memory
CONTACTS, CONTACT_OHM = 6, 0.005  # plugs and clips in that line, clean: common practice, no source
CLIP_KG = 0.01  # a small clip with its share of a lead: own judgement, weigh yours
STAYS = 0.05  # share of the last rise that may be missing when the tube is read


@dataclass(frozen=True)
class Outlet:
    """What one outlet must give.

    load_v: volts to hold, nothing connected. least_a, load_a: least and most that the evening draws. load_va: at the
    most. source_ohm: the most that may stand behind it, its fuse, lead and plug counted, nan where it does not matter.
    widest_ohm: the same, where it is set as high as it may be.
    held_v: Band at the end of its lead: no more than its high end with nothing connected, no less than its low end with
    the shortest piece; None where it does not matter. fuse_a: of its quick fuse. cold_a: asked in the
    first instant, everything cold. shorted_a: steady, with the clips touching; nan where the supply alone sets it.
    """

    load_v: float
    least_a: float
    load_a: float
    load_va: float
    source_ohm: float
    widest_ohm: float
    held_v: Band | None
    fuse_a: float
    cold_a: float
    shorted_a: float


def outlets(table: Demonstration = ON_THE_TABLE) -> tuple[Outlet, Outlet]:
    """The outlet that holds its volts, and the lamp's.

    table: Demonstration.
    The first must leave the clips within `held_volts` with the shortest piece, after what bench leads, ammeter and
    contacts keep for themselves: so nothing that meets the order falls out of the bench sheet's band by it.
    Equation: Ohm's law.
    """
    amps = [[row.load_a for row in four_ways(table) if row.way == way] for way in WAYS[:2]]
    cold = [lamp_at_first(table.lamp_v, table.lamp_w, table.lamp_supply_v, ohm) for ohm in (shortest_ohm(table), 0.0)]
    touching_a = lamp_on_line(table.lamp_v, table.lamp_w, table.lamp_supply_v, 0.0)[1]
    first_a, least_a = max(amps[0]), min(amps[0])
    clips, hot_ohm = held_volts(table), table.stiff_v / first_a
    lowest_a = clips.low / hot_ohm
    lowest_v = clips.low + lowest_a * bench_line_ohm()
    stiff = Outlet(
        table.stiff_v,
        least_a,
        first_a,
        table.stiff_v * first_a,
        (table.stiff_v - lowest_v) / lowest_a,
        (clips.high - lowest_v) / lowest_a,
        Band(table.stiff_v, lowest_v, clips.high),
        table.fuse_a,
        load_current(table.stiff_v, 0.0, shortest_ohm(table)),
        np.nan,
    )
    lamps = Outlet(
        table.lamp_supply_v,
        min(amps[1]),
        touching_a,
        table.lamp_supply_v * touching_a,
        np.nan,
        np.nan,
        None,
        table.lamp_fuse_a,
        cold[1],
        touching_a,
    )
    return stiff, lamps


def bench_line_ohm() -> float:
    """Ohms between an outlet's lead and the clips on the wire, ammeter counted: outside of the voltmeter.  Equation:
    R = rho l / A."""
    return COPPER_OHM_M * LEADS_M / LEAD_M2 + AMMETER_OHM + CONTACTS * CONTACT_OHM


def before_the_fuse(
    table: Demonstration = ON_THE_TABLE, kind: str = "quick-acting", fuse_a: float | None = None
) -> tuple[float, float]:
    """How hot the shortest piece gets before its fuse has opened, if it meets the lamp's outlet without the lamp.

    table: Demonstration. kind: "quick-acting" or "time-lag". fuse_a: rating, one of protection.RATINGS_A; None for that
    of the lamp's outlet.
    Returns (s until it has opened at the latest, degC by then).
    Assumes: nothing lost in that time, heat capacity and ohms of the cold wire: by a tenth or two on the hot side.
    Method: `heat_up_time`, for one kelvin.
    """
    amps, watts, _ = without_the_lamp(table)
    opens_s = opening(kind, table.lamp_fuse_a if fuse_a is None else fuse_a, amps).latest_s
    density, specific = (alloy_value(table.alloy, key).value for key in ("density_kg_m3", "specific_heat_j_kgk"))
    mass_kg = tube_mass(round_area(table.diameter_m), min(table.lengths_m), density)
    return opens_s, ROOM.ambient_c + opens_s / heat_up_time(mass_kg, specific, 1.0, watts)


def advised_fuse(table: Demonstration = ON_THE_TABLE) -> str:
    """What page 01 would advise for the lamp's outlet: "quick-acting" or "time-lag", by the cold filament's first
    instant.  table: Demonstration."""
    cold_a = lamp_at_first(table.lamp_v, table.lamp_w, table.lamp_supply_v, shortest_ohm(table))
    return characteristic_for(cold_a, table.lamp_fuse_a)


@dataclass(frozen=True)
class Hanging:
    """How the wire hangs.  length_m: hot piece. grown_m: how much longer it gets. loose_m: how far it would sag between
    ends that hold still. taut_m: how far it sags under the weight. stress_pa: of the weight in the wire. reach_m: how
    far heat gets along it beyond a clip."""

    length_m: float
    grown_m: float
    loose_m: float
    taut_m: float
    stress_pa: float
    reach_m: float


def hanging(length_m: float, wire_c: float, table: Demonstration = ON_THE_TABLE) -> Hanging:
    """A hot piece between two supports.

    length_m: between them, above 0. wire_c: its temperature, degC, from 20. table: Demonstration.
    Equation: linear expansion; sags as of `slack_sag` and `taut_sag`.
    """
    area_m2 = round_area(table.diameter_m)
    grown_m = alloy_value(table.alloy, "expansion_per_k").value * (wire_c - ROOM.ambient_c) * length_m
    pull_n = table.weight_kg * STANDARD_M_S2
    newton_m = alloy_value(table.alloy, "density_kg_m3").value * area_m2 * STANDARD_M_S2
    loss = loss_coefficient(max(wire_c, ROOM.ambient_c + 1.0), table.diameter_m, ROOM)
    return Hanging(
        length_m,
        grown_m,
        float(slack_sag(length_m, grown_m)),
        taut_sag(length_m, newton_m, pull_n),
        pull_n / area_m2,
        reach_of(alloy_value(table.alloy, "conductivity_w_mk").value, area_m2, loss, np.pi * table.diameter_m),
    )


def clip_sag(mass_kg: float, at_m: float, table: Demonstration = ON_THE_TABLE) -> float:
    """How far the wire sags under something that hangs on it.

    mass_kg: of it, its share of a lead counted, above 0. at_m: from the left post, within posts_m.
    table: Demonstration.
    Returns m, as `hung_weight_sag`.
    """
    return hung_weight_sag(mass_kg, table.weight_kg, at_m, table.posts_m)


def into_a_clip(wire_c: float, table: Demonstration = ON_THE_TABLE) -> float:
    """Watts that a hot piece sends along its wire into a clip that stays cold.

    wire_c: degC, above the room's 20. table: Demonstration.
    Method: `long_fin_foot`; the wire beyond the clip is cold and counts as none.
    """
    reach_m = hanging(min(table.lengths_m), wire_c, table).reach_m
    conductivity = alloy_value(table.alloy, "conductivity_w_mk").value
    return long_fin_foot(wire_c - ROOM.ambient_c, reach_m, conductivity, round_area(table.diameter_m))


def tube_ready(table: Demonstration = ON_THE_TABLE) -> tuple[float, float]:
    """How long the tube with the shortest piece takes: its time constant, and until it is within a twentieth.

    table: Demonstration.
    Returns (s, s).  Method: a lump with its settled loss, whose time constant C R is the `heat_up_time` to where it
    settles; the wire itself is quick.
    """
    row = next(r for r in four_ways(table) if r.way == WAYS[2])
    _, tube_c = wire_in_tube(row.wire_w_m, table.diameter_m, table.tube, ROOM)
    density, specific = (metal_value(TUBE_METAL, key).value for key in ("density_kg_m3", "specific_heat_j_kgk"))
    metre_kg = tube_mass(tube_section(table.tube.outer_m, table.tube.inner_m), 1.0, density)
    constant_s = float(heat_up_time(metre_kg, specific, tube_c - ROOM.ambient_c, row.wire_w_m))
    return constant_s, constant_s * float(np.log(1 / STAYS))


def lamp_watts(table: Demonstration = ON_THE_TABLE) -> tuple[float, float]:
    """Watts of the lamp: with the shortest piece in its line, and with clips that touch.  table: Demonstration."""
    row = next(r for r in four_ways(table) if r.way == WAYS[1])
    touching_v, touching_a = lamp_on_line(table.lamp_v, table.lamp_w, table.lamp_supply_v, 0.0)
    return (table.lamp_supply_v - row.load_v) * row.load_a, load_power(touching_a, touching_v / touching_a)
