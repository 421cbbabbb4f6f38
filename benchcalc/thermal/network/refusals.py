"""Numbers of a network that cannot be: negative, infinite, not known."""

import numpy as np

from ...basics.fault import Complaint, Fault


def refuse_nonsense(net):
    """Check the numbers of a network: all known, none negative.

    net: Network.
    Raises Fault that lists each bad value with its node or link.
    """
    ways = (net.links.conductance_w_k, net.bars.shape_m, net.rays.exchange_w_k4, net.skins.area_m2)
    if not net.contents and _all_known((net.capacity_j_k, net.power_w, *ways)) and not np.isinf(net.held_c).any():
        return
    wrong = []

    def look(values, what, unit, place):
        bad = ~(np.isfinite(values) & (values >= 0.0))
        if bad.any():
            for at in sorted({index[-1] for index in zip(*np.nonzero(bad))})[:5]:
                shown = values[..., at][bad[..., at]].flat[0]
                wrong.append(Complaint(place(at), f"{shown:g} {unit}", f"is no {what}: it must be zero or more."))

    def pair(ways):
        return lambda at: f"{net.names[ways.first[at]]} - {net.names[ways.second[at]]}"

    look(np.asarray(net.capacity_j_k), "heat capacity", "J/K", lambda at: net.names[at])
    look(np.asarray(net.power_w), "power", "W", lambda at: net.names[at])
    look(np.asarray(net.links.conductance_w_k), "conductance", "W/K", pair(net.links))
    look(np.asarray(net.bars.shape_m), "shape (area / length)", "m", pair(net.bars))
    look(np.asarray(net.rays.exchange_w_k4), "radiation exchange", "W/K4", pair(net.rays))
    look(np.asarray(net.skins.area_m2), "area", "m2", lambda at: net.names[net.skins.node[at]])
    wrong += [
        Complaint(net.names[k], "infinite", "is no temperature to hold.")
        for k in np.flatnonzero(np.isinf(np.atleast_2d(net.held_c)).any(axis=0))
    ]
    wrong += [
        Complaint(net.names[k], f"{net.capacity_j_k[k]:g} J/K", "is a node that melts, without heat capacity.")
        for k in net.contents
        if np.ndim(net.capacity_j_k) == 1 and net.capacity_j_k[k] == 0
    ]
    if wrong:
        raise Fault(*wrong)


def _all_known(values):
    """Whether all numbers are known and none is negative: one look for the many networks that are in order."""
    every = np.concatenate([np.ravel(v) for v in values])
    return every.size == 0 or bool(every.min() >= 0 and every.max() < np.inf)
