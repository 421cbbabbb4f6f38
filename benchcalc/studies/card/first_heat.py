"""The first heat at a third of the power: volts to set, the amps that belong to them, hot over cold."""

from dataclasses import dataclass, replace

import numpy as np

from ...basics.band import Band, band_of
from ...chain.heat.link import nominal_heat, work_heat
from ...chain.wire.link import hot_factor_of
from ...chain.workings import drawn_builds, links
from ...heater.power import series_resistor

THIRD = 1 / 3
ROUNDS, DRAWN = (
    2,
    80,
)  # of volts - watts - temperature - ohms; the ohms of heating wire move by per cents, so two settle it; samples


@dataclass(frozen=True)
class FirstHeat:
    """A first heat at a share of the coil's watts.

    share: of the full watts. set_v: volts to set at the tails. series_ohm: resistor that does the same on the sheet's
    own supply, nan where it has no line; series_w: the most it makes, at the upper end of the mains. load_a,
    hot_over_cold (ohms at the tails' ends), wire_c: Bands at these volts, the last two None where there is no heat to
    work them out from.
    """

    share: float
    set_v: float
    series_ohm: float
    series_w: float
    load_a: Band
    hot_over_cold: Band | None
    wire_c: Band | None


def _settled(build, wire, coil, set_v, near=None):
    """(amps, hot over cold as read at the tails, wire, heat) at volts on the tails; the middle two nan without a heat
    model.  near: as work_heat."""
    factor = np.asarray(wire.hot_factor, float) * 0.0 + 1.0
    wire_c = np.nan * factor
    for _ in range(ROUNDS):
        amps = set_v / (coil.cold_ohm * factor + wire.tails_ohm)
        heat = work_heat(build, wire, coil, amps**2 * coil.cold_ohm * factor, near=near)
        if heat is None or heat.refused:
            return amps, np.nan * factor, wire_c, heat
        wire_c = heat.wire_c
        factor = hot_factor_of(build, wire.id, wire_c)
    hot_ohm = coil.cold_ohm * factor + wire.tails_ohm
    return set_v / hot_ohm, hot_ohm / (coil.cold_ohm + wire.tails_ohm), wire_c, heat


def a_first_heat(build, workings, share=THIRD):
    """The first heat of a finished tool.

    build: Build (floats). workings: Workings of it, with samples. share: of the coil's watts, above 0 to 1.
    Returns FirstHeat, or None where no coil is worked out.
    The volts are those of the nominal coil, P = share of its watts, U = sqrt(P / R) (R + tails), Ohm and Joule; the
    bands are the samples of the chain at these volts.
    """
    supply, wire, coil = workings.supply, workings.wire, workings.coil
    if coil is None or not np.isfinite(coil.coil_w) or not np.isfinite(coil.cold_ohm):
        return None
    watts, hot_ohm, found = share * coil.coil_w, coil.cold_ohm, None
    for _ in range(ROUNDS):
        set_v = float(np.sqrt(watts / hot_ohm) * (hot_ohm + wire.tails_ohm))
        found = _settled(build, wire, coil, set_v)
        cold_ohm = coil.cold_ohm + wire.tails_ohm
        hot_ohm = cold_ohm * (found[1] if np.isfinite(found[1]) else 1.0) - wire.tails_ohm
    many = _drawn(build, workings)
    amps, factor, wire_c, _ = _settled(*many, set_v, nominal_heat(found[3]))
    series, most_w = np.nan, np.nan
    if supply is not None and not supply.refused and supply.kind != "bench supply" and not coil.limited:
        series = float(series_resistor(supply.source_in_use_ohm, coil.hot_ohm + wire.tails_ohm, share))
        mains = build.known.get("supply.mains")
        over = 1.0 if mains is None else max(mains.high / build.supply.mains, 1.0)
        most_w = float((over * found[0]) ** 2 * series)  # at these amps it leaves the coil its share
    bands = [band_of(float(one), np.ravel(samples)) for one, samples in zip(found, (amps, factor, wire_c))]
    known = np.isfinite(found[1])
    return FirstHeat(share, set_v, series, most_w, bands[0], *(bands[1:] if known else (None, None)))


def _drawn(build, workings):
    """(build, wire, coil) of the samples, the coil's watts left out: they are set by the volts."""
    many = drawn_builds(build, workings.heat, workings.wire, DRAWN)
    _, wire, coil = links(many)
    return replace(many, known=build.known), wire, coil
