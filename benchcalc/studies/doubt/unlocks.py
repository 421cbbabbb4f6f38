"""Which verdicts, not known today, a reading would answer at all: it is played out and the chain asked again."""

from dataclasses import replace
from types import MappingProxyType

import numpy as np

from ...basics.fault import Fault
from ...chain.as_told import without_guesses
from ...chain.workings import all_parts, all_verdicts
from ...sheet.build import Build, Reading
from ...sheet.build_supply import Cooling, Hour, Soak

COLD_OHM, ROOM_C = 10.0, 20.0  # any will do: what can be judged then does not hang on what is read
WARMER = 1.1
HOURS_S, AFTER_S = (1800.0, 3600.0, 7200.0), (10.0, 30.0, 60.0)


def answered(build: Build, workings, key: str) -> tuple:
    """The verdicts that are not known today and would be after a reading.

    build: Build (floats). workings: Workings of it. key: of data/first_readings.csv.
    Returns tuple of (what, whether it only advises); empty for a reading that adds nothing new of the kind.  What is
    not known for a guess on the sheet stays so, unless the reading takes that guess away.
    """
    unknown = {v.what: v.advice for _, v in workings.verdicts if v.state == "not known" and not v.borrowed}
    after = PLAYED[key](build, workings) if unknown and key in PLAYED else None
    if after is None:
        return ()
    try:
        then = {v.what: v.state for _, v in without_guesses(after, all_verdicts(after, all_parts(after)[0], {}))}
    except Fault:
        return ()
    return tuple((what, advice) for what, advice in unknown.items() if then.get(what, "not known") != "not known")


def _no_load(build, workings):
    """The volts with nothing connected, where a sheet has loaded readings alone."""
    supply = build.supply
    loaded = [r for r in supply.reading if r.amps_a]
    if not loaded or supply.open_v is not None or len(loaded) != len(supply.reading):
        return None
    line = workings.supply
    guess = line.open_v if line is not None and np.isfinite(line.open_v) else 1.1 * max(r.volts_v for r in loaded)
    known = {p: k for p, k in build.known.items() if p != "supply.source_share"}
    reading = (Reading(volts_v=float(guess), amps_a=0.0), *supply.reading)
    return replace(
        build, supply=replace(supply, reading=reading, source_share=None), known=MappingProxyType(_moved(known))
    )


def _moved(known):
    """What is known of readings, each one place further down."""
    found = {}
    for path, k in known.items():
        names = path.split(".")
        if names[:2] == ["supply", "reading"]:
            path = ".".join(["supply", "reading", str(int(names[2]) + 1), *names[3:]])
        found[path] = k
    return found


def _soak(build, workings):
    """A soak test under the coil's own current, where a transformer has none."""
    coil = workings.coil
    if build.supply.kind != "transformer" or build.soak.cold_ohm is not None or coil is None:
        return None
    hot = WARMER * COLD_OHM
    soak = Soak(
        cold_ohm=COLD_OHM,
        cold_room_c=ROOM_C,
        end_room_c=ROOM_C,
        winding_class=build.soak.winding_class,
        metal=build.soak.metal or "copper",
        load_a=float(coil.load_a) if np.isfinite(coil.load_a) else None,
        cooling=tuple(Cooling(s, hot - 1e-3 * s) for s in AFTER_S),
        hour=tuple(Hour(s, hot * (1 - 0.05 * np.exp(-s / 1800))) for s in HOURS_S),
    )
    return replace(build, soak=soak)


PLAYED = {"open-again": _no_load, "winding-soak": _soak}
