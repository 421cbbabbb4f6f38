"""Choose a verdict in doubt, and see what each reading would leave of its range."""

import base64

import ipywidgets as widgets

from ...basics.escape import plain_text
from ...sheet.build import Build
from ...studies.doubt.ranked import MeasureFirst
from ..drawing.live_picture import Live, picture
from ..drawing.tag import image_tag
from ..page.table import as_html
from ..panel.panel import Kept
from .figure import LADDER, reading_ladder, reading_ladder_caption
from .tables import after_reading, first_line

NONE = "no verdict is in doubt"


def doubt_form(build: Build, found: MeasureFirst) -> Kept:
    """The ladder of readings for a verdict that the reader chooses.

    build: Build of the sheet. found: MeasureFirst.
    Returns a widget box; `.show(what)` does what choosing does.
    """
    return _DoubtForm(build, found)


class _DoubtForm(Kept):
    def __init__(self, build, found):
        self.build, self.found, self.live = build, found, Live(LADDER)
        self.named = [d.what for d in found.doubts] or [NONE]
        self.what = widgets.IntSlider(
            value=1,
            min=1,
            max=max(len(self.named), 2),
            description="verdict, the most doubtful first",
            style={"description_width": "210px"},
            layout={"width": "560px"},
        )
        self.view = widgets.HTML()
        self.what.observe(lambda _: self.show(self.chosen()), "value")
        super().__init__([self.what, self.view])
        self.show(self.chosen())

    def chosen(self):
        """The verdict at the slider."""
        return self.named[min(self.what.value, len(self.named)) - 1]

    def show(self, what):
        """Show a verdict.  what: of a Doubtful."""
        numbers = reading_ladder(self.build, self.found, what)
        said = reading_ladder_caption(numbers)
        first = plain_text(first_line(self.build, self.found).text.replace("*", ""))
        told = as_html(after_reading(self.build, self.found, what))
        png = self.live.png(numbers)
        wide, tall = self.live.figure.canvas.get_width_height()
        look = f"width:100%;max-width:{wide}px;height:auto;aspect-ratio:{wide}/{tall};display:block;margin:0"
        self.view.value = (
            f'<div class="jp-RenderedHTMLCommon"><div style="margin-bottom:6px">{first}</div>'
            f'<div style="display:flex;flex-wrap:wrap;gap:0 14px"><div style="flex:0 1 {wide}px;min-width:0">'
            f"{image_tag(png, said, look, (wide, tall))}"
            f'<div style="height:74px;overflow:auto;font-size:88%">{plain_text(said)}</div></div>'
            f'<div style="flex:1 1 420px;min-width:0;height:320px;overflow:auto">{told}</div></div></div>'
        )

    def kept(self):
        """What the saved page shows of the form without a kernel."""
        seen = picture(LADDER, self.build, (self.found, self.chosen()))
        return {"text/plain": seen.caption, "image/png": base64.b64encode(seen.png).decode()}, {}
