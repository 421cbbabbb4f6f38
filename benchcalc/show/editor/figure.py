"""The tool to scale while it is typed: outlines, names, dimension lines, heat where known, wrong places marked."""

import numpy as np
from matplotlib.collections import PolyCollection
from matplotlib.patches import Rectangle

from ...basics.names import say
from ..drawing.live_picture import image_of, png_of
from ..drawing.style import (
    COPPER,
    CREAM,
    DPI_LIVE,
    FAINT,
    INK,
    PAPER,
    PLAIN,
    SHADES,
    SMALL,
    STEEL,
    WIDTH_IN,
    house,
    shade_of,
    sheet_of_paper,
)

WOODEN = "#e3cfa6"
TALLEST_IN, LINE_IN, HEAD_IN, SIDE_IN = 2.1, 0.2, 0.5, 0.45
RED = "#c4321d"
ON_PAPER = (0.7, 0.36, 1.16, 200)  # tallest, head, letters, dots an inch: no letter under 8 points on a width of A4
BESIDE_IN = 2.6  # with so much room at its right the names stand there
STOUT, STOUT_IN = 2.0, 1.3  # on paper, a tool that is shorter than so many times its width may be that tall


def drawn_png(n, heat=None, paper=False) -> tuple:
    """The picture of a tool as it stands in the form.

    n: Drawn of drawn.py, with at least one part. heat: HeatNumbers of the settled tool, None before it is worked out.
    paper: whether it is printed over the width of a sheet: flatter, with larger letters.
    Returns (PNG bytes, width, height in pixels).
    """
    shapes = n.shapes
    near, far = min(0.0, *(s.from_m for s in shapes)), max(s.to_m for s in shapes)
    wide = max(s.outer_m for s in shapes)
    tallest, head, letters, dots = ON_PAPER if paper else (TALLEST_IN, HEAD_IN, 1.0, DPI_LIVE)
    tallest = STOUT_IN if paper and far - near < STOUT * wide else tallest
    scale = min((WIDTH_IN - 2 * SIDE_IN) / (far - near), tallest / wide)  # inches a metre, along and across
    dims = _dimension_rows(n, scale / letters)
    line = 0.85 * LINE_IN if paper else LINE_IN
    height = head + wide * scale + line * (len(dims) + (1.2 if paper else 1.6))
    left = (WIDTH_IN - 2 * SIDE_IN - (far - near) * scale) / 2 if paper else 0.0
    figure = sheet_of_paper(height, dots)
    with house():
        axes = figure.add_axes((0, 0, 1, 1))
        axes.axis("off")
        axes.set_xlim(-SIDE_IN - left, WIDTH_IN - SIDE_IN - left)
        axes.set_ylim(-(height - head - wide * scale / 2), head + wide * scale / 2)
        at = lambda x_m: (np.asarray(x_m) - near) * scale  # noqa: E731
        if heat is not None and len(heat.cells):
            _heated(axes, heat, at, scale)
        for s in sorted(shapes, key=lambda s: ("frame", "part", "layer", "winding").index(s.kind)):
            _shape(axes, s, at, scale, heat is not None and len(heat.cells) > 0)
        axes.plot([at(near) - 0.12, at(far) + 0.12], [0, 0], color=FAINT, lw=0.7, ls=(0, (8, 2, 2, 2)))
        free = WIDTH_IN - 2 * SIDE_IN - left - (far - near) * scale
        if free > BESIDE_IN:
            _names_beside(axes, n, at, (scale, wide, float(at(far))), letters)
        else:
            _names(axes, n, at, (scale, wide), letters)
        _dimensions(axes, dims, at, (-wide * scale / 2 - 0.12, scale, line), letters)
        for w in n.wrong:
            _wrong(axes, w, at, wide * scale / 2)
        figure.canvas.draw()
    image = image_of(figure.canvas)
    return png_of(image.quantize(128), compress_level=1), image.width, image.height


def _halves(s, at, scale):
    """The two cut halves of a ring, or the one of a rod: (x, y, width, height)."""
    x, w, r0, r1 = at(s.from_m), (s.to_m - s.from_m) * scale, s.inner_m * scale / 2, s.outer_m * scale / 2
    return [(x, r0, w, r1 - r0), (x, -r1, w, r1 - r0)] if r0 > 0 else [(x, -r1, w, 2 * r1)]


def _shape(axes, s, at, scale, heated):
    colour = {"winding": COPPER, "layer": CREAM, "frame": PAPER}.get(s.kind, WOODEN if s.role == "handle" else STEEL)
    for x, y, w, h in _halves(s, at, scale):
        axes.add_patch(
            Rectangle(
                (x, y),
                w,
                h,
                facecolor="none" if heated and s.kind != "winding" else colour,
                edgecolor=INK if s.kind != "layer" else FAINT,
                lw=0.5 if s.kind == "layer" else 1.1,
                ls=(0, (4, 2)) if s.kind == "frame" else "-",
                hatch="////" if s.kind == "winding" else None,
                zorder=3,
            )
        )


def _heated(axes, heat, at, scale):
    x0, x1, r0, r1, temps = heat.cells.T
    x0, x1, r0, r1 = at(x0), at(x1), r0 * scale, r1 * scale
    up = np.stack([np.stack(c, -1) for c in ((x0, r0), (x1, r0), (x1, r1), (x0, r1))], axis=1)
    shades = np.tile(SHADES(shade_of(temps)), (2, 1))
    axes.add_collection(
        PolyCollection(np.concatenate([up, up * [1, -1]]), facecolors=shades, edgecolors="face", lw=0.3)
    )


def _names_beside(axes, n, at, size, letters):
    """The names of a stout tool's parts in a column at its right, the outermost first, each with a line to its part."""
    (scale, wide, end), named = size, [s for s in n.shapes if s.kind != "layer"]
    for i, s in enumerate(sorted(named, key=lambda s: -(s.inner_m + s.outer_m))):
        x, y = end + 0.45, wide * scale / 2 - 0.2 * letters * i
        tip = float(at(s.to_m)) - min(0.08, (s.to_m - s.from_m) * scale / 2), (s.inner_m + s.outer_m) * scale / 4
        axes.plot([tip[0], x - 0.05], [tip[1], y], color=FAINT, lw=0.7, zorder=8)
        axes.plot(*tip, marker="o", ms=2, color=INK, zorder=8)
        axes.text(x, y, s.name[:24], ha="left", va="center", size=SMALL * letters, weight="bold", color=INK)


def _names(axes, n, at, size, letters):
    """The name of each part above it, each at a free place, in three lines at most."""
    (scale, wide), taken = size, []
    for s in n.shapes:
        if s.kind == "layer":
            continue
        middle, half = float(at((s.from_m + s.to_m) / 2)), (0.038 * len(s.name[:24]) + 0.06) * letters
        for row in range(3):
            if all(abs(middle - m) > half + h or row != r for m, h, r in taken):
                break
        taken.append((middle, half, row))
        y = wide * scale / 2 + 0.05 + 0.14 * letters * row
        axes.text(middle, y, s.name[:24], ha="center", va="bottom", size=SMALL * letters, weight="bold", color=INK)
        top = s.outer_m * scale / 2
        if y - top > 0.2:
            under = [r for m, h, r in taken[:-1] if r < row and abs(m - middle) < h]  # no line through a word
            for low in [wide * scale / 2 + 0.05 + 0.14 * letters * r for r in under] or [y]:
                axes.plot([middle, middle], [top, low - 0.01], color=FAINT, lw=0.6, zorder=4)


def _dimension_rows(n, scale):
    """Dimension lines in rows where neither they nor their words cross: lists of (from_m, to_m, words)."""
    parts = [s for s in n.shapes if s.kind == "part"]
    wanted = [(s.from_m, s.to_m, say("length_m", s.to_m - s.from_m, units=n.units)) for s in parts]
    wanted = sorted(set(wanted), key=lambda d: (d[1] - d[0], d[0]))[:14]
    if n.room:
        wanted.insert(0, (n.room[1], n.room[2], f"room {say('winding_m', n.room[2] - n.room[1], units=n.units)}"))
    if len(parts) > 1:
        near, far = min(s.from_m for s in parts), max(s.to_m for s in parts)
        if not any(abs(a - near) + abs(b - far) < 1e-9 for a, b, _ in wanted):
            wanted.append((near, far, say("length_m", far - near, units=n.units)))
    rows = []
    for d in wanted:
        for row in rows:
            if all(_end(d, scale) <= o[0] + 1e-9 or _end(o, scale) <= d[0] + 1e-9 for o in row):
                row.append(d)
                break
        else:
            rows.append([d])
    return rows


def _fits(d, scale):
    """Whether the words of a dimension line fit into it."""
    return (d[1] - d[0]) * scale > 0.075 * len(d[2]) + 0.05


def _end(d, scale):
    """Where a dimension line ends with its words, metres."""
    return d[1] if _fits(d, scale) else d[1] + (0.075 * len(d[2]) + 0.08) / scale


def _dimensions(axes, rows, at, place, letters):
    top, scale, line = place
    ends = {"arrowstyle": "|-|,widthA=0.25,widthB=0.25", "lw": 0.7, "color": FAINT, "shrinkA": 0, "shrinkB": 0}
    paper = {"facecolor": PAPER, "edgecolor": "none", "pad": 0.8}
    for i, row in enumerate(rows):
        y = top - line * (i + 0.5)
        for d in row:
            a, b = float(at(d[0])), float(at(d[1]))
            axes.annotate("", (a, y), (b, y), arrowprops=ends)
            x, ha = ((a + b) / 2, "center") if _fits(d, scale / letters) else (b + 0.04, "left")
            axes.text(x, y, d[2], ha=ha, va="center", size=7.5 * letters, color=INK, bbox=paper, zorder=5)


def _wrong(axes, w, at, half):
    a, b = float(at(w.from_m)), float(at(w.to_m))
    axes.add_patch(
        Rectangle(
            (a, -half - 0.04),
            max(b - a, 0.03),
            2 * half + 0.08,
            facecolor="none",
            edgecolor=RED,
            hatch="xx",
            lw=1.6,
            alpha=0.75,
            zorder=6,
        )
    )
    axes.text((a + b) / 2, -half - 0.06, "▲", ha="center", va="top", color=RED, size=PLAIN, zorder=7)
