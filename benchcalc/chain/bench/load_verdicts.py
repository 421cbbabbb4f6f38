"""The verdicts on a load that a page looks at: power against the most, the winding after hours."""

import numpy as np

from ...basics.band import Band
from ...heater import soak
from ...heater.supply import TRIPS
from ..verdict import Limit, judge
from .link import UNMARKED_CLASS


def load_checks(build, supply, load):
    """Verdicts on one load.

    build: Build. supply: SupplyPart. load: LoadPart or None.
    Returns list of Verdict, empty without a load.
    """
    if load is None:
        return []
    made = [
        judge(
            "power, against the most this supply can give",
            "load_w",
            load.load_w,
            Limit(supply.most_power_w, "at most", "maximum power transfer", advice=True),
            why="Near the most, as much heat is made inside as outside.",
        )
    ]
    if np.isfinite(load.winding_c):
        limit, row = soak.class_limit(int(build.soak.winding_class or UNMARKED_CLASS))
        made.append(
            judge(
                "winding after hours at this load",
                "winding_c",
                load.winding_c,
                Limit(limit, "at most", row["source_id"]),
                why="The soak test's rise, its copper part taken with the square of the current.",
                band=Band(load.winding_c, build.room.ambient_c + load.low_k, build.room.ambient_c + load.high_k),
            )
        )
    if supply.kind in TRIPS and load.limited:
        asked = supply.open_in_use_v / (supply.source_in_use_ohm + load.load_ohm)
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
