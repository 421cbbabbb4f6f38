"""Guesses that the maker says are true: fields marked as assumed become what he states."""

from ...sheet.build import Build
from ...sheet.edits import Edit, told_apart
from ...sheet.key import ASSUMED
from ...sheet.schema import LISTS, key_of


def stated_edits(build: Build, tables: dict, paths: tuple) -> list:
    """The edits that take the word "assumed" off fields.

    build: Build of the sheet. tables: of its text, as `sheet/edits.tables_of`. paths: of fields, as of `rested_on`.
    Returns list of Edit, one for each field that is marked; their numbers, +- included, stay as they were typed,
    and one step back undoes them all.
    """
    made = []
    for path in paths:
        key, index = key_of(path), _row_of(build, path)
        if key is None or index is None or index >= len(tables[key.section]):
            continue
        text = tables[key.section][index].get(key.key)
        body, how = told_apart(text) if isinstance(text, str) else ("", "")
        if how == ASSUMED:
            row = index if key.section in LISTS else None
            made.append(Edit("set", key.section, row, key.key, body, follows=bool(made)))
    return made


def _row_of(build, path):
    """The number of the row of a section that a path belongs to, 0 where it stands once; None where it has none."""
    section, *middle, _ = path.split(".")
    if section not in LISTS:
        return next((int(m) for m in middle if m.isdigit()), 0)
    if middle[0].isdigit():
        return int(middle[0])
    ids = [one.id for one in getattr(build, section)]
    return ids.index(middle[0]) if middle[0] in ids else None
