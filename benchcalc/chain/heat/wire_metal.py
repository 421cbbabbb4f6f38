"""What the metal of the coil's wire does with heat, at its place in its band: it shines and conducts along itself."""

from ...materials.alloys import in_band, wire_value


def wire_shine(build, wire):
    """Emissivity of the wire's surface at its place in its band; wire whose alloy is not known has that of any.

    build: Build. wire: part of the chain.
    Returns ratio, float or array.
    """
    return in_band(wire_value(wire.alloy, "emissivity"), build.heat.shine_place)


def wire_conducts(build, wire):
    """Conductivity of the wire's metal at its place in its band; wire whose alloy is not known has that of any.

    build: Build. wire: part of the chain.
    Returns W/(m K), float or array, near room temperature: hotter it conducts more, by half at a red heat.
    """
    return in_band(wire_value(wire.alloy, "conductivity_w_mk"), build.heat.wire_metal_place)
