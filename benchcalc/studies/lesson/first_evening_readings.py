"""What every bench reads on the first evening, with its band."""

from ...basics.band import Band
from .class_data import BenchReading
from .four_ways import ON_THE_TABLE, Demonstration, four_ways

METER = 0.03  # share: a cheap meter's amps, and a clip a few millimetres off
CLIPS = 0.05  # share: volts that clips and leads keep for themselves
LAMP = 0.10  # share: lamps of one print differ so much, and so does the rule of their current (windings.lamp_current)
LEAST_SHARE, MOST_SHARE = 1 - METER - CLIPS, 1 + 2 * METER  # of what is expected: the accept band
LETTERS = "AB"
OUTLETS = {"A": "the outlet that holds its volts", "B": "the lamp's outlet"}
FOR_THE_QUICK = ("B2",)  # rows that a bench may leave out


def held_volts(table: Demonstration = ON_THE_TABLE) -> Band:
    """Volts between the clips, V, that every meter of the class reads as accepted, one that is METER off included.

    table: Demonstration.
    """
    return Band(table.stiff_v, table.stiff_v * LEAST_SHARE / (1 - METER), table.stiff_v * MOST_SHARE / (1 + METER))


def first_evening(table: Demonstration = ON_THE_TABLE) -> list[BenchReading]:
    """Volts and amps of each setting; watts are their product.

    table: Demonstration.
    Returns list of BenchReading, in the order of the worksheet; the tube reads like the open wire and is not asked.
    """
    asked, many = [], len(table.lengths_m)
    for number, row in enumerate(four_ways(table)[: 2 * many]):
        letter = LETTERS[number // many]
        name = f"{letter}{number % many + 1}"
        quick, words = name in FOR_THE_QUICK, f"{OUTLETS[letter]}, {row.length_m * 1000:.0f} mm"
        words += " (only for the quick)" if quick else ""
        more = LAMP if letter == "B" else 0.0
        for what, key, value in (("volts", "load_v", row.load_v), ("amps", "load_a", row.load_a)):
            band = Band(value, value * (LEAST_SHARE - more), value * (MOST_SHARE + more))
            told = f"{'volts at the clips' if what == 'volts' else what}, {words}"
            asked.append(BenchReading(f"{name} {what}", told, key, band, quick, row.length_m))
    return asked
