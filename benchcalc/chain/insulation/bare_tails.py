"""Tails that nothing sleeves, where they run past the metal of the tool."""

import numpy as np

from ...basics.names import say
from ...materials.bulk import solid_key
from ..heat.tails import joint_place, tails_way
from ..verdict import unknown

WHAT = "insulation on the tails"


def metal_beside(build, coil):
    """Metal parts that the tails pass between the winding and their joint with the cable.

    build: Build (floats). coil: CoilPart.
    Returns (tuple of ids, way in m); nothing and nan where no place of the way is known, or no metal lies along it.
    """
    way_m = tails_way(build, coil)
    if np.ndim(way_m) or not way_m > 0:
        return (), np.nan
    end_m = joint_place(build)
    beside = tuple(
        p.id
        for p in build.part
        if p.role not in ("work", "frame")
        and p.material is not None
        and solid_key(p.material)[0] == "metals"
        and None not in (p.from_m, p.to_m)
        and min(p.to_m, end_m) - max(p.from_m, end_m - way_m) > 0
    )
    return beside, way_m if beside else np.nan


def bare_tails(build, coil, heat):
    """Whether anything keeps the tails off the metal that they pass: not known where the sheet names no sleeve.

    build: Build. coil, heat: parts of the chain, or None.
    Yields Verdict, one at most; none of many designs side by side.
    """
    if coil is None or build.coil.tails.sleeve is not None:
        return
    if any(np.ndim(x) for p in build.part for x in (p.from_m, p.to_m)):
        return
    beside, way_m = metal_beside(build, coil)
    if not beside:
        return
    hot_c = np.nan if heat is None else heat.tails_c
    way = {"units": build.units, "degrees": build.degrees}
    heat_of = f" It meets up to {say('hottest_c', float(hot_c), **way)} there." if np.isfinite(hot_c).all() else ""
    yield unknown(
        WHAT,
        "hottest_c",
        why=(
            f"Nothing on the sheet sleeves the tails, and over {say('length_m', float(way_m), **way)} they run past "
            f"metal ({', '.join(beside)}): bare, they short on it as soon as they touch. Name what lies over them: "
            f"sleeve under [coil.tails].{heat_of}"
        ),
    )
