"""A held tool over time: tuning and the law at work.  The chain tells where it settles; here it moves."""

from dataclasses import dataclass, field, replace

import numpy as np

from ..basics.fault import Fault
from ..basics.names import say
from ..chain.control.link import held_by, with_failure, work_control
from ..chain.control.part import ControlPart
from ..chain.control.tuned import law_of, settings_of
from ..chain.heat.places import excess_of
from ..sheet.build import Build
from ..thermal.control.held_run import Held
from ..thermal.control.law import ON_OFF, Law
from ..thermal.control.measures import Measures, measures_of, period_of
from ..thermal.control.seated import SENSOR
from ..thermal.control.tuning import Tuning
from .tuned import tool_parts

WATCHED_S = 3600.0  # a page watches for an hour, where the chain has only to see the first swings
FEW = 10  # windows in a swing of the loop: with fewer it decides too seldom (own judgement)
ALIKE = 1.25  # settings within this ratio count as the same (own judgement)
SLOW_K = 1.5  # a mean over a window that swings by more oscillates


@dataclass(frozen=True, eq=False)
class HeldTool:
    """A held tool over time.  parts: (supply, wire, coil, heat). control: its ControlPart. tuning, law, run: what was
    asked for and what came. held, read, sheath: Measures of what is held, of the reading, of the winding; wire_top_c:
    hottest wire in a pulse. period_s: of on and off together. remarks: (a word or two, a sentence) on a window or a law
    that does it no good. kept: what studies work out of it once. refused: why nothing was held, or ""."""

    parts: tuple
    control: ControlPart | None
    tuning: Tuning | None = None
    law: Law | None = None
    run: Held | None = None
    held: Measures | None = None
    read: Measures | None = None
    sheath: Measures | None = None
    wire_top_c: float = float("nan")
    refused: str = ""
    period_s: float = float("nan")
    remarks: tuple = ()
    kept: dict = field(default_factory=dict)


def holding(build: Build, failing: bool = True) -> HeldTool:
    """Hold the tool as the sheet says and watch.

    build: Build with a controller (floats). failing: False to leave out what power stuck on does.
    Returns HeldTool; `refused` says why nothing could be held.
    """
    parts = tool_parts(build)
    supply, wire, coil, heat = parts
    control = work_control(build, *parts, watched_s=WATCHED_S, failing=failing)
    if control is None:
        why = heat.refused if heat is not None and heat.refused else "There is no tool with a network to hold."
        return HeldTool(parts, None, refused=why)
    if control.refused:
        return HeldTool(parts, control, refused=control.refused)
    try:
        tuning = settings_of(build, parts, control.standing)
        law = law_of(build, control.set_c, lambda: tuning)
    except Fault as told:
        return HeldTool(parts, control, refused=str(told))
    return _at_work(build, HeldTool(parts, control, tuning, law))


def failing_too(build: Build, found: HeldTool) -> HeldTool:
    """A held tool with what power stuck on does.  build: Build with a controller. found: HeldTool without that."""
    if found.control is None:
        return found
    _, _, coil, heat = found.parts
    return replace(found, control=with_failure(build, found.control, coil, heat))


def _at_work(build, found):
    """The held tool with its run and what that comes to."""
    _, wire, coil, _ = found.parts
    control, law = found.control, found.law
    same = law.kind == control.law.kind == ON_OFF  # its gain, which on-off never asks for, makes no other run
    run = control.run if same else held_by(control.standing, law, WATCHED_S)
    window = 0.0 if law.kind == ON_OFF else law.window_s
    told = {n: measures_of(run, n, control.set_c, window) for n in (control.place, SENSOR, "sheath")}
    return replace(
        found,
        run=run,
        held=told[control.place],
        read=told[SENSOR],
        sheath=told["sheath"],
        wire_top_c=float(told["sheath"].top_c + excess_of(build, wire, coil, control.on_w)),
        period_s=period_of(run),
        remarks=tuple(_remarks(build, law, found.tuning, run, told[SENSOR])),
    )


def by_law(build: Build, found: HeldTool, kind: str, tuning: Tuning | None = None) -> HeldTool:
    """The same tool held by another law, settings by the rule.

    build: Build with a controller. found: HeldTool, held. kind: of thermal.control.law KINDS. tuning: None for the
    sheet's own at its window.
    Returns HeldTool; worked out once for each.
    """
    tuning = found.tuning if tuning is None else tuning
    key = ("law", kind, tuning)
    if key not in found.kept:
        law = replace(found.law, kind=kind, gain_per_k=tuning.gain_per_k, integral_s=tuning.integral_s)
        found.kept[key] = _at_work(build, replace(found, law=law, tuning=tuning, kept={}))
    return found.kept[key]


def _remarks(build, law, tuning, run, read):
    """What the law's window, or the time watched, does to it: (a word or two, a sentence) each."""
    way = {"degrees": build.degrees}
    if law.kind != ON_OFF:
        rounds = loop_period(tuning) / law.window_s
        if rounds < FEW:
            yield (
                "window too long for it",
                f"The loop itself needs about {say('constant_s', loop_period(tuning))} for a swing: only {rounds:.1f} "
                f"windows of {say('window_s', law.window_s)}. It decides too seldom; take a shorter window.",
            )
        if read.slow_k > SLOW_K:
            slow = say("ripple_k", read.slow_k, figures=2, **way)
            said = f"The mean over a window still swings by {slow}: the loop itself swings or creeps."
            yield "swings slowly", f"{said} {_tighter(law, tuning, way)}".strip()
    if not read.settled:
        moved = say("ripple_k", read.drift_k, figures=2, **way)
        yield (
            "not settled yet",
            f"Not settled in the {run.time_s[-1] / 60:.0f} min watched: tops or bottoms still move by {moved}, so its "
            "swing and mean are those of a tool on its way.",
        )


def unlike(law: Law, tuning: Tuning) -> bool:
    """Whether the settings of an integral law are others than the rule's.  law: Law. tuning: Tuning."""
    ratios = law.gain_per_k / tuning.gain_per_k, law.integral_s / tuning.integral_s
    return any(not 1 / ALIKE <= ratio <= ALIKE for ratio in ratios)


def _tighter(law, tuning, way):
    """What is set more eagerly than by the rule, a sentence or ""."""
    said, (band, rule) = [], (say("rise_k", 1 / gain, **way) for gain in (law.gain_per_k, tuning.gain_per_k))
    if law.gain_per_k > ALIKE * tuning.gain_per_k:
        said.append(f"its band of {band} is narrower than the {rule} of the rule")
    if law.integral_s < tuning.integral_s / ALIKE:
        times = (say("constant_s", x) for x in (law.integral_s, tuning.integral_s))
        said.append("its integral time of {} is shorter than the {} of the rule".format(*times))
    return f"{said[0][0].upper()}{' and '.join(said)[1:]}." if said else ""


def loop_period(tuning: Tuning):
    """How long a swing of the closed loop takes at the edge of its gain.

    tuning: Tuning.
    Returns s.
    Equation: 2 pi over the gain crossover of an integrating loop, 1 / (closed + delay); Skogestad 2003, sec. 5.
    """
    return 2 * np.pi * (tuning.closed_s + tuning.delay_s)
