"""The stack at a winding temperature that is chosen: the power for it is looked for, the tool settled at it."""

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from ..chain.heat.link import nominal_heat, work_heat
from ..chain.insulation.link import work_insulation
from ..chain.parts import Keyed
from ..chain.workings import chain, links
from ..sheet.build import Build
from ..thermal.network.side_by_side import RISE_POWER
from ..thermal.tool.stack import radial_section

LEAST, MOST = 0.02, 16.0  # of the power that the sheet's coil takes: between them it is looked for
CLOSE_K, CLOSE_SHARE = 0.02, 1e-6
CLOSE_TO_NONE = 0.05  # share of a power at which there is no balance within which the last is looked for that has one
SLOPES = 0.3, 1.2  # a rise goes with a power of the power between them
WIRE_C = 20.0, 1400.0  # between them the wire's ohms are known


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
    Returns AtWinding.  The power is looked for, between 0.02 and 16 times what the coil takes, until the wire is within
    a fiftieth of a kelvin; where it does not come to `at_c`, wire_c is the nearest that it comes.  A wire whose
    temperature the sheet does not type has the ohms that it has at `at_c`.
    """
    key = repr(replace(build, at_s=None, use=replace(build.use, hours_per_year=None), known={})), _is_free(build)
    found = _found(Keyed(key, build))
    return replace(found, insulation=_hours(build, found.insulation))


def _hours(build, part):
    if part is None:
        return None
    lives = [x for x in part.life_s if np.isfinite(x)]
    hours = build.use.hours_per_year
    return replace(part, years=min(lives) / 3600 / hours if lives and hours else np.nan)


def _is_free(build):
    """Whether the wire's temperature is assumed: then its ohms follow the heat."""
    known = build.known.get("coil.wire_temp_c")
    return build.coil is not None and known is not None and known.how == "assumed"


@lru_cache(maxsize=1)  # hours of use do not work it out again
def _found(kept):
    build, at_c = kept.thing, kept.thing.at_c
    if at_c is None:
        return _read(build, *chain(build)[:4])  # the same loop of heat and ohms as on every page
    own = _as_on_the_sheet(Keyed((repr(replace(build, at_c=None, known={})), kept.key[1]), build))
    if own[3] is None or own[3].refused or own[3].model is None:
        return _read(build, *own)
    if _is_free(build):
        build = replace(build, coil=replace(build.coil, wire_temp_c=float(np.clip(at_c, *WIRE_C))))
    supply, wire, coil = links(build)
    return _read(build, supply, wire, coil, *_heated(build, wire, coil, own, at_c))


@lru_cache(maxsize=1)  # nor does a moved temperature make the tool's network again
def _as_on_the_sheet(kept):
    supply, wire, coil = links(kept.thing)
    return supply, wire, coil, work_heat(kept.thing, wire, coil)


def _heated(build, wire, coil, own, at_c):
    """The tool with its hottest wire at a temperature, or as near as it comes: (HeatPart, power W).

    wire, coil: with their ohms there. own: the chain with the ohms that the sheet says.
    """
    room_c, unit_w, heat = build.room.ambient_c, own[2].coil_w, own[3]
    if not heat.wire_c > room_c:  # no power, no rise
        return heat, unit_w
    low, high, met, slope = LEAST, MOST, {}, RISE_POWER
    share, close = 1.0, CLOSE_SHARE
    while True:
        wanted = share * (max(at_c - room_c, 0.0) / (heat.wire_c - room_c)) ** (1 / slope)
        trial = float(np.clip(wanted, low, high))
        if trial in met:  # an end that was tried: no power beyond it serves
            trial = (low * high) ** 0.5
        one = work_heat(build, wire, coil, trial * unit_w, near=nominal_heat(heat))
        met[trial] = one
        if one.refused:  # a power many times too much finds no balance
            high, close = trial, CLOSE_TO_NONE
        else:
            if share in met:
                rises = (one.wire_c - room_c) / (heat.wire_c - room_c)
                slope = float(np.clip(np.log(rises) / np.log(trial / share), *SLOPES))
            heat, share = one, trial
            low, high = (share, high) if heat.wire_c < at_c else (low, share)
        if abs(heat.wire_c - at_c) <= CLOSE_K or high <= low * (1 + close):
            return (heat, share * unit_w) if share in met else (own[3], unit_w)


def _read(build, supply, wire, coil, heat, power_w=None):
    part = work_insulation(build, supply, wire, coil, heat)
    wire_c, wanted_c = np.nan if heat is None else heat.wire_c, build.at_c
    if heat is None or heat.refused or heat.model is None:
        said = "No winding on a part: there is no stack to cut through."
        said = heat.refused if heat is not None and heat.refused else said
        return AtWinding(wire_c if wanted_c is None else wanted_c, np.nan, part, (), said)
    if wanted_c is not None and abs(wire_c - wanted_c) <= CLOSE_K:
        wire_c = wanted_c
    watts = coil.coil_w if power_w is None else power_w
    return AtWinding(float(wire_c), float(watts), part, radial_section(heat.model, heat.temps_c))
