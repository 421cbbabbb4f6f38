"""How hot the wire of a coil gets, and whether it glows: a tile of the wire page's panel, and a sentence below it."""

import numpy as np

from ...basics.names import say
from ...chain.heat.far_from_tip import far_words
from ...chain.heat.left_on import left_on
from ...chain.heat.melting_wire import melting_words, wire_melts_c
from ...chain.workings import Workings, band_text
from ...materials.alloys import alloy_value, most_of_all
from ...sheet.build import Build
from ..page.words import Words
from .bare_wire_tables import first_seen

AT_REST = "… (when the slider rests)"


def whether_it_glows(temp_c):
    """Whether a wire at a temperature glows, in a few words.  temp_c: degC, a float."""
    seen = first_seen(temp_c)
    return "no glow, not even in the dark" if seen == "nowhere" else f"it glows, seen {seen}"


def wire_tile(build, heat):
    """The hottest wire as a panel tells it: its temperature, its glow, and what it is past.

    build: Build. heat: HeatPart, or None where it is not worked out.
    Returns text.
    """
    if heat is None or heat.refused or np.isnan(heat.wire_c):
        return "not known (the parts around it tell)"
    if heat.wire_c >= wire_melts_c(build):
        return f"melts ({melting_words(_alloy(build))})"
    value = say("wire_c", heat.wire_c, degrees=build.degrees)
    return f"{value} ({whether_it_glows(heat.wire_c)}{_past(build, heat.wire_c)})"


def _past(build, wire_c):
    """What a wire is past at a temperature: melting, or its long service."""
    alloy = _alloy(build)
    limit = alloy_value(alloy, "service_limit_c") if alloy else most_of_all("service_limit_c")[1]
    if wire_c >= wire_melts_c(build):
        return f"; it melts, {melting_words(alloy)}"
    if limit is None or wire_c <= limit.value:
        return ""
    limit_c = say("limit_c", limit.value, degrees=build.degrees)
    return f"; past {f'its {limit_c}' if alloy else f'{limit_c}, the most of any alloy of the list,'} of long service"


def _alloy(build):
    """The alloy of the coil's wire, None where the sheet names none."""
    return next((w.alloy for w in build.wire if build.coil is not None and w.id == build.coil.wire), None)


def does_it_glow(build: Build, workings: Workings) -> Words:
    """How hot the wire settles on the sheet's watts, whether it glows, and what it comes to when left on.

    build: Build. workings: Workings.
    Returns Words.
    """
    heat, way = workings.parts.get("heat"), {"degrees": build.degrees}
    if heat is None or heat.refused or np.isnan(heat.wire_c):
        why = f" ({heat.refused.rstrip('. ')})" if heat is not None and heat.refused else ""
        return Words(f"**Does it glow?** Not known: how hot a wire gets hangs on the parts around it{why}.")
    band = workings.bands.get("heat.wire_c")
    value = say("wire_c", heat.wire_c, **way) if band is None else band_text(band, "wire_c", **way)
    told = (
        f"**Does it glow?** On the sheet's watts the hottest wire settles at {value}: {whether_it_glows(heat.wire_c)}"
    )
    told += f"{_past(build, heat.wire_c)}. {far_words(build, heat)}".rstrip()
    left = left_on(build)
    if left is not None and not left.heat.refused and left.heat.wire_c > heat.wire_c:
        most = say("wire_c", left.heat.wire_c, **way)
        told += f" Left on at high mains in still air it comes to {most}: {whether_it_glows(left.heat.wire_c)}"
        told += f"{_past(build, left.heat.wire_c)}."
    return Words(told)
