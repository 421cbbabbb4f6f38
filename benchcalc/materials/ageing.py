"""Ageing of organic insulation: life against temperature, by its own points or by the halving rule.

Mica, glass, ceramics and bare metal do not age this way: only what is organic in them does.
"""

from dataclasses import dataclass

import numpy as np

from ..basics.fault import closest, fault
from ..basics.tables import rows
from .insulation import checked_temp

ZERO_C = 273.15
AGES_FROM_C, AGES_TO_C = -60.0, 600.0


@dataclass(frozen=True)
class AgeingLine:
    """A straight line of ln(life in s) against 1/(absolute temperature): intercept and slope (K).

    coldest_c, hottest_c: ends of its points. misfit: largest departure of a point, as a ratio of lives.
    """

    intercept: float
    slope_k: float
    coldest_c: float
    hottest_c: float
    misfit: float


def fit_line(temps_c, lives_s):
    """The ageing line through points of life against temperature.

    temps_c: degC, at least two different. lives_s: life at each, s, above 0.
    Returns AgeingLine.  Raises Fault for points that are no ageing: too few, not positive, living longer when hotter.
    Equation: ln t = a + b/T by least squares, IEC 60216-3, Electrical insulating materials: thermal endurance
    properties, calculating characteristics (Dakin's use of the law of Arrhenius, Trans. AIEE 67 (1948) 113).
    """
    temps, lives = np.asarray(temps_c, float), np.asarray(lives_s, float)
    if temps.shape != lives.shape or len(np.unique(temps)) < 2:
        raise fault(
            "ageing points", f"{temps.size}", "points make no line: at least two different temperatures are needed."
        )
    checked_temp(temps, low_c=AGES_FROM_C, high_c=AGES_TO_C, where="ageing points")
    if not np.all(lives > 0):
        raise fault("ageing points", f"{lives.min():g} s", "is no life: it must be above 0 s.")
    slope, intercept = np.polyfit(1 / (temps + ZERO_C), np.log(lives), 1)
    if slope <= 0:
        raise fault("ageing points", "", "live longer the hotter they are.", "The columns may be swapped.")
    off = np.exp(np.max(np.abs(intercept + slope / (temps + ZERO_C) - np.log(lives)))) - 1
    return AgeingLine(float(intercept), float(slope), float(temps.min()), float(temps.max()), float(off))


def ageing_points(series):
    """Points of a series of data/ageing.csv: (temps_c, lives_s).

    series: its name.  Raises Fault with the closest names.
    """
    found = sorted((r["temp_c"], r["life_s"]) for r in rows("ageing") if r["series"] == series)
    if not found:
        raise fault(
            "series", series, "is not in data/ageing.csv.", closest(series, {r["series"] for r in rows("ageing")})
        )
    return tuple(np.array(found).T)


def life_by_line(temp_c, intercept, slope_k):
    """Life at a temperature by an ageing line.

    temp_c: degC, -60 to 600. intercept: of the line, for lives in s. slope_k: of the line, K.
    Returns hot_life_s.  Far from its points a line guesses: an endurance test is trusted some 25 K beyond them (from
    memory).
    Equation: ln t = a + b/T, IEC 60216-3, Electrical insulating materials: thermal endurance properties.
    """
    absolute_k = temp_c + 273.15
    hot_life_s = np.exp(intercept + slope_k / absolute_k)
    return hot_life_s


def index_by_line(index_life_s, intercept, slope_k):
    """The temperature at which the life is a wanted one: the temperature index, where that is 20 000 h.

    index_life_s: wanted life, s. intercept, slope_k: of the ageing line (K).
    Returns index_c.
    Equation: IEC 60216-1, Electrical insulating materials: thermal endurance properties, ageing procedures; definition
    of the temperature index.
    """
    absolute_k = slope_k / (np.log(index_life_s) - intercept)
    index_c = absolute_k - 273.15
    return index_c


def halving_by_line(index_c, slope_k):
    """How many kelvin cooler than the index double the life: the halving interval of a line, taken downwards.

    index_c: temperature index, degC. slope_k: of the ageing line, K.
    Returns halving_k.  Taken upwards from the index the interval comes out a few per cent larger, since the line is
    straight in 1/T.
    Equation: from ln t = a + b/T with t doubled; IEC 60216-1, Electrical insulating materials, halving interval.
    """
    absolute_k = index_c + 273.15
    part_k = absolute_k * np.log(2)
    halving_k = absolute_k * part_k / (slope_k + part_k)
    return halving_k


def life_by_halving(temp_c, index_c, halving_k, index_life_s):
    """Life at a temperature from a temperature index: halved for every interval above it, doubled below.

    temp_c: degC, -60 to 600. index_c: temperature index, degC. halving_k: halving interval, 6 to 10 K for most organic
    insulation. index_life_s: life at the index, s; 20 000 h (7.2e7 s) unless the sheet of the material says another.
    Returns hot_life_s.
    Assumes: one kind of decay all the way; more than some 50 K from the index the rule is a guess.
    Equation: local slope of the ageing line; Montsinger, Loading Transformers by Temperature, Trans. AIEE 49 (1930)
    776.
    """
    over_k = temp_c - index_c
    hot_life_s = index_life_s * 0.5 ** (over_k / halving_k)
    return hot_life_s


def years_of_use(hot_life_s, hours_per_year):
    """Years that a life lasts at so many hot hours a year.

    hot_life_s: life at the temperature, s. hours_per_year: hours of use in a year, above 0 to 8784.
    Returns years.
    """
    yearly_life_s = 3600 * hours_per_year
    years = hot_life_s / yearly_life_s
    return years


def rule(key):
    """A rule of data/ageing_rules.csv: (value, low, high, source_id).

    key: e.g. "halving_k", "index_life_s".  Raises Fault with the closest.
    """
    for r in rows("ageing_rules"):
        if r["key"] == key:
            return r["value"], r["low"], r["high"], r["source_id"]
    raise fault(
        "ageing rule", key, "is not in data/ageing_rules.csv.", closest(key, [r["key"] for r in rows("ageing_rules")])
    )


def life_of(index_c, temp_c, halving_k=None):
    """Life of organic insulation at a temperature: with the data's own halving interval unless one is given.

    index_c: temperature index, degC, -60 to 600. temp_c: degC, float or array. halving_k: K.
    Returns s.  Raises Fault for a temperature beyond all ageing data.
    """
    checked_temp(temp_c, low_c=AGES_FROM_C, high_c=AGES_TO_C)
    checked_temp(index_c, low_c=AGES_FROM_C, high_c=AGES_TO_C, where="index_c")
    return life_by_halving(
        temp_c, index_c, rule("halving_k")[0] if halving_k is None else halving_k, rule("index_life_s")[0]
    )


def life_ends(index_c, temp_c):
    """Shortest and longest life that the printed halving intervals allow.

    index_c: temperature index, degC. temp_c: degC.
    Returns (low, high) in s.
    """
    _, low_k, high_k, _ = rule("halving_k")
    ends = [life_of(index_c, temp_c, k) for k in (low_k, high_k)]
    return np.minimum(*ends), np.maximum(*ends)


def enamel_index(designation):
    """Temperature index of enamelled wire by its designation, degC.

    designation: as printed on the reel, e.g. "MW 35-C" or "IEC 60317-13".
    Returns degC.  Raises Fault with the closest; a reel without a label counts as 105.
    """

    def plain(text):
        return "".join(c for c in text.lower() if c.isalnum())

    found = {plain(word): r["index_c"] for r in rows("winding_wire") for word in r["designation"].split(",")}
    if plain(designation) not in found:
        raise fault(
            "designation",
            designation,
            "is not a winding wire in data/winding_wire.csv.",
            closest(designation, [w.strip() for r in rows("winding_wire") for w in r["designation"].split(",")]),
            "A reel without a label counts as 105 degC.",
        )
    return found[plain(designation)]
