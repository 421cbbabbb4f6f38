"""A sensor that has fallen off, drawn: everything climbs, the reading falls, limits are passed, a cut-out opens."""

import textwrap
from dataclasses import dataclass

import numpy as np
from matplotlib.lines import Line2D

from ...basics.names import display, say, shown
from ..drawing.layout import axes_at, blank, hide_all, show_line
from ..drawing.live_picture import Drawing
from ..drawing.moving_labels import Label
from ..drawing.style import COPPER, DARK_COPPER, INK, PLAIN, SKY
from .runaway_numbers import runaway, runaway_caption

HEIGHT_IN, RIGHT_IN = 3.6, 2.9
STYLE = {
    "wire": {"color": COPPER, "lw": 1.0},
    "held": {"color": DARK_COPPER, "lw": 2.2},
    "entry": {"color": INK, "lw": 1.4, "ls": (0, (7, 2, 1, 2))},
    "read": {"color": SKY, "lw": 1.4, "ls": (0, (4, 2))},
    "cut": {"color": INK, "lw": 1.2, "ls": (0, (1, 1))},
}
MOST, LINES = 4, 9  # limits that are named, lines for them


@dataclass(frozen=True)
class _Artists:
    axes: object
    lines: dict
    dots: object
    opens: object
    words: dict
    moving: tuple
    labels: tuple


def _lay(figure, place):
    axes = axes_at(figure, place, 0.75, 0.5, place[2] - RIGHT_IN - 0.8, place[3] - 0.85)
    lines = {k: Line2D([], [], animated=True, **s) for k, s in STYLE.items()}
    dots = Line2D([], [], color=INK, ls="", marker="o", ms=4, animated=True)
    opens = Line2D([], [], color=INK, lw=1.2, animated=True)
    for artist in (*lines.values(), dots, opens):
        axes.add_artist(artist)
    words = {"title": Label(axes, size=PLAIN, bold=True, box=False), "opens": Label(axes)}
    words |= {k: Label(axes, color=s["color"], bold=k == "held", box=False) for k, s in STYLE.items()}
    words |= {f"passed {k}": Label(axes, box=False) for k in range(LINES)} | {"note": Label(axes, size=PLAIN)}
    return _Artists(axes, lines, dots, opens, words, (*lines.values(), dots, opens), tuple(words.values()))


def _frame(a, n):
    a.axes.set_axis_off() if n.frame[0] == "nothing" else a.axes.set_axis_on()
    if n.frame[0] == "nothing":
        blank(a.axes)
        return
    _, far, top, degrees = n.frame
    a.axes.set_xlim(0, far)
    a.axes.set_ylim(0, shown("temp_c", top, degrees=degrees))
    a.axes.set_xlabel("time since the sensor fell off, min")
    a.axes.set_ylabel(f"temperature, {display('temp_c', degrees=degrees)[0]}")


def _move(a, n):
    hide_all(a)
    if n.frame[0] == "nothing":
        a.words["note"].put(0.0, 0.6, "\n".join(textwrap.wrap(n.said, 60)))
        return
    _, far, _, degrees = n.frame
    up = a.axes.get_ylim()[1]
    for key, (x, y) in n.curves.items():
        show_line(a.lines[key], x, shown("temp_c", y, degrees=degrees))
    at = np.array([(t, shown("temp_c", c, degrees=degrees)) for t, c, _ in n.passed]).reshape(-1, 2)
    show_line(a.dots, *at.T)
    a.words["title"].put(0, 1.06 * up, "The sensor off, the power on" + (f". {n.lent}" if n.lent else ""))
    if np.isfinite(n.opens_min) and n.opens_min <= far:
        show_line(a.opens, [n.opens_min] * 2, [0, up])
        a.words["opens"].put(n.opens_min, 0.03 * up, " cut-out opens")
    _names(a, n, far, up)


def _names(a, n, far, up):
    """Words at the right of the picture, a line for each curve, then the limits that are passed."""
    line, step, left = 0.97, 0.085, 1.03 * far
    for key, (_, y) in n.curves.items():
        dash = {"held": "━", "entry": "– ·", "read": "- -", "cut": "· · ·"}.get(key, "—")
        far_c = y[-1] if key == "read" else y.max()
        a.words[key].put(left, line * up, f"{dash} {n.words[key]}, to {say('temp_c', far_c, degrees=n.degrees)}")
        line -= step
    line -= step / 2
    passed = [words for _, _, words in n.passed]
    told = [f"• past its limit: {words}" for words in passed[:MOST]]
    told += [f"• and {len(passed) - MOST} more"] if len(passed) > MOST else []
    lines = [line for text in told for line in textwrap.wrap(text, 36, subsequent_indent="   ")]
    for k, text in enumerate(lines[:LINES]):
        a.words[f"passed {k}"].put(left, (line - 0.75 * step * k) * up, text)


def _numbers(build, result, rest=False):
    return runaway(build, result)


SENSOR_OFF = Drawing(_numbers, _lay, _frame, _move, runaway_caption, HEIGHT_IN)
