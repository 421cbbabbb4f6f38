"""Link 6 of the chain: the handle and what holds heat away from it.  No physics here, only the calls."""

from dataclasses import dataclass, replace

import numpy as np

from ...basics.tables import one, rows
from ...materials.bulk import solid_key
from ...materials.wood import STATED_MOISTURE, bore_change, hours_to_weaken, moisture_beside, shrinkage, wood_row
from ...sheet.build import Build
from ...sheet.hole_defaults import pattern_of
from ...sheet.roles import part_with_role
from ...thermal.holes.pattern import web_at_bore, web_between_rings
from ...thermal.holes.strength import (
    bare_of,
    bending_of,
    net_share_of,
    section_modulus,
    stiffness_left,
    tip_give,
    web_stress,
)
from ..heat.holes import designs_in, narrow_of
from ..heat.part import HeatPart
from ..parts import NAN, as_floats

MOST_YEARS = 100.0  # more is not told
GRIP_W_M2K = 12.0  # a hand round a handle of 25 mm: from 0.45 to 0.65 W/(m K), data/defaults.csv


@dataclass(frozen=True)
class HandlePart:
    """The handle settled, the holes' price, and the wood in the long run.

    finger_c: tube where a finger slips to, 10 mm before the handle. extra_m: extra tube that all holes are worth.
    net_share, stiffness: strength and stiffness left (1: no holes). web_pa: in the webs, yield_pa: of the tube there,
    low end. web_m: least metal between holes. weaken_s: until the wood at the tube is a tenth weaker. dry: moisture
    that the wood beside the tube comes to. closing_m: what the bore closes by, tangential, and its share. wood_years:
    weaken_s at the sheet's hours a year, 100 at most.
    """

    entry_c: float
    bore_c: float
    grip_c: float
    finger_c: float
    extra_m: float
    net_share: float
    stiffness: float
    web_pa: float
    yield_pa: float
    web_m: float
    weaken_s: float
    dry: float
    closing_m: float
    closing: float
    wood_years: float


def work_handle(build: Build, heat: HeatPart | None) -> HandlePart | None:
    """The handle of a settled tool.

    build: Build. heat: result of the heat link.
    Returns HandlePart, or None where there is no handle, or no temperatures.
    """
    handle = part_with_role(build, "handle")
    if heat is None or heat.refused or handle is None or np.all(np.isnan(heat.entry_c)):
        return None
    holes = _holes(build, handle, heat)
    wood = handle.material is not None and np.any(np.isfinite(heat.bore_c))
    weaken = 3600 * hours_to_weaken(heat.entry_c) if wood else NAN
    drying = _drying(build, handle, heat) if wood else (NAN, NAN, NAN)
    yearly, years = build.use.hours_per_year, NAN
    if yearly is not None and np.all(np.asarray(yearly) > 0):
        years = np.minimum(weaken / 3600 / yearly, MOST_YEARS)
    return as_floats(HandlePart(heat.entry_c, heat.bore_c, heat.grip_c, heat.finger_c, *holes, weaken, *drying, years))


def _drying(build, handle, heat):
    """Moisture beside the tube, and what the bore closes by while the wood dries to it."""
    species = solid_key(handle.material)[1]
    known = next((r for r in rows("wood_shrinkage") if r["key"] == species), None)
    start = STATED_MOISTURE if handle.moisture is None else handle.moisture
    dry = moisture_beside(heat.entry_c, build.room.ambient_c, one("defaults", "key", "room.humidity")["value"])
    if known is None or wood_row(species, "specific_gravity") is None or handle.inner_m is None:
        return dry, NAN, NAN
    tangential, lost = shrinkage(species)[1], np.maximum(start - dry, 0.0)
    return dry, bore_change(handle.inner_m, tangential, lost), tangential * lost


def _holes(build, handle, heat):
    """(extra_m, net_share, stiffness, web_pa, yield_pa, web_m) of the worst break; 1 and nan without holes."""
    worst = (0.0, 1.0, 1.0, NAN, NAN, NAN)
    for hole, narrow in zip(build.heat_break, _each(build)):
        if narrow is None:
            continue
        part = next(p for p in build.part if p.id == hole.on)
        share = _of_patterns(hole, part, net_share_of, 1.0)
        web = _of_patterns(hole, part, lambda p: min(web_at_bore(p), web_between_rings(p)), NAN)
        tip = min((p.from_m for p in build.part if p.from_m is not None), key=lambda v: float(np.min(v)))
        arm = narrow.to_m - np.asarray(tip)  # the rearmost ring carries the most
        with np.errstate(divide="ignore", invalid="ignore"):
            stress = web_stress(build.use.side_load_n, arm, section_modulus(part.outer_m, part.inner_m), share)
        strong = yield_low(part.material, heat.break_c)
        stress, strong = np.where(np.isnan(web), NAN, stress), np.where(np.isnan(web), NAN, strong)
        stiff = _stiffness(part, handle, tip, narrow)
        worst = (
            worst[0] + narrow.extra_m,
            np.minimum(worst[1], share),
            worst[2] * stiff,
            np.fmax(worst[3], stress),
            np.fmin(worst[4], strong),
            np.fmin(worst[5], web),
        )
    return worst


def _of_patterns(hole, part, value, otherwise):
    """A value of the pattern of a break, for one design or each of many; `otherwise` where there is no pattern."""
    many = designs_in(hole, part)
    patterns = [pattern_of(hole, part, i) for i in range(many or 1)]
    found = np.array([otherwise if p is None else value(p) for p in patterns])
    return found if many else float(found[0])


def _each(build):
    """The Narrow of each break of a build, None for one without holes."""
    for hole in build.heat_break:
        yield next(iter(narrow_of(replace(build, heat_break=(hole,)), refuse=False)), None)


def _stiffness(tube, handle, tip, narrow):
    """Stiffness left at the tip; of holes that the handle covers in part, the rest counts."""
    # the modulus falls out of the ratio
    bending = bending_of(1.0, np.asarray(tube.outer_m), np.asarray(tube.inner_m))
    give = _give(tube.from_m, handle.from_m, bending, tip)
    bare, middle = bare_of(narrow.from_m, narrow.to_m, handle.from_m)
    return stiffness_left(give, bare * narrow.extra_m, middle - np.asarray(tip), bending)


def _give(from_m, to_m, bending, tip):
    wide = np.broadcast_arrays(*(np.asarray(v, float) for v in (from_m, to_m, bending, tip)))
    found = np.array([tip_give([a, b], [ei], t) for a, b, ei, t in zip(*(np.ravel(w) for w in wide))])
    return found if wide[0].ndim else float(found[0])


def yield_low(material, temp_c):
    """Low end of a metal's yield stress at a temperature.

    material: as on the sheet. temp_c: degC, float or array.
    Returns Pa, straight between the rows of data/metal_yield.csv; the room's value where there is no curve; nan beyond
    the data, or for what is no metal.
    """
    topic, key = solid_key(material)
    curve = sorted((r for r in rows("metal_yield") if r["key"] == key), key=lambda r: r["temp_c"])
    if curve:
        low = [float(r["low"]) for r in curve]
        return np.interp(temp_c, [r["temp_c"] for r in curve], low, right=NAN)
    found = next(
        (r for r in rows("metal_values") if topic == "metals" and r["key"] == key and r["quantity"] == "yield_pa"), None
    )
    return NAN if found is None else found["low"] + 0.0 * np.asarray(temp_c)
