"""Drawings in plain letters, the same on the teacher's page and on paper: circuits, the hung wire, the tube."""

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

BOARD = """\
 post                                                 post
  ||                                                   ||
  o-----[clips]===hot piece===[clips]------------------o---.
  ||    #    0     200, 300 or 400 mm #                ||  |
  ||    #                             #                ||  |
==''====#=============================#================''= |
   board with tiles, 100 mm below the wire             [weight]
        # block with a notch: clips and leads lie in it
"""

TUBE = """\
[clip]--25--|---50---( disc )---50---( disc )---50---|--25--[clip]
            '=============== tube, mm ==============='
"""
