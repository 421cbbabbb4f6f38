"""A warm-up log drawn: readings used and not used, the fitted curve with its band, where it ends, and the residuals
below.
"""

import textwrap
from dataclasses import dataclass

import numpy as np
from matplotlib.lines import Line2D
from matplotlib.patches import Rectangle

from ...basics.names import display, said_number, say, shown
from ..drawing.layout import axes_at, hide_all, show_line
from ..drawing.live_picture import Drawing
from ..drawing.moving_labels import Label
from ..drawing.style import COPPER, DARK_COPPER, FAINT, INK, PLAIN, SKY, coarse_up, likely_range
from .numbers import log_caption, log_numbers

HEIGHT_IN, REST_IN = 5.0, 1.25
REST_STEPS = (1, 2, 5, 10)


@dataclass(frozen=True)
class _Artists:
    axes: object
    rest: object
    used: object
    unused: object
    line: object
    band: object
    wide: object
    bar: object
    mark: object
    limit: object
    dots: object
    scatter: object
    words: dict
    moving: tuple
    labels: tuple


def _lay(figure, place):
    axes = axes_at(figure, place, 0.75, REST_IN + 0.75, place[2] - 1.0, place[3] - REST_IN - 0.95)
    rest = axes_at(figure, place, 0.75, 0.5, place[2] - 1.0, REST_IN - 0.15)
    band = likely_range()
    wide = Rectangle((0, 0), 0, 0, facecolor="none", edgecolor=DARK_COPPER, lw=1.2, ls=(0, (3, 2)), animated=True)
    bar = Rectangle((0, 0), 0, 0, facecolor=COPPER, alpha=0.55, edgecolor="none", animated=True)
    line = Line2D([], [], color=COPPER, lw=1.8, animated=True)
    used = Line2D([], [], color=INK, marker="o", ms=3.6, ls="", mew=0, animated=True)
    unused = Line2D([], [], color=FAINT, marker="o", ms=3.6, ls="", mfc="white", mew=0.9, animated=True)
    mark = Line2D([], [], color=COPPER, marker="D", ms=6, ls="", mec=DARK_COPPER, animated=True)
    limit = Line2D([], [], color=SKY, lw=1.2, ls=(0, (5, 3)), animated=True)
    for artist in (band, wide, bar, line, used, unused, mark, limit):
        axes.add_artist(artist)
    scatter = Rectangle((0, 0), 0, 0, facecolor=COPPER, alpha=0.18, edgecolor="none", animated=True)
    dots = Line2D([], [], color=INK, marker="o", ms=2.8, ls="", mew=0, animated=True)
    rest.add_artist(scatter)
    rest.add_artist(dots)
    words = {
        "end": Label(axes, ha="right", color=DARK_COPPER, bold=True, size=PLAIN),
        "used": Label(axes, color=SKY, bold=True),
        "later": Label(axes, color=FAINT, ha="center"),
        "said": Label(axes, ha="center", size=PLAIN),
        "lent": Label(axes, ha="left", bold=True),
        "rest": Label(rest, ha="left", va="top", size=PLAIN - 1),
        "wide": Label(axes, ha="right", color=DARK_COPPER),
    }
    return _Artists(
        axes,
        rest,
        used,
        unused,
        line,
        band,
        wide,
        bar,
        mark,
        limit,
        dots,
        scatter,
        words,
        (band, wide, bar, unused, used, line, limit, mark, scatter, dots),
        tuple(words.values()),
    )


def _frame(a, n):
    _, far, low, top, degrees = n.frame
    hot, _ = display("temp_c", degrees=degrees)
    gap, _ = display("rise_k", degrees=degrees)
    for axes in (a.axes, a.rest):
        axes.set_xlim(0, far / 60)
    a.axes.set_ylim(shown("temp_c", low, degrees=degrees), shown("temp_c", top, degrees=degrees))
    a.axes.set_ylabel(f"probe, {hot}")
    a.axes.tick_params(labelbottom=False)
    a.rest.set_xlabel("time since the first reading, min")
    a.rest.set_ylabel(f"residual,\n{gap.split(' ')[0]}")
    a.rest.set_ylim(-1.0, 1.0)
    a.rest.set_yticks([0.0])
    a.rest.set_yticklabels(["0"])


def _move(a, n):
    hide_all(a)
    _, far, low, top, degrees = n.frame
    temp = lambda c: shown("temp_c", c, degrees=degrees)  # noqa: E731
    high, bottom = temp(top), temp(low)
    minutes = n.time_s / 60
    show_line(a.used, minutes[n.used], temp(n.temp_c[n.used]))
    if not n.used.all():
        show_line(a.unused, minutes[~n.used], temp(n.temp_c[~n.used]))
    if n.lent:
        a.words["lent"].put(0.01 * far / 60, high, n.lent, va="top")
    if n.said:
        a.words["said"].put(far / 120, bottom + 0.9 * (high - bottom), "\n".join(_lines(n.said)))
        return
    at = n.rest_s[-1] / 60
    show_line(a.line, n.line_s / 60, temp(n.line_c))
    inside = lambda c: np.clip(temp(c), bottom - 0.2 * high, 1.2 * high)  # noqa: E731
    a.band.set_xy(
        np.column_stack(
            [np.concatenate([n.line_s, n.line_s[::-1]]) / 60, np.concatenate([inside(n.low_c), inside(n.high_c)[::-1]])]
        )
    )
    a.band.set_visible(True)
    show_line(a.limit, [at, at], [bottom, high])
    a.words["used"].put(
        at - 0.008 * far / 60,
        bottom + 0.06 * (high - bottom),
        "used up to here",
        ha="right" if at > 0.3 * far / 60 else "left",
    )
    if not n.used.all():
        a.words["later"].put(
            (at + minutes[-1]) / 2,
            bottom + 0.15 * (high - bottom),
            "measured later, not used" if minutes[-1] - at > 0.25 * far / 60 else "",
        )
    if n.end:
        _end(a, n, far / 60, bottom, high, inside)
    _rest(a, n, far, degrees)


def _end(a, n, wide, bottom, high, inside):
    """Where it ends: a mark at the right edge, a solid bar for the band, a dashed frame if a slow part hides."""
    end, low, top, wide_low, wide_high = n.end
    x = 0.975 * wide
    a.bar.set_bounds(
        x - 0.008 * wide, inside(low), 0.016 * wide, max(inside(top) - inside(low), 0.004 * (high - bottom))
    )
    a.wide.set_bounds(
        x - 0.014 * wide,
        inside(wide_low),
        0.028 * wide,
        max(inside(wide_high) - inside(wide_low), 0.004 * (high - bottom)),
    )
    a.bar.set_visible(True)
    a.wide.set_visible(bool(n.ends))
    way = {"degrees": n.degrees}
    if n.no_end:
        told = f"cannot tell yet where it ends: {say('temp_c', wide_low, **way)} and up"
        a.words["end"].put(0.985 * wide, high - 0.05 * (high - bottom), told)
        return
    show_line(a.mark, [x], [min(inside(end), high)])
    above = min(max(inside(wide_high), inside(top)) + 0.06 * (high - bottom), high - 0.05 * (high - bottom))
    told = (
        f"{'ends' if n.steady else 'at full power it ends'} at {say('temp_c', end, **way)} "
        f"({said_number('temp_c', low, **way)} to {said_number('temp_c', top, **way)})"
    )
    a.words["end"].put(0.985 * wide, above, told)
    if n.ends and (wide_low < low - 1 or wide_high > top + 1):
        a.words["wide"].put(
            0.985 * wide,
            max(min(inside(wide_low), inside(low)) - 0.06 * (high - bottom), bottom + 0.14 * (high - bottom)),
            f"if a slow part hides: {said_number('temp_c', wide_low, **way)} to "
            f"{said_number('temp_c', wide_high, **way)}",
        )


def _rest(a, n, far, degrees):
    """Residuals on a scale of their own, in round steps, told in words since the axis stands still."""
    reach = coarse_up(float(np.percentile(np.abs(n.rest_k), 99)) if n.rest_k.size else 1.0, REST_STEPS)
    show_line(a.dots, n.rest_s / 60, np.clip(n.rest_k / reach, -1, 1) * 0.8)
    a.scatter.set_bounds(0, -0.8 * n.scatter_k / reach, n.rest_s[-1] / 60, 1.6 * n.scatter_k / reach)
    a.scatter.set_visible(True)
    a.words["rest"].put(
        0.01 * far / 60,
        0.98,
        f"reading less curve, the dots reach to {say('rise_k', reach, degrees=degrees)} either way; "
        f"shaded: scatter {say('rise_k', n.scatter_k, degrees=degrees)}",
    )


def _lines(text, wide=70):
    return textwrap.wrap(text, wide)


def _numbers(build, view, rest=False):
    return log_numbers(build, view, rest)


LOG = Drawing(_numbers, _lay, _frame, _move, log_caption, HEIGHT_IN)
