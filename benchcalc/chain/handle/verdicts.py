"""The verdicts on the handle: wood, hand, webs between holes, bore."""

import numpy as np

from ...basics.names import say
from ...basics.tables import one, rows, source_words
from ...materials.wood import STRAIN
from ...thermal.holes.strength import EDGE_OF_HOLE
from ..heat.places import FINGER_M
from ..verdict import Limit, judge, unknown

HELD_S = 600.0  # a handle counts as held for ten minutes on end
HELD_WOOD = f"Burn threshold for wood held for {HELD_S / 60:g} minutes; its hottest place counts."
SLIP_S = 1.0  # a finger that slips onto the tube lets go within a second
WOOD_FOR_YEARS = (
    "Wood kept hotter than this for long chars slowly and can light itself; this limit has no safety factor in it. The "
    "tube that it touches is judged, hotter than the wood's own mean."
)
YEARS = 1.0  # wood that is a tenth weaker sooner than this is used up


def as_it_moves(field, value_c, band, why):
    """Nothing added for still air.

    field: of HeatPart. value_c: degC. band: Band, or None. why: sentence.
    Returns (band, why) as they are.
    """
    return band, why


def still_told(still, air_m_s):
    """What still air adds to a verdict, as wood_checks takes it.

    still: StillAir, or None. air_m_s: the air that counts now.
    """
    if still is None:
        return as_it_moves
    return lambda field, value_c, band, why: (
        still.reach(field, value_c, band),
        f"{why}{still.words(field, value_c, air_m_s)}",
    )


def wood_checks(heat, bands, still=as_it_moves):
    """Verdicts on the wood at the tube and on the hand.

    heat: HeatPart or HandlePart. bands: path -> Band, those of "heat". still: function of (field, value, band, why)
    that gives (band, why) with what still air adds to both.
    Returns list of Verdict; empty without a wooden handle.
    """
    if np.all(np.isnan(heat.bore_c)):
        return []
    limit = one("wood_limits", "key", "long_term_c")
    touch = touch_limit("wood", HELD_S)
    entry, why_entry = still("entry_c", heat.entry_c, bands.get("heat.entry_c"), WOOD_FOR_YEARS)
    grip, why_grip = still("grip_c", heat.grip_c, bands.get("heat.grip_c"), HELD_WOOD)
    return [
        judge(
            "wood at the tube, for years",
            "entry_c",
            heat.entry_c,
            Limit(limit["value"], "at most", source_words(limit["source_id"])),
            why=why_entry,
            band=entry,
        ),
        judge(
            "handle in the hand",
            "grip_c",
            heat.grip_c,
            Limit(touch["value"], "at most", source_words(touch["source_id"])),
            why=why_grip,
            band=grip,
        ),
    ]


def touch_limit(surface, contact_s):
    """The row of data/touch_limits.csv for a surface and a time of contact, the cautious end of the sources.

    surface: metal, glass or ceramic, plastic, wood. contact_s: one of the times listed there, s.
    """
    return next(r for r in rows("touch_limits") if r["surface"] == surface and float(r["contact_time_s"]) == contact_s)


def handle_checks(build, heat, handle, bands, still=None):
    """All verdicts on the handle.

    build: Build. heat: HeatPart or None. handle: HandlePart or None. bands: path -> Band. still: StillAir, or None.
    Returns list of Verdict.
    """
    if heat is None or handle is None:
        return []
    told = still_told(still, build.room.air_speed_m_s)
    made = wood_checks(heat, bands, told)
    touch = touch_limit("metal", SLIP_S)
    slips = (
        f"A finger that slips {say('length_m', FINGER_M, units=build.units)} past the handle touches bare metal for a "
        "second; a rim or a knot on the handle keeps it back."
    )
    finger, why_finger = told("finger_c", handle.finger_c, bands.get("handle.finger_c"), slips)
    made.append(
        judge(
            "tube beside the hand",
            "finger_c",
            handle.finger_c,
            Limit(touch["value"], "at most", source_words(touch["source_id"]), advice=True),
            why=why_finger,
            band=finger,
        )
    )
    made += _holes(handle, bands) + _wood_in_time(build, handle, bands)
    return made


def _holes(handle, bands):
    if np.all(np.isnan(handle.web_m)):
        return []
    least = one("defaults", "key", "heat_break.least_web_m")
    made = [
        judge(
            "least metal between holes",
            "web_m",
            handle.web_m,
            Limit(least["value"], "at least", "common practice, no source (data/defaults.csv)", advice=True),
            why="Narrower webs tear when the drill breaks through, and one bent web lets the next take its load.",
        )
    ]
    what = "bending stress between the holes"
    if np.any(np.isnan(handle.yield_pa)):
        made.append(unknown(what, "yield_pa", why="The tube's yield stress is not known at this temperature."))
    else:
        made.append(
            judge(
                what,
                "web_pa",
                handle.web_pa,
                Limit(handle.yield_pa, "at most", "beam theory; data/metal_yield.csv, from memory: check the standard"),
                why=(
                    "The tip pushed from the side, against the low end of the tube's yield stress where it is hot. "
                    "At the edge of a hole it is up to "
                    f"{EDGE_OF_HOLE:g} times as much: bent often, it cracks from there."
                ),
                band=bands.get("handle.web_pa"),
            )
        )
    return made


def _wood_in_time(build, handle, bands):
    made, what = [], "years until the wood is a tenth weaker"
    if np.all(np.isnan(handle.weaken_s)):
        return []
    limit = one("wood_limits", "key", "month_10_percent_c")
    if build.use.hours_per_year is None:
        made.append(unknown(what, "wood_years", why="Write hours_per_year under [use].", advice=True))
    elif np.all(np.asarray(build.use.hours_per_year) > 0):
        made.append(
            judge(
                what,
                "wood_years",
                handle.wood_years,
                Limit(YEARS, "at least", source_words(limit["source_id"]), advice=True),
                why=(
                    "Look at the bore after the first ten hours and then every year: a dark ring or a smell of "
                    "smoke means it is charring, whatever a number says."
                ),
                band=bands.get("handle.wood_years"),
            )
        )
    if not np.all(np.isnan(handle.closing)):
        made.append(
            judge(
                "bore closing as the wood dries",
                "closing",
                handle.closing,
                Limit(STRAIN, "at most", "USDA Wood Handbook, table 13-5; 1 % strain from memory", advice=True),
                why=(
                    "Past this the wood at the bore is crushed while hot and loose when it has drunk again: a cross "
                    "pin or a screwed washer holds where friction will not."
                ),
            )
        )
    return made


def inspect_after_h(handle):
    """Hours of use after which to look into the bore again.

    handle: HandlePart (floats).
    Returns h: a quarter of the time in which the wood at the tube loses a tenth of its strength, ten hours at first.
    """
    return float(min(handle.weaken_s / 3600 / 4, 10.0))
