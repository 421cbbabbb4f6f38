"""Bulk properties of any solid a sheet may name: metal or not, its conduction, heat capacity, surface."""

from dataclasses import dataclass
from functools import cache

import numpy as np

from ..basics.fault import closest, fault
from ..basics.tables import rows
from .wood import STATED_MOISTURE, specific_heat


@dataclass(frozen=True)
class Solid:
    """A material: key, name, kind ("metal" or "other"), family, and its curves with their ends (SI)."""

    key: str
    name: str
    kind: str
    family: str
    temps_c: tuple
    conductivity_w_mk: tuple
    conductivity_low: tuple
    conductivity_high: tuple
    density_kg_m3: float
    specific_heat_j_kgk: float


def _plain(word):
    return "".join(c for c in str(word).lower() if c.isalnum())


@cache
def _spellings():
    found = {}
    for topic in ("metals", "solids"):
        for row in rows(topic):
            for word in (row["key"], row["name"], *(row["also"] or "").split(";")):
                if word.strip():
                    found.setdefault(_plain(word), (topic, row["key"]))
    return found


def solid_key(text, *, where="material"):
    """The table and key of a material from what the user wrote.

    text: key, name or other spelling in data/metals.csv or data/solids.csv; capitals, spaces and
    dashes do not matter. where: name of the field, for messages.
    Returns ("metals" or "solids", key).  Raises Fault with the closest names.
    """
    found = _spellings().get(_plain(text))
    if found is None:
        raise fault(
            where,
            text,
            "is not a material in data/metals.csv or data/solids.csv.",
            closest(text, [r["key"] for t in ("metals", "solids") for r in rows(t)]),
        )
    return found


@cache
def solid(text):
    """All that a material's tables say of its bulk.

    text: as `solid_key`.
    Returns Solid.  Raises Fault for an unknown material, or one without conductivity.
    Conductivity is straight between its points and constant outside them.
    """
    topic, key = solid_key(text)
    head = next(r for r in rows(topic) if r["key"] == key)
    single = {
        r["quantity"]: r for r in rows("metal_values" if topic == "metals" else "solid_values") if r["key"] == key
    }
    curve = [r for r in rows("metal_conductivity" if topic == "metals" else "solid_conductivity") if r["key"] == key]
    if not curve and "conductivity_w_mk" in single:
        curve = [{"temp_c": 20.0, **{k: single["conductivity_w_mk"][k] for k in ("value", "low", "high")}}]
    if not curve or "density_kg_m3" not in single:
        never = next((r["text"] for r in rows("insulation_notes") if r["key"] == key and r["topic"] == "never"), None)
        if never is not None:
            raise fault("material", text, "has no place in a tool.", never)
        raise fault("material", text, "has no conductivity or density in the tables yet.")
    curve = sorted(curve, key=lambda r: r["temp_c"])

    def column(name):
        return tuple(float(r["value"] if r[name] is None else r[name]) for r in curve)

    return Solid(
        key,
        head["name"],
        "metal" if topic == "metals" else "other",
        head["family"],
        tuple(float(r["temp_c"]) for r in curve),
        column("value"),
        column("low"),
        column("high"),
        single["density_kg_m3"]["value"],
        single["specific_heat_j_kgk"]["value"],
    )


@cache
def specific_heat_curve(text):
    """Specific heat of a material against temperature, straight between its points and held beyond them.

    text: as `solid_key`.
    Returns (temps_c, specific_heat_j_kgk), tuples: of a metal its rows of data/metal_specific_heat.csv; of wood the
    Wood Handbook's formula at 8 % of moisture, scaled to the single value of its table near 20 degC; of others that
    single value alone.
    """
    found = solid(text)
    if found.family == "wood":
        temps = tuple(float(t) for t in range(0, 141, 20))
        by_formula = specific_heat(np.array(temps), STATED_MOISTURE)
        scaled = found.specific_heat_j_kgk * by_formula / by_formula[temps.index(20.0)]
        return temps, tuple(scaled.tolist())
    curve = sorted(
        (r["temp_c"], r["value"])
        for r in (rows("metal_specific_heat") if found.kind == "metal" else ())
        if r["key"] == found.key
    )
    if not curve:
        return (20.0,), (found.specific_heat_j_kgk,)
    return tuple(zip(*curve))


def conductivity_scale(material, place):
    """How far the conductivity is off its nominal curve at a place in its band.

    material: Solid. place: -1 the low ends, 0 nominal, +1 the high ends (float or array).
    Returns ratio to the nominal curve, the mean over its points.
    """
    nominal = np.array(material.conductivity_w_mk)
    up = float(np.mean(np.array(material.conductivity_high) / nominal)) - 1
    down = 1 - float(np.mean(np.array(material.conductivity_low) / nominal))
    return 1 + np.where(np.asarray(place) > 0, up, down) * place


def emissivity_of(text, finish=None):
    """Emissivity of a material's surface by its finish.

    text: material, as `solid_key`. finish: word in data/finishes.csv, or None (not said).
    Returns the row of data/emissivity.csv: value, low, high, source_id, basis.
    Raises Fault for an unknown finish.
    """
    topic, key = solid_key(text)
    family = next(r["family"] for r in rows(topic) if r["key"] == key)
    unsaid = "unknown" if topic == "metals" else "plain"
    finish = unsaid if finish is None else finish_word(finish)
    table = {(r["material"], r["finish"]): r for r in rows("emissivity")}
    for try_ in (
        (family, finish),
        ("any", finish),
        (family, "unknown"),
        (family, "plain"),
        ("any", "plain"),
        ("any", "unknown"),
    ):
        if try_ in table:
            return table[try_]
    raise fault("finish", finish, f"has no emissivity for {text}.")


def finish_word(text, *, where="finish"):
    """The finish of data/finishes.csv behind a word.

    text: finish or other spelling. where: for messages.
    Returns finish.  Raises Fault with the closest.
    """
    found = _finishes().get(_plain(text))
    if found is None:
        raise fault(
            where, text, "is not a finish in data/finishes.csv.", closest(text, [r["finish"] for r in rows("finishes")])
        )
    return found


@cache
def _finishes():
    return {
        _plain(word): row["finish"]
        for row in rows("finishes")
        for word in (row["finish"], *(row["also"] or "").split(";"))
    }


@cache
def _joints():
    found = {}
    for row in rows("joints"):
        for word in (row["made"], *(row["words"] or "").split(";")):
            found.setdefault(_plain(word), row)
    return found


def joint_row(made, *, where="made"):
    """How a joint is made, from data/joints.csv.

    made: word or other spelling. where: for messages.
    Returns the row: made, how, value_w_m2k, low, high, source_id, basis.  Raises Fault with the closest.
    """
    row = _joints().get(_plain(made))
    if row is not None:
        return row
    raise fault(
        where, made, "is not a way of joining in data/joints.csv.", closest(made, [r["made"] for r in rows("joints")])
    )


def melting_of(text):
    """Melting range and latent heat of a material that the tables know to melt.

    text: material.
    Returns (melting_low_c, melting_high_c, latent_j_kg), or None.
    """
    topic, key = solid_key(text)
    single = {
        r["quantity"]: r["value"]
        for r in rows("metal_values" if topic == "metals" else "solid_values")
        if r["key"] == key
    }
    wanted = ("melting_low_c", "melting_high_c", "latent_j_kg")
    return tuple(single[w] for w in wanted) if all(w in single for w in wanted) else None
