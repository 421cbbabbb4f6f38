"""In how many fields two texts of a sheet differ: what a maker would have to type to make the one of the other."""

from difflib import SequenceMatcher

from .edits import names_a, tables_of
from .schema import KEYS


def fields_apart(before: str, after: str) -> int:
    """How many fields differ between two texts; a row that is gone counts as one.

    before, after: TOML of a sheet.
    Returns count.  Who names a part or a wire by its new name does not count beside that name.  Raises Fault: no TOML.

    >>> fields_apart('[room]\\nambient = "20 degC"', '[room]\\nambient = "25 degC"\\nair_speed = "0.1 m/s"')
    2
    """
    one, other = tables_of(before), tables_of(after)
    pairs = {section: _pairs(_flat(one[section]), _flat(other[section])) for section in KEYS}
    called = {
        (section, old["id"]): new["id"]
        for section, rows in pairs.items()
        for old, new in rows
        if old and new and {"id"} <= old.keys() & new.keys() and old["id"] != new["id"]
    }
    return sum(_apart(section, *rows, called) for section in KEYS for rows in pairs[section])


def _flat(rows):
    """Rows without the tables inside them, which are sections of their own."""
    return [{k: v for k, v in row.items() if not isinstance(v, dict) and not _holds_tables(v)} for row in rows]


def _holds_tables(value):
    return isinstance(value, list) and any(isinstance(v, dict) for v in value)


def _pairs(old, new):
    """Rows beside those that they became: (old or None, new or None)."""
    found = []
    for _, i, k, j, m in SequenceMatcher(
        None, [repr(r) for r in old], [repr(r) for r in new], autojunk=False
    ).get_opcodes():
        some, others = old[i:k], new[j:m]
        count = max(len(some), len(others))
        found += zip(some + [None] * (count - len(some)), others + [None] * (count - len(others)))
    return found


def _apart(section, old, new, called):
    if old is None or new is None:
        return max(len(new or ()), 1)
    return sum(_called(section, k, old.get(k), called) != new.get(k) for k in old.keys() | new.keys())


def _called(section, key, value, called):
    """A value with the names that parts and wires have now."""
    spec = KEYS[section].get(key)
    for (of, old), name in called.items():
        if spec is not None and names_a(spec, of):
            value = (
                name if value == old else [name if v == old else v for v in value] if isinstance(value, list) else value
            )
    return value
