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
    before_k: states at the start of each step (steps, n), those of nodes without capacity too; curve_k: what is added
    from there on, by powers of the share of the step gone by (steps, 4, n) (warm_up.py).
    """

    net: Network
    banded: Banded
    time_s: np.ndarray
    before_k: np.ndarray
    curve_k: np.ndarray
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
        Between the ends of a step: the method's own quartic in the state (heat over capacity, see stored.py).
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
        step = np.searchsorted(self.time_s[1:-1], times, side="right")
        parts = np.concatenate([self.before_k[:, None, columns], self.curve_k[:, :, columns]], axis=1)
        x = (times - self.time_s[step]) / np.diff(self.time_s)[step]
        weights = np.ones((5, times.size))
        for lower, power in zip(weights, weights[1:]):
            np.multiply(lower, x, out=power)
        if times.size > 4 * self.steps and (np.diff(step) >= 0).all():
            edges = np.searchsorted(step, np.arange(self.steps + 1))
            values = np.empty((columns.size, times.size))
            for a, b, part in zip(edges, edges[1:], parts):
                np.matmul(part.T, weights[:, a:b], out=values[:, a:b])
            values = values.T  # each node's own in a row
        else:
            values = np.einsum("kt,tkj->tj", weights, parts[step])
        values = self.banded.holding.only(columns).temps(values)
        if columns.size == numbers.size:
            return values
        found = np.empty((numbers.size, times.size)).T
        found[:, at >= 0] = values
        found[:, at < 0] = self.net.held_c[numbers[at < 0]]
        return found


def account(net, banded, rows, refused, accounted=True):
    """Put a run together and draw up its energy account.

    net: Network. banded: its Banded. rows: steps from the solver. refused: number of steps tried again. accounted:
    False to leave the losses unsummed.
    Returns WarmUp.  Heat lost is summed over the surfaces and held temperatures by Simpson's rule in every step (Davis
    and Rabinowitz, Methods of Numerical Integration, 2nd ed., 2.2), so the closure is a check and not a definition.
    """
    start, length, before, curve, after, watts = (np.array(column) for column in zip(*rows))
    supplied_j = float((length * watts).sum())
    stored_j = float((banded.capacity_j_k * (after[-1] - before[0])).sum())
    lost_j = np.nan
    if accounted:
        middle = before + np.einsum("k,ikj->ij", 0.5 ** np.arange(1, 5), curve)
        apart = np.append((before[1:] != after[:-1]).any(axis=1), True)  # elsewhere a step ends where the next begins
        lost_w = lost(banded, banded.holding.temps(np.concatenate([before, middle, after[apart]])))
        first_w, middle_w, apart_w = np.split(lost_w, [length.size, 2 * length.size])
        last_w = np.append(first_w[1:], 0.0)
        last_w[apart] = apart_w
        lost_j = float(((first_w + 4 * middle_w + last_w) * length).sum() / 6)
    time_s = np.append(start, start[-1] + length[-1])
    return WarmUp(
        net, banded, time_s, before, curve, supplied_j, stored_j, lost_j, supplied_j - stored_j - lost_j, refused
    )
