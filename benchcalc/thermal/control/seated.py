"""A sensor seated on a node of a network: a lag, a share of the rise that it does not see; and work that is touched."""

from dataclasses import replace

import numpy as np

from ...basics.fault import fault
from ..network.network import Bars, Links, Network, Rays, Skins, node_number

SENSOR, WORK = "sensor", "touched work"
BEAD_J_K = 1e-4  # heat capacity that stands for the sensor: too small to cool what it measures
LEAST_LAG_S = 0.02


def with_sensor(net, host, lag_s, low_share=0.0, room="room"):
    """The network with a sensor on one of its nodes.

    net: Network, one design. host: name or number of the node it sits on. lag_s: time constant, 0 or more.
    low_share: share of the rise over the room that it does not see, 0 to below 1. room: node that its leads end in.
    Returns Network whose node "sensor" has the sensor's temperature: it follows its seat by one time constant.
    Equation: first-order lag; reading settles at room + (1 - low share) rise, as two conductances in a row.
    """
    if not (lag_s >= 0 and 0 <= low_share < 1):
        raise fault("sensor", f"lag {lag_s:g} s, low by {low_share:g}", "needs a lag of 0 s or more, a share below 1.")
    at = node_number(net, host)
    all_w_k = BEAD_J_K / max(lag_s, LEAST_LAG_S)
    ways = ((at, all_w_k * (1 - low_share)),) + (((node_number(net, room), all_w_k * low_share),) if low_share else ())
    return with_node(net, SENSOR, at, BEAD_J_K, ways)


def with_work(net, host, capacity_j_k, contact_w_k, content=None):
    """The network with work that touches one of its nodes.

    net: Network, one design. host: name or number of the node. capacity_j_k: of the work, J/K, above 0. contact_w_k:
    conductance of the touch, W/K. content: HeatContent of work that melts, or None.
    Returns Network with the node "touched work".  Heat that the work itself loses to the room is left out: it makes
    the dip a little too small, for seconds not worth more.
    """
    at = node_number(net, host)
    return with_node(net, WORK, at, capacity_j_k, ((at, contact_w_k),), content)


def with_node(net, name, behind, capacity_j_k, ways, content=None):
    """The network with one more node, put behind another so that links stay short.

    net: Network, one design. name: of the new node, new. behind: number of the node before it. capacity_j_k: J/K.
    ways: ((number of a node of net, W/K), ...). content: HeatContent, or None.
    Returns Network.
    """
    if name in net.names:
        raise fault("network", name, "is there already.")
    new = behind + 1

    def moved(numbers):
        return np.where(np.asarray(numbers) >= new, np.asarray(numbers) + 1, np.asarray(numbers))

    to, values = (np.array(column) for column in zip(*ways))
    links = Links(
        np.append(moved(net.links.first), np.full(to.size, new)).astype(int),
        np.append(moved(net.links.second), moved(to)).astype(int),
        np.append(net.links.conductance_w_k, values),
    )
    contents = {int(moved(k)): c for k, c in net.contents.items()}
    return replace(
        net,
        names=(*net.names[:new], name, *net.names[new:]),
        capacity_j_k=np.insert(net.capacity_j_k, new, capacity_j_k),
        power_w=np.insert(net.power_w, new, 0.0),
        held_c=np.insert(net.held_c, new, np.nan),
        links=links,
        bars=Bars(moved(net.bars.first), moved(net.bars.second), net.bars.shape_m, net.bars.material),
        rays=Rays(moved(net.rays.first), moved(net.rays.second), net.rays.exchange_w_k4),
        skins=Skins(moved(net.skins.node), net.skins.area_m2, net.skins.curve),
        contents=contents if content is None else contents | {new: content},
        stored_by=np.insert(net.stored_by, new, -1) if net.stored_by.size else net.stored_by,
    )


def without_nodes(net: Network, temps_c, *names):
    """Temperatures of the nodes that were there before, so that a tool's own places can be read.

    net: Network with more nodes. temps_c: degC (..., nodes). names: of the nodes that were put in.
    Returns degC (..., fewer nodes).
    """
    return np.delete(temps_c, [net.names.index(n) for n in names if n in net.names], axis=-1)
