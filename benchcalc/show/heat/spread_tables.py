"""Tables of a warm-up with its bands: in time, where a temperature has crept to, when the tool is ready."""

from dataclasses import dataclass

import numpy as np

from ...basics.fault import Fault
from ...basics.names import say
from ...basics.tables import rows as table_rows
from ...chain.heat.melting_wire import told_band, wire_melts_c
from ...chain.heat.verdicts import job_row
from ...chain.workings import chain
from ...studies.asked_temperature import Asked, asked_temperature
from ...studies.spread_in_time import SpreadInTime, spread_in_time
from ...studies.when_and_where import front_of, ready_after, settled_after
from ..page.still_words import still_beside
from ..page.table import table
from .front_numbers import MOMENTS_S, front_words, moment_words
from .tables import PLACES

USUAL, WANTED = "130 degC", "wanted"
MOMENTS_MIN = (2, 5, 8, 20, 60)
TENTH = 0.1


@dataclass(frozen=True)
class NoSpread:
    """A tool without a warm-up.  why: a sentence. tube: it has none to draw."""

    why: str
    tube: str = ""


def spread_of(build, workings):
    """The samples of a tool in time.

    build: Build. workings: Workings of it.
    Returns SpreadInTime, or NoSpread where the heat model has nothing to work on; the tables and the picture here say
    why then.
    """
    try:
        return spread_in_time(build, workings)
    except Fault as why:
        return NoSpread(" ".join(str(why).split()))


def no_ranges(spread):
    """What is missing where samples could not be worked out, in a sentence; "" where nothing is.

    spread: SpreadInTime.
    """
    if not spread.missing:
        return ""
    count = len(spread.tube_settled_samples_c)
    then = "the ranges are wider for it" if spread.ranged else "no range can be told, the values are the sheet's own"
    why = f" {' '.join(spread.why.split())}" if spread.why else ""
    return f"{spread.missing} of {count} samples of this tool cannot be worked out: {then}.{why}"


def minutes_words(band, longest_s):
    """A time with its band, in minutes.

    band: Band, s; inf: not within the run. longest_s: length of the run, s.

    >>> from benchcalc.basics.band import Band
    >>> minutes_words(Band(297.0, 234.0, float("inf")), 10800.0)
    '5 min (4 min to over 180 min)'
    """

    def one(x):
        return (
            f"over {longest_s / 60:.0f} min" if np.isinf(x) else f"{x / 60:.1f} min" if x < 120 else f"{x / 60:.0f} min"
        )

    if np.isinf(band.low) or np.isnan(band.low):
        return one(band.nominal)
    return f"{one(band.nominal)} ({one(band.low)} to {one(band.high)})"


def times(build, spread, minutes=MOMENTS_MIN):
    """Temperatures with their bands at some times after switching on, and once settled.

    build: Build. spread: SpreadInTime or NoSpread. minutes: whole numbers, within the run.
    Returns Table; beside what the handle settles at in air that nobody read stands what it does in still air.
    """
    if isinstance(spread, NoSpread):
        return table(("after switching on",), [(spread.why,)])
    fields, melts_c = [(word, f) for word, f in PLACES if np.isfinite(spread.settled[f])], wire_melts_c(build)
    still = still_beside(build, chain(build).heat, [f for _, f in fields])
    rows = [
        (
            moment_words(time_s) if np.isinf(time_s) else f"{time_s / 60:.0f} min",
            *(
                told_band(spread.band_at(f, time_s), f, melts_c, degrees=build.degrees)
                + (still.get(f, "") if np.isinf(time_s) else "")
                for _, f in fields
            ),
        )
        for time_s in (*(60.0 * m for m in minutes), np.inf)
    ]
    return table(("after switching on", *(word for word, _ in fields)), rows, no_ranges(spread))


def fronts(build, spread, *asked, moments_s=MOMENTS_S):
    """How far along the tube each temperature or marker has crept.

    build: Build. spread: SpreadInTime or NoSpread. asked: words of temperatures and markers, as asked_temperature.
    moments_s: s after switching on, inf for the settled tool.
    Returns Table.
    """
    if not spread.tube:
        return table(("on the tube",), [("No tube to slide a marker along.",)])
    rows = []
    for words in asked:
        one = asked_temperature(words, degrees=build.degrees)
        warn = {"no": " (never on the bench)", "take care": " (take care)"}.get(one.safe, "")
        at = say("temp_c", one.temp_c, degrees=build.degrees)
        places = (front_words(front_of(spread, one.temp_c, t), build.units, spread.bare_m) for t in moments_s)
        rows.append((f"{one.marker}, {at}{warn}" if one.marker else at, *places))
    rows = rows or [("none of the list", *("–" for _ in moments_s))]
    return table(("as hot as", *(moment_words(t) for t in moments_s)), rows)


def ready_times(build, spread, *asked):
    """When the tip, or what is melted, is as hot as asked, and when it and the handle have nearly settled.

    build: Build. spread: SpreadInTime or NoSpread. asked: words of temperatures, as asked_temperature; the wanted
    temperature of the sheet and the job's own stand before them. Without any of these the first marker on the tube.
    Returns Table.
    """
    if isinstance(spread, NoSpread):
        return table(("ready",), [(spread.why,)])
    field, place = ("work_c", "what is melted") if np.isfinite(spread.settled["work_c"]) else ("tip_c", "tip")
    if not np.isfinite(spread.settled[field]):
        field, place = "wire_c", "hottest wire"
    longest_s, rows = float(spread.run.time_s[-1]), []
    wanted = [] if build.want.tip_c is None else [Asked(float(build.want.tip_c), WANTED)]
    job = job_row(build.want.job) if build.want.job else None
    if job is not None:
        wanted.append(Asked(float(job["low_c"]), f"{job['job']}, lower end"))
    asked = asked if asked or wanted else (asked_first(spread),)
    wanted += [asked_temperature(words, degrees=build.degrees) for words in asked]
    for one in wanted:
        at_tip = one.marker == WANTED and np.isfinite(spread.settled["tip_c"])
        band, chance = ready_after(spread, one.temp_c, "tip_c" if at_tip else field)
        at = say("temp_c", one.temp_c, degrees=build.degrees)
        words = f"{'tip' if at_tip else place} at {at}" + (f" ({one.marker})" if one.marker else "")
        rows.append(
            (
                words,
                minutes_words(band, longest_s) if chance else "never, at this power",
                f"{chance:.0%}" if spread.ranged else "–",
            )
        )
    for key, word in ((field, place), ("entry_c", "tube at the handle"), ("grip_c", "handle outside")):
        if np.isfinite(spread.settled[key]):
            when = minutes_words(settled_after(spread, key, TENTH), longest_s)
            rows.append((f"{word}, to within a tenth of its rise", when, "–"))
    return table(("ready", "after (90 % band)", "chance that it gets there at all"), rows, no_ranges(spread))


def markers_on(spread):
    """The safe markers that turn somewhere on the settled bare tube, from the coolest.

    spread: SpreadInTime or NoSpread.
    Returns list of names of data/markers.csv; empty without a tube.
    """
    if not spread.tube:
        return []
    low, high = spread.bare_settled_c.min(), spread.bare_settled_c.max()
    found = [r for r in table_rows("markers") if r["safe"] == "yes" and low < r["low_c"] < high]
    return [r["marker"] for r in sorted(found, key=lambda r: r["low_c"])]


def asked_first(spread: SpreadInTime | NoSpread) -> str:
    """What is asked for where nothing else is: the middle one of the safe markers on the tube, else a plain
    temperature.

    spread: SpreadInTime or NoSpread.
    """
    found = markers_on(spread)
    return found[len(found) // 2] if found else USUAL
