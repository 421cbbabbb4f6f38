"""The coil to scale, seen from the side: former, insulation, every turn, and what does not fit."""

from dataclasses import dataclass

import numpy as np
from matplotlib.lines import Line2D
from matplotlib.patches import Rectangle

from ...basics.names import digits, display, say, shown
from ...chain.wire.fit_verdicts import size_words
from ..drawing.layout import blank, hide_all
from ..drawing.live_picture import Drawing
from ..drawing.moving_labels import Label
from ..drawing.style import COPPER, CREAM, DARK_COPPER, FAINT, INK, PAPER, PLAIN, SMALL, STEEL, coarse_up
from .coil_numbers import coil_caption, coil_numbers

HEIGHT_IN = 1.95
MIDDLE_IN = 0.98  # the coil's axis above the bottom
MOST_TURNS = 400


@dataclass(frozen=True)
class _Artists:
    axes: object
    place: tuple
    bar: object
    bar_words: object
    solid: dict
    lines: dict
    words: dict
    moving: tuple
    labels: tuple


def _lay(figure, place):
    width, height = figure.get_size_inches()
    axes = figure.add_axes((place[0] / width, place[1] / height, place[2] / width, place[3] / height))
    axes.set_axis_off()
    solid = {
        "core": Rectangle((0, 0), 0, 0, facecolor=STEEL, edgecolor=INK, lw=0.8),
        "upper": Rectangle((0, 0), 0, 0, facecolor=CREAM, edgecolor=FAINT, lw=0.6),
        "lower": Rectangle((0, 0), 0, 0, facecolor=CREAM, edgecolor=FAINT, lw=0.6),
        "dense": Rectangle((0, 0), 0, 0, facecolor=COPPER, edgecolor=DARK_COPPER, lw=0.5, hatch="||||"),
        "left": Rectangle((0, 0), 0, 0, facecolor=STEEL, edgecolor=INK, lw=0.8),
        "right": Rectangle((0, 0), 0, 0, facecolor=STEEL, edgecolor=INK, lw=0.8),
        "over": Rectangle((0, 0), 0, 0, facecolor="none", edgecolor=INK, lw=0.9, hatch="////"),
        "bore above": Rectangle((0, 0), 0, 0, facecolor=PAPER + "99", edgecolor=INK, lw=0.9, hatch="xxxx"),
        "bore below": Rectangle((0, 0), 0, 0, facecolor=PAPER + "99", edgecolor=INK, lw=0.9, hatch="xxxx"),
    }
    lines = {
        name: Line2D([], [], color=color, solid_capstyle="butt", solid_joinstyle="round")
        for name, color in (
            ("anchor_edge", INK),
            ("anchor", DARK_COPPER),
            ("wire_edge", DARK_COPPER),
            ("wire", COPPER),
            ("room", FAINT),
            ("winding", INK),
        )
    }
    for name in ("room", "winding"):
        lines[name].set_linewidth(0.9)
    words = {
        "title": Label(axes, size=PLAIN, box=False, bold=True),
        "winding": Label(axes, ha="center"),
        "room": Label(axes, ha="center", color=FAINT),
        "over": Label(axes, bold=True, ha="center"),
        "bore": Label(axes, bold=True, ha="center"),
        "free": Label(axes, color=FAINT),
        "note": Label(axes, size=PLAIN, ha="center"),
    }
    for artist in (*solid.values(), *lines.values()):
        artist.set_animated(True)
        axes.add_artist(artist)
    bar = Line2D([], [], color=INK, lw=2.2, solid_capstyle="butt")
    axes.add_artist(bar)
    bar_words = axes.text(0, 0, "", size=SMALL, ha="right", va="center")
    order = [solid[k] for k in ("core", "upper", "lower", "left", "right")] + [
        lines["anchor_edge"],
        lines["anchor"],
        solid["dense"],
        lines["wire_edge"],
        lines["wire"],
        solid["over"],
        solid["bore above"],
        solid["bore below"],
        lines["room"],
        lines["winding"],
    ]
    return _Artists(axes, place, bar, bar_words, solid, lines, words, tuple(order), tuple(words.values()))


def _frame(a, n):
    for artist in (a.bar, a.bar_words):
        artist.set_visible(n.kind != "nothing")
    if n.kind == "nothing":
        blank(a.axes)
        return
    _, view_m, per_in, units = n.frame
    middle = view_m / 2
    a.axes.set_xlim(middle - a.place[2] / 2 * per_in, middle + a.place[2] / 2 * per_in)
    a.axes.set_ylim(-MIDDLE_IN * per_in, (a.place[3] - MIDDLE_IN) * per_in)
    unit, size = display("length_m", units=units)
    long_m = coarse_up(0.9 * per_in / size, (1, 2, 5, 10)) * size
    right, low = middle + (a.place[2] / 2 - 0.2) * per_in, -(MIDDLE_IN - 0.14) * per_in
    a.bar.set_data([right - long_m, right], [low, low])
    a.bar_words.set_position((right - long_m - 0.08 * per_in, low))
    a.bar_words.set_text(f"scale: {digits(long_m / size, 1)} {unit}")


def half_turns(turns, pitch_m, diameter_m, start_m, most_points=2400):
    """The visible front halves of a winding's turns, as one broken line.

    turns: number of turns. pitch_m: advance of a turn. diameter_m: mean diameter. start_m: where
    the wire's centre starts. most_points: how fine.
    Returns (x, y) arrays in m with nan between the turns; the wire runs down on the front.
    """
    points = int(np.clip(most_points / max(turns, 1), 3, 13))
    share = np.minimum(np.linspace(0, 0.5, points), np.maximum(0, turns - np.arange(np.ceil(turns)))[:, None])
    x = start_m + (np.arange(len(share))[:, None] + share) * pitch_m
    y = diameter_m / 2 * np.cos(2 * np.pi * share)
    gap = np.full((len(share), 1), np.nan)
    return np.hstack([x, gap]).ravel(), np.hstack([y, gap]).ravel()


def _dimension(x0, x1, y, tick):
    return ([x0, x0, x0, x1, x1, x1], [y - tick, y + tick, y, y, y - tick, y + tick])


def _move(a, n):
    hide_all(a)
    if n.kind == "nothing":
        a.words["note"].put(0.5, 0.5, n.said)
    elif n.kind == "straight":
        _straight(a, n)
    else:
        _wound(a, n)


def _box(a, name, x, y, wide, high):
    a.solid[name].set_bounds(x, y, wide, high)
    a.solid[name].set_visible(True)


def _line(a, name, xy, width=None):
    a.lines[name].set_data(*xy)
    if width is not None:
        a.lines[name].set_linewidth(width)
    a.lines[name].set_visible(True)


def _straight(a, n):
    _, view_m, per_in, units = n.frame
    start = (view_m - n.wire_m) / 2
    end, width = start + n.wire_m, 72 * n.thick_m / per_in
    for name, x in (("left", start - 0.1 * per_in), ("right", end)):
        _box(a, name, x, -0.16 * per_in, 0.1 * per_in, 0.32 * per_in)
    _line(a, "wire", ([start, end], [0, 0]), max(width, 1.0))
    _line(a, "winding", _dimension(start, end, 0.36 * per_in, 0.06 * per_in))
    a.words["winding"].put((start + end) / 2, 0.36 * per_in, f"wire {say('length_m', n.wire_m, units=units)}")
    a.words["title"].put(
        view_m / 2 - 3.95 * per_in,
        0.82 * per_in,
        f"Stretched wire, length to scale: {say('diameter_m', n.thick_m, units=units)} thick, between two clamps",
    )
    if width < 1:
        a.words["free"].put(
            view_m / 2 - 3.95 * per_in,
            -(MIDDLE_IN - 0.14) * per_in,
            f"drawn {digits(1 / width, 2)} times too thick, to be seen at all",
        )


def _wound(a, n):
    _, view_m, per_in, units = n.frame
    left = view_m / 2 - 3.95 * per_in
    radius, deep = n.former_m / 2, (n.former_m - n.core_m) / 2
    _box(a, "core", 0, -n.core_m / 2, n.former_length_m, n.core_m)
    if deep > 0:
        for name, y in (("upper", n.core_m / 2), ("lower", -radius)):
            _box(a, name, 0, y, n.former_length_m, deep)
    width, mean = 72 * n.across_m / per_in, n.former_m + n.thick_m
    if n.layers > 1:
        mean += 2 * (n.layers - 1) * n.thick_m  # the outermost layer is seen
    per_layer = n.turns / n.layers
    if n.anchor_turns:
        x, y = half_turns(n.anchor_turns, n.across_m, n.former_m + n.thick_m, n.ends_m + n.across_m / 2)
        shift = n.end_m - n.ends_m
        xy = np.concatenate([x, x + shift]), np.concatenate([y, y])
        _line(a, "anchor_edge", xy, width)
        _line(a, "anchor", xy, max(width - 0.9, 0.4 * width))
    if per_layer > MOST_TURNS or width < 0.35:
        _box(a, "dense", n.start_m, -mean / 2, n.end_m - n.start_m, mean)
    else:
        xy = half_turns(per_layer, max(n.pitch_m, n.across_m), mean, n.start_m + n.across_m / 2)
        _line(a, "wire_edge", xy, width)
        _line(a, "wire", xy, max(width - 0.9, 0.4 * width))
    above, below = max(mean + n.thick_m, n.former_m) / 2 + 0.13 * per_in, -(radius + 0.15 * per_in)
    edge = view_m / 2 + 3.95 * per_in
    seen = min(n.end_m, edge)
    _line(a, "winding", _dimension(n.start_m, n.end_m, above, 0.04 * per_in))
    way = {"units": units}
    near = "turns would overlap" if n.overlaps else "turns touch"
    gap = near if n.pitch_m <= n.across_m * 1.001 else f"pitch {say('pitch_m', n.pitch_m, **way)}"
    a.words["winding"].put(
        (n.start_m + seen) / 2,
        above,
        f"winding {say('winding_m', n.end_m - n.start_m, **way)}: "
        f"{digits(n.turns)} turns, {gap}" + (f", {n.layers:g} layers" if n.layers > 1 else ""),
    )
    _line(a, "room", _dimension(n.start_m, n.room_end_m, below, 0.04 * per_in))
    a.words["room"].put((n.start_m + n.room_end_m) / 2, below, f"room for it {say('room_m', n.room_m, **way)}")
    if n.over_m:
        _box(a, "over", n.room_end_m, -radius - 0.04 * per_in, n.end_m - n.room_end_m, 2 * radius + 0.08 * per_in)
        a.words["over"].put(
            (n.room_end_m + seen) / 2,
            below - 0.16 * per_in,
            f"does not fit: {say('length_m', n.over_m, **way)} too long" + (" (goes on)" if seen < n.end_m else ""),
        )
    if n.tube:
        _too_narrow(a, n, per_in)
    anchors = f", then {digits(n.anchor_turns, 1)} anchor turns" if n.anchor_turns else ""
    a.words["free"].put(left, -(MIDDLE_IN - 0.14) * per_in, f"each end: {shown_mm(n.ends_m, units)} kept free{anchors}")
    wrap = f" with {n.insulation}" if n.insulation else ""
    a.words["title"].put(
        left,
        0.82 * per_in,
        f"The coil to scale: {n.said} {say('diameter_m', n.core_m, **way)} across{wrap}, "
        f"{size_words(n.thick_m, n.across_m, units)}",
    )


def _too_narrow(a, n, per_in):
    """The wall of a tube that the winding would have to pass through, crossed out, and by how much."""
    reach = (n.across_all_m - n.bore_m) / 2 + 0.03 * per_in
    for name, y in (("bore above", n.bore_m / 2), ("bore below", -n.bore_m / 2 - reach)):
        _box(a, name, 0, y, n.former_length_m, reach)
    across, bore = (say("outer_m", x, units=n.units) for x in (n.across_all_m, n.bore_m))
    words = f"does not go into the {n.tube}: {across} across, bore {bore}"
    a.words["bore"].put((n.start_m + n.room_end_m) / 2, 0, words)


def shown_mm(length_m, units):
    """A length in two figures with its unit.  length_m: length. units: "metric" or "inch"."""
    unit, _ = display("length_m", units=units)
    return f"{digits(float(shown('length_m', length_m, units=units)), 2)} {unit}"


COIL = Drawing(coil_numbers, _lay, _frame, _move, coil_caption, HEIGHT_IN)
