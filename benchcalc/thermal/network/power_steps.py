"""How the power runs over time: constant, in steps, or decided by what the temperatures are."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np

from ...basics.fault import fault
from .network import node_number


@dataclass(frozen=True, eq=False)
class Temps:
    """Temperatures at one moment, degC: temps["tip"], or all of them as temps.temps_c."""

    names: tuple
    temps_c: np.ndarray

    def __getitem__(self, name):
        """Temperature of a node by name or number, degC."""
        return float(self.temps_c[node_number(self, name)])


@dataclass(frozen=True)
class Decided:
    """Power decided piece by piece, each as long as it likes: next_piece(time_s, temps) -> (seconds, power)."""

    next_piece: Callable


def node_powers(net, power_w):
    """A power as W for each node.

    net: Network. power_w: a number (W in all, shared out as the network's own power_w is), a mapping
    {name: W}, or an array over the nodes.  All >= 0.
    Returns array (n,).
    """
    if isinstance(power_w, Mapping):
        each = np.zeros(len(net.names))
        for name, watts in power_w.items():
            each[node_number(net, name)] += watts
    elif np.ndim(power_w) == 0:
        total = net.power_w.sum()
        if total == 0 and power_w != 0:
            raise fault(
                "power",
                f"{power_w:g} W",
                "has no node to go to: none of the nodes has a power of its own.",
                do="Say which: {'coil': 40.0}, or give a node power_w.",
            )
        each = net.power_w * (power_w / total) if total else np.zeros(len(net.names))
    else:
        each = np.asarray(power_w, dtype=float)
    if each.shape != (len(net.names),):
        raise fault("power", each.shape, f"must be one number for each of the {len(net.names)} nodes.")
    if not (np.isfinite(each) & (each >= 0)).all():
        raise fault("power", power_w, "must be zero or more, in W.")
    return each


def power_pieces(net, until_s, power, every_s):
    """How to get each piece of time with one power.

    net: Network. until_s: s, end. power: None (the network's own, constant), steps [(time_s, power), ...], a callable
    power(time_s, temps), or Decided. every_s: s, how often a callable is asked.
    Returns a function (time_s, temps_c) -> (end of the piece in s, W of each node), asked at 0 and then at each end.
    """
    if power is None:
        own = node_powers(net, net.power_w)
        return lambda now_s, temps_c: (until_s, own)
    if isinstance(power, Decided):
        return _decided(net, until_s, power)
    if callable(power):
        if every_s is None or not every_s > 0:
            raise fault("power", every_s, "needs every_s, the seconds between two looks at the temperatures.")
        times = np.append(np.arange(0.0, until_s - 1e-9 * every_s, every_s), until_s)

        def asked(now_s, temps_c):
            end_s = float(times[np.searchsorted(times, now_s, side="right")])
            return end_s, node_powers(net, power(float(now_s), Temps(net.names, temps_c)))

        return asked
    steps = [(float(t), node_powers(net, p)) for t, p in power]
    starts = np.array([t for t, _ in steps])
    if not steps or not np.isfinite(starts).all() or (np.diff(starts) <= 0).any() or starts[0] < 0:
        raise fault("power", starts, "must have steps at rising times (s), from 0 on.")
    off = np.zeros(len(net.names))
    times = np.unique(np.concatenate([[0.0], starts[starts < until_s], [until_s]]))

    def stepped(now_s, temps_c):
        n = np.searchsorted(starts, now_s, side="right") - 1
        return float(times[np.searchsorted(times, now_s, side="right")]), steps[n][1] if n >= 0 else off

    return stepped


def _decided(net, until_s, power):
    def piece(now_s, temps_c):
        seconds, watts = power.next_piece(float(now_s), Temps(net.names, temps_c))
        if not seconds > 0:
            raise fault("power", f"{seconds:g} s", "is no length of a piece: it must be above 0 s.")
        end_s = now_s + seconds
        return until_s if end_s > until_s * (1 - 1e-12) else float(end_s), node_powers(net, watts)

    return piece
