"""Predictions of the pages on heat along the tool and on warming up."""

import numpy as np

from ...basics.fault import fault
from ...basics.names import say
from ...chain.heat.in_time import power_for, time_to, warming
from ...chain.heat.link import work_heat
from ...chain.log.end import no_end_words
from ...chain.workings import links
from ...sheet.change import change
from ...thermal.warmup.formulas import time_to_share
from .prediction import Prediction, Revealed


def _place(workings):
    return "wire_c" if np.isnan(workings.heat.tip_c) else "tip_c"


def _half_watts(build, workings):
    place, cold_c = _place(workings), build.room.ambient_c
    half = work_heat(build, workings.wire, workings.coil, workings.coil.coil_w / 2)
    left = (getattr(half, place) - cold_c) / (getattr(workings.heat, place) - cold_c)
    return Revealed(
        0 if left < 0.45 else 1 if left < 0.52 else 2,
        f"It keeps {left:.0%} of its rise: a cooler skin radiates less, so half the watts go further than half way.",
    )


def _which_is_late(build, workings):
    run = warming(build, workings.wire, workings.coil, workings.heat)
    late = run.grip_c if np.isfinite(run.grip_c[0]) else run.hottest_metal_c
    wire, slow = (time_to(run.time_s, y, y[0] + 0.9 * (y[-1] - y[0])) / 60 for y in (run.wire_c, late))
    return Revealed(
        0 if wire > 1.1 * slow else 1 if wire > 0.9 * slow else 2,
        f"To nine tenths of what the hour brings: wire {wire:.0f} min, the other {slow:.0f} min. Wood stores heat "
        "and hardly passes it on.",
    )


def _fifty_lower(build, workings):
    place = _place(workings)
    less_w = power_for(build, workings.wire, workings.coil, getattr(workings.heat, place) - 50.0, at=place)
    share = 1 - less_w / workings.coil.coil_w
    return Revealed(
        0 if share < 0.12 else 1 if share < 0.35 else 2,
        f"{say('load_w', less_w)} instead of {say('load_w', workings.coil.coil_w)}: {share:.0%} fewer.",
    )


def _second_handle(build, part):
    handle = next((p for p in build.part if p.role == "handle" and p.outer_m), None)
    if handle is None:
        raise fault("handle", "", "is not on this sheet.")
    twice_m = float(np.sqrt(2 * handle.outer_m**2 - (handle.inner_m or 0.0) ** 2))
    ends = []
    for tool in (build, change(build, f"part.{handle.id}.outer_m", twice_m)):
        _, wire, coil = links(tool)
        heat = work_heat(tool, wire, coil)
        ends.append(heat.tip_c if np.isfinite(heat.tip_c) else heat.wire_c)
    moved_k = abs(ends[1] - ends[0])
    return Revealed(
        0 if moved_k < 5 else 1,
        f"With twice the wood the end moves by {moved_k:.1f} K: wood sheds little. But the slow part of the curve "
        "grows, and with it the outer range of a short log.",
    )


def _ends(build, part):
    """Raises Fault: the log of the page tells no end.  part: LogPart."""
    if part.no_end:
        raise fault(part.name, "", "tells no end to bet on.", no_end_words(part, build.degrees))


def _nine_tenths(build, part):
    _ends(build, part)
    nine_min = time_to_share(part.forecast.shape, 0.9) / 60
    near_min = part.near_s / 60
    return Revealed(
        0 if nine_min < 0.5 * near_min else 1 if nine_min < 0.9 * near_min else 2,
        f"{nine_min:.1f} min, by the fitted curve; its end is reached to 5 K after {near_min:.1f} min.",
    )


def _bead_pressed_on(build, part):
    _ends(build, part)
    way = {"degrees": build.degrees}
    metal, low, high, read = (
        say("temp_c", x, **way) for x in (part.metal_c, part.metal_low_c, part.metal_high_c, part.end_c)
    )
    over_k = part.metal_c - part.end_c
    return Revealed(
        0 if over_k < -2 else 1 if over_k < 2 else 2,
        f"About {metal}, between {low} and {high}, by the way this log says it is attached; it reads {read}.",
    )


PREDICTIONS = (
    Prediction(
        key="half-the-watts",
        ask="Half the watts. What is left of the rise over the room?",
        choices=("less than 45 %", "about half", "more than half"),
        reveal=_half_watts,
        needs=("coil", "heat"),
    ),
    Prediction(
        key="which-is-late",
        ask="Which takes longer to settle, the hottest wire or the outside of the handle?",
        choices=("the wire", "both alike", "the outside of the handle"),
        reveal=_which_is_late,
        needs=("coil", "heat"),
    ),
    Prediction(
        key="fifty-lower",
        ask="How many watts fewer would hold the same place fifty kelvin lower?",
        choices=("hardly any: below 12 %", "12 to 35 %", "more than 35 %"),
        reveal=_fifty_lower,
        needs=("coil", "heat"),
    ),
    Prediction(
        key="second-handle",
        ask="A handle with twice the wood. Does the end of the tip change, or only the time the tool takes?",
        choices=("only the time", "the end as well"),
        reveal=_second_handle,
        needs=("forecast",),
    ),
    Prediction(
        key="nine-tenths",
        ask="How long until nine tenths of the rise, set against the time until 5 K are missing?",
        choices=("less than half of it", "between half and nine tenths", "nearly as long"),
        reveal=_nine_tenths,
        needs=("forecast",),
    ),
    Prediction(
        key="bead-pressed-on",
        ask="The bead of the log only touches the metal. Is the metal cooler or hotter than what it reads?",
        choices=("cooler", "as hot", "hotter"),
        reveal=_bead_pressed_on,
        needs=("forecast",),
    ),
)
