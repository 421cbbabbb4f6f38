"""Correct the model of a tool by what was measured on it: joints, emissivities, air, layers, all together.

A reading is the metal's temperature, less a share of its rise (the sensor's attachment, never negative), plus
what the whole meter is off by, plus scatter.  All of these are fitted at once, each within its band, so
that a loosely attached sensor is not taken for a bad joint.
"""

from dataclasses import dataclass, replace

import numpy as np

from ...basics.slices import finished, told_as
from ...sheet.build import Build
from ...thermal.warmup.bounded_fit import drawing, search
from .sensor_model import as_read, deviation, ends, low_share
from .start import RUNS_TOLD, SETTLED_TOLD, Start, sloped, starting, trial_of
from .trial_tool import Trial, true_readings

HOUR_S, HOUR_POINTS = 3600.0, 61
DRAWS, RUNS = 400, 48
MISFIT_LIMIT = 1.6
HOURS_TOLD = "hours for the bands"
MOVES = 4  # that a search is expected to take, for telling how far it is
OTHER_SLICES = 45  # about as many as draws, settled tools and hours are cut into


@dataclass(frozen=True, eq=False)
class Calibration:
    """What the readings taught.

    start: what was known before. trial: with all unknowns and the readings that were used. best: best places of the
    fitted ones, then each probe's low share and offset, all in half bands. after: draws of all unknowns (draws, k),
    places in half bands. low_shares: (draws, probes). read_c, fitted_c: readings and what the corrected model says of
    them. used: which of all readings of the start they are (n,). ahead_c: what the model says of all those (n,), nan
    where no reading of a sensor is used. deviation_k: of each reading used. slope: of the misfits (readings, fitted +
    2 probes), each reading in its own deviation. misfit: root mean square of what is left, in deviations: about 1 or
    less where the model can follow. time_s, hour_before_c, hour_after_c: (runs, times, 4): tip, wire, entry, work.
    settled_after_c: (draws, 4). runs: of the tool through time, against the readings. at_rest: whether the search
    ended by itself.
    """

    start: Start
    trial: Trial
    best: np.ndarray
    after: np.ndarray
    low_shares: np.ndarray
    read_c: np.ndarray
    fitted_c: np.ndarray
    used: np.ndarray
    ahead_c: np.ndarray
    deviation_k: np.ndarray
    slope: np.ndarray
    misfit: float
    time_s: np.ndarray
    hour_before_c: np.ndarray
    hour_after_c: np.ndarray
    settled_after_c: np.ndarray
    runs: int
    at_rest: bool

    @property
    def unknowns(self):
        """All unknowns."""
        return self.trial.unknowns

    @property
    def fitted(self):
        """Numbers of the unknowns that the readings could move."""
        return self.start.fitted

    @property
    def before(self):
        """Draws of all unknowns before the readings (draws, k), places in half bands."""
        return self.start.draws

    @property
    def settled_before_c(self):
        """Tip, wire, entry and work of the settled tool before the readings, degC (draws, 4)."""
        return self.start.settled_c

    def narrowed(self):
        """For each unknown, its deviation after over before."""
        return self.after.std(axis=0) / self.before.std(axis=0)


def calibrate(
    build: Build, probes, *, power_w=None, draw_count=DRAWS, run_count=RUNS, seed=1, progress=None
) -> Calibration:
    """Fit what the sheet knows only as bands to readings on the finished tool.

    build: Build (floats); what its sheet keeps as learned is left out, so that no reading counts twice. probes: Probe
    objects from probe() and marker_probe(), one or more, of one day and one tool.
    power_w: (low, high) ends of the power in the coil that day, W, where it was measured; None for what the sheet's
    logs say of it, else for the band that supply and wire leave. draw_count: draws behind bands. run_count: hours run
    for the bands of the hour, before and after; 0 for none. seed: whole number. progress: function of (done, of, what)
    that shows how far it is, or None; the last call has done equal to of.
    Returns Calibration.
    Assumes: cold at switching on; errors of sensors as in data/defaults.csv; the model itself within 1 % of the rise at
    a reading (assumed); power steady but for a probe's steps.
    Raises Fault: no heat model for this sheet, no reading, a place that is not on the tool, a log that starts hot.
    Fails: where the truth lies far outside the bands; then misfit is large and said.
    """
    whole = trial_of(build, probes, power_w)
    return finished(_counted(_calibrating(whole, draw_count, run_count, seed), 2 * len(whole.unknowns)), progress)


def _calibrating(whole, draw_count, run_count, seed):
    start = yield from starting(whole, draw_count, seed)
    return (yield from _learning(start, np.inf, run_count))


def fewer_readings(found: Calibration, until_s):
    """The same with the readings up to a time only, in slices: what was known before them is not worked out again.

    found: Calibration. until_s: s from switching on; a reading or more lies before it.
    Yields (done, of, what) between slices, the last with done equal to of.  Returns Calibration: as that of these
    readings alone, but that all unknowns are searched that the others could have moved.
    """
    work = _learning(found.start, until_s, len(found.hour_before_c), found.hour_before_c)
    return _counted(work, len(found.fitted))


def _counted(work, runs):
    """Work that tells in words what each slice was, told as (done, of, what)."""
    of, done = runs + MOVES + OTHER_SLICES, 0
    while True:
        try:
            what = next(work)
        except StopIteration as end:
            yield of, of, "done"
            return end.value
        done += 1
        yield min(done, of - 1), of, what


def _learning(start, until_s, run_count, hour_before_c=None):
    """What the readings up to a time teach.

    start: Start. until_s: s, or inf. run_count: hours for the bands. hour_before_c: (runs, times, 4), where they have
    been run.
    Yields what is done, in words, between slices.  Returns Calibration.
    """
    whole, used = start.until(until_s)
    trial, probes = start.fitted_of(whole), whole.probes
    read_c = np.concatenate([p.temp_c for p in probes])
    spread_k = deviation(whole.build, probes, read_c)
    found, misfits, steep, runs = yield from _fitting(
        trial, (read_c, spread_k), (start.given_c[used], start.slope[used])
    )
    k, count = len(start.fitted), len(start.draws)
    ahead_c = _ahead(start, used, found)
    if not used.all():
        yield RUNS_TOLD
    drawn = yield from told_as(SETTLED_TOLD, drawing(found.place, misfits, steep, ends(trial), count, seed=start.seed))
    after = start.draws.copy()
    after[:, list(start.fitted)] = drawn[:, :k]
    shares = np.stack([low_share(p)[0] + low_share(p)[1] * drawn[:, k + 2 * i] for i, p in enumerate(probes)], axis=-1)
    settled_c = yield from told_as(SETTLED_TOLD, start.middle.settled(after))
    time_s, first = np.linspace(0.0, HOUR_S, HOUR_POINTS), slice(run_count)
    places = after[first] if hour_before_c is not None else np.concatenate([start.draws[first], after[first]])
    hours_c = yield from told_as(HOURS_TOLD, start.middle.hours(places, time_s))
    if hour_before_c is None:
        hour_before_c, hours_c = np.split(hours_c, 2)
    return Calibration(
        start,
        whole,
        found.place,
        after,
        shares,
        read_c,
        as_read(trial, found.place, found.model)[0],
        used,
        ahead_c,
        spread_k,
        steep,
        float(np.sqrt(np.mean(misfits**2))),
        time_s,
        hour_before_c,
        hours_c,
        settled_c,
        start.runs + runs + (not used.all()),
        found.at_rest,
    )


def _ahead(start, used, found):
    """What the corrected model says of all readings of the start.

    start: Start. used: which of its readings were used (n,). found: Fitted to these.
    Returns degC (n,), nan where no reading of a sensor is used.
    """
    whole, sizes = start.fitted_of(start.trial), [p.time_s.size for p in start.trial.probes]
    metal_c = found.model if used.all() else true_readings(whole, found.place[: len(start.fitted)])
    told = [part.any() for part in np.split(used, np.cumsum(sizes)[:-1])]
    known, said_c = np.repeat(told, sizes), np.full(used.size, np.nan)
    read = replace(whole, probes=tuple(p for p, any_used in zip(whole.probes, told) if any_used))
    said_c[known] = as_read(read, found.place, metal_c[known])[0]
    return said_c


def _fitting(trial, read, first):
    """The unknowns of a trial fitted to its readings.

    trial: Trial. read: (degC, deviation in K) of each reading. first: what the middle of the bands gives, and its
    slope.
    Yields RUNS_TOLD after each run.  Returns (Fitted, misfits and their slope at its place, runs).
    """
    (read_c, spread_k), k, runs = read, len(trial.unknowns), 0

    def observe(place, metal_c, steep):
        said, of = as_read(trial, place, metal_c, steep)
        return (said - read_c) / spread_k, of / spread_k[:, None]

    asking, given = search(observe, ends(trial)), list(first)
    answer = None
    while True:
        try:
            place, there = asking.send(answer)
        except StopIteration as end:
            found = end.value
            return found, *observe(found.place, found.model, found.slope), runs
        if given:  # the search begins in the middle of the bands
            answer = given.pop(0)
        elif there is None:
            answer = true_readings(trial, place[:k])
            runs += 1
            yield RUNS_TOLD
        else:
            _, answer = yield from sloped(trial, place[:k])
            runs += k + 1
