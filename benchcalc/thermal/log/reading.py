"""Read a warm-up log: any of the CSV files people have, into seconds and degrees, with every repair told."""

import re
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from ...basics.fault import closest, fault
from ...materials.sensors import pt100_temp, tolerance, type_k_temp
from .cells import Remark, cells_of, is_time, number, plain_numbers
from .cleaning import cleaned
from .decoding import LARGEST_BYTES, decoded, too_large
from .power import FEWEST
from .times import seconds_of

REFERENCE_C = 20.0
FEW_STEPS = 20
KINDS = ("degC", "degF", "type K mV", "Pt100 ohm")
_POWER = re.compile(r"power|heater|\bwatts?\b|duty|\bw\b|%", re.I)
_NO_WATTS, ALL_OF_IT = re.compile(r"%|duty|share|on\W*off", re.I), (1.0, 100.0)  # a share, on and off, per cent
_WATTS = re.compile(r"\bw\b|watt", re.I)
_TIME = re.compile(r"time|elapsed|clock|date|second|minute|^\W*(t|s|sec|min|h|ms)\W*$|^t\s*[\[(/,]\s*(s|min|h)", re.I)
_COUNT = re.compile(r"^\W*(index|no|nr|n|#|count|sample|reading|record|row|id)\W*$", re.I)


@dataclass(frozen=True, eq=False)
class WarmUpLog:
    """A log as it is worked with: name, time_s from its first reading, temp_c, resolution_k (its smallest step),
    kind of its channel (KINDS), tolerance_k of the sensor at the hottest reading, power steps or None, channels that
    the file has, every remark, and whether the power is told in watts."""

    name: str
    time_s: np.ndarray
    temp_c: np.ndarray
    resolution_k: float
    kind: str
    channel: str
    tolerance_k: float
    steps: tuple | None
    channels: tuple
    remarks: tuple
    in_watts: bool = False


def read_log(file, **how):
    """Read a log file.

    file: path. how: as `log_of_text`.
    Returns WarmUpLog.  Raises Fault: not there, too large (told before it is read), and all of `log_of_text`.
    """
    path = Path(file)
    if not path.is_file():
        raise fault(
            "log",
            path,
            "is not there.",
            closest(path.name, [p.name for p in path.parent.glob("*.csv")]) if path.parent.is_dir() else "",
            "Give the path from the folder of the sheet.",
        )
    if path.stat().st_size > LARGEST_BYTES:
        raise too_large(path.name, path.stat().st_size)
    return log_of_bytes(path.read_bytes(), path.name, **how)


def log_of_bytes(data, name="log", **how):
    """Read a log from the bytes of a file, as an upload gives them.

    data: bytes. name: for messages. how: as `log_of_text`.
    Returns WarmUpLog.
    """
    text, remarks = decoded(data, name)
    log = log_of_text(text, name, **how)
    return replace(log, remarks=(*remarks, *log.remarks))


def log_of_text(text, name="log", *, channel=None, time=None, kind=None, reference_c=None, clean=True):
    """Read a log from its text: columns parted by comma, semicolon, tab or blanks, with or without a header.

    text: of the file. name: for messages. channel: name or number (from 1, time not counted) of the column to read,
    None for the first that is a temperature. time: one of times.WAYS where the file does not say.
    kind: one of KINDS where it does not say. reference_c: degC, other end of a thermocouple read in mV.
    clean: False to keep falls, spikes and stuck readings in.
    Returns WarmUpLog.  Its remarks tell, line by line, all that was taken for granted, repaired or left out.
    Raises Fault: empty, one column, no times, no readings, time running backwards, no such channel.
    """
    cells, comma = cells_of(text, name)
    told = [*cells.remarks]
    at = _time_column(cells)
    seconds, more = seconds_of([r[at] for r in cells.rows], cells.lines, cells.heads[at], comma, time, name)
    told += more
    others = [i for i in range(len(cells.heads)) if i != at]
    power = next((i for i in others if _POWER.search(cells.heads[i])), None)
    channels = {
        i: cells.heads[i] or f"column {n}"
        for n, i in enumerate(others, 1)
        if i != power and not _COUNT.match(cells.heads[i]) and not is_time(cells.rows[0][i])
    }
    pick = _pick(channels, channel, name)
    if len(channels) > 1:
        told.append(Remark(0, f"channels: {', '.join(channels.values())}; read: {channels[pick]}"))
    values, more = _column(cells, pick, comma, channels[pick])
    told += more
    _refuse_empty(values, cells.rows[0][pick], channels[pick], name)
    kind, more = _kind(cells.heads[pick], channels[pick], values, kind)
    told += more
    temps, more = _degrees(values, kind, reference_c)
    told += more
    watts = _column(cells, power, comma, cells.heads[power])[0] if power is not None else None
    lines = np.array(cells.lines)
    time_s, temp_c, watts, _, more = cleaned(seconds, temps, watts, lines, name, clean, kind)
    told += more
    if len(time_s) < 4:
        raise fault(name, f"{len(time_s)} readings", f"are left; a fit needs {FEWEST}.", do="Write down more points.")
    half_k, more = _sensor_limit(kind, float(np.nanmax(temp_c)))
    told += more
    return WarmUpLog(
        name,
        time_s - time_s[0],
        temp_c,
        _resolution(temp_c),
        kind,
        channels[pick],
        half_k,
        _steps(time_s - time_s[0], watts),
        tuple(channels.values()),
        tuple(told),
        power is not None and _in_watts(cells.heads[power], watts),
    )


def _refuse_empty(values, first, channel, name):
    """Complain of a channel with fewer than two readings; first: its first cell."""
    if np.isfinite(values).sum() < 2:
        raise fault(
            name,
            first,
            f"has no readings in {channel}.",
            "Every one is missing, or a text." if np.isnan(values).all() else "There is only one.",
            "Name another channel, or look at the probe.",
        )


def _sensor_limit(kind, at_most):
    """What the sensor may be off at the hottest reading (degC), K, and the remark that says which sensor was taken."""
    sensor, grade = ("Pt100", "B") if kind == "Pt100 ohm" else ("type K", "2")
    half_k = tolerance(sensor, grade, np.clip(at_most, -40.0, 850.0)).half_k
    if kind not in ("type K mV", "Pt100 ohm"):
        return half_k, []
    said = f"{sensor}, class {grade} taken: {half_k:.1f} K either way at {at_most:.0f} degC, by itself"
    return half_k, [Remark(0, said)]


def _time_column(cells):
    named = [i for i, h in enumerate(cells.heads) if _TIME.search(h.strip())]
    first = named[0] if named else 0
    row = cells.rows[0]
    if is_time(row[first]) and ":" not in row[first]:  # a date by itself: the clock stands beside it
        return next((i for i, c in enumerate(row) if ":" in c), first)
    if not named and _COUNT.match(cells.heads[0]):
        return 1
    if not named:
        return next((i for i, c in enumerate(row) if is_time(c)), 0)
    return first


def _pick(channels, channel, name):
    if not channels:
        raise fault(name, "", "has a time, but no column of readings.")
    names = list(channels.values())
    if channel is None:
        hot = [i for i, h in channels.items() if re.search(r"temp|°|deg\s*[CF]\b|tip|probe|\bT\d?\b|mV|ohm|Pt100", h)]
        return hot[0] if hot else next(iter(channels))
    if isinstance(channel, int) or str(channel).isdecimal():
        if not 1 <= int(channel) <= len(names):
            raise fault(f"{name}, channel", channel, f"is not 1 to {len(names)}.", closest(str(channel), names))
        return list(channels)[int(channel) - 1]
    for i, word in channels.items():
        if word.lower() == str(channel).lower():
            return i
    raise fault(f"{name}, channel", channel, "is not a column of this file.", closest(channel, names))


def _column(cells, i, comma, word):
    values, remarks = plain_numbers([row[i] for row in cells.rows], comma), []
    if values is not None:
        return values, remarks
    values = []
    for n, row in zip(cells.lines, cells.rows):
        found = number(row[i], comma)
        if found is None or found != found:
            said = (
                f"{row[i][:30]!r} in {word} is no number"
                if found is None
                else f"no reading in {word} ({row[i] or 'blank'})"
            )
            remarks.append(Remark(n, f"{said}: left out"))
        values.append(np.nan if found is None else found)
    return np.array(values), remarks


def _kind(head, word, values, kind):
    if kind is not None:
        if kind not in KINDS:
            raise fault("kind of reading", kind, "is none that can be read.", closest(kind, KINDS))
        return kind, []
    for pattern, found in (
        (r"mv|millivolt", "type K mV"),
        (r"ohm|Ω|pt100", "Pt100 ohm"),
        (r"°\s*f|deg\s*f|\bf\b|fahrenheit", "degF"),
        (r"°\s*c|deg\s*c|\bc\b|celsius|_c\b", "degC"),
    ):
        if re.search(pattern, head.lower()):
            return found, []
    first = values[np.isfinite(values)][0]
    ask = f"; it begins at {first:.0f}: if that is degF, say so" if 45 < first < 110 else ""
    return "degC", [Remark(0, f"{word}: the file names no unit, degC taken{ask}")]


def _degrees(values, kind, reference_c):
    if kind == "degF":
        return (values - 32) * 5 / 9, [Remark(0, "degF turned into degC")]
    if kind == "type K mV":
        other = REFERENCE_C if reference_c is None else reference_c
        said = "taken" if reference_c is None else "as told"
        return type_k_temp(values * 1e-3, other), [
            Remark(0, f"type K millivolts turned into degC, the other end at {other:g} degC ({said})")
        ]
    if kind == "Pt100 ohm":
        return pt100_temp(values), [Remark(0, "Pt100 ohms turned into degC, no leads taken off")]
    return values, []


def _resolution(temps):
    """The smallest step the readings make, K (0 where there is none).

    Of few readings, far apart, that is the last digit that was written; their own steps are the warm-up.
    """
    steps = np.abs(np.diff(np.unique(np.round(temps, 6))))
    steps = steps[steps > 1e-4]
    if 0 < steps.size < FEW_STEPS:
        return float(np.gcd.reduce(np.round(steps * 1e3).astype(int))) / 1e3
    return float(np.percentile(steps, 5)) if steps.size else 0.0


def _in_watts(head, watts):
    """Whether a power column holds watts, and not a share of the full ones.  head: its name. watts: its values."""
    most = float(np.nanmax(watts, initial=0.0))
    return bool(_WATTS.search(head)) or not _NO_WATTS.search(head) and most > 0 and most not in ALL_OF_IT


def _steps(time_s, watts):
    """Power steps ((time_s, power_w), ...) of a power column, or None."""
    if watts is None or not np.isfinite(watts).any():
        return None
    filled = np.where(np.isfinite(watts), watts, 0.0)
    level = 0.02 * filled.max()
    places = [0, *(1 + np.flatnonzero(np.abs(np.diff(filled)) > level))]
    return tuple((float(time_s[i]), float(filled[i])) for i in places)
