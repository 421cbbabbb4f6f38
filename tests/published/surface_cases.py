"""Air, convection, radiation and bare wires: the functions of ours that should give the values of surface.csv."""

import numpy as np
from scipy.optimize import brentq

from benchcalc.materials.glow import brightness
from benchcalc.thermal.network.network import held, link, network, node, ray
from benchcalc.thermal.network.steady import steady
from benchcalc.thermal.surfaces.bare_wire import Surroundings, heat_shed, wire_heat
from benchcalc.thermal.surfaces.surface_loss import (
    air_at,
    nusselt_churchill_chu,
    nusselt_morgan,
    nusselt_standing,
    rayleigh,
)

SIZE = {"": 1, "W": 1, "W/m": 1, "kW/m": 1e3, "kW/m2": 1e3, "W/m2K": 1, "K": 1, "cd/m2": 1}
ZERO_K = 273.15


def shed(diameter_m, temp_c, ambient_c, emissivity=1.0, **more):
    return heat_shed(temp_c, diameter_m, Surroundings(emissivity, ambient_c, **more))


def popiel():
    """Nu of ours at the library's Grashof and Prandtl numbers: the temperature is sought at which our air has them."""
    height, grashof = 2.5, 1e10

    def off(temp_c):
        return np.log(rayleigh(temp_c, 20.0, height) / air_at((temp_c + 20) / 2)[2] / grashof)

    return nusselt_standing(brentq(off, 20.01, 60.0), 20.0, 1.0, height)


def duct():
    """Gas temperature at which a bead of the network settles at the reading."""

    def bead(gas_k):
        net = network(
            node("bead"),
            held("gas", gas_k - ZERO_K),
            held("wall", 400.0 - ZERO_K),
            link("bead", "gas", 80.0),
            ray("bead", "wall", 1.0, 0.6),
        )
        return steady(net).temps_c[0] + ZERO_K - 650.0

    return brentq(bead, 600.0, 900.0, xtol=1e-4)


OURS = {
    ("horizontal cylinder Pr 0.69 Gr 2.63e9", "Churchill-Chu"): lambda: nusselt_churchill_chu(2.63e9 * 0.69, 0.69),
    ("horizontal cylinder Pr 0.69 Gr 2.63e9", "Morgan"): lambda: nusselt_morgan(2.63e9 * 0.69),
    **{
        (f"horizontal cylinder Pr 0.9 Gr {g}", "Morgan"): lambda g=g: nusselt_morgan(0.9 * float(g))
        for g in ("1e-2", "1e2", "1e4", "1e7", "1e10")
    },
    ("steam pipe 0.1 m given", "Churchill-Chu"): lambda: nusselt_churchill_chu(5.071e6, 0.697),
    ("steam pipe 0.1 m own air", "loss"): lambda: sum(shed(0.1, 165.0, 23.0, 0.85)),
    ("hot-water pipe 80 mm given", "Churchill-Chu"): lambda: nusselt_churchill_chu(1.869e6, 0.7241),
    ("hot-water pipe 80 mm own air", "convection"): lambda: 6 * shed(0.08, 70.0, 20.0)[0],
    ("hot-water pipe 80 mm black", "radiation"): lambda: 6 * shed(0.08, 70.0, 20.0)[1],
    ("fine wire 0.02 mm given", "Morgan"): lambda: nusselt_morgan(4.059e-5),
    ("fine wire 0.02 mm own air", "convection"): lambda: 0.5 * shed(2e-5, 54.0, 0.0)[0],
    ("resistance wire 1 mm", "convection"): lambda: shed(1e-3, 127.0, 27.0)[0],
    ("vertical wire 0.1 mm", "convection"): lambda: (
        0.5 * shed(1e-4, 400 - ZERO_K, 300 - ZERO_K, attitude="tip up", height_m=0.5)[0]
    ),
    ("vertical cylinder Pr 0.7 Gr 1e10 L 2.5 D 1", "Popiel"): popiel,
    ("pipe 70 mm", "radiation"): lambda: shed(0.07, 200.0, 25.0, 0.8)[1],
    ("two black planes", "radiation"): lambda: shed(1 / np.pi, 800.0, 300.0)[1],
    ("thermocouple in a duct", "gas temperature"): duct,
    ("large pipe 0.5 m", "loss"): lambda: 20 * np.pi * 0.5 * 200 + shed(0.5, 500 - ZERO_K, 300 - ZERO_K, 0.9)[1],
    ("wire in a room 3 mm", "coefficient"): lambda: wire_heat(1.5, 60 / 1.5 / 2, 1.0) / (np.pi * 3e-3 * (152 - 15)),
    ("black body at freezing platinum", "brightness"): lambda: brightness(1768.0),
}
