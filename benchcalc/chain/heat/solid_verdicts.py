"""The verdicts on parts that are not of metal: wood chars, wax and plastic melt, whatever role they have."""

import numpy as np

from ...basics.fault import Fault
from ...basics.tables import one, rows, source_words
from ...materials.bulk import solid
from ...materials.insulation import rating
from ...sheet.change import item
from ..verdict import Limit, judge, unknown


def solid_checks(build, heat):
    """Every part that is not of metal, at its hottest place, against what its own material stands.

    build: Build. heat: HeatPart.
    Returns list of Verdict.  A wooden handle is judged where it meets the tube, and what is melted by its job.
    """
    made = []
    for id, hottest in zip(heat.part_ids, heat.part_hottest_c):
        part = item(build.part, id)
        if part.material is None or part.role == "work":
            continue
        material = solid(part.material)
        bored = part.role == "handle" and not np.all(np.isnan(heat.bore_c))
        if material.kind == "metal" or bored and material.family == "wood":
            continue
        made.append(_one(id, material, hottest))
    return made


def _one(id, material, hottest_c):
    what, found = f"{material.name}, the {id}", _limit(material)
    if found is None:
        return unknown(what, "hottest_c", why="The tables hold no temperature that this material stands.")
    limit_c, source, why = found
    return judge(what, "hottest_c", hottest_c, Limit(limit_c, "at most", source), why=why)


def _limit(material):
    """(degC, source in words, why) of the lowest limit of a material, None where the tables hold none."""
    found = []
    if material.family == "wood":
        row = one("wood_limits", "key", "long_term_c")
        why = "Wood that stays hotter than this for long chars slowly and can light itself."
        found.append((row["value"], source_words(row["source_id"]), why))
    for row in rows("solid_values"):
        if row["key"] == material.key and row["quantity"] == "melting_low_c":
            from_memory = "; check the maker's sheet" if row["basis"] == "memory" else ""
            end = row["value"] if row["low"] is None else row["low"]
            found.append((end, source_words(row["source_id"]) + from_memory, "From here on it softens or melts."))
    try:
        r = rating(material.key)
    except Fault:
        r = None
    if r is not None and np.isfinite(r.limit_c):
        found.append((r.limit_c, source_words(r.source_id), "Its rating for long service, the cautious end."))
    return min(found, default=None)
