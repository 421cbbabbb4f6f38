"""Draws for exercises: numbers that a bench could show, each printed without rounding."""

from random import Random


def stepped(random: Random, low: float, high: float, step: float) -> float:
    """One of the numbers low, low + step, ... up to high, free of the noise of binary fractions.

    random: Random. low, high: ends, both possible. step: between neighbours, above 0.

    >>> stepped(Random(1), 0.4, 0.9, 0.1) in (0.4, 0.5, 0.6, 0.7, 0.8, 0.9)
    True
    """
    many = round((high - low) / step)
    return float(f"{low + step * random.randint(0, many):.9g}")
