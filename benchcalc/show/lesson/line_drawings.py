"""Drawings in plain letters, the same on the teacher's page and on paper: circuits, the hung wire, the tube."""

from ...studies.lesson.four_ways import ON_THE_TABLE, Demonstration

CIRCUITS = """\
              .--( V )--.            V sits on the clips, always
              |+       -|            A in the socket for 10 A
A  + o--( A )-+==wire===+----o -     outlet that holds its volts
        +   -
                       .--( V )--.
                       |+       -|
B  + o--( lamp )--( A )+==wire===+----o -     the lamp's outlet
                  +   -
     red leads to +; on alternating current it does not matter
"""

_BOARD = """\
 post                                                 post
  ||                                                   ||
  o-----[clips]===hot piece===[clips]------------------o---.
  ||    #    0     {marks:<18} #                ||  |
  ||    #                             #                ||  |
==''====#=============================#================''= |
   board with tiles, 100 mm below the wire             [weight]
        # block with a notch: clips and leads lie in it
"""

_TUBE = """\
[clip]--{clear}--|---{third}---( disc )---{middle}---( disc )---{third}---|--{clear}--[clip]
            '=============== tube, mm ==============='
"""


def _mm(value_m):
    return f"{1000 * value_m:.0f}"


def hung_over_board(table: Demonstration = ON_THE_TABLE) -> str:
    """The wire over its board, with the marks for the second clip.  table: Demonstration."""
    *first, last = map(_mm, table.lengths_m)
    return _BOARD.format(marks=f"{', '.join(first)} or {last} mm")


def hung_tube(table: Demonstration = ON_THE_TABLE) -> str:
    """The tube on its wire, with the places of discs and clips.  table: Demonstration."""
    clear_m, third_m = (min(table.lengths_m) - table.tube_m) / 2, table.supports_m
    return _TUBE.format(clear=_mm(clear_m), third=_mm(third_m), middle=_mm(table.tube_m - 2 * third_m))
