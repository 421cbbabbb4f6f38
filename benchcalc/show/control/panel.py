"""The panel of the control page: law, set point and switching moved, the tool and its wire watched."""

from dataclasses import replace

import numpy as np

from ...basics.escape import plain_text
from ...basics.names import say
from ...chain.control.link import set_point, work_control
from ...chain.control.verdicts import control_checks
from ...chain.verdict import unknown
from ...chain.workings import chain
from ...sheet.build import Build, Control
from ...sheet.defaults import fill
from ...studies.holding import holding
from ...studies.stopping import own_doubt
from ...studies.tuned import tool_parts
from ...thermal.control.law import ON_OFF
from ..page.lesson import Words
from ..panel.panel import Kept, panel
from ..panel.sliders import Choice, Slider, Telling
from .figure import HELD_TOOL
from .numbers import swing_words

BY_ON_OFF, BY_INTEGRAL = ("control.band_k",), ("control.window_s", "control.proportional_k", "control.integral_s")
HELD_SHARE = 0.6  # of the rise that full power gives: a set point where the sheet names none


def to_hold(build: Build) -> tuple[Build, Words]:
    """The build that the page holds, and what was put in where the sheet is silent.

    build: Build of the sheet.
    Returns (Build, Words): with a controller, and with a set point where sheet, wanted temperature and job name none.
    """
    told, taken = [], build.control is None
    if taken:
        build = fill(replace(build, control=Control()))
        told.append("a proportional-integral controller")
    set_c = set_point(build)
    if not np.isfinite(set_c):
        heat = chain(build)[3]
        places = () if heat is None else (heat.work_c, heat.tip_c, heat.sheath_c)
        tip, room = next((c for c in places if np.isfinite(c)), 100.0), build.room.ambient_c
        set_c = round((room + HELD_SHARE * (tip - room)) / 10) * 10.0
        told.append(f"{say('temp_c', set_c, degrees=build.degrees)} at the sensor, middling for this tool")
    build = replace(build, control=replace(build.control, set_c=float(set_c)))
    if build.sensor.on is None:
        told.append(f"a {plain_text(build.sensor.fixed)} on what is held")
    said = f"Not on your sheet, so taken here: {'; '.join(told)}." if told else ""
    return build, Words(f"{said} {_offset(build)}".strip())


def _offset(build):
    """What the dial's number means at the metal, in a sentence."""
    control = work_control(build, *tool_parts(build))
    if control is None or not np.isfinite(control.offset_k):
        return ""
    way = {"degrees": build.degrees}
    gap = say("offset_k", abs(control.offset_k), figures=2, **way)
    more = "hotter" if control.offset_k > 0 else "cooler"
    return (
        f"Dialled {say('temp_c', control.set_c, **way)}, the {control.place} is really "
        f"{say('temp_c', control.held_c, **way)}: {gap} {more} than the sensor says."
    )


def held_says(found, build, extra):
    """Headline rows.  found: HeldTool. build: Build. extra: None."""
    way = {"degrees": build.degrees}
    if found.refused:
        return [("held", "not worked out")]
    control, place = found.control, found.control.place
    low, high = (found.held.mean_c + s * control.doubt_k for s in (-1, 1))
    quiet = "swings steadily" if found.law.kind == ON_OFF else "calm"
    return [
        (f"{place}, in the end", f"{say('temp_c', found.held.mean_c, **way)} ({say('temp_c', low, **way)} to "
         f"{say('temp_c', high, **way)})"),
        ("ready after", f"{found.held.ready_s / 60:.1f} min"),
        (f"{place} overshoots by", swing_words(found.held.overshoot_k, **way)),
        (f"{place} swings by", swing_words(found.held.ripple_k, **way)),
        ("hottest wire in a pulse", say("wire_c", found.wire_top_c, **way)),
        ("watts to hold it", f"{say('hold_w', control.hold_w)}, {control.duty:.0%} of the time"),
        ("the loop", next((word for word, _ in found.remarks), quiet)),
    ]  # fmt: skip


def held_verdicts(found, build, extra):
    """Verdicts on the held tool.  found: HeldTool. build: Build. extra: None."""
    if found.control is None or found.refused and found.control.standing is None:
        return [unknown("held temperature", "held_c", why=found.refused)]
    return control_checks(build, found.control, found.parts[3], own_doubt(build))


def held_sliders(build):
    """The sliders of the control page, those of both laws: the panel shows the ones that the chosen law listens to.

    build: Build, as to_hold.
    Returns list of Slider and Choice.
    """
    room, set_c = build.room.ambient_c, build.control.set_c
    return [
        Choice("control.kind", ("proportional-integral", "on-off"), "law"),
        Slider("control.set_c", min(room + 20.0, set_c), max(set_c + 100.0, 120.0), 5.0, "set point"),
        Slider("control.band_k", 0.5, 30.0, 0.5, "band of on-off"),
        Slider("control.window_s", 0.5, 30.0, 0.5, "window of the switching"),
        Slider("control.proportional_k", 5.0, 200.0, 5.0, "proportional band"),
        Slider("control.integral_s", 20.0, 600.0, 10.0, "integral time"),
    ]


def with_settings(build: Build) -> Build:
    """The build with the settings that the tuning gives written in, so that sliders start there.

    build: Build, as to_hold.
    Returns Build; unchanged where nothing can be held.
    """
    found = holding(build)
    if found.tuning is None:
        return build
    control = build.control
    gain, reset = round(1 / found.tuning.gain_per_k / 5) * 5.0, round(found.tuning.integral_s / 10) * 10.0
    return replace(
        build,
        control=replace(
            control,
            proportional_k=max(gain, 5.0) if control.proportional_k is None else control.proportional_k,
            integral_s=max(reset, 10.0) if control.integral_s is None else control.integral_s,
        ),
    )


def control_panel(build: Build) -> Kept:
    """Hold the tool without burning a finger.

    build: Build, as to_hold.
    Returns a widget box, as show.panel.panel; another law shows its own sliders at once.
    """
    made = panel(
        build, held_sliders(build), holding, HELD_TOOL, Telling(says=held_says, verdicts=held_verdicts, slow=None)
    )

    def fit(_=None):
        unheard = BY_INTEGRAL if made.handles["control.kind"].value == ON_OFF else BY_ON_OFF
        made.offer([path for path in made.handles if path not in unheard])

    made.handles["control.kind"].observe(fit, "value")
    fit()
    return made
