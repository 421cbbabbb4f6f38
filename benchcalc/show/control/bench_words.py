"""The steps of the control page on the bench, each for the sheet that is open, and withheld where it would do harm."""

from ...basics.names import say
from ...chain.control.in_use import passed_in_use
from ...sheet.build import Build
from ...studies.harmless_watts import harmless_watts
from ...studies.holding import HeldTool
from ..page.lent import tells_lent
from ..page.words import Words
from .numbers import swing_words

TRIAL_SHARE = 0.8  # of the rise that harmless watts give: where a trial is held, so that there is power to spare
TRIAL_MIN = 10


@tells_lent
def on_the_bench(build: Build, found: HeldTool) -> Words:
    """Numbered steps: few watts first, hold, watch, take the sensor off, warm the cut-out.

    build: Build with a controller. found: its HeldTool.
    Returns Words.  A step that passes a limit on this sheet is replaced by what has to be mended first.
    """
    few, early = harmless_watts(build, found), passed_in_use(found.control) if found.control is not None else ()
    steps = (_first(build, found, few), _hold(build, found, early), _watch(build, found, early),
             _sensor_off(build, found, few), _cut_out())  # fmt: skip
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
        f"{_place(found)} should stand below {say('temp_c', few.tip_c, **way)}, and within the band of page 05 for "
        f"those watts.{_untold(found)}"
    )


def _place(found):
    return found.control.place or "tip"


def _hold(build, found, early):
    if found.refused:
        return "**Nothing to hold yet:** the reason stands above, among what to mend first."
    way = {"degrees": build.degrees}
    if early:
        return (
            f"**Not at this dial yet.** Held at {say('temp_c', found.law.set_c, **way)}, use itself passes the limit "
            f"of {', '.join(early)}. Mend that, or dial lower, before the full watts are switched on."
        )
    return (
        "**Fix the sensor, hold the set point**, and put a second thermometer or a melting marker at the "
        f"{found.control.place}. It should show about {say('temp_c', found.held.mean_c, **way)} at a reading of "
        f"{say('temp_c', found.law.set_c, **way)}. The difference is your dial's offset; write it on the handle."
    )


def _watch(build, found, early):
    if found.refused or early:
        return "**Watch the display** for ten minutes, once step 2 is done. Swings that grow mean a loose bead."
    swing = swing_words(found.read.ripple_k, degrees=build.degrees)
    return (
        f"**Watch the display** for ten minutes. By this page it swings by {swing}. More than twice that, and more "
        "than a few kelvin, means a loose bead."
    )


def _sensor_off(build, found, few):
    """The trial with the bead off: only on watts that harm nothing when nobody notices."""
    what = "**The sensor off the metal:**"
    if found.refused or few is None or found.control.untold:
        why = (
            "nothing is held" if found.refused else
            "no watts are known that could stay on and harm nothing" if few is None else
            f"of {', '.join(found.control.untold)} nobody knows"
        )  # fmt: skip
        return f"{what} not on this sheet, since {why}. Believe the table above."
    room, way = build.room.ambient_c, {"degrees": build.degrees}
    dial = room + TRIAL_SHARE * (few.tip_c - room)
    if found.law.set_c > room + 1:
        dial = min(dial, found.law.set_c)
    return (
        f"{what} only on the {say('coil_w', few.watts)} of step 1, with somebody beside you, a hand on the plug, and "
        f"never in class. Hold {say('temp_c', dial, **way)}, leave the second thermometer at the "
        f"{found.control.place}, take the controller's bead off the metal and time how long the controller needs to "
        "notice: its display tells you nothing any more. With a rule for power without a rise it switches off; without "
        f"one it never does. Pull the plug after {TRIAL_MIN} minutes, or when the second thermometer passes "
        f"{say('temp_c', few.tip_c, **way)}, whichever comes first. Never on the full watts."
    )


def _cut_out():
    return (
        "**Warm the cut-out alone** with a heat gun beside a thermometer, its meter in the loop. It should open within "
        "its ten kelvin. A link that opened is spent."
    )
