"""Tables for a piece of metal in the hand: what it should weigh, how far handbooks part, what it may be."""

from ...basics.names import say
from ...materials.metals import metal_at, metal_name, metal_value
from ...materials.which_metal import WATER_KG_M3, density_error, tell_metals_apart
from ...sheet.change import item
from ...thermal.surfaces.by_hand import tube_mass
from ...thermal.surfaces.fins import tube_section
from ..page.table import table
from .tables import NONE


def weights(build, workings):
    """What each metal part should weigh, how much water it should push aside, and how well a kitchen scale tells it.

    build: Build. workings: Workings.
    Returns Table.
    """
    found = workings.metals
    if found is None:
        return table(("part",), [(NONE,)])
    rows = []
    for id, metal in zip(found.ids, found.metals):
        part = item(build.part, id)
        section = tube_section(part.outer_m, part.inner_m or 0.0)
        mass = float(tube_mass(section, part.to_m - part.from_m, metal_value(metal, "density_kg_m3").value))
        water = float(tube_mass(section, part.to_m - part.from_m, WATER_KG_M3))
        rows.append(
            (
                f"{id}, {metal_name(metal)}",
                f"{1e3 * mass:.0f} g",
                f"{1e3 * water:.1f} g",
                f"{float(density_error(mass, water, 1e-3)):.0%}",
            )
        )
    return table(("part", "weighs", "pushes aside", "density off, with a scale of 1 g"), rows)


def spread(build, temp_c=20.0, metals=("copper", "aluminium", "brass", "mild-steel", "stainless", "bronze")):
    """How far handbooks and grades part over one conductivity.

    build: Build, for its degrees. temp_c: degC. metals: keys.
    Returns Table.
    """
    rows = []
    for m in metals:
        k = metal_at(m, "conductivity_w_mk", temp_c)
        rows.append(
            (
                metal_name(m),
                *(say("conductivity_w_mk", x) for x in (k.low, k.value, k.high)),
                f"{k.high / k.low:.2f} times",
            )
        )
    return table(
        (f"conductivity at {say('temp_c', temp_c, degrees=build.degrees)}", "lowest", "taken", "highest", "apart"), rows
    )


def guesses(found):
    """What a piece may be, likeliest first, with the test that tells each from the one before it.

    found: tuple of MetalGuess.
    Returns Table.
    """
    if not found:
        return table(
            ("may be",), [("No metal of the tables fits these clues: weigh it again, cut deeper, look again.",)]
        )
    rows = [
        (
            g.name,
            f"{g.likelihood:.0%}",
            f"{g.density_kg_m3 / 1e3:.2f}",
            g.test if n == 0 else tell_metals_apart(found[0], g),
        )
        for n, g in enumerate(found)
    ]
    return table(("may be", "likely", "g/cm3", "look for; then, against the first"), rows)
