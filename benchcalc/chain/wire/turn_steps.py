"""What one turn, or one per cent of ohms, more or less does to the watts; and two coils on one supply.  No physics
here, only the calls.
"""

from dataclasses import dataclass

import numpy as np

from ...heater import scrap_box
from ...heater.supply import load_power, working_point
from ...heater.wire import surface_load


@dataclass(frozen=True)
class NearPlan:
    """A coil that came out otherwise than planned: word, ohms at the tails cold, watts, their change from the plan."""

    word: str
    meter_ohm: float
    coil_w: float
    more_w: float


@dataclass(frozen=True)
class TwoCoils:
    """Two coils on one supply: word, current from it, watts and surface load of each, all watts; limited: past the
    supply's limit."""

    word: str
    load_a: float
    one_w: float
    other_w: float
    one_w_m2: float
    other_w_m2: float
    limited: bool

    @property
    def total_w(self):
        """Watts in both."""
        return self.one_w + self.other_w


def _watts(supply, tails_ohm, hot_ohm):
    """(watts in so many ohms, current, whether the limit acts), by the supply's own kind."""
    line = supply.kind, supply.open_in_use_v, supply.source_in_use_ohm, supply.limit_a
    _, amps, limited = working_point(*line, hot_ohm + tails_ohm)
    return float(load_power(amps, hot_ohm)), float(amps), bool(limited)


def turn_steps(supply, wire, coil, band=None):
    """The plan, its neighbours by one turn and by one per cent of ohms, and the ends of the accept band.

    supply, wire, coil: results of the links (floats). band: Band of coil.meter_ohm, or None.
    Returns tuple of NearPlan; empty without a supply's line.
    """
    if supply is None or supply.refused or not np.isfinite(coil.coil_w):
        return ()
    cases = [("as planned", coil.cold_ohm)]
    if np.isfinite(coil.one_turn_ohm):
        cases += [
            ("one turn more", coil.cold_ohm + coil.one_turn_ohm),
            ("one turn less", coil.cold_ohm - coil.one_turn_ohm),
        ]
    cases += [("one per cent more ohms", 1.01 * coil.cold_ohm), ("one per cent less", 0.99 * coil.cold_ohm)]
    if band is not None and band.low < band.high:
        cases += [("high end of the accept band", band.high - wire.tails_ohm)]
        cases += [("low end of the accept band", band.low - wire.tails_ohm)]
    planned, _, _ = _watts(supply, wire.tails_ohm, coil.hot_ohm)
    made = []
    for word, cold_ohm in cases:
        watts, _, _ = _watts(supply, wire.tails_ohm, cold_ohm * wire.hot_factor)
        made.append(NearPlan(word, cold_ohm + wire.tails_ohm, watts, watts - planned))
    return tuple(made)


def two_coils(supply, wire, coil, shares=(1.0, 0.5)):
    """The sheet's coil with a second of the same wire, end to end and side by side.

    supply, wire, coil: results of the links (floats). shares: lengths of the second coil, over that of the first.
    Returns tuple of TwoCoils; empty without a supply's line.  The tails are those of the one coil.
    """
    if supply is None or supply.refused or not np.isfinite(coil.coil_w):
        return ()
    made = []
    for share in shares:
        second = "a second like it" if share == 1.0 else f"one with {share:.0%} of its wire"
        one_ohm, other_ohm = coil.hot_ohm, share * coil.hot_ohm
        for in_line, how in ((True, "end to end"), (False, "side by side")):
            both = (scrap_box.in_series if in_line else scrap_box.side_by_side)(one_ohm, other_ohm)
            total, amps, limited = _watts(supply, wire.tails_ohm, both)
            one_w, other_w = scrap_box.share_watts(total, one_ohm, other_ohm, in_line=in_line)
            loads = [surface_load(w, wire.edge_m, x * coil.length_m) for w, x in ((one_w, 1.0), (other_w, share))]
            made.append(TwoCoils(f"{second}, {how}", amps, one_w, other_w, *(float(x) for x in loads), limited))
    return tuple(made)
