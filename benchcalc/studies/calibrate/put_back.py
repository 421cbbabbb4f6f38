"""A calibrated tool put back on the sheet's road: the build with what its readings taught."""

from dataclasses import replace
from types import MappingProxyType

import numpy as np

from ...sheet.build import Build, Known
from ...thermal.warmup.bounded_fit import PRIOR_DEVIATION
from .calibrate import MISFIT_LIMIT, Calibration
from .trial_tool import tool_at
from .unknowns import POWER, STORED, Unknown, with_values

KEPT = 0.95  # a band that shrank by less keeps what the sheet says


def calibrated(build: Build, found: Calibration, *, that_day: bool = False) -> Build:
    """The build with what the readings taught put in, its bands narrowed.

    build: Build that was calibrated. found: Calibration. that_day: True to keep the day's power (as its mains voltage)
    and room too.
    Returns Build, unchanged where the model cannot follow the readings: then they teach nothing that may be kept.  Each
    band holds what is left for that input alone; where two inputs cannot be told apart, drawing them one by one gives
    wider bands than `after_build`, never narrower ones by much.
    """
    if found.misfit > MISFIT_LIMIT:
        return build
    known = dict(build.known)
    for i in found.fitted:
        unknown = found.unknowns[i]
        if unknown.path == STORED or not unknown.lasting and not that_day:
            continue
        middle, spread = np.median(found.after[:, i]), found.after[:, i].std() / PRIOR_DEVIATION
        if found.after[:, i].std() > KEPT * found.before[:, i].std():
            continue
        low, high = (float(unknown.value(np.clip(middle + s * spread, *unknown.ends))) for s in (-1, 1))
        path, value = unknown.path, float(unknown.value(middle))
        if path == POWER:
            path, value, low, high = "supply.mains", np.sqrt(value), np.sqrt(low), np.sqrt(high)
            scale = build.supply.mains
            value, low, high = (float(x * scale) for x in (value, low, high))
        build, _ = with_values(build, (replace(unknown, path=path),), (value,))
        known[path] = Known(low, high, "measured", "from readings on the tool", spread=unknown.spread)
    return replace(build, known=MappingProxyType(known))


def after_build(found: Calibration):
    """The build with all its unknowns as drawn after the readings, so that what belongs together stays together.

    found: Calibration.
    Returns (Build with arrays (draws,), power W (draws,)): give both to work_heat.
    """
    build, power_w, _ = tool_at(found.trial, found.after)
    return build, power_w


def values_of(found: Calibration, unknown: Unknown, which="after"):
    """Draws of one unknown in its own unit.

    found: Calibration. unknown: one of its unknowns. which: "before" or "after".
    Returns (draws,).
    """
    i = found.unknowns.index(unknown)
    return unknown.value((found.after if which == "after" else found.before)[:, i])
