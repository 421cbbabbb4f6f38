"""From a build sheet to the tool that the heat model works on: plain SI parts, contacts, gaps."""

import numpy as np

from ...basics.fault import fault
from ...materials.alloys import wire_value
from ...materials.bulk import conductivity_scale, joint_row, melting_of, solid, specific_heat_curve
from ...materials.wood import wood_bulk, wood_row
from ...sheet.change import item
from ...thermal.network.curves import conductivity
from ...thermal.network.stored import COLD_C, specific_heat_of
from ...thermal.tool.clearance import clearance_contact
from ...thermal.tool.parts import Between, Leads, Piece, Place, Tool, Winding
from ..wire.coil import coil_span
from ..wire.link import tail_section
from .excess import LAYER_C, wire_ends
from .holes import narrow_of
from .tails import joint_place
from .wire_metal import wire_conducts, wire_shine

RINGS_OF_WOOD = 3
NOT_ON_AXIS = ("frame",)


def tool_of(build, wire, coil, power_w=None):
    """The Tool of a build, or None where the sheet has no parts to conduct heat.

    build: Build. wire, coil: parts of the chain (the winding's size and power). power_w: power in the
    coil, W, instead of the coil's own (float or array).
    Returns Tool; numbers are arrays where the build's are.
    """
    parts = [
        p
        for p in build.part
        if p.role not in NOT_ON_AXIS and all(x is not None for x in (p.material, p.from_m, p.to_m, p.outer_m))
    ]
    if not parts or coil is None or build.coil.on is None or build.coil.on not in [p.id for p in parts]:
        return None
    pieces = tuple(_piece(p, build.heat) for p in parts)
    between = tuple(_joint(build, j) for j in build.joint if j.made and _both(parts, j.between)) + tuple(
        _layers(build, pair)
        for pair in dict.fromkeys(
            y.between for y in build.layer if y.thickness_m is not None and y.material is not None
        )
    )
    power = coil.coil_w if power_w is None else power_w
    place = Place(
        build.room.ambient_c,
        build.room.air_speed_m_s,
        build.room.attitude or "lying",
        build.heat.convection,
        build.heat.rear_convection,
        build.heat.rear_length_m,
        build.heat.gap_eccentricity,
        build.heat.loose_gap_m,
        build.heat.layer_emissivity,
        build.heat.slack_m,
        build.heat.work_w_m2k,
        build.heat.grip_w_m2k,
        build.heat.wood_contact_w_m2k,
        build.heat.bore_open,
    )
    winding = _winding(build, wire, coil, power)
    return Tool(pieces, winding, between, _leads(build, wire, coil, power, winding, parts), place, narrow_of(build))


def _piece(part, assumed):
    material = solid(part.material)
    wood = material.family == "wood"
    melts, work = melting_of(part.material), part.role == "work"
    temps_c, specific = specific_heat_curve(part.material)
    heat, scale = material.density_kg_m3 * float(np.interp(COLD_C, temps_c, specific)), 1.0
    if wood and (part.density_kg_m3 is not None or part.moisture is not None):
        own = wood_bulk(material.key, part.density_kg_m3, part.moisture)
        heat, scale = own.heat_j_m3k, own.conductivity_w_mk / material.conductivity_w_mk[0]
    return Piece(
        part.id,
        part.role or "",
        part.from_m,
        part.to_m,
        0.0 if part.inner_m is None else part.inner_m,
        part.outer_m,
        conductivity(material.name, material.conductivity_w_mk, material.temps_c),
        heat * assumed.stored_scale,
        part.emissivity,
        scale * conductivity_scale(material, part.conductivity_place),
        assumed.wood_along_grain
        if wood and wood_row(material.key, "specific_gravity")
        else 1.0,  # not of cork or plywood
        RINGS_OF_WOOD if wood else 1,
        (melts[0], melts[1], melts[2] * material.density_kg_m3) if work and melts else None,
        work,
        None if work else specific_heat_of(material.name, specific, temps_c),
    )


def _both(parts, ids):
    return set(ids) <= {p.id for p in parts}


def _joint(build, joint):
    """A joint as a contact: from its table, or from the clearance of the two diameters."""
    row = joint_row(joint.made)
    a, c = (item(build.part, i) for i in joint.between)
    inner, outer = (
        (a, c)
        if c.inner_m is not None and np.all(np.asarray(c.inner_m) >= np.asarray(a.outer_m) - 1e-4)
        else (c, a)
        if a.inner_m is not None and np.all(np.asarray(a.inner_m) >= np.asarray(c.outer_m) - 1e-4)
        else (a, c)
    )
    contact = row["value_w_m2k"]
    if row["how"] in ("gap centred", "gap off-centre") and outer.inner_m is not None and inner is not outer:
        contact = clearance_contact(
            (np.asarray(outer.inner_m) - inner.outer_m) / 2, row["how"] == "gap off-centre", contact
        )
    if contact is not None:
        contact = contact * joint.contact_scale
    extra = build.heat.screw_point_w_k if row["how"] == "gap off-centre" else 0.0
    return Between(inner.id, outer.id, (), contact, joint.from_m, joint.to_m, extra, row["made"])


def _layers(build, pair):
    """All layers between one pair of neighbours, from the inside out."""
    layers, heats = [], []
    for y in build.layer:
        if y.between == pair and y.thickness_m is not None and y.material is not None:
            material = solid(y.material)
            k = np.interp(LAYER_C, material.temps_c, material.conductivity_w_mk)
            layers.append((y.thickness_m, float(k) * y.conductivity_scale))
            heats.append(material.density_kg_m3 * material.specific_heat_j_kgk)
    return Between(pair[0], pair[1], tuple(layers), layers_j_m3k=tuple(heats))


def _winding(build, wire, coil, power_w):
    """The winding as a sheath: in the middle of its room on the former."""
    on = item(build.part, build.coil.on)
    start, end = coil_span(build.coil, on)
    if np.any(np.asarray(end) <= start):
        raise fault("coil", "", f"lies beside its former, the {on.id}.", "", "Place it on its former.")
    along = np.minimum(coil.winding_m, end - start)
    middle = (start + end) / 2
    mass = wire.area_m2 * coil.length_m * wire_value(wire.alloy, "density_kg_m3").value
    return Winding(
        on.id,
        middle - along / 2,
        middle + along / 2,
        coil.former_m,
        coil.former_m + 2 * build.coil.layers * wire.diameter_m,
        power_w,
        mass * wire_value(wire.alloy, "specific_heat_j_kgk").value,
        wire_shine(build, wire),
    )


def _leads(build, wire, coil, power_w, winding, parts):
    """Both tails from the winding to the rear end of the tool; of the coil's own wire unless the sheet says copper."""
    rear = max((p.to_m for p in parts), key=lambda x: float(np.max(x)))
    tails = build.coil.tails
    if np.all(np.asarray(rear) <= np.asarray(winding.to_m) + 0.02):
        return None
    if tails.material is not None:
        metal = solid(tails.material)
        section, k = 2 * tail_section(tails), metal.conductivity_w_mk[0]
        heat = metal.density_kg_m3 * metal.specific_heat_j_kgk
    else:
        section = 2 * tails.strands * wire.area_m2
        density, specific = (wire_value(wire.alloy, x).value for x in ("density_kg_m3", "specific_heat_j_kgk"))
        k, heat = wire_conducts(build, wire), density * specific
    made = power_w * wire.tails_ohm / coil.hot_ohm
    ends = wire_ends(build, wire, coil)
    return Leads(
        winding.to_m, rear, k * section, made, heat * section, build.heat.leads_to_tube_w_mk, *ends, joint_place(build)
    )
