"""Where a class keeps what it shares, one small CSV file a learner or bench."""

import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

from ...basics.fault import Fault, fault
from ...sheet.choose import my_folder
from ...sheet.store import put_file
from .personal import tidy_name

VARIABLE = "BENCHCALC_CLASS"


def class_folder() -> Path:
    """The folder of the class (not made here): class/ among one's own sheets, or BENCHCALC_CLASS for all of a room."""
    named = os.environ.get(VARIABLE, "").strip()
    return Path(named) if named else my_folder() / "class"


def class_file(kind: str, name: str, folder: str | Path | None = None) -> Path:
    """The file of a learner or a bench (not made here).

    kind: "scores" or "readings". name: as typed. folder: None for the folder of the kind in that of the class.
    Raises Fault: no name, or one too long.
    """
    letters = "".join(c if c.isalnum() else "_" for c in tidy_name(name))
    return Path(folder or class_folder() / kind) / f"{letters}.csv"


def read_class(kind: str, read: Callable[[Path], Any], folder: str | Path | None = None) -> tuple[dict, list[str]]:
    """Everybody's files, read one after the other in the order of their names.

    kind, folder: as `class_file`. read: function of a path.
    Returns ({file name without its ending: what read gave}, complaints): what cannot be read costs the others nothing.
    """
    found, told = {}, []
    for path in sorted(Path(folder or class_folder() / kind).glob("*.csv")):
        try:
            found[path.stem] = read(path)
        except Fault as complaint:
            told.append(str(complaint))
    return found, told


def put_class_file(path: Path, text: str) -> Path:
    """Write a file, and make its folder where it is not there.

    path: of `class_file`. text: its whole content.
    Returns path.  Raises Fault: it cannot be written.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise fault(str(path.parent), "", f"cannot be made ({error.strerror}).") from None
    put_file(path, text)
    return path
