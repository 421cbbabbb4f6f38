"""The verdicts on parts that are not of metal: wood chars, wax and plastic melt, whatever role they have."""

import numpy as np

from ...basics.band import band_of
from ...basics.fault import Fault
from ...basics.tables import one, rows, source_words
from ...materials.bulk import solid
from ...materials.insulation import rating
from ...sheet.change import item
from ..verdict import Limit, judge, unknown

HOTTEST = "heat.hottest."  # path of the band of a part's hottest place, its id behind


def part_bands(heat, drawn, n):
    """Bands of the hottest places of all parts.

    heat, drawn: HeatPart of the build and of its samples, or None. n: number of samples.
    Returns dict: path -> Band.
    """
    if heat is None or drawn is None or heat.part_ids != drawn.part_ids:
        return {}
    pairs = zip(heat.part_ids, heat.part_hottest_c, drawn.part_hottest_c)
    return {f"{HOTTEST}{id}": band_of(h, np.broadcast_to(d, (n,))) for id, h, d in pairs}


def solid_checks(build, heat, bands):
    """Every part that is not of metal, at its hottest place, against what its own material stands.

    build: Build. heat: HeatPart. bands: path -> Band.
    Returns list of Verdict.  A wooden handle is judged where it meets the tube, and what is melted by its job.
    """
    made = []
    for id, material, hottest_c in solid_parts(build, heat):
        what, found = f"{material.name}, the {id}", solid_limit(material)
        if found is None:
            made.append(unknown(what, "hottest_c", why="The tables hold no temperature that this material stands."))
            continue
        limit_c, source_id, memory, why = found
        source = source_words(source_id) + ("; check the maker's sheet" if memory else "")
        limit = Limit(limit_c, "at most", source)
        made.append(judge(what, "hottest_c", hottest_c, limit, why=why, band=bands.get(f"{HOTTEST}{id}")))
    return made


def solid_parts(build, heat):
    """The parts that are not of metal and that nothing else judges.

    build: Build. heat: HeatPart.
    Returns list of (id, Solid, hottest place in degC).
    """
    found = []
    for id, hottest in zip(heat.part_ids, heat.part_hottest_c):
        part = item(build.part, id)
        if part.material is None or part.role == "work":
            continue
        material = solid(part.material)
        bored = part.role == "handle" and not np.all(np.isnan(heat.bore_c))
        if material.kind != "metal" and not (bored and material.family == "wood"):
            found.append((id, material, hottest))
    return found


def solid_limit(material):
    """The lowest limit of a material that is no metal.

    material: Solid.
    Returns (degC, source's id, whether from memory, why), None where the tables hold none.
    """
    found = []
    if material.family == "wood":
        row = one("wood_limits", "key", "long_term_c")
        why = "Wood kept hotter than this for long chars slowly and can light itself."
        found.append((row["value"], row["source_id"], row["basis"] == "memory", why))
    for row in rows("solid_values"):
        if row["key"] == material.key and row["quantity"] == "melting_low_c":
            end = row["value"] if row["low"] is None else row["low"]
            found.append((end, row["source_id"], row["basis"] == "memory", "From here on it softens or melts."))
    try:
        r = rating(material.key)
    except Fault:
        r = None
    if r is not None and np.isfinite(r.limit_c):
        found.append((r.limit_c, r.source_id, r.basis == "memory", "Its rating for long service, the cautious end."))
    return min(found, default=None)
