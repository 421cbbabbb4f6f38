"""Tables of how metal parts meet: joints, joints as a length of metal, press fits and set screws."""

import numpy as np

from ...basics.names import say
from ...materials.bulk import joint_row
from ...materials.metals import metal_at, metal_name, metal_short, metal_value
from ...thermal.surfaces.by_hand import joint_length
from ...thermal.surfaces.press_fit import screw_tightening
from ..page.table import table
from .tables import kelvins


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
                kelvins(j.drop_k, build),
                f"{j.share:.1%}" if np.isfinite(j.share) else "–",
                felt,
            )
        )
    return table(("joint", "watts that cross", "drop", "share of the rise", "would better contact be felt?"), rows)


def joint_as_length(build, workings):
    """Each joint as the length of the hot part's own metal that would drop as much by area.

    build: Build. workings: Workings.
    Returns Table.
    """
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
