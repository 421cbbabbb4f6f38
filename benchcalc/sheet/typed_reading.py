"""A reading as it was written on the build card: its value, and its ends by the meter that took it."""

import re

import numpy as np

from ..basics.fault import Fault, fault
from ..basics.names import suffix_of
from ..basics.quantity import parse
from ..basics.tables import rows
from .load import DEFAULT_METER
from .values import TYPED_UNIT, by_instrument

READ_WITH = {"c": "thermocouple bead", "m": "ruler"}  # others by the meter that the sheet names


def typed_reading(build, what, key, text):
    """A reading as it was written on the card.

    build: Build, for its meters. what: words of what was read, for a fault. key: SI name of the quantity, "" where
    words are written. text: number with its unit, "+-" if one likes; a bare number for counts and ratios, and for
    volts, amps, watts and ohms, which a sheet takes so too.
    Returns (value, low, high), SI.  Raises Fault.
    """
    dimension = suffix_of(key)
    if not key:
        raise fault(what, text, "is written in words: nothing is compared.")
    if not dimension:
        try:
            value = float(text.replace(",", "."))
        except ValueError:
            raise fault(what, text, "is no number.", do="Type a plain number, such as 34.5.") from None
        if not np.isfinite(value):
            raise fault(what, text, "is no number that can be read.")
        return value, value, value
    bare = dimension in ("v", "a", "w", "ohm") and re.fullmatch(r"\d+([.,]\d+)?", text)
    read = parse(f"{text} {TYPED_UNIT[dimension]}" if bare else text, dimension, where=what)
    if read.low < read.high:
        return read.nominal, read.low, read.high
    try:
        known = by_instrument(read.nominal, dimension, READ_WITH.get(dimension) or reader_of(build, dimension))
    except Fault:
        return read.nominal, read.nominal, read.nominal
    return read.nominal, known.low, known.high


def reader_of(build, dimension):
    """The meter that the sheet's readings were taken with, as far as it reads this.

    build: Build. dimension: SI suffix, "v", "a" or "ohm".
    Returns its key in data/instruments.csv; the cheap one where the sheet names none.
    """
    reads = {r["key"] for r in rows("instruments") if r["quantity"] == dimension}
    named = [k.group.rpartition(" ")[0] for k in build.known.values() if k.group]
    fitting = [name for name in named if name in reads]
    return max(fitting, key=fitting.count) if fitting else DEFAULT_METER
