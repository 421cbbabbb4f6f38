"""The heat break drawn: the unrolled wall with its lines of heat, over the temperature along the same tube."""

import textwrap
from dataclasses import dataclass

import numpy as np
from matplotlib.collections import LineCollection, PolyCollection
from matplotlib.lines import Line2D
from matplotlib.patches import Rectangle

from ...basics.names import display, say, shown
from ..drawing.layout import axes_at, blank, hide_all, show_line
from ..drawing.live_picture import Drawing
from ..drawing.moving_labels import Label
from ..drawing.style import COPPER, DARK_COPPER, FAINT, INK, PAPER, PLAIN, SKY, STEEL, hatching, keep_out
from .numbers import break_caption, break_numbers

HEIGHT_IN, WALL_IN = 5.2, 2.55


@dataclass(frozen=True)
class _Artists:
    wall: object
    axes: object
    metal: object
    lines: object
    holes: object
    zone: tuple
    curves: dict
    entry: tuple
    words: dict
    moving: tuple
    labels: tuple


def _lay(figure, place):
    wall = axes_at(figure, place, 0.75, place[3] - WALL_IN, place[2] - 1.0, WALL_IN - 0.35)
    axes = axes_at(figure, place, 0.75, 0.5, place[2] - 1.0, place[3] - WALL_IN - 0.62)
    wall.grid(False)
    metal = Rectangle((0, 0), 0, 0, facecolor=STEEL, edgecolor="none", zorder=0.5)
    wall.add_patch(metal)
    lines = LineCollection([], colors=DARK_COPPER, linewidths=0.9, animated=True)
    holes = PolyCollection([], facecolors=PAPER, edgecolors=INK, linewidths=1.0, animated=True)
    for thing in (lines, holes):
        wall.add_collection(thing)
    zone = keep_out()
    curves = {
        "whole tube": Line2D([], [], color=FAINT, ls=(0, (5, 2)), lw=1.8, animated=True),
        "with holes": Line2D([], [], color=COPPER, lw=2.2, animated=True),
    }
    entry = (
        Line2D([], [], color=SKY, lw=1.2, ls=(0, (2, 2)), animated=True),
        Line2D([], [], color=SKY, lw=1.2, ls=(0, (2, 2)), animated=True),
    )
    for artist in (*zone, *curves.values(), entry[0]):
        axes.add_artist(artist)
    wall.add_artist(entry[1])
    words = {
        "title": Label(wall, size=PLAIN, bold=True, box=False),
        "handle": Label(wall, color=SKY, bold=True),
        "zone": Label(axes, bold=True, va="top"),
        "whole": Label(axes, color=FAINT, bold=True),
        "holes": Label(axes, color=COPPER, bold=True),
        "note": Label(axes, ha="center", size=PLAIN),
        "refused": Label(wall, ha="center", size=PLAIN, bold=True),
    }
    return _Artists(
        wall,
        axes,
        metal,
        lines,
        holes,
        zone,
        curves,
        entry,
        words,
        (*zone, *entry, *curves.values(), lines, holes),
        tuple(words.values()),
    )


def _frame(a, n):
    if n.frame[0] == "nothing":
        for axes in (a.wall, a.axes):
            axes.set_axis_off()
        blank(a.axes)
        a.metal.set_bounds(0, 0, 0, 0)
        return
    _, near, far, round_m, top, units, degrees = n.frame
    for axes in (a.wall, a.axes):
        axes.set_axis_on()
    unit, size = display("length_m", units=units)
    hot, _ = display("temp_c", degrees=degrees)
    a.wall.set_xlim(near / size, far / size)
    box = a.wall.get_window_extent()
    tall = max((far - near) / size * box.height / box.width, round_m / size)
    a.wall.set_ylim(round_m / size / 2 - tall / 2, round_m / size / 2 + tall / 2)
    if tall <= round_m / size * 1.0001:  # a stout tube: the same scale both ways by showing less of it
        wide = round_m / size * box.width / box.height
        middle = (near + far) / 2 / size
        a.wall.set_xlim(middle - wide / 2, middle + wide / 2)
    a.metal.set_bounds(near / size, 0, (far - near) / size, round_m / size)
    for thing in (a.lines, a.holes):
        thing.set_clip_path(a.metal)
    a.wall.set_ylabel(f"round the tube, {unit}")
    a.wall.set_yticks([0, round(round_m / size / 2, 1 if size < 0.02 else 2), round(round_m / size, 1)])
    a.wall.tick_params(labelbottom=False)
    a.axes.set_xlim(*a.wall.get_xlim())
    a.axes.set_ylim(0, shown("temp_c", top, degrees=degrees))
    a.axes.set_xlabel(f"along the tool from the tip, {unit}")
    a.axes.set_ylabel(f"tube, {hot}")


def _move(a, n):
    hide_all(a)
    if n.frame[0] == "nothing":
        a.words["note"].put(0.5, 0.7, _folded(n.said))
        return
    _, near, far, round_m, top, units, degrees = n.frame
    _, size = display("length_m", units=units)
    low, high = a.axes.get_xlim()
    up = shown("temp_c", top, degrees=degrees)
    a.lines.set_segments([line / size for line in n.lines])
    a.holes.set_verts([hole / size for hole in n.holes])
    for artist in (a.lines, a.holes):
        artist.set_visible(True)
    limit = shown("temp_c", n.handle[1], degrees=degrees)
    start, end = n.handle[0] / size, min(far / size, high)
    box, dpi = a.axes.get_window_extent(), a.axes.figure.dpi
    wide_in, tall_in = box.width / dpi, box.height / dpi
    per_in = (high - low) / wide_in
    a.zone[0].set_bounds(start, limit, end - start, up - limit)
    x, y = hatching((start - low) / per_in, (end - low) / per_in, tall_in * max(0.0, up - limit) / up)
    a.zone[1].set_data(x * per_in + low, limit + y * up / tall_in)
    a.entry[0].set_data([start, start], [0, up])
    a.entry[1].set_data([start, start], [0, round_m / size])
    for artist in (*a.zone, *a.entry):
        artist.set_visible(True)
    for word, x, t in n.curves:
        show_line(a.curves[word], x / size, shown("temp_c", t, degrees=degrees))
    _names(a, n, start, end)


def _names(a, n, start, end):
    way = {"degrees": n.degrees}
    low, high = a.axes.get_xlim()
    up, wide = shown("temp_c", n.frame[4], **way), high - low
    a.words["title"].put(low, a.wall.get_ylim()[1], f"The wall unrolled: {n.told}", va="bottom")
    room = start + 0.2 * wide < high  # or else as far right as it goes
    x, ha = (start + 0.008 * wide, "left") if room else (high, "right")
    a.words["handle"].put(x, a.wall.get_ylim()[0] + 0.07 * np.ptp(a.wall.get_ylim()), "under the handle", ha=ha)
    a.words["zone"].put(
        end, 0.985 * up, f"too hot for wood for years,\n{say('temp_c', n.handle[1], **way)}", ha="right"
    )
    if n.said:
        shown_from, shown_to = a.wall.get_ylim()
        a.words["refused"].put((low + high) / 2, (shown_from + shown_to) / 2, "refused: these holes cannot be drilled")
    for key, k, dash, place in (("whole", 0, "- -", 0.2), ("holes", 1, "—", 0.09))[: len(n.curves)]:
        word = n.curves[k][0]
        a.words[key].put(
            low + 0.02 * wide, place * up, f"{dash} {word}: {say('entry_c', n.entries[k], **way)} at the handle"
        )


def _folded(text, wide=90):
    return "\n".join(textwrap.wrap(text, wide))


def _numbers(build, result, rest=False):
    return break_numbers(build, result)


BREAK = Drawing(_numbers, _lay, _frame, _move, break_caption, HEIGHT_IN)
