"""What a warm-up run holds: temperatures at any time, and where the energy went."""

from dataclasses import dataclass

import numpy as np

from ...basics.fault import fault
from .assemble import Banded
from .balance import lost
from .network import Network, node_number


@dataclass(frozen=True, eq=False)
class WarmUp:
    """A run from time_s[0] = 0 on.  Ask run.at(times) or run.at(times, "tip").

    time_s: ends of the steps (steps + 1,). supplied_j, stored_j, lost_j: heat put in, held by the
    nodes, given off to surfaces and held temperatures (J); closure_j: supplied - stored - lost, zero
    for an exact run. refused: steps tried again with a shorter length.
    before_k, after_k: states at both ends of each step (steps, n), those of nodes without capacity too; before_k_s,
    after_k_s: rates there of the cubic between them (warm_up.py).
    """

    net: Network
    banded: Banded
    time_s: np.ndarray
    before_k: np.ndarray
    before_k_s: np.ndarray
    after_k: np.ndarray
    after_k_s: np.ndarray
    supplied_j: float
    stored_j: float
    lost_j: float
    closure_j: float
    refused: int

    @property
    def steps(self):
        """Number of steps taken."""
        return self.time_s.size - 1

    def __getitem__(self, name):
        """Temperature of a node (degC) at the end of the run."""
        return float(self.at(self.time_s[-1], name))

    def at(self, times_s, name=None):
        """Temperatures at any times within the run.

        times_s: s, number or array (t,). name: a node's name or number; a list of them; None: all nodes.
        Returns degC: (t,), (t, names) or (t, nodes).
        Between the ends of a step: the method's own cubic in the state (heat over capacity, see stored.py).
        """
        times = np.asarray(times_s, dtype=float)
        if times.size and (times.min() < -1e-9 or times.max() > self.time_s[-1] * (1 + 1e-12)):
            raise fault("run", f"{times.min():g} to {times.max():g} s", f"lies outside 0 to {self.time_s[-1]:g} s.")
        several = name is None or isinstance(name, list | tuple | np.ndarray)
        wanted = range(len(self.net.names)) if name is None else name if several else [name]
        numbers = np.array([node_number(self.net, w) for w in wanted], dtype=int)
        found = self._nodes(np.atleast_1d(times), numbers)
        found = found.reshape(times.shape + (numbers.size,))
        return found if several else found[..., 0]

    def _nodes(self, times, numbers):
        place = np.full(len(self.net.names), -1)
        place[self.banded.free] = np.arange(self.banded.free.size)
        at = place[numbers]
        columns = at[at >= 0]
        step = np.clip(np.searchsorted(self.time_s, times, side="right") - 1, 0, self.steps - 1)
        length = np.diff(self.time_s)
        parts = np.stack(
            [
                self.before_k[:, columns],
                self.after_k[:, columns],
                self.before_k_s[:, columns] * length[:, None],
                self.after_k_s[:, columns] * length[:, None],
            ],
            axis=1,
        )
        x = (times - self.time_s[step]) / length[step]
        once, twice = x * (1 - x) ** 2, x * x * (1 - x)
        weights = np.stack([1 - x * x * (3 - 2 * x), x * x * (3 - 2 * x), once, -twice], axis=1)
        if times.size > 4 * self.steps and (np.diff(step) >= 0).all():
            edges = np.searchsorted(step, np.arange(self.steps + 1))
            values = np.empty((times.size, columns.size))
            for a, b, part in zip(edges, edges[1:], parts):
                np.matmul(weights[a:b], part, out=values[a:b])
        else:
            values = (weights[:, :, None] * parts[step]).sum(axis=1)
        values = self.banded.holding.only(columns).temps(values)
        if columns.size == numbers.size:
            return values
        found = np.empty((times.size, numbers.size))
        found[:, at >= 0] = values
        found[:, at < 0] = self.net.held_c[numbers[at < 0]]
        return found


def account(net, banded, rows, refused, accounted=True):
    """Put a run together and draw up its energy account.

    net: Network. banded: its Banded. rows: steps from the solver. refused: number of steps tried again. accounted:
    False to leave the losses unsummed.
    Returns WarmUp.  Heat lost is summed over the surfaces and held temperatures at both ends of every
    step by the trapezoid rule with end correction (Davis and Rabinowitz, Methods of Numerical
    Integration, 2nd ed., 2.9), so the closure is a check and not a definition.
    """
    start, length, y0, r0, y1, r1, watts = (np.array(column) for column in zip(*rows))
    mass = banded.capacity_j_k
    run = WarmUp(net, banded, np.append(start, start[-1] + length[-1]), y0, r0, y1, r1, *[0.0] * 4, refused)
    if not accounted:
        supplied_j, stored_j = float((length * watts).sum()), float((mass * (y1[-1] - y0[0])).sum())
        return WarmUp(net, banded, run.time_s, y0, r0, y1, r1, supplied_j, stored_j, np.nan, np.nan, refused)
    if np.array_equal(y0[1:], y1[:-1]):
        loss, slope = _lost_and_slope(run, np.vstack([y0, y1[-1:]]))
        out_w, slopes = (loss[:-1], loss[1:]), (slope[:-1], slope[1:])
    else:
        out_w, slopes = zip(_lost_and_slope(run, y0), _lost_and_slope(run, y1))
    out_w_s = np.einsum("ij,ij->i", slopes[0], r0), np.einsum("ij,ij->i", slopes[1], r1)
    lost_j = float((length / 2 * (out_w[0] + out_w[1]) + length**2 / 12 * (out_w_s[0] - out_w_s[1])).sum())
    supplied_j = float((length * watts).sum())
    stored_j = float((mass * (y1[-1] - y0[0])).sum())
    return WarmUp(
        net, banded, run.time_s, y0, r0, y1, r1, supplied_j, stored_j, lost_j, supplied_j - stored_j - lost_j, refused
    )


def _lost_and_slope(run, state):
    """Heat lost (W) at each of many states, and its slope by each node's state (W/K)."""
    temps, rise = run.banded.holding.temps_and_rise(state)
    loss, slope = lost(run.banded, temps)
    return loss, slope if rise is None else slope * rise
