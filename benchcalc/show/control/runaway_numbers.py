"""The numbers behind the picture of a sensor that has fallen off: who gets how hot, when, and when a cut-out opens."""

from dataclasses import dataclass, replace

import numpy as np

from ...basics.names import say
from ...chain.control.cut_out import cut_out_run, own_cut_out
from ...chain.control.in_use import passed_in_use
from ...chain.control.opened import after_opening, opened
from ...chain.control.stuck import wire_curve
from ...chain.heat.in_time import time_to
from ...chain.heat.left_on import room_doubt
from ...chain.parts import kept_last
from ...sheet.defaults import default
from ...thermal.control.failing import reading_in_air
from ..drawing.style import coarse_up
from ..page.lent import lent_words
from .fail_tables import held_place, in_minutes, place_word

ROUND = (1, 1.5, 2, 3, 4, 5, 6, 8, 10)
MOST_KEPT = 8  # cut-outs that are tried on one tool
NEAR_END = 0.97  # of the rise: the picture ends there
COOLED = 3.0  # times as long as until a cut-out opens: so far it is shown


@dataclass(frozen=True, eq=False)
class Runaway:
    """curves: {name: (minutes, degC)} of "held", "wire", "entry", "read" and, where a cut-out is looked at, "cut".
    words: {name: its word}. passed: ((minutes, degC, words), ...), limits when they are passed. opens_min: when the
    cut-out opens at the latest, nan for never. opens_c: its mark. frame: what still parts depend on. said: a sentence
    where there is nothing to draw. told: the picture in words. cut: whether power is off once the cut-out opens."""

    frame: tuple
    curves: dict
    words: dict
    passed: tuple
    opens_min: float
    opens_c: float
    degrees: str
    said: str = ""
    told: str = ""
    lent: str = ""
    cut: bool = False


def runaway(build, found):
    """What the picture shows.

    build: Build with a controller, with a cut-out or without one. found: its HeldTool.
    Returns Runaway; worked out once for each cut-out.
    """
    own = build.control.cut_out_c, build.control.cut_out_at_m, build.units, build.degrees
    return kept_last(found.kept.setdefault("runaways", {}), own, lambda: _runaway(build, found), MOST_KEPT)


def cut_out_there(build, found):
    """The cut-out of the sheet as it does in use, where it has one that can be judged; limits do not count here.

    build: Build with a controller. found: its HeldTool.
    Returns CutOut or None.
    """
    control, model = found.control, found.parts[3].model
    return own_cut_out(build, model, control, {}, control.use_doubt_k, room_doubt(build))[0]


def _runaway(build, found):
    control = found.control
    if control is None or control.stuck is None:
        why = found.refused or "the worse day could not be worked out"
        return Runaway(("nothing",), {}, {}, (), np.nan, np.nan, build.degrees, why, lent=lent_words(build))
    fitted, place, at_m = cut_out_there(build, found), held_place(found), build.control.cut_out_at_m
    cut = opened(control, fitted)
    run, opens_min = (control.stuck, np.nan) if cut is None else (cut.run, cut.run.run.at_s / 60)
    time_min, wire = run.time_s / 60, wire_curve(control, run)
    held = run.temp_c[place]
    curves = {"wire": wire, "held": held}
    if "entry" in run.temp_c:
        curves["entry"] = run.temp_c["entry"]
    if not found.refused:
        fallen = (found.read.mean_c, control.left.room_c, default("sensor.air_lag_s")["value"])
        curves["read"] = reading_in_air(run.time_s, fallen)
    opens_c = np.nan
    if fitted is not None:
        curves["cut"], opens_c = cut_out_run(replace(control, stuck=run), at_m), fitted.rating_c
    words = {
        "held": place_word(place),
        "wire": "hottest wire",
        "entry": place_word("entry"),
        "read": "sensor, in the air",
    }
    words["cut"] = f"at the cut-out, {say('length_m', at_m, units=build.units)}" if at_m is not None else ""
    gone = held[0] + NEAR_END * (held[-1] - held[0])
    far = float(coarse_up(max(time_to(run.time_s, held, gone) / 60, 3.0), ROUND)) if held[-1] > held[0] + 1 else 120.0
    if cut is not None:
        far = float(coarse_up(max(COOLED * opens_min, 3.0), ROUND))
    top = float(coarse_up(1.08 * max(float(c.max()) for c in curves.values()), ROUND))
    after = {} if cut is None else {h: s for h, (_, s) in zip(control.harms, after_opening(control, cut))}
    passed = sorted(((after.get(h, h.after_s) / 60, h) for h in control.passed), key=lambda pair: pair[0])
    passed = tuple(
        (at, h.limit_c, f"{h.place}, {in_minutes(60 * at)}") for at, h in passed if np.isfinite(at) and at <= far
    )
    return Runaway(("runaway", far, top, build.degrees), {k: (time_min, c) for k, c in curves.items()}, words, passed,
                   float(opens_min), float(opens_c), build.degrees, "", _told(build, found, passed, opens_min, fitted),
                   lent_words(build), cut is not None)  # fmt: skip


def when_open(build, opens_min, fitted):
    """When a cut-out opens, in words.  build: Build. opens_min: minutes, nan for never. fitted: CutOut or None."""
    if fitted is None:
        return "no cut-out on the sheet"
    if fitted.spare_low_k < 0:
        return "in use already"
    return in_minutes(60 * opens_min) if np.isfinite(opens_min) else "never"


def _told(build, found, passed, opens_min, fitted):
    control, way = found.control, {"degrees": build.degrees}
    place = held_place(found)
    ends = say("temp_c", control.stuck.temp_c[place][-1], **way)
    before = [words for at, _, words in passed if not at > opens_min]
    told = f"the sensor falls off and the power stays on: the {place_word(place)} ends at {ends}"
    if np.isfinite(opens_min):
        told = f"the sensor falls off and the power stays on until a cut-out opens: the {place_word(place)} then cools"
    early = passed_in_use(control)
    told += f"; use itself passes the limit of {', '.join(early)}" if early else ""
    told += f"; passed on the way: {'; '.join(w for _, _, w in passed)}" if passed else ""
    told += "" if passed or early else "; no known limit is passed"
    if fitted is not None:
        told += f". The cut-out opens: {when_open(build, opens_min, fitted)}"
        told += f", too late for {'; '.join(before)}" if before and np.isfinite(opens_min) else ""
    return told


def runaway_caption(n):
    """The picture in words.  n: Runaway."""
    whose = f"{n.lent} " if n.lent else ""
    return whose + (n.said or f"{n.told[:1].upper()}{n.told[1:]}.")
