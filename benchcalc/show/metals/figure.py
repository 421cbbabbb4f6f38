"""The ladder of metals: how hot each may run, where it melts, today's hot end across all, and the drop along a stem
of each.
"""

from dataclasses import dataclass

import numpy as np
from matplotlib.collections import PolyCollection
from matplotlib.lines import Line2D
from matplotlib.patches import Rectangle

from ...basics.names import display, say, shown
from ..drawing.layout import axes_at, hide_all, show_line
from ..drawing.live_picture import Drawing
from ..drawing.moving_labels import Label
from ..drawing.style import COPPER, CREAM, DARK_COPPER, FAINT, INK, PLAIN, SKY, SMALL, STEEL, coarse_up, hatching

HEIGHT_IN, ROWS = 5.2, 15
HIGH_C = 1700.0  # right end of the ladder
MARK = {
    "stays": ("o", INK, INK),
    "at its limit": ("o", INK, "white"),
    "past its limit": ("X", DARK_COPPER, DARK_COPPER),
    "melts": ("v", DARK_COPPER, "white"),
    "not here": ("s", FAINT, "white"),
}


@dataclass(frozen=True, eq=False)
class LadderNumbers:
    """rungs: of sheet.rank_metals, from the bottom; own: number of the part's own metal; hot end and watts; frame."""

    frame: tuple
    rungs: tuple
    own: int
    part: str
    heater_c: float
    through_w: float
    degrees: str


def ladder_numbers(build, result, rest=False):
    """What the ladder shows.

    build: Build. result: of metals_panel's link, with rungs, own, part, heater_c, through_w. rest: not used here.
    Returns LadderNumbers.
    """
    rungs = result.rungs
    ends = tuple((r.name, r.service_c, r.service_high_c, r.melting_c, r.melting_high_c) for r in rungs)
    most = coarse_up(max(result.heater_c, 50.0))
    return LadderNumbers(
        (ends, most, build.degrees, result.own),
        rungs,
        result.own,
        result.part,
        result.heater_c,
        result.through_w,
        build.degrees,
    )


@dataclass(frozen=True)
class _Artists:
    axes: object
    drops: object
    still: list
    line: object
    marks: dict
    bars: object
    words: tuple
    names: tuple
    top: object
    built: list
    moving: tuple
    labels: tuple


def _lay(figure, place):
    tall = place[3] - 1.25
    axes = axes_at(figure, place, 1.75, 0.75, 4.1, tall)
    drops = axes_at(figure, place, 6.15, 0.75, place[2] - 6.3, tall)
    for a in (axes, drops):
        a.set_yticks([])
        a.grid(False, axis="y")
        a.spines["left"].set_visible(False)
    line = Line2D([], [], color=INK, lw=1.3, ls=(0, (5, 2)), animated=True)
    marks = {
        k: Line2D([], [], marker=m, ls="", ms=7, color=c, mfc=f, mew=1.5, animated=True)
        for k, (m, c, f) in MARK.items()
    }
    bars = PolyCollection([], facecolors=SKY, edgecolors="none", animated=True)
    for artist in (line, *marks.values()):
        axes.add_artist(artist)
    drops.add_collection(bars)
    words = tuple(Label(drops, size=SMALL, box=False) for _ in range(ROWS))
    names = tuple(Label(axes, size=SMALL, box=False, ha="right") for _ in range(ROWS))
    top = Label(axes, size=PLAIN, bold=True, ha="center", va="bottom")
    moving, labels = (bars, line, *marks.values()), (*words, *names, top)
    return _Artists(axes, drops, [], line, marks, bars, words, names, top, [], moving, labels)


def _frame(a, n):
    ends, most, degrees, own = n.frame
    a.drops.set_xlim(0, float(shown("drop_k", most, degrees=degrees)))
    if a.built == [ends, degrees, own]:  # the scale of the drops alone has changed
        return
    for artist in a.still:
        artist.remove()
    a.still.clear()
    a.built[:] = ends, degrees, own
    unit, _ = display("temp_c", degrees=degrees)
    a.axes.set_xlim(*(float(shown("temp_c", t, degrees=degrees)) for t in (0.0, HIGH_C)))
    a.axes.set_xlabel(
        f"temperature, {unit}\ngrey: long service; pale: its boldest figure; dark: melting", linespacing=1.35
    )
    a.drops.set_xlabel(f"drop, {display('drop_k', degrees=degrees)[0].split(' ')[0]}")
    for x in (a.axes, a.drops):
        x.set_ylim(-0.6, len(ends) - 0.4)
        whole = x.get_yaxis_transform()
        _put(a, x, Rectangle((0, own - 0.5), 1.0, 1.0, facecolor=CREAM, alpha=0.55, zorder=0, transform=whole))
    between = np.repeat(np.arange(len(ends)) - 0.5, 3), np.tile([0, 1, np.nan], len(ends))
    _put(a, a.drops, Line2D(*between[::-1], color="#eeeae0", lw=0.6, transform=a.drops.get_yaxis_transform()))
    for i, end in enumerate(ends):
        _rung(a, i, end, len(ends), degrees)
    for x, title in ((a.axes, "How hot each may run"), (a.drops, "What the watts cost")):
        a.still.append(x.text(0, 1.055, title, transform=x.transAxes, size=PLAIN, weight="bold", va="bottom"))


def _put(a, axes, artist):
    axes.add_artist(artist)
    a.still.append(artist)


def _rung(a, i, end, count, degrees):
    """What stands still of one metal: its service, its boldest figure, its melting."""
    _, service, bold, melts, melted = end
    x = [
        float(shown("temp_c", t, degrees=degrees))
        for t in (0.0, service, bold, melts, max(melted, melts + 8.0), HIGH_C)
    ]
    wide_in, tall_in = 4.1, HEIGHT_IN - 1.25
    _put(a, a.axes, Rectangle((x[0], i - 0.26), x[1] - x[0], 0.52, facecolor=STEEL, edgecolor="none"))
    _put(a, a.axes, Rectangle((x[1], i - 0.26), x[2] - x[1], 0.52, facecolor="#e8ebec", edgecolor=STEEL, lw=0.8))
    _put(a, a.axes, Rectangle((x[3], i - 0.26), x[4] - x[3], 0.52, facecolor=DARK_COPPER, edgecolor="none"))
    per_in = (x[5] - x[0]) / wide_in
    hx, hy = hatching((x[4] - x[0]) / per_in, wide_in, 0.52 / count * tall_in, step_in=0.09)
    _put(a, a.axes, Line2D(hx * per_in + x[0], i - 0.26 + hy * count / tall_in, color="#d9b79c", lw=0.7))


def _short(name):
    return (
        name.split(" (")[0]
        .replace("brass, free-cutting", "turned brass")
        .replace("tin bronze, ", "")
        .replace(", unalloyed", "")
        .replace(", grey", "")
    )


def _move(a, n):
    hide_all(a)
    hot = float(shown("temp_c", n.heater_c, degrees=n.degrees))
    count, (left, right), most = len(n.rungs), a.axes.get_xlim(), a.drops.get_xlim()[1]
    show_line(a.line, [hot, hot], [-0.6, count - 0.4])
    for state, mark in a.marks.items():
        rows = [i for i, r in enumerate(n.rungs) if r.stands == state]
        if rows:
            show_line(mark, [hot] * len(rows), rows)
    verts = []
    for i, r in enumerate(n.rungs):
        drop = float(shown("drop_k", r.drop_k, degrees=n.degrees))
        wide = min(drop, most) if np.isfinite(drop) else most if drop > 0 else 0.0
        verts.append([(0, i - 0.2), (wide, i - 0.2), (wide, i + 0.2), (0, i + 0.2)])
        text = (
            r.stands
            if np.isnan(drop)
            else "cannot pass it"
            if not r.passes
            else say("drop_k", r.drop_k, degrees=n.degrees).split(" (")[0]
        )
        inside = wide > 0.62 * most
        a.names[i].put(left - 0.015 * (right - left), i, _short(r.name))
        a.words[i].put(wide - 0.03 * most if inside else wide + 0.02 * most, i, text, ha="right" if inside else "left")
    a.bars.set_verts(verts)
    a.bars.set_facecolor([COPPER if i == n.own else "#9fc3d8" for i in range(count)])
    a.bars.set_visible(True)
    at = min(max(hot, left + 0.2 * (right - left)), right - 0.14 * (right - left))
    a.top.put(
        at + 0.22 * (right - left) if at < 0.5 * right else at,
        count - 0.42,
        f"hot end {say('heater_c', n.heater_c, degrees=n.degrees)}, {say('through_w', n.through_w)} pass",
    )


def ladder_caption(n):
    """The picture in words.  n: LadderNumbers."""
    own, marks = n.rungs[n.own], tuple(MARK)
    by = {word: [_short(r.name) for r in n.rungs if r.stands == word] for word in marks}
    told = "; ".join(f"{word}: {', '.join(names)}" for word, names in by.items() if names)
    told = told[:1].upper() + told[1:]
    drop = (
        "melts"
        if np.isnan(own.drop_k)
        else f"drops {say('drop_k', own.drop_k, degrees=n.degrees).split(' (')[0]}"
        if own.passes
        else "cannot pass those watts"
    )
    return (
        f"Metals as the {n.part} with a hot end of {say('heater_c', n.heater_c, degrees=n.degrees)} and "
        f"{say('through_w', n.through_w)} "
        f"passing. On the dashed line a dot: stays; ring: at its limit; cross: past it; triangle: melts. {told}. "
        f"The {n.part} itself, of {_short(own.name)}, {drop}."
    )


LADDER = Drawing(ladder_numbers, _lay, _frame, _move, ladder_caption, HEIGHT_IN)
