"""The verdicts on a tool while it is held: wire, insulation, wood and hand at the hottest that the law brings.

A held tool is not one at full power for ever; what that would do is the failure, judged beside it as power stuck on.
"""

import numpy as np

from ...basics.band import Band
from ...basics.tables import source_words
from ..handle.verdicts import HELD_S, HELD_WOOD, touch_limit
from ..heat.left_on import room_doubt
from ..heat.limits import ITSELF
from ..verdict import Limit, judge

HELD = "as held: "
JUDGED = ("tip_c", "work_c")  # keys of places that the job's own limits judge


def in_use_checks(build, control, bands):
    """Verdicts on the places that have a limit, while the tool is held.

    build: Build. control: ControlPart that holds. bands: path -> Band.
    Yields Verdict.
    """
    for harm in control.harms:
        if harm.at.key in JUDGED or harm.place.endswith(", melting"):
            continue
        why = "Its hottest on the way up, in a pulse or settled, on this law and at this dial."
        if harm.at.name == "entry":
            why = "What chars wood is years of this; the tube where the handle begins counts."
        yield judge(
            HELD + harm.place,
            "hottest_c",
            harm.used_c,
            Limit(harm.limit_c, "at most", source_words(harm.source_id)),
            why=f"{why} Power stuck on is judged apart.",
            band=held_band(build, control, harm.used_c, _own_share(harm, control, bands)),
        )
    if "grip" in control.used:
        touch = touch_limit("wood", HELD_S)
        yield judge(
            f"{HELD}the handle in the hand",
            "grip_c",
            control.used["grip"],
            Limit(touch["value"], "at most", source_words(touch["source_id"])),
            why=HELD_WOOD,
            band=held_band(build, control, control.used["grip"], 0.0),
        )


def _own_share(harm, control, bands):
    """Doubt of a place by the tool's own numbers, as a share of its rise; 0 where no samples were drawn, nan where too
    many could not be worked out."""
    room = control.left.room_c
    own = harm.at.doubt(bands, room, ITSELF)
    rise = harm.end_c - room
    if own is None or rise <= 1.0:
        return 0.0
    return float(np.max([own.high - harm.end_c, harm.end_c - own.low, 0.0])) / rise


def place_share(bands, key, room_c):
    """Doubt of a place by the tool's own numbers, as a share of its rise at full power.

    bands: path -> Band, as of Workings. key: of heat, such as "grip_c". room_c: degC of today.
    Returns float: 0 where no samples were drawn or nothing rises, nan where too many could not be worked out.
    """
    band = bands.get(ITSELF + key)
    rise = 0.0 if band is None else band.nominal - room_c
    return float(np.max([band.high - band.nominal, band.nominal - band.low, 0.0])) / rise if rise > 1.0 else 0.0


def held_band(build, control, used_c, own_share):
    """Band of a place in use: the sensor's doubt by its share of the rise, the tool's own doubt, a warmer room.

    build: Build. control: ControlPart. used_c: degC. own_share: of its rise.
    Returns Band.  The doubts are added up: what the sensor sees of the tool's own is not taken off again.
    """
    room = build.room.ambient_c
    rise, held = max(used_c - room, 0.0), max(control.held_c - room, 1.0)
    doubt = control.doubt_k * rise / held + own_share * rise
    return Band(used_c, used_c - doubt, used_c + doubt + room_doubt(build) * max(1 - rise / held, 0.0))


def passed_in_use(control):
    """Words of the limits that use itself passes.  control: ControlPart."""
    return tuple(h.place for h in control.harms if h.after_s == 0)
