"""Clean a log: what cannot be a warming tool is left out, and each time it is said."""

import numpy as np

from ...basics.fault import fault
from .cells import Remark
from .misread import misread, scatter

OUTSIDE_C = (-60.0, 1400.0)
FALL_K, STUCK_READINGS = 10.0, 6
FIRST_ODD = "the first reading does not fit those after it"
LAST_ODD = "the last reading leaves the curve of those before it (misread, or the power, the air or the probe changed)"
FALL_TIMES = 3.0  # a node that has settled cools no faster than it once warmed: three times as fast is a probe come off


def cleaned(seconds, temps, watts, lines, name, clean=True, kind="degC"):
    """Readings in order of time, faults left out.

    seconds, temps: arrays (n,), nan where missing. watts: power (n,) or None. lines: line numbers (n,). name: for
    messages. clean: False to keep spikes, falls and stuck readings. kind: of the readings, as the file has them.
    Returns (seconds, temps, watts, lines, remarks).
    Raises Fault: time running backwards.
    """
    told = []

    def keep(good, said, values=False):
        nonlocal seconds, temps, watts, lines
        out, gone = lines[~good], iter(temps[~good])
        for first, n in _runs(out):
            these = " and ".join(_as_read(next(gone), kind) for _ in range(n)) + ": " if values else ""
            told.append(Remark(int(first), f"{these}{said}: {_count(n)} left out", look=True))
        seconds, temps, lines = seconds[good], temps[good], lines[good]
        watts = None if watts is None else watts[good]

    steps = np.diff(seconds[np.isfinite(seconds)])
    if steps.size and (steps < 0).sum() > 0.5 * steps.size:
        raise fault(
            f"{name}, time",
            "",
            "runs backwards in most lines.",
            "The newest reading may stand first.",
            "Turn the lines round, so that the first reading stands first.",
        )
    silent = np.isfinite(seconds) & np.isfinite(temps)  # missing ones were told where they were read
    seconds, temps, lines, watts = (
        seconds[silent],
        temps[silent],
        lines[silent],
        None if watts is None else watts[silent],
    )
    keep(
        (temps >= OUTSIDE_C[0]) & (temps <= OUTSIDE_C[1]),
        "no temperature of a bench tool (an open probe reads like this)",
    )
    keep(seconds >= np.maximum.accumulate(np.where(seconds <= _far(seconds), seconds, -np.inf)), "time goes backwards")
    keep(seconds <= _far(seconds), "time jumps far ahead")
    if seconds.size and (np.diff(seconds) == 0).any():
        seconds, temps, watts, lines, more = _merged(seconds, temps, watts, lines)
        told += more
    if clean and len(temps) >= 5:
        odd = misread(seconds, temps, watts)
        if odd.first:
            told.append(Remark(int(lines[0]), f"{FIRST_ODD} ({_as_read(temps[0], kind)}): look at it", look=True))
        end = lines[-1]
        keep(odd.good | (lines == end), "a spike that its neighbours do not share", values=True)
        keep((lines != end) | (not odd.last), LAST_ODD, values=True)
    if clean and len(temps) > 5:
        keep(_not_fallen(seconds, temps), "falls faster than the tool can cool (has the probe come off?)")
        keep(_not_stuck(temps), "the same reading again and again, then a jump (stuck)")
    if seconds.size > 5:
        usual = np.median(np.diff(seconds))
        for i in np.flatnonzero(np.diff(seconds) > 5 * usual)[:20]:
            told.append(Remark(int(lines[i + 1]), f"gap of {seconds[i + 1] - seconds[i]:.0f} s before it"))
    return seconds, temps, watts, lines, told


def _as_read(temp_c, kind):
    """A reading as a maker finds it in his file, others than degrees in degC.  temp_c: degC. kind: of the readings."""
    return f"{1.8 * temp_c + 32:.0f} degF" if kind == "degF" else f"{temp_c:.0f} degC"


def _count(n):
    return "it is" if n == 1 else f"{n} lines are"


def _runs(lines):
    """First line and length of each run of neighbouring lines."""
    if not len(lines):
        return []
    cuts = np.flatnonzero(np.diff(lines) > 1) + 1
    return [(run[0], len(run)) for run in np.split(lines, cuts)]


def _far(seconds):
    """A time that lies beyond all but mad ones: a single wrong digit must not throw the rest out."""
    if seconds.size < 6:
        return np.inf
    usual = np.median(np.abs(np.diff(seconds)))
    return np.sort(seconds)[int(0.9 * (seconds.size - 1))] + max(
        1e3 * usual, np.ptp(np.sort(seconds)[: int(0.9 * seconds.size)]) * 9
    )


def _merged(seconds, temps, watts, lines):
    places, first = np.unique(seconds, return_index=True)
    mean = np.add.reduceat(temps, first) / np.diff(np.append(first, temps.size))  # times stand in order here
    told = [
        Remark(int(lines[i + 1]), "the same time as the line before: the mean of both is taken")
        for i in np.flatnonzero(np.diff(seconds) == 0)
    ]
    if len(told) > 0.3 * len(places):
        told = [
            Remark(
                told[0].line,
                f"times stand twice in {len(told)} lines (a clock of whole seconds or minutes): means taken",
            )
        ]
    return places, mean, None if watts is None else watts[first], lines[first], told


def _not_fallen(seconds, temps):
    """Where the reading drops at once and stays down: everything from there on; back up: the stretch between."""
    good = np.ones(len(temps), bool)
    rate = np.diff(temps) / np.diff(seconds)
    rises = np.sort((temps[2:] - temps[:-2]) / (seconds[2:] - seconds[:-2]))
    fastest = max(rises[-3 if rises.size >= 18 else -1], 0.0)  # past the jump of a probe that is put back
    noise = scatter(temps)
    for i in np.flatnonzero(rate < 0):
        drop = temps[i] - temps[i + 1]
        if good[i] and drop > max(FALL_K, 8 * noise, 0.15 * np.ptp(temps)) and -rate[i] > FALL_TIMES * fastest > 0:
            back = np.flatnonzero(temps[i + 1 :] > temps[i] - 0.3 * drop)
            good[i + 1 : (i + 1 + back[0]) if back.size else len(temps)] = False
    return good


def _not_stuck(temps):
    """Runs of equal readings, followed by a jump that the time between does not explain; the first is kept."""
    good = np.ones(len(temps), bool)
    starts = np.flatnonzero(np.diff(temps, prepend=np.nan) != 0)
    ends = np.append(starts[1:], len(temps))
    usual = np.median(np.abs(np.diff(temps))[np.diff(temps) != 0]) if (np.diff(temps) != 0).any() else np.inf
    for a, b in zip(starts, ends):
        if b - a >= STUCK_READINGS and b < len(temps) and abs(temps[b] - temps[a]) > max(6 * usual, 3.0):
            good[a + 1 : b] = False
    return good
