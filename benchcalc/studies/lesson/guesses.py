"""Locked guesses, kept as one small CSV file a learner: the first answer stands, whatever is run again."""

import csv
import io
from dataclasses import asdict, dataclass, fields, replace
from pathlib import Path

from ...basics.fault import fault
from ...sheet.store import look
from .class_folder import class_file, put_class_file

FOLDER = "guesses"
LARGEST_FILE = 200_000  # characters


@dataclass(frozen=True)
class LockedGuess:
    """A guess that was locked.  key: as it is noted. choice: its words. opened: whether it has been opened."""

    key: str
    choice: str
    opened: bool = False


def guess_file(name: str, folder: str | Path | None = None) -> Path:
    """Where a learner's locked guesses are kept.

    name: the learner's. folder: None for guesses/ in the folder of the class.
    """
    return class_file(FOLDER, name, folder)


def locked_by(name: str, folder: str | Path | None = None) -> dict[str, LockedGuess]:
    """What a learner has locked, key -> LockedGuess; nothing where there is no file.

    name, folder: as `guess_file`.
    Raises Fault: the file cannot be read as guesses.
    """
    path = guess_file(name, folder)
    text = look(path).text
    if len(text) > LARGEST_FILE:
        raise fault(str(path), "", "is far too long for a file of guesses.")
    found = {}
    for number, row in enumerate(csv.DictReader(io.StringIO(text)), 2):
        try:
            guess = LockedGuess(row["key"], row["choice"], row["opened"] == "True")
        except KeyError:
            raise fault(str(path), "", "does not read as guesses.", line=number) from None
        found.setdefault(guess.key, guess)  # the first one stands
    return found


def lock_guess(name: str, guess: LockedGuess, folder: str | Path | None = None) -> LockedGuess:
    """Keep a guess, unless one is locked under its key already: then that one stands, opened where either is.

    name, folder: as `guess_file`. guess: LockedGuess.
    Returns the guess that stands.  Raises Fault: it cannot be read or written.
    """
    kept = locked_by(name, folder)
    first = kept.get(guess.key, guess)
    kept[guess.key] = replace(first, opened=first.opened or guess.opened)
    out = io.StringIO()
    writer = csv.DictWriter(out, [f.name for f in fields(LockedGuess)], lineterminator="\n")
    writer.writeheader()
    writer.writerows(asdict(g) for g in kept.values())
    put_class_file(guess_file(name, folder), out.getvalue())
    return kept[guess.key]
