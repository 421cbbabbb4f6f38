"""Power against length of wire, on this supply: where today's coil stands, and where not to go."""

from dataclasses import dataclass

import numpy as np
from matplotlib.lines import Line2D

from ...basics.names import display, say, shown
from ..drawing.layout import blank, only_a_note, show_band, show_line, two_scales
from ..drawing.live_picture import Drawing
from ..drawing.moving_labels import Label
from ..drawing.style import COPPER, INK, PLAIN, SKY, hatching, keep_out, likely_range
from .length_numbers import length_caption, length_numbers, today_words

HEIGHT_IN = 2.95


@dataclass(frozen=True)
class _Artists:
    axes: object
    amps: object
    band: object
    zones: tuple
    inches: tuple
    lines: dict
    words: dict
    moving: tuple
    labels: tuple


def _lay(figure, place):
    axes, amps, inches = two_scales(figure, place, "power in the coil, W", "current, A (dashed)")
    zones = [(*keep_out(), Label(axes, ha="center", va="top", bold=True)) for _ in range(4)]
    band = likely_range()
    lines = {
        "wanted": Line2D([], [], color=INK, lw=1.1, ls=(0, (1, 2))),
        "amps": Line2D([], [], color=SKY, lw=1.6, ls=(0, (6, 3))),
        "curve": Line2D([], [], color=COPPER, lw=2.4),
        "drop": Line2D([], [], color=INK, lw=0.9, ls=(0, (1, 2))),
        "amps_now": Line2D([], [], color=SKY, marker="s", ms=5.5, ls="", mfc="white", mew=1.6),
        "now": Line2D([], [], color=INK, marker="o", ms=9, ls="", mfc=COPPER, mew=1.8),
    }
    words = {
        "wanted": Label(axes, ha="right"),
        "curve": Label(axes, color="#9a4510", bold=True),
        "amps": Label(amps, color=SKY, ha="right"),
        "now": Label(axes, bold=True, size=PLAIN),
        "note": Label(axes, ha="center", size=PLAIN),
    }
    boxes = [artist for box, hatch, _ in zones for artist in (box, hatch)]
    for artist in (*boxes, band, *lines.values()):
        artist.set_animated(True)
        (amps if artist in (lines["amps"], lines["amps_now"]) else axes).add_artist(artist)
    order = [*boxes, band, *lines.values()]
    return _Artists(
        axes, amps, band, tuple(zones), inches, lines, words, tuple(order), (*[w for *_, w in zones], *words.values())
    )


def _frame(a, n):
    shows = n.frame[0] == "curve"
    a.axes.set_axis_on() if shows else a.axes.set_axis_off()
    a.amps.set_axis_on() if shows else a.amps.set_axis_off()
    if not shows:
        blank(a.axes)
        return
    _, far, top, most_a, units = n.frame
    unit, size = display("length_m", units=units)
    a.axes.set_xlabel(f"length of wire that heats, {unit}")
    a.axes.set_xlim(0, far / size)
    a.axes.set_ylim(0, top)
    a.amps.set_ylim(0, most_a)


def _move(a, n):
    if only_a_note(a, n):
        return
    _, far_m, top, most_a, units = n.frame
    far = shown("length_m", far_m, units=units)
    x = shown("length_m", n.length_m, units=units)
    show_line(a.lines["curve"], x, n.coil_w)
    show_line(a.lines["amps"], x, n.load_a)
    _zones(a, n, far, top)
    if n.band is not None:
        at, low, high = n.band
        at = shown("length_m", at, units=units)
        show_band(a.band, at, low, high)
    now, now_w, now_a = shown("length_m", n.today[0], units=units), n.today[1], n.today[2]
    show_line(a.lines["drop"], [now, now, 0], [0, now_w, now_w])
    show_line(a.lines["now"], [now], [now_w])
    show_line(a.lines["amps_now"], [now], [now_a])
    if np.isfinite(n.wanted_w) and n.wanted_w <= top:
        show_line(a.lines["wanted"], [0, far], [n.wanted_w] * 2)
        a.words["wanted"].put(far * 0.995, n.wanted_w, f"wanted {say('wanted_w', n.wanted_w)}")
    _name_lines(a, n, x, far, top, most_a)


def _zones(a, n, far, top):
    tall_in, wide_in = a.inches
    named = []  # (left, right, line) of names that lie flat
    for k, ((box, hatch, words), zone) in enumerate(zip(a.zones, n.zones)):
        low = 0.0 if zone.low_m <= n.length_m[0] else shown("length_m", zone.low_m, units=n.units)
        high = min(far, shown("length_m", zone.high_m, units=n.units))
        box.set_bounds(low, 0, high - low, top)
        x, y = hatching(low / far * wide_in, high / far * wide_in, tall_in, rising=k % 2 == 0)
        hatch.set_data(x * far / wide_in, y * top / tall_in)
        box.set_visible(True)
        hatch.set_visible(True)
        wide = 0.0104 * far  # about the width of a letter
        two = (
            zone.name.replace(" ", "\n", 1)
            if len(zone.name) < 14
            else "\n".join(zone.name.rsplit(" ", 2)[:1] + [" ".join(zone.name.rsplit(" ", 2)[1:])])
        )
        text = next(
            (t for t in (zone.name, two) if max(map(len, t.split("\n"))) * wide + 0.01 * far < high - low), None
        )
        middle, half = (low + high) / 2, wide * max(map(len, (text or "").split("\n"))) / 2
        line = 1 + max((at for left, right, at in named if left < middle + half and middle - half < right), default=-1)
        if text is not None:
            named.append((middle - half, middle + half, line))
        words.put(middle, (0.985 - 0.09 * line * (text is not None)) * top, text or zone.name, upright=text is None)


def _name_lines(a, n, x, far, top, most_a):
    def above(low, high):
        """Height that is free of the curve and its band between two shares of the width."""
        reach = (n.length_m >= low * n.frame[1]) & (n.length_m <= high * n.frame[1])
        heights = [np.max(n.coil_w[reach], initial=0)]
        if n.band is not None:
            heights.append(np.max(np.interp(n.length_m[reach], n.band[0], n.band[2]), initial=0))
        return min(max(heights) + 0.075 * top, 0.86 * top)

    share, units = n.today[0] / n.frame[1], n.units
    right = share < 0.62
    low, high = (share, share + 0.36) if right else (share - 0.36, share)
    y = above(low + 0.02 * right, high)
    if abs(y - n.wanted_w) < 0.06 * top:
        y = n.wanted_w + 0.075 * top
    if not n.today[1] > 0:  # where the supply trips: beside its point, below the names of the zones
        y = 0.07 * top
    a.words["now"].put(
        (low + 0.015 if right else high - 0.015) * far,
        y,
        f"today: {say('length_m', n.today[0], units=units)}, {today_words(n)}",
        ha="left" if right else "right",
    )
    low = 0.14 if share > 0.42 else 0.6
    height = above(low, low + 0.26) - 0.015 * top
    if abs(height - y) < 0.085 * top:
        height = y + 0.095 * top
    a.words["curve"].put((low + 0.01) * far, height, "power" if n.band is None else "power, with its likely range")
    heights = n.load_a / most_a
    high = np.flatnonzero(heights >= 0.155)
    if heights[-1] >= 0.155:  # the current is named at its right end, else where it is high enough
        at = int(np.searchsorted(x, 0.93 * far))
        a.words["amps"].put(x[at], (heights[at] - 0.065) * most_a, "current", ha="right")
    elif len(high) and x[high[-1]] > 0.12 * far:
        a.words["amps"].put(x[high[-1]] - 0.005 * far, 0.09 * most_a, "current", ha="right")


LENGTH = Drawing(length_numbers, _lay, _frame, _move, length_caption, HEIGHT_IN)
