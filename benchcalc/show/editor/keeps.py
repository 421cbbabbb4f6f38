"""Keeping what was typed in the form, the way back, and a file that somebody else changes meanwhile."""

import asyncio

from ...basics.fault import Fault
from ...sheet.choose import my_folder
from ...sheet.store import ChangedMeanwhile
from ..panel.keeping import own_name
from .view import MEANWHILE, MISPLACED, NOT_LOST, EditorView

WATCH_S = 2.0


class KeepingView(EditorView):
    """An editor that can keep.

    It has `.draft`, `.build`, `.wrong`, `.misplaced`, `.check(again)`, `.anew()` and `.list_sheets()`.
    """

    def file_words(self):
        """The shown sheet's file, as it is told."""
        return f"{my_folder().name}/{self.draft.path.name}"

    def keep(self):
        """Check what was typed and write it; a demo is first copied to a sheet of one's own."""
        if self.draft is None or not self.draft.altered:
            self.say("Nothing was altered: the sheet stays as it is.")
            return
        if self.build is None:
            count = sum(map(len, self.wrong.values()))
            self.say(f"Not kept: {count} to mend first{NOT_LOST}")
            return
        self._write()

    def _write(self, over=False):
        def write():
            path, said = own_name(self.draft.path)
            self.draft.keep(path, over=over)
            self.list_sheets()
            self.ask_about("")
            self.check(again=True)
            return said

        self.attempt(
            write,
            lambda: (
                f"Kept in {self.file_words()}; undo brings every version before back into the form. "
                "Run the page again to see it in the rest of the page." + self._places()
            ),
        )

    def _places(self):
        if not self.misplaced:
            return ""
        return MISPLACED.format("1 thing is wrong" if self.misplaced == 1 else f"{self.misplaced} things are wrong")

    def undo(self):
        """One step back: the last change, or the version before."""
        self._step(lambda: self.draft.undo(), "There is nothing further back.")

    def redo(self):
        """One step forward again."""
        self._step(lambda: self.draft.redo(), "There is nothing to do again.")

    def _step(self, act, else_words):
        if self.draft is None:
            return

        def step():
            said = act()
            if said:
                self.show(self.draft.tables)
                self.check(again=True)
            return said or else_words

        self.attempt(step, "")

    def look_again(self):
        """Look whether the file was changed on another page or by hand: shown where nothing was typed, else asked."""
        if self.draft is None or not self.draft.changed_elsewhere:
            return
        if self.draft.altered:
            self._changed_elsewhere()
            return
        try:
            self.draft.take_file(with_mine=False)
            self.show(self.draft.tables)
            self.check(again=True)
        except Fault as why:
            self.say(why)
            return
        self.say(f"{self.draft.path.name} was changed on another page, or by hand: the form shows it as it is now.")

    def watch(self):
        """Look at the file now and then, for as long as the page's kernel runs."""
        try:
            asyncio.get_running_loop().call_later(WATCH_S, self.watch)
        except RuntimeError:  # no loop runs: a test, or a plain script
            return
        self.look_again()

    def _changed_elsewhere(self):
        self.ask_about(f"The file {self.draft.path.name}{MEANWHILE}")

    def take_file(self, mine):
        """Go on from the file as it is now.  mine: True to lay what was typed here on it."""

        def take():
            lost = self.draft.take_file(with_mine=mine)
            self.ask_about("")
            self.anew()
            return f"{lost} changes no longer fit and were left out. " if lost else ""

        self.attempt(
            take, "The form shows the file as it is now" + (", with what you typed laid on it." if mine else ".")
        )

    def keep_mine(self):
        """Write what stands in the form; the other version stays among the earlier ones."""
        if self.build is None:
            self.keep()
        else:
            self._write(over=True)

    def attempt(self, act, told):
        """Do something, and say how it went.  act: function. told: words, or a function of them, said after its own."""
        try:
            said = act()
        except ChangedMeanwhile:
            self._changed_elsewhere()
            return
        except Fault as why:
            self.say(why)
            return
        self.say((said if isinstance(said, str) else "") + (told() if callable(told) else told))
        self.list_sheets()
