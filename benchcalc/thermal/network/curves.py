"""What a heat path depends on: conductivity of a material, loss of a surface, heat content of a node.

Each is a function of one temperature alone, which is what lets a network be solved with constant
matrices: conduction between two points of one material is shape * (K(T1) - K(T2)), with K the
integral of the conductivity.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from ...basics.fault import fault

ABSOLUTE_ZERO_C = -273.15
STEFAN_BOLTZMANN_W_M2K4 = 5.670374419e-8  # CODATA 2018, exact


@dataclass(frozen=True)
class Conductivity:
    """Conductivity of a material: straight between its points, held at the end values beyond them."""

    name: str
    temps_c: tuple
    conductivity_w_mk: tuple


def conductivity(name, conductivity_w_mk, temps_c=(20.0,)):
    """Describe how a material conducts.

    name: the material, for messages.
    conductivity_w_mk: W/(m K), > 0: one number, or one for each of temps_c.
    temps_c: degC, rising: the temperatures of the values.
    Returns Conductivity: straight lines between the points.  Beyond the data it keeps the end value
    (a straight line carried on, such as 50 - 0.03 (T - 20), would turn negative).

    >>> conductivity("stainless", (15.0, 27.0), (20.0, 820.0)).conductivity_w_mk
    (15.0, 27.0)
    """
    values = tuple(float(v) for v in np.atleast_1d(conductivity_w_mk))
    temps = tuple(float(t) for t in np.atleast_1d(temps_c))
    if len(values) == 1:
        temps = temps[:1]
    if len(values) != len(temps):
        raise fault(
            f"conductivity of {name}",
            "",
            f"has {len(values)} values for {len(temps)} temperatures.",
            do="Give one value for each temperature.",
        )
    if not all(np.isfinite(values + temps)) or min(values) <= 0:
        raise fault(f"conductivity of {name}", min(values), "must be above zero W/(m K), at known temperatures.")
    if any(b <= a for a, b in zip(temps, temps[1:])):
        raise fault(f"conductivity of {name}", temps, "must have temperatures that rise (degC).")
    return Conductivity(name, temps, values)


def conductivity_at(material, temp_c):
    """Conductivity at a temperature, W/(m K).

    material: Conductivity. temp_c: degC, float or array; beyond the data the end value holds.
    Returns conductivity in W/(m K).
    """
    return np.interp(temp_c, material.temps_c, material.conductivity_w_mk)


@lru_cache(maxsize=256)
def ramps(material):
    """The material as a base value and a sum of ramps, the form the solver works in.

    material: Conductivity.
    Returns base W/(m K), and arrays (m,): low_c, width_k, slope W/(m K2) with
    k(T) = base + sum slope * clip(T - low_c, 0, width_k).
    """
    temps, values = np.array(material.temps_c), np.array(material.conductivity_w_mk)
    slope = np.diff(values) / np.diff(temps)
    keep = slope != 0.0
    return values[0], temps[:-1][keep], np.diff(temps)[keep], slope[keep]


def conduction_integral(material, temp_c):
    """Integral of the conductivity from 0 degC up to a temperature, W/m.

    material: Conductivity. temp_c: degC, float or array.
    Returns K(T) + constant: between two points of one material the heat flow is
    (area / length) * (K(T1) - K(T2)), exactly, however k varies.
    Equation: Kirchhoff's transformation; Carslaw and Jaeger, Conduction of Heat in Solids, 2nd ed., 1.6.
    """
    base, low_c, width_k, slope = ramps(material)
    over = np.asarray(temp_c, dtype=float)[..., None] - low_c
    risen = np.clip(over, 0.0, width_k)
    return base * np.asarray(temp_c, dtype=float) + (slope * risen * (over - risen / 2)).sum(axis=-1)


@dataclass(frozen=True, eq=False)
class Loss:
    """Heat given off by a surface as a curve of its temperature, in cubic pieces on an even grid.

    pieces: (4, points + 1) or, for many designs at once, (4, designs, points + 1), in W/m2:
    a0 + a1 x + a2 x2 + a3 x3, x = 0..1 across a cell.  The first and the last are the straight
    lines beyond the table.
    """

    name: str
    ambient_c: float
    start_c: float
    step_k: float
    pieces: np.ndarray


def loss_curve(name, loss, ambient_c, *, low_c=-40.0, high_c=1600.0, step_k=2.0, own_slope=True):
    """Tabulate a surface's heat loss once, so that a network can look it up quickly and smoothly.

    name: the surface, for messages.
    loss: function of an array of temperatures (degC) that returns W/m2, shape (points,) or
    (designs, points); its values must not fall as the temperature rises.
    ambient_c: degC, temperature at which it loses nothing.
    low_c, high_c: degC, ends of the table; beyond them the loss goes on in a straight line.
    step_k: K, spacing of the table. own_slope: take the slope at each point from the function beside it; False: from
    its two neighbours, a third of the work.
    Returns Loss.  Between points: cubic Hermite pieces, their slope limited so that the curve never falls.
    Fails: a loss that is not finite or that falls with temperature.
    Equation: Fritsch and Carlson, Monotone piecewise cubic interpolation, SIAM J. Numer. Anal. 17 (1980) 238.
    """
    count = int(np.ceil((high_c - low_c) / step_k)) + 1
    temps = low_c + step_k * np.arange(count)
    if own_slope:
        near = 0.01 * step_k
        found = np.asarray(loss(np.concatenate([temps, temps + near, temps - near])), dtype=float)
        value, above, below = (found[..., k * count : (k + 1) * count] for k in range(3))
        slope = (above - below) / (2 * near)
    else:
        value = np.asarray(loss(temps), dtype=float)
        slope = np.gradient(value, step_k, axis=-1)
    rise = np.diff(value, axis=-1) / step_k
    if not (np.isfinite(value).all() and np.isfinite(slope).all()):
        raise fault(f"loss of {name}", "", f"is not a number somewhere between {low_c:g} and {high_c:g} degC.")
    if rise.min() < -1e-9 * np.abs(rise).max():
        at = temps[np.unravel_index(rise.argmin(), rise.shape)[-1]]
        raise fault(
            f"loss of {name}",
            f"{at:g} degC",
            "falls as the surface gets hotter.",
            "A steady temperature would not be unique.",
            "Check the loss law there.",
        )
    most = np.empty(slope.shape)
    most[..., 0], most[..., -1] = rise[..., 0], rise[..., -1]
    np.minimum(rise[..., :-1], rise[..., 1:], out=most[..., 1:-1])
    np.maximum(3.0 * most, 0.0, out=most)
    slope = np.minimum(np.maximum(slope, 0.0), most)
    return Loss(name, float(ambient_c), low_c, step_k, hermite_pieces(value, slope * step_k))


def hermite_pieces(value, slope):
    """Hermite cubics between the points of an even grid, with straight lines added at both ends.

    value: at each point (..., points). slope: there, for each cell of the grid.
    Returns array (4, ..., points + 1), as Loss.pieces.
    """
    pieces = np.zeros((4, *value.shape[:-1], value.shape[-1] + 1))
    inner, here, there = pieces[..., 1:-1], slope[..., :-1], slope[..., 1:]
    rise = np.diff(value, axis=-1)
    inner[0], inner[1] = value[..., :-1], here
    np.subtract(3 * rise - 2 * here, there, out=inner[2])
    np.subtract(here + there, 2 * rise, out=inner[3])
    for end, to, behind in ((0, 0, 1), (-1, -1, 0)):
        pieces[0, ..., end], pieces[1, ..., end] = value[..., to] - behind * slope[..., to], slope[..., to]
    return pieces


def loss_at(curve, temp_c):
    """Loss of a surface by its curve, and how fast it rises.

    curve: Loss without a designs axis. temp_c: degC, float or array.
    Returns W/m2 and W/(m2 K).
    """
    x = (np.asarray(temp_c, dtype=float) - curve.start_c) / curve.step_k + 1.0
    cell = np.clip(x.astype(int), 0, curve.pieces.shape[-1] - 1)
    x, (a, b, c, d) = x - cell, curve.pieces[:, cell]
    return a + x * (b + x * (c + x * d)), (b + x * (2 * c + x * 3 * d)) / curve.step_k


@dataclass(frozen=True)
class HeatContent:
    """Heat stored in a node against its temperature: straight between points (temp_c, heat_j)."""

    temps_c: tuple
    heat_j: tuple


def melting(capacity_j_k, from_c, to_c, latent_j, *, liquid_j_k=None):
    """Heat content of a node that melts: latent heat taken up between two temperatures.

    capacity_j_k: J/K, the whole node while its filling is solid, > 0.
    from_c, to_c: degC, where melting begins and ends; equal for a pure substance.
    latent_j: J, heat needed to melt all of it, >= 0.
    liquid_j_k: J/K of the whole node once molten; None: the same as solid.
    Returns HeatContent.  Freezing follows the same curve (no undercooling).
    Equation: enthalpy method; Voller and Cross, Int. J. Heat Mass Transfer 24 (1981) 545.
    """
    liquid = capacity_j_k if liquid_j_k is None else liquid_j_k
    numbers = (capacity_j_k, from_c, to_c, latent_j, liquid)
    if not all(np.isfinite(numbers)) or min(capacity_j_k, liquid) <= 0 or latent_j < 0 or to_c < from_c:
        raise fault(
            "melting",
            numbers,
            "needs capacities above zero (J/K), latent heat of zero or more (J), "
            "and an end that is not below the beginning (degC).",
        )
    warm = (capacity_j_k + liquid) / 2 * (to_c - from_c) + latent_j
    middle = ((from_c, 0.0), (to_c, warm)) if warm > 0 else ((from_c, 0.0),)
    points = ((from_c - 100.0, -100.0 * capacity_j_k), *middle, (to_c + 100.0, warm + 100.0 * liquid))
    return HeatContent(*zip(*points))


def heat_of(content, temp_c):
    """Heat in a node at a temperature, J; inside a melting point the solid's value.

    content: HeatContent. temp_c: degC, a number.
    Returns J, counted from the content's own zero; beyond the points it goes on in a straight line.
    """
    temps, heats = content.temps_c, content.heat_j
    for n in range(len(temps) - 1):
        last = n == len(temps) - 2
        if temp_c <= temps[n + 1] or last:
            run = temps[n + 1] - temps[n]
            return heats[n] + (temp_c - temps[n]) * (heats[n + 1] - heats[n]) / run if run else heats[n]
    raise AssertionError("a heat content has two points at least")


def temperature_of(content, heat_j):
    """Temperature of a node from its heat, and how fast it rises with heat.

    content: HeatContent. heat_j: J, float or array.
    Returns temp_c in degC and slope in K/J (zero while a pure substance melts).
    """
    temps, heats = np.array(content.temps_c), np.array(content.heat_j)
    n = np.clip(np.searchsorted(heats, heat_j, side="right") - 1, 0, len(heats) - 2)
    slope = np.diff(temps) / np.diff(heats)
    return temps[n] + slope[n] * (heat_j - heats[n]), slope[n]
