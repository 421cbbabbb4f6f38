"""As built, in tables: predicted beside measured, what contradicts and what that most likely means, the score."""

from pathlib import Path

import numpy as np

from ...basics.names import display, say, shown
from ...sheet.choose import my_folder
from ...studies.card.as_built import CONTRADICTS, compare, first_to_look_at, recorded, score
from ..page.table import table
from .words import expected_words

HEAD = ("row", "expected (90 % band)", "read", "says", "most likely")
MARKED = {"agrees": "▂ agrees", CONTRADICTS: "█ contradicts", "agrees within the meter": "▅ agrees within the meter"}


def record_file(build):
    """The file that keeps a sheet's card and its readings.

    build: Build read from a file.
    Returns Path in the folder of the maker's own sheets.
    """
    return my_folder() / f"{Path(build.file).stem if build.file else 'card'}_card.csv"


def compared_table(build, compared):
    """Predicted against measured, row by row.

    build: Build. compared: tuple of Compared.
    Returns Table.
    """
    way = {"units": build.units, "degrees": build.degrees}
    rows = [
        (
            c.row.what,
            expected_words(build, c.row),
            say(c.row.key if c.row.key != "front_m" else "length_m", c.value, **way),
            MARKED.get(c.state, c.state),
            c.means or "–",
        )
        for c in compared
    ]
    return table(HEAD, rows or [("nothing read yet", "–", "–", "–", "–")])


def verdict_words(compared):
    """Where to look first, and the score, in words.

    compared: tuple of Compared.
    """
    first, found = first_to_look_at(compared), score(compared)
    told = f"{found.inside} of {found.rows} readings lie inside their bands."
    if found.rows:
        told += f" By right bands and rows apart from each other, so few come by a chance of {found.chance:.2g}."
    if first is not None:
        told += f" Look first at: {first.row.what}. What comes after it leans on it. Most likely: {first.means}"
    return told


def invented_readings(build, card, off=0.4, wrong=None):
    """Readings of a tool that nobody built, to practise on.

    build: Build, for its units. card: Card. off: how far towards the high end of each band, 0 to 1. wrong: id of a row
    -> how many half bands it is off instead.
    Returns dict: id of a row -> text with its unit.
    """
    way, made = {"units": build.units, "degrees": build.degrees}, {}
    for row in card.rows():
        band = row.expected
        if not row.ask or band is None or not np.isfinite([band.low, band.high]).all() or row.key == "front_m":
            continue
        value = band.nominal + (wrong or {}).get(row.id, off) * (band.high - band.nominal)
        unit, _ = display(row.key, **way)
        made[row.id] = f"{shown(row.key, value, **way):.4g} {unit}".strip()
    return made


def own_readings(build, card):
    """The comparison of what was kept for this sheet, None where nothing was.

    build: Build. card: Card.
    Returns tuple of Compared or None.  Raises Fault where the file was spoilt by hand.
    """
    kept = recorded(record_file(build))
    return compare(build, card, kept) if kept else None
