"""The hot tool: drawn to scale and shaded by temperature, over the temperature of each part along the axis."""

from dataclasses import dataclass
from textwrap import wrap

import numpy as np
from matplotlib.collections import PolyCollection
from matplotlib.lines import Line2D

from ...basics.names import display, say, shown
from ..drawing.layout import axes_at, blank, only_a_note, show_line
from ..drawing.live_picture import Drawing
from ..drawing.moving_labels import Label
from ..drawing.style import COPPER, DARK_COPPER, FAINT, INK, PLAIN, SHADES, SKY, hatching, keep_out, shade_of
from .numbers import KEYS, heat_caption, heat_numbers, merged

HEIGHT_IN, TOOL_IN, NAMES_IN, MOST_NAMES = 5.6, 2.05, 0.32, 10
LINES = {
    "tip and stem": (INK, "-"),
    "winding": (COPPER, "-"),
    "tube": (SKY, (0, (6, 2))),
    "handle's surface": (FAINT, (0, (2, 2))),
    "work": (DARK_COPPER, (0, (8, 2, 2, 2))),
}
WORDS = {
    "tip and stem": "tip and stem",
    "winding": "winding",
    "tube": "tube",
    "handle's surface": "handle, outside",
    "work": "what is melted",
}


@dataclass(frozen=True)
class _Artists:
    tool: object
    axes: object
    bar: object
    cells: object
    edge: tuple
    zone: tuple
    lines: dict
    marks: object
    entry: object
    words: dict
    moving: tuple
    labels: tuple
    shades: object


def _lay(figure, place):
    tool = axes_at(figure, place, 0.72, place[3] - TOOL_IN, place[2] - 1.55, TOOL_IN - 0.3 - NAMES_IN)
    tool.axis("off")
    bar = axes_at(figure, place, place[2] - 0.62, place[3] - TOOL_IN + 0.05, 0.14, TOOL_IN - 0.42 - 0.3)
    shades = bar.imshow(np.ones((1, 1, 4)), origin="lower", aspect="auto", extent=(0, 1, 0, 1))
    bar.set_xticks([])
    bar.grid(False)
    bar.yaxis.tick_right()
    axes = axes_at(figure, place, 0.72, 0.52, place[2] - 1.55, place[3] - TOOL_IN - 0.72)
    cells = PolyCollection([], edgecolors="face", linewidths=0.3, animated=True)
    edges = PolyCollection([], facecolors="none", edgecolors=INK, linewidths=0.9, animated=True)
    molten = PolyCollection([], facecolors="none", edgecolors=INK, linewidths=1.2, hatch="xxx", animated=True)
    leaders = Line2D([], [], color=FAINT, lw=0.6, clip_on=False, animated=True)
    for artist in (cells, edges, molten):
        tool.add_collection(artist)
    tool.add_artist(leaders)
    zone = keep_out()
    lines = {name: Line2D([], [], color=c, ls=style, lw=2.0, animated=True) for name, (c, style) in LINES.items()}
    marks = Line2D([], [], color=INK, marker="o", ms=7, ls="", mfc="white", mew=1.6, animated=True)
    entry = Line2D([], [], color=FAINT, lw=0.9, ls=(0, (1, 2)), animated=True)
    for artist in (*zone, *lines.values(), marks, entry):
        axes.add_artist(artist)
    words = {name: Label(axes, color=LINES[name][0], bold=True) for name in LINES}
    words |= {f"part {i}": Label(tool, ha="center", va="bottom", bold=True, box=False) for i in range(MOST_NAMES)}
    words |= {"molten": Label(tool, ha="center", va="top", bold=True)}
    words |= {f"mark {i}": Label(axes, bold=True, size=PLAIN) for i in range(4)}
    words |= {
        "zone": Label(axes, ha="center", va="top", bold=True),
        "note": Label(axes, ha="center", size=PLAIN),
        "title": Label(tool, size=PLAIN, bold=True, box=False),
    }
    moving = (*zone, entry, *lines.values(), marks, cells, *(edge := (edges, molten, leaders)))
    return _Artists(
        tool, axes, bar, cells, edge, zone, lines, marks, entry, words, moving, tuple(words.values()), shades
    )


def _frame(a, n):
    a.bar.set_visible(n.frame[0] not in ("nothing", "refused"))
    if n.frame[0] == "nothing":
        a.axes.set_axis_off()
        blank(a.axes)
        return
    if n.frame[0] == "refused":
        a.axes.set_axis_off()
        blank(a.axes)
        _scale(a, *n.frame[1], n.frame[2], display("length_m", units=n.units)[1])
        return
    _, (near, far), wide, top, units, degrees = n.frame
    a.axes.set_axis_on()
    unit, size = display("length_m", units=units)
    hot, _ = display("temp_c", degrees=degrees)
    a.axes.set_xlim(near / size, far / size)
    a.axes.set_ylim(0, shown("temp_c", top, degrees=degrees))
    a.axes.set_xlabel(f"along the tool from the tip, {unit}")
    a.axes.set_ylabel(f"temperature, {hot}")
    _scale(a, near, far, wide, size)
    low, high = (shown("temp_c", t, degrees=degrees) for t in (0, top))
    a.shades.set(data=SHADES(shade_of(np.linspace(0, top, 128)))[:, None], extent=(0, 1, low, high))
    a.bar.set_ylim(low, high)
    a.bar.set_title(hot, size=8)


def _scale(a, near, far, wide, size):
    """The same scale along and across, for a tool from near to far and so wide, m."""
    a.tool.set_xlim(near / size, far / size)
    tall = wide / size
    box = a.tool.get_window_extent()
    scale = box.height / box.width * (far - near) / size
    if tall * 1.05 > scale:  # a stout tool: keep its shape by drawing it smaller
        wider = (far - near) / size * tall * 1.05 / scale
        a.tool.set_xlim(near / size, near / size + wider)
        scale = tall * 1.05
    a.tool.set_ylim(-scale / 2, scale / 2)


def _move(a, n):
    if only_a_note(a, n):
        return
    if n.frame[0] == "refused":
        _refused(a, n)
        return
    _, (near, far), wide, top, units, degrees = n.frame
    _, size = display("length_m", units=units)
    cells, shade = merged(n.cells, shade_of(n.cells[:, 4]))
    x0, x1, r0, r1 = (cells[:, k] / size for k in range(4))
    up = np.stack([np.stack(c, -1) for c in ((x0, r0), (x1, r0), (x1, r1), (x0, r1))], axis=1)
    a.cells.set_verts(np.concatenate([up, up * [1, -1]]))
    a.cells.set_facecolor(np.tile(SHADES(shade), (2, 1)))
    a.cells.set_visible(True)
    _parts(a, n, size)
    for name, x, t in n.curves:
        show_line(a.lines[name], x / size, shown("temp_c", t, degrees=degrees))
    if n.handle is not None:
        _handle(a, n, size, top, near, far)
    _names(a, n, size, top, near, far)


def _halves(o, size):
    """The cut halves of a part, or the one of a rod, as corners."""
    x0, x1, r0, r1 = o.from_m / size, o.to_m / size, o.inner_m / size / 2, o.outer_m / size / 2
    rings = ((r0, r1), (-r1, -r0)) if r0 > 0 else ((-r1, r1),)
    return [[(x0, low), (x1, low), (x1, high), (x0, high)] for low, high in rings]


def _parts(a, n, size):
    """Outlines, names above them at free places in two lines, and what would be molten crossed out."""
    edges, molten, leaders = a.edge
    edges.set_verts([c for o in n.outlines for c in _halves(o, size)])
    edges.set_visible(True)
    melts = [o for o in n.outlines if o.melts_c is not None or o.crossed]
    molten.set_verts([c for o in melts for c in _halves(o, size)])
    molten.set_visible(bool(melts))
    if melts and melts[0].melts_c is not None:
        o = melts[0]
        words = f"{o.id[:24]} molten: it melts from {say('temp_c', o.melts_c, degrees=n.degrees)}"
        a.words["molten"].put((o.from_m + o.to_m) / 2 / size, a.tool.get_ylim()[0], words, va="bottom")
    box, (left, right), (_, top) = a.tool.get_window_extent(), a.tool.get_xlim(), a.tool.get_ylim()
    per_in = (right - left) / box.width * a.tool.figure.dpi
    taken, xs, ys = [], [], []
    for i, o in enumerate(n.outlines[:MOST_NAMES]):
        middle, half = (o.from_m + o.to_m) / 2 / size, (0.036 * len(o.id[:24]) + 0.05) * per_in
        row = next((r for r in (0, 1) if all(abs(middle - m) > half + h or r != k for m, h, k in taken)), None)
        if row is None:
            continue
        taken.append((middle, half, row))
        y = top + (0.02 + 0.15 * row) * per_in
        a.words[f"part {i}"].put(middle, y, o.id[:24])
        under = any(k < row and abs(middle - m) < h for m, h, k in taken[:-1])  # no line through a word
        xs += [middle, middle, np.nan]
        ys += [o.outer_m / size / 2, top if under else y, np.nan]
    show_line(leaders, xs, ys)


def _refused(a, n):
    """The tool that cannot be, in outlines, and why."""
    _, size = display("length_m", units=n.units)
    _parts(a, n, size)
    a.words["note"].put(0.5, 0.8, "\n".join(wrap(n.said, 90)))
    _title(a, n.frame[1][0], size, "Refused: the tool to scale, what cannot be crossed out")


def _title(a, near, size, words):
    box, (left, right) = a.tool.get_window_extent(), a.tool.get_xlim()
    above = a.tool.get_ylim()[1] + NAMES_IN * (right - left) / box.width * a.tool.figure.dpi
    a.words["title"].put(near / size, above, words, va="bottom")


def _handle(a, n, size, top, near, far):
    start, end, limit = n.handle[0] / size, n.handle[1] / size, n.handle[2]
    low, high = (shown("temp_c", t, degrees=n.degrees) for t in (limit, top))
    show_line(a.entry, [start, start], [0, high])
    if low >= high:  # all that is shown is cooler
        return
    a.zone[0].set_bounds(start, low, end - start, high - low)
    box = a.axes.get_window_extent()
    dpi = a.axes.figure.dpi
    wide_in, tall_in = box.width / dpi, box.height / dpi
    per_in = (far - near) / size / wide_in
    x, y = hatching((start - near / size) / per_in, (end - near / size) / per_in, tall_in * (high - low) / high)
    a.zone[1].set_data(x * per_in + near / size, low + y * high / tall_in)
    for artist in a.zone:
        artist.set_visible(True)
    a.words["zone"].put(
        (start + end) / 2, 0.985 * high, f"too hot for wood\nfor years, {say('temp_c', limit, degrees=n.degrees)}"
    )


def _names(a, n, size, top, near, far):
    """Marks and names where nothing is in their way: first the marks, then each curve at its first free place."""
    high, wide = shown("temp_c", top, degrees=n.degrees), (far - near) / size
    lines = [(x / size, shown("temp_c", t, degrees=n.degrees)) for _, x, t in n.curves]
    spots = [(word, x / size, shown("temp_c", t, degrees=n.degrees), t) for word, x, t in n.marks]
    taken = []
    if n.handle is not None:
        middle = (n.handle[0] + n.handle[1]) / 2 / size
        taken.append((middle - 0.11 * wide, middle + 0.11 * wide, 0.89 * high, high))
    if spots:
        show_line(a.marks, [x for _, x, _, _ in spots], [y for _, _, y, _ in spots])
    taken += [(x - 0.006 * wide, x + 0.006 * wide, y - 0.02 * high, y + 0.02 * high) for _, x, y, _ in spots]
    room = _Room(near / size, far / size, high, wide, lines, taken)
    for i, (word, x, y, t) in enumerate(spots):
        text = f"{word} {n.says(KEYS.get(word, 'temp_c'), t)}"
        _name_mark(a.words[f"mark {i}"], room, x, y, text, n.marks[i][1] < 0.6 * far)
    for (name, _, _), (x, y) in zip(n.curves, lines):
        _name_curve(a.words[name], room, x, y, n.names.get(name, WORDS[name]))
    _title(a, near, size, "The tool to scale, darker where hotter")


@dataclass(frozen=True)
class _Room:
    """Where words may stand: the ends of the axes, the curves, and the boxes that are taken, which grow."""

    near: float
    far: float
    high: float
    wide: float
    lines: list
    taken: list

    def free(self, x, y, letters, ha="center", over_lines=True):
        """Whether words of so many letters fit at a place; and if so, take it."""
        w = 0.0118 * letters * self.wide
        left = {"center": x - w / 2, "left": x, "right": x - w}[ha]
        box = (left, left + w, y - 0.034 * self.high, y + 0.034 * self.high)
        if box[0] < self.near - 0.02 * self.wide or box[1] > self.far + 0.02 * self.wide:
            return False
        if not 0.03 * self.high < y < 0.97 * self.high:
            return False
        if any(box[0] < b[1] and b[0] < box[1] and box[2] < b[3] and b[2] < box[3] for b in self.taken):
            return False
        if over_lines and any(
            np.any((lx > box[0]) & (lx < box[1]) & (ly > box[2]) & (ly < box[3])) for lx, ly in self.lines
        ):
            return False
        self.taken.append(box)
        return True


def _name_mark(label, room, x, y, text, in_front):
    """in_front: whether the mark stands far enough from the right end for its words to be tried there first."""
    aside = {"left": 0.012, "right": -0.012, "center": 0.0}
    for step in (0.055, 0.11, -0.06, 0.17, -0.12):
        for ha in (*(("left", "right") if in_front else ("right", "left")), "center"):
            at = x + aside[ha] * room.wide, y + step * room.high
            if room.free(*at, len(text) + 2, ha, over_lines=step < 0.12):
                label.put(*at, text, ha=ha)
                return


def _name_curve(label, room, x, y, text):
    places = (np.array([0.5, 0.8, 0.25, 0.65, 0.35, 0.95, 0.05, 0.15, 0.9]) * (len(x) - 1)).astype(int)
    for step in (0.05, -0.05, 0.1, -0.1, 0.16, -0.16):
        for k in places:
            if x[k] == x[k] and room.free(x[k], y[k] + step * room.high, len(text) + 1):
                label.put(x[k], y[k] + step * room.high, text, ha="center")
                return


def _numbers(build, result, rest=False):
    return heat_numbers(build, result[3])


TOOL = Drawing(_numbers, _lay, _frame, _move, heat_caption, HEIGHT_IN, shaded=True)
