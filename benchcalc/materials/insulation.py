"""Insulation: what each material stands, what its rating means, what it gives off, what has no place in a tool."""

from dataclasses import dataclass
from functools import cache

import numpy as np

from ..basics.fault import closest, fault
from ..basics.names import said_number, say
from ..basics.tables import rows
from .alloys import TableValue
from .bulk import solid_key

COLDEST_C, HOTTEST_C = -60.0, 1700.0  # no figure of data/insulation.csv lies outside


@dataclass(frozen=True)
class Rating:
    """What a material stands in long service, degC.

    limit_c: the cautious end of what sources print. boldest_c: the highest that is printed. short_c: for
    minutes, or nan. binder_off_c: where a coat or binder begins to smoke, or nan. organic: it ages by the
    halving rule. never: it has no place in a tool. means: what the rating is, "" where the table is silent.
    """

    key: str
    name: str
    limit_c: float
    boldest_c: float
    short_c: float
    binder_off_c: float
    organic: bool
    never: bool
    means: str
    source_id: str
    basis: str


def insulation_keys():
    """Keys of all materials with a row in data/insulation.csv, in its order."""
    return tuple(dict.fromkeys(r["key"] for r in rows("insulation")))


def insulation_key(text, *, where="material"):
    """The key of an insulating material from what the user wrote.

    text: key, name or other spelling of data/solids.csv; capitals, spaces and dashes do not matter. where: name
    of the field, for messages.
    Returns key.  Raises Fault with the closest names for an unknown one, and for a solid without a rating.
    """
    known = insulation_keys()
    try:
        key = solid_key(text, where=where)[1]
    except ValueError:
        raise fault(
            where,
            text,
            "is not an insulation in data/insulation.csv.",
            closest(text, known),
            "Take the one that it is; where you cannot tell, take the lowest rating of its kind.",
        ) from None
    if key not in known:
        raise fault(where, text, "has no rating as insulation in data/insulation.csv.", closest(key, known))
    return key


def insulation_value(text, quantity):
    """One tabulated value of an insulation.

    text: material. quantity: e.g. "continuous_limit_c", "dielectric_cold_v_m", "resistivity_hot_ohm_m".
    Returns TableValue, or None where the table has no such value.
    """
    return _values(insulation_key(text)).get(quantity)


@cache
def _values(key):
    return {
        r["quantity"]: TableValue(
            r["value"],
            r["value"] if r["low"] is None else r["low"],
            r["value"] if r["high"] is None else r["high"],
            r["source_id"],
            r["basis"],
            r["note"] or "",
        )
        for r in rows("insulation")
        if r["key"] == key
    }


def notes(text):
    """What is to be known of a material beside its numbers.

    text: material.
    Returns dict: topic (gives_off, mechanical, electrical, rating_means, never) -> sentence.
    """
    key = insulation_key(text)
    return {r["topic"]: r["text"] for r in rows("insulation_notes") if r["key"] == key}


@cache
def rating(text):
    """What a material stands, and what that means.

    text: material.
    Returns Rating.  Raises Fault with the closest names for an unknown one.
    Ratings of different materials are not the same promise: read `means`.
    """
    key = insulation_key(text)
    found = _values(key)
    head = next(r for r in rows("solids") if r["key"] == key)
    limit = found.get("continuous_limit_c")

    def single(quantity):
        return found[quantity].value if quantity in found else np.nan

    return Rating(
        key,
        head["name"],
        single("continuous_limit_c"),
        np.nan if limit is None else limit.high,
        single("short_limit_c"),
        single("binder_off_c"),
        "ages" in found,
        "never_use" in found,
        notes(key).get("rating_means", ""),
        found["never_use" if limit is None else "continuous_limit_c"].source_id,
        found["never_use" if limit is None else "continuous_limit_c"].basis,
    )


def strength(text):
    """The breakdown field to count with: the low end of the hot figure, of the cold one where no hot one is known.

    text: material.
    Returns (TableValue, word): word "hot", "cold" or "not known" (then None).
    """
    for word in ("hot", "cold"):
        found = insulation_value(text, f"dielectric_{word}_v_m")
        if found is not None:
            return found, word
    return None, "not known"


def coat_gone(rated, temp_c, degrees="C"):
    """What is left of a coated sleeve once its coat is gone, in a sentence; "" where that is not so.

    rated: Rating. temp_c: degC at the sleeve. degrees: "C" or "F".
    """
    glass = insulation_value(rated.key, "glass_limit_c")
    if glass is None or not temp_c > rated.binder_off_c:
        return ""
    off, high = (say("limit_c", c, degrees=degrees) for c in (rated.binder_off_c, glass.high))
    low = said_number("limit_c", glass.low, degrees=degrees)
    return f"Its coat is gone from about {off}: a bare braid is left, which stands {low} to {high}" + (
        ", less than it meets here." if temp_c > glass.low else " and frays where it is touched."
    )


def withstand(layer_m, strength_v_m):
    """Volts that a layer holds off before it breaks down.

    layer_m: thickness of the layer, 0.00001 to 0.05. strength_v_m: breakdown field of its material, V/m, 1e4 to 3e8.
    Returns withstand_v.
    Assumes: an even field and a whole layer; a crack, a fold or damp leaves the strength of air or less.
    Equation: definition of electric strength, IEC 60243-1, Electric strength of insulating materials, clause 3.
    """
    withstand_v = layer_m * strength_v_m
    return withstand_v


def stays_or_leaves(temp_c, keys=None):
    """Which materials stay in at a temperature, and which must leave.

    temp_c: degC at the material, -60 and up; hotter than any figure everything leaves. keys: materials, None for all
    that are rated.
    Returns tuple of (Rating, word): "stays" below the cautious rating, "risky" between the cautious and the
    boldest, "leaves" above, "never" for what has no place in a tool; highest rating first.
    """
    temp_c = checked_temp(temp_c, high_c=np.inf)
    found = []
    for key in insulation_keys() if keys is None else keys:
        r = rating(key)
        word = (
            "never" if r.never else "stays" if temp_c <= r.limit_c else "risky" if temp_c <= r.boldest_c else "leaves"
        )
        found.append((r, word))
    return tuple(sorted(found, key=lambda f: -np.nan_to_num(f[0].limit_c, nan=-1e3)))


def checked_temp(temp_c, *, low_c=COLDEST_C, high_c=HOTTEST_C, where="temp_c"):
    """The temperature, if data reach it.

    temp_c: degC, float or array (nan passes). low_c, high_c: ends of the data, degC. where: for messages.
    Returns temp_c as float or array.  Raises Fault beyond the ends.
    """
    met = np.asarray(temp_c, float)
    if np.any((met < low_c) | (met > high_c)):
        bad = np.ravel(met)[np.ravel((met < low_c) | (met > high_c))][0]
        raise fault(
            where,
            f"{bad:g} degC",
            f"is beyond the data, {low_c:g} to {high_c:g} degC.",
            "A slip between degC and degF or kelvin does that.",
            "Write the temperature in degC.",
        )
    return float(met) if met.ndim == 0 else met
