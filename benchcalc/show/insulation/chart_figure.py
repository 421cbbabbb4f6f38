"""The chart of materials: a bar to each one's rating, the winding temperature across all, a word and the years at
the side.
"""

from dataclasses import dataclass

import numpy as np
from matplotlib.collections import LineCollection
from matplotlib.lines import Line2D
from matplotlib.patches import Rectangle

from ...basics.names import display, say, shown, years_words
from ..drawing.live_picture import Drawing
from ..drawing.moving_labels import Label
from ..drawing.style import COPPER, CREAM, DARK_COPPER, FAINT, INK, PLAIN, SKY, hatching
from .chart_numbers import TOP_C, stays_caption, stays_numbers

HEIGHT_IN, MOST = 4.9, 20
NAMES_IN, WORDS_IN = 2.35, 2.0
MARK = {"stays": "▂ stays", "risky": "▅ risky", "leaves": "█ leaves", "never": "█ never"}
INKS = {"stays": SKY, "risky": INK, "leaves": DARK_COPPER, "never": DARK_COPPER}


@dataclass(frozen=True)
class _Artists:
    axes: object
    wire: object
    heat: object
    dots: object
    words: dict
    moving: tuple
    labels: tuple


def _lay(figure, place):
    width, height = figure.get_size_inches()
    axes = figure.add_axes(
        (
            (place[0] + NAMES_IN) / width,
            (place[1] + 0.5) / height,
            (place[2] - NAMES_IN - WORDS_IN) / width,
            (place[3] - 0.95) / height,
        )
    )
    heat = Rectangle((0, 0), 0, 1, facecolor=COPPER, alpha=0.13, animated=True)
    wire = Line2D([], [], color=COPPER, lw=2.4, animated=True)
    dots = Line2D([], [], color=INK, marker="v", ms=6, ls="", mfc="white", mew=1.2, animated=True)
    for artist in (heat, wire, dots):
        axes.add_artist(artist)
    words = {f"word {i}": Label(axes, bold=True) for i in range(MOST)} | {
        f"years {i}": Label(axes) for i in range(MOST)
    }
    words |= {
        "hours": Label(axes, va="bottom"),
        "wire": Label(axes, color=COPPER, bold=True, size=PLAIN, ha="center", va="bottom"),
    }
    return _Artists(axes, wire, heat, dots, words, (heat, wire, dots), tuple(words.values()))


def _frame(a, n):
    axes = a.axes
    for artist in [
        *axes.collections,
        *(p for p in axes.patches if p is not a.heat),
        *axes.texts,
        *(x for x in axes.lines if x not in (a.wire, a.dots)),
    ]:
        artist.remove()
    count = len(n.stays)
    unit, _ = display("temp_c", degrees=n.degrees)

    def at(temp_c):
        return shown("temp_c", temp_c, degrees=n.degrees)

    axes.set_xlim(at(0.0), at(TOP_C))
    axes.set_ylim(count - 0.4, -0.75)
    axes.set_xlabel(f"temperature against the wire, {unit}")
    axes.set_yticks(range(count), [f"● {s.name}" if s.own else s.name for s in n.stays])
    for label, s in zip(axes.get_yticklabels(), n.stays):
        label.set_fontweight("bold" if s.own else "normal")
        label.set_color(INK)
    axes.tick_params(axis="y", length=0)
    box = axes.get_window_extent()
    wide_in, tall_in = (x / axes.figure.dpi for x in (box.width, box.height))
    row_in = tall_in / (count + 0.35)
    for i, s in enumerate(n.stays):
        limit, bold = min(s.limit_c, TOP_C), min(s.boldest_c, TOP_C)
        axes.add_artist(
            Rectangle(
                (at(0), i - 0.28),
                at(limit) - at(0),
                0.56,
                facecolor=CREAM if s.word != "never" else "white",
                edgecolor=FAINT,
                lw=0.8,
            )
        )
        if bold > limit:
            axes.add_artist(
                Rectangle((at(limit), i - 0.28), at(bold) - at(limit), 0.56, facecolor="white", edgecolor=FAINT, lw=0.8)
            )
            x, y = hatching(limit / TOP_C * wide_in, bold / TOP_C * wide_in, 0.56 * row_in, step_in=0.07)
            axes.add_artist(
                Line2D(at(0) + x / wide_in * (at(TOP_C) - at(0)), i + 0.28 - y / row_in, color=FAINT, lw=0.7)
            )
    smokes = [(at(s.smoke_c), i) for i, s in enumerate(n.stays) if np.isfinite(s.smoke_c)]
    if smokes:
        axes.add_artist(
            LineCollection([[(x, i - 0.42), (x, i + 0.42)] for x, i in smokes], colors=DARK_COPPER, linewidths=2.2)
        )
    axes.set_title(
        "bar: cautious rating    hatched: to the boldest print    upright tick: smokes from here    ●: on your sheet",
        size=8,
        loc="right",
        pad=20,
        x=1.0 + (WORDS_IN - 0.1) / wide_in,
    )


def _move(a, n):
    def at(temp_c):
        return shown("temp_c", temp_c, degrees=n.degrees)

    for words in a.labels:
        words.hide()
    x = at(min(max(n.wire_c, 0.0), TOP_C))
    a.wire.set_data([x, x], [-0.75, len(n.stays)])
    a.heat.set_bounds(x, -0.75, at(TOP_C) - x, len(n.stays) + 0.75)
    a.dots.set_data([], [])
    a.words["wire"].put(x, -0.82, say("wire_c", n.wire_c, degrees=n.degrees))
    start = at(TOP_C) + 0.02 * (at(TOP_C) - at(0))
    if n.hours:
        a.words["hours"].put(start + 0.1 * (at(TOP_C) - at(0)), -0.82, f"life at {n.hours:.0f} h a year")
    for i, s in enumerate(n.stays[:MOST]):
        label = a.words[f"word {i}"]
        label.color = INKS[s.word]
        label.put(start, i, MARK[s.word])
        if s.word != "never" and years_words(s.years):
            a.words[f"years {i}"].put(start + 0.24 * (at(TOP_C) - at(0)), i, years_words(s.years))


def _numbers(build, at, rest=False):
    return stays_numbers(build, at.wire_c)


STAYS = Drawing(_numbers, _lay, _frame, _move, stays_caption, HEIGHT_IN)
