"""Ask where it is how hot: type a temperature or a marker and a time, and see the warm front."""

import base64
from typing import Any

import ipywidgets as widgets

from ...basics.escape import plain_html, plain_text
from ...basics.fault import Fault, fault
from ...basics.tables import rows
from ...sheet.build import Build
from ...studies.asked_temperature import asked_temperature
from ..drawing.live_picture import Live, picture
from ..drawing.tag import image_tag
from ..page.table import as_html
from ..panel.panel import Kept
from .front_figure import FRONT
from .front_numbers import MOMENTS_S, front_numbers
from .spread_tables import NoSpread, asked_first, fronts, ready_times

_WIDE = {"description_width": "190px"}


def front_form(build: Build, spread: Any) -> Kept:
    """Type a temperature or a melting marker and a time, and see how far it has crept, and when the tip is as hot.

    build: Build of the sheet. spread: SpreadInTime, or NoSpread: then it says so.
    Returns a widget box; `.ask(words, minutes)` does what typing does.
    """
    return _FrontForm(build, spread)


class _FrontForm(Kept):
    def __init__(self, build, spread):
        most_min = 60.0 if isinstance(spread, NoSpread) else float(spread.run.time_s[-1]) / 60
        self.build, self.spread, self.live, self.words = build, spread, Live(FRONT), ""
        self.most_min = most_min
        names = [r["marker"] for r in rows("markers") if r["safe"] != "no"]
        self.what = widgets.Combobox(
            value=asked_first(spread),
            options=names,
            description="temperature or marker",
            ensure_option=False,
            continuous_update=False,
            style=_WIDE,
            layout={"width": "430px"},
        )
        self.when = widgets.BoundedFloatText(
            value=MOMENTS_S[0] / 60,
            min=0.5,
            max=most_min,
            step=1.0,
            description="minutes after switching on",
            style=_WIDE,
            layout={"width": "300px"},
        )
        self.view = widgets.HTML()
        for box in (self.what, self.when):
            box.observe(lambda _: self.ask(self.what.value, self.when.value), "value")
        super().__init__([self.what, self.when, self.view], layout={"max_width": "860px"})
        self.ask(self.what.value, self.when.value)

    def ask(self, words, minutes):
        """Show the front.  words: as asked_temperature. minutes: after switching on."""
        try:
            if not 0 < minutes <= self.most_min:
                raise fault("time", f"{minutes:g} min", f"must lie within {self.most_min:.0f} min.")
            asked = asked_temperature(words, degrees=self.build.degrees)
        except Fault as why:
            self.view.value = f"<div>{plain_html(str(why))}</div>"
            return
        moments = tuple(sorted({60.0 * float(minutes), *MOMENTS_S[1:]}))[:3]
        numbers = front_numbers(self.build, self.spread, asked, moments)
        self.words = FRONT.caption(numbers)
        image = image_tag(self.live.png(numbers), self.words)
        told = as_html(fronts(self.build, self.spread, words, moments_s=moments)) + as_html(
            ready_times(self.build, self.spread, words)
        )
        note = f"<p>{plain_text(asked.note)}</p>" if asked.note else ""
        self.view.value = f'<div class="jp-RenderedHTMLCommon">{image}{told}{note}</div>'

    def kept(self):
        """What the saved page shows of the form without a kernel."""
        seen = picture(FRONT, self.build, (self.spread, asked_temperature(self.what.value, degrees=self.build.degrees)))
        return {"text/plain": seen.caption, "image/png": base64.b64encode(seen.png).decode()}, {}
