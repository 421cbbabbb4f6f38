"""The stack cut across: a wedge of the tool to scale, over the temperature along its radius with each layer's
rating.
"""

from dataclasses import dataclass

import numpy as np
from matplotlib.collections import PolyCollection
from matplotlib.lines import Line2D

from ...basics.names import display, say, shown
from ..drawing.layout import axes_at, blank, only_a_note, show_line
from ..drawing.live_picture import Drawing
from ..drawing.moving_labels import Label
from ..drawing.style import COPPER, INK, PLAIN, SHADES, SKY, shade_of
from .stack_numbers import stack_caption, stack_numbers

HEIGHT_IN, WEDGE_IN, MOST = 4.5, 1.75, 12
ARC = np.linspace(-1.0, 1.0, 15)


@dataclass(frozen=True)
class _Artists:
    wedge: object
    axes: object
    rings: object
    outline: object
    profile: object
    limits: tuple
    wire: object
    words: dict
    moving: tuple
    labels: tuple


def _lay(figure, place):
    wedge = axes_at(figure, place, 0.72, place[3] - WEDGE_IN - 0.28, place[2] - 1.0, WEDGE_IN)
    wedge.axis("off")
    axes = axes_at(figure, place, 0.72, 0.5, place[2] - 1.0, place[3] - WEDGE_IN - 0.95)
    rings = PolyCollection([], edgecolors="none", animated=True)
    wedge.add_collection(rings)
    outline = Line2D([], [], color=INK, lw=0.9, animated=True)
    wedge.add_artist(outline)
    profile = Line2D([], [], color=INK, lw=2.0, animated=True)
    limits = tuple(Line2D([], [], color=SKY, lw=2.4, ls=(0, (5, 2)), animated=True) for _ in range(4))
    wire = Line2D([], [], color=COPPER, marker="o", ms=9, ls="", mfc="white", mew=2.2, animated=True)
    for artist in (profile, *limits, wire):
        axes.add_artist(artist)
    words = {f"ring {i}": Label(wedge, ha="center", va="bottom", box=False) for i in range(MOST)}
    words |= {f"limit {i}": Label(axes, ha="center", color=SKY, bold=True) for i in range(4)}
    words |= {
        "wire": Label(axes, color=COPPER, bold=True, size=PLAIN),
        "note": Label(axes, ha="center", size=PLAIN),
        "title": Label(wedge, size=PLAIN, bold=True, box=False),
    }
    return _Artists(
        wedge,
        axes,
        rings,
        outline,
        profile,
        limits,
        wire,
        words,
        (rings, outline, profile, *limits, wire),
        tuple(words.values()),
    )


def _frame(a, n):
    if n.frame[0] == "nothing":
        a.axes.set_axis_off()
        blank(a.axes)
        return
    _, near, far, top, units, degrees = n.frame
    a.axes.set_axis_on()
    unit, size = display("length_m", units=units)
    hot, _ = display("temp_c", degrees=degrees)
    pad = 0.02 * (far - near)
    for axes in (a.axes, a.wedge):
        axes.set_xlim((near - pad) / size, (far + pad) / size)
    a.axes.set_ylim(0, shown("temp_c", top, degrees=degrees))
    a.axes.set_xlabel(f"distance from the axis, {unit}")
    a.axes.set_ylabel(f"temperature, {hot}")
    box = a.wedge.get_window_extent()
    tall = box.height / box.width * (far - near + 2 * pad) / size  # one scale along and across
    a.wedge.set_ylim(-0.33 * tall, 0.67 * tall)


def _move(a, n):
    if only_a_note(a, n):
        return
    _, near, far, top, units, degrees = n.frame
    _, size = display("length_m", units=units)
    low, high = a.wedge.get_ylim()
    half = min(0.3 * (high - low) * size / far, 0.5)  # the angle of the wedge that fits
    verts, colours, x, t, edges = [], [], [], [], []
    for r in n.rings:
        inner = max(r.inner_m, near)
        steps = np.linspace(inner, r.outer_m, 9 if r.inner_c != r.outer_c else 2)
        at = np.interp(steps, [r.inner_m, r.outer_m], [r.inner_c, r.outer_c])
        edge = _arc(r.outer_m, half, size)[::-1]
        for p, c in zip(steps, (at[1:] + at[:-1]) / 2):  # each over the last, to the outer edge: no seam shows
            verts.append(np.concatenate([_arc(p, half, size), edge]))
            colours.append((1, 1, 1, 1) if r.kind == "air" else SHADES(shade_of(c)))
        edges += [
            _arc(inner, half, size),
            np.full((1, 2), np.nan),
            _arc(r.outer_m, half, size),
            np.full((1, 2), np.nan),
        ]
        x += list(steps / size)
        t += list(shown("temp_c", at, degrees=degrees))
    a.rings.set_verts(verts)
    a.rings.set_facecolor(colours)
    line = np.concatenate(edges)
    a.outline.set_data(line[:, 0], line[:, 1])
    a.profile.set_data(x, t)
    a.wire.set_data([n.wire[0] / size], [shown("temp_c", n.wire[1], degrees=degrees)])
    for artist in (a.rings, a.outline, a.profile, a.wire):
        artist.set_visible(True)
    _name(a, n, size, top, near, far, high)


def _arc(radius, half, size):
    angle = half * ARC
    return np.stack([radius * np.cos(angle), radius * np.sin(angle)], axis=1) / size


def _name(a, n, size, top, near, far, high):
    """Rings by name, in two rows where they stand close; ratings over the layers they belong to."""
    a.words["title"].put(
        (near - 0.02 * (far - near)) / size, high * 1.16, "Cut across where the winding is hottest, to scale", va="top"
    )
    rings = [r for r in n.rings if r.kind != "air"][:MOST]
    ends, wide = [-np.inf] * 3, (far - near) / size
    for i, r in enumerate(rings):
        x = (max(r.inner_m, near) + r.outer_m) / 2 / size
        w = 0.0125 * (len(r.word) + 1) * wide
        row = next((k for k in range(3) if x - w / 2 > ends[k]), 2)
        ends[row] = x + w / 2
        a.words[f"ring {i}"].put(x, high * (0.56 + 0.15 * row), r.word)
    spots, tall = 0, shown("temp_c", top, degrees=n.degrees)
    xs, ts = a.profile.get_data()
    for r in n.rings:
        if r.kind != "layer" or not np.isfinite(r.limit_c) or spots == 4:
            continue
        beyond = r.limit_c > top
        y = shown("temp_c", min(r.limit_c, 0.955 * top), degrees=n.degrees)
        if not beyond:
            show_line(a.limits[spots], [r.inner_m / size, r.outer_m / size], [y, y])
        left = r.outer_m < n.wire[0]
        x = (r.inner_m - 0.01 * (far - near) if left else r.outer_m + 0.01 * (far - near)) / size
        if not beyond:  # keep the words off the curve
            beside = np.interp(x + (-0.1 if left else 0.1) * wide, xs, ts)
            y = beside + np.copysign(max(abs(y - beside), 0.065 * tall), y - beside)
        a.words[f"limit {spots}"].put(
            x,
            y,
            ("▲ " if beyond else "") + f"rated {say('limit_c', r.limit_c, degrees=n.degrees)}: {r.state}",
            ha="right" if left else "left",
        )
        spots += 1
    at = shown("temp_c", n.wire[1], degrees=n.degrees)
    crowded = any(
        0.02 * tall < shown("temp_c", r.limit_c, degrees=n.degrees) - at < 0.16 * tall
        for r in n.rings
        if np.isfinite(r.limit_c)
    )
    a.words["wire"].put(
        n.wire[0] / size,
        np.interp(n.wire[0] / size, xs, ts) - 0.085 * tall if crowded else at + 0.085 * tall,
        f"wire {say('wire_c', n.wire[1], degrees=n.degrees)}",
        ha="center",
    )


def _numbers(build, at, rest=False):
    return stack_numbers(build, at)


STACK = Drawing(_numbers, _lay, _frame, _move, stack_caption, HEIGHT_IN, shaded=True)
