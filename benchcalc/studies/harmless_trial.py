"""A trial with the sensor off, on watts that harm nothing: a dial that those watts reach, a rule made for them."""

from dataclasses import dataclass, replace

import numpy as np

from ..chain.heat.in_time import time_to
from ..chain.heat.left_on import warmest_room
from ..sheet.build import Build
from ..sheet.defaults import default
from ..thermal.control.failing import RiseRule, first_trip, noticed_after, rise_rules
from ..thermal.control.held_run import reading_of
from ..thermal.control.law import ON_OFF, State
from ..thermal.control.seated import SENSOR
from ..thermal.network.warm_up import warm_up
from .harmless_watts import Harmless
from .holding import HeldTool
from .stopping import noticing, own_doubt

SPARE = 0.9  # of the rise of the reading at its lowest: so much is dialled, so that there is power to spare
ASKED = 0.75  # of the rise to the dial: the rule of the trial is asked below it, a swing's bottom above
LEAST_K = 15.0  # less of a rise over the room is no trial
CLIMB_S, STEP_S, TOL_K = 3 * 3600.0, 5.0, 0.1


@dataclass(frozen=True)
class SensorOffTrial:
    """A trial on few watts.  reached_c: where the reading settles on them today; low_c: at low mains and by the lower
    end of the tool's own doubt. dial_c: reading to hold, below low_c. held_c: what is held is then at. ready_s: from
    cold to the dial. trips_s: when the rule for full watts may switch a sound tool off on that way, nan for never, or
    where there is no such rule. rule: the one for full watts where it spares that way, else one for these watts, or
    None. after_s: when it notices a fallen sensor, nan without a rule."""

    reached_c: float
    low_c: float
    dial_c: float
    held_c: float
    ready_s: float
    trips_s: float
    rule: RiseRule | None
    after_s: float


def harmless_trial(build: Build, found: HeldTool, few: Harmless) -> SensorOffTrial | None:
    """Hold a dial on watts that harm nothing, then take the sensor off.

    build: Build with a controller. found: HeldTool, held. few: its harmless watts.
    Returns SensorOffTrial, None where these watts lift the reading by less than 15 K, or not up to the dial within
    three hours, at low mains too.
    What the watts reach is the network's own balance at them; the dial is nine tenths of the lowest rise, and never
    above the set point of the sheet.  The rule is asked from cold, on the way up at low mains.
    """
    standing, room_c = found.control.standing, build.room.ambient_c
    known = build.known.get("supply.mains")
    swing = 1.0 if known is None else (min(known.low, build.supply.mains) / build.supply.mains) ** 2
    share = few.watts / found.control.on_w
    node = standing.seat.watch[SENSOR][0][0]
    reached_c, weak_c = (float(standing.settled(s)[node]) for s in (share, share * swing))
    low_c = room_c + (weak_c - room_c) * (1 - _own_share(build, found))
    dial_c = float(np.floor(min(room_c + SPARE * (low_c - room_c), found.law.set_c)))
    if not dial_c - room_c >= LEAST_K:
        return None
    time_s = np.arange(0.0, CLIMB_S, STEP_S)
    up_c, weak_up_c = (_climb(standing.seat.net, s, time_s) for s in (share, share * swing))
    ready_s = time_to(time_s, up_c, dial_c)
    if not min(up_c[-1], weak_up_c[-1]) >= dial_c:
        return None
    held_c = float(reading_of(standing.seat.watch, standing.settled(standing.share_for(dial_c)))[found.control.place])
    usual, below = noticing(build, found).rule, weak_up_c < dial_c
    trips_s = np.nan if usual is None else first_trip(usual, time_s[below], np.ones(below.sum()), weak_up_c[below])
    spared = usual is not None and not np.isfinite(trips_s)
    rule, after_s = _rule(build, found, (usual,) if spared else (time_s, weak_up_c), (dial_c, share))
    return SensorOffTrial(reached_c, low_c, dial_c, held_c, ready_s, trips_s, rule, after_s)


def _own_share(build, found):
    """How far below its model what is held may be by the tool's own doubt, as a share of its rise."""
    band = own_doubt(build).get(f"heat.itself.{found.control.place}_c")
    rise = 0.0 if band is None else band.nominal - build.room.ambient_c
    return max(band.nominal - band.low, 0.0) / rise if rise > 1.0 else 0.0


def _climb(net, share, time_s):
    """The reading from cold at a share of the watts while on, degC."""
    run = warm_up(replace(net, power_w=net.power_w * share), CLIMB_S, accounted=False, tol_k=TOL_K)
    return run.at(time_s, SENSOR)


def _rule(build, found, rules, dialled):
    """(RiseRule for the trial, s until it notices a fallen sensor), (None, nan) where none serves.  rules: the rule of
    full watts alone, or a way up (time_s, read_c) to take one from."""
    (dial_c, share), law, warm_c = dialled, replace(found.law, set_c=dialled[0]), warmest_room(build)
    if len(rules) == 2:
        back_c = dial_c - law.band_k if law.kind == ON_OFF else dial_c - law.most / law.gain_per_k
        rules = rise_rules([rules], min(back_c, warm_c + ASKED * (dial_c - warm_c)), warm_c)
    held = found.control.standing.share_for(dial_c) / share
    state = State(False, 0.0 if law.kind == ON_OFF else min(held, 1.0))
    fallen = (dial_c, warm_c, default("sensor.air_lag_s")["high"])
    caught = [(noticed_after(r, law, state, fallen), r) for r in rules]
    caught = [(t, r) for t, r in caught if np.isfinite(t)]
    after_s, rule = min(caught, key=lambda pair: pair[0], default=(np.nan, None))
    return rule, float(after_s)
