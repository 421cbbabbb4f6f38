"""A wire that would be past its melting point: it has no such temperature, so none is told."""

import numpy as np

from ...basics.names import said_number, say
from ...materials.alloys import alloy_name, alloy_value, most_of_all
from ...sheet.change import item

MELTS, OF_THE_WIRE = "melts", ("wire_c", "sheath_c")


def wire_melts_c(build):
    """Where the coil's wire begins to melt, by its cautious end.

    build: Build.
    Returns degC; inf where no wire is chosen or the table has no melting for its alloy.
    """
    if build.coil is None or not build.coil.wire:
        return np.inf
    return alloy_melts_c(item(build.wire, build.coil.wire).alloy)


def alloy_melts_c(alloy):
    """Where an alloy begins to melt, by its cautious end.

    alloy: key in data/alloys.csv; None: the one that melts last of all that the table lists.
    Returns degC; inf where the table has none for it.
    """
    melts = alloy_value(alloy, "melting_c") if alloy else most_of_all("melting_c")[1]
    return np.inf if melts is None else float(melts.low)


def melting_words(alloy):
    """Which wire melts, in a few words.  alloy: key in data/alloys.csv, or None.

    >>> melting_words(None)
    'whichever alloy of the list it is'
    """
    return alloy_name(alloy) if alloy else "whichever alloy of the list it is"


def told_c(key, value, melts_c, **way):
    """A number with its unit; of a wire that would be past its melting, that it melts.

    key: SI name. value: SI float. melts_c: where the wire begins to melt, degC. way: units and degrees, as names.say.

    >>> told_c("wire_c", 2534.0, 1390.0), told_c("wire_c", 614.0, 1390.0), told_c("tip_c", 1400.0, 1390.0)
    ('melts', '614 degC', '1400 degC')
    """
    return MELTS if _melts(key, value, melts_c) else say(key, value, **way)


def told_end(key, value, melts_c, **way):
    """An end of a band as told_c, without its unit.

    key, value, melts_c, way: as told_c.
    """
    return MELTS if _melts(key, value, melts_c) else said_number(key, value, **way)


def told_band(band, key, melts_c, **way):
    """A number with its band as told_c.

    band: Band, SI. key, melts_c, way: as told_c.

    >>> from benchcalc.basics.band import Band
    >>> told_band(Band(1300.0, 1100.0, 1500.0), "wire_c", 1390.0)
    '1300 degC (1100 to melts)'
    """
    value = told_c(key, band.nominal, melts_c, **way)
    if band.low == band.high or not np.isfinite(band.low) or _melts(key, band.low, melts_c):
        return value
    return f"{value} ({told_end(key, band.low, melts_c, **way)} to {told_end(key, band.high, melts_c, **way)})"


def _melts(key, value, melts_c):
    return key in OF_THE_WIRE and np.isfinite(melts_c) and value >= melts_c
