"""Used wire: what scale has taken off it."""

import numpy as np


def diameter_left(diameter_m, grown_ratio):
    """Metal left in an oxidised wire, from the growth of its ohms per metre.

    diameter_m: diameter when new. grown_ratio: ohms per metre now over those of the table for new wire, 1-2.
    Returns left_m.  Scale carries no current; the growth is put down to lost metal alone.
    Limits: the table's own band (some per cent of ohms) hides a loss of half that share of the diameter.
    Equation: resistance goes with one over the section.
    """
    bare_m2 = np.pi * diameter_m**2 / 4 / grown_ratio
    left_m = np.sqrt(4 * bare_m2 / np.pi)
    return left_m


def contact_heat(load_a, contacts_ohm):
    """Heat made in a joint or clamp by its contact resistance.

    load_a: current. contacts_ohm: resistance of the contact, 0.001 (clean, clamped hard) to 0.2 (oxidised, loose).
    Returns load_w, all of it in a spot: a watt there glows where the same watt in a metre of wire does not.
    Equation: Joule's law.
    """
    load_w = load_a**2 * contacts_ohm
    return load_w
