"""What a controlled tool needs again and again, kept: its warm-up at full power, its modes, power for a reading."""

from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

import numpy as np

from ...thermal.control.held_run import Held, reading_of
from ...thermal.control.law import ON_OFF, State
from ...thermal.control.modes import fast_run, modes_at
from ...thermal.control.seated import SENSOR
from ...thermal.network.side_by_side import RISE_POWER
from ...thermal.network.steady import steady
from ...thermal.network.warm_up import warm_up
from ..parts import Keyed

WARM_S = 3 * 3600.0
POINTS = 2161  # every five seconds
SEEN_S = 200.0  # of a held run its last seconds are looked at closely
LEAST_SHARE, CLOSE_SHARE, MOST_STEPS = 1e-6, 1e-5, 30  # looking for the share of power that a reading takes
LEAST_RISE_K, LEAST_POWER = 1e-9, 0.05
TOOLS = 16  # kept: as many as are tried when cures are looked for


@dataclass(frozen=True, eq=False)
class Standing:
    """A tool with its sensor, and what was worked out of it so far; `seat` is a Seat."""

    seat: object

    @cached_property
    def full(self):
        """The warm-up at the coil's full power, three hours."""
        return warm_up(self.seat.net, WARM_S, accounted=False)

    @cached_property
    def full_times(self):
        """Times of that warm-up, s, and its watched places by name."""
        time_s = np.linspace(0.0, WARM_S, POINTS)
        nodes = sorted({n for numbers, _ in self.seat.watch.values() for n in numbers})  # few of hundreds
        among = {name: (tuple(map(nodes.index, n)), weights) for name, (n, weights) in self.seat.watch.items()}
        return time_s, reading_of(among, self.full.at(time_s, nodes))

    @cached_property
    def kept(self):
        """What was asked for: (share,) -> settled degC, (reading, highest) -> share; studies keep theirs by a name."""
        return {}

    def settled(self, share):
        """Every node settled at a share of the full power, degC; looked for from the rise at full power on."""
        if (share,) not in self.kept:
            net, start = self.seat.net, None
            if share != 1.0 and not net.contents:
                room = np.nanmean(net.held_c)
                start = room + (self.settled(1.0) - room) * share**RISE_POWER
            self.kept[share,] = steady(replace(net, power_w=net.power_w * share), start_c=start).temps_c
        return self.kept[share,]

    def share_for(self, reading_c, highest=4.0):
        """Share of the full power at which the sensor settles at a reading; nan where none up to the highest does."""
        if (reading_c, highest) not in self.kept:
            self.kept[reading_c, highest] = self._share_for(reading_c, highest)
        return self.kept[reading_c, highest]

    def _share_for(self, reading_c, highest):
        (node, *_), _ = self.seat.watch[SENSOR]

        def risen(share):
            return float(self.settled(share)[node]) - cold_c

        cold_c = float(self.settled(LEAST_SHARE)[node])
        wanted, share = reading_c - cold_c, 1.0
        if risen(share) <= wanted:
            share = highest
        if not 0 < wanted < risen(share):
            return float("nan")
        rise, power = risen(share), RISE_POWER
        for _ in range(MOST_STEPS):  # secants of the logarithms: a rise goes nearly with a power of the watts
            before, rise_before = share, rise
            share = float(np.clip(share * (wanted / rise) ** (1 / power), LEAST_SHARE, highest))
            rise = max(risen(share), LEAST_RISE_K)
            if abs(share - before) < CLOSE_SHARE:
                break
            power = max(np.log(rise / rise_before) / np.log(share / before), LEAST_POWER)
        return share

    @cached_property
    def kept_modes(self):
        """The modes, straightened where the sheet's set point holds the tool, or at half of what full power gives."""
        share = self.share_for(self.near_c)
        share = min(max(share, 0.02), 1.0) if np.isfinite(share) else 0.5
        return modes_at(self.seat.net, self.settled(share), self.seat.watch)

    near_c: float = 300.0


@lru_cache(maxsize=TOOLS)
def _standing(kept):
    seat, near_c = kept.thing
    return Standing(seat, near_c=near_c)


def standing_of(seat, near_c):
    """The Standing of a seat, kept for the tools that were asked for last.

    seat: Seat. near_c: a set point near which its modes are taken, degC; what is kept for another one serves as well.
    Returns Standing.
    """
    net = seat.net
    ways = (net.links.conductance_w_k, net.bars.shape_m, net.rays.exchange_w_k4, net.skins.area_m2)
    curves = tuple(c.pieces.tobytes() for c in net.curves)
    arrays = tuple(a.tobytes() for a in (net.capacity_j_k, net.power_w, net.held_c, *ways))
    return _standing(Keyed((arrays, curves, net.materials, net.stores, seat.host), (seat, near_c)))


def hold(standing, law, until_s=3600.0):
    """A controlled run from cold: at full power by the network's own solver as long as the law does not hold back, then
    by modes.

    standing: Standing. law: Law, its set point within reach. until_s: s.
    Returns Held, from 0 to until_s.
    """
    time_s, places = standing.full_times
    back_c = law.set_c - 3 * law.band_k / 2 if law.kind == ON_OFF else law.set_c - law.most / law.gain_per_k
    window = law.look_s if law.kind == ON_OFF else law.window_s
    start_s = 0.0
    if places[SENSOR][0] < back_c - 1:
        above = np.flatnonzero(places[SENSOR] >= back_c - 1)
        start_s = time_s[max(above[0] - 1, 0)] if above.size else until_s
        start_s = max(np.floor(min(start_s, until_s) / window) * window, 0.0)
    if start_s >= until_s:
        shown = time_s <= until_s
        return Held(time_s[shown], np.ones(shown.sum()), {n: t[shown] for n, t in places.items()}, State())
    run = fast_run(
        standing.kept_modes,
        law,
        standing.seat.watch,
        until_s - start_s,
        start_c=standing.full.at(start_s) if start_s else None,
        fine_s=SEEN_S,
    )
    if not start_s:
        return run
    before = time_s < start_s
    return Held(
        np.concatenate([time_s[before], start_s + run.time_s]),
        np.concatenate([np.ones(before.sum()), [1.0], run.share[1:]]),
        {n: np.concatenate([places[n][before], t]) for n, t in run.temp_c.items()},
        run.state,
    )


def dial_for(standing, place, wanted_c):
    """Reading at which a watched place settles at a temperature.

    standing: Standing. place: name of what is watched. wanted_c: degC.
    Returns degC, nan out of reach.
    """
    from scipy.optimize import brentq

    def off(share):
        return float(reading_of(standing.seat.watch, standing.settled(share))[place]) - wanted_c

    if off(1.0) < 0 or off(1e-6) > 0:
        return float("nan")
    share = brentq(off, 1e-6, 1.0, xtol=1e-5)
    return float(reading_of(standing.seat.watch, standing.settled(share))[SENSOR])
