"""Link 2 of the chain: the wire and its length.  No physics here, only the calls; an unknown value is nan."""

from dataclasses import dataclass

import numpy as np

from ...basics.tables import rows
from ...heater import supply as s
from ...heater import wire as w
from ...materials.alloys import hot_factor
from ...materials.bulk import solid_key
from ...sheet.build import Build
from ...sheet.change import item
from ...sheet.defaults import default
from ...thermal.surfaces.bare_wire import Feed, Surroundings, long_wire_temp, wire_emissivity
from ..parts import NAN, as_floats
from ..supply.link import SupplyPart


@dataclass(frozen=True)
class WirePart:
    """The wire, and how much of it gives the wanted power on this supply.  how: its ohms come from a "measured" piece,
    a "clip test" or the "table"."""

    id: str
    alloy: str | None
    diameter_m: float
    area_m2: float
    edge_m: float
    linear_ohm_per_m: float
    table_ohm_per_m: float
    measured: bool
    how: str
    hot_factor: float
    wire_temp_c: float
    tails_ohm: float
    wanted_w: float
    most_in_coil_w: float
    higher_ohm: float
    lower_ohm: float
    length_m: float
    short_length_m: float


def wound(build):
    """The wire of the sheet that the coil is of, the first where there is no coil; None without any.  build: Build."""
    if not build.wire:
        return None
    return item(build.wire, build.coil.wire) if build.coil is not None and build.coil.wire else build.wire[0]


def work_wire(build: Build, supply: SupplyPart | None) -> WirePart | None:
    """Link 2: the wire, and the length for the wanted power.

    build: Build. supply: result of work_supply, or None.
    Returns WirePart, or None when the sheet names no wire.  The tails count as part of the
    source: power is wanted in the coil.

    >>> from benchcalc import load_chosen, work_supply
    >>> build = load_chosen("insert_press")
    >>> work_wire(build, work_supply(build)).wanted_w
    20.0
    """
    coil, wire = build.coil, wound(build)
    if wire is None:
        return None
    diameter_m, area_m2, edge_m = section_of(wire)
    table = NAN if wire.resistivity_ohm_m is None else w.linear_resistance(wire.resistivity_ohm_m, area_m2)
    linear, how = linear_of(build, wire)
    temp_c = coil.wire_temp_c if coil is not None and coil.wire_temp_c is not None else 20.0
    factor = hot_factor_of(build, wire.id, temp_c)
    tails_ohm = _tails_ohm(coil, linear)
    wanted = NAN if build.want.power_w is None else build.want.power_w
    most = higher = lower = length = short = NAN
    if supply is not None and not supply.refused:
        source = supply.source_in_use_ohm + tails_ohm
        if supply.how != "one reading":
            most, _ = s.most_with_limit(supply.open_in_use_v, source, supply.limit_a)
        higher, lower = _two_loads(supply, source, wanted)
        length = w.length_for(higher, factor, linear)
        short = w.length_for(lower, factor, linear)
    return as_floats(
        WirePart(
            wire.id,
            wire.alloy,
            diameter_m,
            area_m2,
            edge_m,
            linear,
            table,
            how != "table",
            how,
            factor,
            temp_c,
            tails_ohm,
            wanted,
            most,
            higher,
            lower,
            length,
            short,
        )
    )


def linear_of(build, wire):
    """Cold ohms per metre of a wire of the sheet, and how they are known.

    build: Build, floats or arrays. wire: Wire.
    Returns (linear_ohm_per_m, "measured", "clip test" or "table"); nan where nothing tells.  A measured piece comes
    first, then readings of the supply that had the coil's wire between the clips, then the table.
    """
    if wire.measured_ohm is not None and wire.measured_length_m is not None:
        return w.measured_linear(wire.measured_ohm, wire.leads_ohm, wire.measured_length_m), "measured"
    clipped = _clipped_linear(build, wire)
    if clipped is not None and np.any(clipped > 0):  # ohms that fall with the length are rows mixed up
        return np.where(clipped > 0, clipped, NAN), "clip test"
    _, area_m2, _ = section_of(wire)
    return (NAN if wire.resistivity_ohm_m is None else w.linear_resistance(wire.resistivity_ohm_m, area_m2)), "table"


def is_clipped(build, wire):
    """Whether readings of the supply tell a wire's ohms: it is the one for the coil, and was between the clips.

    build: Build. wire: Wire.
    """
    return wire.id == wound(build).id and bool(_clip_readings(build))


def _clip_readings(build):
    return [
        r
        for r in build.supply.reading
        if r.clip_m is not None and r.volts_v is not None and r.amps_a is not None and np.all(np.asarray(r.amps_a) > 0)
    ]


def _clipped_linear(build, wire):
    """Cold ohms per metre from the clipped readings, or None.

    Each reading's ohms are brought back to cold by the heat balance of a bare wire; two lengths or more are joined by a
    line, so that clips and leads drop out; with one they count as wire.
    """
    if not is_clipped(build, wire):
        return None
    readings = _clip_readings(build)
    cold = [r.volts_v / r.amps_a / _clip_factor(build, wire, r) for r in readings]
    both = np.array(np.broadcast_arrays(*cold, *(r.clip_m for r in readings)), float)
    ohms, lengths = both[: len(readings)], both[len(readings) :]
    if np.any(np.ptp(lengths, axis=0) <= 0):
        return np.mean(ohms / lengths, axis=0)
    return -s.line_through(ohms, lengths)[1]


def _clip_factor(build, wire, reading):
    """Hot over cold of the wire between the clips; 1 where its alloy or section is not known."""
    _, _, edge_m = section_of(wire)
    if wire.alloy is None or np.any(np.isnan(edge_m)):
        return 1.0
    around = Surroundings(wire_emissivity(wire.alloy), build.room.ambient_c)
    linear = reading.volts_v / reading.amps_a / reading.clip_m
    temp_c = long_wire_temp(edge_m / np.pi, linear, wire.alloy, Feed(load_a=reading.amps_a), around)
    return hot_factor_of(build, wire.id, np.where(np.isnan(temp_c), 1400.0, temp_c))


def hot_factor_of(build, id, temp_c):
    """Hot over cold resistance of a wire of the sheet.

    build: Build. id: the wire's. temp_c: degC, float or array.
    Returns ratio; that assumed for a wire of unknown alloy.
    """
    wire = item(build.wire, id)
    return hot_factor(wire.alloy, temp_c, wire.factor_place) if wire.alloy else wire.hot_factor


def section_of(wire):
    """Diameter or thickness, area and circumference of a wire of the sheet; nan where it gives no size.

    wire: Wire.
    Returns (diameter_m, area_m2, edge_m).
    """
    if wire.width_m is not None and wire.thickness_m is not None:
        return (
            wire.thickness_m,
            w.ribbon_area(wire.width_m, wire.thickness_m),
            w.ribbon_edge(wire.width_m, wire.thickness_m),
        )
    if wire.diameter_m is None:
        return NAN, NAN, NAN
    return wire.diameter_m, w.round_area(wire.diameter_m), w.round_edge(wire.diameter_m)


def _tails_ohm(coil, linear):
    if coil is None:
        return 0.0
    tails = coil.tails
    if tails.resistance_ohm is not None:
        return tails.resistance_ohm
    if tails.length_m is not None and tails.material is not None:
        return tails_of_metal(tails.length_m, tails.material, tail_section(tails))
    if tails.length_m is not None:
        return 2 * tails.length_m * linear / tails.strands
    return 0.0


def tail_section(tails):
    """Section of one tail of another metal than the coil's wire, m2.  tails: Tails."""
    return default("coil.tails.section_m2")["value"] if tails.section_m2 is None else tails.section_m2


def tails_of_metal(length_m, material, section_m2):
    """Both tails of another metal than the coil's wire.

    length_m: of one tail. material: metal, as on the sheet. section_m2: of one tail.
    Returns ohm at 20 degC, nan for a metal without a resistivity in data/metal_values.csv.
    """
    _, key = solid_key(material)
    found = next((r for r in rows("metal_values") if r["key"] == key and r["quantity"] == "resistivity_ohm_m"), None)
    return NAN if found is None else 2 * length_m * found["value"] / section_m2


def _two_loads(supply, source_ohm, wanted_w):
    """Higher and lower coil resistance for the wanted power; nan where out of reach, or where nothing is wanted."""
    wanted_w = np.where(np.asarray(wanted_w) > 0, wanted_w, NAN)
    with np.errstate(invalid="ignore", divide="ignore"):
        higher = s.higher_resistance(supply.open_in_use_v, source_ohm, wanted_w)
        lower = s.lower_resistance(supply.open_in_use_v, source_ohm, wanted_w)
        if supply.limit_a is not None:

            def amps(load):
                return s.load_current(supply.open_in_use_v, source_ohm, load)

            higher = np.where(amps(higher) <= supply.limit_a, higher, NAN)
            lower = np.where(amps(lower) <= supply.limit_a, lower, NAN)
            if supply.kind == "bench supply":  # on its limit, as long as it has the volts for it
                held = wanted_w / supply.limit_a**2
                has_volts = supply.limit_a * (held + source_ohm) <= supply.open_in_use_v
                lower = np.where(np.isnan(lower) & has_volts, held, lower)
    return higher, lower
