"""Which log the warm-up page works with: the sheet's own longest, or that of the first demo, said aloud."""

from dataclasses import dataclass, replace

import numpy as np

from ...basics.escape import plain_text
from ...basics.fault import fault
from ...basics.tables import data_folder
from ...chain.heat.part import HeatPart
from ...chain.log.link import LogPart, work_warm_up
from ...chain.workings import links
from ...sheet.build import Build, Log
from ...sheet.choose import FIRST_DEMO, load_chosen
from ...thermal.log.reading import WarmUpLog, read_log
from ..page.lesson import Words
from .numbers import view_of


@dataclass(frozen=True, eq=False)
class PageLog:
    """What the page goes on with: the build, its log, how the probe sat, the whole log fitted, and a sentence."""

    build: Build
    log: WarmUpLog
    at: Log
    part: LogPart
    said: Words


def page_log(build: Build) -> PageLog:
    """The log of the page.

    build: Build of the chosen sheet.
    Returns PageLog: the longest of the sheet's logs that can be fitted; where there is none, the first demo with its
    log.
    """
    told = []
    for one in (build, load_chosen(FIRST_DEMO)):
        part, at, troubles = work_warm_up(one, links(one)[2] if one.wire else None)
        told += [f"A log cannot be used: {plain_text(trouble)}" for trouble in troubles]
        if part is not None:
            told.append(
                f"The page works with the log **{plain_text(part.log.name)}** of the sheet {plain_text(one.name)}"
                + (", an invented one." if one.invented else ".")
                + ("" if one is build else " Your sheet has no log that can be used yet: drop one in below.")
            )
            return PageLog(one, part.log, at, part, Words("  \n".join(told)))
    raise fault("log", FIRST_DEMO, "should have a log that can be fitted.", do="Put data/logs/ back as it was.")


def model_at(build: Build, heat: HeatPart | None, at: Log | None) -> float:
    """Where the model settles at the probe's place.

    build: Build. heat: HeatPart or None. at: Log.
    Returns degC; nan where the probe sat elsewhere than on the tip or on what is melted.
    """
    if heat is None or at is None or at.at_m is None:
        return float("nan")
    roles = {
        p.role for p in build.part if p.from_m is not None and p.to_m is not None and p.from_m <= at.at_m <= p.to_m
    }
    return heat.tip_c if "tip" in roles else heat.work_c if "work" in roles else float("nan")


def measured_heater() -> WarmUpLog:
    """The open data set that comes with the project: a real small heater at half power.  Returns WarmUpLog."""
    return read_log(data_folder() / "measured" / "heater_step.csv")


def rises(log: WarmUpLog, start_c: float, times_s: tuple) -> tuple:
    """Rises of a log at some times, read off between its points.

    log: WarmUpLog. start_c: degC. times_s: s, several.
    Returns tuple of K.
    """
    return tuple(float(np.interp(t, log.time_s, log.temp_c)) - start_c for t in times_s)


def first_part(build: Build, log: WarmUpLog, share: float, at: Log | None = None) -> LogPart | None:
    """A log fitted as if it had been stopped early.

    build: Build, for its coil. log: WarmUpLog. share: of the whole log, above 0 to 1. at: the sheet's Log, which tells
    where the probe sat, or None.
    Returns LogPart, or None where so short a log cannot be fitted.

    >>> heater = measured_heater()
    >>> third = first_part(load_chosen(FIRST_DEMO), heater, 1 / 3)
    >>> bool(third.low_c < heater.temp_c[-1] < third.high_c)
    True
    """
    return view_of(replace(build, at_s=share * log.time_s[-1]), links(build)[2], log, at).part
