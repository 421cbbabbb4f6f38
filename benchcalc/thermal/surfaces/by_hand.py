"""Heat through metal by hand: the drop along a stem, across a joint, and what warming it up costs."""

from functools import cache

import numpy as np

from ...basics.fault import fault
from ...materials.bulk import solid
from ...materials.metals import metal_at, metal_key
from ..network.curves import conduction_integral, conductivity, conductivity_at

COLDEST_C = -100.0


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

    metal: as materials.metals. hot_c: degC at its hot end, above 0 and below melting. through_w: 0 and above.
    part_length_m, section_m2: above 0.
    Returns (drop_k, conductivity_w_mk): the mean conductivity between both ends makes stem_drop exact.  Where the cold
    end would lie below -100 degC no such stem passes those watts: the drop is inf.
    Equation: the integral of k from the cold end to the hot one is q L/A (Kirchhoff); see curves.conduction_integral.
    Raises Fault: a length or section that is not above 0, watts below 0, a hot end that melts.
    """
    for word, value, need in (
        ("length", part_length_m, part_length_m > 0),
        ("cross-section", section_m2, section_m2 > 0),
        ("watts", through_w, through_w >= 0),
    ):
        if not need or not np.isfinite(value):
            raise fault(
                f"stem, {word}",
                f"{value:g}",
                "must be above 0, in metres, square metres and watts.",
                "A diameter outside in place of inside, perhaps.",
            )
    hot_c, curve = float(hot_c), conduction_curve(metal)
    hot_w_mk = metal_at(metal, "conductivity_w_mk", hot_c).value  # refuses a metal that melts
    grid = np.linspace(COLDEST_C, hot_c, 256)
    whole = conduction_integral(curve, grid)
    wanted = whole[-1] - through_w * part_length_m / section_m2
    if wanted < whole[0]:
        return float("inf"), float((whole[-1] - whole[0]) / (hot_c - COLDEST_C))
    cold = float(np.interp(wanted, whole, grid))
    for _ in range(2):  # Newton, from a start that is all but there
        cold -= float((conduction_integral(curve, cold) - wanted) / conductivity_at(curve, cold))
    drop_k = hot_c - cold
    return drop_k, hot_w_mk if drop_k < 1e-6 else float((whole[-1] - wanted) / drop_k)


@cache
def conduction_curve(metal):
    """Conductivity of a metal as the solver takes it.  metal: as materials.metals.  Returns curves.Conductivity."""
    found = solid(metal_key(metal))
    return conductivity(found.name, found.conductivity_w_mk, found.temps_c)
