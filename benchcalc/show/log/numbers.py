"""The numbers behind the picture of a log: readings, fitted curve with its band, where it ends, residuals."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from ...basics.fault import Fault
from ...basics.names import say
from ...chain.log.end import first_to_melt, is_no_end, least_end
from ...chain.log.link import LogPart, only_told, work_log
from ...chain.wire.coil import CoilPart
from ...sheet.build import Build, Log
from ...thermal.log.reading import WarmUpLog
from ...thermal.warmup.curve import HOTTEST_C
from ...thermal.warmup.forecast import FEW
from ..drawing.style import coarse_up


@dataclass(frozen=True, eq=False)
class LogView:
    """A log with its fit at one setting.  part: LogPart, or None where said tells why not.  again(quick) works it
    out.
    """

    log: WarmUpLog
    part: LogPart | None
    said: str
    again: object


@dataclass(frozen=True, eq=False)
class LogNumbers:
    """readings: time_s, temp_c, used. line: time_s with fit, low, high. end: (nominal, low, high, wide_low,
    wide_high) or ().
    rest: time_s and residual of the readings used. scatter_k: of them. ends: whether the band is the full one.
    steady: whether the log ends at full power. said: where there is nothing to draw. lent: whose log it is where it is
    a demo's."""

    frame: tuple
    time_s: np.ndarray
    temp_c: np.ndarray
    used: np.ndarray
    line_s: np.ndarray
    line_c: np.ndarray
    low_c: np.ndarray
    high_c: np.ndarray
    end: tuple
    rest_s: np.ndarray
    rest_k: np.ndarray
    scatter_k: float
    form: str
    ends: bool
    steady: bool
    degrees: str
    said: str
    lent: str = ""

    @property
    def no_end(self):
        """Whether the readings used cannot tell yet where it ends."""
        return bool(self.end) and is_no_end(self.end[0], self.end[2])


def view_of(build: Build, coil: CoilPart | None, log: WarmUpLog, at: Log | None = None, **how: Any) -> LogView:
    """A log, fitted up to the time that a page looks at.

    build: Build; its at_s is the length used (None: all). coil: part of the chain. log: WarmUpLog. at: the sheet's Log.
    how: as work_log.
    Returns LogView.
    """

    def again(quick=False):
        part = work_log(coil, log, until_s=build.at_s, at=at, quick=quick, **how)
        return part if how.get("cooling") else only_told(part, first_to_melt(build))

    try:
        return LogView(log, again(quick=how.pop("quick", False)), "", again)
    except Fault as told:
        return LogView(log, None, str(told), again)


def log_numbers(build, view, rest=True):
    """What the picture shows.  build: Build, for its degrees. view: LogView. rest: bands in full.  Returns
    LogNumbers.
    """
    log, part = view.log, view.part
    if part is not None and rest:
        part = view.again()
    span = float(log.time_s[-1])
    tail = log.temp_c[log.time_s > 0.8 * span]
    rising = (
        tail.max() - tail[0] > 0.05 * np.ptp(log.temp_c) + 2 * log.resolution_k
    )  # not yet at its end: leave room to go on
    far = 60 * coarse_up((2.5 if rising else 1.15) * span / 60)
    low = min(0.0, float(np.floor(log.temp_c.min() / 20) * 20))
    top = coarse_up((1.8 if rising else 1.22) * float(log.temp_c.max()))
    frame = (log.name, far, low, top, build.degrees)
    if part is None:
        nothing = np.zeros(0)
        return LogNumbers(
            frame,
            log.time_s,
            log.temp_c,
            np.zeros(log.time_s.size, bool),
            *[nothing] * 4,
            (),
            nothing,
            nothing,
            0.0,
            "",
            False,
            True,
            build.degrees,
            view.said,
            of_demo(build, log),
        )
    found, data = part.forecast, part.forecast.data
    line_s = np.linspace(0.0, far, 160)
    line, low_c, high_c = found.curves(line_s)
    steady = data.steps[-1][1] == max(s for _, s in data.steps)
    return LogNumbers(
        frame,
        log.time_s,
        log.temp_c,
        log.time_s <= data.time_s[-1],
        line_s,
        line,
        low_c,
        high_c,
        _ends(part),
        data.time_s,
        found.best.residual_k,
        found.best.scatter_k,
        found.best.form,
        rest,
        steady,
        build.degrees,
        "",
        of_demo(build, log),
    )


def _ends(part):
    """Nominal, low and high end, and the outer ones, degC; open above where none is told.  part: LogPart."""
    if part.no_end:
        return HOTTEST_C, least_end(part), HOTTEST_C, least_end(part), HOTTEST_C
    return part.end_c, part.low_c, part.high_c, part.wide_low_c, part.wide_high_c


def of_demo(build, log):
    """Whose log it is where a demo lends it, in words; "" for another.  build: Build of the tool. log: WarmUpLog."""
    lent = build.lent and log.name in [one.file for one in build.log]
    return f"Log of the demo {build.lent}, not of your tool." if lent else ""


def log_caption(n):
    """The picture in words.  n: LogNumbers."""
    if n.said:
        return f"{n.time_s.size} readings; no fit: {n.said}"
    way = {"degrees": n.degrees}
    count = int(n.used.sum())
    used = f"{count} of {n.time_s.size} readings used, up to {n.rest_s[-1] / 60:.1f} min"
    form = {"one": "one time constant", "two": "two time constants"}.get(n.form, "one time constant after a dead time")
    form += f", though fewer than {FEW} readings cannot tell the form" if count < FEW else ""
    told = (
        f"{n.lent + ' ' if n.lent else ''}Temperature over time: {used}; fitted with {form}; below, the residuals, "
        f"scatter {say('rise_k', n.scatter_k, **way)}."
    )
    if n.end:
        end, low, high, wide_low, wide_high = n.end
        if n.no_end:
            return f"{told} Where it ends it cannot tell yet: {say('temp_c', wide_low, **way)} and up."
        told += (
            f" {'It ends' if n.steady else 'At full power it ends'} at {say('temp_c', end, **way)}, 95 % between "
            f"{say('temp_c', low, **way)} and {say('temp_c', high, **way)}"
            " if the form is right; if a slow part hides or a hot skin sheds more, "
            f"{say('temp_c', wide_low, **way)} to {say('temp_c', wide_high, **way)}."
        )
    return told
