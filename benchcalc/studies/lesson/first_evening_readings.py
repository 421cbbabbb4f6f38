"""What every bench reads on the first evening, with its band."""

from ...basics.band import Band
from .class_data import BenchReading
from .four_ways import ON_THE_TABLE, Demonstration, HeatedWay, four_ways

METER = 0.03  # share: a cheap meter's amps, and a clip a few millimetres off
LETTERS = "ABC"


def first_evening(table: Demonstration = ON_THE_TABLE) -> list[BenchReading]:
    """Amps of each row of the demonstration.

    table: Demonstration.
    Returns list of BenchReading, in the order of the worksheet; the tube reads like the open wire and is not asked.
    """
    return [
        BenchReading(
            f"{LETTERS[number // len(table.lengths_m)]}{number % len(table.lengths_m) + 1}",
            _words(row),
            "load_a",
            _band(row),
        )
        for number, row in enumerate(four_ways(table)[: 2 * len(table.lengths_m)])
    ]


def _words(row: HeatedWay) -> str:
    return f"amps, {row.way}, {row.length_m * 1000:.0f} mm"


def _band(row):
    return Band(row.load_a, row.load_a * (1 - 2 * METER), row.load_a * (1 + 2 * METER))
