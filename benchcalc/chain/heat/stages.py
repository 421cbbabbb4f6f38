"""Stages of assembly: what to expect before the tool is closed, so that it can be checked step by step."""

from dataclasses import dataclass, replace

import numpy as np

from ...basics.band import Band, band_of
from ...basics.fault import fault
from ...basics.names import say
from ...materials.glow import line_threshold
from ...sheet.change import change
from ...sheet.defaults import default
from ...thermal.tool.bare_coil import Helix, bare_coil
from ...thermal.tool.parts import Tool
from .link import work_heat
from .tool_of import tool_of
from .wire_metal import wire_shine

STAGES = ("coil alone, lying on a brick", "coil on its core, in the open", "closed tool")


@dataclass(frozen=True)
class Stage:
    """One stage: its name, the winding's mean and the wire (degC, inf: past 1500), the tip (nan where there is none), a
    word on it.

    band: of the wire, None where the chain's own band holds, or no samples were given. glow: what can be seen of it, in
    words.
    """

    name: str
    sheath_c: float
    wire_c: float
    tip_c: float
    word: str
    band: Band | None = None
    glow: str = ""


def stages(build, wire, coil, power_w=None, many=None):
    """What each stage of assembly settles at, at the same power.

    build, wire, coil: parts of the chain (floats). power_w: W in the coil, None for the coil's own. many: (build, wire,
    coil) of samples, arrays, for the band of the coil on its core; None for none.
    Returns tuple of Stage, or () where the heat model has nothing to work on.
    """
    power = coil.coil_w if power_w is None else power_w
    tool = tool_of(build, wire, coil, power) if coil is not None else None
    if tool is None or np.isnan(power):
        return ()
    band = alone_band(build, wire, coil, tool, power)
    word = "It shows an even winding or a spot: stop at once if one turn is brighter than the others."
    glow = glow_words(band, wire, build.degrees)
    found = [Stage(STAGES[0], band.nominal, band.nominal, float("nan"), word, band, glow)]
    ids = ids_in_the_open(tool)
    for name, of in ((STAGES[1], lambda one: open_tool(one, ids)), (STAGES[2], None)):
        heat = work_heat(build, wire, coil, power, of)
        if heat.refused:
            raise fault("stage", name, "cannot be worked out.", heat.refused)
        inside = name == STAGES[1]
        band = None
        if inside and many is not None:
            drawn = work_heat(*many, many[2].coil_w * power / coil.coil_w, of)
            band = band_of(heat.wire_c, np.full(2, np.nan) if drawn is None else drawn.wire_c)
        found.append(
            Stage(
                name,
                heat.sheath_c,
                heat.wire_c,
                heat.tip_c,
                "Only the parts inside the winding; it loses its heat to the room."
                if inside
                else "Tube and handle on: heat now also goes rearward.",
                band,
                "" if inside else "Hidden by the tube: its glow tells nothing.",
            )
        )
    return tuple(found)


def alone_band(build, wire, coil, tool, power):
    """Temperature of the coil alone in the air, from turns that stand free to a closed cylinder.

    build: Build. wire, coil: parts of the chain. tool: its Tool. power: W.
    Returns Band: the ends take the brightest and the dullest wire, and the room's most and least air, with them; what
    is past the reach of bare_coil is inf.
    """
    helix = Helix(coil.length_m, wire.diameter_m, max(coil.pitch_m, wire.diameter_m), build.coil.layers)
    shine = [wire_shine(change(build, "heat.shine_place", place), wire) for place in (-1.0, 1.0)]
    air = build.known.get("room.air_speed_m_s")
    speed = (build.room.air_speed_m_s,) * 2 if air is None else (air.low, air.high)
    middle = bare_coil(tool, helix, power)
    low = bare_coil(tool, helix, power, closed=0.0, emissivity=shine[1], air_speed_m_s=speed[1])
    high = bare_coil(tool, helix, power, closed=1.0, emissivity=shine[0], air_speed_m_s=speed[0])
    return Band(*(float("inf") if np.isnan(x) else x for x in (middle, low, high)))


def glow_words(band, wire, degrees="C"):
    """Whether the coil alone is seen to glow, in the dark and by day, told with its band.

    band: Band of its temperature. wire: part of the chain. degrees: "C" or "F".
    Returns a sentence; a thin wire must be hotter than a bar to be seen.
    """
    told, distance_m = [], default("eye.distance_m")["value"]
    for light, words in (("in the dark", "in the dark"), ("in daylight", "by day")):
        need = default(f"eye.whole_arcmin/{light}")
        ends = [line_threshold(light, wire.diameter_m, distance_m, need[k]) for k in ("low", "high")]
        sure = "seen" if band.low >= ends[1] else "not seen" if band.high < ends[0] else "perhaps seen"
        low, high = (say("temp_c", end, degrees=degrees) for end in ends)
        told.append(f"{sure} {words} (from {low} to {high})")
    return "Glow of this wire: " + ", ".join(told) + "."


def ids_in_the_open(tool):
    """The parts that lie inside the winding's radius, and those that meet them end to end.

    tool: Tool.
    Returns set of ids.
    """
    inside = np.max(tool.winding.outer_m)
    return {
        p.id
        for p in tool.pieces
        if np.max(p.inner_m) == 0 and p.role not in ("handle",) or np.max(p.outer_m) <= inside and p.role != "tube"
    }


def open_tool(tool, ids):
    """The tool without anything outside the winding.

    tool: Tool, one or many designs. ids: of the parts that stay.
    Returns Tool.
    """
    kept = tuple(p for p in tool.pieces if p.id in ids)
    between = tuple(b for b in tool.between if {b.inner, b.outer} <= ids | {"coil"})
    return Tool(kept, tool.winding, between, None, replace(tool.place, rear_convection=1.0))
