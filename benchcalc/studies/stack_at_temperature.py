"""The stack at a winding temperature that is chosen: worked out once for a run of powers, then read off."""

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from ..chain.heat.link import nominal_heat, work_heat
from ..chain.insulation.link import life_at, work_insulation
from ..chain.parts import Keyed
from ..chain.workings import chain
from ..sheet.build import Build
from ..thermal.tool.stack import radial_section

SHARES = np.array([0.02, 0.12, 0.35, 0.7, 1.0, 1.4, 2.2, 4.0, 8.0, 16.0])  # of the coil's power


@dataclass(frozen=True, eq=False)
class AtWinding:
    """The stack at one winding temperature.

    wire_c: the hottest wire. power_w: what it takes in the coil, nan where no heat can be worked out. insulation:
    InsulationPart or None. shells: tuple of Shell, empty without a tool. said: why there are none, or "".
    """

    wire_c: float
    power_w: float
    insulation: object
    shells: tuple
    said: str = ""


def at_winding(build: Build) -> AtWinding:
    """The stack with its hottest wire at `build.at_c`, or where the tool settles if that is None.

    build: Build.
    Returns AtWinding.  Straight between ten powers: within a kelvin or two of a run of its own.
    """
    key = repr(replace(build, at_c=None, at_s=None, use=replace(build.use, hours_per_year=None), known={}))
    wire, part, shells, watts, own_c, said = _run(Keyed(key, build))
    if not shells:
        return AtWinding(build.at_c if build.at_c is not None else own_c, np.nan, _hours(build, part), (), said)
    at_c = own_c if build.at_c is None else build.at_c

    def read(values):
        return float(np.interp(at_c, wire, np.broadcast_to(values, wire.shape)))

    if part is not None:
        part = replace(
            part,
            **{f: tuple(read(v) for v in getattr(part, f)) for f in ("hot_c", "cold_c", "life_s")},
            margin_k=read(part.margin_k),
            tails_c=read(part.tails_c),
            holds_from_m=read(part.holds_from_m),
        )
        part = replace(part, life_s=tuple(_life(part, k, build) for k in range(len(part.layers))))
    shells = tuple(replace(s, inner_c=read(s.inner_c), outer_c=read(s.outer_c)) for s in shells)
    return AtWinding(float(np.clip(at_c, wire[0], wire[-1])), read(watts), _hours(build, part), shells)


def _life(part, k, build):
    """Lives are no straight lines of temperature: from the temperature itself."""
    rated = part.layers[k].rating
    return life_at(build, rated, part.hot_c[k]) if rated is not None and rated.organic else np.nan


def _hours(build, part):
    if part is None:
        return None
    lives = [x for x in part.life_s if np.isfinite(x)]
    hours = build.use.hours_per_year
    return replace(part, years=min(lives) / 3600 / hours if lives and hours else np.nan)


@lru_cache(maxsize=1)  # so that a moved temperature does not work it out again
def _run(kept):
    build = kept.thing
    supply, wire, coil, single, _ = chain(build)  # the same loop of heat and ohms as on every page
    if single is None or single.refused or single.model is None:
        part = work_insulation(build, supply, wire, coil, single)
        said = (
            single.refused
            if single is not None and single.refused
            else "No winding on a part: there is no stack to cut through."
        )
        return None, part, (), None, np.nan if single is None else single.wire_c, said
    watts, near = SHARES * coil.coil_w, nominal_heat(single)  # a kelvin off where its wire glows white, no more
    many = work_heat(build, wire, coil, watts, near=near)
    if many.model is None:  # a power many times too much for this tool finds no balance: the others do
        watts = watts[np.isfinite(many.wire_c)]
        many = work_heat(build, wire, coil, watts, near=near)
    part = work_insulation(build, supply, wire, coil, many)
    return many.wire_c, part, radial_section(many.model, many.temps_c), watts, single.wire_c, ""
