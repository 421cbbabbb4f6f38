"""A straight bare wire between two clamps: how hot its middle is, and how far the clamps cool it."""

import numpy as np

from ..network.curves import STEFAN_BOLTZMANN_W_M2K4, Loss, conductivity, loss_curve
from ..network.network import Bars, Network, Rays, Skins
from ..network.steady import steady
from .bare_wire import STILL_AIR, Surroundings
from .surface_loss import convection_of

CELLS = 60


DRAUGHT = Surroundings(air_speed_m_s=0.15)  # of a room with people in it


def stretched_wire(length_m, diameter_m, power_w, *, conductivity_w_mk, clamp_c=None, around=DRAUGHT):
    """Temperatures along a bare wire that carries current evenly, its ends held by cold clamps.

    length_m: between the clamps. diameter_m: 0.02e-3 to 3e-3. power_w: in the whole wire. conductivity_w_mk: of
    the alloy. clamp_c: degC of the clamps, None for the room. around: Surroundings; the height of a standing wire
    is its own length.  All may be arrays (designs,).
    Returns (places in m, degC), each (cells,) or (designs, cells).
    Assumes even heat along the wire, and clamps that stay at their temperature.
    Equation: the fin equation with heat made inside; free convection by Morgan 1975 below Ra 1e2.
    """
    clamp_c = around.ambient_c if clamp_c is None else clamp_c
    sizes = (length_m, diameter_m, power_w, conductivity_w_mk)
    air = (around.emissivity, around.ambient_c, around.air_speed_m_s, clamp_c)
    given = [np.asarray(v, float) for v in sizes + air]
    many = max(v.size if v.ndim else 0 for v in given)
    given = [np.broadcast_to(v, (max(many, 1),)).reshape(-1, 1) for v in given]
    net, dx = _wire_net(given, around.attitude, many > 0)
    temps = steady(net).temps_c[..., :CELLS]
    places = (np.arange(CELLS) + 0.5) * dx
    return (places, temps) if many else (places[0], temps)


def _wire_net(given, attitude, many):
    """Network of the wire's cells, its two clamps and the room, and the cells' length (designs, 1)."""
    length, d, power, k, eps, room, speed, clamp = given
    designs, dx = len(length), length / CELLS
    first, last = CELLS, CELLS + 1  # the clamps; the room comes after them
    along = np.arange(CELLS - 1)
    shape = np.pi * d**2 / 4 / dx * k
    bars = Bars(
        np.r_[along, first, CELLS - 1],
        np.r_[along + 1, 0, last],
        np.concatenate([np.repeat(shape, CELLS - 1, 1), 2 * shape, 2 * shape], 1),
        np.zeros(CELLS + 1, int),
    )
    skin_m2 = np.repeat(np.pi * d * dx, CELLS, 1)
    curve = loss_curve(
        "wire",
        lambda t: convection_of(t[None, :], room, d, speed, attitude, float(length.max())),
        float(room[0, 0]),
        low_c=-40.0,
        high_c=1500.0,
        step_k=10.0,
    )
    if designs == 1:
        curve = Loss(curve.name, curve.ambient_c, curve.start_c, curve.step_k, curve.pieces[:, 0])
    zero = np.zeros((designs, CELLS + 3))
    watts, held = zero.copy(), np.full((designs, CELLS + 3), np.nan)
    watts[:, :CELLS] = power / CELLS
    held[:, first : last + 1], held[:, CELLS + 2] = clamp, room[:, 0]

    def one(a):
        return a if many else a[0]

    net = Network(
        tuple(str(i) for i in range(CELLS)) + ("clamp", "other clamp", "room"),
        one(zero + 1e-3),
        one(watts),
        one(held),
        bars=Bars(bars.first, bars.second, one(bars.shape_m), bars.material),
        rays=Rays(np.arange(CELLS), np.full(CELLS, CELLS + 2), one(STEFAN_BOLTZMANN_W_M2K4 * eps * skin_m2)),
        skins=Skins(np.arange(CELLS), one(skin_m2), np.zeros(CELLS, int)),
        materials=(conductivity("one", 1.0),),
        curves=(curve,),
    )
    return net, dx


def current_for(wire_c, diameter_m, linear_ohm_per_m, hot_factor, around=STILL_AIR):
    """Current that holds a long bare wire at a temperature.

    wire_c: degC, above the room. diameter_m: m. linear_ohm_per_m: cold. hot_factor: at wire_c.
    around: Surroundings; a wire that stands is 0.2 m high.
    Returns A.  Equation: I^2 r f = pi d (q_convection + eps sigma (T^4 - T_a^4)).
    """
    shed = convection_of(
        wire_c, around.ambient_c, diameter_m, around.air_speed_m_s, around.attitude
    ) + around.emissivity * STEFAN_BOLTZMANN_W_M2K4 * ((wire_c + 273.15) ** 4 - (around.ambient_c + 273.15) ** 4)
    return np.sqrt(np.pi * diameter_m * shed / (linear_ohm_per_m * hot_factor))
