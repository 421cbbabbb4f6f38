"""A pen for burning wood, invented: its steel tube is too short, and its sheet leaves the alloy open."""

PEN = """
[sheet]
name = "pen"
invented = true
[supply]
kind = "transformer"
[[supply.reading]]
volts = "13.4 V"
amps = "0 A"
[[supply.reading]]
volts = "12.1 V"
ohms = "4.7 ohm"
[[wire]]
id = "reel"
diameter = "0.4 mm"
measured_ohm = "8.9 ohm"
measured_length = "1 m"
[coil]
wire = "reel"
on = "stem"
mounting = "bench tool core in a tube"
length = "{length}"
[coil.tails]
material = "copper"
section = "0.5 mm2"
sleeve = "silica fibre sleeve"
[lead_out]
joint = "crimped"
cable = "silicone rubber"
[[part]]
id = "tip"
role = "tip"
material = "copper"
from = "0 mm"
to = "30 mm"
outer = "6 mm"
[[part]]
id = "stem"
role = "stem"
material = "{stem}"
from = "30 mm"
to = "80 mm"
outer = "4.8 mm"
[[part]]
id = "tube"
role = "tube"
material = "mild-steel"
from = "20 mm"
to = "140 mm"
inner = "7 mm"
outer = "8 mm"
[[part]]
id = "handle"
role = "handle"
material = "beech"
from = "100 mm"
to = "220 mm"
inner = "8 mm"
outer = "22 mm"
[[joint]]
between = ["tip", "stem"]
made = "threaded"
[[joint]]
between = ["tip", "tube"]
made = "clearance with set screw"
[[layer]]
between = ["stem", "coil"]
material = "phlogopite"
thickness = "0.25 mm"
[[layer]]
between = ["coil", "tube"]
material = "silica sleeve"
thickness = "0.4 mm"
[room]
ambient = "20 degC +- 5 K"
attitude = "tip down"
[use]
hours_per_year = "50 h"
[want]
power = "21.2 W"
job = "wood, branding"
temperature = "350 degC"
"""
HELD = '[control]\nset = "350 degC"\n'


def pen_text(length="582 mm", stem="mild-steel", held=False):
    """The pen's sheet.  length: of its wire. stem: its metal. held: whether a controller holds it at 350 degC."""
    return PEN.format(length=length, stem=stem) + (HELD if held else "")
