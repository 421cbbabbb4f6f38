"""The ladder of readings: one verdict's range today, and below it what each reading would leave of it."""

import textwrap
from dataclasses import dataclass

from matplotlib.lines import Line2D

from ...basics.names import YEARS, display, shown
from ..drawing.layout import axes_at, blank, only_a_note, show_line
from ..drawing.live_picture import Drawing
from ..drawing.moving_labels import Label
from ..drawing.style import COPPER, FAINT, INK, PLAIN, SKY, hatching
from ..page.table import as_difference
from .tables import helpful

HEIGHT_IN, ROWS, WORDS_IN = 4.2, 7, 3.6
LONGEST = 42  # letters of a line beside a bar


@dataclass(frozen=True, eq=False)
class Ladder:
    """frame: (what, unit, low, high) or ("nothing",). rows: (words, low, high, left 0 to 1), today first. said: why
    there is nothing."""

    frame: tuple
    rows: tuple = ()
    said: str = ""


@dataclass(frozen=True, eq=False)
class _Artists:
    axes: object
    bars: tuple
    zero: object
    hatch: object
    inches: tuple
    words: dict
    moving: tuple
    labels: tuple


def reading_ladder(build, found, what=None):
    """The numbers of the picture.

    build: Build. found: MeasureFirst. what: of a Doubtful, None for the most doubtful.
    Returns Ladder.
    """
    place = next((i for i, d in enumerate(found.doubts) if what in (None, d.what)), None)
    if place is None or not found.readings:
        return Ladder(("nothing",), said="No verdict of this sheet is in doubt, or none can be told.")
    d, way = found.doubts[place], {"units": build.units, "degrees": build.degrees}
    key = as_difference(d.key)

    def told(margin):
        return float(shown(key, margin, **way))

    rows = [("today", told(d.low), told(d.high), 1.0)]
    best = helpful(found, place)[: ROWS - 1]
    rows += [(r.words, told(r.verdicts[place][3]), told(r.verdicts[place][4]), r.verdicts[place][1]) for r in best]
    low, high = min(0.0, *(r[1] for r in rows)), max(0.0, *(r[2] for r in rows))
    room = 0.08 * (high - low)
    unit = display(key, **way)[0] or ("years" if d.key in YEARS else "")
    return Ladder((d.what, unit, low - room, high + 2.2 * room), tuple(rows))


def _lay(figure, place):
    wide, tall = place[2] - WORDS_IN - 0.35, place[3] - 1.0
    axes = axes_at(figure, place, WORDS_IN, 0.55, wide, tall)
    axes.set_yticks([])
    axes.grid(False, axis="y")
    bars = tuple(
        Line2D([], [], color=INK if i == 0 else COPPER, lw=9 if i == 0 else 7, solid_capstyle="butt", animated=True)
        for i in range(ROWS)
    )
    zero = Line2D([], [], color=INK, lw=1.2, animated=True)
    hatch = Line2D([], [], color="#bdb7a9", lw=0.72, antialiased=False, animated=True)
    for artist in (hatch, zero, *bars):
        axes.add_artist(artist)
    words = {f"row {i}": Label(axes, ha="right", bold=i == 0, box=False) for i in range(ROWS)}
    words |= {f"left {i}": Label(axes, ha="left", color=SKY) for i in range(ROWS)}
    words |= {
        "title": Label(axes, size=PLAIN, bold=True, box=False),
        "past": Label(axes, ha="right", color=FAINT),
        "note": Label(axes, ha="center", size=PLAIN),
    }
    moving = (hatch, zero, *bars)
    return _Artists(axes, bars, zero, hatch, (wide, tall), words, moving, tuple(words.values()))


def _frame(a, n):
    nothing = n.frame[0] == "nothing"
    (a.axes.set_axis_off if nothing else a.axes.set_axis_on)()
    if nothing:
        blank(a.axes)
        return
    _, unit, low, high = n.frame
    a.axes.set_xlim(low, high)
    a.axes.set_ylim(0, ROWS)
    a.axes.set_xlabel(f"margin to the limit, {unit.replace(' (difference)', '')}; left of 0 it is passed")


def _move(a, n):
    if only_a_note(a, n):
        return
    what, _, low, high = n.frame
    wide, tall = a.inches
    per = (high - low) / wide
    x, y = hatching(0.0, max(-low / per, 0.0), tall)
    show_line(a.hatch, low + x * per, y * ROWS / tall)
    show_line(a.zero, [0, 0], [0, ROWS])
    for i, (words, left, right, share) in enumerate(n.rows):
        at = ROWS - 0.5 - i
        show_line(a.bars[i], [left, right], [at, at])
        lines = textwrap.wrap(words, LONGEST, max_lines=3, placeholder=" ...")
        a.words[f"row {i}"].put(low - 0.02 * (high - low), at, "\n".join(lines))
        if i:
            a.words[f"left {i}"].put(right + 0.012 * (high - low), at, f"{share:.0%}")
    a.words["title"].put(
        low, ROWS * 1.03, f"{what}: what each reading would leave of its range", va="bottom", ha="left"
    )
    if len(n.rows) == 1:
        a.words["note"].put((low + high) / 2, ROWS / 2, "no reading of the list narrows this range")
    a.words["past"].put(-0.01 * (high - low), 0.2, "past the limit")


def reading_ladder_caption(n):
    """The picture in words.  n: Ladder."""
    if n.frame[0] == "nothing":
        return n.said
    _, today_low, today_high, _ = n.rows[0]
    told = "; ".join(f"{words}: {share:.0%}" for words, _, _, share in n.rows[1:4])
    unit = n.frame[1].replace(" (difference)", "")
    left = f"Of that range would be left after {told}." if told else "No reading of the list narrows that range."
    return f"{n.frame[0]}: today's margin to the limit lies between {today_low:.3g} and {today_high:.3g} {unit}. {left}"


def _numbers(build, result, rest=False):
    return reading_ladder(build, *result) if isinstance(result, tuple) else reading_ladder(build, result)


LADDER = Drawing(_numbers, _lay, _frame, _move, reading_ladder_caption, HEIGHT_IN)
