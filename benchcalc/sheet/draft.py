"""A sheet while it is being typed in a form: what was done to it, what is wrong with it, the way back."""

import json
from dataclasses import asdict
from pathlib import Path

from ..basics.fault import Fault, fault
from .choose import my_folder
from .complaint_places import by_place
from .edits import Edit, edited, tables_of
from .load import read
from .store import EARLIER, changed_since, go_back, look, put_bytes, put_file, versions_of


class Draft:
    """A sheet's file as it was seen, and the edits since; `.text` is the sheet with them.

    Nothing is written to the sheet before `keep`; each edit is noted aside at once, so that it outlives the form.
    """

    def __init__(self, path: str | Path):
        """path: the sheet's file.  Raises Fault: it is not there, or no text."""
        self.path = Path(path)
        self._start(look(self.path))
        if self.seen.raw is None:
            raise _gone(self.path)
        self.resumed, self.lost = self._taken_up()

    def _start(self, seen):
        self.seen, self.edits, self.undone = seen, [], []
        self.text = seen.text

    @property
    def aside(self) -> Path:
        """The file that notes what was typed and not kept yet."""
        return my_folder() / EARLIER / self.path.stem / "typed.json"

    def _taken_up(self):
        """What was typed before and never kept is laid on the sheet again: (how many edits, how many could not be)."""
        try:
            told = json.loads(self.aside.read_text(encoding="utf-8"))
            if told["path"] != str(self.path.resolve()):
                return 0, 0
            edits = [Edit(**e) for e in told["edits"]]
        except (OSError, ValueError, KeyError, TypeError):
            return 0, 0
        return self._lay(edits)

    def _lay(self, edits):
        done = 0
        for edit in edits:
            try:
                self.text = edited(self.text, [edit])
            except (Fault, KeyError, ValueError, TypeError):
                continue
            self.edits.append(edit)
            done += 1
        return done, len(edits) - done

    def _note(self):
        told = {"path": str(self.path.resolve()), "edits": [asdict(e) for e in self.edits]}
        try:
            if self.edits:
                self.aside.parent.mkdir(parents=True, exist_ok=True)
                put_bytes(self.aside, json.dumps(told).encode())
            elif self.aside.exists():
                self.aside.unlink()
        except (OSError, Fault):  # nowhere to note it: the form itself still holds it
            pass

    def do(self, *edits: Edit):
        """Do some edits.  edits: of Edit.  Raises Fault, and nothing is done: no TOML, or a row that is gone."""
        self.text = edited(self.text, edits)
        self.edits, self.undone = [*self.edits, *edits], []
        self._note()

    @property
    def tables(self) -> dict:
        """What the sheet holds now, as sheet/edits.tables_of.  Raises Fault: no TOML."""
        return tables_of(self.text)

    def checked(self) -> tuple:
        """The sheet as it stands in the form.

        Returns (Build or None, dict of what is wrong by its place, as complaint_places.by_place).
        """
        try:
            return read(self.text, where=self.path.name), {}
        except Fault as told:
            return None, by_place(told.complaints)

    @property
    def changed_elsewhere(self) -> bool:
        """Whether the file was changed by hand, or on another page, since it was seen."""
        return changed_since(self.seen)

    def take_file(self, *, with_mine: bool):
        """Go on from the file as it is now.

        with_mine: True to lay what was typed here on it, False to drop that.
        Returns number of edits that could not be laid on it.  Raises Fault: the file is gone or no text.
        """
        edits, seen = self.edits, look(self.path)
        if seen.raw is None:
            raise _gone(self.path)
        self._start(seen)
        lost = self._lay(edits)[1] if with_mine else 0
        self._note()
        return lost

    def keep(self, path: str | Path | None = None, *, over: bool = False):
        """Check the sheet and write it.

        path: another file, which takes the edits (a copy), None: its own. over: True to write over what was changed
        meanwhile; that version stays among the earlier ones.
        Returns the Build.  Raises Fault: something is wrong with it, ChangedMeanwhile: the file is another one now;
        nothing is written then.
        """
        if path is not None and Path(path) != self.path:
            edits, other = self.edits, look(path)
            text = edited(other.text, edits)
            build = read(text, where=Path(path).name)
            seen = put_file(path, text, seen=other)
            self.edits = []
            self._note()
            self.path = Path(path)
        else:
            build = read(self.text, where=self.path.name)
            seen = put_file(self.path, self.text, seen=None if over else self.seen)
        self._start(seen)
        self._note()
        return build

    def forget(self):
        """Drop what was typed and not kept."""
        self._start(self.seen)
        self._note()

    def undo(self) -> str:
        """One step back: the last edit, or where there is none the version before.

        Returns what was done, in words, "" where there is nothing further back.  Raises ChangedMeanwhile or Fault.
        """
        if self.edits:
            base = self.seen.text
            self.undone.append(self.edits[-1])
            self.edits = self.edits[:-1]
            self.text = edited(base, self.edits)
            self._note()
            return "The last change in the form is undone."
        return self._version(-1, "The sheet is as it was the version before")

    def redo(self) -> str:
        """One step forward again, as `undo`."""
        if self.undone:
            edit, rest = self.undone[-1], self.undone[:-1]
            self.do(edit)
            self.undone = rest
            return "The change is there again."
        return "" if self.edits else self._version(+1, "The sheet is as in the version after")

    def _version(self, step, words):
        kept = versions_of(self.path)
        here = [i for i, v in enumerate(kept) if v.read_bytes() == self.seen.raw]
        at = min(here, key=lambda i: abs(i - getattr(self, "at", len(kept)))) if here else len(kept)
        if not 0 <= at + step < len(kept):
            return ""
        self._start(go_back(self.path, kept[at + step], seen=self.seen))
        self.at = at + step
        return f"{words} ({at + step + 1} of {len(kept)})."


def _gone(path):
    return fault(str(path), "", "is not there any more.", do="Choose another sheet.")
