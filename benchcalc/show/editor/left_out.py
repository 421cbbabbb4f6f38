"""What of a faulty sheet is left out of picture and numbers, in words: nobody takes them for all of it."""

from ...sheet.schema import KEYS
from .form_words import title_of_group
from .plan import field_label, many, title_of, words_of

HEAVY = ("part", "joint", "layer", "heat_break", "coil", "supply")  # without one of them it is another tool


def another_tool(left) -> bool:
    """Whether what was left out makes another tool of it, of which no number is told.  left: places left out."""
    return any(section in HEAVY and not key for section, _, key in left)


def left_words(left, tables) -> str:
    """What was left out, and where it is mended; "" for nothing.

    left: places of sheet/without_faults.py. tables: of the sheet as it stands.
    """
    rows = {(section, index) for section, index, key in left if not key}
    told = []
    for section, index, key in left:
        if key and (section, index) in rows:
            continue  # all of its row went
        row = tables[section][index or 0] if (index or 0) < len(tables[section]) else {}
        whose = title_of(section, index, row) if many(section) else words_of(section)[0]
        what = f"“{field_label(KEYS[section][key])}” of {whose}" if key in KEYS[section] else whose
        told.append(f"{what} (button “{title_of_group(section)}”)")
    return "; ".join(dict.fromkeys(told))
