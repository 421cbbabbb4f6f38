"""A sheet with faults, read without the fields that are at fault: what of it can be shown, and what was left out."""

import tomllib
from collections.abc import Callable

from ..basics.fault import Fault
from .complaint_places import place_of
from .edits import tables_of
from .load import read
from .schema import LISTS, SECTIONS

PASSES = 8  # a field that goes may leave a row that lacks it, and whoever names that row


def without_faults(text: str, where: str = "sheet", before: str = "") -> tuple:
    """The Build of a sheet's text without what is at fault in it.

    text: TOML. where: name of the sheet. before: an earlier text without faults, whose values stand in for those at
    fault; "" for none.
    Returns (Build or None, places left out, dict of place -> value that stands in), places as complaint_places.place_of
    with the key "" for a whole row.  Rows are numbered as the text has them.  None where it is no TOML, or lacks its
    name.

    >>> build, left, _ = without_faults('[sheet]\\nname = "a"\\n[room]\\nambient = "20 kg"\\nair_speed = "0.1 m/s"')
    >>> build.room.air_speed_m_s, left
    (0.1, (('room', None, 'ambient'),))
    """
    try:
        data = tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError):
        return None, (), {}
    numbers = {s: list(range(len(_rows(data, s)))) for s in LISTS}
    left, kept = [], {}
    good = _values(before, numbers) if before else {}
    for _ in range(PASSES):
        try:
            return read(_toml(data), where=where), tuple(left), kept
        except Fault as told:
            gone = {place_of(c.where) for c in told.complaints}
        if any(not section for section, _, _ in gone):
            return None, (), {}
        rest = gone - _put_back(data, gone, good, kept)
        for place in rest & kept.keys():  # the earlier value is at fault too
            del kept[place]
            good.pop(place, None)
        if rest and not _take_out(data, rest, numbers, left.append):
            return None, (), {}
        if any(not key for _, _, key in left):
            good = {}  # rows have other numbers now
    return None, (), {}


def _values(text, numbers):
    """Every value of an earlier text by its place, of sections that have as many rows now."""
    found, tables = {}, tables_of(text)
    for section, rows in tables.items():
        if section in LISTS and len(rows) != len(numbers[section]):
            continue
        for i, row in enumerate(rows):
            for key, value in row.items():
                found[section, i if section in LISTS else None, key] = value
    return found


def _put_back(data, gone, good, kept):
    """Put earlier values in the places at fault that have one which was not tried yet; the set of these places."""
    back = {place for place in gone if place in good and place not in kept}
    for section, index, key in back:
        holder, name = _holder(data, section)
        row = holder.setdefault(name, {}) if index is None else holder[name][index]
        row[key] = kept[section, index, key] = good[section, index, key]
    return back


def _toml(data):
    import tomlkit

    return tomlkit.dumps(data)


def _rows(data, section):
    """The rows of a section in a parsed sheet, wherever it stands; none where it is no list of them."""
    holder, name = _holder(data, section)
    found = holder.get(name)
    return found if isinstance(found, list) else []


def _holder(data, section):
    """What holds a section in a parsed sheet, and its name there; an empty table where nothing does."""
    *above, name = section.split(".")
    for part in above:
        data = data.get(part)
        if not isinstance(data, dict):
            return {}, name
    return data, name


def _take_out(data, gone, numbers, note: Callable):
    """Take places out of a parsed sheet; a row whose field is not there, so is missing, goes whole."""
    whole = [s for s in SECTIONS if s not in LISTS and any(p[0] == s for p in gone)]
    done = False
    for section in whole:
        holder, name = _holder(data, section)
        row = holder.get(name)
        keys = {key for s, _, key in gone if s == section}
        here = keys & row.keys() if isinstance(row, dict) else set()
        for key in here:
            del row[key]
            note((section, None, key))
            done = True
        if not here and row is not None and section != "sheet":
            del holder[name]
            note((section, None, ""))
            done = True
    for section in LISTS:
        rows, places = _rows(data, section), {(i, key) for s, i, key in gone if s == section and i is not None}
        for i in sorted({i for i, _ in places if i < len(rows)}, reverse=True):
            keys = {key for j, key in places if j == i}
            here = keys & rows[i].keys() if isinstance(rows[i], dict) else set()
            for key in here:
                del rows[i][key]
                note((section, numbers[section][i], key))
            if not here:
                del rows[i]
                note((section, numbers[section].pop(i), ""))
            done = True
    return done
