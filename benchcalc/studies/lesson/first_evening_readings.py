"""What every bench reads on the first evening, with its band."""

from ...basics.band import Band
from .class_data import BenchReading
from .four_ways import ON_THE_TABLE, Demonstration, four_ways

METER = 0.03  # share: a cheap meter's amps, and a clip a few millimetres off
CLIPS = 0.05  # share: volts that clips and leads keep for themselves
LETTERS = "AB"


def first_evening(table: Demonstration = ON_THE_TABLE) -> list[BenchReading]:
    """Volts and amps of each setting; watts are their product.

    table: Demonstration.
    Returns list of BenchReading, in the order of the worksheet; the tube reads like the open wire and is not asked.
    """
    asked = []
    for number, row in enumerate(four_ways(table)[: 2 * len(table.lengths_m)]):
        name = f"{LETTERS[number // len(table.lengths_m)]}{number % len(table.lengths_m) + 1}"
        words = f"{row.way}, {row.length_m * 1000:.0f} mm"
        asked.append(BenchReading(f"{name} volts", f"volts at the clips, {words}", "load_v", _band(row.load_v)))
        asked.append(BenchReading(f"{name} amps", f"amps, {words}", "load_a", _band(row.load_a)))
    return asked


def _band(value):
    return Band(value, value * (1 - METER - CLIPS), value * (1 + 2 * METER))
