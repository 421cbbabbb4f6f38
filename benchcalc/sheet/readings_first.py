"""Which readings make a supply's line, and what put down of it beforehand they beat: a guess, not a typed value."""

from dataclasses import replace
from types import MappingProxyType

import numpy as np

from ..heater.supply import is_at_limit
from .build import Build
from .key import ASSUMED


def readings_first(build: Build) -> Build:
    """The build without an assumed no-load voltage or source resistance that its own readings tell.

    build: Build (floats), as typed.
    Returns Build.  A reading without load tells the no-load voltage, a loaded one beside it both; a loaded reading
    alone tells the one that is assumed by the one that is not, and where both are assumed neither is kept.
    """
    supply, known = build.supply, dict(build.known)
    assumed = [f for f in ("open_v", "source_ohm") if _how(known, f) == ASSUMED and getattr(supply, f) is not None]
    gone = [f for f in assumed if f in _told(supply)]
    if not gone:
        return build
    for field in gone:
        known.pop(f"supply.{field}")
    return replace(build, supply=replace(supply, **dict.fromkeys(gone)), known=MappingProxyType(known))


def beaten_guesses(rows, build: Build) -> list:
    """The keys of a supply that the sheet only assumes and its own readings tell.

    rows: of the section supply, as sheet/edits.tables_of. build: Build of that sheet.
    """
    row, fields = (rows[0] if rows else {}), {"open": "open_v", "source": "source_ohm"}
    return [
        key
        for key, field in fields.items()
        if str(row.get(key, "")).endswith(ASSUMED) and field in _told(build.supply) and not _how(build.known, field)
    ]


def _how(known, field):
    k = known.get(f"supply.{field}")
    return None if k is None else k.how


def _told(supply):
    """Which of the line's two numbers the readings tell, beside a typed one or alone.  supply: Supply."""
    idle, loaded, _ = _loads(supply)
    if loaded:
        return ("open_v", "source_ohm")
    return ("open_v",) if idle else ()


def left_out(supply):
    """The readings that stand at the supply's own limit of current, where its volts say nothing of its line.

    supply: Supply.
    Returns tuple of their places on the sheet, from 0.
    """
    limit_a = None if supply.limit_a is None else np.median(supply.limit_a)
    amps = [0.0 if r.amps_a is None else np.median(r.amps_a) for r in supply.reading]
    return tuple(i for i, a in enumerate(amps) if is_at_limit(supply.kind, limit_a, a))


def on_line(supply):
    """The readings that make the supply's line.  supply: Supply.  Returns list of Reading."""
    out = left_out(supply)
    return [r for i, r in enumerate(supply.reading) if i not in out and r.volts_v is not None and r.amps_a is not None]


def _loads(supply):
    """Whether readings of the line are without load, whether with one, and how many."""
    amps = [r.amps_a for r in on_line(supply)]
    idle = any(np.all(np.asarray(a) == 0) for a in amps)
    return idle, any(np.all(np.asarray(a) > 0) for a in amps), len(amps)


def overruled(supply):
    """Which typed numbers of a supply's line stand in place of its readings.

    supply: Supply, floats or arrays.
    Returns tuple of "open_v", "source_ohm"; empty where nothing typed overrules a reading.
    """
    idle, loaded, count = _loads(supply)
    line = loaded and count > 1
    typed = tuple(f for f in ("open_v", "source_ohm") if getattr(supply, f) is not None)
    if len(typed) == 2 and loaded:
        return typed
    return tuple(f for f in typed if line or (idle and f == "open_v"))
