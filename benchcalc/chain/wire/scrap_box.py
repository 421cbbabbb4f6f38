"""The scrap box: which wire on the sheet suits the job.  No physics here, only the calls."""

import numpy as np

from ...basics.tables import rows
from ...heater.scrap_box import BoxWire, WindingJob, try_pieces
from ...sheet.build import Build
from ..parts import NAN
from ..supply.link import SupplyPart
from .coil import CoilPart
from .link import WirePart, hot_factor_of, linear_of
from .unmarked import length_there

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
        linear = NAN if thick is None else float(linear_of(build, wire)[0])
        if np.isnan(linear):
            lacking.append(wire.id)
            continue
        factor = float(hot_factor_of(build, wire.id, temp_c))
        found.append(BoxWire(wire.id, linear, thick, factor, length_there(build, wire), wire.width_m))
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
    return tuple(try_pieces(known, job_of(build, supply, wire, coil)))


def job_of(build, supply, wire, coil):
    """What a wire is to do on this sheet.

    build: Build (floats) with a wanted power. supply, wire: results of the links. coil: CoilPart or None.
    Returns heater.scrap_box.WindingJob.
    """
    mounting = None if build.coil is None else build.coil.mounting
    row = next((r for r in rows("surface_load") if r["mounting"] == mounting), None)
    least = min(r["high_w_m2"] for r in rows("surface_load"))  # nobody said how it is mounted: the most cautious way
    wound = coil is not None and np.isfinite(coil.former_m)
    bare = mounting == "bare wire in free air"
    return WindingJob(
        build.want.power_w,
        supply.open_in_use_v,
        supply.source_in_use_ohm + wire.tails_ohm,
        most_w_m2=np.inf if bare else least if row is None else row["high_w_m2"],
        former_m=coil.former_m if wound else USUAL_FORMER_M,
        room_m=np.inf if bare else coil.room_m if wound else USUAL_ROOM_M,
        limit_a=supply.limit_a,
    )
