"""Wire: section, ohms per metre, length for a resistance, surface load.  Floats or arrays."""

import numpy as np


def round_area(diameter_m):
    """Cross-section of round wire.

    diameter_m: wire diameter, above 0.
    Returns area_m2.  Geometry of the circle.
    """
    area_m2 = np.pi * diameter_m**2 / 4
    return area_m2


def ribbon_area(width_m, thickness_m):
    """Cross-section of ribbon, edges taken as square.

    width_m, thickness_m: above 0.
    Returns area_m2.  Rolled ribbon has round edges: up to 3-5 % less (common practice, no source).
    """
    area_m2 = width_m * thickness_m
    return area_m2


def round_edge(diameter_m):
    """Circumference of round wire: its surface for each metre of length.

    diameter_m: wire diameter.
    Returns edge_m.
    """
    edge_m = np.pi * diameter_m
    return edge_m


def ribbon_edge(width_m, thickness_m):
    """Circumference of ribbon: its surface for each metre of length.

    width_m, thickness_m: ribbon section.
    Returns edge_m.
    """
    edge_m = 2 * (width_m + thickness_m)
    return edge_m


def linear_resistance(resistivity_ohm_m, area_m2):
    """Cold ohms per metre from the alloy and the section.

    resistivity_ohm_m: at 20 degC. area_m2: cross-section, above 0.
    Returns linear_ohm_per_m.  Equation: definition of resistivity, R = rho l / A.
    """
    linear_ohm_per_m = resistivity_ohm_m / area_m2
    return linear_ohm_per_m


def measured_linear(measured_ohm, leads_ohm, measured_length_m):
    """Cold ohms per metre from a measured piece: wins over any table.

    measured_ohm: reading over the piece. leads_ohm: reading with the probes touching (0 if the
    meter was zeroed). measured_length_m: length between the probes, above 0.
    Returns linear_ohm_per_m.
    """
    linear_ohm_per_m = (measured_ohm - leads_ohm) / measured_length_m
    return linear_ohm_per_m


def cold_resistance(linear_ohm_per_m, length_m):
    """Cold resistance of a length of wire.

    linear_ohm_per_m: cold ohms per metre. length_m: length of wire.
    Returns cold_ohm.
    """
    cold_ohm = linear_ohm_per_m * length_m
    return cold_ohm


def hot_resistance(cold_ohm, hot_factor):
    """Resistance at working temperature.

    cold_ohm: at 20 degC. hot_factor: R(T)/R(20 degC) from the alloy's table.
    Returns hot_ohm.
    """
    hot_ohm = cold_ohm * hot_factor
    return hot_ohm


def length_for(hot_ohm, hot_factor, linear_ohm_per_m):
    """Length of wire that has a wanted resistance when hot.

    hot_ohm: wanted hot resistance. hot_factor: hot over cold. linear_ohm_per_m: cold ohms per metre.
    Returns length_m.
    """
    length_m = hot_ohm / (hot_factor * linear_ohm_per_m)
    return length_m


def surface_load(coil_w, edge_m, length_m):
    """Power shed by each unit of the wire's own surface (not of the tube around it).

    coil_w: power in the wire. edge_m: circumference of its section. length_m: heated length.
    Returns surface_load_w_m2.  It advises; in an enclosed tool the temperature decides.
    """
    surface_m2 = edge_m * length_m
    surface_load_w_m2 = coil_w / surface_m2
    return surface_load_w_m2


def rated_resistance(rated_v, rated_w):
    """Resistance of an element that takes its rated watts on its rated volts, hot.

    rated_v, rated_w: printed on it, above 0.
    Returns hot_ohm.  Equation: Ohm's and Joule's laws, R = U^2 / P.
    """
    hot_ohm = rated_v**2 / rated_w
    return hot_ohm


def held_current(load_v, load_ohm):
    """The current of a load whose volts are held.

    load_v: volts at the load, whatever it draws. load_ohm: its resistance, above 0.
    Returns load_a.  Equation: Ohm's law.
    """
    load_a = load_v / load_ohm
    return load_a
