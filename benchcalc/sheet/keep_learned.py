"""Write what was learned into a sheet, and drop it again in one step."""

import json
from dataclasses import replace
from pathlib import Path

from .build import Build
from .load import load, read
from .store import alter
from .toml_blocks import Block, blocks_of, put_back_together

SECTION = "learned"
ABOVE = "# Learned from readings on the finished tool; page 06 drops all of it in one step.\n"


def keep_learned(path: str | Path, entries: tuple) -> Build:
    """Write what was learned into a sheet, in place of what it kept before; all else stays, comments too.

    path: the sheet's file. entries: of Learned; none drops all that was kept, in one step.
    Returns the Build read back; the previous version stays beside it.  Raises Fault and leaves the file untouched where
    the sheet would not pass its checks or cannot be written.
    """
    path = Path(path)

    def made(before):
        blocks = [b for b in blocks_of(before) if b.section != SECTION]
        new = [Block(SECTION, i, _as_toml(e, ABOVE if i == 0 else "")) for i, e in enumerate(entries)]
        if new:
            blocks[-1] = replace(blocks[-1], text=blocks[-1].text.rstrip("\n") + "\n\n")
        after = put_back_together([*blocks, *new]).rstrip("\n") + "\n"
        read(after, where=path.name)
        return after

    alter(path, made)
    return load(path)


def _as_toml(entry, above):
    said = {"input": entry.input, "log": entry.log, "of": entry.of}
    lines = [f"{k} = {json.dumps(v, ensure_ascii=False)}" for k, v in said.items()]
    lines += [f"{k} = {float(f'{getattr(entry, k):.7g}')!r}" for k in ("value", "low", "high")]
    lines += ["that_day = true"] if entry.that_day else []
    lines += [f'goes_with = "{entry.goes_with}"'] if entry.goes_with else []
    return f"{above}[[{SECTION}]]\n" + "\n".join(lines) + "\n\n"
