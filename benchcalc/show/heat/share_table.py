"""Which guess matters: the inputs that an outcome's range comes from, in words, with their share of it."""

import numpy as np

from ...basics.names import NAMES
from ...chain.workings import Workings
from ...sheet.build import Build
from ...sheet.schema import key_of
from ..page.table import Table, table

MOST = 6
LEAST = 0.01  # of the variance: less is not worth a row


def input_words(build, path):
    """An input in words: whose it is, what it is.

    build: Build. path: of a field, such as "part.tube.emissivity".

    >>> from benchcalc import load_chosen
    >>> input_words(load_chosen("insert_press"), "room.air_speed_m_s")
    'air speed'
    """
    section, *middle, field = path.split(".")
    key = key_of(path)
    known = build.known.get(path)
    word = NAMES[field].word if field in NAMES else key.word if key is not None else ""
    if not word and section == "heat" and known is not None and known.text:
        word = known.text.split(";")[0].split(":")[0]
    word = word or " ".join(w for w in field.split("_") if len(w) > 2)
    return f"{word}, {' '.join((section, *middle))}" if middle else word


def input_shares(build: Build, workings: Workings, *paths: str, most: int = MOST) -> Table:
    """Which inputs the ranges of some outcomes come from.

    build: Build. workings: Workings with samples. paths: of outcomes, such as "heat.tip_c". most: rows.
    Returns Table: share of each outcome's variance, and whether the outcome rises (+) or falls (−) with the input.
    """
    drawn = workings.drawn
    told = [p for p in paths if drawn is not None and np.isfinite(drawn.outcomes.get(p, np.array([np.nan]))).any()]
    if not told:
        return table(("input",), [("Nothing was drawn for this sheet.",)])
    found, rows = [workings.shares(p) for p in told], {}
    for column, one in enumerate(found):
        for s in one.inputs:
            rows.setdefault(s.paths, [None] * len(told))[column] = s
    ranked = sorted(rows.items(), key=lambda r: -max(s.share for s in r[1] if s))
    ranked = [(p, row) for p, row in ranked if max(s.share for s in row if s) >= LEAST][:most]
    made = []
    for inputs, row in ranked:
        words = input_words(build, inputs[0])
        if len(inputs) > 1:
            words = f"readings of one instrument, {len(inputs)} of them ({words})"
        how = build.known[inputs[0]].how if inputs[0] in build.known else "–"
        made.append((words, how, *("–" if s is None else f"{s.share:.0%} {'+' if s.rises else '−'}" for s in row)))
    head = (NAMES[p.split(".")[1]].word for p in told)
    return table(("input", "how known", *head), made or [("none that stands out", "–", *("–" for _ in told))])
