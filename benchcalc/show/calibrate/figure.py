"""The shrinking band: what was read with what the corrected model says of it, over the hour ahead before and after."""

import textwrap
from dataclasses import dataclass

import numpy as np
from matplotlib.lines import Line2D

from ...basics.names import display, say, shown
from ...basics.tables import rows
from ...studies.calibrate.calibrate import Calibration
from ...studies.calibrate.findings import TARGET_WORDS
from ...studies.calibrate.hour_band import hour_band
from ...studies.calibrate.trust import distrust
from ..drawing.layout import axes_at, hide_all, show_line
from ..drawing.live_picture import Drawing
from ..drawing.moving_labels import Label
from ..drawing.style import COPPER, CREAM, DARK_COPPER, FAINT, INK, PLAIN, SKY, coarse_up
from .tables import target_of

HEIGHT_IN, READ_IN = 5.6, 2.3
MARKS = ("o", "s", "^", "D", "v")
READ_COLOURS = (SKY, INK, DARK_COPPER, FAINT, COPPER)
MOST_LOGS = 5
PALE = 0.35  # of what is not by the readings that are used


@dataclass(frozen=True, eq=False)
class Read:
    """One sensor on the picture: the readings that are used, those that are not, and what the model says of both: no
    line where none of them is used."""

    name: str
    time_s: np.ndarray
    read_c: np.ndarray
    line_s: np.ndarray
    line_c: np.ndarray
    unused_s: np.ndarray
    unused_c: np.ndarray


@dataclass(frozen=True, eq=False)
class ShrinkingBand:
    """The readings with what the model says of them, and the hour's bands before and after.

    logs: of Read. before_c, after_c: (3, times): low, middle, high. limit_c: of wood, nan elsewhere. by: "", or, while
    these readings are still worked out, by which others the lines and the band after them are.
    """

    frame: tuple
    logs: tuple
    time_s: np.ndarray
    before_c: np.ndarray
    after_c: np.ndarray
    place: str
    limit_c: float
    degrees: str
    by: str = ""


def shrinking_band(found: Calibration):
    """The numbers of the picture.

    found: Calibration with its hours run.
    Returns ShrinkingBand: of the entry, or of what matters most on this tool; 90 % bands.
    """
    place = target_of(found)
    before, after = (hour_band(found, place, which) for which in ("before", "after"))
    if distrust(found):  # nothing was learned that may be believed
        after = before
    probes = found.start.trial.probes
    parts = np.cumsum([p.time_s.size for p in probes])[:-1]
    logs = []
    for p, used, ahead_c in zip(probes, np.split(found.used, parts), np.split(found.ahead_c, parts)):
        line = (p.time_s, ahead_c) if used.any() else (np.zeros(0), np.zeros(0))
        logs.append(Read(p.name, p.time_s[used], p.temp_c[used], *line, p.time_s[~used], p.temp_c[~used]))
    limit = (
        next(r["value"] for r in rows("wood_limits") if r["key"] == "long_term_c") if place == "entry" else float("nan")
    )
    degrees = found.trial.build.degrees
    last = max(max(float(p.time_s[-1]) for p in probes), float(found.time_s[-1]))
    top = coarse_up(1.1 * float(np.nanmax(np.concatenate([found.read_c, found.fitted_c]))))
    high = coarse_up(1.08 * float(np.nanmax(before)))
    return ShrinkingBand(
        (last, top, high, place, degrees), tuple(logs[:MOST_LOGS]), found.time_s, before, after, place, limit, degrees
    )


@dataclass(frozen=True, eq=False)
class _Artists:
    upper: object
    lower: object
    marks: tuple
    unused: tuple
    lines: tuple
    wide: object
    narrow: object
    edges: tuple
    limit: object
    words: dict
    moving: tuple
    labels: tuple


def _lay(figure, place):
    upper = axes_at(figure, place, 0.75, place[3] - READ_IN + 0.1, place[2] - 2.35, READ_IN - 0.42)
    lower = axes_at(figure, place, 0.75, 0.52, place[2] - 2.35, place[3] - READ_IN - 0.85)
    marks = tuple(
        Line2D([], [], color=c, marker=m, ms=4.5, ls="", mfc="white", mew=1.1, animated=True)
        for m, c in zip(MARKS, READ_COLOURS)
    )
    unused = tuple(Line2D([], [], color=FAINT, marker=m, ms=2.2, ls="", animated=True) for m in MARKS)
    lines = tuple(Line2D([], [], color=c, lw=1.4, animated=True) for c in READ_COLOURS)
    for artist in (*lines, *unused, *marks):
        upper.add_artist(artist)
    wide = lower.fill([], [], facecolor=CREAM, edgecolor=FAINT, lw=0.8, animated=True)[0]
    narrow = lower.fill([], [], facecolor=COPPER, alpha=0.55, edgecolor=DARK_COPPER, lw=0.8, animated=True)[0]
    edges = tuple(
        Line2D([], [], color=c, lw=w, ls=s, animated=True)
        for c, w, s in ((FAINT, 1.2, (0, (4, 3))), (DARK_COPPER, 1.8, "-"))
    )
    limit = Line2D([], [], color=INK, lw=1.1, ls=(0, (1, 2)), animated=True)
    for artist in (*edges, limit):
        lower.add_artist(artist)
    words = {f"log {i}": Label(upper, color=READ_COLOURS[i], bold=True) for i in range(MOST_LOGS)}
    words |= {
        "before": Label(lower, color=FAINT, bold=True),
        "after": Label(lower, color=DARK_COPPER, bold=True),
        "limit": Label(lower, color=INK, ha="left"),
        "upper": Label(upper, size=PLAIN, bold=True, box=False),
        "lower": Label(lower, size=PLAIN, bold=True, box=False),
    }
    moving = (*lines, *unused, *marks, wide, narrow, *edges, limit)
    return _Artists(
        upper, lower, marks, unused, lines, wide, narrow, edges, limit, words, moving, tuple(words.values())
    )


def _frame(a, n):
    last, top, high, _, degrees = n.frame
    unit, _ = display("temp_c", degrees=degrees)
    for axes, most in ((a.upper, top), (a.lower, high)):
        axes.set_xlim(0, last / 60)
        axes.set_ylim(0, shown("temp_c", most, degrees=degrees))
        axes.set_ylabel(f"temperature, {unit}")
    a.upper.tick_params(labelbottom=False)
    a.lower.set_xlabel("minutes from switching on")


def _move(a, n):
    last, top, high, _, degrees = n.frame
    hide_all(a)

    def warm(temp_c):
        return shown("temp_c", temp_c, degrees=degrees)

    edge = last / 60 * 1.012
    pale = PALE if n.by else 1.0
    reach = [float(warm(np.concatenate([log.read_c, log.unused_c])[-1])) for log in n.logs]
    for i, (log, end) in enumerate(zip(n.logs, _apart(reach, 0.17 * warm(top)))):
        show_line(a.marks[i], log.time_s / 60, warm(log.read_c))
        show_line(a.unused[i], log.unused_s / 60, warm(log.unused_c))
        if log.line_s.size > 1:
            show_line(a.lines[i], log.line_s / 60, warm(log.line_c))
            a.lines[i].set_alpha(pale)
        a.words[f"log {i}"].put(edge, end, "\n".join(textwrap.wrap(log.name, 18)[:2]), ha="left")
    x = n.time_s / 60
    for shape, band in ((a.wide, n.before_c), (a.narrow, n.after_c)):
        shape.set_xy(np.concatenate([np.stack([x, warm(band[0])], -1), np.stack([x, warm(band[2])], -1)[::-1]]))
        shape.set_visible(True)
    a.narrow.set_alpha(0.55 * pale)
    for line, band in zip(a.edges, (n.before_c, n.after_c)):
        show_line(line, x, warm(band[1]))
    a.edges[1].set_alpha(pale)
    after = "\n".join(textwrap.wrap(f"by {n.by}", 18)) if n.by else "after them"
    told = [("before", n.before_c[2, -1], "before the readings"), ("after", n.after_c[1, -1], after)]
    if n.limit_c == n.limit_c:
        show_line(a.limit, [0, last / 60], [warm(n.limit_c)] * 2)
        told.append(("limit", n.limit_c, f"wood for years:\n{say('temp_c', n.limit_c, degrees=degrees)}"))
    for (key, _, text), y in zip(told, _apart([float(warm(t)) for _, t, _ in told], 0.1 * warm(high))):
        a.words[key].put(edge, y, text, ha="left")
    a.words["upper"].put(
        0, warm(top) * 1.02, "What was read (marks), and what the corrected model says of it (lines)", va="bottom"
    )
    a.words["lower"].put(
        0, warm(high) * 1.02, f"The {TARGET_WORDS[n.place]} through the hour: what the tool may do", va="bottom"
    )


def _apart(heights, least):
    """The heights moved as little as needed to stand at least so far apart, in their order."""
    order = np.argsort(heights)
    moved = np.array(heights, float)
    for _ in range(20):
        for lower, upper in zip(order[:-1], order[1:]):
            close = least - (moved[upper] - moved[lower])
            if close > 0:
                moved[lower] -= close / 2
                moved[upper] += close / 2
    return moved


def band_caption(n: ShrinkingBand):
    """The picture in words.  n: ShrinkingBand."""

    def ends(band):
        return " and ".join(say("temp_c", float(band[i, -1]), degrees=n.degrees) for i in (0, 2))

    logs = "; ".join(
        f"{log.name}, {log.time_s.size} {'reading' if log.time_s.size == 1 else 'readings'} up to "
        f"{say('temp_c', float(np.max(log.read_c)), degrees=n.degrees)}"
        for log in n.logs
        if log.time_s.size
    )
    limit = (
        f" Wood should stay below {say('temp_c', n.limit_c, degrees=n.degrees)} for years."
        if n.limit_c == n.limit_c
        else ""
    )
    if n.after_c is n.before_c:
        limit = " Nothing is taken over from these readings: the band stays as it was." + limit
    unused = sum(log.unused_s.size for log in n.logs)
    dots = "reading, the small dot, is" if unused == 1 else "readings, the small dots, are"
    later = f" {unused} later {dots} not used." if unused else ""
    after = f"after {n.by}" if n.by else "after them"
    pending = (
        f" Lines and inner band are pale: by {n.by}; what these readings teach is being worked out." if n.by else ""
    )
    return (
        f"Above: {logs}.{later} Below: the {TARGET_WORDS[n.place]} after {n.time_s[-1] / 60:.0f} minutes lies between "
        f"{ends(n.before_c)} "
        f"before the readings, between {ends(n.after_c)} {after} (90 % bands).{limit}{pending}"
    )


def _numbers(build, result, rest=False):
    return shrinking_band(result)


BAND = Drawing(_numbers, _lay, _frame, _move, band_caption, HEIGHT_IN)
