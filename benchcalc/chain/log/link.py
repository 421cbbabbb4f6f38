"""The warm-up logs of a sheet: read, fitted, and set beside the parts list.  No physics here, only the calls."""

from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path

import numpy as np

from ...basics.fault import Fault, closest, fault
from ...basics.tables import data_folder
from ...materials.bulk import solid
from ...sheet.build import Build
from ...sheet.defaults import default
from ...thermal.log.power import data_of
from ...thermal.log.reading import WarmUpLog, read_log
from ...thermal.network.stored import state_at
from ...thermal.warmup.as_seen import metal_behind
from ...thermal.warmup.curve import HOTTEST_C
from ...thermal.warmup.forecast import Forecast, forecast
from ...thermal.warmup.formulas import fitted_capacity, thermal_resistance, time_near_end
from ..parts import NAN, Keyed
from .end import first_to_melt, is_no_end

NEAR_K = 5.0
UNTOLD = "pressed bead"  # the worst contact: what counts where nobody tells how a probe sits
RESTS_ON_END = ("end_c", "high_c", "wide_high_c", "metal_c", "metal_high_c", "slow_s", "near_s")
RESTS_ON_END += ("resistance_k_per_w", "capacity_j_k")


@dataclass(frozen=True, eq=False)
class LogPart:
    """A fitted log.  end_c with low_c, high_c (form right) and wide_low_c, wide_high_c (a slow part hidden), as the
    probe reads; metal_c, metal_low_c, metal_high_c: with what the probe's attachment may hide.  slow_s; near_s: time to
    within 5 K of the end; lasted_s: length used; load_w: power at full; resistance_k_per_w, capacity_j_k: as the probe
    sees them; log, forecast: all behind it.  Unknown values are nan; where no end can be told, so are it, the upper
    ends and all that rests on it.  most_c, melts: where the first part of the tool melts, and which one."""

    name: str
    end_c: float
    low_c: float
    high_c: float
    wide_low_c: float
    wide_high_c: float
    metal_c: float
    metal_low_c: float
    metal_high_c: float
    slow_s: float
    near_s: float
    lasted_s: float
    load_w: float
    resistance_k_per_w: float
    capacity_j_k: float
    log: WarmUpLog
    forecast: Forecast
    remarks: tuple
    most_c: float = HOTTEST_C
    melts: str = ""

    @property
    def no_end(self):
        """Whether the log cannot tell yet where it ends."""
        return bool(self.spoilt) or is_no_end(self.end_c, self.high_c, self.most_c)

    @property
    def spoilt(self):
        """Why no curve can tell its end, in words; "" where one can."""
        return next((r.text for r in self.remarks if r.spoils), "")

    @property
    def own_remarks(self):
        """What was done with the log after it was read, such as taking it as switched off."""
        return self.remarks[len(self.log.remarks) :]


def log_path(build, file):
    """Where a sheet's log lies: beside the sheet, else in data/logs/.

    build: Build. file: as typed: a name alone, since a sheet may come from a stranger and must not open what it likes.
    Returns Path of a plain file within one of these two folders.
    Raises Fault: a path instead of a name, a link that leads out of the folder, not there (with the closest names).
    """
    folders = (Path(build.file).parent if build.file else Path.cwd(), data_folder() / "logs")
    if file in ("", ".", "..") or any(sign in file for sign in "/\\:\0"):
        raise fault(
            "log.file",
            file[:60],
            "must be the name of a file, without a folder.",
            "Logs are read from the folder of the sheet or from data/logs alone.",
            'Put the file beside your sheet and write its name, such as file = "my_log.csv".',
        )
    for folder in folders:
        try:
            place = (folder / file).resolve()
            inside, there = place.parent == folder.resolve(), place.is_file()
        except (OSError, RuntimeError):
            continue  # a name too long, a link in a circle: not there
        if there and inside:
            return folder / file
        if there:
            raise fault(
                "log.file",
                file[:60],
                "is a link to another folder.",
                "Logs are read from the folder of the sheet or from data/logs alone.",
                "Put the file itself beside your sheet.",
            )
    near = [p.name for folder in folders for p in folder.glob("*.csv")]
    raise fault("log.file", file[:60], "is not there.", closest(file[:60], near), "Put the file beside your sheet.")


@lru_cache(maxsize=32)
def _read(path, _changed, channel, time, reads):
    return read_log(path, channel=channel, time=time, kind=reads)


def sheet_log(build, index=0):
    """One of the sheet's logs, read.

    build: Build with [[log]]. index: which, from 0.
    Returns WarmUpLog.  Raises Fault: none on the sheet, file missing, or what reading it complains of.
    """
    if not build.log or build.log[index].file is None:
        raise fault("log", "", "stands in no [[log]] of this sheet.", do='Write file = "my_log.csv" under [[log]].')
    one = build.log[index]
    path = log_path(build, one.file)
    return _read(str(path), path.stat().st_mtime_ns, one.channel, one.time, one.reads)


def work_log(coil, log, *, until_s=None, at=None, steps=None, cooling=False, quick=False) -> LogPart:
    """Fit a log of this tool.

    coil: part of the chain, or None. log: WarmUpLog. until_s: s, use it up to here.
    at: the sheet's Log (how the probe was attached), or None. steps: power steps instead of the log's own.
    cooling: the log begins at switching off. quick: linear errors only, for a moving slider.
    Returns LogPart.  Power: the log's own column, else what the sheet says of the log, else what its coil takes.
    Raises Fault: see data_of.
    """
    data, full_w, remarks = data_of(log, steps=steps, until_s=until_s, cooling=cooling)
    exponent = None
    if quick and len(data.steps) > 1:  # the whole log knows it, and is kept
        exponent = _forecast(_as_key(data_of(log, steps=steps, cooling=cooling)[0])).exponent
    found = forecast(data, quick=True, exponent=exponent) if quick else _forecast(_as_key(data))
    shape = found.shape
    said_w = None if at is None else at.power_w
    full_w = full_w if log.in_watts or steps is not None else None  # a share of the full power tells no watts
    watts = full_w if full_w is not None else said_w if said_w is not None else coil.coil_w if coil is not None else NAN
    heated = watts > 0 and not cooling  # nan is not
    resistance = thermal_resistance(shape.rise_k, watts) if heated else NAN
    mean_s = shape.dead_s + shape.weight * shape.slow_s + (1 - shape.weight) * shape.fast_s
    metal = (
        attached_end(at, shape.start_c, (shape.end_c, found.wide_low_c, found.wide_high_c))
        if not cooling
        else (NAN,) * 3
    )
    part = LogPart(
        log.name,
        shape.end_c,
        found.low_c,
        found.high_c,
        found.wide_low_c,
        found.wide_high_c,
        *metal,
        shape.slow_s,
        time_near_end(shape, NEAR_K) if abs(shape.rise_k) > NEAR_K else 0.0,
        data.span_s,
        float(watts),
        resistance,
        fitted_capacity(mean_s, resistance) if heated else NAN,
        log,
        found,
        (*log.remarks, *remarks),
    )
    return part if cooling else only_told(part, (HOTTEST_C, ""))


def only_told(part, melts):
    """A fitted log without the numbers that it cannot tell.

    part: LogPart. melts: (degC, id of the part), as first_to_melt.
    Returns LogPart; where no end can be told it is nan, and so are its upper ends and all that rests on it.
    """
    part = replace(part, most_c=melts[0], melts=melts[1])
    return replace(part, **dict.fromkeys(RESTS_ON_END, NAN)) if part.no_end else part


def work_warm_up(build: Build, coil):
    """The warm-up link: the longest of the sheet's logs that can be fitted.

    build: Build (floats). coil: part of the chain, or None.
    Returns (LogPart or None, its Log or None, sentences on logs that cannot be used).
    """
    read, troubles, melts = [], [], first_to_melt(build)
    for i, at in enumerate(build.log):
        try:
            read.append((sheet_log(build, i), at))
        except Fault as told:
            troubles.append(str(told))
    for log, at in sorted(read, key=lambda r: -r[0].time_s[-1]):
        try:
            return only_told(work_log(coil, log, at=at), melts), at, troubles
        except Fault as told:
            troubles.append(str(told))
    return None, None, troubles


def _as_key(data):
    """Readings as a key of the cache, so that a page may ask again for nothing."""
    return Keyed((data.time_s.tobytes(), data.temp_c.tobytes(), data.steps), data)


@lru_cache(maxsize=64)
def _forecast(kept):
    return forecast(kept.thing)


def is_attached(at):
    """Whether a log tells how its probe sat, in a word that data/defaults.csv knows.  at: Log."""
    return bool(at.attached) and default(f"sensor.low_share/{at.attached}") is not None


def attached_end(at, start_c, ends_c):
    """What the metal is at where a probe reads low: a share of the rise, by how it is attached.

    at: Log, or None. start_c: degC. ends_c: (nominal, low, high) as read, degC.
    Returns (nominal, low, high) degC of the metal; as read for a log of no tool.  Where a sheet does not tell how its
    probe sits, nothing is put right, and the high end is that of the worst contact, a bead pressed on.
    Shares of data/defaults.csv (sensor.low_share/...).
    """
    if at is None:
        return tuple(ends_c)
    row = default(f"sensor.low_share/{UNTOLD}") | {"value": 0.0, "low": 0.0}
    if is_attached(at):
        row = default(f"sensor.low_share/{at.attached}")
    return tuple(metal_behind(start_c, end, row[which]) for end, which in zip(ends_c, ("value", "low", "high")))


@dataclass(frozen=True)
class Listed:
    """A part of the parts list as a store of heat: mass, heat capacity, and the mean it settles at."""

    id: str
    mass_kg: float
    capacity_j_k: float
    mean_c: float


def listed_parts(build, heat):
    """The parts list as stores of heat.

    build: Build (floats). heat: HeatPart of the chain.
    Returns tuple of Listed, () where no tool could be built.  Specific heat is the mean between the room and where the
    part settles; what melts is not counted as latent heat here.
    """
    if heat is None or heat.model is None or heat.model.designs:
        return ()
    found = []
    for p in heat.model.tool.pieces:
        volume = np.pi / 4 * (float(p.outer_m) ** 2 - float(p.inner_m) ** 2) * (float(p.to_m) - float(p.from_m))
        part = next(x for x in build.part if x.id == p.id)
        settles, room = _mean(heat, p.id), build.room.ambient_c
        taken = (
            float(state_at(p.store, settles) - state_at(p.store, room)) / (settles - room) if settles > room else 1.0
        )
        found.append(
            Listed(p.id, volume * solid(part.material).density_kg_m3, volume * float(p.heat_j_m3k) * taken, settles)
        )
    winding = heat.model.tool.winding
    if winding is not None:
        found.append(Listed("winding", NAN, float(winding.capacity_j_k), _mean(heat, "coil")))
    return tuple(found)


def _mean(heat, id):
    return float(np.mean(heat.model.along(id, heat.temps_c)[1]))
