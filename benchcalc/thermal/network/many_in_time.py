"""Many designs of one structure in time, side by side, by long steps: for the spread between them, not for each alone.

Each step is the backward difference of second order for unequal steps (Hairer, Norsett and Wanner, Solving Ordinary
Differential Equations I, 2nd ed., section III.5), solved by one Newton step from the straight-line prediction: one
elimination a step, shared by all designs as in side_by_side.py.  The steps grow with time, as a warm-up slows down.
All designs share the error of the steps, so the difference between two of them is far more exact than either.
"""

from dataclasses import dataclass

import numpy as np

from .curves import ABSOLUTE_ZERO_C
from .many_flows import flow_maps, laid_out, ways_of
from .numbering import free_pairs, refuse_islands
from .refusals import refuse_nonsense
from .side_by_side import eliminate, elimination_plan
from .stored import Holding

FIRST_S, GROWTH = 2.0, 1.25  # first step, and each over the one before


@dataclass(frozen=True, eq=False)
class ManyRuns:
    """time_s: from 0 on (t,). temps_c: of all nodes (t, designs, nodes)."""

    time_s: np.ndarray
    temps_c: np.ndarray


def step_ends(until_s, first_s=FIRST_S, growth=GROWTH):
    """Times at which steps end.

    until_s: s, above 0. first_s: s, the first step, above 0. growth: each step over the one before, above 1 to 2 (the
    method is stable below 1 + sqrt 2: the book named above, section III.5).
    Returns s (steps + 1,), from 0 to until_s.
    """
    count = max(int(np.ceil(np.log1p(until_s * (growth - 1) / first_s) / np.log(growth))), 1)
    ends = (growth ** np.arange(count + 1) - 1) / (growth**count - 1)
    return until_s * ends


def read_between(times_s, ends_s, values):
    """Values at the ends of steps, read at other times on straight lines.

    times_s: s (t,). ends_s: s (steps,), rising, two or more. values: (steps, ...).
    Returns (t, ...).
    """
    i = np.clip(np.searchsorted(ends_s, times_s) - 1, 0, ends_s.size - 2)
    share = ((times_s - ends_s[i]) / (ends_s[i + 1] - ends_s[i])).reshape(-1, *[1] * (values.ndim - 1))
    return values[i] * (1 - share) + values[i + 1] * share


def warm_up_many(net, until_s, *, contents=None, start_c=None, growth=GROWTH):
    """All designs of a network warming up from their own room, or cooling from a start.

    net, until_s, contents, start_c, growth: as march_many.
    Returns ManyRuns.
    Fails: as march_many.
    """
    ends = list(march_many(net, until_s, contents=contents, start_c=start_c, growth=growth))
    return ManyRuns(*(np.array(x) for x in zip(*ends)))


def march_many(net, until_s, *, contents=None, start_c=None, growth=GROWTH):
    """The same, step by step, for whoever reads each step at once or answers someone in between.

    net: Network; values with a designs axis, or one design. until_s: s, above 0. contents: {node: HeatContent} of nodes
    that melt, where the network of many designs holds none: each design's heat of melting goes with its capacity.
    start_c: degC (designs, nodes), or None for each design's held temperature.
    growth: of the steps, 1 to 2.
    Yields (time in s, degC (designs, nodes)): the start, then the end of each step.
    Fails: as steady_many; more than one held temperature without a start.
    """
    refuse_nonsense(net)
    refuse_islands(net)
    held = np.atleast_2d(net.held_c)
    free = np.flatnonzero(np.isnan(held[0]))
    count = max(np.atleast_2d(v).shape[0] for v in (net.capacity_j_k, net.power_w, net.held_c))
    march = _March(net, free, count, net.contents or contents or {})
    start = np.nanmean(held, axis=1)[:, None] if start_c is None else np.asarray(start_c, dtype=float)
    temps = np.array(np.broadcast_to(start, (count, len(net.names))), dtype=float)
    temps = np.where(np.isnan(held), temps, held)
    times = step_ends(until_s, growth=growth)
    yield times[0], temps
    state = march.state(temps.T[free])
    before, step_before = state, 0.0
    for step, end in zip(np.diff(times), times[1:]):
        ratio = step / step_before if step_before else 0.0
        guess = state + ratio * (state - before)
        # d u / d t at the end of the step: (one u_new - (1 + ratio) u + three u_before) / step
        one, three = (1 + 2 * ratio) / (1 + ratio), ratio**2 / (1 + ratio)
        new = march.step(guess, one / step, ((1 + ratio) * state - three * before) / step)
        before, state, step_before = state, new, step
        yield end, march.everywhere(state, temps.T).T


class _March:
    """Work space: flows and slopes of all designs, and one elimination a step.  State: heat over capacity at 20 degC,
    K (stored.py)."""

    def __init__(self, net, free, count, contents):
        each = np.arange(count)
        self.free, n = free, len(net.names)
        self.order = elimination_plan(free.size, tuple(zip(*(p.tolist() for p in free_pairs(net, free)))))
        place = np.full(n, -1)
        place[free] = np.arange(free.size)
        self.ways = ways_of(net, each)
        self.q_from, self.m_from = flow_maps(net, place, self.order, n)
        self.power = np.broadcast_to(laid_out(net.power_w, each), (n, count))[free]
        self.mass = np.broadcast_to(laid_out(net.capacity_j_k, each), (n, count))[free]
        self.held = np.broadcast_to(laid_out(net.held_c, each), (n, count))
        scale, melts = self.mass[:, 0].copy(), [(int(place[k]), content) for k, content in contents.items()]
        for k, content in melts:
            scale[k] = (content.heat_j[1] - content.heat_j[0]) / (content.temps_c[1] - content.temps_c[0])
        which = net.stored_by[free] if net.stored_by.size else np.full(free.size, -1)
        self.holding = Holding(scale, net.stores, which, melts)
        ways = net.links, net.bars, net.rays
        self.ends = np.concatenate([*(w.first for w in ways), *(w.second for w in ways), net.skins.node])

    def state(self, temps):
        """State of the free nodes at temperatures.  temps: degC (free, designs)."""
        return np.array([self.holding.states(row) for row in temps.T]).T

    def temps_and_rise(self, state):
        """Temperatures, and how fast each rises with its state.  state: K (free, designs)."""
        temps, rise = self.holding.temps_and_rise(state.T)
        return temps.T, np.ones(state.shape) if rise is None else rise.T

    def everywhere(self, state, like):
        """Temperatures of all nodes.  state: K (free, designs). like: degC (nodes, designs), for the held ones."""
        full = np.array(like)
        full[self.free] = self.temps_and_rise(state)[0]
        return full

    def step(self, guess, one, known):
        """State at the end of a step.  guess: prediction. one: 1/s, before it. known: K/s of what is behind."""
        temps, rise = self.temps_and_rise(guess)
        full = np.array(self.held)
        full[self.free] = np.maximum(temps, ABSOLUTE_ZERO_C)
        grown = np.ones(full.shape)
        grown[self.free] = rise
        flows, slopes = self.ways(full)
        into = self.power - self.q_from @ flows - self.mass * (one * guess - known)
        matrix = self.m_from @ (slopes * grown[self.ends])
        matrix[: self.free.size] += one * self.mass
        matrix[self.order.right] = into
        return guess + eliminate(self.order, matrix)
