"""The panel of the warm-up page: slide how much of the log is used, and watch forecast and band move."""

from dataclasses import replace
from typing import Any

from ...basics.names import display, said_number, say
from ...chain.log.end import is_no_end, least_end
from ...chain.log.verdicts import log_checks
from ...chain.workings import links
from ...sheet.build import Build, Log
from ...thermal.log.reading import WarmUpLog
from ...thermal.warmup.formulas import time_near_end
from ..panel.panel import Kept, panel
from ..panel.sliders import Slider, Telling
from .figure import LOG
from .numbers import view_of

SHORTEST_SHARE, CANNOT_TELL = 0.12, "cannot tell yet"


def minutes(time_s):
    """A time in minutes, in words.  time_s: s."""
    return f"{time_s / 60:.1f} min" if time_s < 1e7 else "no end"


def log_says(part, degrees="C"):
    """Headline rows of a fitted log.

    part: LogPart. degrees: "C" or "F".
    Returns list of (word, text).
    """
    way = {"degrees": degrees}

    def spread(key, value, low, high):
        return f"{say(key, value, **way)} ({said_number(key, low, **way)} to {said_number(key, high, **way)})"

    near, early, late = part.forecast.band(lambda s: time_near_end(s) if abs(s.rise_k) > 5 else 0.0)
    slow, low, high = part.forecast.band(lambda s: s.slow_s)
    if part.no_end:
        rows = [("ends at", CANNOT_TELL), ("outer band", f"{say('end_c', least_end(part), **way)} and up")]
        return [*rows, ("5 K from its end", CANNOT_TELL), ("slow constant", CANNOT_TELL)]
    low_end = said_number("end_c", part.wide_low_c, **way)
    rows = [
        ("ends at", spread("end_c", part.end_c, part.low_c, part.high_c)),
        (
            "outer band",
            f"{low_end} and up"
            if is_no_end(part.end_c, part.wide_high_c)
            else f"{low_end} to {said_number('end_c', part.wide_high_c, **way)} ({display('end_c', **way)[0]})",
        ),
        ("5 K from its end", f"{minutes(near)} ({minutes(early)} to {minutes(late)})"),
        ("slow constant", f"{minutes(slow)} ({minutes(low)} to {minutes(high)})"),
    ]
    if part.load_w == part.load_w:
        rows += [
            ("kelvin a watt", say("resistance_k_per_w", part.resistance_k_per_w)),
            ("heat capacity", say("capacity_j_k", part.capacity_j_k)),
        ]
    return rows


def log_panel(build: Build, log: WarmUpLog, at: Log | None = None, **how: Any) -> Kept:
    """Slide the length of log used.

    build: Build of the sheet. log: WarmUpLog. at: the sheet's Log behind it, or None. how: as work_log.
    Returns a widget box, as show.panel.panel.
    """
    coil = links(build)[2] if build.wire else None
    span = float(log.time_s[-1])
    step = max(round(span / 60, 0), 1.0)
    build = replace(build, at_s=span)

    def work(moved):
        return view_of(moved, coil, log, at, quick=True, **how)

    def says(view, moved, full):
        if view.part is None:
            return [("fit", "not possible")]
        part = full if full is not None else view.part
        return log_says(part, moved.degrees)

    def slow(moved):
        view = view_of(moved, coil, log, at, **how)
        return view.part

    def verdicts(view, moved, full):
        return [("warm_up", v) for v in log_checks(moved, full if full is not None else view.part, at)]

    return panel(
        build,
        [Slider("at_s", max(SHORTEST_SHARE * span, 5 * step), span, step, "log used up to", "lasted_s")],
        work,
        LOG,
        Telling(says=says, verdicts=verdicts, slow=slow),
    )
