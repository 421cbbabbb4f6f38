"""A plug in a tube, cold and hot: clearance or squeeze, hoop stress, and whether the tube gives way."""

from dataclasses import dataclass

import numpy as np

from ...basics.fault import fault
from ...basics.tables import rows
from ...materials.metals import metal_at, metal_key, metal_value

COLD_C = 20.0


def hot_gap(cold_gap_m, fit_m, outer_per_k, outer_rise_k, inner_per_k, inner_rise_k):
    """What heat makes of a gap: the tube's bore grows, and so does the plug in it.

    cold_gap_m: bore less plug, cold, on the diameter; below 0 it is a squeeze. fit_m: diameter of the fit. outer_per_k,
    inner_per_k: expansion of tube and plug. outer_rise_k, inner_rise_k: how much warmer than when measured.
    Returns hot_gap_m; below 0 the plug is squeezed by so much.
    Equation: linear expansion of both diameters (a bore grows as the metal it was cut from would).
    """
    hot_gap_m = cold_gap_m + fit_m * (outer_per_k * outer_rise_k - inner_per_k * inner_rise_k)
    return hot_gap_m


def fit_pressure(squeeze_m, fit_m, outer_m, tube_pa, tube_poisson, plug_pa, plug_poisson):
    """The pressure between a tube and a solid plug that is too big for it, while both stay elastic.

    squeeze_m: plug less bore, on the diameter, 0 and above. fit_m: diameter of the fit. outer_m: of the tube. tube_pa,
    plug_pa: elastic moduli. tube_poisson, plug_poisson: Poisson's ratios.
    Returns pressure_pa.  Equation: Lame's thick tube on a solid plug; Budynas and Nisbett, Shigley's Mechanical
    Engineering Design, section on press and shrink fits (equation from memory).
    """
    wall_ratio = (outer_m**2 + fit_m**2) / (outer_m**2 - fit_m**2)
    tube_stiff_pa = tube_pa / (wall_ratio + tube_poisson)
    plug_stiff_pa = plug_pa / (1 - plug_poisson)
    pressure_pa = squeeze_m / fit_m / (1 / tube_stiff_pa + 1 / plug_stiff_pa)
    return pressure_pa


def hoop_stress(pressure_pa, fit_m, outer_m):
    """The pull round the bore of a tube with pressure in it, where it is greatest.

    pressure_pa: in the bore. fit_m: diameter of the bore. outer_m: of the tube.
    Returns hoop_pa.  Equation: Lame; Shigley's, section on stresses in pressurized cylinders (from memory).
    """
    wall_ratio = (outer_m**2 + fit_m**2) / (outer_m**2 - fit_m**2)
    hoop_pa = pressure_pa * wall_ratio
    return hoop_pa


@dataclass(frozen=True)
class PressFit:
    """A plug in a tube at a temperature: gaps on the diameter (below 0: squeeze), pressure, stress against strength.

    stress_pa: hoop stress plus pressure at the bore (Tresca); stress_low_pa, stress_high_pa: with the plug as soft and
    as strong as its table allows. yield_pa: of the tube there, its cautious end; nan: not known. gives: "" nothing,
    "plug", "tube", or "not known". loose_after_m: gap that is left cold once what gave way has set.
    """

    cold_gap_m: float
    hot_gap_m: float
    pressure_pa: float
    hoop_pa: float
    stress_pa: float
    stress_low_pa: float
    stress_high_pa: float
    yield_pa: float
    plug_yield_pa: float
    gives: str
    loose_after_m: float


def will_it_split(tube, plug, gap_m, fit_m, outer_m, tube_c, plug_c):
    """Whether a plug, pressed in or grown by heat, stretches its tube for good.

    tube, plug: metals. gap_m: bore less plug at COLD_C, on the diameter, below 0 for a press fit. fit_m: diameter of
    the fit. outer_m: of the tube, above fit_m. tube_c, plug_c: degC at the fit.
    Returns PressFit at these temperatures.  The plug's own strength caps the pressure: a soft plug creeps, and the fit
    is loose when cold, long before a stout tube splits.
    Assumes: a long solid plug, elastic moduli of 20 degC (which overstates the stress), mean expansion of 20-100
    degC.  To give way is to stretch for good; a ductile tube splits only where it is strained by whole per cents, at a
    bad seam first.  A brittle tube (cast iron) has no yield to go by: it cracks.
    Raises Fault: no wall left, a diameter not above 0, a metal without elastic data.
    """
    tube, plug = metal_key(tube, where="tube"), metal_key(plug, where="plug")
    if not 0 < fit_m < outer_m:
        raise fault(
            "tube, wall",
            f"{(outer_m - fit_m) / 2 * 1e3:g} mm",
            "must be above 0.",
            "Outer and inner diameter swapped, or a radius typed as a diameter.",
        )
    if not abs(gap_m) < 0.05 * fit_m:
        raise fault(
            "fit, gap",
            f"{gap_m * 1e3:g} mm",
            f"must lie within 5 % of the {fit_m * 1e3:g} mm of the fit.",
            "A clearance is the bore less the plug; press fits are thousandths.",
        )
    grow = {m: metal_value(m, "expansion_per_k").value for m in (tube, plug)}
    stiff = [metal_value(m, q) for m in (tube, plug) for q in ("elastic_modulus_pa", "poisson_ratio")]
    if None in stiff:
        raise fault(
            "fit", f"{tube} on {plug}", "cannot be worked out: the tables hold no elastic modulus for one of them."
        )
    hot = float(hot_gap(gap_m, fit_m, grow[tube], tube_c - COLD_C, grow[plug], plug_c - COLD_C))
    values = [s.value for s in stiff]
    elastic = float(fit_pressure(max(-hot, 0.0) + 0.0, fit_m, outer_m, *values))
    tube_yield = _strength(tube, tube_c)[0]
    plug_yield, *plug_caps = _strength(plug, plug_c)
    pressures = [
        min(elastic, cap) for cap in (plug_caps[0], plug_yield if plug_yield == plug_yield else elastic, plug_caps[1])
    ]
    hoops = [float(hoop_stress(p, fit_m, outer_m)) for p in pressures]
    stress, low, high = (h + p for h, p in zip(hoops, pressures))
    gives = (
        ""
        if elastic == 0
        else "not known"
        if np.isnan(tube_yield)
        else "tube"
        if stress > tube_yield
        else "plug"
        if elastic > min(plug_yield, plug_caps[1])
        else ""
    )
    held = {"tube": tube_yield / (stress or 1.0) * pressures[0], "plug": pressures[1]}.get(gives, elastic)
    lost = 0.0 if gives in ("", "not known") else max(-hot, 0.0) * (1 - held / elastic)
    return PressFit(
        gap_m, hot, pressures[0], hoops[0], stress, min(low, stress), high, tube_yield, plug_yield, gives, gap_m + lost
    )


def _strength(metal, temp_c):
    """Yield at a temperature: cautious end (nan: not known there), likely value, boldest end.  Beyond its data the last
    row bounds the latter two, since strength only falls."""
    found = metal_at(metal, "yield_pa", temp_c)
    if found is not None:
        return found.low, found.value, found.high
    ends = [r for r in rows("metal_yield") if r["key"] == metal]
    last = max(ends, key=lambda r: r["temp_c"]) if ends else None
    cold = metal_value(metal, "yield_pa")
    bound = (last["value"], last["high"]) if last else (cold.value, cold.high) if cold else (np.inf, np.inf)
    return float("nan"), *bound


def screw_tightening(plug_m, wall_m, rise_k, outer_per_k, inner_per_k, screw_per_k):
    """What heat does to a set screw through a tube's wall onto the plug inside.

    plug_m: diameter of the plug. wall_m: of the tube, the length of screw in it. rise_k: of all three. outer_per_k,
    inner_per_k, screw_per_k: expansion of tube, plug and screw.
    Returns tightening_m: above 0 the screw bites deeper when hot and may be loose once cold; below 0 it loosens
    while hot.  Equation: expansion of plug radius and screw against the tube's outside radius.
    """
    inside_m = plug_m / 2 * inner_per_k * rise_k + wall_m * screw_per_k * rise_k
    around_m = (plug_m / 2 + wall_m) * outer_per_k * rise_k
    tightening_m = inside_m - around_m
    return tightening_m
