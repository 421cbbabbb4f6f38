"""How far the end of a log can be told: not past the search, nor past where a part of the tool would have melted."""

import numpy as np

from ...basics.fault import Fault
from ...basics.names import say
from ...materials.bulk import solid_key
from ...materials.metals import metal_value
from ...thermal.warmup.curve import HOTTEST_C

MELTED = "melting_low_c"


def first_to_melt(build):
    """The metal part of a sheet that melts first, what is melted on purpose left aside.

    build: Build.
    Returns (degC where it begins to, by the cautious end of data/metal_values.csv, the part's id); (HOTTEST_C, "")
    where no part's metal is known.
    """
    found = [(HOTTEST_C, "")]
    for part in build.part:
        if part.role == "work" or not part.material:
            continue
        try:
            topic, key = solid_key(part.material)
            melts = metal_value(key, MELTED) if topic == "metals" else None
        except Fault:
            continue
        if melts is not None:
            found.append((float(melts.low), part.id))
    return min(found)


def no_end_words(part, degrees="C"):
    """Why no end is told.  part: LogPart without one. degrees: "C" or "F"."""
    if part.spoilt:
        return f"The log {part.spoilt}."
    if part.melts and part.forecast.shape.end_c >= part.most_c:
        return (
            f"By its curve it would end past {say('temp_c', part.most_c, degrees=degrees)}, where the {part.melts} "
            "begins to melt: the log is too short, or a reading in it is wrong; where neither is so, it melts."
        )
    return "The log cannot tell yet where it ends."


def is_no_end(end_c, high_c, most_c=HOTTEST_C):
    """Whether an end cannot be told: at the bound of the search, or past what the tool's metal stands.

    end_c, high_c: end and the upper end of its band, degC, nan where they are not known. most_c: where the first part
    melts, degC.
    """
    return not (end_c < most_c and max(end_c, high_c) < HOTTEST_C - 1.0)


def hottest_read(part):
    """The hottest reading of a log that was kept, degC: what the probe's place has been, whatever the curve says.

    part: LogPart.
    """
    return float(np.max(part.forecast.data.temp_c))


def least_end(part):
    """The least that the end of a log can be where no end is told, as the probe reads, degC.

    part: LogPart.
    Returns the low end of its outer band; its hottest reading where that is more, where the metal does not stand so
    much, and where the power was not steady.
    """
    read_c = hottest_read(part)
    return part.wide_low_c if read_c < part.wide_low_c < part.most_c and not part.spoilt else read_c
