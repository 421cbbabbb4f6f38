"""One wire, four ways: constant volts, constant amps, in air, in a tube; what the meters and the wire should show.

It parts four words that people mix up: power, temperature, resistance, length.
"""

from dataclasses import dataclass, replace

import numpy as np

from ...basics.band import Band
from ...basics.fault import fault
from ...heater.protection import opening
from ...heater.supply import load_current, load_power, load_voltage
from ...heater.windings import lamp_on_line
from ...heater.wire import cold_resistance, hot_resistance, linear_resistance, round_area
from ...materials.alloys import alloy_value, hot_factor
from ...thermal.surfaces.bare_wire import Feed, Surroundings, long_wire_temp
from ...thermal.surfaces.wire_in_tube import Closed, wire_in_tube

WAYS = ("constant volts", "amps kept by a lamp", "in a tube")
AIR_M_S = (0.0, 0.1, 0.3)  # a closed room, people moving in it: least, likely, most
SHINE = (0.95, 0.87, 0.7)  # emissivity of oxidised Ni-Cr: most, likely, least
ROOM = Surroundings(SHINE[1], air_speed_m_s=AIR_M_S[1])  # the likely one
TUBE_SHINE = (0.9, 0.7, 0.1)  # of a tube: scaled steel, dull, bright copper


@dataclass(frozen=True)
class Demonstration:
    """What stands on the table.

    alloy: key in data/alloys.csv. diameter_m: of the wire. lengths_m: pieces that are clipped. stiff_v: volts that the
    supply holds (its own sag is small at these watts). lamp_v, lamp_w: of the filament lamp in the line. lamp_supply_v:
    volts that lamp and wire share: fewer than lamp_v, so that clips that touch leave the lamp no more than it is made
    for. fuse_a, lamp_fuse_a: ratings of the quick-acting fuses in the two outlets. tube: Closed. clip_m: from a post
    to the first clip. posts_m: from post to post. weight_kg: keeps the wire straight. supports_m:
    from each mouth of the tube to its disc.
    """

    alloy: str = "nicr-80-20"
    diameter_m: float = 0.0003
    lengths_m: tuple = (0.20, 0.30, 0.40)
    stiff_v: float = 4.0
    lamp_v: float = 24.0
    lamp_w: float = 21.0
    lamp_supply_v: float = 19.0
    fuse_a: float = 2.0
    lamp_fuse_a: float = 1.25
    tube: Closed = Closed(0.008, 0.010)
    tube_m: float = 0.15  # shorter than the shortest piece, so that both clips stay outside
    supports_m: float = 0.05
    clip_m: float = 0.08
    posts_m: float = 0.60
    weight_kg: float = 0.05


@dataclass(frozen=True)
class HeatedWay:
    """One row: which way, length, what the meters show; wire and tube in degC, as Bands; tube_c None in the open."""

    way: str
    length_m: float
    cold_ohm: float
    load_v: float
    load_a: float
    load_w: float
    wire_w_m: float
    wire_c: Band
    tube_c: Band | None = None


ON_THE_TABLE = Demonstration()


def four_ways(table: Demonstration = ON_THE_TABLE) -> list[HeatedWay]:
    """Every row of the demonstration.

    table: Demonstration.
    Returns Ways, way after way; in the tube the volts are those of the first rows.  Raises Fault: a wire too hot.
    """
    per_m = _ohm_per_m(table)
    rows = [_at_volts(table, per_m, length_m) for length_m in table.lengths_m]
    rows += [_at_amps(table, per_m, length_m) for length_m in table.lengths_m]
    return rows + [_in_tube(table, per_m, row) for row in rows[: len(table.lengths_m)]]


def _bare_c(table, per_m, feed):
    """Band of a bare wire: still air and a dull wire are the hot end, moving air and a black one the cool end."""
    ends = [
        float(long_wire_temp(table.diameter_m, per_m, table.alloy, feed, Surroundings(shine, air_speed_m_s=speed)))
        for speed, shine in zip(AIR_M_S, reversed(SHINE), strict=True)
    ]
    if not np.all(np.isfinite(ends)):
        raise fault("wire", f"{feed}", "would be hotter than 1400 degC.", do="Fewer volts or amps, or a longer piece.")
    return Band(ends[1], min(ends), max(ends))


def _row(table, per_m, way, length_m, meters, wire_c):
    volts, amps, watts = meters
    return HeatedWay(way, length_m, cold_resistance(per_m, length_m), volts, amps, watts, watts / length_m, wire_c)


def _hot(table, per_m, length_m, wire_c):
    factor = float(hot_factor(table.alloy, wire_c))
    return hot_resistance(cold_resistance(per_m, length_m), factor)


def _meters(amps, ohm):
    return load_voltage(amps, ohm), amps, load_power(amps, ohm)


def _at_volts(table, per_m, length_m):
    wire_c = _bare_c(table, per_m, Feed(load_v=table.stiff_v, length_m=length_m))
    ohm = _hot(table, per_m, length_m, wire_c.nominal)
    return _row(table, per_m, WAYS[0], length_m, _meters(load_current(table.stiff_v, 0.0, ohm), ohm), wire_c)


def _at_amps(table, per_m, length_m):
    cold = cold_resistance(per_m, length_m)
    amps = lamp_on_line(table.lamp_v, table.lamp_w, table.lamp_supply_v, cold)[1]
    wire_c = _bare_c(table, per_m, Feed(load_a=amps))
    return _row(table, per_m, WAYS[1], length_m, _meters(amps, _hot(table, per_m, length_m, wire_c.nominal)), wire_c)


def _in_tube(table, per_m, row):
    """The same meters, the wire closed in."""
    ends = [
        wire_in_tube(row.wire_w_m, table.diameter_m, replace(table.tube, emissivity=tube), around)
        for speed, shine, tube in zip(AIR_M_S, reversed(SHINE), reversed(TUBE_SHINE), strict=True)
        for around in (Surroundings(shine, air_speed_m_s=speed),)
    ]
    if not np.all(np.isfinite(ends)):
        raise fault("wire", f"{row.wire_w_m:.0f} W/m", "would be hotter than 1400 degC in the tube.")
    wire, tube = (Band(sorted(column)[1], min(column), max(column)) for column in zip(*ends, strict=True))
    return replace(row, way=WAYS[2], wire_c=wire, tube_c=tube)


def _ohm_per_m(table):
    return linear_resistance(alloy_value(table.alloy, "resistivity_ohm_m").value, round_area(table.diameter_m))


def shortest_ohm(table: Demonstration = ON_THE_TABLE) -> float:
    """Cold ohms of the shortest piece.  table: Demonstration."""
    return cold_resistance(_ohm_per_m(table), min(table.lengths_m))


def without_the_lamp(table: Demonstration = ON_THE_TABLE) -> tuple[float, float, float]:
    """What follows if somebody clips the shortest piece to the lamp's outlet without the lamp.

    table: Demonstration.
    Returns (load_a, load_w, opens_s): the cold wire's, and when the lamp outlet's fuse has opened at the latest.
    """
    ohm = shortest_ohm(table)
    amps = load_current(table.lamp_supply_v, 0.0, ohm)
    return amps, load_power(amps, ohm), opening("quick-acting", table.lamp_fuse_a, amps).latest_s
