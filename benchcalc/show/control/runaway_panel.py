"""The panel in which the sensor is taken off: watts, a cut-out's rating and its place moved, the harm watched."""

from dataclasses import replace

import numpy as np

from ...basics.names import say
from ...basics.tables import rows
from ...chain.control.cut_out import outside_of
from ...chain.control.in_use import passed_in_use
from ...chain.control.verdicts import CUT_OUT, STUCK
from ...sheet.build import Build
from ...studies.holding import holding
from ...studies.settings import with_settings
from ...studies.stopping import cut_out_advice, own_doubt
from ...studies.tuned import tool_parts
from ..panel.from_sheet import FromSheet
from ..panel.panel import KEEP, Kept, panel
from ..panel.sliders import Choice, Slider, Telling
from ..panel.suggestion import Suggestion
from .fail_tables import held_place, in_minutes, place_word, wire_words
from .panel import LENGTH, SHORTER, failing_at, failing_verdicts, met_before, to_hold
from .runaway_figure import SENSOR_OFF
from .runaway_numbers import cut_out_there, runaway, when_open

CUT_OUT_PATHS = "control.cut_out_c", "control.cut_out_at_m"
NOT_THERE = "tried here, not on your sheet"


def with_cut_out(build: Build) -> tuple[Build, Suggestion]:
    """The build with a cut-out to look at: the sheet's own, else the one that the page advises, else the highest in the
    middle of the free outside.

    build: Build, as to_hold.
    Returns (Build, Suggestion of what is not on the sheet).
    """
    if None not in (build.control.cut_out_c, build.control.cut_out_at_m):
        return build, Suggestion(())
    found = holding(build)
    told = None if found.control is None or found.control.stuck is None else cut_out_advice(build, found)
    best = None if told is None else told.best
    ends = _outside(build)
    highest = max(r["rating_c"] for r in rows("cut_outs"))
    rating, at = (highest, round(np.mean(ends), 3) if ends else None) if best is None else (best.rating_c, best.at_m)
    words = f"The cut-out here is advised by this page. It is not on your sheet: {KEEP!r} writes it there."
    if best is None:
        words = "The cut-out here is only to look at: it is not on your sheet, and the page knows none that it advises."
    build = replace(build, control=replace(build.control, cut_out_c=rating, cut_out_at_m=at))
    return build, Suggestion(CUT_OUT_PATHS if at is not None else (), words, best is not None)


def _outside(build):
    """Ends of the part on whose outside a cut-out sits, m, up to the handle; () without one."""
    heat = tool_parts(build)[3]
    if heat is None or heat.model is None:
        return ()
    on = next(p for p in heat.model.tool.pieces if p.id == outside_of(heat.model))
    starts = [p.from_m for p in heat.model.tool.pieces if p.role == "handle"]
    return float(on.from_m), float(min([on.to_m, *starts]))


def off_says(found, build, extra):
    """Headline rows.  found: HeldTool. build: Build. extra: None."""
    control = found.control
    if control is None or control.stuck is None:
        return [("power stuck on", "not worked out")]
    n, place = runaway(build, found), held_place(found)
    tops = {name: float(c.max()) for name, (_, c) in n.curves.items()}
    comes = "comes to" if n.cut else "ends at"
    return [
        ("full watts", say("coil_w", found.parts[2].coil_w)),
        (f"{place_word(place)} {comes}", say("temp_c", tops["held"], degrees=build.degrees)),
        (f"wire {comes}", wire_words(build, found, tops["wire"])),
        ("next limit passed after", in_minutes(60 * n.passed[0][0]) if n.passed else "none in this time"),
        ("passed in use already", f"{len(passed_in_use(control))} of {len(control.harms)} limits"),
        ("cut-out opens", when_open(build, n.opens_min, cut_out_there(build, found))),
    ]


def off_verdicts(found, build, extra):
    """The verdicts on what is left when control fails.  found: HeldTool. build: Build. extra: None while it moves."""
    if not extra:
        return None
    return [v for v in failing_verdicts(found, build) if v.what.startswith((CUT_OUT, STUCK, "held temperature"))]


def unfitted(found, build, extra):
    """As `off_verdicts`, of a cut-out that is not on the sheet: what is on it is judged without.  found, build, extra:
    as there."""
    tried = off_verdicts(found, build, extra)
    if tried is None:
        return None
    bare = replace(build, control=replace(build.control, cut_out_c=None, cut_out_at_m=None))
    made = [replace(v, note=NOT_THERE) for v in tried if v.what.startswith(CUT_OUT)]
    return made + off_verdicts(found, bare, extra)


def off_sliders(build):
    """Watts by the coil's length, the cut-out's rating and place.  build: Build, as with_cut_out."""
    set_c = build.control.set_c
    ratings = [r["rating_c"] for r in rows("cut_outs")]
    made = [
        Slider("control.set_c", max(set_c - 100.0, build.room.ambient_c + 20.0), set_c + 100.0, 1.0, "set point"),
        Choice("control.cut_out_c", tuple((say("temp_c", c, degrees=build.degrees), c) for c in ratings), "cut-out"),
    ]
    if ends := _outside(build):
        made.append(Slider("control.cut_out_at_m", *ends, 1e-3, "its place, from the tip"))
    coil = tool_parts(build)[2]
    if coil is not None and np.isfinite(coil.length_m):
        made.append(Slider(LENGTH, 0.6 * coil.length_m, 4 * coil.length_m, 0.01, SHORTER))
    return made


def off_start(sheet):
    """Where the panel begins: held, and with a cut-out to look at.  sheet: Build.  Returns (Build, its sliders)."""
    build, _ = with_cut_out(with_settings(to_hold(sheet)[0]))
    return build, off_sliders(build)


def sensor_off_panel(build: Build) -> Kept:
    """Take the sensor off, on paper, and look for watts, a rating and a place that leave nothing harmed.

    build: Build, as to_hold.
    Returns a widget box, as show.panel.panel.
    """
    begins = FromSheet(build, off_start)
    build, suggestion = with_cut_out(build)

    def verdicts(*given):
        return (unfitted if suggestion.paths else off_verdicts)(*given)

    slow, known = met_before(lambda of: repr(replace(of, control=None, known={})), own_doubt)
    telling = Telling(says=off_says, verdicts=verdicts, slow=slow, known=known)
    made = panel(build, off_sliders(build), failing_at, SENSOR_OFF, telling, suggestion, begins)
    for path, handle in made.handles.items():  # each step is another failure, worked out anew
        if path != "control.cut_out_c":
            handle.continuous_update = False
    return made
