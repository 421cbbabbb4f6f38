"""Metals at a temperature: values with their ends, melting, service, conduction, heat capacity, strength."""

from dataclasses import dataclass
from functools import cache

import numpy as np

from ..basics.fault import closest, fault
from ..basics.names import in_degrees
from ..basics.tables import one, rows
from .bulk import melting_of, solid_key

CURVES = {
    "conductivity_w_mk": "metal_conductivity",
    "specific_heat_j_kgk": "metal_specific_heat",
    "yield_pa": "metal_yield",
}
COLD_C = 20.0
AS = "as "  # begins a note that stands for another metal's
NEVER = {"beryllium-copper": "its dust and fume damage the lungs", "lead": "poisonous, and it creeps even cold"}


@dataclass(frozen=True)
class MetalValue:
    """A number from the tables with its ends, source and basis; held: the end of its curve stands in."""

    value: float
    low: float
    high: float
    source_id: str
    basis: str
    note: str = ""
    held: bool = False


def metal_key(text, *, where="metal"):
    """The key of a metal in data/metals.csv.

    text: key, name or other spelling. where: name of the field, for messages.
    Returns key.  Raises Fault with the closest names; none is picked.
    """
    known = [r["key"] for r in rows("metals")]
    try:
        topic, key = solid_key(text, where=where)
    except ValueError:
        raise fault(
            where,
            text,
            "is not a metal in data/metals.csv.",
            closest(text, known),
            "Write one of its names, or add a row.",
        ) from None
    if topic != "metals":
        raise fault(where, text, "is a material of data/solids.csv, not a metal.", closest(text, known))
    return key


def melts_from(material):
    """Where a part begins to melt, by its cautious end.

    material: any that a part may be of.
    Returns degC; inf for what the tables do not know to melt (wood chars instead).
    """
    if solid_key(material)[0] == "metals":
        return metal_value(metal_key(material), "melting_low_c").low
    found = melting_of(material)
    return float("inf") if found is None else found[0]


def metal_name(text):
    """The name of a metal in words.  text: as `metal_key`."""
    return one("metals", "key", metal_key(text))["name"]


def metal_short(text):
    """Its name without the grade: "brass", "stainless steel".  text: as `metal_key`."""
    return metal_name(text).split(",")[0].split(" (")[0]


@cache
def service_note(key, degrees="C"):
    """What the tables say of a metal in long service, in words; of one that is "as" another, that one's with its own.

    key: metal. degrees: "C" or "F".
    Returns text, "" where nothing is said.
    """
    found = metal_value(key, "service_limit_c")
    note = "" if found is None else found.note
    first, *more = note.split("; ")
    like = first.removeprefix(AS).replace(" ", "-")
    if first.startswith(AS) and like in metals():
        note = "; ".join((metal_value(like, "service_limit_c").note, *more))
    return in_degrees(note, degrees)


def metal_value(text, quantity):
    """One number of a metal near 20 degC, or None where the tables do not give it.

    text: metal. quantity: of data/metal_values.csv, e.g. "melting_low_c", "service_limit_c", "yield_pa".
    Returns MetalValue or None.  Raises Fault for an unknown metal or quantity.
    """
    key, known = metal_key(text), {r["quantity"] for r in rows("metal_values")}
    if quantity not in known:
        raise fault("metal", quantity, "is no quantity of data/metal_values.csv.", closest(quantity, sorted(known)))
    for r in rows("metal_values"):
        if r["key"] == key and r["quantity"] == quantity:
            low, high = (r["value"] if r[end] is None else r[end] for end in ("low", "high"))
            return MetalValue(r["value"], low, high, r["source_id"], r["basis"], r["note"] or "")
    return None


@cache
def _curve(key, quantity):
    found = sorted((r for r in rows(CURVES[quantity]) if r["key"] == key), key=lambda r: r["temp_c"])
    single = metal_value(key, quantity) if quantity != "conductivity_w_mk" else None
    return tuple(found), single


def metal_at(text, quantity, temp_c, *, hold=True):
    """A number of a metal at a temperature, straight between the rows of its curve.

    text: metal. quantity: "conductivity_w_mk", "specific_heat_j_kgk" or "yield_pa". temp_c: degC, a float, above
    -100. hold: True keeps the end value beyond the curve and says so in `held`; False refuses.
    Returns MetalValue, or None where nothing is known: strength is never held above its last row, since it
    only falls.  Raises Fault: unknown metal, temperature at or above the beginning of melting, or beyond the
    data with hold False.
    """
    if quantity not in CURVES:
        raise fault("metal", quantity, "has no curve against temperature.", closest(quantity, CURVES))
    key, temp_c = metal_key(text), float(temp_c)
    melts = metal_value(key, "melting_low_c")
    if not -100.0 <= temp_c < melts.value:
        raise fault(
            f"{metal_name(key)}, temperature",
            f"{temp_c:g} degC",
            f"must lie from -100 degC to {melts.value:g} degC, where it begins to melt.",
            "Degrees Fahrenheit, perhaps?" if temp_c > melts.value else "",
        )
    found, single = _curve(key, quantity)
    if not found:
        if single is None or (quantity == "yield_pa" and temp_c > 100.0):
            return None
        return MetalValue(
            single.value,
            single.low,
            single.high,
            single.source_id,
            single.basis,
            single.note,
            abs(temp_c - COLD_C) > 80.0,
        )
    temps = [r["temp_c"] for r in found]
    beyond = temp_c > temps[-1] or temp_c < min(temps[0], COLD_C) - 40.0
    if beyond and not hold:
        raise fault(
            f"{quantity} of {metal_name(key)}",
            f"{temp_c:g} degC",
            f"lies beyond its data, which reach from {temps[0]:g} to {temps[-1]:g} degC.",
            do="Take the end value knowingly (hold=True), or find a source.",
        )
    if quantity == "yield_pa" and temp_c > temps[-1]:
        return None
    value, low, high = (
        float(np.interp(temp_c, temps, [r["value"] if r[c] is None else r[c] for r in found]))
        for c in ("value", "low", "high")
    )
    near = min(found, key=lambda r: abs(r["temp_c"] - temp_c))
    return MetalValue(value, low, high, near["source_id"], near["basis"], "", beyond)


def mean_between(text, quantity, one_c, other_c):
    """The mean of a curve between two temperatures, which makes straight formulas exact for it.

    text: metal. quantity: as `metal_at`. one_c, other_c: degC, floats.
    Returns float in SI.  Equation: mean of a piecewise straight line, by its own corners.
    """
    low, high = sorted((float(one_c), float(other_c)))
    if high - low < 1e-9:
        return metal_at(text, quantity, low).value
    corners = [r["temp_c"] for r in _curve(metal_key(text), quantity)[0] if low < r["temp_c"] < high]
    temps = [low, *corners, high]
    values = [metal_at(text, quantity, t).value for t in temps]
    return float(np.sum(np.diff(temps) * (np.array(values[1:]) + np.array(values[:-1])) / 2) / (high - low))


def metals():
    """Keys of all metals and solders of the tables, in their order."""
    return tuple(r["key"] for r in rows("metals"))


def family_of(text):
    """The family of a metal: "steel", "brass", "solder" ...  text: as `metal_key`."""
    return one("metals", "key", metal_key(text))["family"]
