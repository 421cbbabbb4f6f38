"""What the eye sees of a hot body: when it begins to glow, what the colour is called, and how little that says."""

from functools import cache

import numpy as np

from ..basics.fault import closest, fault
from ..basics.tables import rows

_VISIBLE = "red heat visible "


@cache
def thresholds():
    """Temperatures at which red heat can first be seen, by the light around.

    Returns tuple of (surroundings, degC, source_id), the darkest first; surroundings such as "in the dark".
    Source: an older handbook's table in data/glow.csv.  Eyes differ, and a dark-adapted one sees more.
    """
    found = [r for r in rows("glow") if r["scheme"] == "by surroundings"]
    return tuple((r["words"].removeprefix(_VISIBLE), r["low_c"], r["source_id"]) for r in found)


def threshold(surroundings):
    """One of thresholds(), by name.

    surroundings: "in the dark", "in twilight", "in daylight" or "in sunlight".
    Returns (degC, source_id).  Raises Fault with the closest names.
    """
    for name, temp_c, source_id in thresholds():
        if name == surroundings:
            return temp_c, source_id
    raise fault(
        "surroundings",
        surroundings,
        "is no light that data/glow.csv tells of.",
        closest(surroundings, [name for name, *_ in thresholds()]),
    )


def seen_in(temp_c):
    """In which light a body at this temperature shows red heat.

    temp_c: degC, float or array.
    Returns dict: surroundings -> True or False (arrays for an array).
    """
    seen = {name: np.asarray(temp_c) >= first_c for name, first_c, _ in thresholds()}
    return seen if np.ndim(temp_c) else {name: bool(yes) for name, yes in seen.items()}


def line_threshold(surroundings, width_m, distance_m, whole_arcmin):
    """Temperature at which a thin glowing wire can first be seen: hotter than a wide body, since it must be brighter.

    surroundings: as threshold. width_m: of the wire. distance_m: of the eye. whole_arcmin: width, in minutes of arc,
    above which a line is seen as easily as a wide body.
    Returns degC.
    Equation: Ricco's law, brightness times width is one constant below that width (Ricco 1877; from memory), with
    brightness() as it rises with temperature.
    """
    first_c, _ = threshold(surroundings)
    arcmin = np.degrees(np.arctan(width_m / distance_m)) * 60
    need = np.log(brightness(first_c)) + np.log(max(whole_arcmin / arcmin, 1.0))
    grid = np.linspace(first_c, 1700.0, 1500)
    return float(np.interp(need, np.log(brightness(grid)), grid))


@cache
def schemes():
    """Names of the published tables of glow colours, as in data/glow.csv."""
    found = [r["scheme"] for r in rows("glow") if r["kind"] == "glow"]
    return tuple(s for s in dict.fromkeys(found) if s not in ("by surroundings", "first glow"))


def colour_words(temp_c):
    """What each published table calls the colour at a temperature.

    temp_c: degC, a float.
    Returns dict: table -> words, "" below the table's first entry.  A table of ranges gives the range the
    temperature is in, a table of single temperatures the nearest of them.
    """
    told = {}
    for scheme in schemes():
        own = [r for r in rows("glow") if r["kind"] == "glow" and r["scheme"] == scheme]
        if temp_c < own[0]["low_c"]:
            told[scheme] = ""
        elif any(r["high_c"] is not None and r["high_c"] > r["low_c"] for r in own):
            told[scheme] = [r for r in own if r["low_c"] <= temp_c][-1]["words"]
        else:
            told[scheme] = min(own, key=lambda r: abs(r["low_c"] - temp_c))["words"]
    return told


def temperatures_called(word):
    """The temperatures that published tables give to colours with a word in their name: how little a colour says.

    word: e.g. "cherry", "orange", "dark red"; every part of it must occur.
    Returns tuple of (table, words, low_c, high_c), the coldest first; high_c None for "and above".
    Raises Fault for a word that no table uses.
    """
    parts = word.lower().split()
    found = [
        (r["scheme"], r["words"], r["low_c"], r["high_c"])
        for r in rows("glow")
        if r["kind"] == "glow"
        and r["scheme"] in schemes()
        and all(p in r["words"].lower().replace(",", "").split() for p in parts)
    ]
    if not found:
        words = {w for r in rows("glow") if r["kind"] == "glow" for w in r["words"].replace(",", "").split()}
        raise fault("colour", word, "is a word that no table of glow colours uses.", closest(word, sorted(words)))
    return tuple(sorted(found, key=lambda f: f[2]))


def spread_called(word):
    """Coldest and hottest temperature that published tables give to a colour word.

    word: as temperatures_called.
    Returns (low_c, high_c).
    """
    found = temperatures_called(word)
    return min(f[2] for f in found), max(f[2] if f[3] is None else f[3] for f in found)


def brightness(temp_c, emissivity=1.0):
    """How bright a hot body looks, cd/m2.

    temp_c: degC, float or array, 400 to 1700. emissivity: 0 to 1, taken as the same for all visible light.
    Returns luminance in cd/m2; a page under a desk lamp has about 100 (from memory).
    Equation: Planck's law seen by the CIE 1931 observer; the table's own points, straight in log against 1/T,
    carried on in a straight line beyond them.
    """
    table = rows("glow_brightness")
    inverse = np.array([1 / (r["temp_c"] + 273.15) for r in table][::-1])
    log = np.log([r["value"] for r in table][::-1])
    at = 1 / (np.asarray(temp_c, float) + 273.15)
    found = np.interp(at, inverse, log)
    for end, inner in ((0, 1), (-1, -2)):
        slope = (log[end] - log[inner]) / (inverse[end] - inverse[inner])
        beyond = at > inverse[end] if end else at < inverse[end]
        found = np.where(beyond, log[end] + slope * (at - inverse[end]), found)
    return emissivity * np.exp(found)
