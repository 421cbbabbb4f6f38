"""Which field of a form a complaint about a sheet stands beside."""

import re

from .schema import KEYS, LISTS, SECTIONS

_NUMBERED = re.compile(r"^([a-z_.]+) (\d+)(?:\.(.+))?$")


def place_of(where: str) -> tuple:
    """The place that a complaint names: (section, number of the row, key).

    where: as `Complaint.where` says it, e.g. "part 2.from", "coil.tails.ohm".
    Returns ("", None, "") where it is about the whole sheet; the number is None for sections that stand once, the
    key "" where it is about all of a row.

    >>> place_of("supply.reading 3.volts")
    ('supply.reading', 2, 'volts')
    """
    if found := _NUMBERED.match(where):
        section, index, key = found[1], int(found[2]) - 1, found[3] or ""
        return (section, index, key) if section in LISTS else ("", None, "")
    if where in SECTIONS:
        return where, None, ""
    section, _, key = where.rpartition(".")
    if section in SECTIONS:
        return section, None, key if key in KEYS[section] else ""
    return "", None, ""


def by_place(complaints) -> dict:
    """Complaints by their place.

    complaints: iterable of Complaint.
    Returns dict: (section, number, key) -> list of sentences without place and line; a key that a sheet does not
    know stands with its row.
    """
    found = {}
    for c in complaints:
        section, index, key = place_of(c.where)
        said = " ".join(w for w in (f"“{c.text}”" if c.text else "", c.need, c.cause, c.do) if w)
        if section and key and key not in KEYS[section]:
            section, index, key, said = section, index, "", f"{key}: {said}"
        elif not section:
            said = f"{c.where}: {said}" + (f" (line {c.line})" if c.line else "")
        found.setdefault((section, index, key), []).append(said)
    return found
