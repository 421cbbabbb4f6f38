"""The verdicts on a warm-up log: is it long enough, and is the tool hot enough, or too hot, by what was measured."""

from dataclasses import replace

import numpy as np

from ...basics.band import Band
from ...basics.tables import source_words
from ...sheet.build import Build, Log
from ...sheet.defaults import default
from ...sheet.roles import parts_with_role
from ...thermal.warmup.forecast import LONG_ENOUGH, has_no_end
from ..heat.part import HeatPart
from ..heat.verdicts import job_row
from ..verdict import Limit, judge, unknown
from .link import UNTOLD, LogPart, is_attached, work_warm_up
from .two_days import mains_of, mains_words, two_days, two_days_words

NO_END = "The log cannot tell yet where it ends."


def log_checks(
    build: Build, part: LogPart | None, at: Log | None = None, troubles: tuple = (), heat: HeatPart | None = None
) -> list:
    """Verdicts that a fitted log allows.

    build: Build. part: LogPart, or None. at: the sheet's Log behind it, or None. troubles: sentences on logs that
    cannot be used. heat: HeatPart of the sheet at its own volts, or None.
    Returns list of Verdict.
    """
    if part is None:
        return [unknown("warm-up log", "lasted_s", why=told) for told in troubles]
    made = [
        judge(
            "length of the log",
            "lasted_s",
            part.lasted_s,
            Limit(LONG_ENOUGH * part.slow_s, "at least", source_words("OWN-JUDGEMENT"), advice=True),
            why="Two slow time constants: before that, the end is told by the curve's first bend alone.",
        )
    ]
    job = job_row(build.want.job) if build.want.job else None
    if job is None or not _at_the_work(build, at):
        return made
    made.append(
        _at_end(
            part,
            "hot enough for the job, by the log",
            Limit(job["low_c"], "at least", source_words(job["source_id"]), advice=True),
            f"Working range for: {job['job']}, its lower end; {_attachment(at)}",
        )
    )
    mains = mains_of(build, at)
    why = f"Never above this for: {job['job']}. The log says where it settled on its day ({mains_words(mains)})."
    why += "" if is_attached(at) else f" {_attachment(at).capitalize()}"
    opposite = two_days_words(build, two_days(build, heat, part, at, job["never_c"]))
    limit = Limit(job["never_c"], "at most", source_words(job["source_id"]))
    left = _at_end(part, "left on, by the log", limit, f"{why} {opposite}".strip())
    unsaid = mains is None or left.state == "not known"
    made.append(left if unsaid else replace(left, note=mains_words(mains)))
    return made


def _attachment(at):
    """What of the probe's attachment is counted, a sentence without its capital."""
    if is_attached(at):
        return "the probe's attachment is counted in."
    hidden = default(f"sensor.low_share/{UNTOLD}")["high"]
    return f"how the probe sits is not told, so up to {hidden:.0%} of the rise may hide: write attached under [[log]]."


def _at_end(part, what, limit, why):
    """Where a log ends against a limit; where it cannot tell yet, only what it passes even at its lowest counts."""
    if has_no_end(part.end_c, part.high_c):
        least_c = min(part.metal_low_c, part.metal_c)
        if np.isfinite(least_c) and least_c > limit.value:
            return judge(what, "metal_c", least_c, limit, why=f"{why} This is the least: it cannot tell yet how far.")
        return unknown(what, "metal_c", why=f"{NO_END} {why}", source=limit.source, advice=limit.advice)
    band = Band(part.metal_c, min(part.metal_low_c, part.metal_c), max(part.metal_high_c, part.metal_c))
    return judge(what, "metal_c", part.metal_c, limit, why=why, band=band)


def opposite_words(build: Build, workings) -> str:
    """Why a sheet and its log ask for opposite things of the tip, "" where they do not.

    build: Build (floats). workings: Workings of it.
    """
    if not build.log or not build.want.job:
        return ""
    part, at, _ = work_warm_up(build, workings.coil)
    job = job_row(build.want.job)
    if part is None or job is None or not _at_the_work(build, at):
        return ""
    return two_days_words(build, two_days(build, workings.parts.get("heat"), part, at, job["never_c"]))


def _at_the_work(build, at):
    """Whether the probe sat on the tip, or on what is melted."""
    if at is None or at.at_m is None:
        return False
    ends = [
        (p.from_m, p.to_m)
        for p in parts_with_role(build, "tip", "work", "cup")
        if p.from_m is not None and p.to_m is not None
    ]
    return any(a <= at.at_m <= b for a, b in ends)
