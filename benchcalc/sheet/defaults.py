"""Fill in what the sheet does not say: values of tables, and assumed inputs with their bands."""

from dataclasses import replace
from types import MappingProxyType

import numpy as np

from ..basics.tables import rows
from ..materials.ageing import rule
from ..materials.alloys import alloy_value
from ..materials.bulk import conductivity_scale, emissivity_of, joint_row, solid
from ..materials.gauges import diameter_of
from .build import Known
from .build_control import switch_of
from .hole_defaults import fill_breaks
from .sizes import fill_sizes, join_places

WARM_AFTER_S = 1800.0  # a reading taken after half an hour of load counts as warm


def default(key):
    """The row of data/defaults.csv for an assumed input.

    key: e.g. "room.ambient_c".  Returns dict with value, low, high, spread, or None.
    """
    return next((r for r in rows("defaults") if r["key"] == key), None)


def fill(build):
    """The build with tabulated and assumed values put where the sheet is silent.

    build: Build.
    Returns Build; every value put in has an entry in `known` (how: table or assumed).
    """
    known = dict(build.known)
    build = replace(
        build, wire=tuple(_fill_wire(w, known) for w in build.wire), supply=_fill_supply(build.supply, known)
    )
    room = _assume(build.room, "ambient_c", "room", known)
    room = _assume(room, "air_speed_m_s", "room", known)
    fill_sizes(build, known)
    join_places(build, known)
    coil, heat = _fill_coil(build.coil, known), _fill_heat(build, known)
    control, sensor = _fill_control(build, known)
    use = _assume(build.use, "side_load_n", "use", known) if build.heat_break else build.use
    build = replace(
        build,
        use=use,
        part=tuple(_fill_part(p, known) for p in build.part),
        joint=tuple(_fill_joint(i, j, known) for i, j in enumerate(build.joint)),
        layer=tuple(_fill_layer(i, y, known) for i, y in enumerate(build.layer)),
    )
    if build.layer:
        value, low, high, source = rule("halving_k")
        known.setdefault("use.halving_k", Known(low, high, "table", source))
        use = replace(use, halving_k=value)
    return replace(
        build,
        room=room,
        heat=heat,
        coil=coil,
        control=control,
        sensor=sensor,
        use=use,
        heat_break=fill_breaks(build, known),
        known=MappingProxyType(known),
    )


def _assume(holder, field, section, known, key=""):
    """The holder with a silent field put as data/defaults.csv has it (key: there, where it is not section.field)."""
    row = default(key or f"{section}.{field}")
    if getattr(holder, field) is not None or row is None:
        return holder
    known[f"{section}.{field}"] = Known(row["low"], row["high"], "assumed", row["note"] or "", spread=row["spread"])
    return replace(holder, **{field: row["value"]})


def _fill_coil(coil, known):
    if coil is None:
        return None
    coil = _assume(coil, "wire_temp_c", "coil", known, f"coil.wire_temp_c/{coil.mounting}")
    if coil.on is not None:
        coil = _assume(coil, "end_room_m", "coil", known)
        coil = _assume(coil, "anchor_turns", "coil", known)
    if coil.tails.resistance_ohm is None and coil.tails.length_m is None:
        coil = replace(coil, tails=_assume(coil.tails, "resistance_ohm", "coil.tails", known))
    if coil.tails.material is not None:
        coil = replace(coil, tails=_assume(coil.tails, "section_m2", "coil.tails", known))
    return coil


def _fill_control(build, known):
    """Controller and sensor; all of it is assumed only where the sheet has a controller at all."""
    control, sensor = build.control, build.sensor
    if control is None:
        return None, sensor
    control = _assume(control, "band_k", "control", known)
    control = _assume(control, "window_s", "control", known, f"control.window_s/{switch_of(build)}")
    return control, _assume(sensor, "lag_s", "sensor", known, f"sensor.lag_s/{sensor.fixed}")


def _fill_heat(build, known):
    heat = build.heat
    if build.coil is not None:
        known.setdefault("heat.shine_place", Known(-1.0, 1.0, "table", "band of the emissivity of the wire"))
        known.setdefault("heat.wire_metal_place", Known(-1.0, 1.0, "table", "conductivity of the wire's own metal"))
    if not build.part:
        return heat
    keys = {
        "gap_eccentricity": "gap.eccentricity",
        "loose_gap_m": "joint.loose_gap_m",
        "layer_emissivity": "layer.emissivity",
        "slack_m": "layer.slack_m",
        "excess_scale": "winding.excess_scale",
        "screw_point_w_k": "joint.screw_point_w_k",
        "convection": "surface.convection",
        "rear_convection": f"room.rear_convection/{build.room.attitude or 'lying'}",
        "rear_length_m": "room.rear_length_m",
        "leads_to_tube_w_mk": "leads.to_tube_w_mk",
        "work_w_m2k": "work.to_wall_w_m2k",
        "wood_along_grain": "handle.along_grain",
        "wood_contact_w_m2k": "handle.contact_w_m2k",
    }
    for field, key in keys.items():
        heat = _assume(heat, field, "heat", known, key)
    return heat


def _fill_part(part, known):
    if part.material is None or part.role == "frame":
        return part
    if part.emissivity is None:
        row = emissivity_of(part.material, part.finish)
        how = "assumed" if row["basis"] == "assumed" else "table"
        known[f"part.{part.id}.emissivity"] = Known(row["low"], row["high"], how, row["source_id"])
        part = replace(part, emissivity=row["value"])
    known.setdefault(f"part.{part.id}.conductivity_place", Known(-1.0, 1.0, "table", "band of the conductivity"))
    return part


def _fill_joint(i, joint, known):
    if joint.made is not None:
        row = joint_row(joint.made)
        if row["value_w_m2k"]:
            known.setdefault(
                f"joint.{i}.contact_scale",
                Known(
                    row["low"] / row["value_w_m2k"],
                    row["high"] / row["value_w_m2k"],
                    "assumed",
                    row["made"],
                    spread="log",
                ),
            )
    return joint


def _fill_layer(i, layer, known):
    if layer.material is not None:
        material = solid(layer.material)
        ends = [float(conductivity_scale(material, place)) for place in (-1, 1)]
        known.setdefault(f"layer.{i}.conductivity_scale", Known(*ends, "table", material.name, spread="log"))
    return layer


def _fill_wire(wire, known):
    path = f"wire.{wire.id}"
    if wire.gauge and wire.diameter_m is None:
        diameter_m = diameter_of(wire.gauge)
        known[f"{path}.diameter_m"] = Known(diameter_m, diameter_m, "table", wire.gauge)
        wire = replace(wire, diameter_m=diameter_m)
    if wire.alloy and wire.resistivity_ohm_m is None:
        table = alloy_value(wire.alloy, "resistivity_ohm_m")
        known[f"{path}.resistivity_ohm_m"] = Known(table.low, table.high, "table", table.source_id)
        known[f"{path}.factor_place"] = Known(-1.0, 1.0, "table", "band of the hot factor")
        wire = replace(wire, resistivity_ohm_m=table.value)
    if not wire.alloy and wire.hot_factor is None:
        row = default("wire.hot_factor")
        known[f"{path}.hot_factor"] = Known(row["low"], row["high"], "assumed", row["note"] or "")
        wire = replace(wire, hot_factor=row["value"])
    return wire


def _fill_supply(supply, known):
    if supply.kind is None:
        return supply
    if supply.output is None:
        bare = supply.kind == "transformer" and supply.rectifier in (None, "none")
        supply = replace(supply, output="AC" if bare else "DC")
    if supply.rectifier == "bridge with capacitor":
        supply = _assume(supply, "form", "supply", known)
    if supply.kind == "transformer":
        for field in ("mains", "warming"):
            row = default(f"supply.{field}")
            low, high = row["low"], row["high"]
            if field == "warming" and any(
                r.loaded_s is not None and np.all(r.loaded_s >= WARM_AFTER_S) for r in supply.reading
            ):
                low, high = 1.0, 1 + (high - 1) / 3  # readings already taken warm
            known.setdefault(f"supply.{field}", Known(low, high, "assumed", row["note"] or ""))
    if supply.kind == "battery":
        row = default("supply.mains/battery")
        known.setdefault("supply.mains", Known(row["low"], row["high"], "assumed", row["note"] or ""))
    if supply.charge_a_s is not None or supply.energy_j is not None:
        supply = _assume(supply, "usable", "supply", known)
    if supply.source_share is None and len(supply.reading) == 1:
        row = default("supply.source_share")
        known["supply.source_share"] = Known(row["low"], row["high"], "assumed", row["note"] or "")
        supply = replace(supply, source_share=row["value"])
    return supply
