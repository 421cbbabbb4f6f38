"""When control fails: a rule that notices power without a rise, and a cut-out that needs no electronics."""

from dataclasses import dataclass

import numpy as np

from ...basics.fault import fault
from ...basics.tables import rows

STEP_S, FULL = 1.0, 0.999  # a run is looked at once a second; a piece with a larger share counts as full power
WAITS_S = (10, 15, 20, 30, 45, 60, 90, 120, 180, 300)


@dataclass(frozen=True)
class RiseRule:
    """Full power for wait_s and less than rise_k of rise: off, and stay off.  slowest_k: least that a sound tool rises
    in that time on its way up."""

    wait_s: float
    rise_k: float
    slowest_k: float


def rise_rule(time_s, read_c, until_c, *, least_k=5.0, mains_low=0.9, sound=()):
    """The shortest wait after which a sound tool must have risen by a readable amount.

    time_s: s (n,), from switching on at full power. read_c: the sensor's reading, degC (n,). until_c: reading at which
    the law begins to hold back; the rule is asked below it only. least_k: smallest rise a reader cannot mistake, K.
    mains_low: lowest mains as a share of today's; watts go with its square. sound: (time_s, share, read_c) of each run
    of a sound tool, held or touching work, that it must not switch off: ends of pieces of power, s, and the reading.
    Returns RiseRule, or None where no wait up to five minutes serves.
    The limit is half of the slowest sound rise at low mains.
    """
    time_s, read_c = np.asarray(time_s, float), np.asarray(read_c, float)
    reached = np.flatnonzero(read_c >= until_c)
    end_s = time_s[reached[0]] if reached.size else time_s[-1]
    for wait in WAITS_S:
        if wait >= end_s:
            return None
        starts = np.linspace(0.0, end_s - wait, 200)
        rise = np.interp(starts + wait, time_s, read_c) - np.interp(starts, time_s, read_c)
        slowest = float(rise.min()) * mains_low**2
        rule = RiseRule(float(wait), slowest / 2, slowest)
        if slowest / 2 >= least_k and not any(would_trip(rule, *run, until_c, mains_low) for run in sound):
            return rule
    return None


def would_trip(rule, time_s, share, read_c, until_c, mains_low=1.0):
    """Whether a rule switches a run off.

    rule: RiseRule. time_s, share, read_c: ends of pieces of power, s, the share of full power in each, and the reading,
    degC, (n,). until_c: reading above which the rule is not asked. mains_low: as `rise_rule`; with fewer watts it all
    takes longer.
    """
    at = np.arange(time_s[0], time_s[-1], STEP_S)
    full = share[np.clip(np.searchsorted(time_s, at, side="left"), 0, share.size - 1)] > FULL
    read, steps = np.interp(at, time_s, read_c), int(rule.wait_s * mains_low**2 / STEP_S)
    if at.size <= steps:
        return False
    on = np.concatenate([[0], np.cumsum(full)])
    whole = on[steps:-1] - on[: -steps - 1] >= steps
    return bool(np.any(whole & (read[steps:] - read[:-steps] < rule.rise_k) & (read[steps:] < until_c)))


@dataclass(frozen=True)
class CutOut:
    """A cut-out that fits.  at_m: its place. key, rating_c: of data/cut_outs.csv. normal_c: hottest there in use, doubt
    counted. fail_c: there when the weakest limit is reached. spare_low_k, spare_high_k: kelvin left on either side,
    tolerances taken off."""

    at_m: float
    key: str
    rating_c: float
    normal_c: float
    fail_c: float
    spare_low_k: float
    spare_high_k: float

    @property
    def does(self):
        """What it does, in words; opening in use comes first, since then it is not there any more."""
        if self.spare_low_k < 0:
            return "opens in use"
        return "comes too late" if self.spare_high_k < 0 else "fits"


def cut_out_for(places_m, normal_c, fail_c, *, spare_k=5.0):
    """The place and rating with most to spare on both sides.

    places_m: places where it can sit (n,). normal_c: hottest each gets in use, doubt counted, degC (n,). fail_c: what
    each is at when the first limit is reached with power stuck on, degC (n,). spare_k: least on both sides, K.
    Returns CutOut, or None where no rating fits anywhere: then fewer watts are the answer, so that even stuck on
    nothing is harmed.
    Both tolerances count: rating less its low_k must clear normal_c, rating with its high_k must come before fail_c.
    Raises Fault: lists of unequal length.
    """
    places_m, normal_c, fail_c = (np.asarray(x, float) for x in (places_m, normal_c, fail_c))
    if not places_m.shape == normal_c.shape == fail_c.shape:
        raise fault("cut-out", f"{places_m.size} places", "need a normal and a failing temperature each.")
    best = None
    for row in rows("cut_outs"):
        low = row["rating_c"] - row["low_k"] - normal_c
        high = fail_c - row["rating_c"] - row["high_k"]
        spare = np.minimum(low, high)
        spare = np.where(np.isfinite(spare), spare, -np.inf)
        i = int(spare.argmax())
        if spare[i] >= spare_k and (best is None or spare[i] > min(best.spare_low_k, best.spare_high_k)):
            found = (places_m[i], row["key"], row["rating_c"], normal_c[i], fail_c[i], low[i], high[i])
            best = CutOut(*(x if isinstance(x, str) else float(x) for x in found))
    return best
