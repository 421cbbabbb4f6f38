"""Predictions of the pages on handles, on holding a temperature, and on doubt."""

import numpy as np

from ...basics.fault import fault
from ...basics.names import say
from ...chain.handle.link import GRIP_W_M2K
from ...chain.heat.holes import with_break
from ...chain.heat.link import work_heat
from ...chain.workings import settled
from ...sheet.change import change
from ...sheet.hole_defaults import pattern_of
from ...thermal.holes import pattern as tube_holes
from ...thermal.holes.solved_wall import solved_extra
from ..doubt.posterior import Target, firmed_by
from ..holding import holding
from .prediction import Prediction, Revealed


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
    own_k = build.control.band_k if build.control.band_k > 1.0 else 8.0
    small, large = (holding(change(on_off, "control.band_k", b)).held.ripple_k for b in (0.5, own_k))
    way = {"figures": 2, "degrees": build.degrees}
    return Revealed(
        0 if small < 1.0 else 1,
        f"A band of {say('rise_k', 0.5, degrees=build.degrees)} swings by {say('rise_k', small, **way)}, one of "
        f"{say('rise_k', own_k, degrees=build.degrees)} by {say('rise_k', large, **way)}. What is late in the loop "
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
        key="finer-holes",
        ask="Twice as many holes of half the diameter. What are they worth?",
        choices=("less", "the same", "more"),
        reveal=_finer_holes,
        needs=("heat",),
    ),
    Prediction(
        key="hole-behind-hole",
        ask="Two rings, hole behind hole instead of hole facing bridge. How much of their worth is lost?",
        choices=("nothing", "some, below a third", "a third or more"),
        reveal=_hole_behind_hole,
        needs=("heat",),
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
        needs=("parts",),
    ),
    Prediction(
        key="mains-drop",
        ask="The mains drop by a tenth. What becomes of a tip that is held?",
        choices=("it stays, and is on for longer", "it falls"),
        reveal=_mains_drop,
        needs=("parts",),
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
