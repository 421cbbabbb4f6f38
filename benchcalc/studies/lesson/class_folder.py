"""Where a class keeps what it shares."""

import os
from pathlib import Path

from ...sheet.choose import my_folder

VARIABLE = "BENCHCALC_CLASS"


def class_folder() -> Path:
    """The folder of the class (not made here): class/ among one's own sheets, or BENCHCALC_CLASS for all of a room."""
    named = os.environ.get(VARIABLE, "").strip()
    return Path(named) if named else my_folder() / "class"
