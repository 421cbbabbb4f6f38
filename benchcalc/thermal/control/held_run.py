"""A controlled run: stepped exactly by the network's own solver, piece by piece as the law decides."""

from dataclasses import dataclass

import numpy as np

from ..network.power_steps import Decided
from ..network.warm_up import warm_up
from .law import State, decide
from .seated import SENSOR


@dataclass(frozen=True, eq=False)
class Held:
    """A controlled run.  time_s: ends of its pieces, from 0 on. share: power of the piece that ends there. temp_c:
    watched places by name, at time_s, degC. state: of the law at the end. pieces: number of them. run: the network's
    own run, or None for a fast one."""

    time_s: np.ndarray
    share: np.ndarray
    temp_c: dict
    state: State
    run: object = None

    @property
    def pieces(self):
        """Number of pieces of power."""
        return self.time_s.size - 1


def exact_run(net, law, watch, until_s, *, start_c=None, state=None, tol_k=0.03):
    """A controlled run with every step of the network solved to an error.

    net: Network with a node "sensor" and the full power on its nodes. law: Law. watch: {name: (node numbers, weights)}.
    until_s: s. start_c: degC at the start, None for the room. state: of the law, None for a fresh one. tol_k: as
    warm_up.
    Returns Held with the network's own run, whose energy account closes over all the switching.
    """
    sensor, waiting = net.names.index(SENSOR), []
    memory = [State() if state is None else state]
    ends, shares = [0.0], [0.0]

    def next_piece(time_s, temps):
        if not waiting:
            memory[0], pieces = decide(law, memory[0], float(temps.temps_c[sensor]))
            waiting.extend(pieces)
        seconds, share = waiting.pop(0)
        ends.append(min(time_s + seconds, until_s))
        shares.append(share)
        return seconds, net.power_w * share

    run = warm_up(net, until_s, start_c=start_c, power=Decided(next_piece), tol_k=tol_k)
    time_s = np.array(ends)
    return Held(time_s, np.array(shares), readings_in(run, time_s, watch), memory[0], run)


def looked_at(held, watch, every_s):
    """A run told at shorter steps than its pieces, so that nothing between two switchings is missed.

    held: Held with the network's own run. watch: as `exact_run`. every_s: s.
    Returns Held.
    """
    end_s = held.time_s[-1]
    time_s = np.unique(np.concatenate([held.time_s, np.arange(0.0, end_s, every_s)]))
    watched = readings_in(held.run, time_s, watch)
    return Held(time_s, held.share[np.searchsorted(held.time_s, time_s)], watched, held.state, held.run)


def reading_of(watch, temps_c):
    """Temperatures of watched places.

    watch: {name: (node numbers, weights)}. temps_c: degC (..., nodes).
    Returns {name: degC (...,)}.
    """
    return {name: temps_c[..., list(nodes)] @ np.asarray(weights) for name, (nodes, weights) in watch.items()}


def readings_in(run, time_s, watch):
    """Temperatures of watched places in a run, no other node being asked for.

    run: WarmUp. time_s: s, array (t,). watch: as `reading_of`.
    Returns {name: degC (t,)}.
    """
    nodes = np.unique(np.concatenate([[], *(n for n, _ in watch.values())])).astype(int)
    places = {name: (np.searchsorted(nodes, list(n)), weights) for name, (n, weights) in watch.items()}
    return reading_of(places, run.at(time_s, nodes))
