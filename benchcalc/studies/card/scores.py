"""The scores of a maker's tools so far: how often readings lay in their bands, and to which side they fell."""

from dataclasses import dataclass

import numpy as np

from ...basics.fault import Fault
from ...sheet.build import Build
from ...sheet.load import load
from .as_built import Score, compare, kept_readings, score
from .record import Card, CardRow, CardSection

GROUPS = {  # sections of the card whose readings tell of the same thing
    "supply": ("gate", "line", "full"),
    "wire and coil": ("wire", "winding", "first"),
    "joints": ("tails",),
    "temperatures": ("time", "held"),
    "soak": ("soak",),
}
ENOUGH = 3  # readings, before an average says anything


@dataclass(frozen=True)
class ToolScore:
    """A tool's score.  name: of its sheet. score: Score. compared: tuple of Compared, each against what was expected
    when it was kept. why: why a sheet could not be counted, "" where it was."""

    name: str
    score: Score | None
    compared: tuple
    why: str = ""


@dataclass(frozen=True)
class Leaning:
    """To which side readings fell.  group: of the card. readings: number. inside: of them in their bands. off: their
    mean distance from what was expected, in half bands. spread: one deviation of it."""

    group: str
    readings: int
    inside: int
    off: float
    spread: float


def tool_score(build: Build) -> ToolScore:
    """The score of one tool, by the readings and predictions that its sheet keeps.

    build: Build.
    """
    rows = [CardRow(r.row, r.row, r.quantity or "", None) for r in build.as_built.reading if r.quantity]
    card = Card(build.name, build.invented, "", (CardSection("kept", tuple(rows)),), (), (), ())
    try:
        found = compare(build, card, kept_readings(build))
    except Fault as told:
        return ToolScore(build.name, None, (), str(told))
    return ToolScore(build.name, score(found), found)


def scores(files) -> tuple:
    """The scores of all sheets that keep readings of their card.

    files: paths of sheets.
    Returns tuple of ToolScore, in the order of the files; a sheet that cannot be read, or keeps none, is left out.
    """
    found = []
    for file in files:
        try:
            build = load(file)
        except Fault:
            continue
        if build.as_built.reading:
            found.append(tool_score(build))
    return tuple(found)


def leanings(tools) -> tuple:
    """To which side the readings of all tools fell, group by group.

    tools: of ToolScore.
    Returns tuple of Leaning for groups with three readings or more.
    """
    found = []
    for group, sections in GROUPS.items():
        told = [c for t in tools for c in t.compared if np.isfinite(c.off) and c.row.id.split(".")[0] in sections]
        if len(told) >= ENOUGH:
            off = np.array([c.off for c in told])
            inside = int((np.abs(off) <= 1).sum())
            found.append(Leaning(group, len(told), inside, float(off.mean()), float(off.std(ddof=1))))
    return tuple(found)
