"""Warming up: a network through time, with steps as long as the accuracy asked for allows.

The method is a Rosenbrock method with coefficients of its own: one factorisation, two heat balances and five solves a
step.  Four solves in a row, each of what the one before it left, follow the straight part of the balance; the guess
they give is looked at, and a fifth puts right what it missed (J = dq/dT at the start of the step, g = 1/3):

    (M / (g h) - J) K_1 = q(T);  the same matrix times K_2, K_3, K_4 = M / (g h) times the K before it
    guess = T + K_1 + 3/2 K_2 + 3/2 K_3 - K_4
    (M / (g h) - J) K_5 = q(guess) + M (-7/8 K_1 + 33/8 K_2 - 53/8 K_3 + 19/8 K_4) / (g h);  T_new = guess + K_5

Where all lines are straight each K is the rate times a power of w = 1 / (1 - g h J), and these are the sums that meet
exp(h J) to the third power of h in the guess and to the fourth in the answer; what settles far within a step is gone
at its end (Norsett, Restricted Pade approximations to the exponential function, SIAM J. Numer. Anal. 15 (1978) 1008;
Hairer and Wanner, Solving Ordinary Differential Equations II, 2nd ed. 1996, section IV.6).  No step, however long,
swings beyond what it settles to.  Curved lines, looked at where the step ends, are met to the third power if g = 1/3
(the same, section IV.7).  K_5 is by how much guess and answer differ.  Half of it is what a step is judged by, and all
of it where a node melts: across a corner the answer is no better than the guess.

Between the ends of a step its stages give a quartic that meets straight lines to the third power and curved ones to the
second.  The two weights that this leaves free are such that the tool of tests/thermal/network/heated_tool.py is as
exact between steps as at their ends; a cubic through both ends is not, even with the exact rates there.

Each node is carried by its heat, divided by its capacity when cold: what it takes as it warms, and latent heat where
it melts, are then stored exactly (stored.py).
A node without capacity is in balance at every moment.
"""

import numpy as np
from numpy import add, multiply

from ...basics.fault import fault
from .assemble import assembled
from .balance import working
from .curves import ABSOLUTE_ZERO_C
from .factor import Factor, times_vector
from .history import account
from .massless import massless_of
from .power_steps import power_pieces

MOST_REFUSED = 100_000
SHRINK, GROW, SAFETY, JUDGED_BY = 0.2, 6.0, 0.9, 0.5
GAMMA = 1 / 3
SUMS = np.array([[1.0, 1.5, 1.5, -1.0], [-0.875, 4.125, -6.625, 2.375]])  # of the first four stages
CURVE_32NDS = (  # of all stages: what goes with t to t4, t from 0 to 1 across the step
    (312, -360, 168, -24, 0),
    (-672, 1440, -1008, 240, 0),
    (495, -1341, 1197, -351, 48),
    (-103, 309, -309, 103, -16),
)
CURVE = np.array(CURVE_32NDS) / 32


def warm_up(net, until_s, *, start_c=None, power=None, every_s=None, tol_k=0.1, accounted=True):
    """Temperatures of a network from a start onward.

    net: Network, one design. until_s: s, > 0, how long.
    start_c: degC at the start: None (the one ambient temperature), a number, or one for each node.
    power: None (the nodes' own power_w all along); steps [(time_s, power), ...]; a callable
    power(time_s, temps) asked every every_s seconds, where temps["tip"] is a temperature; or Decided, which also says
    for how long.  A power is W in all (shared out as the nodes' own), {name: W}, or an array over the nodes.
    every_s: s, for a callable only.
    tol_k: K, > 0, error allowed in a step at the worst node; what adds up is mostly less than half of it.
    accounted: False leaves out the energy account (lost_j and closure_j are nan), for many runs in a row.
    Returns WarmUp: ask it for temperatures at any time.
    Fails: a part without a way for heat to leave and without capacity; no start temperature to be told.
    Equation: a Rosenbrock method, Hairer and Wanner 1996, section IV.7 (see the head of this module).
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
        self.massless = massless_of(banded)
        self.inverse = np.divide(1.0, mass, out=np.zeros(n), where=mass > 0)
        self.slopes, self.factor, self.given = None, Factor(n, half), None
        self.stages, self.judged_by = np.empty((5, n)), 1.0 if banded.holding.melts else JUDGED_BY
        self.straight = self.stages[:4]
        self.in_turn = list(zip(self.straight, self.straight[1:]))

    def look(self, at, out):
        """Heat into each node (W) at a state, into out."""
        self.heat(self.holding.temps(at), self.given, out)

    def look_and_stiffen(self, at, out):
        """Heat into each node (W) at a state, into out, and -dq/dstate as a band, in slopes from now on."""
        temps, rise = self.holding.temps_and_rise(at)
        self.slopes = self.heat_and_stiffness(temps, self.given, out, rise)

    def settle(self, state, flow):
        """The state once nodes without capacity are in balance (the others stay), looked at and stiffened into flow."""
        for _ in range(60):
            self.look_and_stiffen(state, flow)
            change = self.massless.step(self.slopes, flow) if self.massless else np.zeros(0)
            if np.abs(change).max(initial=0.0) < 1e-9:
                return state
            state = state.copy()
            state[self.massless.nodes] += np.clip(change, -400.0, 400.0)
        raise fault("warming up", "", "a node without capacity found no balance.")

    def try_step(self, state, flow, step):
        """One step of `step` s from a state where `flow` W go into each node: (state after it, error in K)."""
        (first, *_, last), solve, per_s = self.stages, self.factor.solve, self.mass * (1.0 / (GAMMA * step))
        self.factor.take(self.slopes, per_s)
        first[:] = flow
        solve(first)
        for before, stage in self.in_turn:
            multiply(per_s, before, stage)
            solve(stage)
        new, push = SUMS.dot(self.straight)
        add(new, state, new)
        self.look(new, last)
        multiply(push, per_s, push)
        add(last, push, last)
        solve(last)
        add(new, last, new)
        return new, self.judged_by * abs(float(last[self.largest(last)]))

    def curve(self):
        """The step that was tried last, between its ends: K by powers of the share of it gone by, from the first on
        (4, n)."""
        return CURVE.dot(self.stages)


def _march(banded, pieces, everywhere, tol_k):
    """Steps from 0 to the end, stopping at the end of each piece of power; `everywhere` is the start, degC.

    pieces: (end in s, what power_pieces gave).
    Returns list of (time_s, length_s, state before, curve from there on, state after, W in all), and how many steps
    were refused.
    """
    stepper, holding = _Stepper(banded), banded.holding
    mass, inverse = stepper.mass, stepper.inverse
    until_s, piece_at = pieces
    rows, refused, before, length, now, flow = [], 0, None, 0.0, 0.0, np.empty(mass.size)
    state = holding.states(everywhere[banded.free])
    while now < until_s:
        everywhere[banded.free] = holding.temps(state)
        end, asked = piece_at(now, everywhere)
        asked = asked[banded.free]
        if before is None or not np.array_equal(asked, before):
            stepper.given, total_w, length = asked + banded.fixed_w, float(asked.sum()), 0.0
            state, before = stepper.settle(state, flow), asked
        while now < end:
            if not length:
                length = _first_length(stepper.slopes, flow * inverse, inverse, tol_k, end - now)
            while True:
                left = end - now
                step = left if length >= left else left / 2 if length > 0.55 * left else length
                new, error = stepper.try_step(state, flow, step)
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
            rows.append((now, step, state, stepper.curve(), new, total_w))
            state, now = new, end if step >= left else now + step
            if now < until_s:
                stepper.look_and_stiffen(state, flow)
    return rows, refused


def _first_length(slopes, rate, inverse, tol_k, longest):
    """A first step from how fast the rate (K/s) itself changes; slopes is -dq/dT as a band."""
    change = -times_vector(slopes, rate)
    change = np.abs(change * inverse).max(initial=0.0)
    fastest = np.abs(rate).max(initial=0.0)
    return min(longest, (12 * tol_k * fastest / change**2) ** (1 / 3)) if change > 0 else longest


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
