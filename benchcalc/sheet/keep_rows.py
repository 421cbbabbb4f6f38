"""Write all the rows of one section of a sheet at once, in place of what it kept before, or drop them in one step."""

import json
from dataclasses import replace
from pathlib import Path

from .build import Build
from .load import load, read
from .schema import KEYS
from .store import alter
from .toml_blocks import Block, blocks_of, put_back_together

ABOVE = {
    "learned": "# Learned from readings on the finished tool; page 06 drops all of it in one step.\n",
    "as_built.reading": "# Readings of the build card, each with what the card expected then; page 10 writes them.\n",
}


def keep_learned(path: str | Path, entries: tuple) -> Build:
    """Write what was learned into a sheet, in place of what it kept before.

    path: the sheet's file. entries: of Learned; none drops all that was kept, in one step.
    Returns and raises as keep_rows.
    """
    return keep_rows(path, "learned", entries)


def keep_rows(path: str | Path, section: str, rows: tuple) -> Build:
    """Write the rows of a section into a sheet, in place of what it kept before; all else stays, comments too.

    path: the sheet's file. section: that a page writes as a whole. rows: of its dataclass; none drops all.
    Returns the Build read back; the previous version stays beside it.  Raises Fault and leaves the file untouched where
    the sheet would not pass its checks or cannot be written.
    """
    path = Path(path)

    def made(before):
        blocks = [b for b in blocks_of(before) if b.section != section]
        new = [Block(section, i, (ABOVE[section] if i == 0 else "") + _as_toml(section, r)) for i, r in enumerate(rows)]
        if new:
            blocks[-1] = replace(blocks[-1], text=blocks[-1].text.rstrip("\n") + "\n\n")
        after = put_back_together([*blocks, *new]).rstrip("\n") + "\n"
        read(after, where=path.name)
        return after

    alter(path, made)
    return load(path)


def _as_toml(section, row):
    lines = []
    for key in KEYS[section].values():
        value = getattr(row, key.field)
        if value is None or value is False:
            continue
        if isinstance(value, float):
            text = repr(float(f"{value:.7g}"))
        else:
            text = "true" if value is True else json.dumps(value, ensure_ascii=False)
        lines.append(f"{key.key} = {text}")
    return f"[[{section}]]\n" + "\n".join(lines) + "\n\n"
