"""Two sheets side by side, in tables."""

from ...basics.names import NAMES, say
from ...studies.side_by_side import differing, turned
from ..page.table import say_state, table


def numbers_beside(build, one, other):
    """The main numbers that differ.

    build: Build, for its units. one, other: Workings of the two sheets.
    Returns Table.
    """
    way, rows = {"units": build.units, "degrees": build.degrees}, []
    for d in differing(one, other):
        link, field = d.path.split(".")
        word = f"{link}: {NAMES[field].word if field in NAMES else field}"
        more = "more than doubt" if d.apart else "within the bands"
        rows.append((word, say(field, d.one, **way), say(field, d.other, **way), more))
    return table(("differs", "this sheet", "the other", "bands"), rows or [("nothing", "–", "–", "–")])


def verdicts_beside(one, other):
    """The verdicts that turn.

    one, other: Workings of the two sheets.
    Returns Table.
    """
    said = lambda v: "not there" if v is None else say_state(v.state, v.advice)  # noqa: E731
    rows = [((t.one or t.other).what, said(t.one), said(t.other)) for t in turned(one, other)]
    return table(("verdict", "this sheet", "the other"), rows or [("none turns", "–", "–")])
