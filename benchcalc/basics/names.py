"""The glossary: one word, one symbol, one unit for each quantity, and how it is shown.

Every numeric name in the project ends in its SI unit (length_m, power_w, temp_c).  The entry
adds the trade's word, the symbol used in derivations, and the units a page shows it in.
"""

import re
from dataclasses import dataclass
from functools import cache

from .fault import closest, fault
from .glossary import WORDS

# SI suffix -> {system: (display unit, SI value of one display unit)}; longest suffix wins.
SUFFIXES = {
    "ohm_per_m": {"metric": ("ohm/m", 1.0), "inch": ("ohm/ft", 1 / 0.3048)},
    "ohm_m": {"metric": ("uohm m", 1e-6)},
    "w_m": {"metric": ("W/m", 1.0), "inch": ("W/ft", 1 / 0.3048)},
    "w_m2": {"metric": ("W/cm2", 1e4), "inch": ("W/in2", 1 / 0.0254**2)},
    "w_mk": {"metric": ("W/(m K)", 1.0)},
    "w_m2k": {"metric": ("W/(m2 K)", 1.0)},
    "w_k": {"metric": ("W/K", 1.0)},
    "j_kgk": {"metric": ("J/(kg K)", 1.0)},
    "kg_m3": {"metric": ("kg/m3", 1.0)},
    "per_k": {"metric": ("1/K", 1.0)},
    "m_s": {"metric": ("m/s", 1.0), "inch": ("ft/min", 0.3048 / 60)},
    "pa": {"metric": ("MPa", 1e6)},
    "j": {"metric": ("J", 1.0)},
    "m2": {"metric": ("mm2", 1e-6), "inch": ("in2", 0.0254**2)},
    "m3": {"metric": ("mm3", 1e-9), "inch": ("in3", 0.0254**3)},
    "n": {"metric": ("N", 1.0)},
    "ohm": {"metric": ("ohm", 1.0)},
    "m": {"metric": ("mm", 1e-3), "inch": ("in", 0.0254)},
    "kg": {"metric": ("g", 1e-3), "inch": ("oz", 0.028349523125)},
    "va": {"metric": ("VA", 1.0)},
    "v": {"metric": ("V", 1.0)},
    "v_m": {"metric": ("kV/mm", 1e6)},
    "life_s": {"metric": ("h", 3600.0)},
    "a": {"metric": ("A", 1.0)},
    "a_s": {"metric": ("Ah", 3600.0)},
    "w": {"metric": ("W", 1.0)},
    "s": {"metric": ("s", 1.0)},
    "c": {"C": ("degC", 1.0), "F": ("degF", 5 / 9)},
    "k_per_w": {"metric": ("K/W", 1.0)},
    "j_k": {"metric": ("J/K", 1.0)},
    "k": {"C": ("K", 1.0), "F": ("degF (difference)", 5 / 9)},
}


PERCENTS = ("closing", "cable_share", "misfit")  # ratios that are told in per cent
MINUTES = ("lasted_s", "run_s")  # of a log, or a charge, of many minutes


@dataclass(frozen=True)
class Name:
    """A glossary entry: key (name with its SI suffix, "" suffix for a ratio), word, LaTeX symbol."""

    key: str
    word: str
    symbol: str

    @property
    def suffix(self):
        """The SI suffix of the key, or "" for a ratio or a count."""
        return suffix_of(self.key)


@cache
def suffix_of(key):
    """The unit suffix of a name: "surface_load_w_m2" -> "w_m2"; "" for a ratio or count.

    key: a field, argument or column name.
    """
    for suffix in sorted(SUFFIXES, key=len, reverse=True):
        if key.endswith("_" + suffix):
            return suffix
    return ""


NAMES = {}
for _row in WORDS.strip().splitlines():
    _key, _word, _symbol = (part.strip() for part in _row.split(" | "))
    NAMES[_key] = Name(_key, _word, _symbol)


def name(key):
    """The glossary entry of a name.

    key: e.g. "length_m".  Raises Fault with the closest entries when it is not in the glossary.
    """
    if key not in NAMES:
        raise fault("glossary", key, "is not an entry.", closest(key, NAMES))
    return NAMES[key]


def display(key, *, units="metric", degrees="C"):
    """Unit text and its SI size for showing a quantity.

    key: a name with SI suffix. units: "metric" or "inch". degrees: "C" or "F".
    Returns (unit text, SI value of one unit); ("", 1.0) for counts and for ratios that are not told in per cent.
    """
    suffix = suffix_of(key)
    if key in PERCENTS:
        return "%", 0.01
    if not suffix:
        return "", 1.0
    if key in MINUTES:
        return "min", 60.0
    ways = SUFFIXES[suffix]
    if suffix in ("c", "k"):
        return ways[degrees]
    return ways.get(units, ways["metric"])


def shown(key, value, *, units="metric", degrees="C"):
    """An SI value in its display unit, as a number.

    key: a name with SI suffix. value: float or array, SI. units, degrees: as `display`.
    """
    _, size = display(key, units=units, degrees=degrees)
    if suffix_of(key) == "c" and degrees == "F":
        return value / size + 32
    return value / size


def digits(number, figures=3):
    """A number in at least `figures` significant figures, never in powers of ten for bench sizes.

    number: float. figures: 1-9.
    Returns text: 733.2 -> "733", 0.27999 -> "0.280", 12.98 -> "13.0".
    """
    if number != number:
        return "not known"
    if number in (float("inf"), float("-inf")):
        return "no end" if number > 0 else "no end (negative)"
    if number == 0:
        return "0"
    size = abs(number)
    if size >= 1e6 or size < 1e-4:
        return f"{number:.{figures - 1}e}"
    if size > 1 - 1e-9:  # one but for rounding is one
        whole = len(str(int(round(size))))
        return f"{number:.{max(0, figures - whole)}f}"
    zeros = len(f"{size:.12f}".split(".")[1]) - len(f"{size:.12f}".split(".")[1].lstrip("0"))
    return f"{number:.{zeros + figures}f}"


def say(key: str, value: float, *, figures: int = 3, units: str = "metric", degrees: str = "C") -> str:
    """A value with its unit, in words for a page: say("length_m", 0.733) -> "733 mm".

    key: name with SI suffix. value: SI float. figures: significant figures.
    units, degrees: as `display`.

    >>> say("length_m", 0.733)
    '733 mm'
    >>> say("temp_c", 350.0, degrees="F")
    '662 degF'
    """
    if key in YEARS:
        return years_words(float(value)) or "not known"
    unit, _ = display(key, units=units, degrees=degrees)
    number = said_number(key, value, figures=figures, units=units, degrees=degrees)
    return number if number.startswith(("not known", "no end")) else f"{number} {unit}".strip()


def in_degrees(text, degrees):
    """A sentence of the tables, whose temperatures stand in degC, in the degrees of a sheet.

    text: words, such as "from about 250 to 300 degC". degrees: "C" or "F".
    Returns text.
    """

    def told(found):
        ends = [said_number("temp_c", float(x), degrees=degrees) for x in found[1].split(" to ")]
        return f"{' to '.join(ends)} {display('temp_c', degrees=degrees)[0]}"

    return text if degrees == "C" else re.sub(r"(-?\d+(?: to -?\d+)?) degC", told, text)


YEARS = ("years", "wood_years")
LONG_YEARS = 100.0  # beyond this a number would be a pretence


def years_words(years):
    """A length of use in words that do not pretend: "3.2 years", "over 100 years", "20 min", "under a minute".

    years: years of use, or nan (then "").  A difference may be negative.
    """
    if years != years:
        return ""
    if years < 0:
        return f"-{years_words(-years)}" if years > -LONG_YEARS else "not one"
    if years > LONG_YEARS:
        return f"over {LONG_YEARS:.0f} years"
    minutes = years * 8766 * 60
    for size, word, most in ((1, "min", 120), (60, "h", 48), (1440, "days", 60), (1440 * 365.25 / 12, "months", 24)):
        if minutes < most * size:
            return "under a minute" if minutes < 1 else f"{minutes / size:.0f} {word}"
    return f"{years:.0f} years" if years >= 10 else f"{years:.1f} years"


def said_number(key, value, *, figures=3, units="metric", degrees="C"):
    """A value in its display unit, without the unit: temperatures in whole degrees, others in significant figures.

    key, value, figures, units, degrees: as `say`.
    """
    if key in YEARS:
        return years_words(float(value)) or "not known"
    number = float(shown(key, value, units=units, degrees=degrees))
    if suffix_of(key) == "c" and figures <= 3 and abs(number) >= 10 and number < float("inf"):
        return f"{number:.0f}"
    return digits(number, figures)
