"""No-load volts that nobody read: a label tells those under load, and more may stand there with nothing connected."""

import numpy as np

from ...basics.tables import one
from ...sheet.readings_first import on_line
from .link import judged_volts

NO_METER = {"stated": "Nobody read it", "measured": "No meter is named beside it"}
READ_IT = " may stand there, past the limit: read it before you build."


def most_unread(build, value):
    """The most that may stand at a supply with nothing connected, as it is judged.

    build: Build. value: its no-load volts as they are judged, V, float or array.
    Returns V; value itself where it was read with nothing connected, or is no transformer's.  A label tells the volts
    under load, and so does a reading with one; a band that is typed without a meter is no reading.
    """
    known = build.known.get("supply.open_v")
    idle = any(np.all(np.asarray(r.amps_a) == 0) for r in on_line(build.supply))
    if build.supply.kind != "transformer" or known is None or known.how not in NO_METER or known.group or idle:
        return value
    rise = one("limits", "key", "unread_rise")["value"]
    return np.fmax(value, judged_volts(build.supply, known.high)[0]) * rise


def unread_words(build, value, limit_v):
    """What is to be said of no-load volts that nobody read: "" where they were.

    build, value: as most_unread. limit_v: V, what they are held against; past it the words end with READ_IT.
    """
    most_v = most_unread(build, value)
    if most_v is value:
        return ""
    rise = one("limits", "key", "unread_rise")["value"]
    who = NO_METER[build.known["supply.open_v"].how]
    told = f" {who}: a label tells volts under load; with nothing connected up to {rise:g} times as many"
    return told + (READ_IT if np.any(most_v > limit_v) else " may stand there.")
