"""The tool as it was built: what was measured on the finished coil, and the readings of its build card."""

from dataclasses import dataclass

from .key import key, listed

FURTHEST = 1e7  # no reading in SI units is larger


@dataclass(frozen=True)
class CardReading:
    """One reading of the build card, with what the card expected when it was kept."""

    row: str | None = key("row", "row of the build card, such as winding.cold_ohm", "text")
    read: str | None = key("read", "what was read, with its unit", "text")
    quantity: str | None = key("quantity", "what was read, by the name of its SI quantity", "text")
    expected: float | None = key("expected", "what the card expected, SI", "count", -FURTHEST, FURTHEST)
    low: float | None = key("low", "low end of what it expected", "count", -FURTHEST, FURTHEST)
    high: float | None = key("high", "high end of what it expected", "count", -FURTHEST, FURTHEST)


@dataclass(frozen=True)
class AsBuilt:
    """What was measured on the finished coil: cold ohms at the tails' ends, turns, winding length; readings."""

    cold_ohm: float | None = key("cold_ohm", "cold ohms at the ends of the tails", "ohm bare measured", 1e-4, 1e5)
    turns: float | None = key("turns", "turns counted", "count", 0, 100000)
    winding_m: float | None = key("winding", "length of the winding", "m", 0, 2)
    reading: tuple = listed(CardReading)
