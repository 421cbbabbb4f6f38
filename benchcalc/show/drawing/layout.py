"""What figures share: where axes stand on the paper, how everything is hidden before it is drawn, how lines are
shown.
"""

import numpy as np

from .style import SKY, axes_in


def axes_at(figure, place, left, bottom, wide, tall):
    """Axes at a place of their own on a figure's part of the paper.

    figure: of the house. place: (left, bottom, width, height) of that part, inches.
    left, bottom: of the axes from that part's corner, inches. wide, tall: inches.
    Returns matplotlib Axes.
    """
    width, height = figure.get_size_inches()
    return figure.add_axes(((place[0] + left) / width, (place[1] + bottom) / height, wide / width, tall / height))


def two_scales(figure, place, left, right):
    """Axes with a second upright scale at the right, for what is drawn dashed.

    figure: of the house. place: (left, bottom, width, height), inches. left, right: words of the two scales.
    Returns (axes, axes of the second scale, (height, width) in inches).
    """
    axes, inches = axes_in(figure, place)
    second = axes.twinx()
    second.grid(False)
    second.spines["right"].set_visible(True)
    axes.set_ylabel(left)
    second.set_ylabel(right, color=SKY)
    return axes, second, inches


def hide_all(artists):
    """Hide what moves, words too, before it is drawn anew.  artists: of a Drawing, with `.moving` and `.labels`."""
    for artist in artists.moving:
        artist.set_visible(False)
    for words in artists.labels:
        words.hide()


def only_a_note(artists, numbers):
    """Hide what moves; where there is nothing to draw, put the note that says why.

    artists: of a Drawing, with `.moving`, `.labels` and a word "note". numbers: with `.frame` and `.said`.
    Returns True where nothing else is to be drawn.
    """
    hide_all(artists)
    if numbers.frame[0] != "nothing":
        return False
    artists.words["note"].put(0.5, 0.5, numbers.said)
    return True


def blank(axes):
    """Limits from 0 to 1, for a note in the middle.  axes: matplotlib Axes."""
    axes.set_xlim(0, 1)
    axes.set_ylim(0, 1)


def show_line(line, x, y):
    """Put a line through some points and show it.  line: Line2D. x, y: data coordinates, several."""
    line.set_data(x, y)
    line.set_visible(True)


def show_band(band, x, low, high):
    """Put a band between two curves and show it.  band: Polygon. x, low, high: data coordinates, several."""
    band.set_xy(np.column_stack([np.r_[x, x[::-1]], np.r_[low, high[::-1]]]))
    band.set_visible(True)
