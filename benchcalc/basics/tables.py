"""Find and read data/: plain CSV with # comments, unit suffix last, a source in every row."""

import csv
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from .fault import closest, fault

if TYPE_CHECKING:
    import pandas

_NUMERIC_ENDS = (
    "_m",
    "_c",
    "_k",
    "_w_m2",
    "_s",
    "_kg",
    "_kg_m3",
    "_ohm_m",
    "_w_mk",
    "_w_m2k",
    "_j_kgk",
    "_j_kg",
    "_m_s",
    "_m2",
    "_share",
)
_NUMERIC = {
    "drop_v",
    "value",
    "low",
    "high",
    "share_of_reading",
    "floor",
    "own_floor",
    "minutes",
    "emissivity",
    "prandtl",
    "most_a",
    "section_m2",
    "radial_per_percent",
    "tangential_per_percent",
}


def data_folder():
    """The folder data/: beside the package's modules if installed so, else in the repository.

    Returns Path.  Raises Fault when neither is there.
    """
    package = Path(__file__).resolve().parent.parent
    for folder in (package / "data", package.parent / "data"):
        if (folder / "sources.csv").is_file():
            return folder
    raise fault("benchcalc", "", "its data folder is missing.", do="Install it again from a fresh clone.")


def _cell(column, text):
    if text == "" or not (column in _NUMERIC or column.endswith(_NUMERIC_ENDS)):
        return None if text == "" else text
    return float(text)


@cache
def rows(topic: str) -> tuple:
    """All rows of data/<topic>.csv as a tuple of dicts; numeric columns are floats, "" is None.

    topic: file name without ending.  Raises Fault for a topic that is not there.

    >>> rows("alloys")[0]["name"]
    'nickel-chromium 80/20'
    """
    path = data_folder() / f"{topic}.csv"
    if not path.is_file():
        raise fault("data", topic, "is no table.", closest(topic, topics()))
    with path.open(newline="", encoding="utf-8") as text:
        plain = (line for line in text if not line.startswith("#"))
        return tuple({c: _cell(c, v) for c, v in row.items()} for row in csv.DictReader(plain))


def topics():
    """Names of all tables in data/, sorted."""
    return sorted(p.stem for p in data_folder().glob("*.csv"))


def frame(topic: str) -> "pandas.DataFrame":
    """The table as a pandas DataFrame, to look around in.

    topic: file name without ending.

    >>> list(frame("gauges").columns)[:2]
    ['system', 'number']
    """
    import pandas

    return pandas.DataFrame(list(rows(topic)))


def one(topic, column, value):
    """The single row of a table whose `column` equals `value`.

    topic: table. column: its key column. value: wanted entry.
    Raises Fault with the closest names when there is none.
    """
    found = [r for r in rows(topic) if r[column] == value]
    if not found:
        raise fault(f"data/{topic}.csv", value, f"is no {column}.", closest(value, [r[column] for r in rows(topic)]))
    return found[0]


@cache
def source_words(source_id):
    """Full reference of one or several source ids (joined by ;), as one sentence.

    source_id: e.g. "ASTM-B258" or "A;B".
    """
    return "; ".join(one("sources", "source_id", s.strip())["reference"] for s in source_id.split(";"))
