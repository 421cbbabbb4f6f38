"""Heat held by nodes whose specific heat changes with temperature: enthalpy, so that no joule is lost.

A node's state in the solver is its heat over its capacity at 20 degC, counted so that it equals the temperature
there: the temperature it would have, had its capacity stayed.  State = 20 + integral of c/c(20) from 20 degC on.
Its rate is the heat into the node over a constant, so what is put in, held and lost adds up whatever c does; the
temperature is looked up from the state.
Equation: enthalpy method, Voller and Cross, Int. J. Heat Mass Transfer 24 (1981) 545.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from ...basics.fault import fault
from .curves import heat_of, hermite_pieces, temperature_of

COLD_C = 20.0
LOW_C, HIGH_C, STEP_K = -60.0, 1500.0, 5.0


@dataclass(frozen=True)
class SpecificHeat:
    """Specific heat of a material over its own at 20 degC: straight between its points, held beyond them."""

    name: str
    temps_c: tuple
    ratio: tuple


def specific_heat_of(name, specific_heat_j_kgk, temps_c):
    """Describe how a material's specific heat changes.

    name: the material, for messages. specific_heat_j_kgk: above 0, one for each of temps_c, which rise (degC).
    Returns SpecificHeat; None where there is one value or all are the same.
    """
    values, temps = np.atleast_1d(specific_heat_j_kgk).astype(float), np.atleast_1d(temps_c).astype(float)
    if not (np.isfinite(values) & (values > 0)).all() or values.size != temps.size or (np.diff(temps) <= 0).any():
        raise fault(
            f"specific heat of {name}", values, "must be above zero, one for each temperature, and these must rise."
        )
    if np.ptp(values) == 0:
        return None
    return SpecificHeat(name, tuple(temps), tuple(values / np.interp(COLD_C, temps, values)))


@lru_cache(maxsize=256)
def _corners(curve):
    """Points between which c is straight, with the state and the ratio at each."""
    temps = np.unique([LOW_C, *curve.temps_c, COLD_C, HIGH_C])
    ratio = np.interp(temps, curve.temps_c, curve.ratio)
    risen = np.concatenate([[0.0], np.cumsum(np.diff(temps) * (ratio[1:] + ratio[:-1]) / 2)])
    return temps, risen - risen[temps == COLD_C] + COLD_C, ratio


def state_at(curve, temp_c):
    """State of a node at a temperature: 20 plus the integral of c/c(20) from 20 degC on.

    curve: SpecificHeat, or None (constant: the temperature itself). temp_c: degC, float or array.
    Returns degC.
    """
    temp_c = np.asarray(temp_c, dtype=float)
    if curve is None:
        return temp_c
    temps, state, ratio = _corners(curve)
    k = np.clip(np.searchsorted(temps, temp_c, side="right") - 1, 0, temps.size - 2)
    over = temp_c - temps[k]
    slope = (ratio[k + 1] - ratio[k]) / (temps[k + 1] - temps[k])
    inside = (temp_c >= temps[0]) & (temp_c <= temps[-1])
    beyond = np.where(temp_c < temps[0], ratio[0], ratio[-1])
    return np.where(
        inside,
        state[k] + over * (ratio[k] + slope * over / 2),
        np.where(temp_c < temps[0], state[0] + beyond * (temp_c - temps[0]), state[-1] + beyond * (temp_c - temps[-1])),
    )


@lru_cache(maxsize=256)
def _inverse(curve):
    """Cubic pieces of the temperature against the state, on an even grid: (first state, step, pieces (4, cells))."""
    if curve is None:
        return (
            0.0,
            1.0,
            np.repeat(np.array([[0.0], [1.0], [0.0], [0.0]]), 3, axis=1)
            + np.array([[-1.0, 0.0, 1.0], [0.0] * 3, [0.0] * 3, [0.0] * 3]),
        )
    temps, state, ratio = _corners(curve)
    grid = state[0] + STEP_K * np.arange(int(np.ceil((state[-1] - state[0]) / STEP_K)) + 1)
    k = np.clip(np.searchsorted(state, grid, side="right") - 1, 0, temps.size - 2)
    bend = (ratio[k + 1] - ratio[k]) / (temps[k + 1] - temps[k])
    over = (grid - state[k]) * 2 / (ratio[k] + np.sqrt(ratio[k] ** 2 + 2 * bend * (grid - state[k])))
    return state[0], STEP_K, hermite_pieces(temps[k] + over, STEP_K / (ratio[k] + bend * over))


@lru_cache(maxsize=16)
def _side_by_side(curves):
    """The pieces of _inverse in one table: of a constant one, then of each.

    curves: tuple of SpecificHeat.
    Returns table (4, cells), and of each: cells per K, first state, first and last of its cells.
    """
    found = [_inverse(None), *(_inverse(c) for c in curves)]
    table = np.concatenate([f[2] for f in found], axis=1)
    cells = np.array([f[2].shape[1] for f in found])
    starts = np.cumsum(cells) - cells
    return table, np.array([1.0 / f[1] for f in found]), np.array([f[0] for f in found]), starts, starts + cells - 1


class Holding:
    """What the nodes of a network hold: temperatures from the solver's states, and how fast they rise with them.

    A node that melts keeps its own heat content (melts); the others follow their specific heat; a node without either
    has its temperature for a state.
    """

    def __init__(self, capacity_j_k, curves, which, melts=()):
        """capacity_j_k: J/K at 20 degC (n,). curves: tuple of SpecificHeat. which: number of each node's curve, -1 for
        none (n,). melts: of (place, HeatContent)."""
        self.capacity_j_k, self.melts = capacity_j_k, tuple(melts)
        self.curves, self.which = curves, np.array(which, dtype=int)
        self.which[[k for k, _ in self.melts]] = -1
        self.vary = bool((self.which >= 0).any())
        self.plain = not self.vary and not self.melts
        if self.vary:
            self.table, *each = _side_by_side(curves)
            self.per_k, first_k, self.first, self.last = (values[self.which + 1] for values in each)
            self.shift = self.first + 1 - first_k * self.per_k

    def temps(self, state):
        """Temperatures of all nodes.  state: K (..., n).  Returns degC (..., n)."""
        if self.plain:
            return state
        temps = self._look_up(state)[0] if self.vary else state.copy()
        for k, content in self.melts:
            temps[..., k] = temperature_of(content, state[..., k] * self.capacity_j_k[k])[0]
        return temps

    def temps_and_rise(self, state):
        """Temperatures, and how fast each rises with its state.  state: K (..., n).

        Returns (degC (..., n), K per K (..., n); None where all are one).
        """
        if self.plain:
            return state, None
        if self.vary:
            temps, (x, b, c, d) = self._look_up(state)
            rise = (b + x * (2 * c + 3 * x * d)) * self.per_k
        else:
            temps, rise = state.copy(), np.ones(state.shape)
        for k, content in self.melts:
            temps[..., k], slope = temperature_of(content, state[..., k] * self.capacity_j_k[k])
            rise[..., k] = slope * self.capacity_j_k[k]
        return temps, rise

    def states(self, temps):
        """States of the nodes at temperatures, one moment.  temps: degC (n,).  Returns K (n,)."""
        state = np.array(temps, dtype=float)
        for n, curve in enumerate(self.curves):
            mine = self.which == n
            state[mine] = state_at(curve, state[mine])
        for k, content in self.melts:
            state[k] = heat_of(content, float(state[k])) / self.capacity_j_k[k]
        return state

    def only(self, columns):
        """The same for some of the nodes.  columns: their places.  Returns Holding."""
        if self.plain:
            return self
        at = {int(c): i for i, c in enumerate(columns)}
        melts = [(at[k], content) for k, content in self.melts if k in at]
        return Holding(self.capacity_j_k[columns], self.curves, self.which[columns], melts)

    def _look_up(self, state):
        x = state * self.per_k
        x += self.shift
        cell = x.astype(np.intp)
        np.maximum(cell, self.first, out=cell)
        np.minimum(cell, self.last, out=cell)
        x -= cell
        a, b, c, d = self.table.take(cell, axis=1, mode="clip")
        temps = d * x
        for lower in (c, b):
            temps += lower
            temps *= x
        temps += a
        return temps, (x, b, c, d)
