"""What follows what is typed: the picture at once, the chain when the maker rests; neither touches a field."""

import asyncio
import base64

from ...basics.escape import plain_text
from ...basics.fault import Fault
from ...chain.workings import work_out
from ..heat.numbers import heat_numbers
from ..start.glance import glance
from .drawn import drawn, in_words, settled_words
from .figure import drawn_png

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
        self.shown = drawn(tables, build)
        self._picture()

    def _picture(self, heat=None, stands=""):
        """The picture, what it shows in words, what is wrong with the places, and how the tool stands.

        heat: HeatNumbers or None. stands: of standing_words; its line is kept free until it is known.
        """
        n = self.shown
        hot = settled_words(heat) if heat is not None else ""
        said = f"{in_words(n)} {hot}".strip()
        wrong = "".join(f'<span class="wrong">▲ {plain_text(w.said)}</span>' for w in n.wrong)
        if n.missing:
            wrong += f'<span class="read">Not drawn yet: {plain_text("; ".join(n.missing))}.</span>'
        picture = ""
        if n.shapes:
            png, wide, tall = drawn_png(n, heat)
            picture = (
                f'<img width="{wide}" height="{tall}" alt="{plain_text(said, quote=True)}" '
                f'src="data:image/png;base64,{base64.b64encode(png).decode()}" '
                f'style="width:100%;max-width:{wide}px;height:auto;display:block;margin:4px 0">'
            )
        words = f"{n.room[0][0].upper()}{n.room[0][1:]}. " if n.room else "" if n.shapes else said
        words = plain_text(words) + (f"<b>{plain_text(hot)}</b>" if hot else "")
        stands = f'<span class="read"><b>{plain_text(stands) or "&nbsp;"}</b></span>' if n.shapes else ""
        self.picture.value = f'{picture}<div class="bench-told">{wrong}<span class="read">{words}</span>{stands}</div>'

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
            workings = work_out(build)
            chain = glance(build, workings=workings)
            heat = heat_numbers(build, workings.heat)
            self._picture(heat if len(heat.cells) else None, standing_words(workings))
        except Fault as why:
            chain = f"<p>{plain_text(why)}</p>"
        except Exception as why:  # nobody else would see it; older numbers must not stand under this sheet
            self._tell(
                f"<p>The chain of the sheet {plain_text(name)} could not be worked out as it stands above: "
                f"{plain_text(why)}. What you typed is not lost.</p>"
            )
            raise
        state = "Not kept yet. " if altered else ""
        self._tell(f"<p>{state}The chain of the sheet {plain_text(name)} as it stands above:</p>{chain}")

    def _tell(self, told):
        self.chain.value = f'<div class="jp-RenderedHTMLCommon">{told}</div>'


def standing_words(workings, most=3):
    """How a tool stands in one line: what is over by name, and how many limits are tight, not known, fine.

    workings: Workings. most: how many are named.
    """
    limits = [v for _, v in workings.verdicts if not v.advice]
    if not limits:
        return "Nothing can be judged yet."
    over = [v.named for v in limits if v.state == "over"]
    more = f" and {len(over) - most} more" if len(over) > most else ""
    named = f"Over: {'; '.join(over[:most])}{more}. " if over else "Nothing is over. "
    counts = ((state, sum(v.state == state for v in limits)) for state in ("tight", "not known", "fine"))
    return named + ", ".join(f"{count} {state}" for state, count in counts if count) + "."
