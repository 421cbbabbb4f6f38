"""Steady state of a network: Newton's method from a cold start, one design or many at once."""

from .assemble import assembled
from .newton import CLOSE_ENOUGH_K, steady_of
from .side_by_side import steady_many


def steady(net, *, start_c=None, close_k=CLOSE_ENOUGH_K):
    """Temperatures at which every node passes on as much heat as it gets.

    net: Network; with a designs axis in any of its values all designs are solved side by side.
    start_c: degC, where to start: None (cold: the uniform temperature that loses the power), a
    number, or an array over the nodes; (designs, nodes) for many. close_k: K that may be left open in many designs.
    Returns Steady.
    Assumes: no loss falls with temperature (loss_curve sees to it), so the answer is the only one.
    Fails: a part without a way for heat to leave (Fault that names its nodes); no answer in 60 steps.
    Equation: Newton's method, each step scaled to move no node by more than 600 K.
    """
    if is_many(net):
        return steady_many(net, start_c, close_k)
    return steady_of(net, assembled(net), net.power_w, start_c=start_c)


def is_many(net):
    """Whether a network holds many designs: any value array with two axes.

    net: Network.
    Returns bool.
    """
    values = (
        net.capacity_j_k,
        net.power_w,
        net.held_c,
        net.links.conductance_w_k,
        net.bars.shape_m,
        net.rays.exchange_w_k4,
        net.skins.area_m2,
    )
    return any(v.ndim == 2 for v in values) or any(c.pieces.ndim == 3 for c in net.curves)
