"""The verdicts on a load that a page looks at: heat inside against outside, the winding after hours."""

from dataclasses import replace

import numpy as np

from ...basics.band import Band
from ...heater import soak
from ...heater.supply import TRIPS, load_current
from ...materials.metals import metal_value
from ..verdict import Limit, judge, unknown
from .link import UNMARKED_CLASS


def winding_melts_c():
    """Where a winding's copper begins to melt, by its cautious end: past it no temperature is told.  Returns degC."""
    return metal_value("copper", "melting_low_c").low


UNPROVEN = " No soak has shown how warm its winding gets: this is what sets a transformer on fire, fuse or none."


def _unproven(build, load):
    """Whether the heat is inside a transformer whose winding nobody has soaked."""
    return build.supply.kind == "transformer" and not np.isfinite(load.winding_c)


def load_checks(build, supply, load):
    """Verdicts on one load.

    build: Build. supply: SupplyPart. load: LoadPart or None.
    Returns list of Verdict, empty without a load.
    """
    if load is None:
        return []
    made = []
    if supply.source_in_use_ohm > 0:  # of a brick without sag the line says nothing of its heat
        made.append(
            judge(
                "heat inside the supply, against the load's",
                "source_loss_w",
                load.source_loss_w,
                Limit(load.load_w, "at most", "maximum power transfer", advice=not _unproven(build, load)),
                why="Past the summit of its power a supply makes more heat inside than outside."
                + (UNPROVEN if _unproven(build, load) else ""),
            )
        )
    if build.supply.kind == "transformer" and not np.isfinite(load.winding_c):
        made.append(
            unknown(
                "supply's winding after hours at this load",
                "winding_c",
                why="No soak test, or one too short: volts that hold up say nothing of hours.",
            )
        )
    elif np.isfinite(load.winding_c):
        limit, row = soak.class_limit(int(build.soak.winding_class or UNMARKED_CLASS))
        found = judge(
            "supply's winding after hours at this load",
            "winding_c",
            load.winding_c,
            Limit(limit, "at most", row["source_id"]),
            why="The soak test's rise, its copper part taken with the square of the current.",
            band=Band(load.winding_c, build.room.ambient_c + load.low_k, build.room.ambient_c + load.high_k),
        )
        made.append(replace(found, melts_c=winding_melts_c()))
    if supply.kind in TRIPS and load.limited:
        asked = load_current(supply.open_in_use_v, supply.source_in_use_ohm, load.load_ohm)
        made = [
            judge(
                "current that this load asks for",
                "load_a",
                asked,
                Limit(supply.limit_a, "at most", "your own sheet"),
                why="It trips: the load gets nothing until it is taken off or made of more ohms.",
            )
        ]
    return made
