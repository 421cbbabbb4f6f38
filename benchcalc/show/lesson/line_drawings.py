"""Drawings in plain letters, the same on the teacher's page and on paper: circuits, the hung wire, the tube."""

CIRCUITS = """\
              .--( V )--.            V sits on the clips, always
              |         |
A    o--( A )-+==wire===+----o       outlet that holds its volts

                       .--( V )--.
                       |         |
B    o--( lamp )--( A )+==wire===+----o       the lamp's outlet
"""

BOARD = """\
 post                                                 post
  ||                                                   ||
  o-----[clip]====hot piece====[clip]------------------o---.
  ||      0            200, 300 or 400 mm              ||  |
  ||                                                   ||  |
==''===================================================''= |
   board with tiles, 100 mm below the wire             [weight]
"""

TUBE = """\
[clip]--25--|---50---( disc )---50---( disc )---50---|--25--[clip]
            '=============== tube, mm ==============='
"""
