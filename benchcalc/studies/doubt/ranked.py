"""Measure this first: every reading that a maker could take, ranked by how much it would firm the verdicts."""

from dataclasses import dataclass
from fnmatch import fnmatchcase

import numpy as np

from ...basics.band import band_of
from ...basics.tables import rows
from ...chain.cautions.cautions import cautions_for, is_stop
from ...chain.wire.link import wound
from ...chain.workings import Workings
from ...sheet.build import Build
from ...sheet.change import get
from .posterior import LEAST_SAMPLES, Target, firmed_by
from .unlocks import answered

OF_THE_PATH = "of the path"  # the quantity is that of the path's own unit
IN_DOUBT = 0.005  # a chance nearer than this to 0 or 1 is none that 200 samples can tell
ADVICE_COUNTS = 0.5  # of a verdict that only advises, beside one that does not
WORTH_IT = 0.9  # of what is known today: a reading that is hardly surer tells nothing


@dataclass(frozen=True)
class Doubtful:
    """A verdict with what the samples say of it.  link, what, key, advice: of the verdict. limit: its limit, sense: "at
    most" or "at least". chance: that the limit is passed, 0 to 1. doubt: 4 chance (1 - chance): 0 sure, 1 even odds.
    low, high: 90 % band of the margin, SI."""

    link: str
    what: str
    key: str
    advice: bool
    limit: float
    sense: str
    chance: float
    doubt: float
    low: float
    high: float


@dataclass(frozen=True)
class FirstReading:
    """One reading that can be taken.  key, area, words, power, instrument, minutes, basis: of
    data/first_readings.csv. paths: what it tells. error: half its error over half of what is known today, 0 to 1, the
    smallest of its paths. answers: verdicts that are not known at all today and would be then. firms: sum of the doubts
    that it is expected to take away, a verdict that only advises counted by half, one that is not known as a whole
    doubt. verdicts: per Doubtful of the whole list, (doubt taken away, width of the band left 0 to 1, chance
    that the band then lies on one side, typical low, typical high of the margin then)."""

    key: str
    area: str
    words: str
    power: str
    instrument: str
    minutes: float
    basis: str
    paths: tuple
    error: float
    firms: float
    verdicts: tuple
    answers: tuple = ()


@dataclass(frozen=True)
class MeasureFirst:
    """Verdicts in doubt, the most doubtful first; readings, the one that firms most first; unknown: what is not known
    at all and why, which no band can tell; samples: behind all of it."""

    doubts: tuple
    readings: tuple
    unknown: tuple
    samples: int

    @property
    def whole(self):
        """All the doubt there is, counted as the readings count it, that which no reading takes away included."""
        told = sum(d.doubt * (ADVICE_COUNTS if d.advice else 1.0) for d in self.doubts)
        return told + sum(
            {what: (ADVICE_COUNTS if a else 1.0) for r in self.readings for what, a in r.answers}.values()
        )


def chances(workings: Workings) -> tuple:
    """The chance that each limit is passed.

    workings: Workings with samples.
    Returns tuple of Doubtful for every verdict that the samples judge, the most doubtful first; a sample that cannot
    be worked out counts as passed.
    """
    found, drawn = {}, workings.drawn
    for link, v in workings.verdicts:
        margin = None if drawn is None else drawn.margins.get((link, v.what))
        if margin is None or v.state in ("not known", "does not apply") or (link, v.what) in found:
            continue
        chance = float(np.mean(~(margin >= 0)))
        band = band_of(float("nan"), margin)
        limit = float(v.limit) if np.ndim(v.limit) == 0 else float("nan")
        found[link, v.what] = Doubtful(
            link, v.what, v.key, v.advice, limit, v.sense, chance, 4 * chance * (1 - chance), band.low, band.high
        )
    return tuple(sorted(found.values(), key=lambda d: (-d.doubt, d.advice)))


def measure_first(build: Build, workings: Workings) -> MeasureFirst:
    """The ranked list: which reading firms the verdicts most.

    build: Build (floats). workings: Workings of it, with samples.
    Returns MeasureFirst; without readings where fewer than 40 samples were drawn.  A verdict's doubt is 4 p (1 - p) of
    the chance p that its limit is passed; what a reading is expected to take away of it is 4 Var(p given the reading)
    (law of total variance), so that no reading can be expected to add doubt.  A verdict that is not known at all counts
    as a whole doubt, and what would answer it takes all of it away.  Where no verdict is in doubt, readings
    are ranked by how much they narrow the bands.  A supply that is refused, past a limit of volts or to be left alone
    by a caution is not sent to be read: only what is read with the power off is offered.
    """
    told = chances(workings)
    doubts = tuple(d for d in told if IN_DOUBT < d.chance < 1 - IN_DOUBT)
    unknown = tuple(dict.fromkeys((v.what, v.why) for _, v in workings.verdicts if v.state == "not known"))
    drawn = workings.drawn
    if drawn is None or drawn.count < LEAST_SAMPLES:
        return MeasureFirst(doubts, (), unknown, 0 if drawn is None else drawn.count)
    judged = [d for d in doubts or told if np.isfinite(drawn.margins[d.link, d.what]).all() and d.low < d.high]
    margins = np.array([drawn.margins[d.link, d.what] for d in judged]).reshape(len(judged), drawn.count)
    readings = []
    stopped = _stopped(build, workings)
    for row in rows("first_readings"):
        if stopped and row["power"] == "on":
            continue
        target, paths, error = _target(build, drawn, row)
        found = None if target is None or not judged else firmed_by(target, margins)
        answers = answered(build, workings, row["key"])
        if found is not None or answers:
            readings.append(_reading(row, (paths, error, answers), judged, found, margins))
    if doubts or any(r.answers for r in readings):
        readings.sort(key=lambda r: (-r.firms, r.minutes))
    else:
        readings.sort(key=lambda r: (np.mean([v[1] for v in r.verdicts]), r.minutes))
    return MeasureFirst(tuple(judged) if doubts else (), tuple(readings), unknown, drawn.count)


def _stopped(build, workings):
    """Whether nothing may be read while the supply is on."""
    volts = any(link == "supply" and v.key == "open_v" and v.state == "over" for link, v in workings.verdicts)
    refused = workings.supply is not None and workings.supply.refused
    return bool(volts or refused) or any(is_stop(r) for r in cautions_for(build, workings))


def _reading(row, told, judged, found, margins):
    """A row of the list.  told: (paths, error, answers). found: Firmed, None where it answers alone."""
    paths, error, answers = told
    answer = sum(ADVICE_COUNTS if advice else 1.0 for _, advice in answers)
    if found is None:
        verdicts, gain = tuple((0.0, 1.0, 0.0, d.low, d.high) for d in judged), 0.0
    else:
        taken = found.told * [d.doubt for d in judged]
        gain = float(np.array([ADVICE_COUNTS if d.advice else 1.0 for d in judged]) @ taken)
        verdicts = tuple(zip(*(map(float, x) for x in (taken, found.left, found.settled, *found.typical(margins)))))
    return FirstReading(
        row["key"],
        row["area"],
        row["words"],
        row["power"],
        row["instrument"],
        float(row["minutes"]),
        row["basis"],
        paths,
        error,
        gain + answer,
        verdicts,
        answers,
    )


def _target(build, drawn, row):
    """(Target of a row, its paths, smallest error over what is known); (None, (), nan): it tells nothing new."""
    inputs = [p for p in drawn.inputs if fnmatchcase(p, row["tells"]) and _in_use(build, p)]
    of = drawn.inputs if inputs else drawn.outcomes
    paths = inputs or [p for p in drawn.outcomes if p == row["tells"]]
    known, errors, ends, logs, kept, shares = [], [], [], [], [], []
    for path in paths:
        x = of[path]
        if not np.isfinite(x).all() or np.ptp(x) <= 1e-9 * np.abs(x).max():
            continue
        error = _error(row, path, x)
        told = build.known.get(path) if inputs else None
        low, high = (x.min(), x.max()) if told is None else (told.low, told.high)
        share = float(np.median(error) / ((high - low) / 2))
        if share < WORTH_IT:
            known.append(x), errors.append(error), ends.append((low, high)), logs.append(path in drawn.logs)
            kept.append(path), shares.append(share)
    if not kept:
        return None, (), float("nan")
    return Target(*map(np.array, (known, errors, ends, logs))), tuple(kept), min(shares)


def _in_use(build, path):
    """Whether an input belongs to this tool: another reel of the box does not."""
    section, *middle = path.split(".")
    if section != "wire":
        return True
    return ".".join(middle[:-1]) == wound(build).id and get(build, path) is not None


def _error(row, path, x):
    """Half the error of a reading where the truth is x."""
    share, floor = row["own_share"], row["own_floor"]
    if share is None:
        quantity = path.rsplit("_", 1)[-1] if row["quantity"] == OF_THE_PATH else row["quantity"]
        meter = next(r for r in rows("instruments") if r["key"] == row["instrument"] and r["quantity"] == quantity)
        share, floor = meter["share_of_reading"], meter["floor"]
    return share * np.abs(x) + floor
