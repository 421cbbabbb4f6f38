"""Which line of a TOML text each key stands on, so that a message can name it."""

import re

_TABLE = re.compile(r"\s*(\[\[?)([^\[\]]+)\]\]?")  # one way to match: blanks are stripped afterwards
_KEY = re.compile(r"\s*([A-Za-z0-9_.-]+)\s*=")


def lines_of(text, lists):
    """Line numbers of tables and keys.

    text: the TOML text. lists: names of tables that stand many times ("wire", "supply.reading").
    Returns dict: ("supply.reading", 0, "volts") -> line; ("supply.reading", 0, "") for its header.
    Index is None for tables that stand once.  Keys of inline tables get the line of the table.
    """
    found, section, index, count = {}, "", None, {}
    for number, line in enumerate(text.splitlines(), 1):
        table, key = _TABLE.match(line), _KEY.match(line)
        if table and not key:
            section = "".join(table[2].split())
            index = None
            if section in lists:
                index = count.get(section, -1) + 1
                count[section] = index
            found[(section, index, "")] = number
        elif key:
            *outer, last = key[1].split(".")
            inner = ".".join([section, *outer]).strip(".")
            found.setdefault((inner, index if inner == section else None, last), number)
    return found
