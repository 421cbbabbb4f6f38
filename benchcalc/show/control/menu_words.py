"""What to type into the menu of a controller: the settings of the page in the words that such a box asks for."""

from ...basics.names import say
from ...sheet.build import Build
from ...sheet.build_control import switch_of
from ...studies.holding import HeldTool
from ...studies.tunings import calmest, laws_tried, tunings_tried
from ...thermal.control.law import ON_OFF
from ...thermal.control.tuning import band_share, repeats_per_minute
from ..page.lent import tells_lent
from ..page.table import Table, table
from ..page.words import Words
from .numbers import LEAST_K, swing_words

RANGES_K = {"type K": (400.0, 1300.0), "Pt100": (200.0, 600.0)}  # of boxes for such a sensor, as examples


@tells_lent
def into_the_box(build: Build, found: HeldTool) -> Table:
    """The settings of the integral law, line by line as the menu of a controller asks for them.

    build: Build with a controller. found: its HeldTool, held.
    Returns Table.
    """
    way, t = {"degrees": build.degrees}, found.tuning
    spans = (f"{band_share(t.gain_per_k, k):.2g} % of {say('rise_k', k, **way)}" for k in RANGES_K[build.sensor.sort])
    on_off = next(one.found for one in laws_tried(build, found) if one.words == ON_OFF)
    swing = swing_words(max(on_off.held.overshoot_k, on_off.held.ripple_k), **way)
    rows = [
        (
            "proportional band, P",
            f"{say('rise_k', 1 / t.gain_per_k, **way)}; in per cent of the box's range: {', '.join(spans)}",
            "A band in per cent means nothing without its range: look it up, or set it. 0 often means on-off.",
        ),
        (
            "integral or reset, I",
            f"{t.integral_s:.0f} s; where it wants repeats a minute: {repeats_per_minute(t.integral_s):.2g}",
            "A larger time is the gentler one, a larger number of repeats is not.",
        ),
        (
            "derivative or rate, D",
            "0",
            "The rule made the other two for a law without it; D makes much of a loose bead.",
        ),
        (
            "cycle or window",
            say("window_s", build.control.window_s),
            f"For {'a triac' if switch_of(build) == 'burst' else 'a ' + switch_of(build)}; half of it is delay.",
        ),
        (
            "sensor",
            build.sensor.sort,
            "The wrong kind shows the room rightly and the hot tool wrongly: compare at the dial, not when cold.",
        ),
        (
            "broken sensor",
            "reads hot: power off",
            f"This page counts with one that reads {build.sensor.broken_as}: by the sheet, or the worse of the two.",
        ),
        (
            "autotune, self-tune",
            "off at first",
            f"It swings the tool about the dial by on-off at full watts, here by {swing}: only once the cut-out is "
            "fitted and nothing is touched. What it finds should lie within twice and half of these (own judgement).",
        ),
    ]
    told = (
        "for proportional-integral; what menus ask is common practice, no source: your box's own sheet goes before it"
    )
    return table(("the box asks", "set", "mind"), rows, told)


@tells_lent
def smooth_words(build: Build, found: HeldTool) -> Words:
    """What a wide band does here, by the runs of the tuning table.

    build: Build with a controller. found: its HeldTool, held.
    Returns Words.
    """
    tried, way = tunings_tried(build, found), {"degrees": build.degrees}
    tight, smooth = tried[0].found.held, tried[-1].found.held
    best = calmest(tried)
    if not all(one.found.held.settled for one in tried):
        return Words("Not every row had settled in the hour watched: its overshoot may still come.")
    if smooth.overshoot_k >= tight.overshoot_k + LEAST_K:
        return Words(
            f"*Smooth* overshoots most here, by {swing_words(smooth.overshoot_k, **way)}. Its band is so wide that it "
            "holds back long before the set point, and all that while the integral gathers; what it has gathered must "
            "be unlearned above the set point. Smooth is kind to a switch, not to a tip."
        )
    if tight.overshoot_k >= smooth.overshoot_k + LEAST_K:
        return Words(
            f"*Tight* overshoots most here, by {swing_words(tight.overshoot_k, **way)}; a wider band pays for less "
            f"with time: ready after {smooth.ready_s / 60:.1f} min instead of {tight.ready_s / 60:.1f} min."
        )
    later = f"ready after {smooth.ready_s / 60:.1f} min instead of {tight.ready_s / 60:.1f} min"
    slow = smooth.ready_s >= 1.1 * tight.ready_s
    return Words(
        "No bench would tell the three apart by their overshoot on this tool"
        + (f"; what a wide band costs here is time: *smooth* is {later}." if slow else ".")
        + (f" So take *{best.words}*." if best is not None else "")
    )
