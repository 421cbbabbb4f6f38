"""Why a winding is so much hotter than its tip: what lies between them, and how many kelvins it takes for a watt."""

import numpy as np

from ...basics.fault import Fault
from ...basics.names import say
from ...materials.bulk import solid_key
from ...sheet.change import item
from ...sheet.roles import part_with_role
from ...thermal.network.curves import conductivity_at
from ...thermal.surfaces.by_hand import conduction_curve, stem_drop
from ..wire.coil import coil_span

MUCH = 0.4  # of the wire's rise over the room, lost on the way to the tip: then the way is the fault (own judgement)


def way_to_tip(build, heat):
    """The metal between the middle of a winding and the tip.

    build: Build (floats). heat: HeatPart, settled.
    Returns (drop_k, way_m, k_per_w): kelvins between the part under the winding, in its middle, and the tip; the length
    between; and what one watt through it takes, by Fourier's law over the part's own section at its mean temperature.
    None where no such way is known, or the winding lies on or over the tip.
    """
    coil, tip = build.coil, part_with_role(build, "tip", placed=True)
    if coil is None or coil.on is None or tip is None or heat is None or heat.model is None or heat.model.designs:
        return None
    on = item(build.part, coil.on)
    span = coil_span(coil, on)
    if on is tip or None in (*span, tip.to_m, on.outer_m, on.material) or solid_key(on.material)[0] != "metals":
        return None
    middle_m = sum(span) / 2
    way_m = middle_m - max(tip.to_m, tip.from_m)
    if not way_m > 0 or on.id not in heat.part_ids or np.isnan(heat.tip_c):
        return None
    under_c = heat.at(on.id, middle_m)
    section_m2 = np.pi / 4 * (on.outer_m**2 - (on.inner_m or 0.0) ** 2)
    try:
        conductivity_w_mk = float(conductivity_at(conduction_curve(on.material), (under_c + heat.tip_c) / 2))
    except Fault:
        return None
    return under_c - heat.tip_c, way_m, float(stem_drop(1.0, way_m, conductivity_w_mk, section_m2))


def far_words(build, heat):
    """That the watts cannot reach the tip, and what would help, in a sentence; "" where most of them do.

    build, heat: as way_to_tip; of many designs side by side nothing is said.
    """
    if (
        heat is None
        or np.ndim(heat.wire_c)
        or any(np.ndim(x) for p in build.part for x in (p.from_m, p.to_m, p.outer_m))
    ):
        return ""
    way = way_to_tip(build, heat)
    if way is None or not way[0] > MUCH * (heat.wire_c - build.room.ambient_c):
        return ""
    drop_k, way_m, k_per_w = way
    told = {"units": build.units, "degrees": build.degrees}
    drop, each = (say("drop_k", k, **told) for k in (drop_k, k_per_w))
    return (
        f"The watts do not reach the tip: it is {drop} cooler than the {build.coil.on} under the winding, and the "
        f"{say('length_m', way_m, **told)} of it between them take {each} for each watt. Wind it on the part that "
        "carries the tip, or on one that is thicker, or of copper or brass: for the same tip the wire stays cooler."
    )
