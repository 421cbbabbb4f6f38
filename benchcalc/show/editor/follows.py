"""What follows what is typed: the picture at once, the chain when the maker rests; neither touches a field."""

import asyncio

from ...basics.escape import plain_text
from ...basics.fault import Fault
from ..start.glance import glance

REST_S = 0.4


class Follows:
    """The picture and the chain of the sheet that stands in the form."""

    def __init__(self, picture, chain):
        """picture, chain: HTML widgets."""
        self.picture, self.chain, self.timer, self.now = picture, chain, None, None

    def nothing(self):
        """Show neither: there is no sheet that could be read."""
        self._cancel()
        self.picture.value = self.chain.value = ""

    def _cancel(self):
        if self.timer is not None:
            self.timer.cancel()
        self.timer = None

    def show(self, draft, build, tables, wrong):
        """Follow what was typed.  draft: Draft. build: Build or None. tables, wrong: of the sheet as it stands."""
        self.now = draft.path.stem, bool(draft.edits), build, sum(map(len, wrong.values()))
        self.draw(build, tables)
        self._cancel()
        try:
            self.timer = asyncio.get_running_loop().call_later(REST_S, self.rest)
        except RuntimeError:  # no loop runs: a test, or a plain script
            self.rest()

    def draw(self, build, tables):
        """Draw the tool as it stands in the form.  build: Build or None. tables: of the sheet."""

    def rest(self):
        """Work out the chain with what stands in the form."""
        self.timer = None
        name, altered, build, count = self.now
        if build is None:
            words = "One thing is" if count == 1 else f"{count} things are"
            self._tell(
                f"<p>{words} to mend in the sheet {plain_text(name)} before its chain can be worked out: look for ▲ on "
                "the buttons above and beside the fields. No other sheet stands in for it.</p>"
            )
            return
        try:
            told = glance(build)
        except Fault as why:
            told = f"<p>{plain_text(why)}</p>"
        state = "Not kept yet. " if altered else ""
        self._tell(f"<p>{state}The chain of the sheet {plain_text(name)} as it stands above:</p>{told}")

    def _tell(self, told):
        self.chain.value = f'<div class="jp-RenderedHTMLCommon">{told}</div>'
