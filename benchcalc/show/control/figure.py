"""A held tool drawn: the way up at the left, the saw-tooth in close-up at the right, pulses shaded below it."""

import textwrap
from dataclasses import dataclass

import numpy as np
from matplotlib.lines import Line2D
from matplotlib.patches import Polygon

from ...basics.names import display, say, shown
from ..drawing.layout import axes_at, blank, hide_all, show_line
from ..drawing.live_picture import Drawing
from ..drawing.moving_labels import Label
from ..drawing.style import COPPER, DARK_COPPER, INK, PLAIN, SKY
from .numbers import held_caption, held_numbers

HEIGHT_IN, CLOSE_IN = 3.6, 2.7
STYLE = {
    "held": {"color": DARK_COPPER, "lw": 2.2},
    "read": {"color": SKY, "lw": 1.4, "ls": (0, (4, 2))},
    "sheath": {"color": COPPER, "lw": 1.0},
}


@dataclass(frozen=True)
class _Artists:
    whole: object
    close: object
    lines: dict
    near: dict
    marks: tuple
    pulses: object
    words: dict
    moving: tuple
    labels: tuple


def _lay(figure, place):
    wide = place[2] - CLOSE_IN - 1.55
    whole = axes_at(figure, place, 0.75, 0.5, wide, place[3] - 0.85)
    close = axes_at(figure, place, 0.75 + wide + 0.6, 0.5, CLOSE_IN, place[3] - 0.85)
    lines = {k: Line2D([], [], animated=True, **s) for k, s in STYLE.items()}
    near = {k: Line2D([], [], animated=True, **s) for k, s in STYLE.items()}
    marks = [Line2D([], [], color=INK, lw=0.9, ls=(0, (1, 2)), animated=True) for _ in range(2)]
    marks.append(Line2D([], [], color=COPPER, lw=1.2, ls=(0, (1, 2)), animated=True))
    pulses = Polygon(np.zeros((3, 2)), closed=True, facecolor=COPPER, alpha=0.25, edgecolor="none", animated=True)
    for artist in (*lines.values(), marks[0], marks[2]):
        whole.add_artist(artist)
    for artist in (pulses, *near.values(), marks[1]):
        close.add_artist(artist)
    words = {
        "title": Label(whole, size=PLAIN, bold=True, box=False),
        "near": Label(close, size=PLAIN, bold=True, box=False),
        "held": Label(whole, color=DARK_COPPER, bold=True),
        "read": Label(whole, color=SKY, bold=True),
        "sheath": Label(whole, color=COPPER, bold=True),
        "wire": Label(whole, color=COPPER),
        "on": Label(close, color=COPPER),
        "note": Label(whole, size=PLAIN),
    }
    moving = (pulses, *lines.values(), *near.values(), *marks)
    return _Artists(whole, close, lines, near, tuple(marks), pulses, words, moving, tuple(words.values()))


def _frame(a, n):
    for axes in (a.whole, a.close):
        axes.set_axis_off() if n.frame[0] == "nothing" else axes.set_axis_on()
    if n.frame[0] == "nothing":
        blank(a.whole)
        return
    _, far, top, wide, low, high, degrees = n.frame
    hot, _ = display("temp_c", degrees=degrees)
    a.whole.set_xlim(0, far)
    a.whole.set_ylim(0, shown("temp_c", top, degrees=degrees))
    a.whole.set_xlabel("time since switching on, min")
    a.whole.set_ylabel(f"temperature, {hot}")
    a.close.set_xlim(0, wide)
    low, high = (shown("temp_c", c, degrees=degrees) for c in (low, high))
    a.close.set_ylim(low - 0.12 * (high - low), high)
    a.close.set_xlabel("the last seconds, s")


def _move(a, n):
    hide_all(a)
    if n.frame[0] == "nothing":
        a.words["note"].put(0.0, 0.6, "\n".join(textwrap.wrap(n.said, 60)))
        return
    way = {"degrees": n.degrees}
    for key in STYLE:
        x, y = n.whole[key]
        show_line(a.lines[key], x, shown("temp_c", y, **way))
        x, y = n.close[key]
        show_line(a.near[key], x, shown("temp_c", y, **way))
    set_c = shown("temp_c", n.set_c, **way)
    show_line(a.marks[0], [0, n.frame[1]], [set_c, set_c])
    show_line(a.marks[1], [0, n.frame[3]], [set_c, set_c])
    wire_c = shown("temp_c", n.wire_c, **way)
    show_line(a.marks[2], [0, n.frame[1]], [wire_c, wire_c])
    bottom, top = a.close.get_ylim()
    seconds, share = n.on
    corners = np.repeat(seconds, 2)[1:-1]
    level = bottom + 0.09 * (top - bottom) * np.repeat(share[1:], 2)
    a.pulses.set_xy(np.column_stack([np.r_[corners, corners[::-1]], np.r_[level, np.full(level.size, bottom)]]))
    a.pulses.set_visible(True)
    _names(a, n, way)


def _names(a, n, way):
    wide, (_, up) = n.frame[1], a.whole.get_ylim()
    a.words["title"].put(0, 1.06 * up, f"Set to {say('temp_c', n.set_c, **way)}" + (f". {n.lent}" if n.lent else ""))
    hot = f"hottest wire, {say('wire_c', n.wire_c, **way)}"
    a.words["wire"].put(0.36 * wide, shown("temp_c", n.wire_c, **way) + 0.015 * up, hot)
    bottom, top = a.close.get_ylim()
    a.words["near"].put(0, top + 0.05 * (top - bottom), "In close-up")
    a.words["on"].put(0.01 * n.frame[3], bottom + 0.13 * (top - bottom), "power on")
    for k, (key, word) in enumerate((("sheath", "winding's mean"), ("held", n.word), ("read", "sensor"))):
        value = say("temp_c", n.means_c[k], **way)
        dash = {"read": "- -", "held": "━"}.get(key, "—")
        a.words[key].put(0.36 * wide, (0.34 - 0.1 * k) * up, f"{dash} {word}, in the end {value}")


def _numbers(build, result, rest=False):
    return held_numbers(build, result)


HELD_TOOL = Drawing(_numbers, _lay, _frame, _move, held_caption, HEIGHT_IN)
