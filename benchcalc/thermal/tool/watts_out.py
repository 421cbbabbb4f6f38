"""Where the watts go: heat that each part gives to the room."""

from ..network.curves import ABSOLUTE_ZERO_C, Loss, loss_at


def watts_out(model, temps_c):
    """Heat that leaves each part to the room.

    model: Model of one design. temps_c: (nodes,) degC.
    Returns dict: part's id -> W, in the order of the tracks; "coil" for an open winding.
    """
    net = model.net
    owner = {}
    for i, t in enumerate(model.tracks):
        for n in model.node[i][model.node[i] >= 0]:
            owner[int(n)] = t.owner
    found = {}
    for node, area, curve in zip(net.skins.node, net.skins.area_m2, net.skins.curve):
        one = net.curves[curve]
        watts, _ = loss_at(Loss(one.name, one.ambient_c, one.start_c, one.step_k, one.pieces), temps_c[node])
        found[owner[int(node)]] = found.get(owner[int(node)], 0.0) + float(watts * area)
    kelvin = temps_c - ABSOLUTE_ZERO_C
    room = len(net.names) - 1
    for a, b, exchange in zip(net.rays.first, net.rays.second, net.rays.exchange_w_k4):
        if int(b) == room:
            watts = exchange * (kelvin[a] ** 4 - kelvin[b] ** 4)
            found[owner[int(a)]] = found.get(owner[int(a)], 0.0) + float(watts)
    return found
