"""The verdicts on a warm-up log: is it long enough, and is the tool hot enough, or too hot, by what was measured."""

from dataclasses import replace

from ...basics.band import Band
from ...basics.tables import source_words
from ...sheet.build import Build, Log
from ...sheet.defaults import default
from ...sheet.roles import parts_with_role
from ...thermal.warmup.forecast import LONG_ENOUGH
from ..heat.part import HeatPart
from ..heat.verdicts import job_row
from ..verdict import Limit, judge, unknown
from .end import hottest_read, no_end_words
from .link import UNTOLD, LogPart, is_attached, work_warm_up
from .two_days import mains_of, mains_words, two_days, two_days_words


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
    made = [_length(part, build.degrees)]
    job = job_row(build.want.job) if build.want.job else None
    if job is None or not _at_the_work(build, at):
        return made
    made.append(
        _at_end(
            part,
            "hot enough for the job, by the log",
            Limit(job["low_c"], "at least", source_words(job["source_id"]), advice=True),
            f"Working range for: {job['job']}, its lower end; {_attachment(at)}",
            build.degrees,
        )
    )
    mains = mains_of(build, at)
    why = f"Never above this for: {job['job']}. The log says where it settled on its day ({mains_words(mains)})."
    why += "" if is_attached(at) else f" {_attachment(at).capitalize()}"
    opposite = two_days_words(build, two_days(build, heat, part, at, job["never_c"]))
    limit = Limit(job["never_c"], "at most", source_words(job["source_id"]))
    left = _at_end(part, "left on, by the log", limit, f"{why} {opposite}".strip(), build.degrees)
    unsaid = mains is None or left.state == "not known"
    made.append(left if unsaid else replace(left, note=mains_words(mains)))
    return made


def _attachment(at):
    """What of the probe's attachment is counted, a sentence without its capital."""
    if is_attached(at):
        return "the probe's attachment is counted in."
    hidden = default(f"sensor.low_share/{UNTOLD}")["high"]
    return f"how the probe sits is not told, so up to {hidden:.0%} of the rise may hide: write attached under [[log]]."


def _length(part, degrees):
    """Whether a log is long enough."""
    what, source = "length of the log", source_words("OWN-JUDGEMENT")
    if not part.slow_s > 0:  # nan is not
        return unknown(what, "lasted_s", why=no_end_words(part, degrees), source=source, advice=True)
    return judge(
        what,
        "lasted_s",
        part.lasted_s,
        Limit(LONG_ENOUGH * part.slow_s, "at least", source, advice=True),
        why="Two slow time constants: before that, the end is told by the curve's first bend alone.",
    )


def _at_end(part, what, limit, why, degrees):
    """Where a log ends against a limit; where it cannot tell, only what it passes even at its lowest, or has been read,
    counts."""
    if part.no_end:
        least_c, said = part.metal_low_c, "This is the least"
        unsure = part.spoilt or not least_c < part.most_c
        if unsure or limit.sense == "at most" and hottest_read(part) > least_c:
            least_c, said = hottest_read(part), "This is its hottest reading"
        if least_c > limit.value and not (part.spoilt and limit.sense == "at least"):
            return judge(what, "metal_c", least_c, limit, why=f"{why} {said}: it cannot tell yet how far.")
        told = no_end_words(part, degrees)
        return unknown(what, "metal_c", why=f"{told} {why}", source=limit.source, advice=limit.advice)
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
