"""Tables of the metals page: margins, drops, every metal side by side, energy to warm each part."""

import numpy as np

from ...basics.names import say
from ...chain.metals.ranking import metals_side_by_side
from ...materials.metals import mean_between, metal_name, metal_value
from ...sheet.change import item
from ...thermal.surfaces.by_hand import heat_up_time, stem_drop, tube_mass
from ...thermal.surfaces.fins import tube_section
from ..page.table import table

NONE = "The sheet gives no metal parts with temperatures."


def kelvins(value, build):
    """A difference of temperature, without the word that says it is one.  value: K. build: Build, for its degrees."""
    return say("rise_k", value, degrees=build.degrees).replace(" (difference)", "") if np.isfinite(value) else "–"


def margins(build, workings):
    """Each metal part: hottest place, its two limits, and what is left to each.

    build: Build. workings: Workings.
    Returns Table.
    """
    found, way = workings.metals, {"degrees": build.degrees}
    if found is None:
        return table(("part",), [(NONE,)])
    rows = [
        (
            f"{i}, {metal_name(m)}",
            say("temp_c", h, **way),
            say("temp_c", s, **way),
            kelvins(s - h, build),
            say("temp_c", t, **way),
            kelvins(t - h, build),
        )
        for i, m, h, s, t in zip(found.ids, found.metals, found.hottest_c, found.service_c, found.melting_c)
    ]
    return table(("part", "hottest", "long service", "left", "begins to melt", "left"), rows)


def drops(build, workings):
    """The drop along each metal part: by the network, and by hand with the watts that pass.

    build: Build. workings: Workings.
    Returns Table.
    """
    if workings.metals is None or not workings.metals.drops:
        return table(("part",), [(NONE,)])
    rows = [
        (
            f"{d.id}, {metal_name(d.metal)}",
            say("length_m", d.part_length_m, units=build.units),
            say("through_w", d.through_w),
            say("conductivity_w_mk", d.conductivity_w_mk),
            kelvins(d.drop_k, build),
            kelvins(stem_drop(d.through_w, d.part_length_m, d.conductivity_w_mk, d.section_m2), build),
        )
        for d in workings.metals.drops
    ]
    return table(
        ("part", "from its hottest place", "watts that pass, mean", "conductivity", "drop, network", "drop, by hand"),
        rows,
    )


def ranking(build, workings, id, most=12):
    """Every metal of the tables in the place of one part, the tool worked out anew; best first.

    build: Build. workings: Workings. id: part. most: rows to show; the sheet's own metal is always among them.
    Returns Table.
    """
    if workings.metals is None or id not in workings.metals.ids:
        return table(("metal",), [(NONE,)])
    own = dict(zip(workings.metals.ids, workings.metals.metals))[id]
    ranked = metals_side_by_side(build, workings, id)
    kept = [(n, r) for n, r in enumerate(ranked, 1) if n <= most or r.metal == own]
    way = {"degrees": build.degrees}
    rows = [
        (
            f"{n}",
            metal_name(r.metal) + (" (yours)" if r.metal == own else ""),
            r.stands,
            kelvins(r.margin_k, build),
            kelvins(r.drop_k, build),
            say("temp_c", r.tip_c, **way) if np.isfinite(r.tip_c) else "–",
            say("temp_c", r.entry_c, **way) if np.isfinite(r.entry_c) else "–",
            r.why,
        )
        for n, r in kept
    ]
    return table(("", f"{id} of", "stands", "to its limit", "drop", "tip", "at handle", "why"), rows)


def least_warm_up(build, workings):
    """What it takes to warm each metal part, and the least time, were nothing lost.

    build: Build. workings: Workings.
    Returns Table.
    """
    found = workings.metals
    if found is None:
        return table(("part",), [(NONE,)])
    rows, total = [], 0.0
    for id, metal, hot in zip(found.ids, found.metals, found.hottest_c):
        part = item(build.part, id)
        mass = float(
            tube_mass(
                tube_section(part.outer_m, part.inner_m or 0.0),
                part.to_m - part.from_m,
                metal_value(metal, "density_kg_m3").value,
            )
        )
        top = min(hot, metal_value(metal, "melting_low_c").value - 1.0)
        heat = mean_between(metal, "specific_heat_j_kgk", build.room.ambient_c, top)
        least = float(heat_up_time(mass, heat, top - build.room.ambient_c, workings.coil.coil_w))
        total += least
        rows.append(
            (
                f"{id}, {metal_name(metal)}",
                say("mass_kg", mass, units=build.units),
                say("specific_heat_j_kgk", heat),
                say("energy_j", least * workings.coil.coil_w),
                say("least_s", least),
            )
        )
    rows.append(("together", "", "", say("energy_j", total * workings.coil.coil_w), say("least_s", total)))
    return table(("part", "mass", "specific heat, mean", "energy", "least time"), rows)
