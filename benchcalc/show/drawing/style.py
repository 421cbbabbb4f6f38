"""The house style of every picture: warm paper, dark ink, names beside lines, hatching where not to go.

Nothing here touches the settings of other people's figures: `house()` is a local context.
"""

import math

import matplotlib
import numpy as np
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.colors import LinearSegmentedColormap
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Polygon, Rectangle

PAPER, INK, FAINT, RULE = "#fffdf7", "#20303a", "#6b747a", "#d9d4c7"
COPPER, DARK_COPPER, SKY, STEEL, CREAM = "#c4621d", "#7d3a0c", "#1d6a96", "#cdd3d6", "#efe6c8"
SHADES = LinearSegmentedColormap.from_list("heat", ["#eef1f2", "#f0d9b0", "#e0913f", "#b04a12", "#4a1402"])
DARKEST_C, PALE_C = 1600.0, 60.0  # shades go by the logarithm of a temperature over the second
WIDTH_IN = 8.3  # a notebook's column
DPI_LIVE, DPI_STILL = 100, 150
SMALL, PLAIN = 8.5, 9.5
_RC = {
    "figure.facecolor": PAPER,
    "axes.facecolor": PAPER,
    "savefig.facecolor": PAPER,
    "font.family": ["DejaVu Sans"],
    "font.size": PLAIN,
    "text.color": INK,
    "axes.labelcolor": INK,
    "axes.edgecolor": FAINT,
    "axes.linewidth": 0.8,
    "axes.spines.top": False,
    "axes.spines.right": False,
    "axes.unicode_minus": True,
    "xtick.color": FAINT,
    "ytick.color": FAINT,
    "xtick.labelcolor": INK,
    "ytick.labelcolor": INK,
    "xtick.labelsize": SMALL,
    "ytick.labelsize": SMALL,
    "axes.grid": True,
    "grid.color": RULE,
    "grid.linewidth": 0.6,
    "axes.axisbelow": True,
    "path.simplify": True,
    "text.usetex": False,
    "text.parse_math": False,  # names from a sheet are letters, whatever stands in them
}


def house():
    """The context in which pictures are laid out; other figures keep their own settings."""
    return matplotlib.rc_context(_RC)


def sheet_of_paper(height_in, dpi):
    """An empty figure of the house, with its own drawing surface.

    height_in: height in inches. dpi: dots an inch.
    Returns matplotlib Figure with an Agg canvas; no window system is involved.
    """
    figure = Figure(figsize=(WIDTH_IN, height_in), dpi=dpi, facecolor=PAPER)
    FigureCanvasAgg(figure)
    return figure


def axes_in(figure, place, *, below=0.5, above=0.16, sides=0.62):
    """Axes within a place on the paper.

    figure: of the house. place: (left, bottom, width, height), inches. below, above, sides: kept free, inches.
    Returns (axes, (height, width) of the axes in inches).
    """
    width, height = figure.get_size_inches()
    wide, tall = place[2] - 2 * sides, place[3] - below - above
    return figure.add_axes(((place[0] + sides) / width, (place[1] + below) / height, wide / width, tall / height)), (
        tall,
        wide,
    )


def keep_out():
    """What marks a zone to keep out of: a box and its hatching, both still to be placed."""
    return (
        Rectangle((0, 0), 0, 0, facecolor="#ece9df", edgecolor="#a9a498", lw=0.8, alpha=0.7, animated=True),
        Line2D([], [], color="#bdb7a9", lw=0.72, antialiased=False, animated=True),
    )


def likely_range():
    """The tinted band of a curve's likely range, still to be placed."""
    return Polygon(np.zeros((3, 2)), closed=True, facecolor=COPPER, alpha=0.22, edgecolor="none", animated=True)


def hatching(low_in, high_in, tall_in, *, rising=True, step_in=0.12):
    """Slanting lines that fill a zone: drawn as one line, much faster than a filled pattern.

    low_in, high_in: left and right edge, inches. tall_in: height from 0. rising: which way they lean.
    step_in: distance of the lines along the base.
    Returns (x, y) in inches, with nan between the lines.
    """
    start = np.arange(np.floor((low_in - tall_in) / step_in), np.ceil(high_in / step_in)) * step_in
    left, right = np.clip(start, low_in, high_in), np.clip(start + tall_in, low_in, high_in)
    keep = right - left > 1e-9
    start, left, right = start[keep], left[keep], right[keep]
    x, gap = np.column_stack([left, right, right]), np.full(len(left), np.nan)
    y = np.column_stack([left - start, right - start, gap])
    return x.ravel(), (y if rising else tall_in - y).ravel()


def shade_of(temp_c):
    """How dark a temperature is drawn: the same in every picture, and steadily darker where it is hotter.

    temp_c: degC, a number or an array.
    Returns place in SHADES, 0 to 1.
    """
    return np.log1p(np.clip(temp_c, 0.0, DARKEST_C) / PALE_C) / np.log1p(DARKEST_C / PALE_C)


def coarse_up(value, steps=(1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10)):
    """The next round number at or above a value, so that axes change in few steps.

    value: above 0. steps: round numbers from 1 to 10.
    """
    if not value > 0 or not math.isfinite(value):
        return 1.0
    decade = 10.0 ** math.floor(math.log10(value))
    return next(s * decade for s in (*steps, 10 * steps[0]) if s * decade >= value * (1 - 1e-9))
