"""The scrap box: which wire on the sheet suits the job, and what an unmarked one may be.  No physics here, only the
calls.
"""

import numpy as np

from ...basics.fault import fault
from ...basics.tables import rows
from ...heater.scrap_box import BoxWire, WindingJob, try_pieces
from ...heater.unknown_wire import RibbonErrors, guess, guess_ribbon
from ...heater.wire import linear_resistance, measured_linear, ribbon_area, round_area
from ...sheet.build import Build
from ...sheet.change import item
from ..supply.link import SupplyPart
from .coil import CoilPart
from .link import WirePart, hot_factor_of

USUAL_ROOM_M, USUAL_FORMER_M = 0.05, 6e-3  # where the sheet names no former yet (common practice, no source)


def pieces_of(build):
    """Every wire of the sheet whose ohms and size are known, as pieces for `try_pieces`.

    build: Build (floats).
    Returns (tuple of BoxWire, tuple of ids that lack ohms or size).
    """
    found, lacking = [], []
    temp_c = 400.0 if build.coil is None or build.coil.wire_temp_c is None else build.coil.wire_temp_c
    for wire in build.wire:
        thick = wire.thickness_m if wire.width_m is not None else wire.diameter_m
        area = (
            None
            if thick is None
            else ribbon_area(wire.width_m, thick)
            if wire.width_m is not None
            else round_area(thick)
        )
        measured = wire.measured_ohm is not None and wire.measured_length_m is not None
        if thick is None or not measured and wire.resistivity_ohm_m is None:
            lacking.append(wire.id)
            continue
        linear = (
            measured_linear(wire.measured_ohm, wire.leads_ohm, wire.measured_length_m)
            if measured
            else linear_resistance(wire.resistivity_ohm_m, area)
        )
        have = wire.measured_length_m if measured and wire.used else np.inf
        found.append(
            BoxWire(wire.id, float(linear), thick, float(hot_factor_of(build, wire.id, temp_c)), have, wire.width_m)
        )
    return tuple(found), tuple(lacking)


def work_box(build: Build, supply: SupplyPart | None, wire: WirePart | None, coil: CoilPart | None):
    """All wires of the sheet, tried for the wanted power, best first.

    build: Build (floats). supply, wire, coil: results of the links.
    Returns tuple of Tried; empty without a supply's line or a wanted power.  A used wire is only as long as it was
    measured.
    """
    if (
        supply is None
        or supply.refused
        or np.isnan(supply.source_in_use_ohm)
        or build.want.power_w is None
        or wire is None
    ):
        return ()
    known, _ = pieces_of(build)
    mounting = None if build.coil is None else build.coil.mounting
    row = next((r for r in rows("surface_load") if r["mounting"] == mounting), None)
    wound = coil is not None and np.isfinite(coil.former_m)
    bare = mounting == "bare wire in free air"
    return tuple(
        try_pieces(
            known,
            WindingJob(
                build.want.power_w,
                supply.open_in_use_v,
                supply.source_in_use_ohm + wire.tails_ohm,
                most_w_m2=np.inf if row is None or bare else row["high_w_m2"],
                former_m=coil.former_m if wound else USUAL_FORMER_M,
                room_m=np.inf if bare else coil.room_m if wound else USUAL_ROOM_M,
                limit_a=supply.limit_a,
            ),
        )
    )


def guess_wire(build: Build, id):
    """What a wire of the sheet may be, from its measured ohms, length and diameter, each with its error.

    build: Build. id: the wire's.
    Returns heater.unknown_wire.Guess.  Raises Fault: not measured.
    """
    wire = item(build.wire, id)
    ribbon = wire.width_m is not None
    if wire.measured_ohm is None or wire.measured_length_m is None or wire.diameter_m is None and not ribbon:
        raise fault(
            "unknown wire",
            id,
            "needs measured_ohm, measured_length and a diameter, or width and thickness, on the sheet.",
            do="Wind ten close turns on a pencil, measure over them, divide by ten.",
        )
    ohm = wire.measured_ohm - wire.leads_ohm

    def error(field, value, least):
        known = build.known.get(f"wire.{id}.{field}")
        half = 0.0 if known is None else (known.high - known.low) / 2
        return max(half / 1.645 / value, least)

    if ribbon:
        return guess_ribbon(
            ohm,
            wire.measured_length_m,
            wire.width_m,
            wire.thickness_m,
            errors=RibbonErrors(
                error("measured_ohm", ohm, 0.005),
                error("measured_length_m", wire.measured_length_m, 0.003),
                error("width_m", wire.width_m, 0.01),
                error("thickness_m", wire.thickness_m, 0.04),
            ),
        )
    return guess(
        ohm,
        wire.measured_length_m,
        wire.diameter_m,
        error_ohm=error("measured_ohm", ohm, 0.005),
        error_length=error("measured_length_m", wire.measured_length_m, 0.003),
        error_diameter=error("diameter_m", wire.diameter_m, 0.01),
    )
