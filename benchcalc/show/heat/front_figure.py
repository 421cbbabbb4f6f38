"""The warm front on the tube: its temperature after some minutes, an hour and settled, and how far a heat has crept."""

from dataclasses import dataclass

import numpy as np
from matplotlib.lines import Line2D
from matplotlib.patches import Polygon, Rectangle

from ...basics.names import display, say, shown
from ..drawing.layout import axes_at, blank, only_a_note, show_band, show_line
from ..drawing.live_picture import Drawing
from ..drawing.moving_labels import Label
from ..drawing.style import COPPER, DARK_COPPER, FAINT, INK, PLAIN, RULE, SKY
from .front_numbers import front_caption, front_numbers

HEIGHT_IN, SPANS_IN = 4.6, 1.15
LOOKS = ((SKY, (0, (1, 1.5)), "o"), (COPPER, (0, (6, 2)), "s"), (DARK_COPPER, "-", "D"))


@dataclass(frozen=True, eq=False)
class _Artists:
    axes: object
    below: object
    handles: tuple
    bands: tuple
    lines: tuple
    level: object
    spans: tuple
    marks: tuple
    words: dict
    moving: tuple
    labels: tuple


def _lay(figure, place):
    axes = axes_at(figure, place, 0.75, SPANS_IN + 0.62, place[2] - 1.95, place[3] - SPANS_IN - 0.95)
    below = axes_at(figure, place, 0.75, 0.5, place[2] - 1.95, SPANS_IN - 0.1)
    below.set_yticks([])
    below.grid(False, axis="y")
    handles = tuple(Rectangle((0, 0), 0, 0, fc=RULE, ec="none", alpha=0.5, zorder=0) for _ in range(2))
    axes.add_patch(handles[0])
    below.add_patch(handles[1])
    bands = tuple(
        Polygon(np.zeros((3, 2)), closed=True, facecolor=c, alpha=0.18, edgecolor="none", animated=True)
        for c, _, _ in LOOKS
    )
    lines = tuple(Line2D([], [], color=c, ls=style, lw=1.9, animated=True) for c, style, _ in LOOKS)
    level = Line2D([], [], color=INK, lw=1.0, ls=(0, (4, 3)), animated=True)
    spans = tuple(Line2D([], [], color=c, lw=2.4, animated=True) for c, _, _ in LOOKS)
    marks = tuple(
        Line2D([], [], color=c, marker=m, ms=7, ls="", mfc="white", mew=1.6, animated=True) for c, _, m in LOOKS
    )
    for band in bands:
        axes.add_patch(band)
    for artist in (*lines, level):
        axes.add_artist(artist)
    for artist in (*spans, *marks):
        below.add_artist(artist)
    words = {f"line {i}": Label(axes, color=c, bold=True) for i, (c, _, _) in enumerate(LOOKS)}
    words |= {f"span {i}": Label(below, color=c, ha="left") for i, (c, _, _) in enumerate(LOOKS)}
    words |= {
        "level": Label(axes, ha="left", bold=True),
        "title": Label(axes, size=PLAIN, bold=True, box=False),
        "below": Label(below, size=PLAIN, bold=True, box=False),
        "handle": Label(axes, color=FAINT, ha="right", va="top", box=False),
        "note": Label(axes, ha="center", size=PLAIN),
    }
    moving = (*bands, *lines, level, *spans, *marks)
    return _Artists(axes, below, handles, bands, lines, level, spans, marks, words, moving, tuple(words.values()))


def _frame(a, n):
    nothing = n.frame[0] == "nothing"
    for axes in (a.axes, a.below):
        (axes.set_axis_off if nothing else axes.set_axis_on)()
    if nothing:
        blank(a.axes)
        return
    _, (near, far), top, bare, units, degrees = n.frame
    unit, size = display("length_m", units=units)
    for axes in (a.axes, a.below):
        axes.set_xlim(near / size, far / size)
    a.axes.set_ylim(0, shown("temp_c", top, degrees=degrees))
    a.below.set_ylim(-0.6, len(LOOKS) - 0.4)
    a.axes.set_ylabel(f"temperature, {display('temp_c', degrees=degrees)[0]}")
    a.axes.tick_params(labelbottom=False)
    a.below.set_xlabel(f"along the tool from the tip, {unit}")
    for box, axes in zip(a.handles, (a.axes, a.below)):
        low, high = axes.get_ylim()
        box.set_bounds(bare / size, low, (far - bare) / size, high - low)


def _move(a, n):
    if only_a_note(a, n):
        return
    _, (near, far), top, bare, units, degrees = n.frame
    _, size = display("length_m", units=units)
    x, edge = n.places_m / size, far / size + 0.012 * (far - near) / size

    def warm(temp_c):
        return shown("temp_c", temp_c, degrees=degrees)

    ends = [float(warm(m[1][-1])) for m in n.moments]
    apart, least = np.argsort(np.argsort(ends)), 0.085 * warm(top)
    for i, (words, nominal, low, high, place) in enumerate(n.moments[: len(LOOKS)]):
        show_band(a.bands[i], x, warm(low), warm(high))
        show_line(a.lines[i], x, warm(nominal))
        a.words[f"line {i}"].put(edge, max(ends[i], min(ends) + least * apart[i]), words, ha="left")
        row = len(LOOKS) - 1 - i
        left, at, right = (
            np.clip(_drawn(p, near, far), near, far) / size for p in (place.low, place.nominal, place.high)
        )
        show_line(a.spans[i], [left, right], [row, row])
        if not np.isnan(place.nominal):
            a.marks[i].set_marker(LOOKS[i][2] if np.isfinite(place.nominal) else ">")
            show_line(a.marks[i], [at], [row])
        a.words[f"span {i}"].put(edge, row, words, ha="left")
    show_line(a.level, [near / size, far / size], [warm(n.temp_c)] * 2)
    curves = [(x, warm(m[1])) for m in n.moments]
    spot = _free_spot((near / size, far / size), warm(n.temp_c), warm(top), len(n.word), curves)
    a.words["level"].put(*spot[:2], n.word, ha=spot[2])
    if far - bare > 1e-4:
        a.words["handle"].put(far / size, 0.985 * warm(top), "under the handle")
    a.words["title"].put(near / size, warm(top) * 1.02, "The tube in time, with the range it may lie in", va="bottom")
    told = n.word if n.word.startswith(say("temp_c", n.temp_c, degrees=degrees)) else f"where {n.word} melts"
    a.words["below"].put(near / size, len(LOOKS) - 0.42, f"As hot as that up to here: {told}", va="bottom")


def _free_spot(ends, level, top, letters, curves):
    """Where the name of the level stands farthest from all curves: (x, y, side that stands there).

    ends: of the axis. level, top: of the name's line and of the axis. letters: of the name. curves: (x, y) each.
    """
    wide = min(0.0135 * letters, 0.6) * (ends[1] - ends[0])
    spots = []
    for at, side, left in (
        (ends[1], "right", ends[1] - wide),
        (ends[0], "left", ends[0]),
        ((sum(ends) - wide) / 2, "left", (sum(ends) - wide) / 2),
    ):
        for y in (level + 0.045 * top, level - 0.05 * top):
            apart = min(float(np.abs(t[(x >= left) & (x <= left + wide)] - y).min(initial=top)) for x, t in curves)
            spots.append((min(apart, 0.08 * top) if 0.03 * top < y < 0.97 * top else -1.0, at, y, side))
    return max(spots, key=lambda s: s[0])[1:]


def _drawn(place_m, near_m, far_m):
    """Where a place is drawn: nowhere yet at the hot end, all of the tube at its end."""
    return near_m if np.isnan(place_m) else far_m if np.isinf(place_m) else place_m


def _numbers(build, result, rest=False):
    return front_numbers(build, *result)


FRONT = Drawing(_numbers, _lay, _frame, _move, front_caption, HEIGHT_IN)
