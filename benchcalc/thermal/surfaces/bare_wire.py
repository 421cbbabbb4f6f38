"""A long bare wire in air from its current or its volts, and how far cold clamps reach into it."""

from dataclasses import dataclass

import numpy as np

from ...materials.alloys import hot_factor, wire_value
from ..network.curves import STEFAN_BOLTZMANN_W_M2K4
from .surface_loss import convection_of

MOST_C = 1400.0  # hotter than any resistance wire lasts
_HALVINGS = 40


@dataclass(frozen=True, eq=False)
class Surroundings:
    """What a bare wire loses heat to, and how it shines.  All may be arrays.

    emissivity: oxidised Ni-Cr 0.80 to 0.95. ambient_c: room, degC. air_speed_m_s: 0 to 10, across the wire.
    attitude: "lying", "tip down" or "tip up" (standing). height_m: of a standing wire.
    """

    emissivity: float = 0.87
    ambient_c: float = 20.0
    air_speed_m_s: float = 0.0
    attitude: str = "lying"
    height_m: float = 0.2


STILL_AIR = Surroundings()


@dataclass(frozen=True, eq=False)
class Feed:
    """What drives a wire: a current (load_a, A), or no-load volts (load_v) with length_m of wire and source_ohm of the
    supply and tails."""

    load_a: float | None = None
    load_v: float | None = None
    length_m: float | None = None
    source_ohm: float = 0.0

    def __post_init__(self):
        if (self.load_a is None) == (self.load_v is None) or (self.load_v is not None and self.length_m is None):
            raise TypeError("give load_a, or load_v together with length_m")


def heat_shed(temp_c, diameter_m, around=STILL_AIR):
    """Heat that each metre of a bare wire sheds by air and by radiation.

    temp_c: wire, degC. diameter_m: 0.02e-3 to 3e-3. around: Surroundings.  All may be arrays.
    Returns (convected, radiated), W/m.
    Equations: surface_loss.convection_of; eps sigma (T^4 - T_a^4), kelvin.
    """
    edge = np.pi * np.asarray(diameter_m, float)
    kelvin = np.asarray(temp_c, float) + 273.15
    room_k = np.asarray(around.ambient_c) + 273.15
    radiated = edge * around.emissivity * STEFAN_BOLTZMANN_W_M2K4 * (kelvin**4 - room_k**4)
    convected = convection_of(
        temp_c, around.ambient_c, diameter_m, around.air_speed_m_s, around.attitude, around.height_m
    )
    return edge * convected, radiated


def wire_emissivity(alloy):
    """Emissivity of an alloy's oxidised wire.

    alloy: key in data/alloys.csv, or "" where it is not known.
    Returns ratio, 0 to 1, of the tables.
    """
    return wire_value(alloy, "emissivity").value


def long_wire_temp(diameter_m, linear_ohm_per_m, alloy, feed, around=None, *, place=0.0):
    """Temperature of a long bare wire that carries a current, or hangs on a supply; its hot resistance in the loop.

    diameter_m: 0.02e-3 to 3e-3. linear_ohm_per_m: cold. alloy: key in data/alloys.csv. feed: Feed. around:
    Surroundings, None for still air at 20 degC and the alloy's own emissivity. place: in the hot factor's band,
    -1 to 1.  All numbers may be arrays of one length.
    Returns degC, nan where it would be hotter than 1400.
    Assumes ends far away (see cooled_length).  Limits: 15 % in current against a wire maker's table, 200 to 1100 degC.
    Method: heat made = heat shed, bisected; of several answers of a metal that gains much resistance, one.
    """
    if around is None:
        around = Surroundings(emissivity=wire_emissivity(alloy))
    numbers = [diameter_m, linear_ohm_per_m, place, feed.load_a, feed.load_v, feed.length_m, feed.source_ohm]
    numbers += [around.emissivity, around.ambient_c, around.air_speed_m_s, around.height_m]
    shape = np.broadcast_shapes(*(np.shape(x) for x in numbers if x is not None))

    def over(temp_c):
        ohm_per_m = linear_ohm_per_m * hot_factor(alloy, temp_c, place)
        amps = feed.load_a if feed.load_v is None else feed.load_v / (feed.source_ohm + ohm_per_m * feed.length_m)
        return np.asarray(amps) ** 2 * ohm_per_m - sum(heat_shed(temp_c, diameter_m, around))

    low, high = np.broadcast_to(around.ambient_c, shape).astype(float), np.full(shape, MOST_C)
    beyond = over(high) > 0
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        hotter = over(middle) > 0
        low, high = np.where(hotter, middle, low), np.where(hotter, high, middle)
    temp_c = np.where(beyond, np.nan, (low + high) / 2)
    return temp_c if shape else float(temp_c)


def loss_coefficient(temp_c, diameter_m, around=STILL_AIR):
    """Heat shed by each square metre of wire for each kelvin of its rise, air and radiation together.

    temp_c: wire, degC, above the room. diameter_m: m. around: Surroundings.
    Returns W/(m2 K).
    """
    return sum(heat_shed(temp_c, diameter_m, around)) / (np.pi * diameter_m * (temp_c - around.ambient_c))


def wire_heat(load_a, linear_ohm_per_m, hot_factor):
    """Each metre of wire makes the square of the current times its hot ohms.

    load_a: current. linear_ohm_per_m: cold resistance per length. hot_factor: hot over cold.
    Returns wire_w_m.  Equation: Joule's law.
    """
    wire_w_m = load_a**2 * linear_ohm_per_m * hot_factor
    return wire_w_m


def cooled_length(reach_m):
    """From each clamp it takes this length until the wire is within two per cent of its full rise.

    reach_m: fins.reach_of.
    Returns cooled_m.  Equation: 1 - exp(-x/reach) = 0.98 of a long wire.
    """
    cooled_m = reach_m * np.log(50)
    return cooled_m
