"""What readings can tell apart and what they cannot, and which further reading would teach most."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from ...basics.names import said_number, say
from ...sheet.defaults import default
from ...sheet.roles import parts_with_role
from ...thermal.warmup.bounded_fit import PRIOR_DEVIATION, precision_of
from .calibrate import MISFIT_LIMIT, Calibration
from .measured_watts import METER_W_SHARE
from .probe import part_at
from .start import settled_slope
from .trial_tool import PLACES, settled_temps, tool_at
from .trust import distrust
from .unknowns import AMBIENT, POWER

ALIKE = 0.97  # cosine between two unknowns' marks on the readings, above which they look the same
ALONE, LEFT, HELPS = 0.6, 0.5, 0.85
LEARNED, UNMOVED = 0.7, 0.95
APART_M = 0.01  # between places where a bead could go
ROOM_K, BEAD_K = 0.5, 1.0  # deviation of a room thermometer, of a bead's readings
TARGET_WORDS = {"tip": "tip", "wire": "wire", "entry": "handle entry", "work": "work"}


@dataclass(frozen=True)
class Candidate:
    """A reading that could be taken next: words, place (nan where it is no place), part, and for tip, wire, entry and
    work the share of today's band that would be left; teaches: words of the unknown it narrows most."""

    words: str
    at_m: float
    on: str | None
    left: tuple
    teaches: str

    def left_of(self, target):
        """Share of the band that would be left.

        target: one of "tip", "wire", "entry", "work".
        """
        return self.left[PLACES.index(target)]


def look_alike(found: Calibration):
    """Groups of unknowns that leave the same mark on the readings: each could be known alone, but not beside the
    others.

    found: Calibration.
    Returns tuple of tuples of words; sensors' attachments stand among them.
    Method: the columns of the fit's slope, each reading in its own deviation; two are alike where the cosine
    between them exceeds 0.97 (collinearity, as in Belsley, Kuh and Welsch, Regression Diagnostics, 1980, chapter 3).
    """
    names = _names(found)
    slope = found.slope * PRIOR_DEVIATION
    size = np.sqrt((slope**2).sum(axis=0))
    _, covariance = precision_of(found.slope)
    left = np.sqrt(np.diag(covariance)) / PRIOR_DEVIATION
    alone = 1 / np.sqrt(1 + size**2)
    blurred = [i for i in range(len(names)) if alone[i] < ALONE and left[i] > LEFT]
    unit = slope / np.maximum(size, 1e-12)
    cosine = np.abs(unit.T @ unit)
    groups, todo = [], sorted(blurred, key=lambda i: -size[i])
    while todo:
        group = [todo.pop(0)]
        for j in todo:
            if np.all(cosine[j, group] > ALIKE):
                group.append(j)
        todo = [j for j in todo if j not in group]
        if len(group) > 1:
            groups.append(tuple(names[i] for i in group))
    return tuple(groups)


def next_readings(found: Calibration, target="entry"):
    """Readings that would narrow a band most, the best first.

    found: Calibration. target: "tip", "wire", "entry" or "work", of the settled tool.
    Returns tuple of Candidate: a bead peened into each metal part every 10 mm, the watts in the coil, the room.
    Method: linear; each candidate adds its slope over its own deviation to what the draws already hold
    (Atkinson, Donev and Tobias, Optimum Experimental Designs, with SAS, 2007, section 10.2).
    """
    middle, candidates, slope = _candidates(found)
    covariance = np.cov(found.after.T)
    rows = []
    for words, at_m, on, row, deviation in candidates:
        left = tuple(_left(goal, row, deviation, covariance) for goal in slope[: len(PLACES)])
        taught = int(np.argmax((covariance @ row) ** 2 / np.diag(covariance)))
        rows.append(Candidate(words, at_m, on, left, found.unknowns[taught].words))
    return tuple(sorted(rows, key=lambda c: np.nan_to_num(c.left_of(target), nan=2.0)))


def would_tell_apart(found: Calibration, group):
    """The further reading that would best tell a group of unknowns apart.

    found: Calibration. group: words, as from look_alike.
    Returns (words of the reading, words of the one it would narrow, share of its band that would be left).
    """
    covariance, unit = np.cov(found.after.T), np.eye(len(found.unknowns))
    members = [i for i in found.fitted if found.unknowns[i].words in group]
    left, words, i = min(
        (_left(unit[i], row, deviation, covariance), words, i)
        for i in members
        for words, _, _, row, deviation in _candidates(found)[1]
    )
    return words, found.unknowns[i].words, left


def _left(goal, row, deviation, covariance):
    """Share of a goal's deviation that a reading would leave."""
    width, carried = goal @ covariance @ goal, covariance @ row
    if not (np.isfinite(width) and width > 0):
        return float("nan")
    return float(np.sqrt(max(1 - (goal @ carried) ** 2 / ((row @ carried + deviation**2) * width), 0.0)))


@lru_cache(maxsize=2)
def _candidates(found):
    """(middle of the draws, [(words, at_m, on, slope by the unknowns, deviation)], slope of tip, wire, entry, work and
    places).
    """
    trial = found.trial
    low, high = np.array([u.ends for u in trial.unknowns]).T
    middle = np.clip(np.median(found.after, axis=0), low, high)
    places = _candidate_places(tool_at(trial, middle)[2])
    slope = settled_slope(trial, middle, places)
    bead = default("sensor.low_share/peened or embedded")
    share = (bead["high"] - bead["low"]) / 2 * PRIOR_DEVIATION + default("calibrate.model_share")["value"]
    rises = settled_temps(trial, middle[None], places)[0, len(PLACES) :] - trial.build.room.ambient_c
    rows = [
        (
            f"a bead peened into the {on} at {say('at_m', at_m, units=trial.build.units)} from the tip",
            at_m,
            on,
            row,
            np.sqrt(BEAD_K**2 + trial.probes[0].common_k ** 2 + (share * rise) ** 2),
        )
        for (at_m, on), row, rise in zip(places, slope[len(PLACES) :], rises)
    ]
    paths, unit = [u.path for u in trial.unknowns], np.eye(len(trial.unknowns))
    for path, words, deviation in (
        (POWER, "volts and amps at the coil", METER_W_SHARE),
        (AMBIENT, "a thermometer in the room", ROOM_K),
    ):
        if path in paths and not (path == POWER and trial.measured_w):  # what was measured is not asked for again
            i = paths.index(path)
            rows.append(
                (words, float("nan"), None, unit[i], deviation * 2 / (trial.unknowns[i].high - trial.unknowns[i].low))
            )
    return middle, rows, slope


def told(found: Calibration, target="entry"):
    """What the readings taught, in plain sentences.

    found: Calibration. target: whose band the next reading is to narrow.
    Returns tuple of sentences: how well they fit, what was learned, what lies beyond its band, what cannot be told
    apart, what to read next.
    """
    said = _how_well(found)
    ratio = found.narrowed()
    order = sorted(found.fitted, key=lambda i: ratio[i])
    if distrust(found):  # nothing of what was found is to be believed
        return tuple(said)
    learned = [
        f"{found.unknowns[i].words} ({100 * ratio[i]:.0f} % of its band left)" for i in order if ratio[i] < LEARNED
    ]
    said.append(
        "Learned: " + "; ".join(learned) + "."
        if learned
        else "No single unknown was pinned down: only sums of them were."
    )
    past = [found.unknowns[i] for i in found.fitted if abs(np.median(found.after[:, i])) > 1]
    measured = found.trial.measured_w is not None
    if measured and any(u.path == POWER for u in past):
        said.append(_watts_disagree(found))
    beyond = [u.words for u in past if not (measured and u.path == POWER)]
    if beyond:
        said.append("Beyond what the sheet allows: " + "; ".join(beyond) + ". Look at the sheet, or at the tool.")
    groups = look_alike(found)
    named = {words for group in groups for words in group}
    held = [
        u.words
        for i, u in enumerate(found.unknowns)
        if (ratio[i] >= UNMOVED or i not in found.fitted) and u.words not in named
    ]
    if held:
        said.append("These readings say nothing of: " + "; ".join(held) + ".")
    for group in groups:
        words, which, left = would_tell_apart(found, group)
        said.append(
            "These readings cannot tell apart: "
            + "; ".join(group)
            + ". Each of them moves the readings in the same way. "
            + (
                f"What would help most is {words}: it would leave {100 * left:.0f} % of what is open about {which}."
                if left < HELPS
                else "No single further reading would help much with these."
            )
        )
    best = [c for c in next_readings(found, target) if c.left_of(target) == c.left_of(target)][:1]
    for c in best:
        said.append(
            f"The reading that would narrow the {TARGET_WORDS[target]} most: {c.words}; about "
            f"{100 * c.left_of(target):.0f} % of today's band would be left. It speaks mostly of: {c.teaches}."
        )
    return tuple(said)


def _watts_disagree(found):
    """That the watts measured and those that fit the readings are not the same, with both."""
    i = [u.path for u in found.unknowns].index(POWER)
    fitted_w = found.trial.coil.coil_w * float(found.unknowns[i].value(np.median(found.after[:, i])))
    low, high = found.trial.measured_w
    return (
        f"The watts that were measured and the readings disagree: {said_number('coil_w', low)} to "
        f"{say('coil_w', high)} in the coil was measured, {say('coil_w', fitted_w)} fits the readings best. Look at "
        "where the volts were read (at the coil itself, while it is hot) and at how the probe sits."
    )


def _how_well(found):
    """How well the corrected model follows the readings, in sentences."""
    said = []
    if found.misfit > MISFIT_LIMIT:
        said.append(
            f"The model cannot follow these readings: what is left over is {found.misfit:.1f} times what the sensors "
            "and the model allow. Look for a part or joint that is not on the sheet, a wrong place or time, a sensor "
            "that came off."
        )
    else:
        why = distrust(found)
        said.append(
            f"{why[:1].upper()}{why[1:]}."
            if why
            else f"The corrected model follows the readings: what is left over is {found.misfit:.1f} times what the "
            "sensors and the model allow."
        )
    if not found.at_rest:
        said.append("The search did not come to rest: take these bands as rough, and read more before you trust them.")
    return said


def _names(found):
    fitted = [found.unknowns[i].words for i in found.fitted]
    for p in found.trial.probes:
        fitted += [f"how the sensor of {p.name} is attached", f"what the meter of {p.name} is off by"]
    return fitted


def _candidate_places(tool):
    """Places every 10 mm on the outermost metal, where a bead can be put."""
    metal = [p for p in tool.pieces if not p.work and p.role != "handle"]
    handle = parts_with_role(tool.pieces, "handle")
    end = min([float(p.from_m) for p in handle] or [max(float(p.to_m) for p in metal)])
    start = min(float(p.from_m) for p in metal)
    return tuple((float(x), part_at(tool, float(x)).id) for x in np.arange(start + APART_M / 2, end, APART_M))
