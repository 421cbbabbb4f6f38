"""Put a warm-up log into a sheet, as one more or in place of another, and take one out; nothing is lost by it.

The files of logs stay beside the sheet, and every version of the sheet stays in its folder of earlier ones.
"""

import json
import re
from pathlib import Path

from ..basics.fault import fault
from .build import Log
from .load import load, read
from .store import alter, put_bytes
from .toml_blocks import Block, blocks_of, group_of, put_back_together, without

SECTION = "log"
TEXTS = ("attached", "channel", "time", "reads")
OF_THE_BENCH = ("at", "attached", "power")  # where, how and with what watts it was read: a corrected log has the same


def keep_log(path, data, log, *, instead=None, power=None):
    """Put a log into a sheet: its file beside it, a [[log]] in its text; all else stays.

    path: the sheet's file. data: bytes of the log's file. log: Log, its keys: name of the file, place of the probe, how
    it was attached, and so on, or None. instead: number of the log of the sheet that it takes the place of, whose
    place, attachment and watts stay where these are not told anew; None: it is one more. power: the watts meanwhile as
    the sheet is to say them, such as "20.3 W +- 1.1 W", or None.
    Returns the number of the log on the sheet.  Nothing is overwritten: another file of that name gets a number.
    Raises Fault: the sheet would not pass its checks, the folder cannot be written, or there is no such log.
    """
    path = Path(path)
    place = _free_place(path.parent, data, log.file)

    def made(text):
        said = _as_toml(place.name, log, power)
        after = text.rstrip("\n") + f"\n\n{said}" if instead is None else _exchanged(text, instead, said)
        read(after, where=path.name)
        if not place.exists():
            put_bytes(place, data)
        return after

    alter(path, made)
    return len(load(path).log) - 1 if instead is None else instead


def drop_log(path, number):
    """Take a log out of a sheet; its file stays where it is.

    path: the sheet's file. number: of the log, from 0.
    Raises Fault: there is no such log, or the sheet cannot be written.
    """
    path = Path(path)

    def made(text):
        blocks = blocks_of(text)
        _block(blocks, number)
        after = put_back_together(without(blocks, SECTION, number)).rstrip("\n") + "\n"
        read(after, where=path.name)
        return after

    alter(path, made)


def _free_place(folder, data, file):
    """Where a log's file goes: by its own name, or with a number where another file has it."""
    name = re.sub(r"[^\w .()+-]|^\.+", "_", re.split(r"[/\\]", file)[-1]) or "log"  # such as `log_path` opens
    stem, ending, number = Path(name).stem[:120], Path(name).suffix[:12] or ".csv", 1
    place = folder / f"{stem}{ending}"
    while place.exists() and place.read_bytes() != data:
        number += 1
        place = folder / f"{stem}_{number}{ending}"
    return place


def _as_toml(name, log: Log, power):
    said = f'[[{SECTION}]]\nfile = "{name}"\n'
    said += "" if log.at_m is None else f'at = "{log.at_m * 1000:.6g} mm"\n'
    for key in TEXTS:
        said += f"{key} = {json.dumps(getattr(log, key), ensure_ascii=False)}\n" if getattr(log, key) else ""
    return said + (f'power = "{power}"\n' if power else "")


def _exchanged(text, number, said):
    """The text with another log in the place of one; words above its table stay."""
    blocks = blocks_of(text)
    first, end = _block(blocks, number)
    above, below = _parted(blocks[first].text)
    told = {line.split("=")[0].strip() for line in said.splitlines()}
    stays = [line for line in below if line.split("=")[0].strip() in set(OF_THE_BENCH) - told]
    block = Block(SECTION, number, "".join((*above, said, *stays)) + "\n")
    return put_back_together([*blocks[:first], block, *blocks[end:]])


def _parted(text):
    """The lines above a table's head, and those below it."""
    lines = text.splitlines(keepends=True)
    head = next(i for i, line in enumerate(lines) if line.lstrip().startswith("["))
    return lines[:head], [line if line.endswith("\n") else line + "\n" for line in lines[head + 1 :]]


def _block(blocks, number):
    found = group_of(blocks, SECTION, number)
    if found is None:
        raise fault(
            f"log {number + 1}",
            "",
            "stands in no [[log]] of its own on this sheet.",
            do="Change it in the file of the sheet, or on page 00 under “markers, logs”.",
        )
    return found
