"""The steps of the control page on the bench, each for the sheet that is open, and withheld where it would do harm."""

import numpy as np

from ...basics.names import say
from ...chain.control.in_use import passed_in_use
from ...sheet.build import Build
from ...studies.full_watts import FIT_FIRST, IN_USE, UNGUARDED, UNKNOWN, full_watts_gate
from ...studies.harmless_trial import CLIMB_S, harmless_trial
from ...studies.harmless_watts import harmless_watts
from ...studies.holding import HeldTool
from ..page.lent import tells_lent
from ..page.words import Words
from .bench_cut_out import cut_out_step
from .fail_tables import in_minutes
from .numbers import swing_words

TRIAL_MIN, MORE_MIN = 10, 2  # a trial lasts so long, or so much longer than a rule takes to notice


@tells_lent
def on_the_bench(build: Build, found: HeldTool) -> Words:
    """Numbered steps: the cut-out first, few watts, the sensor off on these, then the full watts, and watch.

    build: Build with a controller. found: its HeldTool.
    Returns Words.  A step that passes a limit on this sheet is replaced by what has to be mended first.
    """
    few, gate = harmless_watts(build, found), full_watts_gate(build, found)
    steps = (cut_out_step(build, found, gate), _first(build, found, few), _sensor_off(build, found, few),
             _hold(build, found, gate), _watch(build, found, gate))  # fmt: skip
    return Words("\n".join(f"{number}. {text}" for number, text in enumerate(steps, 1)))


def _untold(found):
    untold = () if found.control is None else found.control.untold
    return f" Not known, so not counted: {', '.join(untold)}." if untold else ""


def _first(build, found, few):
    if few is None:
        return (
            "**Nothing yet.** No share of your watts that was tried, down to a twentieth, leaves every limit of the "
            "sheet alone if it is left on: mend the first lines at the top of this page, then come back."
        )
    way = {"degrees": build.degrees}
    more = f" With more, {few.first} would come to its limit first." if few.first else ""
    return (
        f"**{say('coil_w', few.watts)} first**, {few.share:.0%} of the full watts, with the resistor or the tap: so "
        f"much it could take all night, on a bad day too, and pass no limit of the sheet.{more} After an hour the "
        f"{_place(found)} should stand below {say('temp_c', few.tip_c, **way)}, and within the band that the panel of "
        f"page 05 gives for those watts.{_untold(found)}"
    )


def _place(found):
    return found.control.place or "tip"


def _sensor_off(build, found, few):
    """The trial with the bead off: only on watts that harm nothing when nobody notices."""
    what = "**The sensor off the metal:**"
    trial = None
    if not found.refused and few is not None and not found.control.untold:
        trial = harmless_trial(build, found, few)
    if trial is None:
        why = (
            "nothing is held" if found.refused else
            "no watts are known that could stay on and harm nothing" if few is None else
            f"of {', '.join(found.control.untold)} nobody knows" if found.control.untold else
            f"the watts of step 2 hardly lift the reading, or take more than {CLIMB_S / 3600:g} hours for it"
        )  # fmt: skip
        return f"{what} not on this sheet, since {why}. Believe the table above."
    way, place = {"degrees": build.degrees}, found.control.place
    dial, there, most, least = (
        say("temp_c", c, **way) for c in (trial.dial_c, trial.held_c, trial.reached_c, trial.low_c)
    )
    lasts = max(TRIAL_MIN, int(np.ceil(trial.after_s / 60)) + MORE_MIN if trial.rule else 0)
    return (
        f"{what} only on the {say('coil_w', few.watts)} of step 2, with somebody beside you, a hand on the plug, and "
        f"never in class. Dial {dial}: these watts bring the reading to {most}, or {least} on a poor day, so it gets "
        f"there, after about {in_minutes(trial.ready_s)}. The {place} is then near {there} by the second thermometer, "
        f"which stays on. {_trial_rule(build, found, trial)} Now take the controller's bead off the metal and time how "
        "long the controller needs to notice: its display tells you nothing any more. "
        + (
            f"With the rule it switches off after about {in_minutes(trial.after_s)}; without one it never does. "
            if trial.rule
            else "It never does. "
        )
        + f"Pull the plug {lasts} minutes after that, or when the second thermometer passes "
        f"{say('temp_c', few.tip_c, **way)}, whichever comes first. Never on the full watts."
    )


def _trial_rule(build, found, trial):
    """What becomes of the rule for power without a rise in the trial."""
    way, trips = {"degrees": build.degrees}, np.isfinite(trial.trips_s)
    false = f": as it stands it may switch a sound tool off after {in_minutes(trial.trips_s)}" if trips else ""
    if trial.rule is None:
        return (
            "A rule for power without a rise has to be **off** here, since on so few watts a sound tool rises too "
            f"slowly for one{false}."
        )
    if not trips:
        return (
            "The rule of the table above, if your controller has it, may stay as it is: on these watts it spares a "
            "sound tool too."
        )
    rule = trial.rule
    return (
        f"The rule of the table above has to be **changed** for this trial, or off{false}. Made for these watts: below "
        f"{say('temp_c', rule.below_c, **way)}, {say('window_s', rule.wait_s)} on end, "
        f"{say('rise_k', rule.rise_k, figures=2, **way)}. Set it back afterwards."
    )


def _hold(build, found, gate):
    if found.refused:
        return "**Nothing to hold yet:** the reason stands above, among what to mend first."
    way = {"degrees": build.degrees}
    set_c = say("temp_c", found.law.set_c, **way)
    if gate.state == IN_USE:
        early = ", ".join(passed_in_use(found.control))
        return (
            f"**Not at this dial yet.** Held at {set_c}, use itself passes the limit of {early}. Mend that, or dial "
            "lower, before the full watts are switched on."
        )
    if gate.state == UNKNOWN:
        return "**No full watts yet:** what power stuck on does could not be worked out."
    if gate.state == UNGUARDED:
        return (
            f"**No full watts on this sheet.** Stuck on, {gate.stuck}, and {gate.no_rating}. "
            "More wire in the coil first, until stuck on harms nothing or a rating fits."
        )
    if gate.state == FIT_FIRST:
        return (
            f"**No full watts yet.** Stuck on, {gate.stuck}. With the cut-out of step 1 fitted and typed on the "
            "sheet, run this page again: then this step says what to hold."
        )
    fitted = ", the cut-out in its place," if gate.own is not None else ""
    return (
        f"**Full watts{fitted} and the sensor fixed: hold the set point**, and put a second thermometer or a melting "
        f"marker at the {found.control.place}. It should show about {say('temp_c', found.held.mean_c, **way)} at a "
        f"reading of {set_c}. The difference is your dial's offset; write it on the handle."
    )


def _watch(build, found, gate):
    if found.refused or gate.state in (IN_USE, UNGUARDED, FIT_FIRST, UNKNOWN):
        return "**Watch the display** for ten minutes, once step 4 is done. Swings that grow mean a loose bead."
    swing = swing_words(found.read.ripple_k, degrees=build.degrees)
    return (
        f"**Watch the display** for ten minutes. By this page it swings by {swing}. More than twice that, and more "
        "than a few kelvin, means a loose bead."
    )
