"""Where the watts go: heat through every link, bar, ray and skin at given temperatures."""

from dataclasses import dataclass

import numpy as np

from .curves import ABSOLUTE_ZERO_C, conduction_integral, loss_at
from .network import Network, node_number


@dataclass(frozen=True, eq=False)
class Flows:
    """Heat in W through each way of a network, from its first node to its second; skin_w leaves the node."""

    net: Network
    link_w: np.ndarray
    bar_w: np.ndarray
    ray_w: np.ndarray
    skin_w: np.ndarray

    def into(self, name):
        """Heat that arrives at a node by all its ways, W (negative: it gives heat off).

        A held node takes this up; at a free node in the steady state it is minus its power.
        """
        k, total = node_number(self.net, name), 0.0
        for ways, heat in ((self.net.links, self.link_w), (self.net.bars, self.bar_w), (self.net.rays, self.ray_w)):
            total += heat[ways.second == k].sum() - heat[ways.first == k].sum()
        return float(total - self.skin_w[self.net.skins.node == k].sum())

    def between(self, first, second):
        """Heat from one node straight to another by all ways between them, W."""
        a, b, total = node_number(self.net, first), node_number(self.net, second), 0.0
        for ways, heat in ((self.net.links, self.link_w), (self.net.bars, self.bar_w), (self.net.rays, self.ray_w)):
            total += (
                heat[(ways.first == a) & (ways.second == b)].sum() - heat[(ways.first == b) & (ways.second == a)].sum()
            )
        return float(total)

    def off(self, name):
        """Heat that a node loses by its own skins, W."""
        return float(self.skin_w[self.net.skins.node == node_number(self.net, name)].sum())


def flows(net, temps_c):
    """Heat through every way of a network.

    net: Network, one design. temps_c: degC of every node (n,), as in Steady.temps_c or WarmUp.at(time).
    Returns Flows.
    """
    temps = np.asarray(temps_c, dtype=float)
    links, bars, rays, skins = net.links, net.bars, net.rays, net.skins
    bar_w, skin_w = np.zeros(bars.first.size), np.zeros(skins.node.size)
    for k, material in enumerate(net.materials):
        at = bars.material == k
        bar_w[at] = bars.shape_m[at] * (
            conduction_integral(material, temps[bars.first[at]]) - conduction_integral(material, temps[bars.second[at]])
        )
    for k, curve in enumerate(net.curves):
        at = skins.curve == k
        skin_w[at] = skins.area_m2[at] * loss_at(curve, temps[skins.node[at]])[0]
    kelvin = temps - ABSOLUTE_ZERO_C
    return Flows(
        net,
        links.conductance_w_k * (temps[links.first] - temps[links.second]),
        bar_w,
        rays.exchange_w_k4 * (kelvin[rays.first] ** 4 - kelvin[rays.second] ** 4),
        skin_w,
    )


def beyond_data(net, temps_c):
    """Materials whose conductivity data do not reach the temperatures met; the end value was used there.

    net: Network, one design. temps_c: degC of every node (n,).
    Returns tuple of (material name, lowest or highest temperature met in degC, nearest end of its data in
    degC).  A material given by one value has no range and is not told.
    """
    found = []
    for k, material in enumerate(net.materials):
        at = net.bars.material == k
        met = np.asarray(temps_c)[np.concatenate([net.bars.first[at], net.bars.second[at]])]
        if met.size and len(material.temps_c) > 1:
            if met.min() < material.temps_c[0]:
                found.append((material.name, float(met.min()), material.temps_c[0]))
            if met.max() > material.temps_c[-1]:
                found.append((material.name, float(met.max()), material.temps_c[-1]))
    return tuple(found)
