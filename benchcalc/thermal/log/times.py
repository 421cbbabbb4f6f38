"""The time column of a log: seconds, minutes, mm:ss, hh:mm:ss, dates, and clocks that pass midnight."""

import re
from datetime import date

import numpy as np

from ...basics.fault import closest, fault
from .cells import MISSING, ZONE, Remark, number, plain_numbers

DAY_S = 86400.0
UNITS_S = {"s": 1.0, "min": 60.0, "h": 3600.0, "ms": 1e-3}
WAYS = (*UNITS_S, "mm:ss", "hh:mm", "hh:mm:ss")
SHORTEST_PLAIN_S = 240.0  # a log that is over in four of whatever it counts could be in seconds or in minutes
_HEAD_UNITS = (
    (r"milli|\bms\b", "ms"),
    (r"\bmin(ute)?s?\b", "min"),
    (r"\bh(ou)?rs?\b|\bh\b", "h"),
    (r"\bs(ec(ond)?s?)?\b", "s"),
)
_DATED = re.compile(
    r"(\d{1,4})([-./])(\d{1,2})\2(\d{1,4})(?:[T ]+(\d{1,2}):(\d{2})(?::(\d{2}(?:[.,]\d+)?))?\s*([AaPp][Mm])?)?"
    r"\s*(Z|UTC|GMT|[+-]\d{2}:?\d{2})?$"
)


def seconds_of(texts, lines, head, comma, way, name):
    """A time column in seconds from its first reading.

    texts: cells. lines: their line numbers. head: the column's name or "". comma: decimal comma. way: None (find out),
    or one of WAYS. name: of the file, for messages.
    Returns (array (n,), nan where a time cannot be read; list of Remark).
    Raises Fault: seconds or minutes, mm:ss or hh:mm cannot be told apart; no time can be read.
    """
    if way is not None and way not in WAYS:
        raise fault(f"{name}, time", way, "is no way to write a time here.", closest(way, WAYS))
    remarks = []
    if any(re.match(r"\d{4}[-/]|\d{1,2}[./]\d{1,2}[./]", t) for t in texts):
        found, told = _dates(texts)
        remarks += told
    elif sum(":" in t for t in texts) > 0.5 * len(texts):
        found, told = _clocks(texts, head, way, name)
        remarks += told
    else:
        plain = plain_numbers(texts, comma)
        found = [number(t, comma) for t in texts] if plain is None else plain.tolist()
        unit, told = _unit(found, head, way, name)
        remarks += told
        found = [None if x is None else x * UNITS_S[unit] for x in found]
    for text, line, value in zip(texts, lines, found):
        if value is None or value != value:
            said = "no time" if text.strip().lower() in MISSING else f"{text[:30]!r} is no time"
            remarks.append(Remark(line, f"{said}: line left out"))
    seconds = np.array([np.nan if x is None else x for x in found], dtype=float)
    if np.isfinite(seconds).sum() < 2:
        raise fault(
            f"{name}, time",
            texts[0] if texts else "",
            "could not be read as a time.",
            "The first column, or one named time, is taken.",
            "Write seconds, minutes, mm:ss or hh:mm:ss.",
        )
    return seconds, remarks


def _unit(values, head, way, name):
    if way in UNITS_S:
        return way, []
    words = re.sub(r"[_\[\]()/.,]", " ", head.lower())
    for pattern, unit in _HEAD_UNITS:
        if re.search(pattern, re.sub(r"^\s*t\s", " ", words)):
            return unit, []
    numbers = [x for x in values if x is not None and x == x]
    span = max(numbers, default=0.0) - min(numbers, default=0.0)
    if span <= SHORTEST_PLAIN_S:
        raise fault(
            f"{name}, time",
            f"0 to {span:g}",
            "could be seconds or minutes: the file does not say.",
            do='Name the column "time, min" or "time, s", or say how times are written: time="min".',
        )
    return "s", [Remark(0, "time: the file names no unit, seconds are taken")]


def _clocks(texts, head, way, name):
    parts = [re.match(r"(\d+):(\d+)(?::(\d+(?:[.,]\d+)?))?\s*([AaPp][Mm])?" + ZONE, t.strip()) for t in texts]
    three = any(p and p[3] for p in parts)
    firsts = [int(p[1]) for p in parts if p]
    if three or way == "hh:mm:ss":
        big, small, last = 3600.0, 60.0, 1.0
    else:
        words = head.lower()
        if way is None:
            way = (
                "hh:mm"
                if "hh" in words or "clock" in words or any(p and p[4] for p in parts)
                else "mm:ss"
                if "mm:ss" in words or max(firsts, default=0) >= 24 or texts[0].strip() in ("0:00", "00:00")
                else "hh:mm"
                if 23 in firsts and 0 in firsts
                else None
            )
        if way is None:
            raise fault(
                f"{name}, time",
                texts[0],
                "could be minutes and seconds, or hours and minutes.",
                do='Begin at 0:00, write hh:mm:ss, or say how times are written: time="mm:ss" or "hh:mm".',
            )
        big, small, last = (3600.0, 60.0, 0.0) if way == "hh:mm" else (60.0, 1.0, 0.0)
    found, days, before, remarks = [], 0.0, None, []
    for text, p in zip(texts, parts):
        if p is None:
            found.append(None)
            continue
        hours = int(p[1])
        if p[4]:
            hours = hours % 12 + (12 if p[4].lower() == "pm" else 0)
        at = hours * big + int(p[2]) * small + float((p[3] or "0").replace(",", ".")) * last
        if big == 3600.0 and before is not None and at < before - DAY_S / 2:
            days += DAY_S
            remarks.append(Remark(0, f"the clock passes midnight at {text.strip()}: a day added from there on"))
        before = at
        found.append(at + days)
    return found, remarks


def _dates(texts):
    """Dates with their clocks in seconds, None where one cannot be read; and what was taken for granted.

    A date with slashes or dots may begin with the day or the month: the way that leaves fewest unread stands, then that
    in which the log is shorter (a midnight must not turn into a month), then the day.
    """
    parts = [_DATED.match(" ".join(t.split())) for t in texts]
    ways = []
    for month_first in (False, True):
        known = {}
        ways.append([_date(p, month_first, known) for p in parts])

    def worth(found):
        numbers = [x for x in found if x is not None]
        return len(numbers), -(max(numbers) - min(numbers)) if numbers else 0.0

    by_month = worth(ways[1]) > worth(ways[0])
    told = [Remark(0, f"dates such as {texts[0].strip()[:30]} read with the month first")] if by_month else []
    return ways[by_month], told


def _date(p, month_first, known):
    """Seconds of one date.  p: match of _DATED, or None. known: dates met before, kept by the caller."""
    if p is None:
        return None
    first, _, middle, last, hour, minute, second, half, zone = p.groups()
    at = (first, middle, last)
    if len(first) == 4:
        year, month, day = first, middle, last
    elif len(last) in (2, 4):
        year, month, day = (last, first, middle) if month_first and p[2] != "." else (last, middle, first)
    else:
        return None
    if at not in known:
        try:
            known[at] = (
                date(int(year) + (2000 if len(year) == 2 else 0), int(month), int(day)) - date(2000, 1, 1)
            ).days
        except ValueError:
            known[at] = None
    if known[at] is None:
        return None
    hours = int(hour or 0)
    if half:
        hours = hours % 12 + (12 if half.lower() == "pm" else 0)
    if hours > 23 or int(minute or 0) > 59:
        return None
    seconds = hours * 3600.0 + int(minute or 0) * 60.0 + float((second or "0").replace(",", "."))
    return known[at] * DAY_S + seconds - _zone_s(zone)


def _zone_s(zone):
    """How far a zone is ahead of the common clock, s.  zone: "+01:00", "Z" or None."""
    if not zone or zone[0] not in "+-":
        return 0.0
    digits = zone[1:].replace(":", "")
    return (1 if zone[0] == "+" else -1) * (int(digits[:2]) * 3600.0 + int(digits[2:]) * 60.0)
