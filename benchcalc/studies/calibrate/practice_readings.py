"""Invented readings on a sheet's own tool, for practice: made by its network with other inputs, and noise."""

import numpy as np

from ...basics.fault import Fault, fault
from ...chain.log.link import sheet_log
from ...sheet.build import Build
from ...sheet.roles import part_with_role
from ...thermal.log.power import data_of
from .measured_watts import common, log_watts
from .probe import log_probe, probe, sheet_markers
from .start import trial_of
from .trial_tool import true_readings

UNTIL_S, POINTS = 2400.0, 81
WITHIN = 0.7  # how far into their bands the hidden inputs may lie
SENSORS = (
    ("invented: front, peened in", "peened or embedded", 0.02),
    ("invented: behind the coil, pressed on", "pressed bead", 0.22),
)
NOISE_K = 1.0
OTHER_DAY = "was read with {:.3g} to {:.3g} W in the coil, the logs before it with others: it is another day."


def own_probes(build):
    """The logs and markers of a sheet of one's own, ready to calibrate by; of a demo, whose logs are invented, none.

    build: Build (floats).
    Returns (tuple of Probe, sentences on logs that were left out: unreadable, without a place, or off the tool's
    metal).
    """
    found, troubles, ends = list(sheet_markers(build)), [], []
    if build.invented:
        return (), ()
    for i in range(len(build.log)):
        try:
            log = sheet_log(build, i)
            data, _, remarks = data_of(log)
            spoilt = [r.text for r in remarks if r.spoils]
            if spoilt:
                raise fault(log.name, "", f"{spoilt[0]}.", do="Give the log a column of its power, or take it again.")
            one = log_probe(build, i, data.time_s, data.temp_c, own_k=max(1.0, log.resolution_k), steps=data.steps)
            trial_of(build, (one,))
            watts = log_watts(build, i)
            if watts is not None and ends and common((*ends, watts)) is None:
                raise fault(one.name, "", OTHER_DAY.format(*watts), do="Take one of them out.")
            ends += [watts] if watts is not None else []
            found.append(one)
        except Fault as told:
            troubles.append(str(told))
    return tuple(found), tuple(troubles)


def page_probes(build: Build) -> tuple:
    """What a page calibrates by: the sheet's own readings, or else invented ones.

    build: Build (floats).
    Returns (tuple of Probe, hidden places of the invented ones or None, sentence).
    """
    own, troubles = own_probes(build)
    left = "".join(f" Left out: {told}" for told in troubles)
    if own:
        return own, None, "These are the readings of your own sheet: " + "; ".join(p.name for p in own) + "." + left
    probes, hidden = practice_probes(build)
    return (
        probes,
        hidden,
        (
            "The two logs here are **invented**: your tool, with inputs that lie somewhere in their bands and that "
            "nobody tells you. Keep a log of your own, with its probe's place, and it takes their place." + left
        ),
    )


def practice_probes(build, seed=7, until_s=UNTIL_S):
    """Two invented logs of the sheet's tool, whose inputs lie somewhere in their bands.

    build: Build (floats). seed: whole number; another seed is another tool. until_s: s, length of the logs.
    Returns (tuple of Probe, places of the hidden inputs in their bands).
    """
    times = np.linspace(0.0, until_s, POINTS)
    rng = np.random.default_rng(seed)
    places = sensor_places(build)
    blanks = [
        probe(words, at_m, times, 20 + times / 60, attached=attached)
        for (words, attached, _), at_m in zip(SENSORS, places)
    ]
    trial = trial_of(build, blanks)
    hidden = rng.uniform(-WITHIN, WITHIN, len(trial.unknowns))
    found, metals = [], np.split(true_readings(trial, hidden), len(blanks))
    for (words, attached, low), at_m, blank, metal in zip(SENSORS, places, blanks, metals):
        read = metal - low * (metal - metal[0]) + rng.normal(0, NOISE_K, metal.size)
        found.append(probe(words, at_m, blank.time_s, read, attached=attached, own_k=NOISE_K))
    return tuple(found), hidden


def sensor_places(build):
    """Where one would put two probes: in the tip or the front of a pot, and on the tube between coil and handle.

    build: Build with a part that the coil is on.
    Returns (m, m) from the tip.
    """
    parts = [
        p
        for p in build.part
        if p.role not in ("frame", "work", "handle") and p.from_m is not None and p.to_m is not None
    ]
    front = part_with_role(parts, "tip") or min(parts, key=lambda p: p.from_m)
    handle = part_with_role(build, "handle", placed=True)
    on = next(p for p in parts if p.id == build.coil.on)
    rear = handle.from_m if handle is not None else max(p.to_m for p in parts)
    behind = (on.to_m + rear) / 2 if rear > on.to_m else (on.from_m + on.to_m) / 2
    return (front.from_m + front.to_m) / 2, behind
