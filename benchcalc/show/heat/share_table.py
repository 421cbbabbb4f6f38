"""Which guess matters: the inputs that an outcome's range comes from, in words, with their share of it."""

import numpy as np

from ...basics.names import NAMES
from ...chain.workings import Workings
from ...sheet.build import Build
from ...sheet.field_words import field_words
from ..page.table import Table, table

MOST = 6
LEAST = 0.01  # of the variance: less is not worth a row


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
        words = field_words(build, inputs[0])
        if len(inputs) > 1:
            words = f"readings of one instrument, {len(inputs)} of them ({words})"
        how = build.known[inputs[0]].how if inputs[0] in build.known else "–"
        made.append((words, how, *("–" if s is None else f"{s.share:.0%} {'+' if s.rises else '−'}" for s in row)))
    head = (NAMES[p.split(".")[1]].word for p in told)
    return table(("input", "how known", *head), made or [("none that stands out", "–", *("–" for _ in told))])
