"""Small tables that read the same in a notebook, in print and on a code host: plain text cells only."""

import math
import re
from dataclasses import dataclass, replace

from ...basics import names
from ...basics.escape import plain_text
from ...basics.fault import fault
from ..editor.form_words import on_page

# A bar that fills up towards its limit: each state differs in shape as well as in word.
MARKS = {"over": "█", "tight": "▅", "not known": "?", "fine": "▂", "does not apply": "–"}
_NUMBER = re.compile(r"(about |at most |at least |up to )?[-+−±]?\d")
SHORT = 10  # letters of a cell that is one number with its unit
_BLANK = {"", "-", "–", "not known"}


@dataclass(frozen=True, repr=False)
class Table:
    """Rows of text under a head; `head` may be empty."""

    head: tuple
    rows: tuple
    caption: str = ""

    def __repr__(self):
        return as_text(self)

    def _repr_html_(self):
        return as_html(self)


def table(head, rows, caption=None):
    """A table of text.

    head: column titles (with units), or () for none. rows: sequences of text or whole numbers, one
    per row, as long as the head. caption: a line above the table.
    Returns Table. Raises Fault for rows of unequal length and for numbers without chosen digits.
    """
    head, rows = tuple(head), [tuple(row) for row in rows]
    wide = len(head) if head or not rows else len(rows[0])
    for number, row in enumerate(rows, 1):
        if len(row) != wide:
            raise fault(f"table row {number}", "", f"has {len(row)} cells, {wide} are needed.")
        for cell in row:
            if not isinstance(cell, str) and type(cell) is not int:
                raise fault(
                    f"table row {number}",
                    repr(cell),
                    "must be text.",
                    "",
                    "Write numbers with names.say or names.digits first.",
                )
    return Table(head, tuple(tuple(str(cell) for cell in row) for row in rows), caption or "")


def unbroken(row):
    """A row whose numbers keep their units beside them, however narrow the window.  row: texts.  Returns tuple."""
    return tuple(c.replace(" ", "\u00a0") if len(c) <= SHORT and _NUMBER.match(c) else c for c in row)


def captioned(words, thing):
    """A table with words above it that say what it rests on.

    words: such as "from a lent log", "" for none. thing: Table; anything else stays as it is.
    Returns Table.
    """
    if not words or not isinstance(thing, Table):
        return thing
    return replace(thing, caption=" ".join(w for w in (words, thing.caption) if w))


def _right(table):
    """For each column: is it a column of numbers, to be set to the right?"""
    columns = list(zip(*table.rows))
    return [
        any(_NUMBER.match(cell) for cell in column) and all(_NUMBER.match(cell) or cell in _BLANK for cell in column)
        for column in columns
    ] or [False] * len(table.head)


def _cell(text):
    return "<br>".join(plain_text(line, quote=True) for line in text.split("\n"))


def as_html(table):
    """The table as HTML for a saved page.  table: Table.  User text is escaped."""
    sides = [f' style="text-align:{"right" if right else "left"}"' for right in _right(table)]
    lines = ['<table style="margin-left:0">']
    if table.caption:
        lines.append(f'<caption style="text-align:left">{_cell(table.caption)}</caption>')
    if table.head:
        cells = "".join(f'<th scope="col"{side}>{_cell(text)}</th>' for text, side in zip(table.head, sides))
        lines.append(f"<thead><tr>{cells}</tr></thead>")
    lines.append("<tbody>")
    for row in table.rows:
        cells = "".join(f"<td{side}>{_cell(text)}</td>" for text, side in zip(row, sides))
        lines.append(f"<tr>{cells}</tr>")
    return "\n".join([*lines, "</tbody>", "</table>"])


def as_widget_html(table):
    """The table as HTML for an HTML widget, in the look of a notebook's own tables."""
    return f'<div class="jp-RenderedHTMLCommon">{as_html(table)}</div>'


def as_markdown(table):
    """The table as Markdown, to stand in a longer text.  User text is escaped."""

    def line(cells):
        safe = (
            _cell(cell)
            .replace("|", "&#124;")
            .replace("*", "&#42;")
            .replace("_", "&#95;")
            .replace("`", "&#96;")
            .replace("$", "&#36;")
            for cell in cells
        )
        return "| " + " | ".join(safe) + " |"

    rights = _right(table)
    head = table.head or ("",) * len(rights)
    rule = "|" + "|".join("--:" if right else ":--" for right in rights) + "|"
    above = [_cell(table.caption), ""] if table.caption else []
    return "\n".join([*above, line(head), rule, *map(line, table.rows)])


def as_text(table):
    """The table in plain letters, columns lined up."""
    grid = [
        [cell.replace("\n", "; ") for cell in row] for row in ([table.head] if table.head else []) + list(table.rows)
    ]
    rights = _right(table)
    wide = [max(len(row[n]) for row in grid) for n in range(len(rights))] if grid else []
    lines = [
        "  ".join(cell.rjust(w) if right else cell.ljust(w) for cell, w, right in zip(row, wide, rights)).rstrip()
        for row in grid
    ]
    return "\n".join(([table.caption] if table.caption else []) + lines)


def headline(rows):
    """The few numbers a panel shows first.  rows: (word, text) pairs.  Returns Table without head."""
    return table((), rows)


def say_state(state, advice=False):
    """A verdict's state as mark and word, never told by colour: "▂ fine".

    state: one of MARKS. advice: True for a row that only advises, which is then said.
    """
    if state not in MARKS:
        raise fault("verdict", state, "is no state.", "", "Known: " + ", ".join(MARKS) + ".")
    return f"{MARKS[state]} {state}" + (" (advice only)" if advice and state != "does not apply" else "")


def _said(key, value, way):
    """A verdict's number with its unit; a dash where there is none."""
    if value is None or value != value:
        return "–"
    return names.say(key, float(value), **way)


def _value(verdict, value, way):
    """What is judged, or an end of its band, with its unit; what is past its melting has no such temperature."""
    return "–" if value is None or value != value else verdict.said(value, **way)


def _margin(verdict, key, way):
    """The margin in words; a dash where it has no end."""
    if verdict.margin is None or not math.isfinite(verdict.margin) or verdict.melts(verdict.value):
        return "–"
    return _said(as_difference(key), verdict.margin, way).replace(" (difference)", "")


def as_difference(key):
    """The name of a difference of two values of a name: temp_c -> temp_k.  key: SI name."""
    return key[:-1] + "k" if names.suffix_of(key) == "c" else key


def verdict_table(verdicts, *, units="metric", degrees="C", caption=None, worst_first=True):
    """Verdicts as a table: state, what, value with its band, limit, margin, why with its source.

    verdicts: iterable of verdicts (SI values). units: "metric" or "inch". degrees: "C" or "F".
    worst_first: over, tight, not known, fine, does not apply; else the order given. caption: a line above.
    """
    verdicts, way = list(verdicts), {"units": units, "degrees": degrees}
    if worst_first:
        verdicts.sort(key=lambda v: (list(MARKS).index(v.state) if v.state in MARKS else -1, v.advice))
    rows = []
    for verdict in verdicts:
        key = verdict.key or ""
        value = _value(verdict, verdict.value, way)
        if verdict.band is not None and verdict.band.low == verdict.band.low and not verdict.melts(verdict.band.low):
            ends = (_value(verdict, verdict.band.low, way), _value(verdict, verdict.band.high, way))
            value += "\n" + " to ".join(dict.fromkeys(ends))
        limit = _said(key, verdict.limit, way)
        rows.append(
            (
                say_state(verdict.state, verdict.advice) + (": borrowed" if verdict.borrowed else ""),
                verdict.named,
                value,
                limit if limit == "–" else f"{verdict.sense} {limit}",
                _margin(verdict, key, way),
                on_page(verdict.why) + (f"\nSource: {verdict.source}" if verdict.source else ""),
            )
        )
    return table(("state", "what", "value, likely range", "limit", "margin", "why"), rows, caption)
