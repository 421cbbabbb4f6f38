"""Keep what a calibration learned in the sheet, or drop it again: one button each."""

import ipywidgets as widgets

from ...basics.escape import plain_html
from ...basics.fault import Fault
from ...sheet.build import Build
from ...sheet.keep_rows import keep_learned
from ...sheet.learned import learned_words
from ...studies.calibrate.calibrate import Calibration
from ...studies.calibrate.put_back import learned_entries
from ...studies.calibrate.trust import distrust
from ..panel.keeping import own_file
from ..panel.panel import Kept

INVENTED = "Not kept. These readings are invented, and no tool is known better by them; put your own log on your sheet."


def learned_form(build: Build, found: Calibration, invented: bool) -> Kept:
    """Keep what the readings taught in the sheet, or drop all that it keeps of the kind.

    build: Build of the sheet. found: Calibration of it. invented: whether the readings were made up for practice: these
    are not kept.
    Returns a widget box; `.keep()` and `.drop()` do what its buttons do, `.build` is the sheet as it then stands.
    """
    return _LearnedForm(build, found, invented)


class _LearnedForm(Kept):
    def __init__(self, build, found, invented):
        self.build, self.found, self.invented = build, found, invented
        self.told = widgets.HTML(layout={"min_height": "24px"})
        buttons = []
        for words, do in (("keep what was learned", self.keep), ("drop what was learned", self.drop)):
            button = widgets.Button(description=words, layout={"width": "220px"})
            button.on_click(lambda _, do=do: do())
            buttons.append(button)
        super().__init__([widgets.HBox(buttons), self.told], layout={"max_width": "860px"})
        self._say(learned_words(build) or "Nothing is kept as learned on this sheet.")

    def keep(self):
        """Write what was learned into a sheet of one's own, in place of what it kept before."""
        entries = () if self.invented else learned_entries(self.build, self.found)
        if not entries:
            self._say(INVENTED if self.invented else f"Not kept: {distrust(self.found)}.")
            return
        self._write(entries, "Kept. ")

    def drop(self):
        """Take all that was learned out of the sheet; the version before stays in its folder."""
        if not self.build.learned:
            self._say("There is nothing to drop: this sheet keeps nothing as learned.")
            return
        self._write((), "Dropped: the sheet stands as it was without its readings. ")

    def _write(self, entries, said):
        try:
            path, copied = own_file(self.build)
            self.build = keep_learned(path, entries)
        except Fault as why:
            self._say(why)
            return
        self._say(f"{copied}{said}{learned_words(self.build)} Run the pages again to see what follows.")

    def _say(self, words):
        self.told.value = f"<div>{plain_html(str(words))}</div>"

    def kept(self):
        """What the saved page shows of the form without a kernel."""
        return {"text/plain": "Form: keep what was learned, or drop it. Run this page to use it."}, {}
