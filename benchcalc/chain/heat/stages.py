"""Stages of assembly: what to expect before the tool is closed, so that it can be checked step by step."""

from dataclasses import dataclass, replace

import numpy as np

from ...thermal.network.steady import steady
from ...thermal.tool.bare_coil import bare_coil
from ...thermal.tool.model import model_of
from ...thermal.tool.parts import Tool
from .places import read_heat
from .tool_of import tool_of

STAGES = ("coil alone, lying on a brick", "coil on its core, in the open", "closed tool")


@dataclass(frozen=True)
class Stage:
    """One stage: its name, the winding's mean and the wire (degC), the tip (nan where there is none), a word on it."""

    name: str
    sheath_c: float
    wire_c: float
    tip_c: float
    word: str


def stages(build, wire, coil, power_w=None):
    """What each stage of assembly settles at, at the same power.

    build, wire, coil: parts of the chain (floats). power_w: W in the coil, None for the coil's own.
    Returns tuple of Stage, or () where the heat model has nothing to work on.
    """
    power = coil.coil_w if power_w is None else power_w
    tool = tool_of(build, wire, coil, power) if coil is not None else None
    if tool is None or np.isnan(power):
        return ()
    alone = bare_coil(tool, power)
    found = [
        Stage(
            STAGES[0],
            alone,
            alone,
            float("nan"),
            "Glowing or not, it shows an even winding or a spot: stop at once if one turn is brighter.",
        )
    ]
    for name, one in ((STAGES[1], open_tool(tool)), (STAGES[2], tool)):
        heat = read_heat(build, wire, coil, power, model := model_of(one), steady(model.net))
        found.append(
            Stage(
                name,
                heat.sheath_c,
                heat.wire_c,
                heat.tip_c,
                "Only the parts inside the winding; it loses its heat to the room."
                if name == STAGES[1]
                else "Tube and handle on: heat now also goes rearward.",
            )
        )
    return tuple(found)


def open_tool(tool):
    """The tool without anything outside the winding.

    tool: Tool.
    Returns Tool with the parts that lie inside the winding's radius, and those that meet them end to end.
    """
    inside = np.max(tool.winding.outer_m)
    kept = tuple(
        p
        for p in tool.pieces
        if np.max(p.inner_m) == 0 and p.role not in ("handle",) or np.max(p.outer_m) <= inside and p.role != "tube"
    )
    ids = {p.id for p in kept} | {"coil"}
    between = tuple(b for b in tool.between if {b.inner, b.outer} <= ids)
    return Tool(kept, tool.winding, between, None, replace(tool.place, rear_convection=1.0))
