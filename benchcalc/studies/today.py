"""Bands of today: the mains as it stands today, beside the mains of any day."""

from dataclasses import replace
from types import MappingProxyType

import numpy as np

from ..basics.band import Band, band_of
from ..chain.heat.link import nominal_heat
from ..chain.workings import SAMPLES, Workings, chain, drawn_builds
from ..sheet.build import Build
from ..sheet.defaults import default

PATHS = ("coil.coil_w", "heat.tip_c", "heat.wire_c", "heat.entry_c", "heat.grip_c", "heat.work_c")


def today(build: Build) -> Build:
    """The build on the day its supply was read: the mains moves less within a day than from day to day.

    build: Build.
    Returns Build; unchanged where the mains does not matter, or the sheet says more of it.

    >>> from benchcalc import load_chosen
    >>> today(load_chosen("insert_press")).known["supply.mains"].high < 1.05
    True
    """
    mains, row = build.known.get("supply.mains"), default("supply.mains_today")
    if mains is None or mains.how != "assumed" or build.supply.kind != "transformer":
        return build
    narrow = replace(mains, low=row["low"], high=row["high"], text=row["note"], spread=row["spread"])
    return replace(build, known=MappingProxyType(dict(build.known) | {"supply.mains": narrow}))


def bands_today(build: Build, workings: Workings, samples: int = SAMPLES) -> dict[str, Band]:
    """Bands of the coil's power and of the temperatures on the day that the supply was read.

    build: Build (floats). workings: its Workings. samples: number of them.
    Returns dict of path -> Band, for the paths of PATHS that this tool has; the other inputs are drawn as for any day.
    """
    if workings.heat is None or workings.heat.refused:
        return {}
    drawn = chain(drawn_builds(today(build), workings.heat, workings.wire, samples), nominal_heat(workings.heat))
    found = {}
    for path in PATHS:
        link, field = path.split(".")
        nominal = getattr(workings.parts[link], field)
        if np.isfinite(nominal):
            many = np.nan if getattr(drawn, link) is None else getattr(getattr(drawn, link), field)  # nan: not known
            found[path] = band_of(nominal, np.broadcast_to(many, samples))
    return found
