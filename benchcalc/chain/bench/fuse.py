"""The fuse of a tool: its rating and kind, and when it opens at a dead short at the handle."""

import numpy as np

from ...basics.fault import Fault
from ...heater import protection
from ...heater.supply import LIMITS
from ..parts import NAN


def fuse_of(build, supply, amps, cold_a, cable):
    """The fuse that a tool wants.

    build: Build. supply: SupplyPart. amps, cold_a: root mean square in the winding, steady and in the first moment, A.
    cable: with its contacts, ohm.
    Returns (rating, its characteristic, short-circuit current with the copper hot, latest opening, sentence): nan and
    why where there is no answer; words of one design alone.
    """
    known = build.known.get("supply.warming")
    warming = build.supply.warming if known is None else known.high
    cases = np.broadcast_arrays(
        *[
            np.asarray(x, float)
            for x in (
                amps,
                cold_a,
                supply.short_v,
                supply.winding_ohm * warming,
                cable,
                np.inf if supply.limit_a is None else supply.limit_a,
            )
        ]
    )
    rating, slow, short, latest = _fuses(supply, *(np.atleast_1d(x) for x in cases))
    if cases[0].ndim:
        return rating, "", short, latest, ""
    why = "" if np.isfinite(rating[0]) else _why_none(float(cases[0]))
    kind = "" if np.isnan(rating[0]) else "time-lag" if slow[0] else "quick-acting"
    return float(rating[0]), kind, float(short[0]), float(latest[0]), why


def _fuses(supply, amps, cold_a, open_v, source_ohm, cable, limit_a):
    """Rating, whether it is a slow one, short-circuit current and latest opening of each design: all that take one fuse
    of one kind at a time."""
    rating = protection.smallest_fuse(amps)
    slow = protection.needs_slow(cold_a, rating, supply.rectifier == "bridge with capacitor")
    short, latest = np.full((2, *rating.shape), NAN)
    for rated in np.unique(rating[np.isfinite(rating)]).tolist():
        for kind, of_it in (("time-lag", slow), ("quick-acting", ~slow)):
            here = (rating == rated) & of_it
            ways = (x[here] for x in (open_v, source_ohm, limit_a, cable + float(protection.fuse_ohms(rated))))
            short[here] = short_of(supply, *ways)
            latest[here] = np.where(np.isnan(short[here]), NAN, protection.opening(kind, rated, short[here]).latest_s)
    return rating, slow, short, latest


def _why_none(amps):
    """Why no fuse is chosen for a current, in a sentence; "" where that is not known itself.  amps: A."""
    if not amps > 0:
        return "" if np.isnan(amps) else "No current flows, so no fuse is chosen."
    try:
        protection.fuse_rating(amps)
    except Fault as told:
        return str(told)
    return ""


def short_of(supply, open_v, source_ohm, limit_a, cable_ohm):
    """Current into a dead short at the handle.

    supply: SupplyPart. open_v: V. source_ohm: warm, ohm. limit_a: of the supply, A, inf where it is not known.
    cable_ohm: cable, contacts and fuse.
    Returns A: a supply that limits gives its limit; nan where that is not known, or only one loaded reading is.
    """
    if supply.how == "one reading":
        return NAN
    short = protection.short_current(open_v, source_ohm, 1.0, cable_ohm)
    if supply.kind not in LIMITS:
        return short
    limited = np.where(np.isinf(limit_a), NAN, np.minimum(short, limit_a))
    return limited if limited.ndim else float(limited)
