"""Why a tool corrected by a log settles elsewhere than the log did: the day's volts are not those of the sheet."""

from dataclasses import dataclass

import numpy as np

from ..basics.band import Band
from ..basics.fault import Fault
from ..basics.names import said_number, say
from ..chain.log.link import work_warm_up
from ..chain.log.two_days import MAINS
from ..chain.workings import chain
from ..sheet.learned import of_that_day
from .calibrate.measured_watts import common, log_watts
from .calibrate.probe import part_at

NEAR_K = 5.0  # two days that part by less are alike: a bead tells no better (data/instruments.csv)


@dataclass(frozen=True)
class ThatDay:
    """The corrected tip on two days.  log: readings it was learned from; sheet_c: at the volts of the sheet's readings;
    day_c: with the mains and the room of the day of the log; mains: Band of the day's, over the sheet's; read_c, at_m:
    where the log itself ends, as its probe reads, and where that sat; metal: the metal there, its low and high end, by
    how the probe sat; nan where it does not tell. model: what the sheet, with the mains of that day, says of the metal
    there, its low and high end, nan where the place is not told. watts, by_watts: the watts measured that day, W, and
    the mains that they tell, their low and high end, or None."""

    log: str
    sheet_c: float
    day_c: float
    mains: Band
    read_c: float
    at_m: float
    metal: tuple
    model: tuple = (float("nan"),) * 2
    watts: tuple | None = None
    by_watts: tuple | None = None

    @property
    def parted(self):
        """Whether log and sheet do not fit: where the log ends lies outside what the sheet says of its day."""
        return self.metal[1] < self.model[0] or self.metal[0] > self.model[1]  # nan parts nothing

    @property
    def watts_part(self):
        """Whether the watts measured that day tell other mains than those that fit its readings best."""
        return self.by_watts is not None and not self.by_watts[0] <= self.mains.nominal <= self.by_watts[1]


def that_day_of(build, workings):
    """The two days of a sheet that keeps what a log taught.

    build: Build (floats), with what was learned. workings: Workings of it.
    Returns ThatDay, None where nothing was learned of the day's mains, or both days end alike and the log fits them.
    """
    entry = next((e for e in build.learned if e.that_day and e.input), None)
    heat = workings.parts.get("heat")
    if entry is None or heat is None or np.ndim(heat.tip_c) or not np.isfinite(heat.tip_c):
        return None
    day = of_that_day(build)
    mains = next((e for e in day.learned if e.path == MAINS), None)
    there = chain(day).heat
    if mains is None or there is None or not np.isfinite(there.tip_c):
        return None
    part, at, _ = work_warm_up(build, workings.coil)
    own = part is not None and at is not None and at.file is not None and at.file in (mains.log or "")
    at_m = at.at_m if own and at.at_m is not None else float("nan")
    watts = common([log_watts(build, i) for i, one in enumerate(build.log) if one.file and one.file in mains.log])
    found = ThatDay(
        mains.log,
        float(heat.tip_c),
        float(there.tip_c),
        Band(mains.value, mains.low, mains.high),
        part.end_c if own else float("nan"),
        at_m,
        (part.metal_low_c, part.metal_high_c) if own else (float("nan"),) * 2,
        _of_that_day_c(there, day.room.ambient_c, at_m, (heat, build.room.ambient_c, workings.bands.get("heat.tip_c"))),
        watts,
        None if watts is None else tuple(build.supply.mains * (w / float(workings.coil.coil_w)) ** 0.5 for w in watts),
    )
    return found if found.parted or abs(found.day_c - found.sheet_c) >= NEAR_K else None


def _of_that_day_c(there, room_c, at_m, sheet):
    """What the sheet says of the metal under a log's probe on the log's day, degC (low, high), nan where it cannot.

    there: HeatPart of that day, in a room of room_c. at_m: place of the probe. sheet: (HeatPart, room, Band of its tip)
    at its own volts.
    Method: the rise there with that day's mains; its band is as wide, as a share of the rise, as that of the tip at the
    sheet's own volts, and NEAR_K on either side where that is less.
    """
    heat, own_room_c, band = sheet
    try:
        on = part_at(there.model.tool, at_m).id if np.isfinite(at_m) else None
    except Fault:
        on = None
    if on is None:
        return (float("nan"),) * 2
    rise = float(np.interp(at_m, *there.model.along(on, there.temps_c))) - room_c
    ends = (1.0, 1.0) if band is None else [(x - own_room_c) / (heat.tip_c - own_room_c) for x in (band.low, band.high)]
    low, high = (room_c + rise * float(share) for share in ends)
    return min(low, room_c + rise - NEAR_K), max(high, room_c + rise + NEAR_K)


def that_day_words(build, workings):
    """The two days in a sentence or three, "" where there is nothing to tell.  build, workings: as that_day_of."""
    found = that_day_of(build, workings)
    if found is None:
        return ""
    way = {"degrees": build.degrees}
    sheet, day = (say("tip_c", x, **way) for x in (found.sheet_c, found.day_c))
    share = f"{found.mains.nominal:.0%} ({found.mains.low:.0%} to {found.mains.high:.0%})"
    told = (
        f"Two days, one tool: on the day of {found.log}, with the mains at {share} of the sheet's readings, its tip "
        f"settles at {day}; at the sheet's own volts, as here, at {sheet}."
    )
    if np.isfinite(found.read_c):
        where = "" if np.isnan(found.at_m) else f" {say('length_m', found.at_m, units=build.units)} from the tip"
        told += f" The log itself ends at {say('end_c', found.read_c, **way)}, as its probe{where} reads"
        low, high = (say("tip_c", x, **way) for x in found.metal)
        told += f"; by how that sits the metal there is at {low} to {high}."
    if found.parted:
        low, high = (say("tip_c", x, **way) for x in found.model)
        return (
            f"{told} Log and sheet do not fit: with the mains of that day the sheet says {low} to {high} there. "
            "The log may be of the tool before a change that the sheet has since: then read a new one. "
            "If nothing was changed, look at the place, the attachment and the coil that the sheet tells."
        )
    told += _watts_words(found)
    return told if np.isnan(found.model[0]) or found.watts_part else f"{told} Both hold, each for its volts."


def _watts_words(found):
    """What the watts measured that day tell of its mains, and whether that agrees.  found: ThatDay."""
    if found.watts is None:
        return ""
    (low_w, high_w), (low, high) = found.watts, found.by_watts
    watts = f"{said_number('coil_w', low_w)} to {say('coil_w', high_w)}"
    told = f" The {watts} measured that day tell {low:.1%} to {high:.1%} for the mains"
    if not found.watts_part:
        return f"{told}, which agrees."
    return (
        f"{told}: this and the {found.mains.nominal:.1%} that fit its readings best disagree. Look at "
        "where the volts were read and at how the probe sits."
    )
