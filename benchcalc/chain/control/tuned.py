"""The law that holds a tool, its settings from the tool's warm-up: from a log of it where there is one, else as the
chain says it."""

from dataclasses import dataclass, replace

import numpy as np

from ...basics.names import say
from ...sheet.build import Build
from ...sheet.change import item
from ...sheet.defaults import default
from ...thermal.control.law import Law, checked_law
from ...thermal.control.seated import SENSOR
from ...thermal.control.tuning import simc
from ...thermal.warmup.curve import Data
from ...thermal.warmup.fit import fit
from ...thermal.warmup.formulas import Shape
from ..log.link import work_warm_up
from .standing import WARM_S, Standing

FITTED_POINTS = 120
NEAR_M = 5e-3  # a probe this near to the sensor sees what the sensor sees


@dataclass(frozen=True)
class SeenWarmUp:
    """The warm-up that settings are taken from: at the watts that the switch lets through.  shape: Shape. source: in
    words. lag_s: of the sensor, where the curve is not by it."""

    shape: Shape
    source: str
    lag_s: float = 0.0


def seen_warm_up(build: Build, parts: tuple, standing: Standing) -> SeenWarmUp:
    """The warm-up at full power as the sensor sees it: fitted to the sheet's log where its probe sat on the same part,
    else to what the tool's own network does.

    build: Build with a controller. parts: (supply, wire, coil, heat). standing: Standing of the tool.
    Returns SeenWarmUp.  The rise of a log is carried to the watts of the switch by the exponent that its own power
    steps gave, 1 without any.
    """
    return _logged(build, parts, standing) or SeenWarmUp(seen_shape(standing), "the tool on your sheet: no log of it")


def _logged(build, parts, standing):
    _, _, coil, heat = parts
    part, at, _ = work_warm_up(build, coil)
    if part is None or at is None or part.no_end or not part.load_w > 0 or at.at_m is None:
        return None
    on = item(build.part, standing.seat.on)
    if not on.from_m - NEAR_M <= at.at_m <= on.to_m + NEAR_M:
        return None
    on_w = coil.coil_w * float(standing.seat.net.power_w.sum() / heat.model.net.power_w.sum())
    found = part.forecast
    shape = replace(found.shape, rise_k=found.shape.rise_k * (on_w / part.load_w) ** found.exponent)
    apart = abs(at.at_m - standing.seat.at_m) > NEAR_M
    where = say("length_m", at.at_m, units=build.units)
    said = f"{'the' if build.lent else 'your'} log {part.name}, its probe {where} from the tip"
    return SeenWarmUp(shape, said + (", the sensor's lag added" if apart else ""), build.sensor.lag_s if apart else 0.0)


def settings_of(build, parts, standing, smooth=None):
    """SIMC settings from the tool's warm-up as its sensor sees it.

    build: Build with a controller. parts: (supply, wire, coil, heat). standing: Standing of the tool. smooth: wanted
    closed-loop constant over the dead time, None for the default.
    Returns Tuning.
    """
    smooth = default("control.smooth")["value"] if smooth is None else smooth
    seen = seen_warm_up(build, parts, standing)
    return simc(seen.shape, lag_s=seen.lag_s, window_s=build.control.window_s, smooth=smooth)


def seen_shape(standing: Standing) -> Shape:
    """The warm-up that the sensor sees at full power, as two time constants; fitted once for each tool.

    standing: Standing.
    Returns Shape.
    """
    kept = standing.kept
    if "seen_shape" not in kept:
        time_s, places = standing.full_times
        read = places[SENSOR]
        near = np.flatnonzero(read >= read[0] + 0.98 * (read[-1] - read[0]))
        at = np.linspace(0.0, min(max(float(time_s[near[0]]), 600.0), WARM_S), FITTED_POINTS)
        kept["seen_shape"] = fit(Data(at, standing.full.at(at, SENSOR)), "two").shape
    return kept["seen_shape"]


def law_of(build, set_c, settings):
    """The law that the sheet asks for; what it does not say comes from the tuning.

    build: Build with a controller. set_c: set point, degC. settings: function without arguments -> Tuning, asked only
    where the sheet leaves gain or integral time open; None where the law needs neither.
    Returns Law.  Raises Fault for a law that cannot work.
    """
    control = build.control
    gain = None if control.proportional_k is None else 1 / control.proportional_k
    reset = control.integral_s
    if None in (gain, reset) and settings is not None:
        tuning = settings()
        gain, reset = gain or tuning.gain_per_k, reset or tuning.integral_s
    own = {k: v for k, v in (("gain_per_k", gain), ("integral_s", reset)) if v is not None}
    return checked_law(Law(control.law, set_c, control.band_k, window_s=control.window_s, **own))
