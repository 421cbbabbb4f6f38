"""Left on: high mains, still air, a warm room, no work at the tip.  What nobody watches is judged by this tool."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache

from ...basics.fault import Fault
from ...basics.names import say
from ...basics.tables import source_words
from ...sheet.build import Build
from ...sheet.build_control import Sensor
from ...sheet.change import NO_PART_OF_THE_TOOL, change
from ...sheet.roles import part_with_role
from ...thermal.network.steady import steady
from ...thermal.tool.model import model_of
from ..parts import Keyed
from ..supply.link import work_supply
from ..verdict import Limit, judge, not_fine, unknown
from ..wire.coil import CoilPart, work_coil
from ..wire.link import WirePart, work_wire
from .limits import ITSELF, kinds_of, places_of, worst_of
from .melting_wire import wire_melts_c
from .part import HeatPart
from .places import read_heat
from .tool_of import tool_of

LEFT = "left on and forgotten"


@dataclass(frozen=True, eq=False)
class LeftOn:
    """A tool that is left on.  build: with the day it counts. wire, coil: of the chain. heat: settled HeatPart. kept:
    what was worked out of it."""

    build: Build
    wire: WirePart
    coil: CoilPart
    heat: HeatPart
    kept: dict = field(default_factory=dict, repr=False)

    @property
    def mains(self):
        """Mains over those of the readings."""
        return self.build.supply.mains

    @property
    def room_c(self):
        """Room that counts, degC."""
        return self.build.room.ambient_c


def left_on(build: Build) -> LeftOn | None:
    """The settled tool on the worse day: mains and room at the upper end of their doubt, or today's where those are
    higher, and still air.

    build: Build (floats).
    Returns LeftOn, None where heat cannot be worked out; kept for the tools that were asked for last, whatever their
    controller.
    """
    known = {path: k for path, k in build.known.items() if not path.startswith(NO_PART_OF_THE_TOOL)}
    return _left_on(Keyed(repr(replace(build, control=None, sensor=Sensor(), known=known)), build))


@lru_cache(maxsize=16)  # as many as are tried when cures are looked for
def _left_on(kept):
    build = kept.thing
    worst = change(build, "supply.mains", _most(build, "supply.mains", build.supply.mains))
    worst = change(worst, "room.ambient_c", warmest_room(build))
    worst = change(worst, "room.air_speed_m_s", 0.0)
    supply = work_supply(worst)
    wire = work_wire(worst, supply)
    coil = work_coil(worst, supply, wire)
    try:
        tool = tool_of(worst, wire, coil) if coil is not None and coil.coil_w >= 0 else None
        if tool is None:
            return None
        vessel = part_with_role(tool.pieces, "cup") is not None
        if not vessel:  # a pot keeps its filling; an iron has no work at its tip
            tool = replace(tool, pieces=tuple(p for p in tool.pieces if not p.work))
        model = model_of(tool)
        return LeftOn(worst, wire, coil, read_heat(worst, wire, coil, coil.coil_w, model, steady(model.net)))
    except Fault:  # without its work parts may leave a gap, or the worse day has no balance
        return None


def warmest_room(build):
    """The warmest that the room may be: the upper end of its doubt, or today's where that is higher, degC.

    build: Build (floats).
    """
    return _most(build, "room.ambient_c", build.room.ambient_c)


def room_doubt(build):
    """How much warmer the room may be than it counts, K, never below 0.  build: Build (floats)."""
    return warmest_room(build) - build.room.ambient_c


def _most(build, path, today):
    known = build.known.get(path)
    return today if known is None else max(float(known.high), today)


def forgotten(build: Build, bands: Mapping | None = None) -> tuple:
    """Left on and forgotten, all night.  A verdict for each kind of harm, the worst of its places: of what can burn,
    then of the rest; one alone where all is of one kind.

    build: Build (floats). bands: path -> Band, as of Workings.
    Returns (tuple of (Verdict, burns) with burns as `kinds_of`, the HeatPart they are judged by, None where heat cannot
    be worked out).  A place whose limit or temperature nobody knows keeps its kind from being fine.
    """
    left = left_on(build)
    if left is None:
        why = "It needs parts with places along the axis that touch, a coil on one of them, and a heat that balances."
        return ((unknown(LEFT, "temp_c", why=why), None),), None
    places, untold = places_of(left.build, left.wire, left.coil, left.heat, tip=False)
    found, melts_c = [], wire_melts_c(left.build)
    for what, burns, missing in kinds_of(LEFT, places, untold):
        own = [p for p in places if burns in (None, p.burns)]
        doubts = [p.doubt(bands or {}, left.room_c, ITSELF) for p in own]
        made = _forgotten(what, own, missing, doubts, left.mains)
        if left.heat.wire_c >= melts_c:
            why = f"Its wire melts before that, from {say('wire_c', melts_c, degrees=build.degrees)}. {made.why}"
            made = replace(made, why=why, melts_c=melts_c)
        found.append((made, burns))
    return tuple(found), left.heat


def _forgotten(what, places, untold, doubts, mains):
    if not places:
        return unknown(what, "temp_c", why="No limit is known for any of its places.")
    place, band = worst_of(places, doubts)
    why = (
        f"All night at {say('mains', mains)} of today's volts, still air, a warm room: "
        f"{place.word} comes nearest to its limit. Never leave it on; a cut-out belongs in it."
    )
    limit = Limit(place.limit_c, "at most", source_words(place.source_id))
    judged = judge(what, "temp_c", place.value_c, limit, why=why, band=band)
    return not_fine(replace(judged, place=place.word), untold)
