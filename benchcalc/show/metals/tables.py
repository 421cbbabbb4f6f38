"""Tables of the metals page: margins, drops, joints, fits, every metal side by side, and what a piece may be."""

import numpy as np

from ...basics.names import say
from ...chain.metals.ranking import side_by_side
from ...materials.metals import mean_between, metal_at, metal_name, metal_short, metal_value
from ...materials.which_metal import WATER_KG_M3, density_error, tell_metals_apart
from ...sheet.change import item
from ...thermal.surfaces.by_hand import heat_up_time, joint_length, stem_drop, tube_mass
from ...thermal.surfaces.fins import tube_section
from ...thermal.surfaces.press_fit import screw_tightening
from ..page.table import table

NONE = "The sheet gives no metal parts with temperatures."


def _kelvins(value, build):
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
            _kelvins(s - h, build),
            say("temp_c", t, **way),
            _kelvins(t - h, build),
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
            _kelvins(d.drop_k, build),
            _kelvins(stem_drop(d.through_w, d.part_length_m, d.conductivity_w_mk, d.section_m2), build),
        )
        for d in workings.metals.drops
    ]
    return table(
        ("part", "from its hottest place", "watts that pass, mean", "conductivity", "drop, network", "drop, by hand"),
        rows,
    )


def joints(build, workings):
    """What crosses each joint, what it costs, and whether better contact would be felt.

    build: Build. workings: Workings.
    Returns Table.
    """
    if workings.metals is None or not workings.metals.joints:
        return table(("joint",), [("The sheet names no joint of two metal parts.",)])
    rows = []
    for j in workings.metals.joints:
        felt = "yes: mend it" if j.share > 0.1 else "a little" if j.share > 0.03 else "no"
        rows.append(
            (
                f"{j.first} to {j.second}, {j.made}",
                say("through_w", j.through_w),
                _kelvins(j.drop_k, build),
                f"{j.share:.1%}" if np.isfinite(j.share) else "–",
                felt,
            )
        )
    return table(("joint", "watts that cross", "drop", "share of the rise", "would better contact be felt?"), rows)


def fits(build, workings):
    """Every plug in a tube on the sheet: gap cold and hot, stress against strength, and a set screw's bite.

    build: Build. workings: Workings.
    Returns Table.
    """
    if workings.metals is None or not workings.metals.fits:
        return table(("fit",), [("No metal plug sits in a metal tube on this sheet.",)])
    rows = []
    for f in workings.metals.fits:
        stress = "none" if f.hot.stress_pa == 0 else say("stress_pa", f.hot.stress_pa)
        strong = say("stress_pa", f.hot.yield_pa) if np.isfinite(f.hot.yield_pa) else "not known"
        tells = {
            "": "holds its shape",
            "tube": "tube stretches for good",
            "plug": "plug creeps",
            "not known": "not known",
        }
        rows.append(
            (
                f"{f.plug} in {f.tube}",
                _gap(f.cold.cold_gap_m, build),
                _gap(f.hot.hot_gap_m, build),
                stress,
                strong,
                tells[f.hot.gives],
                "–"
                if np.isnan(f.bite_m)
                else f"{'bites' if f.bite_m >= 0 else 'lets go'} {1e6 * abs(f.bite_m):.0f} um",
            )
        )
    return table(
        (
            "plug and tube",
            "gap cold",
            "gap hot",
            "stress at the bore",
            "yield there, cautious",
            "hot",
            "set screw, hot",
        ),
        rows,
    )


def _gap(gap_m, build):
    if abs(gap_m) < 5e-8:
        return "0"
    return say("length_m", abs(gap_m), units=build.units, figures=2) + (" squeeze" if gap_m < 0 else "")


def screws(
    build, metals=("mild-steel", "brass", "stainless-304", "aluminium-6061"), rise_k=300.0, plug_m=0.008, wall_m=0.001
):
    """What heat does to a mild steel set screw, for some tubes on some plugs.

    build: Build, for its units. metals: keys. rise_k: of all parts. plug_m: diameter of the plug. wall_m: of the tube.
    Returns Table: growth of the bite; a minus sign: it loosens while hot.
    """
    grow = {m: metal_value(m, "expansion_per_k").value for m in (*metals, "mild-steel")}
    rows = [
        (
            f"tube of {metal_short(t)}",
            *(
                f"{1e6 * screw_tightening(plug_m, wall_m, rise_k, grow[t], grow[p], grow['mild-steel']):+.0f} um"
                for p in metals
            ),
        )
        for t in metals
    ]
    return table(("", *(f"plug of {metal_short(p)}" for p in metals)), rows)


def ranking(build, workings, id, most=12):
    """Every metal of the tables in the place of one part, the tool worked out anew; best first.

    build: Build. workings: Workings. id: part. most: rows to show; the sheet's own metal is always among them.
    Returns Table.
    """
    if workings.metals is None or id not in workings.metals.ids:
        return table(("metal",), [(NONE,)])
    own = dict(zip(workings.metals.ids, workings.metals.metals))[id]
    ranked = side_by_side(build, workings, id)
    kept = [(n, r) for n, r in enumerate(ranked, 1) if n <= most or r.metal == own]
    way = {"degrees": build.degrees}
    rows = [
        (
            f"{n}",
            metal_name(r.metal) + (" (yours)" if r.metal == own else ""),
            r.stands,
            _kelvins(r.margin_k, build),
            _kelvins(r.drop_k, build),
            say("temp_c", r.tip_c, **way) if np.isfinite(r.tip_c) else "–",
            say("temp_c", r.entry_c, **way) if np.isfinite(r.entry_c) else "–",
            r.why,
        )
        for n, r in kept
    ]
    return table(("", f"{id} of", "stands", "to its limit", "drop", "tip", "at handle", "why"), rows)


def warm_up(build, workings):
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


def joint_as_length(build, workings):
    """Each joint as the length of the hot part's own metal that would drop as much by area.

    build: Build. workings: Workings.
    Returns Table.
    """
    from ...materials.bulk import joint_row

    if workings.metals is None or not workings.metals.joints:
        return table(("joint",), [("The sheet names no joint of two metal parts.",)])
    metal, rows = dict(zip(workings.metals.ids, workings.metals.metals)), []
    for j in workings.metals.joints:
        row = joint_row(j.made)
        hot = min(workings.heat.hottest(j.first), metal_value(metal[j.first], "melting_low_c").value - 1.0)
        k = metal_at(metal[j.first], "conductivity_w_mk", hot).value
        long = [
            say("same_as_m", float(joint_length(k, row[e])), units=build.units, figures=2)
            for e in ("value_w_m2k", "high", "low")
        ]
        rows.append(
            (f"{j.first} to {j.second}, {j.made}", metal_name(metal[j.first]), long[0], f"{long[1]} to {long[2]}")
        )
    return table(("joint", "is like more", "length", "likely range"), rows)
