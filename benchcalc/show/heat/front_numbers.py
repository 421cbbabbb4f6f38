"""The numbers behind the picture of the warm front: the tube at some moments, with bands, and where it is so hot."""

from dataclasses import dataclass

import numpy as np

from ...basics.band import CENTRAL_PERCENT
from ...basics.names import said_number, say
from ...studies.when_and_where import front_of
from ..drawing.style import coarse_up

MOMENTS_S = (480.0, 3600.0, np.inf)
NONE_YET, ALL = "nowhere yet", "all of it"


@dataclass(frozen=True, eq=False)
class FrontNumbers:
    """temp_c: asked for; word: its name. moments: (words, degC (p,), low (p,), high (p,), Band of the place) each.
    places_m: along the tube (p,). bare_m: where the handle covers it. said: a sentence where there is nothing to draw.
    """

    frame: tuple
    temp_c: float
    word: str
    places_m: np.ndarray
    moments: tuple
    units: str
    degrees: str
    said: str
    bare_m: float = np.inf


def moment_words(time_s):
    """A moment in words.  time_s: s after switching on, or inf."""
    if np.isinf(time_s):
        return "settled"
    return "an hour" if time_s == 3600.0 else f"{time_s / 60:.3g} min"


def front_words(band, units="metric", bare_m=np.inf):
    """A place on the tube with its band, in words.

    band: Band of places, m; nan: nowhere yet, inf: all of the tube. units: as names.display. bare_m: where the handle
    covers it.

    >>> from benchcalc.basics.band import Band
    >>> front_words(Band(0.1, 0.09, float("inf")))
    '100 mm (90 mm to all of it)'
    >>> front_words(Band(0.166, 0.134, 0.18), bare_m=0.15)
    '166 mm, 16.0 mm under the handle (134 to 180)'
    """

    def one(x):
        return NONE_YET if np.isnan(x) else ALL if np.isinf(x) else say("length_m", x, units=units)

    at, under_m = one(band.nominal), band.nominal - bare_m
    if np.isfinite(under_m) and under_m > 0:
        at += f", {say('length_m', under_m, units=units)} under the handle"
    ends = [one(x) for x in (band.low, band.high)]
    if ends[0] == ends[1]:
        return at
    plain = np.isfinite(band.low) and np.isfinite(band.high)
    low = said_number("length_m", band.low, units=units) if plain else ends[0]
    return f"{at} ({low} to {ends[1] if not plain else said_number('length_m', band.high, units=units)})"


def front_numbers(build, spread, asked, moments_s=MOMENTS_S):
    """What the picture shows.

    build: Build. spread: SpreadInTime or NoSpread. asked: Asked. moments_s: s after switching on, inf for the settled
    tool.
    Returns FrontNumbers.
    """
    way = build.units, build.degrees
    word = asked.marker or say("temp_c", asked.temp_c, degrees=build.degrees)
    if not spread.tube:
        said = (
            getattr(spread, "why", "")
            or "This tool has no part with the role tube: there is nothing to slide a marker along."
        )
        return FrontNumbers(("nothing",), asked.temp_c, word, np.zeros(0), (), *way, said)
    moments = []
    for time_s in moments_s:
        nominal, many = spread.tube_at(time_s)
        ranged = many[~np.isnan(many).any(axis=1)] if spread.ranged else nominal[None]
        low, high = np.percentile(ranged, CENTRAL_PERCENT, axis=0)
        place = front_of(spread, asked.temp_c, time_s)
        moments.append((moment_words(time_s), nominal, np.minimum(low, nominal), np.maximum(high, nominal), place))
    top = coarse_up(1.05 * max(max(float(m[3].max()) for m in moments), 1.1 * asked.temp_c))
    ends = round(float(spread.tube_m[0]), 4), round(float(spread.tube_m[-1]), 4)
    bare_m = float(spread.bare_m)
    frame = ("tube", ends, top, round(bare_m, 4), *way)
    return FrontNumbers(frame, asked.temp_c, word, spread.tube_m, tuple(moments), *way, "", bare_m)


def front_caption(n):
    """The picture in words.  n: FrontNumbers."""
    if n.said:
        return n.said
    told = "; ".join(f"{words}: {front_words(place, n.units, n.bare_m)}" for words, *_, place in n.moments)
    level = say("temp_c", n.temp_c, degrees=n.degrees)
    covered = n.places_m[-1] > n.bare_m + 1e-6
    on = f", under the handle from {say('length_m', n.bare_m, units=n.units)} on" if covered else ""
    return (
        f"Temperature along the tube, from its hottest place to its end{on}, with 90 % bands. "
        f"As hot as {n.word}{'' if n.word == level else f' ({level})'} up to: {told}."
    )
