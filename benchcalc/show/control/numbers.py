"""The numbers behind the picture of a held tool: the way up, and a look at the saw-tooth."""

from dataclasses import dataclass

import numpy as np

from ...basics.names import said_number, say
from ...thermal.control.held_run import reading_of
from ...thermal.control.seated import SENSOR
from ..drawing.style import coarse_up
from ..page.lent import lent_words

POINTS = 240  # pairs of lowest and highest along the whole run
CLOSE_S = 60.0  # what the close look shows, or three cycles of on-off
FAR_MIN = (1, 1.2, 1.5, 2, 3, 4, 5, 6, 8, 10)
WAYS_UP, ROUNDS, SHOWN_S = 5.0, 8, 300.0  # the left picture: so many ways up, rounds after it, at least so long
LEAST_K = 0.5  # what no thermometer of a bench tells from nothing


def swing_words(rise_k: float, degrees: str = "C") -> str:
    """A swing or an overshoot in words: "16 K", or "less than 0.50 K".

    rise_k: K, 0 or more. degrees: "C" or "F".
    """
    least = say("rise_k", LEAST_K, figures=2, degrees=degrees)
    return f"less than {least}" if rise_k < LEAST_K else say("rise_k", rise_k, figures=2, degrees=degrees)


@dataclass(frozen=True, eq=False)
class HeldNumbers:
    """whole, close: {name: (minutes or seconds, degC)} of "held", "read", "sheath". on: (s, share) of the close look.

    set_c: set point. means_c: of winding, what is held, sensor, in the end. wire_c: hottest wire, on the way up or in a
    pulse, which the winding's mean does not show. frame: what still parts depend on.
    said: a sentence where there is nothing to draw. lent: whose tool it is where a demo stands in, else "".
    """

    frame: tuple
    whole: dict
    close: dict
    on: tuple
    set_c: float
    word: str
    degrees: str
    said: str
    told: str = ""
    means_c: tuple = ()
    lent: str = ""
    wire_c: float = float("nan")


def held_numbers(build, found):
    """What the picture shows.

    build: Build with a controller. found: HeldTool.
    Returns HeldNumbers.
    """
    if found.refused:
        beyond = "" if found.control is None else found.control.beyond
        return HeldNumbers(("nothing",), {}, {}, ((), ()), float("nan"), "", build.degrees, found.refused, beyond,
                           lent=lent_words(build))  # fmt: skip
    run, place = found.run, found.control.place
    names = {"held": place, "read": SENSOR, "sheath": "sheath"}
    shown = run.time_s / 60 <= coarse_up(_shown_min(run, found), FAR_MIN)
    whole = {key: envelope(run.time_s[shown] / 60, run.temp_c[name][shown]) for key, name in names.items()}
    wide = _close_width(run, found)
    late = run.time_s >= run.time_s[-1] - wide
    seconds = run.time_s[late] - (run.time_s[-1] - wide)
    close = {key: (seconds, run.temp_c[name][late]) for key, name in names.items()}
    hottest = max(*(float(y.max()) for _, y in whole.values()), found.wire_top_c)
    top = coarse_up(1.06 * hottest, (1, 1.5, 2, 3, 4, 5, 6, 8, 10))
    low = min(float(y.min()) for _, y in close.values())
    high = max(float(y.max()) for _, y in close.values())
    low, high = np.floor((low - 8) / 20) * 20, np.ceil((high + 8) / 20) * 20
    far = coarse_up(_shown_min(run, found), FAR_MIN)
    frame = ("held", far, top, float(wide), float(low), float(high), build.degrees)
    told = _told(build, found)
    return HeldNumbers(frame, whole, close, (seconds, run.share[late]), found.law.set_c, place, build.degrees, "", told,
                       (found.sheath.mean_c, found.held.mean_c, found.read.mean_c), lent_words(build),
                       found.wire_top_c)  # fmt: skip


def envelope(x, y, pairs=POINTS):
    """A curve thinned so that its saw-tooth keeps its tops and bottoms.

    x, y: arrays (n,), x rising. pairs: stretches, each shown by its lowest and highest.
    Returns (x, y), at most 2 pairs long.
    """
    if x.size <= 2 * pairs:
        return x, y
    starts = np.unique(np.searchsorted(x[:-1], np.linspace(x[0], x[-1], pairs + 1)[:-1]))
    piece = np.repeat(np.arange(starts.size), np.diff(np.append(starts, x.size)))
    kept = [np.flatnonzero(y == extreme.reduceat(y, starts)[piece]) for extreme in (np.minimum, np.maximum)]
    kept = np.unique(np.concatenate([at[np.unique(piece[at], return_index=True)[1]] for at in kept]))  # the first ones
    return x[kept], y[kept]


def _shown_min(run, found):
    """Minutes of the left picture: the way up and some rounds after it, so that neither is a hair or a block."""
    rounds = found.period_s if np.isfinite(found.period_s) else 0.0
    ready_s = found.held.ready_s if np.isfinite(found.held.ready_s) else run.time_s[-1]
    return float(min(max(WAYS_UP * ready_s, ready_s + ROUNDS * rounds, SHOWN_S), run.time_s[-1])) / 60


def _close_width(run, found):
    """Seconds of the close look: six windows, or some cycles of on-off; a round number."""
    if found.law.kind != "on-off":
        return float(max(CLOSE_S, 6 * found.law.window_s))
    moves = np.flatnonzero(np.diff((run.share > 0).astype(int)) > 0)
    period = np.median(np.diff(run.time_s[moves][-6:])) if moves.size > 2 else CLOSE_S
    return float(min(coarse_up(max(3 * period, CLOSE_S), (1, 2, 3, 5, 6, 10)), run.time_s[-1] / 2))


def _told(build, found):
    way = {"degrees": build.degrees}
    swing = swing_words(found.held.ripple_k, **way)
    return (
        f"{found.law.kind}, set to {say('temp_c', found.law.set_c, **way)}: the {found.control.place} settles at "
        f"{say('temp_c', found.held.mean_c, **way)} and swings by {swing}, the winding's mean by "
        f"{say('ripple_k', found.sheath.ripple_k, figures=2, **way)}; its hottest wire, the dotted line, comes to "
        f"{say('wire_c', found.wire_top_c, **way)}"
    )


def beyond_rows(build, found):
    """Headline rows of a panel where full power does not reach the dial; [] where nothing is known of that.

    build: Build with a controller. found: HeldTool that is refused.
    """
    control, way = found.control, {"degrees": build.degrees}
    if control is None or control.standing is None or not control.set_c > control.full_c:
        return []
    metal_c = reading_of(control.standing.seat.watch, control.standing.settled(1.0))[control.place]
    low, high = (said_number("temp_c", c, **way) for c in (control.low_c, control.high_c))
    return [
        ("held", "nothing (the dial is out of reach)"),
        ("sensor, power always on", f"{say('temp_c', control.full_c, **way)} ({low} to {high} as the mains go)"),
        ("set point", say("temp_c", control.set_c, **way)),
        (f"{control.place}, power always on", say("temp_c", float(metal_c), **way)),
        ("watts that this takes", say("on_w", control.on_w)),
    ]


def held_caption(n):
    """The picture in words.  n: HeldNumbers."""
    whose = f"{n.lent} " if n.lent else ""
    if n.said:
        return f"{whose}{n.said} {n.told}".strip()
    return (
        f"{whose}At the left the way up from cold, at the right a close look at the end of it, with the moments of "
        f"power shaded: {n.told}."
    )
