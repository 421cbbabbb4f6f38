"""What heat the wire stands, told beside its ohms: where no tool is worked out, and where the sheet counts on more."""

from dataclasses import replace

import numpy as np

from ...basics.names import say
from ...basics.tables import source_words
from ...materials.alloys import alloy_name, alloy_value
from ...sheet.key import ASSUMED
from ..heat.lacking import heat_lacks
from ..heat.melting_wire import alloy_melts_c
from ..heat.verdicts import HOTTEST
from ..verdict import Limit, judge, unknown
from .link import wound

COUNTED, AT = "wire, at the heat that its ohms count on", "coil.wire_temp_c"


def heat_stood_checks(build, parts):
    """Verdicts on the wire's heat that need no heat of a tool.

    build: Build. parts: name of a link -> part, those that were worked out.
    Yields Verdict, one at most: a sheet that counts on a wire past its long service, by what it types, or by the
    coolest that such a coil is assumed to be; else, where nobody can work out how hot it gets, what it would stand.
    """
    wire = wound(build)
    if wire is None or build.coil is None:
        return
    limit = alloy_value(wire.alloy, "service_limit_c") if wire.alloy else None
    if limit is not None and _is_past(build, parts, limit.value):
        yield _past(build, wire, limit)
    elif heat_lacks(build, parts) or getattr(parts.get("heat"), "refused", ""):
        stood = "Nobody has named its alloy, so it is not known what it stands."
        if limit is not None:
            stood = _stands(build, wire, limit)
        source = "" if limit is None else source_words(limit.source_id)
        yield unknown(HOTTEST, "wire_c", why=f"Its temperature is not worked out. {stood}", source=source)


def _is_past(build, parts, limit_c):
    """Whether the heat that the ohms count on is past a limit: as typed, or even at the least of what is assumed."""
    known, counted_c = build.known.get(AT), build.coil.wire_temp_c
    if known is None or counted_c is None:
        return False
    if known.how == ASSUMED:
        return parts.get("heat") is None and known.low > limit_c
    return bool(np.any(np.asarray(counted_c) > limit_c))


def _past(build, wire, limit):
    assumed = build.known[AT].how == ASSUMED
    whose = "A coil mounted so is about this hot" if assumed else "The sheet types this heat"
    judged = judge(
        COUNTED,
        "wire_c",
        build.coil.wire_temp_c,
        Limit(limit.value, "at most", source_words(limit.source_id)),
        why=f"{whose}, and its hot ohms are reckoned with it. {_stands(build, wire, limit)}",
    )
    return replace(judged, melts_c=alloy_melts_c(wire.alloy))


def _stands(build, wire, limit):
    """What a wire stands, in a sentence."""
    way, melts_c = {"degrees": build.degrees}, alloy_melts_c(wire.alloy)
    melts = f", and it melts from {say('limit_c', melts_c, **way)}" if np.isfinite(melts_c) else ""
    return f"Long service of {alloy_name(wire.alloy)} in air ends at {say('limit_c', limit.value, **way)}{melts}."
