"""An invented iron of a few nodes, with a sensor on its tip, that tests hold at a temperature."""

import numpy as np

from benchcalc.thermal.control.seated import with_sensor
from benchcalc.thermal.network.curves import loss_curve
from benchcalc.thermal.network.network import held, link, network, node, ray, skin


def iron(power_w=60.0):
    """Wire, core, tip, tube, wood: radiation from the wire, free convection outside, a point without mass."""
    air = loss_curve("air", lambda t: 6.0 * np.sign(t - 20) * np.abs(t - 20) ** 1.25 / 3, 20.0)
    return network(
        node("wire", 4.0, power_w=power_w),
        node("core", 25.0),
        node("face"),
        node("tip", 18.0),
        node("tube", 22.0),
        node("wood", 60.0),
        held("room", 20.0),
        link("wire", "core", 0.25),
        ray("wire", "tube", 2e-3, 0.7),
        link("core", "face", 3.0),
        link("face", "tip", 4.0),
        link("core", "tube", 0.05),
        link("tube", "wood", 0.03),
        link("wood", "room", 0.05),
        skin("tip", 3e-3, air),
        skin("tube", 6e-3, air),
        ray("tip", "room", 3e-3, 0.6),
        ray("tube", "room", 6e-3, 0.5),
    )


NET = with_sensor(iron(), "tip", 4.0, 0.03)
PLACES = ("sensor", "tip", "wire", "wood")
WATCH = {name: ((NET.names.index(name),), (1.0,)) for name in PLACES}
