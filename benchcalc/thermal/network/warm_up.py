"""Warming up: a network through time, with steps as long as the accuracy asked for allows.

The method is Rodas3, a stiffly accurate Rosenbrock pair of order 3(2): one factorisation, three heat balances and four
solves a step, and a fifth for what lies between its ends.  Its coefficients are those of Sandu, Verwer, Blom, Spee,
Carmichael and Potra, Benchmarking stiff ODE solvers for atmospheric chemistry problems II: Rosenbrock solvers,
Atmospheric Environment 31 (1997) 3459; in this form (no products with the Jacobian) see Hairer and Wanner, Solving
Ordinary Differential Equations II, 2nd ed. 1996, section IV.7:

    (M / (g h) - J) K_i = q(T + sum a_ij K_j) + M sum c_ij K_j / h,   T_new = T + sum m_i K_i,  error = K_4
    g = 1/2;  a_31 = 2, a_41 = 2, a_43 = 1;  c_21 = 4, c_31 = 1, c_32 = -1, c_41 = 1, c_42 = -1, c_43 = -8/3
    m = 2, 0, 1, 1

Between the ends of a step its stages give a cubic, t from 0 to 1:

    T + (5t - 3t2) K_1 + (t2 - t) K_2 + (t + t2 - t3) K_3 + (9t - 9t2 + t3) K_4

It meets the conditions for order 3 of a straight-line balance (Hairer and Wanner, section IV.7; with these four stages
none meets that for the curved part, which is left to the second order), and what settles far within the step dies out
as (1 - t)^3.  A cubic through the rates of the balance itself at both ends would not do: where a light node hangs on a
heavy one, a thousandth of a kelvin left between them is a rate of kelvins a step.  So what the cubic's rate r at the
start lacks is added as (t - 2t2 + t3) K_5 / g, softened by the step's own matrix: (M / (g h) - J) K_5 = q(T) - M r.
The tool of tests/thermal/network/heated_tool.py is then as exact between steps as at their ends: a third of its error
is gone.

Each node is carried by its heat, divided by its capacity when cold: what it takes as it warms, and latent heat where
it melts, are then stored exactly (stored.py).
A node without capacity is in balance at every moment.
"""

import numpy as np
from numpy import add, multiply, subtract

from ...basics.fault import fault
from .assemble import assembled
from .balance import constant, working
from .curves import ABSOLUTE_ZERO_C
from .factor import Factor, times_vector
from .history import account
from .massless import Massless
from .power_steps import power_pieces

MOST_REFUSED = 100_000
SHRINK, GROW, SAFETY = 0.2, 6.0, 0.9
RATES = np.array([[5.0, -1.0, 1.0, 9.0], [-1.0, 1.0, 0.0, -6.0]])  # of the stages' own cubic at both ends


def warm_up(net, until_s, *, start_c=None, power=None, every_s=None, tol_k=0.1, accounted=True):
    """Temperatures of a network from a start onward.

    net: Network, one design. until_s: s, > 0, how long.
    start_c: degC at the start: None (the one ambient temperature), a number, or one for each node.
    power: None (the nodes' own power_w all along); steps [(time_s, power), ...]; a callable
    power(time_s, temps) asked every every_s seconds, where temps["tip"] is a temperature; or Decided, which also says
    for how long.  A power is W in all (shared out as the nodes' own), {name: W}, or an array over the nodes.
    every_s: s, for a callable only.
    tol_k: K, > 0, error allowed in a step at the worst node; what adds up is mostly about half of it.
    accounted: False leaves out the energy account (lost_j and closure_j are nan), for many runs in a row.
    Returns WarmUp: ask it for temperatures at any time.
    Fails: a part without a way for heat to leave and without capacity; no start temperature to be told.
    Equation: Rodas3, Sandu et al. 1997 (see the head of this module).
    """
    if not (np.isfinite(until_s) and until_s > 0 and tol_k > 0):
        raise fault("warming up", f"until {until_s} s, tolerance {tol_k} K", "must both be above zero.")
    banded = assembled(net, warming=True)
    piece_at = power_pieces(net, float(until_s), power, every_s)
    everywhere = start_temps(net, start_c)
    rows, refused = _march(banded, (float(until_s), piece_at), everywhere, tol_k)
    return account(net, banded, rows, refused, accounted)


class _Stepper:
    """Work space of a march: heat balances, one factorisation and its solves, one step of the method.

    given: W put into each free node and brought by held ones, set by the march for each piece.
    """

    def __init__(self, banded):
        from scipy.linalg.blas import idamax

        half, n, mass = banded.half, banded.free.size, banded.capacity_j_k
        self.largest, self.mass, self.holding = idamax, mass, banded.holding
        self.heat, self.heat_and_stiffness = working(banded)
        self.heavy = mass > 0
        self.massless = None if self.heavy.all() else Massless(banded)
        self.inverse = np.where(self.heavy, 1.0, 0.0) / np.where(self.heavy, mass, 1.0)
        self.slopes, self.factor, self.given = None, Factor(n, half), None
        self.stages, self.four, self.eight_thirds = np.empty((5, n)), constant(4.0, n), constant(8.0 / 3.0, n)

    def look(self, at, out):
        """Heat into each node (W) at a state, into out."""
        self.heat(self.holding.temps(at), self.given, out)

    def look_and_stiffen(self, at, out):
        """Heat into each node (W) at a state, into out, and -dq/dstate as a band, in slopes from now on."""
        temps, rise = self.holding.temps_and_rise(at)
        self.slopes = self.heat_and_stiffness(temps, self.given, out, rise)

    def settle(self, state):
        """Bring the nodes without capacity into balance; the others stay."""
        push = self.stages[4]
        for _ in range(60):
            self.look_and_stiffen(state, push)
            change = self.massless.step(self.slopes, push)
            state = state.copy()
            state[self.massless.nodes] += np.clip(change, -400.0, 400.0)
            if np.abs(change).max(initial=0.0) < 1e-9:
                return state
        raise fault("warming up", "", "a node without capacity found no balance.")

    def try_step(self, state, flow, step):
        """One step of `step` s from a state where `flow` W go into each node: (third stage's state, error in K).

        The state after a step that is kept is that third one and the last of the stages.
        """
        k1, k2, k3, k4, push = self.stages
        solve, per_s = self.factor.solve, self.mass * (1.0 / step)
        self.factor.take(self.slopes, per_s + per_s)
        k1[:] = flow
        solve(k1)
        multiply(per_s, k1, push)
        multiply(push, self.four, k2)
        add(k2, flow, k2)
        solve(k2)
        third = state + k1
        add(third, k1, third)
        self.look(third, k3)
        subtract(k1, k2, push)
        multiply(push, per_s, push)
        add(k3, push, k3)
        solve(k3)
        add(third, k3, third)
        self.look(third, k4)
        add(k4, push, k4)
        multiply(k3, self.eight_thirds, push)
        multiply(push, per_s, push)
        subtract(k4, push, k4)
        solve(k4)
        return third, abs(float(k4[self.largest(k4)]))

    def rates(self, flow, step):
        """Rates of the cubic at both ends of the step that was tried last, K/s (2, n).  flow, step: as there."""
        found = RATES @ self.stages[:4]
        found /= step
        lacking, start = self.stages[4], found[0]
        multiply(self.mass, start, lacking)
        subtract(flow, lacking, lacking)
        if self.massless is not None:
            lacking[self.massless.nodes] = 0.0
        self.factor.solve(lacking)
        multiply(lacking, 2.0 / step, lacking)
        add(start, lacking, start)
        return found


def _march(banded, pieces, everywhere, tol_k):
    """Steps from 0 to the end, stopping at the end of each piece of power; `everywhere` is the start, degC.

    pieces: (end in s, what power_pieces gave).
    Returns list of (time_s, length_s, state before, rate there, state after, rate there, W in all), and how many steps
    were refused; the rates are those of the cubic.
    """
    stepper, holding = _Stepper(banded), banded.holding
    mass, inverse = stepper.mass, stepper.inverse
    until_s, piece_at = pieces
    rows, refused, before, length, now = [], 0, None, 0.0, 0.0
    state = holding.states(everywhere[banded.free])
    while now < until_s:
        everywhere[banded.free] = holding.temps(state)
        end, asked = piece_at(now, everywhere)
        asked = asked[banded.free]
        if before is None or not np.array_equal(asked, before):
            stepper.given, total_w, length = asked + banded.fixed_w, float(asked.sum()), 0.0
            state = state if stepper.massless is None else stepper.settle(state)
            before, flow = asked, np.empty(mass.size)
            stepper.look_and_stiffen(state, flow)
        while now < end:
            if not length:
                length = _first_length(stepper.slopes, flow * inverse, inverse, tol_k, end - now)
            while True:
                left = end - now
                step = left if length >= left else left / 2 if length > 0.55 * left else length
                third, error = stepper.try_step(state, flow, step)
                factor = SAFETY * (tol_k / error) ** (1 / 3) if error > 0 else GROW
                length = step * min(max(factor, SHRINK), GROW) if factor == factor else step * SHRINK
                if error <= tol_k:
                    break
                refused += 1
                if refused > MOST_REFUSED or length < 1e-12 * end:
                    raise fault(
                        "warming up",
                        f"{now:g} s",
                        "cannot be stepped over to the accuracy asked for.",
                        do="Ask for a coarser tol_k, or look for values many powers of ten apart.",
                    )
            third += stepper.stages[3]
            rates = stepper.rates(flow, step)
            rows.append((now, step, state, rates[0], third, rates[1], total_w))
            state, now = third, end if step >= left else now + step
            if now < until_s:
                flow = np.empty(mass.size)
                stepper.look_and_stiffen(state, flow)
    return rows, refused


def _first_length(slopes, rate, inverse, tol_k, longest):
    """A first step from how fast the rate (K/s) itself changes; slopes is -dq/dT as a band."""
    change = -times_vector(slopes, rate)
    change = np.abs(change * inverse).max(initial=0.0)
    fastest = np.abs(rate).max(initial=0.0)
    return min(longest, (24 * tol_k * fastest / change**2) ** (1 / 3)) if change > 0 else longest


def start_temps(net, start_c):
    """Temperature of every node at the start; held ones at their held temperature.

    net: Network. start_c: degC: None, a number or an array over the nodes.
    Returns array (n,).
    """
    held = ~np.isnan(net.held_c)
    if start_c is None:
        known = sorted({*net.held_c[held].tolist(), *(float(c.ambient_c) for c in net.curves)})
        if len(known) != 1:
            raise fault("warming up", known, "start_c is needed: there is no single ambient temperature to start from.")
        start_c = known[0]
    start = np.array(np.broadcast_to(np.asarray(start_c, dtype=float), len(net.names)))
    if not np.isfinite(start[~held]).all() or start[~held].min(initial=0.0) < ABSOLUTE_ZERO_C:
        raise fault("warming up", start_c, "is no temperature to start from (degC).")
    start[held] = net.held_c[held]
    return start
