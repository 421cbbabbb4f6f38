"""A thermal cut-out on the transformer: its rating from a reading at its very place at the end of the soak."""

import numpy as np

from ...basics.names import say
from ...basics.tables import source_words
from ...thermal.control.failing import cut_out_for
from ..verdict import Limit, judge, unknown
from .link import rise_of, soak_end
from .load_at import base_rise

WHAT = "cut-out on the transformer, at the place that was read"


def cut_out_window(build, winding_a, limit_c, ambients_c):
    """What the place of a cut-out reaches in use, and when the winding is at the limit of its class.

    build: Build (floats). winding_a: current in use, A. limit_c: of the class. ambients_c: coolest and warmest room.
    Returns (normal_c, fail_c), nan without a reading there, a soak test, or its amps.
    Assumes that the place warms in proportion to the winding.
    """
    test = build.soak
    read_rise, room = rise_of(build)
    if test.place_c is None or np.isnan(read_rise) or test.load_a is None:
        return np.nan, np.nan
    share = (test.place_c - room) / read_rise
    in_use_k = np.fmax.reduce(base_rise(build)) * max(1.0, winding_a / test.load_a) ** 2
    cool, warm = ambients_c
    return warm + share * in_use_k, cool + share * (limit_c - cool)


def cut_out_checks(build, bench):
    """The verdict on a cut-out, where its place was read.

    build: Build. bench: BenchPart.
    Returns list of Verdict.
    """
    if build.soak.place_c is None or np.ndim(bench.winding_a) or np.ndim(bench.winding_rise_k):
        return []
    source = source_words("IEC60691") + "; ratings from memory: look at the maker's list"
    known = build.known.get("room.ambient_c")
    room = build.room.ambient_c
    amps = build.soak.load_a if np.isnan(bench.winding_a) else bench.winding_a
    normal_c, fail_c = cut_out_window(
        build, amps, bench.limit_c, (room, room) if known is None else (known.low, known.high)
    )
    if np.isnan(normal_c) or soak_end(build) is None:
        why = "This needs the whole soak test, with its amps and three readings over the hours."
        return [unknown(WHAT, "place_c", why=why, source=source, advice=True)]
    found = cut_out_for([0.0], [normal_c], [fail_c])
    reached, failing = (say("place_c", round(x), degrees=build.degrees) for x in (normal_c, fail_c))
    limits = f"in use the place reaches up to {reached}, and {failing} when the winding is at its limit"
    if found is None:
        why = f"No stocked rating lies between: {limits}. Take fewer amps, or a place nearer to the winding."
        return [unknown(WHAT, "place_c", why=why, source=source, advice=True)]
    mark, most = (say("place_c", c, degrees=build.degrees) for c in (found.rating_c, found.hold_c))
    why = f"{mark}, a thermal link that opens once: {limits}. Once it has opened, find out why; never bridge it."
    if not found.holds:
        why += f" Ask its maker's sheet for its holding temperature: use must stay below it, usually {most} or so."
        return [unknown(WHAT, "place_c", why=why, source=source, advice=True)]
    limit = Limit(found.rating_c - _low_k(found, normal_c), "at most", source, advice=True)
    return [judge(WHAT, "place_c", normal_c, limit, why=why)]


def _low_k(found, normal_c):
    """How far below its mark the cut-out may open."""
    return found.rating_c - normal_c - found.spare_low_k
