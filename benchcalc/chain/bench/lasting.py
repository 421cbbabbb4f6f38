"""How long a supply lasts under a load: a charge in minutes, a label in hours, a transformer by its soak test."""

import numpy as np

from ...basics.names import say
from ...heater.soak import class_limit
from ...heater.supply import LIMITS
from ..parts import NAN
from .link import UNMARKED_CLASS, run_of, winding_amps
from .load_at import most_amps

HOURS, NOBODY_KNOWS, NOT_HOURS = 0, 1, 2


def lasting(build, supply, load_a):
    """How long a supply can give a current.

    build: Build (floats). supply: SupplyPart. load_a: A.
    Returns (words; HOURS, NOBODY_KNOWS or NOT_HOURS; seconds of a battery's charge, or nan).
    """
    if not np.isfinite(load_a):
        return "", NOBODY_KNOWS, NAN
    if supply.kind == "battery":
        run_s = float(run_of(build, supply, load_a))
        if np.isnan(run_s):
            return "not known: write its charge or energy", NOT_HOURS, NAN
        return f"{say('run_s', run_s)} on one charge", NOT_HOURS, run_s
    if supply.kind in LIMITS:
        return f"{load_a / supply.limit_a:.0%} of its limit; its label promises hours, feel its case", HOURS, NAN
    limit_c, _ = class_limit(int(build.soak.winding_class or UNMARKED_CLASS))
    low_a, likely_a, _ = most_amps(build, limit_c)
    if np.isnan(likely_a):
        return "not known: no soak test that tells", NOBODY_KNOWS, NAN
    used_a = float(winding_amps(supply, supply.open_in_use_v - supply.source_in_use_ohm * load_a, load_a))
    allowed = f"{say('load_a', used_a)} of the {say('load_a', low_a)} that its soak test allows"
    return (allowed, HOURS, NAN) if used_a <= low_a else (f"not for hours: {allowed}", NOT_HOURS, NAN)
