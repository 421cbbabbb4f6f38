"""A load on the sheet's supply that a page looks at, whatever the coil is: volts, amps, watts, and how warm it gets."""

from dataclasses import dataclass

import numpy as np

from ...basics.tables import one
from ...heater import soak
from ...heater import supply as s
from ...sheet.build import Build
from ..parts import NAN, as_floats
from ..supply.link import SupplyPart, cable_ohm_of
from .link import rise_of, soak_end, winding_amps


@dataclass(frozen=True)
class LoadPart:
    """One load on the supply.  limited: its current limit acts.  winding_rise_k with low and high: the soak test's rise
    carried over to this current; winding_c: in today's room; nan without a soak test or its amps.  scale: rise here
    over rise in the test (low, nominal, high)."""

    load_ohm: float
    load_v: float
    load_a: float
    load_w: float
    source_loss_w: float
    limited: bool
    winding_rise_k: float
    low_k: float
    high_k: float
    winding_c: float
    scale: tuple


def work_load(build: Build, supply: SupplyPart | None) -> LoadPart | None:
    """What a load takes, and what the soak test says of it.

    build: Build with supply.load_ohm. supply: result of work_supply.
    Returns LoadPart, or None without a load, or where the supply's line is not known or refused.
    """
    load_ohm = build.supply.load_ohm
    if load_ohm is None or supply is None or supply.refused or np.any(np.isnan(supply.source_in_use_ohm)):
        return None
    volts, amps, limited = s.working_point(
        supply.kind, supply.open_in_use_v, supply.source_in_use_ohm, supply.limit_a, load_ohm
    )
    lost = amps**2 * supply.source_in_use_ohm
    base, tested = base_rise(build), build.soak.load_a
    scale = (NAN, NAN, NAN)
    if tested is not None:
        wound = winding_amps(supply, volts + amps * cable_ohm_of(build.supply), amps)
        row = one("defaults", "key", "soak.iron_share")
        ends = [soak.rise_at_load(1.0, tested, wound, row[k]) for k in ("low", "high")]
        scale = (np.minimum(*ends), soak.rise_at_load(1.0, tested, wound, row["value"]), np.maximum(*ends))
    rises = [base[1] * scale[0], base[0] * scale[1], base[2] * scale[2]]
    room = 20.0 if build.room.ambient_c is None else build.room.ambient_c
    return as_floats(
        LoadPart(
            load_ohm,
            volts,
            amps,
            s.load_power(amps, load_ohm),
            lost,
            limited,
            rises[1],
            rises[0],
            rises[2],
            room + rises[1],
            scale,
        )
    )


def base_rise(build):
    """The rise that the soak test ends at: where its hours lead, or else at least its reading at switch-off.

    build: Build.
    Returns (nominal, low, high) in K, nan without a soak test or with one too short to tell; high is nan where fewer
    than three readings over the hours were taken: nobody knows how far it still had to go.
    """
    found = soak_end(build)
    if found is not None and not found.enough:
        return NAN, NAN, NAN
    read = rise_of(build)[0]
    return (read, read, NAN) if found is None else (found.rise_k, found.low_k, found.high_k)


def most_amps(build, limit_c):
    """The current at which the winding would settle at its limit in today's room.

    build: Build. limit_c: of the class.
    Returns (low, nominal, high) in A, nan without a soak test, with one too short or without readings over its hours; 0
    where the iron alone is too much.
    """
    base, tested = base_rise(build), build.soak.load_a
    if tested is None or np.any(np.isnan(base)):
        return NAN, NAN, NAN
    row, room = (
        one("defaults", "key", "soak.iron_share"),
        20.0 if build.room.ambient_c is None else build.room.ambient_c,
    )
    found = [
        tested * np.sqrt(max(((limit_c - room) / rise - row[k]) / (1 - row[k]), 0.0))
        for k, rise in (("low", base[0]), ("value", base[0]), ("high", base[0]), ("low", base[2]), ("high", base[2]))
    ]
    return min(found), found[1], max(found)
