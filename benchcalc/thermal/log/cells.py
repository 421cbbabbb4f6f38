"""From the text of a log to cells: what parts the columns, header, numbers as people write them."""

import re
from dataclasses import dataclass

import numpy as np

from ...basics.fault import fault

MISSING = {
    "",
    "-",
    "--",
    "---",
    "nan",
    "na",
    "n/a",
    "null",
    "none",
    "ol",
    "o.l",
    "open",
    "err",
    "error",
    "fault",
    "over",
    "inf",
    "-inf",
    "overflow",
    "no probe",
    "?",
    "#n/a",
    "#value!",
}
_NUMBER = re.compile(r"[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][+-]?\d+)?$")
ZONE = r"(?:\s*(?:Z|UTC|GMT|[+-]\d{2}:?\d{2}))?$"
_CLOCK = re.compile(r"\d{1,3}:\d{1,2}(?::\d{1,2}(?:[.,]\d+)?)?(?:\s*[AaPp][Mm])?" + ZONE)
_DATE = re.compile(
    r"(?:\d{4}[-/]\d{1,2}[-/]\d{1,2}|\d{1,2}[./]\d{1,2}[./]\d{2,4})"
    r"(?:[T ]+\d{1,2}:\d{2}(?::\d{2}(?:[.,]\d+)?)?(?:\s*[AaPp][Mm])?)?" + ZONE
)
_PLAIN = re.compile(r"[\d.,eE+\-\n]*")
_UNIT = re.compile(r"(?<=[\d.,])\s*(?:°\s*[CF]|deg\s*[CF]|[CF]|mV|ohm|Ω|s|min|W)$")


@dataclass(frozen=True)
class Remark:
    """What was noticed or done: the file's line (0: the whole file), a sentence; look: whether to look at it before the
    log is believed; spoils: whether no end can be told for it."""

    line: int
    text: str
    look: bool = False
    spoils: bool = False

    def __str__(self):
        return f"line {self.line}: {self.text}" if self.line else self.text


@dataclass(frozen=True)
class Cells:
    """The table of a log: heads (a text for each column, "" without header), line number and texts of each row."""

    heads: tuple
    lines: tuple
    rows: tuple
    remarks: tuple


def is_number(text):
    """Whether a cell is a plain number, with a point or a comma.  text: cell."""
    return bool(_NUMBER.match(text.strip()))


def is_time(text):
    """Whether a cell is a clock time, a date, or both.  text: cell."""
    return bool(_CLOCK.match(text.strip()) or _DATE.match(text.strip()))


def number(text, comma):
    """A cell as a number; a unit behind it is passed over.

    text: cell. comma: whether a comma is the decimal sign.
    Returns float, nan for a missing reading, None for a text that is neither.
    """
    plain = _UNIT.sub("", text.strip().strip('"')).replace("−", "-")
    if text.strip().lower() in MISSING or plain.lower() in MISSING:
        return float("nan")
    if not _NUMBER.match(plain) or ("," in plain and not comma):
        return None
    return float(plain.replace(",", "."))


def plain_numbers(texts, comma):
    """A whole column at once, where every cell is a plain number.

    texts: cells. comma: whether a comma is the decimal sign.
    Returns array (n,), or None where a cell is anything else: then each is read by itself, with `number`.
    """
    joined = "\n".join(texts)
    if not _PLAIN.fullmatch(joined) or ("," in joined and not comma):
        return None
    try:
        values = np.array((joined.replace(",", ".") if comma else joined).split("\n"), dtype=float)
    except ValueError:
        return None
    return values if np.isfinite(values).all() else None


def cells_of(text, name):
    """Cut a log into cells.

    text: of the file. name: for messages.
    Returns (Cells, comma): comma tells whether a comma is the decimal sign.
    Raises Fault: one column only, a comma that could part columns or decimals, no line with numbers.
    """
    numbered = [(n, line.strip("\r\n")) for n, line in enumerate(text.splitlines(), 1)]
    kept = [(n, line) for n, line in numbered if line.strip() and not line.lstrip().startswith(("#", "//", ";;"))]
    remarks = []
    if len(kept) < len(numbered):
        remarks.append(Remark(0, f"{len(numbered) - len(kept)} blank or comment lines passed over"))
    if not kept:
        raise fault(name, "", "holds no readings, only blank lines and comments.")
    sign, comma = _parting([line for _, line in kept])
    table = [(n, _split(line, sign)) for n, line in kept]
    heads, start = [], 0
    while start < min(4, len(table)) and _is_head(table[start][1]):
        heads.append(table[start][1])
        start += 1
    if start == len(table):
        raise fault(
            name,
            kept[0][1][:60],
            "holds no line with numbers.",
            "It looks like a text, not like a log.",
            "A log has a time and a temperature in each line.",
        )
    width, names = _heads(heads, table[start:], sign, kept[start][1][:60], name)
    if heads:
        remarks.append(Remark(table[start - 1][0], f"header read: {', '.join(names)}"))
    rows, lines = [], []
    for n, row in table[start:]:
        if len(row) == width and _NUMBER.match(row[0]):  # as nearly all are
            rows.append(tuple(map(str.strip, row)))
            lines.append(n)
        elif len(row) < 2:
            remarks.append(Remark(n, f"{row[0][:40]!r} is no reading: left out"))
        elif _is_head(row):
            remarks.append(Remark(n, f"a second header in the middle, {' '.join(row)[:40]!r}: left out"))
        else:
            if any(c.strip() for c in row[width:]):
                remarks.append(Remark(n, f"{len(row)} cells where the others have {width}: the rest passed over"))
            rows.append((tuple(c.strip() for c in row) + ("",) * width)[:width])
            lines.append(n)
    if not rows:
        raise fault(
            name,
            kept[start][1][:60],
            "has no line with as many numbers as columns.",
            "A log has a time and a temperature in each line.",
            "Write them side by side, parted by a comma, a semicolon, a tab or blanks.",
        )
    heads = _fitted(names, width, sign)
    return Cells(heads, tuple(lines), tuple(rows), tuple(remarks)), comma


def _heads(heads, table, sign, first, name):
    """How many columns a table has, and what its header lines call them (none without a header).

    first: text of its first line, for messages.
    """
    width = int(np.median([len(c) for _, c in table]))
    if width < 2:
        raise fault(
            name,
            first,
            "has one column only; a log needs two: time and temperature.",
            "Columns are parted by a comma, a semicolon, a tab or blanks.",
            "Write the time before each reading.",
        )
    head = next((h for h in reversed(heads) if len(h) == width), None)
    if heads and head is None:
        head = heads[-1]
        if sign == "," and len(head) * 2 == width:
            raise fault(
                name,
                first,
                f"has {width} numbers under {len(head)} names.",
                "Commas part the columns and are decimal signs at once.",
                "Save it with semicolons or with decimal points.",
            )
    units = [h for h in heads if h is not head and len(h) == width]
    return width, tuple(
        " ".join([cell.strip().strip('"')] + [u[i].strip() for u in units]) for i, cell in enumerate(head or ())
    )


def _fitted(names, width, sign):
    """As many heads as columns; words parted by blanks are put together again: "time s  tip C" over two columns."""
    if len(names) > width == 2 and sign is None:
        at = next(
            (
                i
                for i, word in enumerate(names)
                if i and re.match(r"temp|tip|probe|T\d?$|°|deg|mV|ohm|pt100", word, re.I)
            ),
            1,
        )
        names = (" ".join(names[:at]), " ".join(names[at:]))
    return (names + ("",) * width)[:width]


def _is_head(row):
    return not any(
        is_number(c.strip('" ')) or is_time(c.strip('" ')) or number(c, True) is not None and c.strip() for c in row
    )


def _split(line, sign):
    if sign is None:
        return line.split()
    if '"' in line:
        import csv

        try:
            return next(csv.reader([line], delimiter=sign))
        except csv.Error:  # a cell longer than any reading, a quote that nobody closed
            return line.split(sign)
    return line.split(sign)


def _parting(lines):
    """The sign between columns (None: blanks), and whether a comma is the decimal sign."""
    some = [s for s in lines[:400] if re.search(r"\d", s)] or lines[:5]
    for sign in ("\t", ";"):
        if sum(sign in s for s in some) > 0.6 * len(some):
            return sign, any(re.search(r"\d,\d", s) for s in some)
    if sum(bool(re.search(r"\d, +\S", s)) for s in some) > 0.6 * len(
        some
    ):  # "0.5, 71": a comma and a blank part columns
        return ",", False
    blanks = sum(
        len(s.split()) > 1 and all(is_number(c) or is_time(c) or c.lower() in MISSING for c in s.split()) for s in some
    )
    if blanks > 0.6 * len(some):  # "0:30 20,5"
        return None, any("," in s for s in some)
    if sum("," in s for s in some) > 0.6 * len(some):
        return ",", False
    return None, False
