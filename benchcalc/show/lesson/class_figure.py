"""A class's readings on one picture: the band a bar, each bench a dot."""

from dataclasses import dataclass

import numpy as np
from matplotlib.lines import Line2D

from ...basics.names import say
from ..drawing.layout import axes_at, show_line
from ..drawing.live_picture import Drawing
from ..drawing.moving_labels import Label
from ..drawing.style import COPPER, INK, PLAIN, SKY

HEIGHT_IN, MOST_ROWS, WORDS_IN = 4.6, 12, 3.1
FURTHEST = 0.4  # share of the expected value that the axis reaches to, both ways


@dataclass(frozen=True, eq=False)
class ClassSpread:
    """frame: number of rows. rows: (words, low, high, shares of each bench); shares are of the expected value, less 1.
    beyond: benches too far out to be drawn."""

    frame: tuple
    rows: tuple
    beyond: int


@dataclass(frozen=True, eq=False)
class _Artists:
    axes: object
    bars: tuple
    dots: tuple
    middle: object
    words: dict
    moving: tuple
    labels: tuple


def class_spread(spreads) -> ClassSpread:
    """The numbers of the picture.

    spreads: list of Spread, at most twelve are drawn.
    """
    rows, beyond = [], 0
    for s in spreads[:MOST_ROWS]:
        here = s.asked.expected.nominal
        shares = s.values / here - 1 if s.values.size else np.array([])
        beyond += int(np.sum(np.abs(shares) > FURTHEST))
        words = (
            f"{s.asked.what}: {say(s.asked.key, here)}" if s.values.size else s.asked.what
        )  # nothing told beforehand
        rows.append((words, s.asked.expected.low / here - 1, s.asked.expected.high / here - 1, shares))
    return ClassSpread((len(rows),), tuple(rows), beyond)


def _lay(figure, place):
    wide, tall = place[2] - WORDS_IN - 0.3, place[3] - 1.0
    axes = axes_at(figure, place, WORDS_IN, 0.55, wide, tall)
    axes.set_yticks([])
    axes.grid(False, axis="y")
    bars = tuple(
        Line2D([], [], color=SKY, lw=9, alpha=0.55, solid_capstyle="butt", animated=True) for _ in range(MOST_ROWS)
    )
    dots = tuple(
        Line2D([], [], color=INK, marker="o", ms=6, mfc=COPPER, ls="none", animated=True) for _ in range(MOST_ROWS)
    )
    middle = Line2D([], [], color=INK, lw=1.2, animated=True)
    for artist in (*bars, middle, *dots):
        axes.add_artist(artist)
    words = {f"row {i}": Label(axes, ha="right", box=False) for i in range(MOST_ROWS)}
    words["title"] = Label(axes, size=PLAIN, bold=True, box=False)
    return _Artists(axes, bars, dots, middle, words, (*bars, middle, *dots), tuple(words.values()))


def _frame(a, n):
    a.axes.set_xlim(-100 * FURTHEST, 100 * FURTHEST)
    a.axes.set_ylim(0, max(n.frame[0], 1))
    a.axes.set_xlabel("reading against what was expected, per cent; the bar is the band")


def _move(a, n):
    show_line(a.middle, [0, 0], [0, max(n.frame[0], 1)])
    for i in range(MOST_ROWS):
        if i >= len(n.rows):
            show_line(a.bars[i], [], [])
            show_line(a.dots[i], [], [])
            continue
        words, low, high, shares = n.rows[i]
        at = len(n.rows) - 0.5 - i
        show_line(a.bars[i], [100 * low, 100 * high], [at, at])
        near = shares[np.abs(shares) <= FURTHEST]
        show_line(a.dots[i], 100 * near, np.full(near.size, at))
        a.words[f"row {i}"].put(-102 * FURTHEST, at, words)
    a.words["title"].put(
        -100 * FURTHEST, max(n.frame[0], 1) * 1.04, "every bench on one picture", va="bottom", ha="left"
    )


def class_spread_caption(n) -> str:
    """The picture in words.  n: ClassSpread."""
    told = []
    for words, low, high, shares in n.rows:
        inside = int(np.sum((shares >= low) & (shares <= high)))
        told.append(
            f"{words}: {inside} of {shares.size} benches inside the band" if shares.size else f"{words}: no reading yet"
        )
    far = f" {n.beyond} readings lie further out than the picture reaches." if n.beyond else ""
    return "; ".join(told) + "." + far


CLASS_SPREAD = Drawing(
    lambda build, spreads, rest=False: class_spread(spreads), _lay, _frame, _move, class_spread_caption, HEIGHT_IN
)
