"""As built, in tables: predicted beside measured, what contradicts and what that most likely means, the score."""

import numpy as np

from ...basics.names import display, shown
from ...sheet.choose import my_folder
from ...studies.card.as_built import CONTRADICTS, compare, first_to_look_at, kept_readings, score
from ...studies.card.scores import leanings, scores
from ..page.table import table
from .words import expected_words, read_words

HEAD = ("row", "expected (90 % band)", "read", "says", "most likely")
MARKED = {"agrees": "▂ agrees", CONTRADICTS: "█ contradicts", "agrees within the meter": "▅ agrees within the meter"}


def compared_table(build, compared):
    """Predicted against measured, row by row.

    build: Build. compared: tuple of Compared.
    Returns Table.
    """
    rows = [
        (
            c.row.what,
            expected_words(build, c.row),
            read_words(build, c.row, c.value),
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
    """The comparison of what the sheet keeps, each reading with what was expected when it was kept.

    build: Build. card: Card.
    Returns tuple of Compared, or None where nothing is kept.  Raises Fault where the sheet was spoilt by hand.
    """
    kept = kept_readings(build)
    return compare(build, card, kept) if kept else None


def own_sheets():
    """The files of the maker's own sheets, in the order of their names."""
    folder = my_folder()
    return sorted(folder.glob("*.toml")) if folder.is_dir() else []


def scores_table(files=None):
    """The score of every tool so far.

    files: of sheets; None: all of the maker's own.
    Returns Table.
    """
    rows = []
    for t in scores(own_sheets() if files is None else files):
        told = (t.score.rows, t.score.inside, f"{t.score.chance:.2g}") if t.score is not None else ("–", "–", t.why)
        rows.append((t.name, *told))
    return table(
        ("tool", "readings", "inside", "so few by chance"), rows or [("none keeps readings yet", "–", "–", "–")]
    )


def leanings_words(files=None):
    """What the tools so far say of the next one, in a sentence for each kind of reading.

    files: of sheets; None: all of the maker's own.
    Returns text; "" before three readings of a kind are kept.
    """
    tools = scores(own_sheets() if files is None else files)
    told = []
    for x in leanings(tools):
        side = "high" if x.off > 0 else "low"
        sure = abs(x.off) > 2 * x.spread / np.sqrt(x.readings)
        lean = f"{abs(x.off):.1f} of a half band {side} on the average" if sure else "to neither side for certain"
        told.append(f"{x.group}: {x.inside} of {x.readings} inside, {lean}")
    return f"Your tools so far ({len(tools)}): {'; '.join(told)}." if told else ""
