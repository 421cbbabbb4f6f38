"""One tip on two days: what the sheet reckons at its own volts, and what a log says of a day with others."""

from dataclasses import dataclass

from ...basics.band import Band
from ...basics.names import say
from ...sheet.learned import of_that_day

MAINS = "supply.mains"


def mains_of(build, at):
    """The mains on the day of a log, over those of the sheet's readings.

    build: Build. at: the sheet's Log.
    Returns Band, None where no readings of that log taught them.
    """
    if at is None or at.file is None:
        return None
    day = next((e for e in of_that_day(build).learned if e.path == MAINS and at.file in (e.log or "")), None)
    return None if day is None else Band(day.value, day.low, day.high)


def mains_words(mains):
    """The mains of a log's day in words.  mains: Band, or None."""
    if mains is None:
        return "mains of that day not told"
    return f"mains at {mains.nominal:.0%} that day"


@dataclass(frozen=True)
class TwoDays:
    """A tip that is too cool by the sheet and too hot by a log.

    sheet_c, wanted_c: by the sheet at its own volts, and what it wants. log_c, never_c: by the log, and what the job
    stands. then_c: where a day like the log's would take it, were the sheet's own volts enough for what it wants.
    mains: Band of the log's day, or None.
    """

    sheet_c: float
    wanted_c: float
    log_c: float
    never_c: float
    then_c: float
    mains: Band | None

    @property
    def both(self):
        """Whether one winding serves both days."""
        return self.then_c <= self.never_c


def two_days(build, heat, part, at, never_c):
    """Whether a sheet and its log ask for opposite things.

    build: Build (floats). heat: HeatPart, or None. part: LogPart of a log at the tip. at: its Log. never_c: the most
    that the job stands, degC.
    Returns TwoDays, None where they do not: the tip reaches what is wanted, or the log stays within the job's limit.
    Method: rises over the room keep their ratio from one day to the other when the watts are changed a little.
    """
    wanted_c, room_c = build.want.tip_c, build.room.ambient_c
    if (
        heat is None
        or wanted_c is None
        or part.no_end
        or not room_c < heat.tip_c < wanted_c
        or not part.metal_c > never_c
    ):
        return None
    then_c = grown(room_c, heat.tip_c, part.metal_c, wanted_c)
    return TwoDays(float(heat.tip_c), wanted_c, part.metal_c, never_c, then_c, mains_of(build, at))


def grown(room_c, one_c, other_c, wanted_c):
    """Where the hotter of two days ends when the other is brought to a wanted temperature, degC.

    room_c, one_c, other_c: room, and the tip on the two days. wanted_c: for the first of them.
    """
    return room_c + (other_c - room_c) * (wanted_c - room_c) / (one_c - room_c)


def two_days_words(build, found):
    """Which line holds on which day, and what to do.  build: Build, for its units. found: TwoDays, or None."""
    if found is None:
        return ""
    sheet, wanted, log, then = (
        say("tip_c", x, degrees=build.degrees) for x in (found.sheet_c, found.wanted_c, found.log_c, found.then_c)
    )
    if found.mains is None:
        day = "on the day of the log, whose mains nobody told"
        first = "Read the no-load volts and the log again on one day, so that both speak of the same. "
    else:
        share = f"{found.mains.nominal:.0%} ({found.mains.low:.0%} to {found.mains.high:.0%})"
        day, first = f"on the day of the log, with the mains at {share} of that,", ""
    told = f"Two days, one tip: at the volts of the sheet's readings it settles at {sheet}; {day} at {log}. "
    if found.both:
        return (
            f"{told}{first}A little more power, for {wanted} at the sheet's volts, is {then} on such a day: both hold."
        )
    return (
        f"{told}{first}Wind neither more nor less wire for it: enough for {wanted} at the sheet's volts gives about "
        f"{then} on such a day. Let a control hold it (page 08), or want less."
    )
