"""The settings of a controller, written into a build where its sheet leaves them open, as round figures to type."""

from dataclasses import replace

import numpy as np

from ..chain.control.link import set_point
from ..sheet.build import Build
from .held_elsewhere import for_wanted, set_elsewhere
from .holding import holding

BAND_STEP_K, INTEGRAL_STEP_S = 5.0, 10.0


def is_taken(build: Build) -> bool:
    """Whether the sheet says nothing of a controller, so that the one of a page is the page's own.

    build: Build with a controller.
    """
    said = any(k.line is not None for path, k in build.known.items() if path.startswith("control."))
    own = build.control
    return not said and all(x is None for x in (own.kind, own.way, own.touch, own.cut_out_c, own.cut_out_at_m))


def dialled(build: Build) -> Build:
    """The build with a dial: its sheet's own, else the one, in whole kelvin, with which the metal is at what is wanted.

    build: Build with a controller.
    Returns Build; unchanged where nothing is wanted.
    """
    aim_c = set_point(build)
    if build.control.set_c is not None or not np.isfinite(aim_c):
        return build
    _, dial = for_wanted(set_elsewhere(build, aim_c), aim_c)
    return set_elsewhere(build, float(np.round(dial)) if np.isfinite(dial) else aim_c)


def with_settings(build: Build) -> Build:
    """The build with the tuning's settings and the sensor's place written in, so that sliders start there.

    build: Build with a controller and a set point.
    Returns Build; unchanged where nothing can be held.
    """
    found = holding(build)
    if found.tuning is None:
        return build
    control, seat = build.control, found.control.standing.seat
    gain = round(1 / found.tuning.gain_per_k / BAND_STEP_K) * BAND_STEP_K
    reset = round(found.tuning.integral_s / INTEGRAL_STEP_S) * INTEGRAL_STEP_S
    return replace(
        build,
        control=replace(
            control,
            proportional_k=max(gain, BAND_STEP_K) if control.proportional_k is None else control.proportional_k,
            integral_s=max(reset, INTEGRAL_STEP_S) if control.integral_s is None else control.integral_s,
        ),
        sensor=replace(build.sensor, on=seat.on, at_m=seat.at_m, attached=build.sensor.fixed),
    )
