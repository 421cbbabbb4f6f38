"""The verdicts on the cable: the coil's current, the supply's limit, and whether the fuse opens before it suffers."""

import numpy as np

from ...basics.band import Band
from ...basics.tables import source_words
from ...heater.cable import cable_limit, cable_overload, thinnest_behind
from ...heater.protection import fuse_ohms, opens_from
from ...heater.supply import LIMITS, TRIPS
from ..verdict import Limit, judge, unknown
from .fuse import short_of

CORDS = source_words("IEC60335-1-CABLE") + "; check the standard"
FUSE = "fuse in the low-voltage lead, against the cable"


def cable_checks(build, supply, bench, bands):
    """Verdicts on the cable.

    build: Build. supply, bench: parts. bands: path -> Band.
    Returns list of Verdict; nothing on a supply that is refused.
    """
    if supply.refused:
        return []
    return [
        *_through_cable(build, supply),
        *_current(build, bench),
        *_behind_fuse(build, supply, bench, bands),
        *_half_told(build),
    ]


def _through_cable(build, supply):
    """The limit of a supply that protects by its limit, against what the cable may carry."""
    if supply.kind not in LIMITS or supply.limit_a is None:
        return []
    what, cable = "limit of the supply, through the cable", build.supply.cable
    why = (
        "A short at the handle sends this through the cable for as long as it lasts, and no fuse is promised to open. "
        "Take a thicker cable, set a lower limit, or put a fuse that the cable can follow into the lead."
    )
    if cable.area_m2 is None:
        lacks = "The sheet names no cable: write its length and section under [supply.cable]. "
        return [unknown(what, "limit_a", why=lacks + why, source=CORDS, advice=True)]
    most_a = cable_limit(cable.area_m2, cable.length_m)
    short_a = cable_limit(cable.area_m2, 0.0)
    if cable.length_m is None and not np.all(supply.limit_a <= most_a) and np.all(supply.limit_a <= short_a):
        lacks = "Only a short cable of this section may carry it: write its length under [supply.cable]. "
        return [unknown(what, "limit_a", why=lacks + why, source=CORDS)]
    return [judge(what, "limit_a", supply.limit_a, Limit(most_a, "at most", CORDS), why=why)]


def _current(build, bench):
    """The section of the cable against the coil's current; of a thin one without a length nobody knows."""
    cable, amps = build.supply.cable, bench.load_a
    if cable.area_m2 is None or np.all(np.isnan(amps)):
        return []
    what = "current in the cable"
    why = "Section against current, as appliance practice asks; 0.5 mm2 serves cords up to 2 m long only."
    most_a = cable_limit(cable.area_m2, cable.length_m)
    if cable.length_m is None:
        short_a = cable_limit(cable.area_m2, 0.0)
        if np.any((amps > most_a) & (amps <= short_a)):
            why += " The sheet does not say how long this one is: write length under [supply.cable]."
            return [unknown(what, "lead_a", why=why, source=CORDS)]
        most_a = np.where(amps > short_a, short_a, most_a)
    return [judge(what, "lead_a", amps, Limit(np.asarray(most_a)[()], "at most", CORDS), why=why)]


def _behind_fuse(build, supply, bench, bands):
    """The current that may last in the cable behind the proposed fuse: what just opens it, or the whole short where
    that need not open it.  One current alone; a supply that trips is judged by its limit.
    """
    cable = build.supply.cable
    if supply.kind in TRIPS or np.all(np.isnan(bench.fuse_a)) or np.ndim(cable.area_m2):
        return []
    source = f"{source_words('IEC60364-4-43')}; {CORDS}"
    if cable.area_m2 is None:
        why = "The sheet names no cable: write its length and section under [supply.cable]. "
        why += "" if np.ndim(bench.fuse_a) else _thinnest(bench)
        return [unknown(FUSE, "lead_a", why=why.strip(), source=source, advice=True)]
    if np.ndim(bench.fuse_a):
        return []
    fuse = f"{bench.fuse_a:g} A {bench.fuse_kind}"
    opens_a, opens_s = opens_from(bench.fuse_kind, bench.fuse_a)
    most_a = float(np.min(cable_limit(cable.area_m2, cable.length_m)))
    least_a, short_a = _short_ends(supply, bench, bands)
    why = f"A {fuse} fuse is sure to open from {opens_a:.3g} A on, within {opens_s / 60:.3g} minutes. "
    told = {"why": why, "source": source, "advice": True}
    if cable.length_m is None and most_a < cable_limit(cable.area_m2, 0.0):
        told["why"] += "Only a short cable of this section may carry it: write its length under [supply.cable]."
        return [unknown(FUSE, "lead_a", **told)]
    if least_a >= opens_a and short_a > most_a:  # it opens on every short that is too much for the cable
        bears = f"Until then a cable bears {cable_overload():g} times its {most_a:.3g} A. "
        why += bears if most_a else "The table has no section as thin as this one. "
        limit, lasts = Limit(cable_overload() * most_a, "at most", source, advice=True), opens_a
    elif np.isnan(short_a) and opens_a > most_a:
        told["why"] += "What this supply gives into a short is not known, nor whether the fuse opens on it."
        return [unknown(FUSE, "lead_a", **told)]
    else:
        why += "" if np.isnan(short_a) else f"A short at the handle draws {short_a:.3g} A at most. "
        limit, lasts = Limit(most_a, "at most", source, advice=True), float(np.fmin(short_a, opens_a))
    fits = lasts <= limit.value
    why += "" if fits else "Below that a half short may warm the cable while nothing opens: take a thicker one."
    return [judge(FUSE, "lead_a", lasts, limit, why=why.strip())]


def _thinnest(bench):
    """What to ask of a cable that is still to be bought."""
    least_m2 = thinnest_behind(opens_from(bench.fuse_kind, bench.fuse_a)[0])
    fuse = f"{bench.fuse_a:g} A {bench.fuse_kind}"
    if np.isnan(least_m2):
        return f"No section of the table stands what a {fuse} fuse may let through: take the supply's own lead."
    return f"Behind a {fuse} fuse take {least_m2 * 1e6:g} mm2 or more: thinner may overheat on a half short."


def _short_ends(supply, bench, bands):
    """The least and the most that a dead short at the handle may draw, A: the copper hot, and the copper cold."""
    band = bands.get("bench.short_a") or Band(bench.short_a, bench.short_a, bench.short_a)
    limit_a = np.inf if supply.limit_a is None else supply.limit_a
    fuse_ohm = float(fuse_ohms(bench.fuse_a))
    cold_a = short_of(supply, supply.short_v, supply.winding_ohm, limit_a, bench.cable_ohm + fuse_ohm)
    return band.low, float(cold_a / bench.short_a * band.high)


def _half_told(build):
    """What is to be said of a cable that the sheet tells half of: its ohms are not counted."""
    cable = build.supply.cable
    if (cable.length_m is None) == (cable.area_m2 is None):
        return []
    lacks, has = ("length", "section") if cable.length_m is None else ("section", "length")
    why = f"Its {has} alone tells no ohms: none are counted, and the coil gets less than told. Write {lacks} = ... "
    return [unknown("ohms of the cable", "cable_ohm", why=why + "under [supply.cable].", advice=True)]
