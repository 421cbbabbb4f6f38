"""When control fails: a rule that notices power without a rise, and a cut-out that needs no electronics."""

from dataclasses import dataclass

import numpy as np

from ...basics.fault import fault
from ...basics.tables import rows
from .law import decide

WAITS_S = (10, 15, 20, 30, 45, 60, 90, 120, 180, 300)
SHARES = (1.0, 0.85, 0.7, 0.55, 0.4)  # of the rise up to the highest reading at which the rule may be asked
LEAST_SPARE_K = 5.0  # on both sides of a cut-out that is advised (own judgement)
ROOM_SPARE_K = 15.0  # a fallen sensor must get this far below the reading at which the rule begins


@dataclass(frozen=True)
class RiseRule:
    """While the sensor reads less than below_c: full power for wait_s on end and less than rise_k of rise: off, and
    stay off.  slowest_k: least that a sound tool rises in that time on its way up."""

    wait_s: float
    rise_k: float
    slowest_k: float
    below_c: float


def rise_rules(climbs, highest_c, room_c, *, least_k=5.0):
    """Rules that a sound tool passes on its way up, those that notice soonest first.

    climbs: ways up at full power, each (time_s, read_c), arrays from switching on; from cold, and from part-way down
    while the reading still falls, at low mains. highest_c: highest reading at which the rule may be asked: below what
    ordinary holding and work bring. room_c: degC at most. least_k: smallest rise a reader cannot mistake, K.
    Returns list of RiseRule, empty where the tool is too slow for any wait up to five minutes.
    The limit is half of the slowest sound rise; a climb that leaves the range sooner than the wait cannot offend.
    """
    found = []
    for wait in WAITS_S:
        for share in SHARES:
            below = room_c + share * (highest_c - room_c)
            if below < room_c + ROOM_SPARE_K:
                continue
            slowest = min(_slowest(np.asarray(t, float), np.asarray(c, float), below, wait) for t, c in climbs)
            slowest = min(slowest, below - room_c)
            if slowest / 2 >= least_k:
                found.append(RiseRule(float(wait), slowest / 2, slowest, float(below)))
                break
    return found


def _slowest(time_s, read_c, below_c, wait_s):
    """Slowest rise over a wait while a climb is below a reading, K; inf where it is not below for that long."""
    low = np.flatnonzero(read_c < below_c)
    if low.size == 0:
        return np.inf
    end_s = time_s[min(low[-1] + 1, time_s.size - 1)]
    starts = np.linspace(time_s[low[0]], end_s - wait_s, 200)
    if end_s - wait_s < time_s[low[0]]:
        return np.inf
    return float((np.interp(starts + wait_s, time_s, read_c) - np.interp(starts, time_s, read_c)).min())


def first_trip(rule, time_s, share, read_c):
    """When a rule would switch a run off.

    rule: RiseRule. time_s: s (n,), rising. share: power of the piece that ends there, of full (n,). read_c: degC (n,).
    Returns s, nan for never.
    """
    asked = np.append(False, (np.asarray(share[1:]) >= 1 - 1e-9) & (np.maximum(read_c[1:], read_c[:-1]) < rule.below_c))
    since_s = np.maximum.accumulate(np.where(asked, -np.inf, time_s))
    risen_k = read_c - np.interp(time_s - rule.wait_s, time_s, read_c)
    trips = np.flatnonzero((time_s - since_s >= rule.wait_s - 1e-9) & (risen_k < rule.rise_k))
    return float(time_s[trips[0]]) if trips.size else float("nan")


def reading_in_air(time_s, fallen):
    """What a sensor reads that has fallen off.

    time_s: since then, s, 0 or more, or an array. fallen: (reading then in degC, room in degC, time constant of the
    bead in air in s).
    Returns degC.  Equation: first-order cooling, Incropera et al., Fundamentals of Heat and Mass Transfer, eq. 5.6.
    """
    read_c, room_c, air_s = fallen
    return room_c + (read_c - room_c) * np.exp(-time_s / air_s)


def noticed_after(rule, law, state, fallen, until_s=1200.0):
    """When a rule notices that the sensor has fallen off.

    rule: RiseRule. law, state: Law and State of the held tool at that moment. fallen: as `reading_in_air`. until_s: s,
    where the search ends.
    Returns s, nan where the law gives no full power for that long: then the rule never asks.
    """
    times, shares, now = [0.0], [0.0], 0.0
    while now < until_s:
        state, pieces = decide(law, state, reading_in_air(now, fallen))
        for seconds, share in pieces:
            now += seconds
            times.append(now)
            shares.append(share)
    times = np.array(times)
    return first_trip(rule, times, np.array(shares), reading_in_air(times, fallen))


@dataclass(frozen=True)
class CutOut:
    """A cut-out that fits.  at_m: its place. key, rating_c: of data/cut_outs.csv. normal_c: hottest there in use, doubt
    counted. fail_c: there when the weakest limit is reached. spare_low_k, spare_high_k: kelvin left on either side,
    tolerances taken off. saves: the first limit that it comes in time for, in words; late: those that come before it,
    which it is too late for. hold_c: what use should stay below for good, degC: its holding temperature where told (by
    its maker), else by common practice; nan where nothing is said of it."""

    at_m: float
    key: str
    rating_c: float
    normal_c: float
    fail_c: float
    spare_low_k: float
    spare_high_k: float
    hold_c: float = float("nan")
    told: bool = False
    saves: str = ""
    late: tuple = ()

    @property
    def from_c(self):
        """The coolest at which it may open, degC."""
        return self.normal_c + self.spare_low_k

    @property
    def late_k(self):
        """How far above its mark it opens at the latest, K."""
        return 0.0 if not np.isfinite(self.fail_c) else self.fail_c - self.spare_high_k - self.rating_c

    @property
    def in_time(self):
        """Whether it stays closed at first and opens before a harm that it saves something from."""
        return self.spare_low_k >= 0 and self.spare_high_k >= 0

    @property
    def guards(self):
        """Whether it stays closed at first and opens before the first harm."""
        return self.in_time and not self.late

    @property
    def holds(self):
        """Whether use stays below what it holds for good."""
        return not self.normal_c > self.hold_c

    @property
    def does(self):
        """What it does, in words; opening in use comes first, since then it is not there any more."""
        if self.spare_low_k < 0:
            return "opens in use"
        if self.spare_high_k < 0:
            return "comes too late"
        if self.late:
            return f"is in time for {self.saves} and comes too late for {', '.join(self.late)}"
        return "fits" if self.holds else "may open in long use"


def holding_c(rating_c, told_c=None):
    """What use should stay below for good at a cut-out, degC.

    rating_c: its mark. told_c: its holding temperature by its maker's sheet, or None.
    Returns degC: told_c, else by common practice (no source): hold_k of the stocked rating next to it below the mark.
    IEC 60691 defines the holding temperature and leaves its figure to the maker.
    """
    if told_c is not None:
        return float(told_c)
    return float(rating_c - min(rows("cut_outs"), key=lambda r: abs(r["rating_c"] - rating_c))["hold_k"])


def cut_out_for(places_m, normal_c, fail_c, *, spare_k=LEAST_SPARE_K):
    """The place and rating with most to spare on both sides.

    places_m: places where it can sit (n,). normal_c: hottest each gets in use, doubt counted, degC (n,). fail_c: what
    each is at when the first limit is reached with power stuck on, degC (n,). spare_k: least on both sides, K.
    Returns CutOut, or None where no rating fits anywhere: then fewer watts are the answer, so that even stuck on
    nothing is harmed.  One that use leaves below its `holding_c` goes before all that may open in long use.
    Both tolerances count: rating less its low_k must clear normal_c, rating with its high_k must come before fail_c.
    Raises Fault: lists of unequal length.
    """
    places_m, normal_c, fail_c = (np.asarray(x, float) for x in (places_m, normal_c, fail_c))
    if not places_m.shape == normal_c.shape == fail_c.shape:
        raise fault("cut-out", f"{places_m.size} places", "need a normal and a failing temperature each.")
    best, best_rank = None, (False, -np.inf)
    for row in rows("cut_outs"):
        low = row["rating_c"] - row["low_k"] - normal_c
        high = fail_c - row["rating_c"] - row["high_k"]
        hold_c = holding_c(row["rating_c"])
        spare = np.minimum(low, high)
        spare = np.where(np.isfinite(spare) & (spare >= spare_k), spare, -np.inf)
        for holds in (True, False):
            among = np.where((normal_c <= hold_c) == holds, spare, -np.inf)
            i = int(among.argmax())
            if np.isfinite(among[i]) and (holds, float(among[i])) > best_rank:
                best_rank = holds, float(among[i])
                found = (places_m[i], row["key"], row["rating_c"], normal_c[i], fail_c[i], low[i], high[i], hold_c)
                best = CutOut(*(x if isinstance(x, str) else float(x) for x in found))
    return best
