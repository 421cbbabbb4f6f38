"""A class's readings on one picture: watts against length, each bench a dot; what was expected, once it is unfolded."""

from dataclasses import dataclass

import numpy as np
from matplotlib.lines import Line2D

from ...basics.names import say
from ...studies.lesson.class_data import watts_read
from ..drawing.layout import axes_at
from ..drawing.live_picture import Drawing
from ..drawing.moving_labels import Label
from ..drawing.style import COPPER, INK, PLAIN, SKY

HEIGHT_IN, MOST_SETTINGS = 4.2, 6
LETTERS = ("A", "B")
MARKERS = {"A": ("o", COPPER), "B": ("s", SKY)}  # told apart in grey too
ASIDE_MM = {"A": -3.0, "B": 3.0}  # so that bars of one length stand side by side
ROOM_ABOVE = 1.6  # the axis ends at so many times the highest expected watts


@dataclass(frozen=True, eq=False)
class ClassSpread:
    """frame: (highest watts of the axis, lengths in mm). settings: (name, place in mm, low W, high W, watts of the
    benches), the ends nan while they are folded. beyond: dots above the axis."""

    frame: tuple
    settings: tuple
    beyond: int


@dataclass(frozen=True, eq=False)
class _Artists:
    axes: object
    bars: tuple
    dots: tuple
    title: Label
    moving: tuple
    labels: tuple


def class_spread(spreads, unfolded: bool = False) -> ClassSpread:
    """The numbers of the picture.

    spreads: list of Spread, volts and amps of at most six settings. unfolded: whether the bands are drawn.
    """
    found = watts_read(spreads)[:MOST_SETTINGS]
    top = float(f"{ROOM_ABOVE * max((s.expected.high for s in found), default=1.0):.1g}")
    settings = tuple(
        (
            s.name,
            1000 * s.length_m + ASIDE_MM[s.name[0]],
            s.expected.low if unfolded else np.nan,
            s.expected.high if unfolded else np.nan,
            s.watts,
        )
        for s in found
    )
    beyond = int(sum(np.sum(s.watts > top) for s in found))
    return ClassSpread((top, tuple(sorted({1000 * s.length_m for s in found}))), settings, beyond)


def _lay(figure, place):
    axes = axes_at(figure, place, 0.75, 0.6, place[2] - 1.1, place[3] - 1.1)
    bars = tuple(Line2D([], [], lw=11, alpha=0.35, solid_capstyle="butt", animated=True) for _ in range(MOST_SETTINGS))
    dots = tuple(Line2D([], [], color=INK, ms=6.5, ls="none", animated=True) for _ in range(MOST_SETTINGS))
    for artist in (*bars, *dots):
        axes.add_artist(artist)
    title = Label(axes, size=PLAIN, bold=True, box=False)
    names = {"A": "A, volts held", "B": "B, amps kept by a lamp"}
    axes.legend(
        handles=[
            Line2D([], [], color=INK, marker=m, mfc=c, ms=6.5, ls="none", label=names[k])
            for k, (m, c) in MARKERS.items()
        ],
        loc="upper right",
        frameon=False,
    )
    return _Artists(axes, bars, dots, title, (*bars, *dots), (title,))


def _frame(a, n):
    top, lengths = n.frame
    a.axes.set_xlim(min(lengths, default=0) - 40, max(lengths, default=1) + 40)
    a.axes.set_ylim(0, top)
    a.axes.set_xticks(lengths)
    a.axes.set_xlabel("length between the clips, mm")
    a.axes.set_ylabel("volts times amps, W")


def _move(a, n):
    for i, (bar, dot) in enumerate(zip(a.bars, a.dots, strict=True)):
        if i >= len(n.settings):
            bar.set_data([], [])
            dot.set_data([], [])
            continue
        name, at, low, high, watts = n.settings[i]
        marker, colour = MARKERS[name[0]]
        bar.set_color(colour)
        bar.set_data([at, at] if np.isfinite(low) else [], [low, high] if np.isfinite(low) else [])
        dot.set_marker(marker)
        dot.set_markerfacecolor(colour)
        near = watts[watts <= n.frame[0]]
        dot.set_data(np.full(near.size, at), near)
    a.title.put(
        a.axes.get_xlim()[0], n.frame[0] * 1.04, "every bench on one picture: watts against length", va="bottom"
    )


def class_spread_caption(n) -> str:
    """The picture in words.  n: ClassSpread."""
    told = []
    for name, _, low, high, watts in n.settings:
        if not watts.size:
            continue
        inside = int(np.sum((watts >= low) & (watts <= high)))
        told.append(
            f"{name}: {watts.size} benches, middle {say('load_w', float(np.median(watts)))}"
            + (f", {inside} of them inside {say('load_w', low)} to {say('load_w', high)}" if np.isfinite(low) else "")
        )
    far = f" {n.beyond} dots lie above the picture." if n.beyond else ""
    return (
        ("Watts against length. " + ("; ".join(told) or "No bench has volts and amps of one setting yet")) + "." + far
    )


CLASS_SPREAD = Drawing(
    lambda build, spreads, rest=False: class_spread(spreads), _lay, _frame, _move, class_spread_caption, HEIGHT_IN
)
