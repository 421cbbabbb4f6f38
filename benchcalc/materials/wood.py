"""Wood: how it conducts, what it weighs, how dry it gets beside something hot, how it shrinks, how long it lasts.

Equations of the USDA Wood Handbook (FPL-GTR-190); the species' numbers are in data/wood.csv and
data/wood_shrinkage.csv. moisture is a share of the dry mass: 0.08 is 8 %.
"""

from dataclasses import dataclass

import numpy as np

from ..basics.fault import closest, fault
from ..basics.tables import rows

WETTEST = 0.25  # the conductivity formula ends here
STATED_MOISTURE = 0.08  # of a handle in a heated room, where the sheet gives its density alone
COLD_C = 20.0  # temperature at which the heat capacity is taken; it grows with temperature
STRAIN = 0.01  # across the grain wood takes about this much before it crushes for good


@dataclass(frozen=True)
class Bulk:
    """What one piece of wood conducts and stores: W/(m K) across the grain, J/(m3 K) at 20 degC."""

    conductivity_w_mk: float
    heat_j_m3k: float


def density_by_scale(mass_kg, part_length_m, outer_m, inner_m):
    """Density of a turned handle from kitchen scale and ruler.

    mass_kg: of the handle. part_length_m: its length. outer_m: mean diameter. inner_m: of its bore.
    Returns density_kg_m3.  A tapered handle wants the mean of several diameters.
    """
    density_kg_m3 = 4 * mass_kg / (np.pi * (outer_m**2 - inner_m**2) * part_length_m)
    return density_kg_m3


def gravity_of(density_kg_m3, moisture):
    """Specific gravity: dry mass over the mass of as much water as the wood is large.

    density_kg_m3: as it is weighed. moisture: share of the dry mass, 0 to 0.25.
    Returns specific_gravity.  Equation: Wood Handbook FPL-GTR-190, chapter 4 (definition).
    """
    specific_gravity = density_kg_m3 / (1000 * (1 + moisture))
    return specific_gravity


def across_grain(specific_gravity, moisture):
    """Conductivity of wood across the grain: it rises with density and with moisture.

    specific_gravity: above 0.3. moisture: 0 to 0.25.
    Returns conductivity_w_mk near 24 degC; single boards differ by 20 %, and each 10 K adds 2 to 3 %.
    Equation: k = G (B + C M) + A, Wood Handbook FPL-GTR-190, eq. 4-15.
    """
    conductivity_w_mk = specific_gravity * (0.1941 + 0.4064 * moisture) + 0.01864
    return conductivity_w_mk


def bore_change(inner_m, shrink_per_moisture, moisture_lost):
    """A bore closes as the wood around it dries.

    inner_m: diameter of the bore. shrink_per_moisture: coefficient of the species, as a share for each unit of moisture
    (tangential or radial). moisture_lost: between 0.14 and 0.06 the coefficient is known, below it is carried on.
    Returns closing_m.  Equation: Wood Handbook FPL-GTR-190, eq. 13-2.
    """
    closing_m = inner_m * shrink_per_moisture * moisture_lost
    return closing_m


def wood_row(species, quantity):
    """A row of data/wood.csv.

    species: key, or "any". quantity: e.g. "specific_gravity".
    Returns dict, or None where the species is not listed.
    """
    return next((r for r in rows("wood") if r["key"] == species and r["quantity"] == quantity), None)


def shrinkage(species):
    """Shrinkage of a species for each unit of moisture, across the bore: (radial, tangential) as shares.

    species: key of data/wood_shrinkage.csv.
    Raises Fault with the closest species.
    """
    table = rows("wood_shrinkage")
    found = next((r for r in table if r["key"] == species), None)
    if found is None:
        raise fault(
            "species",
            species,
            "has no shrinkage in data/wood_shrinkage.csv.",
            closest(species, [r["key"] for r in table]),
        )
    return 100 * found["radial_per_percent"], 100 * found["tangential_per_percent"]


def specific_heat(temp_c, moisture):
    """Specific heat of moist wood.

    temp_c: 0 to 140 degC. moisture: 0 to 0.25.
    Returns J/(kg K).  Equation: Wood Handbook FPL-GTR-190, eq. 4-16 to 4-18, constants in data/wood.csv.
    """
    _refuse_wet(moisture)
    c = {q: wood_row("any", q)["value"] for q in ("c0_j_kgk", "c0_slope", "b1", "b2", "b3")}
    kelvin, percent = np.asarray(temp_c) + 273.15, 100 * np.asarray(moisture)
    dry = c["c0_j_kgk"] + c["c0_slope"] * kelvin
    return (dry + 0.01 * percent * 4190) / (1 + 0.01 * percent) + 1000 * percent * (
        c["b1"] + c["b2"] * kelvin + c["b3"] * percent
    )


def wood_bulk(species, density_kg_m3=None, moisture=None):
    """What a piece of wood conducts and stores, from what the maker knows of it.

    species: key of data/wood.csv; one that is not there counts as hardwood. density_kg_m3: as weighed, None: the
    species' own. moisture: 0 to 0.25, None: 0.08.
    Returns Bulk.  Raises Fault for moisture outside the data.
    """
    moisture = STATED_MOISTURE if moisture is None else moisture
    _refuse_wet(moisture)
    row = wood_row(species, "specific_gravity") or wood_row("hardwood", "specific_gravity")
    gravity = row["value"] if density_kg_m3 is None else gravity_of(density_kg_m3, moisture)
    density = 1000 * gravity * (1 + moisture) if density_kg_m3 is None else density_kg_m3
    return Bulk(across_grain(gravity, moisture), density * specific_heat(COLD_C, moisture))


def _refuse_wet(moisture):
    if np.any(np.asarray(moisture) < 0) or np.any(np.asarray(moisture) > WETTEST):
        raise fault(
            "moisture",
            f"{100 * float(np.max(moisture)):g} %",
            "is outside 0 to 25 % of the dry mass.",
            "Fresh wood holds more water than the formulas know.",
            'Let it dry first, or write a share such as "8 %".',
        )


def balance_moisture(temp_c, humidity):
    """Moisture that wood comes to in air of a temperature and relative humidity.

    temp_c: 0 to 120 degC. humidity: 0 to 0.95.
    Returns share of the dry mass.
    Equation: Hailwood-Horrobin form, Wood Handbook FPL-GTR-190, eq. 4-5, Celsius constants from memory; above 70 degC
    carried on beyond its data.
    """
    t = np.asarray(temp_c, float)
    w = 349 + 1.29 * t + 0.0135 * t**2
    k = 0.805 + 0.000736 * t - 0.00000273 * t**2
    k1 = 6.27 - 0.00938 * t - 0.000303 * t**2
    k2 = np.maximum(1.91 + 0.0407 * t - 0.000293 * t**2, 0.0)
    k1 = np.maximum(k1, 0.0)
    kh = k * humidity
    return 18.0 / w * (kh / (1 - kh) + (k1 * kh + 2 * k1 * k2 * kh**2) / (1 + k1 * kh + k1 * k2 * kh**2))


def moisture_beside(hot_c, room_c, humidity=0.5):
    """Moisture that wood comes to beside something hot, in the air of a room.

    hot_c: of the wood. room_c: of the room. humidity: of the room, 0 to 0.95.
    Returns share of the dry mass: the room's vapour is nearly dry air at hot_c.
    Equation: as balance_moisture; pressure of saturated vapour by the Magnus formula (WMO, Guide to Instruments and
    Methods of Observation, annex 4.B), within 3 % to 100 degC.
    """

    def saturated(t):
        return 611.2 * np.exp(17.62 * t / (243.12 + t))

    there = np.minimum(humidity * saturated(np.asarray(room_c, float)) / saturated(np.asarray(hot_c, float)), 0.95)
    return balance_moisture(np.minimum(hot_c, 120.0), there)


def hours_to_weaken(temp_c):
    """Hours at a temperature until wood has lost a tenth of its strength.

    temp_c: 70 to 250 degC.
    Returns h: 10 % in a month at 120 degC and in a week at 140 degC, and on the straight line through both (logarithm
    of time against 1/T) elsewhere.  Beyond 100 to 160 degC a guess; says nothing of wood that heats itself.
    Source: Shafizadeh and Chin 1977 as quoted in Navi and Sandberg, Thermo-hydro-mechanical wood processing;
    data/wood_limits.csv.
    """
    limit = {r["key"]: r["value"] for r in rows("wood_limits")}
    slow, fast = limit["month_10_percent_c"] + 273.15, limit["week_10_percent_c"] + 273.15
    month, week = 365.25 * 24 / 12, 7 * 24.0
    slope = np.log(month / week) / (1 / slow - 1 / fast)
    return month * np.exp(slope * (1 / (np.asarray(temp_c, float) + 273.15) - 1 / slow))
