"""Heat through metal by hand: the drop along a stem, across a joint, and what warming it up costs."""

import numpy as np

from ..basics.fault import fault
from ..materials.metals import mean_between


def stem_drop(through_w, part_length_m, conductivity_w_mk, section_m2):
    """A stem drops the more kelvins the more watts it carries, the longer and the thinner it is.

    through_w: watts that pass through all of its length. part_length_m: of the stem. conductivity_w_mk: mean over
    its temperatures. section_m2: cross-section of the metal.
    Returns drop_k.  Assumes that nothing leaves by the side.
    Equation: Fourier's law for a bar; Incropera et al., Fundamentals of Heat and Mass Transfer, eq. 3.6.
    """
    drop_k = through_w * part_length_m / (conductivity_w_mk * section_m2)
    return drop_k


def joint_drop(through_w, contact_w_m2k, contact_m2):
    """A joint drops kelvins too, but only for the watts that must cross it.

    through_w: watts that cross. contact_w_m2k: conductance of the joint by area. contact_m2: area that touches.
    Returns drop_k.  Equation: contact resistance; Holman, Heat Transfer, eq. 2-48.
    """
    drop_k = through_w / (contact_w_m2k * contact_m2)
    return drop_k


def joint_length(conductivity_w_mk, contact_w_m2k):
    """How much more metal of its own section would drop as much as the joint does.

    conductivity_w_mk: of the metal. contact_w_m2k: of the joint.
    Returns same_as_m.  Equation: L = k/h; Cengel, Heat and Mass Transfer, example 3-4.
    """
    same_as_m = conductivity_w_mk / contact_w_m2k
    return same_as_m


def plug_contact(fit_m, part_length_m):
    """The area on which a round plug touches its bore.

    fit_m: diameter of the plug. part_length_m: in the bore.
    Returns contact_m2.
    """
    contact_m2 = np.pi * fit_m * part_length_m
    return contact_m2


def rod_section(outer_m):
    """Cross-section of a round rod.

    outer_m: diameter.
    Returns section_m2.
    """
    section_m2 = np.pi * outer_m**2 / 4
    return section_m2


def tube_mass(section_m2, part_length_m, density_kg_m3):
    """Mass of a rod or tube.

    section_m2: cross-section of the metal. part_length_m: length. density_kg_m3: of the metal.
    Returns mass_kg.
    """
    mass_kg = section_m2 * part_length_m * density_kg_m3
    return mass_kg


def heat_up_time(mass_kg, specific_heat_j_kgk, rise_k, coil_w):
    """The least time to warm a piece of metal, were nothing lost on the way.

    mass_kg: of the piece. specific_heat_j_kgk: mean over the rise. rise_k: how far. coil_w: all of it into this piece.
    Returns least_s; a real tool takes longer, since it loses and since other parts warm too.
    Equation: m c dT = P t.
    """
    energy_j = mass_kg * specific_heat_j_kgk * rise_k
    least_s = energy_j / coil_w
    return least_s


def drop_from(metal, hot_c, through_w, part_length_m, section_m2):
    """The drop along a stem whose conductivity changes with temperature.

    metal: as materials.metals. hot_c: degC at its hot end, below melting. through_w: 0 and above.
    part_length_m, section_m2: above 0.
    Returns (drop_k, conductivity_w_mk): the mean conductivity between both ends makes stem_drop exact.  The drop is
    at most down to -100 degC: no such stem would pass those watts, and the drop is then inf.
    Method: the integral of k from the cold end to the hot one equals q L/A (Kirchhoff), found by halving.
    Raises Fault: a length or section that is not above 0, watts below 0, a temperature beyond melting.
    """
    for word, value, need in (("length", part_length_m, part_length_m > 0), ("cross-section", section_m2, section_m2 > 0),
                              ("watts", through_w, through_w >= 0)):
        if not need or not np.isfinite(value):
            raise fault(f"stem, {word}", f"{value:g}", "must be above 0, in metres, square metres and watts.",
                        "A diameter outside in place of inside, perhaps.")
    wanted = through_w * part_length_m / section_m2
    low, high = 0.0, float(hot_c) + 100.0
    if mean_between(metal, "conductivity_w_mk", hot_c - high, hot_c) * high < wanted:
        return float("inf"), mean_between(metal, "conductivity_w_mk", hot_c - high, hot_c)
    for _ in range(60):
        middle = (low + high) / 2
        if mean_between(metal, "conductivity_w_mk", hot_c - middle, hot_c) * middle < wanted:
            low = middle
        else:
            high = middle
    return high, mean_between(metal, "conductivity_w_mk", hot_c - high, hot_c)
