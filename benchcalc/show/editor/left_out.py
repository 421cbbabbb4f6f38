"""What of a faulty sheet is left out of picture and numbers, in words: nobody takes them for all of it."""

from ...sheet.edits import as_shown
from ...sheet.schema import KEYS
from .form_words import title_of_group
from .plan import field_label, many, title_of, words_of

HEAVY = ("part", "joint", "layer", "heat_break", "coil", "supply")  # without one of them it is another tool
SIZES = ("from", "to", "inner", "outer")  # of a part, without which it is another one


def another_tool(left) -> bool:
    """Whether what was left out makes another tool of it, of which no number is told.  left: places left out."""
    return any(section in HEAVY and not key or section == "part" and key in SIZES for section, _, key in left)


def is_empty_row(place, tables) -> bool:
    """Whether a place is a whole row in which nothing is typed yet.  place: left out. tables: of the sheet."""
    section, index, key = place
    return not key and index is not None and index < len(tables[section]) and not tables[section][index]


def left_words(left, kept, tables) -> str:
    """What was left out, and where it is mended; "" for nothing.

    left: places of sheet/without_faults.py. kept: place -> value that stands in. tables: of the sheet as it stands.
    """
    rows = {(section, index) for section, index, key in left if not key}
    told = []
    for section, index, key in (*left, *kept):
        if key and (section, index) in rows:
            continue  # all of its row went
        row = tables[section][index or 0] if (index or 0) < len(tables[section]) else {}
        whose = title_of(section, index, row) if many(section) else words_of(section)[0]
        what = f"“{field_label(KEYS[section][key])}” of {whose}" if key in KEYS[section] else whose
        value = kept.get((section, index, key))
        before = "" if value is None else f", until then {as_shown(KEYS[section][key], value)} as before"
        told.append(f"{what} (button “{title_of_group(section)}”){before}")
    return "; ".join(dict.fromkeys(told))


def with_kept(tables, kept) -> dict:
    """The tables as they are drawn, with the values that stand in.  tables: of the sheet. kept: place -> value."""
    found = {section: [dict(row) for row in rows] for section, rows in tables.items()}
    for (section, index, key), value in kept.items():
        found[section][index or 0][key] = value
    return found
