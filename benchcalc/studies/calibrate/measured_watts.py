"""The watts that were measured on the day of the readings: by a log's own power column, or as the sheet says of it."""

from ...basics.fault import Fault
from ...chain.log.link import sheet_log

METER_W_SHARE = 0.02  # deviation of watts that nobody gives a doubt of, as a share (own judgement)


def log_watts(build, i):
    """Ends of the full power in the coil while a log was read.

    build: Build. i: number of the log on the sheet.
    Returns (low, high) W, None where nobody measured them.
    """
    one = build.log[i]
    half = METER_W_SHARE * 3**0.5  # a uniform input of that deviation
    known = build.known.get(f"log.{i}.power_w")
    try:
        log = sheet_log(build, i)
    except Fault:
        return None
    if log.steps and log.in_watts:
        full_w = max(w for _, w in log.steps)
        return full_w * (1 - half), full_w * (1 + half)
    if one.power_w is None:
        return None
    if known is not None and known.low < known.high:
        return known.low, known.high
    return one.power_w * (1 - half), one.power_w * (1 + half)


def watts_of(build, probes):
    """What the readings of one day agree on of its watts.

    build: Build. probes: of Probe, named as the sheet's logs are.
    Returns (low, high) W, None where no log of them was read with its watts, or where they contradict each other.
    """
    files = {one.file: i for i, one in enumerate(build.log) if one.file}
    ends = [log_watts(build, files[p.name]) for p in probes if p.name in files]
    return common(ends)


def common(ends):
    """What several ranges have in common.

    ends: (low, high) or None, several.
    Returns (low, high), None where none is told or nothing is common to all.
    """
    told = [e for e in ends if e is not None]
    if not told:
        return None
    low, high = max(e[0] for e in told), min(e[1] for e in told)
    return (low, high) if low < high else None
