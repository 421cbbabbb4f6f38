"""Convection from a round surface in room air: free and moved, chosen by Rayleigh number, not by kind of part."""

from dataclasses import dataclass
from functools import cache, cached_property

import numpy as np

from ...basics.tables import rows

GRAVITY_M_S2 = 9.80665
FINE_M = 0.3e-3  # a wire below this answers to the least draught
ALREADY = 0.3  # of the moved air: what it conducts at rest, which free convection counts already
MOST_CURVED = 5.0  # curvature up to which Popiel's correction was fitted
BLEND_RA = (1e2, 1e4)  # between these two the mean of Morgan and Churchill-Chu, +-15 %


@cache
def _air():
    table = rows("air")
    columns = ("temp_c", "conductivity_w_mk", "viscosity_pa_s", "density_kg_m3", "prandtl")
    return tuple(np.array([float(r[c]) for r in table]) for c in columns)


def air_at(temp_c):
    """Still air at 1 atm.

    temp_c: degC, float or array; beyond data/air.csv the end values hold.
    Returns (conductivity W/(m K), kinematic viscosity m2/s, Prandtl number).
    """
    at, k, viscosity, density, prandtl = _air()
    return (
        np.interp(temp_c, at, k),
        np.interp(temp_c, at, viscosity) / np.interp(temp_c, at, density),
        np.interp(temp_c, at, prandtl),
    )


@dataclass(frozen=True, eq=False)
class AirBeside:
    """The air beside surfaces, at the mean of their temperature and the room's; made by air_beside.

    excess_k: surface over room. conductivity_w_mk, viscosity_m2_s (kinematic), prandtl: of the air. rayleigh_m3: the
    Rayleigh number over the cube of the length.  What hangs on the Prandtl number alone is worked out once.
    """

    excess_k: np.ndarray
    conductivity_w_mk: np.ndarray
    viscosity_m2_s: np.ndarray
    prandtl: np.ndarray
    rayleigh_m3: np.ndarray

    @cached_property
    def cylinder(self):
        """Factor of Ra^(1/6) in Churchill and Chu's equation for a cylinder."""
        return _cylinder(self.prandtl)

    @cached_property
    def plate(self):
        """Factor of Ra^(1/6) in their equation for a plate."""
        return 0.387 / (1 + (0.492 / self.prandtl) ** (9 / 16)) ** (8 / 27)

    @cached_property
    def slender(self):
        """Factor and power of Popiel's correction for a thin cylinder."""
        factor = 0.0571322 + 0.20305 * self.prandtl**-0.43
        power = 0.9165 - 0.0043 * self.prandtl**0.5 + 0.01333 * np.log(self.prandtl) + 0.0004809 / self.prandtl
        return factor, power

    @cached_property
    def crossing(self):
        """Factor of Re^(1/2) in Churchill and Bernstein's equation."""
        return _crossing(self.prandtl)


def air_beside(temp_c, ambient_c):
    """The air beside a surface, from which its convection follows by its size.

    temp_c, ambient_c: degC, floats or arrays.
    Returns AirBeside.  Equation: Ra = g beta dT L^3 Pr / nu^2, beta = 1/T of the film; Incropera et al.,
    Fundamentals of Heat and Mass Transfer, eq. 9.25.
    """
    temp_c = np.asarray(temp_c, float)
    film_c, excess_k = (temp_c + ambient_c) / 2, temp_c - ambient_c
    k, nu, prandtl = air_at(film_c)
    return AirBeside(
        excess_k, k, nu, prandtl, GRAVITY_M_S2 / (film_c + 273.15) * np.abs(excess_k) * prandtl / (nu * nu)
    )


def rayleigh(temp_c, ambient_c, length_m):
    """Rayleigh number of a surface in air, properties at the mean of surface and room.

    temp_c, ambient_c: degC. length_m: diameter or height.
    Returns Ra (>= 0).  Equation: as air_beside.
    """
    return air_beside(temp_c, ambient_c).rayleigh_m3 * length_m**3


def nusselt_morgan(ra):
    """Free convection, long horizontal cylinder, by ranges; best for fine wires.

    ra: Rayleigh number by diameter, 1e-10 to 1e12.
    Returns Nusselt number.  Where its ranges meet it jumps by less than 1 %.
    Equation: Morgan, The overall convective heat transfer from smooth circular cylinders, Adv. Heat
    Transfer 11 (1975) 199; Incropera et al., eq. 9.33.
    """
    ra = np.maximum(ra, 1e-12)
    edges = [1e-2, 1e2, 1e4, 1e7]
    factor, power = np.array([0.675, 1.02, 0.850, 0.480, 0.125]), np.array([0.058, 0.148, 0.188, 0.250, 0.333])
    i = np.searchsorted(edges, ra)
    return factor[i] * ra ** power[i]


def nusselt_churchill_chu(ra, prandtl):
    """Free convection, long horizontal cylinder, one equation for all ranges; best for tubes.

    ra: Rayleigh number by diameter, 1e-5 to 1e12. prandtl: of the air.
    Returns Nusselt number.
    Equation: Churchill and Chu, Correlating equations for laminar and turbulent free convection from a
    horizontal cylinder, Int. J. Heat Mass Transfer 18 (1975) 1049; Incropera et al., eq. 9.34.
    """
    return _churchill_chu(ra, _cylinder(prandtl))


def _cylinder(prandtl):
    return 0.387 / (1 + (0.559 / prandtl) ** (9 / 16)) ** (8 / 27)


def _churchill_chu(ra, factor):
    return (0.60 + factor * ra ** (1 / 6)) ** 2


def nusselt_lying(ra, prandtl):
    """Free convection of a lying cylinder of any size: wires by Morgan, tubes by Churchill-Chu, blended between.

    ra: Rayleigh number by diameter. prandtl: of the air.
    Returns Nusselt number; between Ra 1e2 and 1e4 good to about 15 %.
    """
    return _lying(ra, _cylinder(prandtl))


def _lying(ra, factor):
    low, high = (np.log(b) for b in BLEND_RA)
    share = np.clip((np.log(np.maximum(ra, 1e-12)) - low) / (high - low), 0, 1)
    share = share**2 * (3 - 2 * share)
    return (1 - share) * nusselt_morgan(ra) + share * _churchill_chu(ra, factor)


def nusselt_standing(temp_c, ambient_c, diameter_m, height_m):
    """Free convection of a standing cylinder, Nusselt number by height.

    temp_c, ambient_c: degC. diameter_m, height_m: m.
    Returns Nu by height: that of a plate, times the correction for a thin cylinder.
    Equations: plate, Churchill and Chu 1975 (Incropera et al., eq. 9.26); cylinder, Popiel, Free
    convection heat transfer from vertical slender cylinders, Heat Transfer Eng. 29 (2008) 521.
    """
    return _standing(air_beside(temp_c, ambient_c), diameter_m, height_m)


def _standing(air, diameter_m, height_m):
    ra = np.maximum(air.rayleigh_m3 * height_m**3, 1e-9)
    plate = (0.825 + air.plate * ra ** (1 / 6)) ** 2
    factor, power = air.slender
    return plate * (1 + factor * _curvature(air, ra, height_m / diameter_m) ** power)


def _curvature(air, ra, slimness):
    return 32**0.5 * slimness / np.sqrt(np.sqrt(ra / air.prandtl))


def curvature(temp_c, ambient_c, diameter_m, height_m):
    """How thick the rising air is beside the diameter of a standing cylinder: 4 H/D (Gr/4)^(-1/4).

    temp_c, ambient_c: degC. diameter_m, height_m: m.
    Returns ratio; Popiel's correction was fitted to Cebeci's numbers up to about 5 (from memory), and a wire that
    stands lies far beyond.
    """
    air = air_beside(temp_c, ambient_c)
    return _curvature(air, np.maximum(air.rayleigh_m3 * height_m**3, 1e-9), height_m / diameter_m)


def nusselt_forced(reynolds, prandtl):
    """Cylinder across moving air.

    reynolds: by diameter. prandtl: of the air; Re Pr above 0.2.
    Returns Nusselt number.
    Equation: Churchill and Bernstein, J. Heat Transfer 99 (1977) 300; Incropera et al., eq. 7.54.
    """
    return _crossed(reynolds, _crossing(prandtl))


def _crossing(prandtl):
    return 0.62 * np.cbrt(prandtl) / (1 + (0.4 / prandtl) ** (2 / 3)) ** 0.25


def _crossed(reynolds, factor):
    return ALREADY + factor * np.sqrt(reynolds) * (1 + (reynolds / 282000) ** (5 / 8)) ** 0.8


def nusselt_flat_up(ra):
    """Free convection from a flat round face looking up (hot) - or down, if colder than the air.

    ra: Rayleigh number by area over circumference (a quarter of a disc's diameter), 1 to 1e11.
    Returns Nusselt number by the same length.
    Equations: 0.54 Ra^(1/4), 0.15 Ra^(1/3), Incropera et al., eqs. 9.30 and 9.31 (Lloyd and Moran 1974);
    0.96 Ra^(1/6) below, Goldstein, Sparrow and Jones, Int. J. Heat Mass Transfer 16 (1973) 1025.  The
    largest of the three is taken: they meet within 5 % at Ra 1e3 and 1e7.
    """
    ra = np.maximum(ra, 1e-9)
    return np.maximum(np.maximum(0.54 * ra**0.25, 0.15 * ra ** (1 / 3)), 0.96 * ra ** (1 / 6))


def flat_convection(temp_c, ambient_c, diameter_m, air_speed_m_s):
    """Heat shed by convection from each square metre of a flat round face looking up.

    temp_c, ambient_c: degC. diameter_m: of the face. air_speed_m_s: draught over it.
    Returns W/m2.  The draught counts as over a plate of that length: 0.664 Re^(1/2) Pr^(1/3), Incropera et
    al., eq. 7.30; both join as in convection_of.
    """
    return flat_in(air_beside(temp_c, ambient_c), diameter_m, air_speed_m_s)


def flat_in(air, diameter_m, air_speed_m_s):
    """flat_convection, in air that is known already.

    air: AirBeside. diameter_m, air_speed_m_s: as there.
    Returns W/m2.
    """
    k, nu = air.conductivity_w_mk, air.viscosity_m2_s
    free = k / (diameter_m / 4) * nusselt_flat_up(air.rayleigh_m3 * (diameter_m / 4) ** 3)
    forced = k / diameter_m * 0.664 * np.sqrt(np.asarray(air_speed_m_s) * diameter_m / nu) * np.cbrt(air.prandtl)
    return np.cbrt(_cubed(free) + _cubed(forced)) * air.excess_k


def surface_words(temp_c, ambient_c, diameter_m, air_speed_m_s, attitude="lying", length_m=0.2):
    """Which equation a surface's convection comes from, and whether it is inside its range.

    temp_c, ambient_c, diameter_m, air_speed_m_s, attitude, length_m: as convection_of, floats.
    Returns a sentence.  The range is told by Rayleigh number and by diameter: free convection of the finest wires rests
    on few measurements, and on air that is stiller than any room's.
    """
    standing = attitude != "lying"
    ra = float(rayleigh(temp_c, ambient_c, length_m if standing else diameter_m))
    _, nu, prandtl = air_at((temp_c + ambient_c) / 2)
    re = float(air_speed_m_s * diameter_m / nu)
    if standing:
        name, ends = "Churchill-Chu plate with Popiel's correction for a thin cylinder", (1e-1, 1e12)
    elif ra < BLEND_RA[0]:
        name, ends = "Morgan (fine wire)", (1e-10, 1e12)
    elif ra > BLEND_RA[1]:
        name, ends = "Churchill-Chu (tube)", (1e-5, 1e12)
    else:
        name, ends = "the mean of Morgan and Churchill-Chu, good to 15 %", (1e-5, 1e12)
    curved = float(curvature(temp_c, ambient_c, diameter_m, length_m)) if standing else 0.0
    fits = ends[0] <= ra <= ends[1] and curved <= MOST_CURVED
    inside = "inside its range" if fits else "OUTSIDE its range: take it as a guess"
    too_thin = f" (curvature {curved:.2g}, fitted up to {MOST_CURVED:g})" if curved > MOST_CURVED else ""
    draught = f"; draught: Churchill-Bernstein at Re {re:.3g}, " if re else ""
    if re:
        low = "below its printed range, where it keeps to Collis and Williams' measured wires"
        draught += "inside its range" if re * float(prandtl) > 0.2 else low
    fine = f"; at {1e3 * diameter_m:.2g} mm the least draught counts" if diameter_m < FINE_M else ""
    return f"free convection: {name} at Ra {ra:.3g}, {inside}{too_thin}{draught}{fine}."


def convection_of(temp_c, ambient_c, diameter_m, air_speed_m_s, attitude="lying", length_m=0.2, free_share=1.0):
    """Heat shed by convection from each square metre of a round surface.

    temp_c: surface, degC. ambient_c: room, degC. diameter_m: of the surface. air_speed_m_s: draught
    across it, 0 to 10. attitude: "lying", "tip down" or "tip up" (standing). length_m: height when standing, of the
    surface's own rise of air. free_share: on free convection alone, 0 and above: below 1 where the surface stands in
    air that the tool has warmed, which a draught carries away.
    Returns W/m2, negative where the surface is colder than the room.
    Assumes free and moved air to add as h = ((share h_free)^3 + h_forced^3)^(1/3) (Incropera et al., section 9.9); of
    the moved air's Nu^3 the 0.3^3 that Churchill and Bernstein's equation keeps at rest is taken off, so that a draught
    dies down into still air without a jump (own step).  A draught is taken to cross the tool, whatever its attitude.
    """
    return convection_in(
        air_beside(temp_c, ambient_c), diameter_m, air_speed_m_s, attitude, length_m, free_share=free_share
    )


def convection_in(air, diameter_m, air_speed_m_s, attitude="lying", length_m=0.2, *, free_share=1.0):
    """convection_of, in air that is known already: many surfaces of one tool share it.

    air: AirBeside. diameter_m, air_speed_m_s, attitude, length_m, free_share: as there.
    Returns W/m2.
    """
    if attitude == "lying":
        free = air.conductivity_w_mk / diameter_m * _lying(air.rayleigh_m3 * diameter_m**3, air.cylinder)
    else:
        free = air.conductivity_w_mk / length_m * _standing(air, diameter_m, length_m)
    reynolds = np.asarray(air_speed_m_s) * diameter_m / air.viscosity_m2_s
    moved = _crossed(reynolds, air.crossing)
    per_nusselt = air.conductivity_w_mk / diameter_m
    return np.cbrt(_cubed(free_share * free) + _cubed(per_nusselt) * (_cubed(moved) - ALREADY**3)) * air.excess_k


def _cubed(x):
    return x * x * x
