"""Predictions of the pages on heat, warming up, handles, holding and doubt."""

import numpy as np

from ...basics.fault import fault
from ...basics.names import say
from ...chain.handle.link import GRIP_W_M2K
from ...chain.heat.holes import with_break
from ...chain.heat.in_time import power_for, time_to, warming
from ...chain.heat.link import work_heat
from ...chain.workings import links, settled
from ...sheet.change import change
from ...sheet.hole_defaults import pattern_of
from ...thermal.holes import pattern as tube_holes
from ...thermal.holes.solved_wall import solved_extra
from ...thermal.warmup.formulas import time_to_share
from ..doubt.posterior import Target, firmed_by
from ..holding import holding
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


def _nine_tenths(build, part):
    nine_min = time_to_share(part.forecast.shape, 0.9) / 60
    near_min = part.near_s / 60
    return Revealed(
        0 if nine_min < 0.5 * near_min else 1 if nine_min < 0.9 * near_min else 2,
        f"{nine_min:.1f} min, by the fitted curve; its end is reached to 5 K after {near_min:.1f} min.",
    )


def _bead_pressed_on(build, part):
    way = {"degrees": build.degrees}
    metal, low, high, read = (
        say("temp_c", x, **way) for x in (part.metal_c, part.metal_low_c, part.metal_high_c, part.end_c)
    )
    over_k = part.metal_c - part.end_c
    return Revealed(
        0 if over_k < -2 else 1 if over_k < 2 else 2,
        f"About {metal}, between {low} and {high}, by the way this log says it is attached; it reads {read}.",
    )


def _holes(build):
    """The sheet's tube with one ring of holes, settled."""
    own = with_break(settled(build), rings=2)
    if not own.heat_break:
        raise fault("tube", "", "with a handle on it is not on this sheet.")
    tube = next(p for p in own.part if p.id == own.heat_break[0].on)
    return own, tube


def _ringed(own, **holes):
    for field, value in holes.items():
        own = change(own, f"heat_break.{own.heat_break[0].id}.{field}", value)
    return own.heat_break[0]


def _finer_holes(build, workings):
    own, tube = _holes(build)
    coarse = pattern_of(_ringed(own, rings=1.0), tube)
    fine = tube_holes.Pattern(tube.outer_m, tube.inner_m, 2 * coarse.holes, coarse.hole_m / 2)
    share = solved_extra(fine) / solved_extra(coarse)
    return Revealed(
        0 if share < 0.9 else 1 if share < 1.1 else 2,
        f"They are worth {share:.0%} of the large ones: what counts is near the square of the diameter, times the "
        "number.",
    )


def _hole_behind_hole(build, workings):
    own, tube = _holes(build)
    facing, behind = (solved_extra(pattern_of(_ringed(own, rings=2.0, staggered=s), tube)) for s in (True, False))
    lost = 1 - behind / facing
    return Revealed(
        0 if lost < 0.02 else 1 if lost < 0.3 else 2,
        f"{lost:.0%} of the worth: the second ring stands in the lee of the first, where no heat wanted to pass "
        "anyway.",
    )


def _hand_round_it(build, workings):
    free_c = workings.heat.grip_c
    if np.isnan(free_c):
        raise fault("handle", "", "is not on this sheet.")
    held = work_heat(change(build, "heat.grip_w_m2k", GRIP_W_M2K), workings.wire, workings.coil)
    way = {"degrees": build.degrees}
    return Revealed(
        0 if held.grip_c < free_c - 0.5 else 1 if held.grip_c < free_c + 0.5 else 2,
        f"{say('grip_c', held.grip_c, **way)} instead of {say('grip_c', free_c, **way)}: the heat goes into the "
        "hand. A handle is judged free, as it lies on the bench.",
    )


def _narrow_band(build, found):
    if found.refused:
        raise fault("control", "", found.refused)
    on_off = change(build, "control.kind", "on-off")
    small, large = (holding(change(on_off, "control.band_k", b)).held.ripple_k for b in (0.5, 8.0))
    way = {"figures": 2, "degrees": build.degrees}
    return Revealed(
        0 if small < 1.0 else 1,
        f"A band of {say('rise_k', 0.5, degrees=build.degrees)} swings by {say('rise_k', small, **way)}, one of "
        f"{say('rise_k', 8.0, degrees=build.degrees)} by {say('rise_k', large, **way)}. What is late in the loop "
        "sets the rest.",
    )


def _mains_drop(build, found):
    if found.refused:
        raise fault("control", "", found.refused)
    spare = found.control.duty / 0.81
    if spare < 1:
        return Revealed(
            0, f"There is power to spare: it is on for {spare:.0%} of the time instead of {found.control.duty:.0%}."
        )
    return Revealed(1, "It loses its set point: there was less than a fifth of the power to spare.")


def _two_unknowns():
    """Two unknowns, equally wide, whose sum is judged."""
    grid = (np.arange(64) + 0.5) / 32 - 1
    return (x.ravel() for x in np.meshgrid(grid, grid))


def _told(known, error, ends, judged):
    target = Target(known[None], np.full((1, known.size), error), np.array([ends]), np.array([False]))
    return float(firmed_by(target, judged[None]).told[0])


def _as_wide_as_the_doubt(build, workings):
    a, b = _two_unknowns()
    same, exact = _told(a, 1.0, (-1.0, 1.0), a + b), _told(a, 1e-6, (-1.0, 1.0), a + b)
    return Revealed(
        0 if same < 0.02 else 1 if same < 0.8 * exact else 2,
        f"What lies near one end makes the other end impossible. Of the doubt {same:.0%} goes, where an exact "
        f"reading takes {exact:.0%}.",
    )


def _far_limit(build, workings):
    a, b = _two_unknowns()
    told = _told(a, 1e-6, (-1.0, 1.0), a + b + 5)
    return Revealed(
        0 if told < 0.01 else 1, f"{told:.0%}: there was no doubt. A range may shrink and no verdict will ever know."
    )


def _the_sum_itself(build, workings):
    a, b = _two_unknowns()
    whole, one = _told(a + b, 0.1, (-2.0, 2.0), a + b), _told(a, 1e-6, (-1.0, 1.0), a + b)
    return Revealed(
        0 if whole > one else 1,
        f"{whole:.0%} of the doubt goes, error and all, where the exact reading of one took {one:.0%}. That is why a "
        "bead at the tip beats many finer readings upstream of it.",
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
    Prediction(
        key="finer-holes",
        ask="Twice as many holes of half the diameter. What are they worth?",
        choices=("less", "the same", "more"),
        reveal=_finer_holes,
    ),
    Prediction(
        key="hole-behind-hole",
        ask="Two rings, hole behind hole instead of hole facing bridge. How much of their worth is lost?",
        choices=("nothing", "some, below a third", "a third or more"),
        reveal=_hole_behind_hole,
    ),
    Prediction(
        key="hand-round-it",
        ask="A hand closes round the handle. Its surface gets ...",
        choices=("cooler", "neither", "hotter"),
        reveal=_hand_round_it,
        needs=("coil", "heat"),
    ),
    Prediction(
        key="narrow-band",
        ask="On-off with a band of almost nothing. Does the swing vanish too?",
        choices=("yes", "no"),
        reveal=_narrow_band,
    ),
    Prediction(
        key="mains-drop",
        ask="The mains drop by a tenth. What becomes of a tip that is held?",
        choices=("it stays, and is on for longer", "it falls"),
        reveal=_mains_drop,
    ),
    Prediction(
        key="as-wide-as-the-doubt",
        ask="A reading whose error is as wide as what you know today. What does it buy?",
        choices=("nothing", "something, less than an exact one", "as much as an exact one"),
        reveal=_as_wide_as_the_doubt,
    ),
    Prediction(
        key="far-limit",
        ask="A limit so far away that no drawn tool passes it. How much doubt can a reading take from it?",
        choices=("none", "some"),
        reveal=_far_limit,
    ),
    Prediction(
        key="the-sum-itself",
        ask="You read the sum itself, a little roughly, instead of one of its two parts exactly. Better?",
        choices=("yes", "no"),
        reveal=_the_sum_itself,
    ),
)
