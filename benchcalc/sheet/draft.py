"""A sheet while it is being typed in a form: what was done to it, what is wrong with it, the way back."""

import json
from dataclasses import asdict, replace
from pathlib import Path

from ..basics.fault import Fault, fault
from .choose import my_folder
from .complaint_places import by_place
from .differs import fields_apart
from .edits import Edit, edited, tables_of
from .load import read
from .store import EARLIER, changed_since, look, put_bytes, put_file, versions_of
from .without_faults import without_faults


class Draft:
    """A sheet's file as it was seen, and the edits since; `.text` is the sheet with them.

    Nothing is written to the sheet before `keep`; each edit is noted aside at once, so that it outlives the form.  The
    edits are laid on `.base`: the file as it was seen, or after `undo` a version before it.
    """

    def __init__(self, path: str | Path):
        """path: the sheet's file.  Raises Fault: it is not there, or no text."""
        self.path = Path(path)
        self._start(look(self.path))
        if self.seen.raw is None:
            raise _gone(self.path)
        self.lost = self._taken_up()
        self.resumed = self.changes

    def _start(self, seen):
        self.seen, self.edits, self.undone, self.at = seen, [], [], None
        self.before = None  # what the last keep was made of: its base and edits, so that undo goes on field by field
        self.text = self.base = seen.text
        self.good = ""  # the last text without a fault

    @property
    def aside(self) -> Path:
        """The file that notes what was typed and not kept yet."""
        return my_folder() / EARLIER / self.path.stem / "typed.json"

    @property
    def altered(self) -> bool:
        """Whether the form says something else than the file as it was seen."""
        return self.text != self.seen.text

    @property
    def changes(self) -> int:
        """In how many fields the form differs from the file as it was seen."""
        if not self.altered:
            return 0
        try:
            return fields_apart(self.seen.text, self.text)
        except Fault:  # the file is no TOML
            return len(self.edits)

    def _taken_up(self):
        """What was typed before and never kept is laid on the sheet again: how many edits could not be."""
        try:
            told = json.loads(self.aside.read_text(encoding="utf-8"))
            if told["path"] != str(self.path.resolve()):
                return 0
            edits, base = [Edit(**e) for e in told["edits"]], told.get("base")
            if base is not None:
                tables_of(base)
                self.text = self.base = str(base)
        except (OSError, ValueError, KeyError, TypeError, Fault):
            return 0
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
        return len(edits) - done

    def _note(self):
        told = {"path": str(self.path.resolve()), "edits": [asdict(e) for e in self.edits]}
        if self.base != self.seen.text:
            told["base"] = self.base
        try:
            if self.edits or "base" in told:
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
            build = read(self.text, where=self.path.name)
        except Fault as told:
            return None, by_place(told.complaints)
        self.good = self.text
        return replace(build, file=str(self.path)), {}  # its logs lie beside it

    def as_far_as_it_goes(self) -> tuple:
        """The sheet without what is at fault in it, as without_faults, with the last values of this form or its file
        that had no fault: (Build or None, places left out, dict of place -> value that stands in)."""
        build, left, kept = without_faults(self.text, self.path.name, self.good or self.seen.text)
        return None if build is None else replace(build, file=str(self.path)), left, kept

    @property
    def changed_elsewhere(self) -> bool:
        """Whether the file was changed by hand, or on another page, since it was seen."""
        return changed_since(self.seen)

    def take_file(self, *, with_mine: bool):
        """Go on from the file as it is now.

        with_mine: True to lay what was typed here on it, False to drop that.
        Returns number of edits that could not be laid on it.  Raises Fault: the file is gone or no text.
        """
        edits, seen, older = self.edits, look(self.path), self.base != self.seen.text
        if seen.raw is None:
            raise _gone(self.path)
        self._start(seen)
        lost = self._lay(edits) + older if with_mine else 0
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
            edits, other, made_of = self.edits, look(path), None
            text = edited(other.text, edits)
            build = read(text, where=Path(path).name)
            seen = put_file(path, text, seen=other)
            self.edits = []
            self._note()
            self.path = Path(path)
        else:
            build, made_of = read(self.text, where=self.path.name), (self.base, self.edits)
            seen = put_file(self.path, self.text, seen=None if over else self.seen)
        self._start(seen)
        self.before = made_of
        self._note()
        return build

    def forget(self):
        """Drop what was typed and not kept."""
        self._start(self.seen)
        self._note()

    def undo(self) -> str:
        """One step back: the last edit, those of the last keep too, or where there is none the version before, in the
        form alone.

        Returns what was done, in words, "" where there is nothing further back.  Nothing is written, and `redo` brings
        each step back.  Raises Fault: that version cannot be read.
        """
        if not self.edits and not self._into_last_keep():
            return self._version(-1)
        self.undone.append(self.edits[-1])
        while self.edits.pop().follows and self.edits:
            self.undone.append(self.edits[-1])
        self.text = edited(self.base, self.edits)
        self._note()
        return "The last change in the form is undone."

    def _into_last_keep(self):
        """Take up the edits that the last keep was made of.  Returns whether there are any, and their base is kept."""
        (base, edits), self.before = self.before or ("", []), None
        here = [i for i, v in enumerate(versions_of(self.path)) if edits and look(v).text == base]
        if not here or self.at is not None:
            return False
        self.base, self.edits, self.at = base, edits, here[-1]
        return True

    def redo(self) -> str:
        """One step forward again, as `undo`."""
        if not self.undone or self.undone[-1] is None:
            return "" if self.edits else self._version(+1)
        rest = list(self.undone)
        again = [rest.pop()]
        while rest and rest[-1] is not None and rest[-1].follows:
            again.append(rest.pop())
        self.do(*again)
        self.undone = rest
        return "The change is there again."

    def _version(self, step):
        """Show another kept version in the form; what was undone before it waits for the way forward."""
        kept = versions_of(self.path)
        if self.at is None:
            here = [i for i, v in enumerate(kept) if v.read_bytes() == self.seen.raw]
            self.at = here[-1] if here else len(kept)
        at = self.at + step
        if not 0 <= at < len(kept):
            return ""
        text = look(kept[at]).text
        tables_of(text)
        if step < 0:
            self.undone.append(None)  # a step between versions
        elif self.undone:
            self.undone.pop()
        self.at, self.text, self.base = at, text, text
        self._note()
        if text == self.seen.text:
            return "The form shows the file as it is."
        way = "before" if step < 0 else "after"
        return (
            f"The form shows the version {way} ({at + 1} of {len(kept)}). Nothing is written: check and keep would, "
            "redo goes forward again."
        )


def _gone(path):
    return fault(str(path), "", "is not there any more.", do="Choose another sheet.")
