"""Scales of a picture drawn by hand: grid, ticks, their numbers and words.

matplotlib measures and sets every number of every scale anew whenever a figure is drawn, which is nearly all of the
time that a new scale takes.  Here grid and ticks of a scale are one line each, and its words are tiles that are kept.
"""

from dataclasses import dataclass

import numpy as np
from matplotlib.colors import to_hex
from matplotlib.lines import Line2D
from matplotlib.transforms import IdentityTransform

from .moving_labels import PAD_PX, font_of, tile_of

ASCENT = 0.76  # of letters over their size, from the line that they stand on (DejaVu Sans)
POINTS_IN = 72.0
FAR = "right", "top"
OUTSIDE_PX = 0.5  # a tick that rounding puts beyond the end of its scale still belongs to it


@dataclass(frozen=True)
class _Word:
    """A text to be set: its place in px from the lower left, which side of it stands there, its letters."""

    text: str
    x_px: float
    y_px: float
    ha: str
    va: str
    size_px: float
    color: str
    bold: bool = False
    upright: bool = False


@dataclass(frozen=True)
class _Scale:
    """Where a scale stands, px: along 0 or 1; its ends; the edge of its axes, and the one across; which way is out."""

    axis: object
    along: int
    ends_px: tuple
    edge_px: float
    across_px: float
    out: int
    per_pt: float

    def points(self, along_px, across_px):
        """(x, y) of points along and across the scale.  along_px, across_px: arrays, px."""
        return (along_px, across_px) if self.along == 0 else (across_px, along_px)


def draw_still(figure):
    """Draw a whole figure onto its canvas, as its canvas does, with the scales of its axes drawn here.

    figure: of the house, with an Agg canvas.  What matplotlib alone can do, a scale with an exponent at its end, with
    minor ticks, or with its word across from its numbers, is left to it.
    """
    lines, words, hidden = [], [], []
    for axes in figure.axes:
        for axis in (axes.xaxis, axes.yaxis) if axes.axison and axes.get_visible() else ():
            drawn = _drawn(axis) if axis.get_visible() else None
            if drawn is not None:
                lines += [(axes, line) for line in drawn[0]]
                words += drawn[1]
                hidden.append(axis)
    for axis in hidden:
        axis.set_visible(False)
    for axes, line in lines:
        axes.add_artist(line)
    try:
        figure.canvas.draw()
    finally:
        for _, line in lines:
            line.remove()
        for axis in hidden:
            axis.set_visible(True)
    for word in words:
        _set(figure.canvas, word)


def _drawn(axis):
    """(lines, words) of an axis, or None where it is left to matplotlib."""
    scale = _scale_of(axis)
    locs = np.asarray(axis.get_majorticklocs(), float)
    texts = axis.get_major_formatter().format_ticks(locs)
    elsewhere = axis.label.get_text() and (axis.get_label_position() in FAR) != (scale.out > 0)
    if elsewhere or len(axis.get_minorticklocs()) or axis.get_major_formatter().get_offset():
        return None
    ticks = axis.get_major_ticks(len(locs))
    at_px = _along_px(scale, locs)
    inside = (at_px >= min(scale.ends_px) - OUTSIDE_PX) & (at_px <= max(scale.ends_px) + OUTSIDE_PX)
    kept = [(tick, x, text) for tick, x, text, within in zip(ticks, at_px, texts, inside) if within]
    lines = _lines(scale, kept[0][0], at_px[inside]) if kept else []
    numbers, out_px = _numbers(scale, kept)
    return lines, numbers + _own_word(scale, out_px)


def _scale_of(axis):
    """Where an axis stands."""
    axes, box = axis.axes, axis.axes.bbox
    along = 0 if axis is axes.xaxis else 1
    far = axis.get_ticks_position() in FAR
    ends = ((box.x0, box.x1), (box.y0, box.y1))
    edge, across = ends[1 - along][:: -1 if far else 1]
    return _Scale(axis, along, ends[along], edge, across, 1 if far else -1, axes.figure.dpi / POINTS_IN)


def _along_px(scale, locs):
    """Where places of a scale lie along it, px.  locs: array in the scale's own unit."""
    axes = scale.axis.axes
    other = (axes.get_ylim() if scale.along == 0 else axes.get_xlim())[0]
    both = scale.points(locs, np.full(len(locs), other))
    return axes.transData.transform(np.column_stack(both))[:, scale.along] if len(locs) else np.zeros(0)


def _lines(scale, tick, at_px):
    """Grid and ticks of a scale as lines in px.  tick: one of them, as the others look. at_px: where they are."""
    found = []
    mark = tick.tick2line if scale.out > 0 else tick.tick1line
    ends = [(tick.gridline, scale.across_px)] if tick.gridline.get_visible() else []
    if mark.get_visible() and mark.get_markersize() > 0:
        ends.append((mark, scale.edge_px + scale.out * mark.get_markersize() * scale.per_pt))
    for like, end_px in ends:
        along = np.repeat(at_px, 3)
        across = np.tile([scale.edge_px, end_px, np.nan], len(at_px))
        wide = like.get_linewidth() if like is tick.gridline else like.get_markeredgewidth()
        line = Line2D(*scale.points(along, across), color=like.get_color(), lw=wide, zorder=0.5)
        line.set(transform=IdentityTransform(), clip_on=False, snap=True, solid_capstyle="butt")
        found.append(line)
    return found


def _numbers(scale, kept):
    """(words of a scale's numbers, how far out of the axes they reach in px).  kept: (tick, px, text) of each."""
    if not kept:
        return [], 0.0
    tick = kept[0][0]
    marks_px = tick.get_tick_padding() * scale.per_pt
    off_px = marks_px + tick.get_pad() * scale.per_pt
    place_px, told, wide_px = scale.edge_px + scale.out * off_px, [], 0.0
    ha, va = _sides(scale) if scale.along else ("center", "top" if scale.out < 0 else "bottom")
    for one, at_px, text in kept:
        label = one.label2 if scale.out > 0 else one.label1
        if not label.get_visible() or not text:
            continue
        bold, size_px = label.get_fontweight() == "bold", label.get_fontsize() * scale.per_pt
        x_px, y_px = scale.points(at_px, place_px)
        told.append(_Word(text, x_px, y_px, ha, va, size_px, to_hex(label.get_color()), bold))
        wide_px = max(wide_px, font_of(size_px, bold).getlength(text) if scale.along else size_px)
    return told, off_px + wide_px if told else marks_px


def _sides(scale):
    return ("right" if scale.out < 0 else "left"), "center"


def _own_word(scale, out_px):
    """What a scale is of, beyond its numbers.  out_px: how far they reach out of the axes."""
    label = scale.axis.label
    if not label.get_text():
        return []
    middle_px = sum(scale.ends_px) / 2
    beyond_px = scale.edge_px + scale.out * (out_px + scale.axis.labelpad * scale.per_pt)
    x_px, y_px = scale.points(middle_px, beyond_px)
    ha, va = _sides(scale) if scale.along else ("center", "top" if scale.out < 0 else "bottom")
    size_px, bold = label.get_fontsize() * scale.per_pt, label.get_fontweight() == "bold"
    color = to_hex(label.get_color())
    return [_Word(label.get_text(), x_px, y_px, ha, va, size_px, color, bold, bool(scale.along))]


def _set(canvas, word):
    """Set a word on what a canvas shows."""
    tile = np.asarray(tile_of(word.text, word.size_px, word.color, word.bold, False, word.upright))
    pixels = np.asarray(canvas.buffer_rgba())
    tall, wide = tile.shape[:2]
    over_px = 0.0 if word.upright else font_of(word.size_px, word.bold).getmetrics()[0] - ASCENT * word.size_px
    side_px = 0.0 if word.upright else PAD_PX
    x = word.x_px - {"left": side_px, "center": wide / 2, "right": wide - side_px}[word.ha]
    y = len(pixels) - word.y_px - {"top": over_px, "center": tall / 2, "bottom": tall}[word.va]
    x, y = (int(min(max(round(at), 0), most)) for at, most in ((x, pixels.shape[1] - wide), (y, len(pixels) - tall)))
    under, share = pixels[y : y + tall, x : x + wide, :3], tile[..., 3:].astype(np.uint16)
    under[...] = (tile[..., :3] * share + under * (255 - share) + 127) // 255
