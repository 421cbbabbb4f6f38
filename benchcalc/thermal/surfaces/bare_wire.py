"""A long bare wire in air from its current or its volts, and how far cold clamps reach into it."""

import numpy as np

from ...materials.alloys import alloy_value, hot_factor
from ..network.curves import STEFAN_BOLTZMANN_W_M2K4
from .surface_loss import convection_of

MOST_C = 1400.0  # hotter than any resistance wire lasts
_HALVINGS = 40


def heat_shed(
    temp_c, diameter_m, *, emissivity=0.87, ambient_c=20.0, air_speed_m_s=0.0, attitude="lying", height_m=0.2
):
    """Heat that each metre of a bare wire sheds by air and by radiation.

    temp_c: wire, degC. diameter_m: 0.02e-3 to 3e-3. emissivity: oxidised Ni-Cr 0.80 to 0.95. ambient_c: room.
    air_speed_m_s: 0 to 10, across the wire. attitude: "lying", "tip down" or "tip up" (standing). height_m: of a
    standing wire.  All may be arrays.
    Returns (convected, radiated), W/m.
    Equations: surface_loss.convection_of; eps sigma (T^4 - T_a^4), kelvin.
    """
    edge = np.pi * np.asarray(diameter_m, float)
    kelvin = np.asarray(temp_c, float) + 273.15
    radiated = edge * emissivity * STEFAN_BOLTZMANN_W_M2K4 * (kelvin**4 - (np.asarray(ambient_c) + 273.15) ** 4)
    return edge * convection_of(temp_c, ambient_c, diameter_m, air_speed_m_s, attitude, height_m), radiated


def long_wire_temp(
    diameter_m,
    linear_ohm_per_m,
    alloy,
    *,
    load_a=None,
    load_v=None,
    length_m=None,
    source_ohm=0.0,
    place=0.0,
    emissivity=None,
    ambient_c=20.0,
    air_speed_m_s=0.0,
    attitude="lying",
    height_m=0.2,
):
    """Temperature of a long bare wire that carries a current, or hangs on a supply; its hot resistance in the loop.

    diameter_m: 0.02e-3 to 3e-3. linear_ohm_per_m: cold. alloy: key in data/alloys.csv. load_a: current; or load_v: no-load
    volts with length_m of wire and source_ohm of the supply and tails. place: in the hot factor's band, -1 to 1.
    emissivity: None for the alloy's own. ambient_c, air_speed_m_s, attitude, height_m: as heat_shed.  All numbers may be
    arrays of one length.
    Returns degC, nan where it would be hotter than 1400.
    Assumes ends far away (see cooled_length).  Limits: 15 % in current against a wire maker's table, 200 to 1100 degC.
    Method: heat made = heat shed, bisected; of several answers of a metal that gains much resistance, one.
    """
    if (load_a is None) == (load_v is None) or (load_v is not None and length_m is None):
        raise TypeError("give load_a, or load_v together with length_m")
    if emissivity is None:
        found = alloy_value(alloy, "emissivity")
        emissivity = 0.8 if found is None else found.value
    numbers = [
        diameter_m,
        linear_ohm_per_m,
        load_a,
        load_v,
        length_m,
        source_ohm,
        place,
        emissivity,
        ambient_c,
        air_speed_m_s,
        height_m,
    ]
    shape = np.broadcast_shapes(*(np.shape(x) for x in numbers if x is not None))

    def over(temp_c):
        ohm_per_m = linear_ohm_per_m * hot_factor(alloy, temp_c, place)
        amps = load_a if load_v is None else load_v / (source_ohm + ohm_per_m * length_m)
        shed = heat_shed(
            temp_c,
            diameter_m,
            emissivity=emissivity,
            ambient_c=ambient_c,
            air_speed_m_s=air_speed_m_s,
            attitude=attitude,
            height_m=height_m,
        )
        return np.asarray(amps) ** 2 * ohm_per_m - sum(shed)

    low, high = np.broadcast_to(ambient_c, shape).astype(float), np.full(shape, MOST_C)
    beyond = over(high) > 0
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        hotter = over(middle) > 0
        low, high = np.where(hotter, middle, low), np.where(hotter, high, middle)
    temp_c = np.where(beyond, np.nan, (low + high) / 2)
    return temp_c if shape else float(temp_c)


def loss_coefficient(temp_c, diameter_m, **air):
    """Heat shed by each square metre of wire for each kelvin of its rise, air and radiation together.

    temp_c: wire, degC, above the room. diameter_m: m. air: emissivity, ambient_c and so on, as heat_shed.
    Returns W/(m2 K).
    """
    return sum(heat_shed(temp_c, diameter_m, **air)) / (np.pi * diameter_m * (temp_c - air.get("ambient_c", 20.0)))


def wire_heat(load_a, linear_ohm_per_m, hot_factor):
    """Each metre of wire makes the square of the current times its hot ohms.

    load_a: current. linear_ohm_per_m: cold resistance per length. hot_factor: hot over cold.
    Returns wire_w_m.  Equation: Joule's law.
    """
    wire_w_m = load_a**2 * linear_ohm_per_m * hot_factor
    return wire_w_m


def middle_rise(full_rise_k, length_m, reach_m):
    """A short wire between cold clamps stays below the temperature of a long one, even in its middle.

    full_rise_k: rise over the room of a long wire. length_m: between the clamps. reach_m: fins.reach_of.
    Returns middle_rise_k.
    Assumes clamps at room temperature and a loss that goes with the rise; within a twentieth of the true rise for
    wires longer than six reaches, and lower than it below.
    Equation: fin with heat made inside, 1 - 1/cosh(L / 2 reach); Carslaw and Jaeger, Conduction of Heat in
    Solids, 2nd ed., section 4.10 (from memory).
    """
    reaches = length_m / (2 * reach_m)
    middle_rise_k = full_rise_k * (1 - 2 / (np.exp(reaches) + np.exp(-reaches)))
    return middle_rise_k


def cooled_length(reach_m):
    """From each clamp it takes this length until the wire is within two per cent of its full rise.

    reach_m: fins.reach_of.
    Returns cooled_m.  Equation: 1 - exp(-x/reach) = 0.98 of a long wire.
    """
    cooled_m = reach_m * np.log(50)
    return cooled_m
