"""What keeps the temperatures from being worked out, in words, so that none has to guess which key is silent."""

from ..wire.lacking import PLACE, power_lacks, winding_lacks
from .tool_of import NOT_ON_AXIS

SAID = (
    ("material", "the material of the"),
    ("from_m", PLACE),
    ("to_m", PLACE),
    ("outer_m", "the outer diameter of the"),
)


def heat_lacks(build, parts):
    """What the settled temperatures wait for, what is electrical first.

    build: Build. parts: name of a link -> part or None, of the chain.
    Returns tuple of words; empty where they are worked out, or where nothing known is missing.
    """
    heat, coil = parts.get("heat"), parts.get("coil")
    if heat is not None:
        return ()
    lacks = power_lacks(build, parts.get("supply"), parts.get("wire"))
    free = build.coil is not None and build.coil.on is None and build.coil.mounting == "bare wire in free air"
    if not free or build.coil.length_m is None:
        lacks += [w for w in winding_lacks(build, coil) if not free or "length" in w]
    if not free:
        lacks += _parts_lack(build)
    return tuple(dict.fromkeys(lacks))


def _parts_lack(build):
    along = [p for p in build.part if p.role not in NOT_ON_AXIS]
    if not along:
        return ["parts with places along the axis"]
    return [f"{words} {p.id}" for p in along for field, words in SAID if getattr(p, field) is None]


def waits_for(lacks, most=4):
    """Words in a row, the first few of them.  lacks: sequence of words. most: how many are named."""
    more = f" and {len(lacks) - most} more" if len(lacks) > most else ""
    return ", ".join(lacks[:most]) + more
