"""The watts in the coil on the day of a log, from the volts and amps that were noted beside it."""

from dataclasses import dataclass

import numpy as np

from ..basics.fault import fault
from ..basics.names import say
from .typed_reading import typed_reading

VOLTS, AMPS = "volts at the coil", "amps in it"


@dataclass(frozen=True)
class DayWatts:
    """Watts in the coil that day, W, with their low and high end."""

    watts_w: float
    low_w: float
    high_w: float

    @property
    def on_sheet(self):
        """As a sheet writes them under [[log]], power."""
        return f"{self.watts_w:.4g} W +- {(self.high_w - self.low_w) / 2:.2g} W"

    @property
    def said(self):
        """In words for a page."""
        low, high = (say("load_w", x) for x in (self.low_w, self.high_w))
        return f"{say('load_w', self.watts_w)} in the coil that day ({low} to {high})"


def day_watts(build, volts, amps):
    """Watts in the coil from its volts and amps.

    build: Build, for its meters. volts, amps: as typed, "" where they were not noted.
    Returns DayWatts, None where neither was.  Raises Fault: one without the other, no number, nothing.
    Equation: P = U I, for direct volts, and for alternating ones into a wire, whose current goes with its volts
    (Hughes, Electrical and Electronic Technology, ch. 1 and 9, from memory); the two meters' errors, independent
    of each other, as the root of the sum of squares (JCGM 100:2008, 5.1.2, from memory).
    """
    if not volts.strip() and not amps.strip():
        return None
    for text, what, other in ((volts, VOLTS, AMPS), (amps, AMPS, VOLTS)):
        if not text.strip():
            raise fault(what, "", f"was not typed, and {other} alone tell no watts.", do="Type both, or neither.")
    read = [typed_reading(build, *asked) for asked in ((VOLTS, "load_v", volts), (AMPS, "load_a", amps))]
    if not all(low > 0 for _, low, _ in read):
        raise fault(f"{VOLTS}, {AMPS}", f"{volts}; {amps}", "lie within the error of their meters: they tell no watts.")
    watts_w = read[0][0] * read[1][0]
    half_w = watts_w * float(np.hypot(*((high - low) / 2 / value for value, low, high in read)))
    return DayWatts(watts_w, watts_w - half_w, watts_w + half_w)
