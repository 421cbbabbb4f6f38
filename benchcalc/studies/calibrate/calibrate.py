"""Correct the model of a tool by what was measured on it: joints, emissivities, air, layers, all together.

A reading is the metal's temperature, less a share of its rise (the sensor's attachment, never negative), plus
what the whole meter is off by, plus scatter.  All of these are fitted at once, each within its band, so
that a loosely attached sensor is not taken for a bad joint.
"""

from dataclasses import dataclass, replace

import numpy as np

from ...basics.fault import fault
from ...basics.names import say
from ...chain.workings import chain, electrical_bands, has_arrays, settled
from ...sheet.build import Build
from ...sheet.learned import without_learned
from ...thermal.warmup.bounded_fit import PRIOR_DEVIATION, bounded_fit, draws
from .probe import COLD_K, STARTS_S, part_at
from .sensor_model import as_read, deviation, ends, low_share
from .trial_tool import Trial, hour, settled_temps, true_readings
from .unknowns import AMBIENT, SHARES, unknowns_of

HOUR_S, HOUR_POINTS = 3600.0, 61
DRAWS, RUNS = 400, 48
NOTICED_K, MOST_UNKNOWNS = 0.5, 16
SLOPE_STEP = 0.3
MISFIT_LIMIT = 1.6


@dataclass(frozen=True, eq=False)
class Calibration:
    """What the readings taught.

    trial: with all unknowns. fitted: numbers of those that the readings could move. best: their best places, then each
    probe's low share and offset, all in half bands. before, after: draws of all unknowns (draws, k), places in half
    bands. low_shares: (draws, probes). read_c, fitted_c: readings and what the corrected model says of them.
    deviation_k: of each reading. slope: of the misfits (readings, fitted + 2 probes), each reading in its own
    deviation. misfit: root mean square of what is left, in deviations: about 1 or less where the model can follow.
    time_s, hour_before_c, hour_after_c: (runs, times, 4): tip, wire, entry, work. settled_before_c, settled_after_c:
    (draws, 4). runs: of the tool through time. at_rest: whether the search ended by itself.
    """

    trial: Trial
    fitted: tuple
    best: np.ndarray
    before: np.ndarray
    after: np.ndarray
    low_shares: np.ndarray
    read_c: np.ndarray
    fitted_c: np.ndarray
    deviation_k: np.ndarray
    slope: np.ndarray
    misfit: float
    time_s: np.ndarray
    hour_before_c: np.ndarray
    hour_after_c: np.ndarray
    settled_before_c: np.ndarray
    settled_after_c: np.ndarray
    runs: int
    at_rest: bool

    @property
    def unknowns(self):
        """All unknowns."""
        return self.trial.unknowns

    def narrowed(self):
        """For each unknown, its deviation after over before."""
        return self.after.std(axis=0) / self.before.std(axis=0)


def calibrate(
    build: Build, probes, *, power_w=None, draw_count=DRAWS, run_count=RUNS, seed=1, progress=None
) -> Calibration:
    """Fit what the sheet knows only as bands to readings on the finished tool.

    build: Build (floats); what its sheet keeps as learned is left out, so that no reading counts twice. probes: Probe
    objects from probe() and marker_probe(), one or more, of one day and one tool.
    power_w: (low, high) ends of the power in the coil that day, W, where it was measured; None for the band that supply
    and wire leave. draw_count: draws behind bands. run_count: hours run for the bands of the hour, before and after; 0
    for none. seed: whole number. progress: function of (done, of, what) that shows how far it is, or None; the last
    call has done equal to of.
    Returns Calibration.
    Assumes: cold at switching on; errors of sensors as in data/defaults.csv; the model itself within 1 % of the rise at
    a reading (assumed); power steady but for a probe's steps.
    Raises Fault: no heat model for this sheet, no reading, a place that is not on the tool, a log that starts hot.
    Fails: where the truth lies far outside the bands; then misfit is large and said.
    """
    whole = trial_of(build, probes, power_w)
    probes, kept, build = whole.probes, noticed(whole), whole.build
    march = _March(progress, 2 * len(kept) + 6, 2 * run_count)
    trial = replace(whole, unknowns=tuple(whole.unknowns[i] for i in kept))
    read_c = np.concatenate([p.temp_c for p in probes])
    spread_k = deviation(build, probes, read_c)
    found, misfits, steep = _fitted(trial, read_c, spread_k, march)
    k = len(kept)
    drawn = draws(found.place, misfits, steep, ends(trial), draw_count, seed=seed)
    before = np.random.default_rng(seed).uniform(-1, 1, (draw_count, len(whole.unknowns)))
    after = before.copy()
    after[:, list(kept)] = drawn[:, :k]
    shares = np.stack([low_share(p)[0] + low_share(p)[1] * drawn[:, k + 2 * i] for i, p in enumerate(probes)], axis=-1)
    time_s = np.linspace(0.0, HOUR_S, HOUR_POINTS)
    hours = np.stack([march.hours(whole, places[:run_count], time_s) for places in (before, after)])
    ends_c = settled_temps(whole, before), settled_temps(whole, after)
    march.end()
    return Calibration(
        whole,
        kept,
        found.place,
        before,
        after,
        shares,
        read_c,
        as_read(trial, found.place, found.model)[0],
        spread_k,
        steep,
        float(np.sqrt(np.mean(misfits**2))),
        time_s,
        *hours,
        *ends_c,
        march.runs,
        found.at_rest,
    )


class _March:
    """How far a calibration is: runs against the readings, then hours for the bands.

    tell: function of (done, of, what), or None. runs_expected, hours_expected: how many there will be of each.
    """

    def __init__(self, tell, runs_expected, hours_expected):
        self.tell, self.expected = tell, runs_expected + hours_expected
        self.runs_expected, self.runs, self.hours_done = runs_expected, 0, 0

    def _tell(self, done, what):
        if self.tell is not None:
            self.tell(min(done, self.expected), self.expected, what)

    def run(self, trial, places):
        self.runs += 1
        self._tell(min(self.runs, self.runs_expected - 1), "runs against the readings")
        return true_readings(trial, places)

    def hours(self, whole, drawn, time_s):
        found = np.full((len(drawn), len(time_s), 4), np.nan)
        for j, places in enumerate(drawn):
            found[j] = hour(whole, places, time_s)
            self._tell(self.runs_expected + self.hours_done, "hours for the bands")
            self.hours_done += 1
        return found

    def end(self):
        self._tell(self.expected, "done")


def _fitted(trial, read_c, spread_k, march):
    """(Fit, misfits and their slope at its place): the unknowns of a trial fitted to its readings."""
    bounds, k = ends(trial), len(trial.unknowns)

    def slope(places, there):
        columns = np.empty((there.size, k))
        for j in range(k):
            step = SLOPE_STEP if places[j] + SLOPE_STEP <= bounds[1][j] else -SLOPE_STEP
            moved = places.copy()
            moved[j] += step
            columns[:, j] = (march.run(trial, moved) - there) / step
        return columns

    def observe(place, metal_c, steep):
        said, of = as_read(trial, place, metal_c, steep)
        return (said - read_c) / spread_k, of / spread_k[:, None]

    found = bounded_fit(
        lambda place: march.run(trial, place[:k]), lambda place, there: slope(place[:k], there), observe, bounds
    )
    return found, *observe(found.place, found.model, found.slope)


def trial_of(build, probes, power_w=None):
    """The tool with all its unknowns and the readings taken on it.

    build, probes, power_w: as calibrate.
    Returns Trial.  Raises Fault as calibrate.
    """
    probes, build = tuple(probes), without_learned(build)
    if has_arrays(build):
        raise fault("calibrating", "", "takes one tool, not many what-ifs side by side.")
    if not probes:
        raise fault("calibrating", "", "needs at least one reading: a log, or a marker with its place and time.")
    _, wire, coil, heat, _ = chain(build)
    if heat is None or heat.model is None:
        raise fault(
            "calibrating",
            "",
            "needs the heat model.",
            heat.refused
            if heat is not None and heat.refused
            else "The sheet has no parts with places along the axis, or no coil on one of them.",
        )
    whole = Trial(build, wire, coil, unknowns_of(build, _share(build, coil, power_w)), probes)
    _refuse_bad(whole, heat)
    return whole


def noticed(trial):
    """Numbers of the unknowns that move the settled tool where it was read, the most telling first.

    trial: Trial.
    Returns tuple: those that move a reading by 0.5 K or more within one deviation of their band, at most 16.
    Power, room and heat stored always count. The others keep their bands.
    """
    at = tuple((p.at_m, p.on) for p in trial.probes)
    effect = np.abs(settled_slope(trial, np.zeros(len(trial.unknowns)), at)[4:]).max(axis=0) * PRIOR_DEVIATION
    order = sorted(range(len(trial.unknowns)), key=lambda i: -effect[i])
    strong = [i for i in order if effect[i] >= NOTICED_K][:MOST_UNKNOWNS]
    return tuple(sorted(set(strong) | {i for i, u in enumerate(trial.unknowns) if u.path in (*SHARES, AMBIENT)}))


def settled_slope(trial, places, at):
    """How the settled tool moves with each unknown.

    trial: Trial. places: (k,) where. at: tuple of (at_m, id of a part or None).
    Returns K per half band (4 + len(at), k): tip, wire, entry, work, then the places.
    """
    k = len(trial.unknowns)
    low, high = np.array([u.ends for u in trial.unknowns]).T
    up, down = np.minimum(places + SLOPE_STEP, high), np.maximum(places - SLOPE_STEP, low)
    designs = np.tile(places, (2 * k, 1))
    designs[np.arange(k), np.arange(k)], designs[k + np.arange(k), np.arange(k)] = up, down
    found = settled_temps(trial, designs, at)
    return ((found[:k] - found[k:]) / (up - down)[:, None]).T


def _share(build, coil, power_w):
    """Ends of the power over the coil's own."""
    if power_w is not None:
        low, high = sorted(float(x) for x in power_w)
        if not 0 < low < high:
            raise fault("power_w", f"{low:g} to {high:g} W", "must be two ends above zero, the lower first.")
    else:
        band = electrical_bands(settled(build)).get("coil.coil_w")
        if band is None or not np.isfinite(band.low) or band.low == band.high:
            return 0.9, 1.1
        half = (band.high - band.low) / 2 / 1.645 * np.sqrt(3.0)  # a uniform input of the same deviation
        middle = (band.low + band.high) / 2
        low, high = max(middle - half, 0.1 * middle), middle + half
    return low / coil.coil_w, high / coil.coil_w


def _refuse_bad(trial, heat):
    known = trial.build.known.get(AMBIENT)
    warmest = trial.build.room.ambient_c if known is None else known.high
    for p in trial.probes:
        part_at(heat.model.tool, p.at_m, p.on, where=p.name)
        if p.time_s.size > 1 and p.time_s[0] < STARTS_S and p.temp_c[0] > warmest + COLD_K:
            raise fault(
                p.name,
                say("temp_c", float(p.temp_c[0])),
                f"at {p.time_s[0]:.0f} s: this log starts hot.",
                f"The room of the sheet is at most {say('temp_c', float(warmest))}.",
                "Take a log from switching on, of a tool that has cooled down.",
            )
