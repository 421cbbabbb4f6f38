"""What keeps a coil from being worked out: the keys that are silent, in words."""

import numpy as np

from .link import linear_of, section_of, wound

PLACE = "the place along the axis of the"


def _nan(x):
    return bool(np.all(np.isnan(x)))


def winding_lacks(build, coil):
    """What the length of a winding on its former waits for.

    build: Build. coil: CoilPart or None.
    Returns list of words.
    """
    wire, lacks = wound(build), []
    if wire is None or build.coil is None:
        return [] if build.coil is not None else ["the coil"]
    if _nan(section_of(wire)[0]):
        lacks.append(f"the diameter of the wire {wire.id}")
    on = next((p for p in build.part if p.id == build.coil.on), None)
    if on is None:
        lacks.append("which part the coil lies on")
    else:
        lacks += [f"the outer diameter of the {on.id}"] * (on.outer_m is None)
        lacks += [f"{PLACE} {on.id}"] * (on.from_m is None or on.to_m is None)
    if not lacks and (coil is None or _nan(coil.length_m)):
        lacks.append("the coil's length, or a wanted power that this supply can give")
    return lacks


def power_lacks(build, supply, wire):
    """What the power in the coil waits for.

    build: Build. supply, wire: parts of the chain or None.
    Returns list of words.
    """
    lacks, reel = [], wound(build)
    if supply is None:
        lacks.append("the supply")
    elif supply.refused:
        lacks.append("a supply that is not refused")
    elif _nan(supply.open_in_use_v):
        lacks.append("the supply's volts with nothing connected")
    elif _nan(supply.source_in_use_ohm):
        lacks.append("volts and amps of the supply with one load")
    if reel is None:
        return [*lacks, "the wire"]
    if _nan(linear_of(build, reel)[0]):
        if reel.resistivity_ohm_m is None:
            lacks.append(f"the alloy of the wire {reel.id}, or ohms and length of a piece of it")
        elif _nan(section_of(reel)[0]):
            lacks.append(f"the diameter of the wire {reel.id}")
    elif wire is not None and _nan(wire.tails_ohm):
        lacks.append("the ohms of the tails")
    return lacks
