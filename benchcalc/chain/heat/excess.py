"""How much hotter the wire is than the winding that it lies in, and what that holds back at its ends."""

import numpy as np

from ...materials.bulk import solid
from ...thermal.network.curves import conductivity_at
from ...thermal.surfaces.wire_over_winding import end_of_wire, wire_excess
from ...thermal.tool.paths import air
from .wire_metal import wire_conducts

LAYER_C = 300.0  # temperature at which a layer's conductivity is taken


def excess_of(build, wire, coil, power_w):
    """How much hotter the wire is than the mean of its winding.

    build, wire, coil: as work_heat. power_w: power in the coil, W.
    Returns K, at least 0.
    """
    return _excess(build, wire, coil, power_w / coil.length_m)


def wire_ends(build, wire, coil):
    """What the tails meet at the ends of the winding's wire.

    build, wire, coil: as work_heat.
    Returns (what these hold back of the heat that the tails draw, K/W; how much hotter the wire is than its winding for
    each watt in the winding, K/W).
    """
    excess_k_m_w = _excess(build, wire, coil, 1.0)
    end_k_w = end_of_wire(excess_k_m_w, wire_conducts(build, wire), wire.area_m2)
    return end_k_w, excess_k_m_w / coil.length_m


def _excess(build, wire, coil, wire_w_m):
    laid_m = np.maximum(coil.pitch_m, wire.diameter_m)  # nearer than side by side no turn can lie
    excess_k = wire_excess(wire_w_m, _under(build), conductivity_at(air(), LAYER_C), laid_m, wire.diameter_m)
    return np.maximum(excess_k, 0.0) * build.heat.excess_scale


def _under(build):
    """Conductivity of the layer under the winding, W/(m K); of air where there is none."""
    for y in build.layer:
        if y.between == (build.coil.on, "coil") and y.material is not None:
            material = solid(y.material)
            return float(np.interp(LAYER_C, material.temps_c, material.conductivity_w_mk)) * y.conductivity_scale
    return float(conductivity_at(air(), LAYER_C))
