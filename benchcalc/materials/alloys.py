"""Resistance alloys: resistivity, hot factor, limits, each with band and source."""

from dataclasses import dataclass

import numpy as np

from ..basics.fault import closest, fault
from ..basics.tables import one, rows


@dataclass(frozen=True)
class TableValue:
    """A value of a table in SI, its ends, and where it comes from."""

    value: float
    low: float
    high: float
    source_id: str
    basis: str
    note: str


def alloy_key(text, *, where="alloy"):
    """The key of an alloy from what the user wrote.

    text: key, name or other spelling in data/alloys.csv; capitals, spaces and dashes do not matter.
    where: name of the field, for messages.
    Returns key.  Raises Fault with the closest names.
    """

    def plain(word):
        return "".join(c for c in str(word).lower() if c.isalnum() or c == ".")

    spellings = {}
    for row in rows("alloys"):
        for word in (row["key"], row["name"], *(row["also"] or "").split(";")):
            if word.strip():
                spellings[plain(word)] = row["key"]
    if plain(text) in spellings:
        return spellings[plain(text)]
    raise fault(where, text, "is not an alloy in data/alloys.csv.", closest(text, [r["key"] for r in rows("alloys")]))


def alloy_name(key: str) -> str:
    """The trade name of an alloy key, e.g. "nickel-chromium 80/20".

    key: key in data/alloys.csv.

    >>> alloy_name("nicr-80-20")
    'nickel-chromium 80/20'
    """
    return next(r["name"] for r in rows("alloys") if r["key"] == key)


def alloy_value(key: str, quantity: str) -> TableValue | None:
    """One tabulated value of an alloy.

    key: key in data/alloys.csv. quantity: e.g. "resistivity_ohm_m" (20 degC), "service_limit_c",
    "melting_c", "density_kg_m3", "emissivity".
    Returns TableValue, or None when the table has no such value.

    >>> alloy_value("nicr-80-20", "resistivity_ohm_m").value
    1.09e-06
    """
    for row in rows("alloy_values"):
        if row["key"] == key and row["quantity"] == quantity:
            low = row["value"] if row["low"] is None else row["low"]
            high = row["value"] if row["high"] is None else row["high"]
            return TableValue(row["value"], low, high, row["source_id"], row["basis"], row["note"] or "")
    return None


def most_of_all(quantity):
    """The alloy whose tabulated value is the highest of the list, each by its cautious end.

    quantity: "service_limit_c" or "melting_c", degC.
    Returns (key, TableValue).
    """
    listed = ((row["key"], alloy_value(row["key"], quantity)) for row in rows("alloys"))
    return max(((key, found) for key, found in listed if found is not None), key=lambda one: one[1].low)


def wire_value(alloy, quantity):
    """One tabulated value of a wire: its alloy's own, or where nobody knows that, what resistance alloys span.

    alloy: key in data/alloys.csv, or "" where it is not known. quantity: "conductivity_w_mk", "emissivity",
    "density_kg_m3" or "specific_heat_j_kgk".
    Returns TableValue; of an alloy that is not known the row of data/defaults.csv, from the lowest to the highest of
    the named ones (copper left out).
    """
    found = alloy_value(alloy, quantity) if alloy else None
    if found is not None:
        return found
    row = one("defaults", "key", f"wire.{quantity}")
    return TableValue(row["value"], row["low"], row["high"], row["source_id"], row["basis"], row["note"] or "")


def in_band(table, place):
    """A tabulated value at a place in its band.

    table: TableValue. place: -1 its low end, 0 the value, +1 its high end (float or array).
    Returns float or array, on a straight line to either end.
    """
    at = table.value + np.where(np.asarray(place) > 0, table.high - table.value, table.value - table.low) * place
    return at if np.ndim(at) else float(at)


def factor_curve(key):
    """The hot factor table of an alloy: R(T) over R(20 degC).

    key: key in data/alloys.csv.
    Returns (temp_c, value, low, high) arrays, rising temperature.
    Raises Fault when the table has no curve for the key.
    """
    curve = sorted(
        (r["temp_c"], r["value"], r["low"], r["high"]) for r in rows("alloy_resistance_factor") if r["key"] == key
    )
    if not curve:
        raise fault("alloy", key, "has no hot factor in data/alloy_resistance_factor.csv.")
    return tuple(np.array(curve, dtype=float).T)


def hot_factor(key, temp_c, place=0.0):
    """Hot resistance over cold resistance of an alloy, from its table.

    key: alloy key. temp_c: wire temperature, degC (float or array).
    place: -1 the low end of the band, 0 nominal, +1 the high end (float or array).
    Returns ratio, interpolated on straight lines and held constant outside the table.
    Limits: the curve depends on grade and heat treatment, so the band matters more than the
    interpolation, and a wire of these alloys is no thermometer.
    """
    at, value, low, high = factor_curve(key)
    nominal = np.interp(temp_c, at, value)
    up, down = np.interp(temp_c, at, high) - nominal, nominal - np.interp(temp_c, at, low)
    return nominal + np.where(np.asarray(place) > 0, up, down) * place


def rank_alloys(linear_ohm_per_m: float, diameter_m: float, *, error: float = 0.03) -> list:
    """Which alloys a measured wire may be, best first.

    linear_ohm_per_m: measured cold ohms per metre. diameter_m: measured diameter.
    error: standard error of the resistivity that follows from both, as a ratio (3 % is a
    good caliper and meter; 1 % in diameter is 2 % in area).
    Returns list of (key, resistivity misfit as a ratio, likelihood 0..1 relative to the best).
    The unnamed grade `fecral` is left out: it is a range, not a grade.
    Method: normal error of the measured resistivity joined with each grade's band taken as a
    90 % interval (misfit squared over the sum of variances); equal prior weight for each grade.

    >>> rank_alloys(10.7, 0.36e-3)[0][0]
    'nicr-80-20'
    """
    resistivity_ohm_m = linear_ohm_per_m * np.pi * diameter_m**2 / 4
    ranked = []
    for row in rows("alloys"):
        table = alloy_value(row["key"], "resistivity_ohm_m")
        if row["key"] == "fecral" or table is None:
            continue
        misfit = resistivity_ohm_m / table.value - 1
        own = (table.high - table.low) / table.value / (2 * 1.645)
        ranked.append((row["key"], float(misfit), float(np.exp(-(misfit**2) / (error**2 + own**2) / 2))))
    ranked.sort(key=lambda r: (-r[2], abs(r[1])))
    top = ranked[0][2] or 1.0
    return [(key, misfit, likelihood / top) for key, misfit, likelihood in ranked]
