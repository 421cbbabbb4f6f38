"""What readings on the finished tool can teach: the inputs of the heat model that the sheet knows only as bands."""

from dataclasses import dataclass

import numpy as np

from ...sheet.change import change, get
from ...sheet.defaults import default
from ...sheet.teachable import AMBIENT, LIMITS, MAINS, name_of

FURTHEST = 1.6  # how far beyond its band an unknown may be taken, in half bands
POWER = "coil power"  # the power on the day of the readings, as a share of the coil's own
STORED = "heat stored"  # the heat capacity of all parts, as a share of what the tables say
OF_THE_DAY = (POWER, AMBIENT)
SHARES = (POWER, STORED)  # no fields of the build: the tool is scaled by them


@dataclass(frozen=True)
class Unknown:
    """An unknown: path in the build (or POWER), words, ends of its band, spread, how far it may go (least, most)."""

    path: str
    words: str
    low: float
    high: float
    spread: str
    least: float
    most: float

    @property
    def lasting(self):
        """Whether it belongs to the tool and not to the day."""
        return self.path not in OF_THE_DAY

    def value(self, place):
        """Its value at a place in its band.

        place: -1 to 1 within the band (float or array).
        """
        if self.spread == "log":
            return np.exp(np.log(self.low * self.high) / 2 + np.log(self.high / self.low) / 2 * np.asarray(place))
        return (self.low + self.high) / 2 + (self.high - self.low) / 2 * np.asarray(place)

    def place(self, value):
        """The place in its band of a value.

        value: in its own unit (float or array).
        """
        if self.spread == "log":
            return (np.log(value) - np.log(self.low * self.high) / 2) / (np.log(self.high / self.low) / 2)
        return (np.asarray(value) - (self.low + self.high) / 2) / ((self.high - self.low) / 2)

    @property
    def ends(self):
        """How far its place may go, below and above 0."""
        lowest = -FURTHEST if self.least == -np.inf else max(-FURTHEST, float(self.place(max(self.least, 1e-12))))
        highest = FURTHEST if self.most == np.inf else min(FURTHEST, float(self.place(self.most)))
        return min(lowest, 0.0), max(highest, 0.0)


def unknowns_of(build, power_share=(0.9, 1.1)):
    """All banded inputs of the heat model on a sheet, and the power and the room of the day.

    build: Build (floats). power_share: ends of the power over the coil's own.
    Returns tuple of Unknown.
    """
    stored = default("calibrate.stored_share")
    found = [
        Unknown(POWER, "power in the coil that day", *power_share, "uniform", 0.3, 2.0),
        Unknown(STORED, "heat stored by the parts", stored["low"], stored["high"], "uniform", 0.5, 2.0),
    ]
    for path, known in build.known.items():
        words = name_of(build, path) if path != MAINS else ""
        if words and known.low < known.high and get(build, path) is not None:
            least, most = LIMITS.get(path.rsplit(".", 1)[-1], (-np.inf, np.inf))
            if path.endswith("_m"):  # a length stays within its band, so that no part's place is overrun
                least, most = known.low, known.high
            found.append(Unknown(path, words, known.low, known.high, known.spread, least, most))
    return tuple(found)


def with_values(build, unknowns, values):
    """The build with its unknowns at given values, and the shares that are no fields of it.

    build: Build. unknowns: tuple of Unknown. values: one for each, floats or arrays (designs,).
    Returns (Build, {POWER: share, STORED: share}).
    """
    shares = dict.fromkeys(SHARES, 1.0)
    for unknown, value in zip(unknowns, values):
        if unknown.path in SHARES:
            shares[unknown.path] = value
        else:
            build = change(build, unknown.path, value)
    return build, shares
