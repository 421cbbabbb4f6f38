"""Which log the warm-up page works with: the sheet's own longest, or that of the first demo, named wherever it
stands."""

from dataclasses import dataclass, replace

import numpy as np

from ...basics.escape import plain_text
from ...basics.fault import fault
from ...basics.tables import data_folder
from ...chain.as_told import as_told
from ...chain.heat.part import HeatPart
from ...chain.log.by_hand import guess_of
from ...chain.log.end import no_end_words
from ...chain.log.link import LogPart, work_warm_up
from ...chain.log.verdicts import log_checks
from ...chain.workings import links
from ...sheet.build import Build, Log
from ...sheet.choose import FIRST_DEMO, load_chosen
from ...studies.spread_in_time import SpreadInTime
from ...thermal.log.reading import WarmUpLog, read_log
from ..heat.panel import time_panel
from ..heat.spread_tables import NoSpread, ready_times
from ..page.lesson import Words
from ..page.table import Table, captioned
from ..panel.panel import Kept
from .numbers import of_demo, view_of
from .panel import log_panel
from .tables import answers

NO_LOG = (
    "Your sheet has no log yet. Picture and numbers here are what its parts list promises; the log further down is "
    "lent by a demo, and all that rests on it says so."
)
NO_GUESS = "Between these two times the rise does not slow down: two readings tell no end, and a longer log is wanted."
EIGHT_MIN_S = 480.0


@dataclass(frozen=True, eq=False)
class PageLog:
    """What the page goes on with: the build that the log belongs to, its log, how the probe sat, the whole log fitted,
    a sentence, whether it is the sheet's own, and a line for the top where it is not."""

    build: Build
    log: WarmUpLog
    at: Log
    part: LogPart
    said: Words
    own: bool
    top: Words

    def named(self, thing):
        """A table that rests on the log, with whose log it is where it is lent.  thing: Table.  Returns Table."""
        return captioned(of_demo(self.build, self.log), thing)

    @property
    def whose(self):
        """Whose readings what follows is made of.  Returns Words."""
        return Words(f"*{of_demo(self.build, self.log) or f'Readings of {plain_text(self.log.name)}.'}*")

    @property
    def own_part(self):
        """The fitted log where it is of the sheet's own tool, else None."""
        return self.part if self.own else None

    @property
    def step_s(self):
        """Time of the first of two readings for the guess by hand: a slow constant, in whole minutes, or what the log
        leaves room for, s."""
        room_min = int(self.log.time_s[-1] / 2 // 60)
        return 60.0 * max(1, min(round(self.part.forecast.shape.slow_s / 60), room_min))

    def by_the_end(self, made):
        """What rests on the end of the log, or why there is none to rest on.

        made: function without arguments -> what the page shows.
        """
        return Words(no_end_words(self.part, self.build.degrees)) if self.part.no_end else made()

    def settled_k(self, rises_k):
        """Settled rise by the guess from two readings, K; nan where they do not slow down, or lead past what the tool's
        metal stands.  rises_k: at step_s and at twice that, K over the start."""
        start_c = self.part.forecast.shape.start_c
        end_c = guess_of(start_c, self.step_s, rises_k).end_c
        told = end_c < self.part.most_c and not self.part.spoilt
        return end_c - start_c if told else float("nan")

    def by_two_readings(self, rises_k, made):
        """What rests on the guess from two readings, or why none does.  rises_k: as settled_k. made: as by_the_end."""
        if self.part.spoilt:
            return self.by_the_end(made)
        return made() if self.settled_k(rises_k) > 0 else Words(NO_GUESS)

    def verdicts(self):
        """The verdicts that the log allows, a lent demo named.  Returns list of Verdict."""
        found = [("warm_up", v) for v in log_checks(self.build, self.part, self.at)]
        return [v for _, v in as_told(self.build, found, None)]


def page_log(build: Build) -> PageLog:
    """The log of the page.

    build: Build of the chosen sheet.
    Returns PageLog: the longest of the sheet's logs that can be fitted; where there is none, the first demo with its
    log.
    """
    told = []
    for one in (build, replace(load_chosen(FIRST_DEMO), lent=FIRST_DEMO)):
        part, at, troubles = work_warm_up(one, links(one)[2] if one.wire else None)
        told += [f"A log cannot be used: {plain_text(trouble)}" for trouble in troubles]
        if part is not None:
            own, name = one is build, plain_text(part.log.name)
            told.append(
                f"The page works with the log **{name}** of the sheet {plain_text(one.name)}"
                + (", an invented one." if one.invented else ".")
                if own
                else f"The log below, **{name}**, is an invented one, lent by the demo {one.lent}. Your sheet has no "
                "log that can be used yet: drop one in further down."
            )
            return PageLog(one, part.log, at, part, Words("  \n".join(told)), own, Words("" if own else NO_LOG))
    raise fault("log", FIRST_DEMO, "should have a log that can be fitted.", do="Put data/logs/ back as it was.")


def warm_up_panel(build: Build, page: PageLog) -> Kept:
    """The panel that the page begins with: the sheet's own log, or without one its own tool in its first hour.

    build: Build of the sheet. page: PageLog of it.
    Returns a widget box, as show.panel.panel.
    """
    return log_panel(page.build, page.log, page.at) if page.own else time_panel(build, EIGHT_MIN_S)


def warm_up_answers(build: Build, page: PageLog, spread: SpreadInTime | NoSpread) -> Table:
    """What the page answers first: the sheet's own log, or without one when its own tool is ready by its parts list.

    build: Build of the sheet. page: PageLog of it. spread: SpreadInTime or NoSpread of it.
    """
    return answers(page.part, build.degrees) if page.own else ready_times(build, spread)


def lent_panel(page: PageLog) -> Kept | Words:
    """The lent log to play with; where the sheet has one of its own, it stands at the top of the page.

    page: PageLog.
    """
    if page.own:
        return Words("*Its picture is the one at the top of this page.*")
    return log_panel(page.build, page.log, page.at)


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
