"""Check values for wood and heat breaks against the functions of ours that should give them."""

from thermal.holes.test_closed_form import conductivity_of_array

from benchcalc.materials import wood
from benchcalc.thermal.holes.strength import section_modulus

INCH_M = 0.0254


def tangential(species):
    return wood.shrinkage(species)[1]


OURS = {
    ("beech 0 %", "conductivity_w_mk"): lambda: wood.across_grain(0.68, 0.0),
    ("beech 12 %", "conductivity_w_mk"): lambda: wood.across_grain(0.68, 0.12),
    ("white ash 12 %", "conductivity_w_mk"): lambda: wood.across_grain(
        wood.wood_row("ash", "specific_gravity")["value"], 0.12
    ),
    ("black walnut 0 %", "conductivity_w_mk"): lambda: wood.across_grain(
        wood.wood_row("walnut", "specific_gravity")["value"], 0.0
    ),
    ("wood 12 % at 340 K", "specific_heat_j_kgk"): lambda: wood.specific_heat(340 - 273.15, 0.12),
    ("white oak board 127 mm from 9 to 6 %", "closing_m"): lambda: wood.bore_change(
        5 * INCH_M, tangential("oak"), 0.03
    ),
    ("red oak 12 in for 12 %", "closing_m"): lambda: wood.bore_change(12 * INCH_M, tangential("oak-red"), 0.12),
    ("air 20 degC 50 %", "moisture"): lambda: wood.balance_moisture(21.1, 0.5),
    ("air 20 degC 65 %", "moisture"): lambda: wood.balance_moisture(21.1, 0.65),
    ("wood at 120 degC", "weaken_h"): lambda: wood.hours_to_weaken(120.0),
    ("wood at 140 degC", "weaken_h"): lambda: wood.hours_to_weaken(140.0),
    ("square array d/p 0.5", "array_share"): lambda: conductivity_of_array(0.5, 1.0, False, 72),
    ("square array d/p 0.9", "array_share"): lambda: conductivity_of_array(0.9, 1.0, False, 72),
    ("hexagonal array d/p 0.5", "array_share"): lambda: conductivity_of_array(0.5, 3**0.5 / 2, True, 72),
    ("hexagonal array d/p 0.9", "array_share"): lambda: conductivity_of_array(0.9, 3**0.5 / 2, True, 72),
    ("solid rod 10 mm", "section_modulus_m3"): lambda: section_modulus(0.01, 0.0),
}
