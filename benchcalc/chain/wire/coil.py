"""Link 3 of the chain: the coil, its power and its room.  No physics here, only the calls; an unknown value is nan."""

from dataclasses import dataclass

import numpy as np

from ...heater import coil as c
from ...heater import supply as s
from ...heater import wire as w
from ...sheet.build import Build
from ...sheet.change import item
from ...sheet.defaults import default
from ..parts import NAN, as_floats
from ..supply.link import SupplyPart
from .link import WirePart


@dataclass(frozen=True)
class CoilPart:
    """The coil as planned: electricity, surface load, winding and room.

    pitch_m, gap_m: as asked; a pitch below the wire is a negative gap, and the winding then counts as close wound.
    """

    length_m: float
    cold_ohm: float
    hot_ohm: float
    load_a: float
    load_v: float
    coil_w: float
    tails_w: float
    source_loss_w: float
    limited: bool
    surface_load_w_m2: float
    former_m: float
    mean_diameter_m: float
    pitch_m: float
    turn_m: float
    turns: float
    gap_m: float
    winding_m: float
    room_m: float
    spare_m: float
    anchor_m: float
    cut_m: float
    one_turn_ohm: float
    smallest_former_m: float
    meter_ohm: float


def work_coil(build: Build, supply: SupplyPart | None, wire: WirePart | None) -> CoilPart | None:
    """Link 3: the coil: its power on this supply, and whether it fits its former.

    build: Build. supply, wire: results of the links before.
    Returns CoilPart, or None without coil or wire.  Length: the sheet's, else that for the wanted
    power.  A coil that lies on nothing (a stretched wire) has no turns: its winding values are nan.

    >>> from benchcalc import load_chosen, work_supply, work_wire
    >>> build = load_chosen("insert_press")
    >>> supply = work_supply(build)
    >>> coil = work_coil(build, supply, work_wire(build, supply))
    >>> coil.coil_w < supply.most_power_w
    True
    """
    coil = build.coil
    if coil is None or wire is None:
        return None
    length = coil.length_m if coil.length_m is not None else wire.length_m
    cold = w.cold_resistance(wire.linear_ohm_per_m, length)
    hot = w.hot_resistance(cold, wire.hot_factor)
    volts = amps = source_w = NAN
    limited = False
    if supply is not None and not supply.refused:
        volts, amps, limited = s.working_point(
            supply.kind, supply.open_in_use_v, supply.source_in_use_ohm, supply.limit_a, hot + wire.tails_ohm
        )
        source_w = supply.open_in_use_v * amps - volts * amps
        if supply.kind == "bench supply":  # it limits inside: only the copper's share is its loss here
            source_w = s.load_power(amps, supply.source_in_use_ohm)
    coil_w = s.load_power(amps, hot)
    load = w.surface_load(coil_w, wire.edge_m, length)
    wound = _wind(build, wire, length, cold)
    return as_floats(
        CoilPart(
            length,
            cold,
            hot,
            amps,
            volts,
            coil_w,
            s.load_power(amps, wire.tails_ohm),
            source_w,
            limited,
            load,
            **wound,
            meter_ohm=cold + wire.tails_ohm,
        )
    )


TRIPPED = (
    "The coil asks this supply for more than its limit: it trips, over and over, or holds about its limit. Which, and "
    "how much heat that makes, nobody knows: take more wire in the coil, or another supply."
)


def trips_on(kind, coil):
    """Whether the supply may trip on the coil, so that no watts can be told: of many designs, on each.

    kind: of the supply. coil: CoilPart.
    """
    return kind in s.TRIPS and bool(np.all(coil.limited))


def asked_a(supply, coil):
    """The current that coil and tails would draw if the supply had no limit, A.

    supply: SupplyPart. coil: CoilPart.
    """
    return s.load_current(supply.open_in_use_v, supply.source_in_use_ohm, coil.hot_ohm + coil.meter_ohm - coil.cold_ohm)


def held_w(supply, coil):
    """Power in the coil if the supply held its limit, W.  supply: SupplyPart with limit_a. coil: CoilPart."""
    return s.load_power(supply.limit_a, coil.hot_ohm)


def former_of(build):
    """Former of the coil: (outside diameter with its insulation, length), nan where the sheet is silent.

    build: Build.  The diameter is that of the part the coil is on, plus the layers between them.
    """
    coil = build.coil
    if coil is None or coil.on is None:
        return NAN, NAN
    part = item(build.part, coil.on, where="coil.on")
    former = NAN if part.outer_m is None else part.outer_m
    for layer in build.layer:
        if layer.between == (part.id, "coil") and layer.thickness_m is not None:
            former = former + 2 * layer.thickness_m
    start, end = coil_span(coil, part)
    return former, NAN if start is None or end is None else end - start


def coil_span(coil, part):
    """Where a coil may lie on its former, from the tip: its own ends where the sheet types them, never past the part's.

    coil: Coil. part: Part that it is on.
    Returns (from_m, to_m), None where nobody says; to_m below from_m where the coil lies beside the part.
    """
    start, end = coil.from_m, coil.to_m
    if part.from_m is not None:
        start = part.from_m if start is None else np.maximum(start, part.from_m)
    if part.to_m is not None:
        end = part.to_m if end is None else np.minimum(end, part.to_m)
    return start, end


def _wind(build, wire, length, cold):
    coil = build.coil
    names = (
        "former_m",
        "mean_diameter_m",
        "pitch_m",
        "turn_m",
        "turns",
        "gap_m",
        "winding_m",
        "room_m",
        "spare_m",
        "anchor_m",
        "cut_m",
        "one_turn_ohm",
        "smallest_former_m",
    )
    tail = coil.tails.length_m if coil.tails.length_m is not None and coil.tails.material is None else 0.0
    if coil.on is None:
        return {**dict.fromkeys(names, NAN), "cut_m": c.wire_to_cut(length, 0.0, tail * coil.tails.strands)}
    former, former_length = former_of(build)
    ribbon = item(build.wire, wire.id).width_m
    across = ribbon if ribbon is not None else wire.diameter_m  # lies flat on the former
    mean = c.mean_diameter(former, wire.diameter_m, coil.layers)
    room = c.room_for(former_length, coil.end_room_m, coil.anchor_turns, across)
    pitch = coil.pitch_m if coil.pitch_m is not None else c.pitch_to_fill(length, mean, room, across, coil.layers)
    with np.errstate(invalid="ignore"):  # wire shorter than the room: no pitch fills it
        laid = np.maximum(pitch, across)  # turns of one layer cannot lie nearer than side by side
        turn = c.turn_length(mean, laid)
        turns = c.number_of_turns(length, turn)
        winding = c.winding_length(turns, laid, across, coil.layers)
    with np.errstate(divide="ignore"):
        one_turn = np.where(turns > 0, c.turn_resistance(cold, turns), NAN)
    anchor = c.anchor_wire(coil.anchor_turns, mean)
    spare = np.where(np.abs(room - winding) < 1e-9, 0.0, room - winding)  # a pitch that fills the room leaves nothing
    tightest = (1 + default("coil.gap_wire_diameters")["value"]) * across
    smallest = c.smallest_former(
        length, wire.diameter_m, room - across, tightest, default("coil.former_wire_diameters")["value"], coil.layers
    )
    return dict(
        zip(
            names,
            (
                former,
                mean,
                pitch,
                turn,
                turns,
                c.turn_gap(pitch, across),
                winding,
                room,
                spare,
                anchor,
                c.wire_to_cut(length, anchor, tail * coil.tails.strands),
                one_turn,
                smallest,
            ),
        )
    )
