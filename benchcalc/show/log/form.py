"""The form of the warm-up page: drop in or type a log, answer what it does not say, keep it in the sheet."""

from pathlib import Path
from typing import Any

import ipywidgets as widgets

from ...basics.escape import plain_html
from ...basics.fault import Fault
from ...basics.quantity import parse
from ...chain.log.link import keep_log
from ...sheet.build import Build, Log
from ...thermal.log.decoding import LARGEST_BYTES, too_large
from ...thermal.log.power import FEWEST
from ...thermal.warmup.forecast import FEW
from ..editor.form_words import on_page
from ..panel.keeping import own_file
from ..panel.panel import Kept
from .dropped_log import dropped_log_html

_WIDE = {"description_width": "170px"}
BY_HAND, EXAMPLE = "by_hand.txt", "min  degC\n0    21\n1    40\n2    64\n4    108\n8    171\n15   225"
PLACE = "place of the probe"


_WHERE = on_page("Where the probe sat is not told: write at = ... under [[log]].")
_BESIDE = (
    f'<div style="line-height:1.3;margin-left:12px">Or type it, a row for each reading, such as<pre>{EXAMPLE}</pre>'
    f"{FEWEST} readings are the least that can be fitted, in a wide band; {FEW} or more tell the form of the curve."
    "</div>"
)


def log_form(build: Build, **how: Any) -> Kept:
    """Drop in a warm-up log: a file, its path, or rows typed by hand, with the answers to what they may not say.

    build: Build of the sheet. how: as show.log_numbers.view_of.
    Returns a widget box; `.take(name, data)` does what dropping a file does, `.typed` is the box for rows by hand,
    `.keep()` puts the log into the sheet.
    """
    return _LogForm(build, how)


class _LogForm(Kept):
    ASKED = (
        ("time", "how times are written", ("as the file says", "s", "min", "h", "mm:ss", "hh:mm")),
        ("kind", "how readings are written", ("as the file says", "degC", "degF", "type K mV", "Pt100 ohm")),
        ("attached", "how the probe sits", ("not told", "pressed bead", "peened or embedded", "infrared, metal")),
    )

    def __init__(self, build, how):
        self.build, self.how, self.name, self.data, self.read = build, how, "", b"", None
        wide = {"width": "430px"}
        self.drop = widgets.FileUpload(
            description="choose a file (to 8 MB)",
            accept=".csv,.txt,.tsv,.dat,.log",
            multiple=False,
            layout={"width": "220px"},
        )
        self.path = widgets.Text(
            description="or its path (to 20 MB)", continuous_update=False, style=_WIDE, layout=wide
        )
        self.channel = widgets.Text(
            description="channel, if several", continuous_update=False, style=_WIDE, layout=wide
        )
        self.asked = {
            key: widgets.Dropdown(description=words, options=options, style=_WIDE, layout=wide)
            for key, words, options in self.ASKED
        }
        self.typed = widgets.Textarea(
            placeholder="time and temperature, a row each",
            continuous_update=False,
            rows=8,
            layout={"width": "260px", "height": "150px"},
        )
        self.place = widgets.Text(
            description=PLACE,
            placeholder="from the tip, such as 3 mm",
            continuous_update=False,
            style=_WIDE,
            layout=wide,
        )
        by_hand = widgets.HBox([self.typed, widgets.HTML(_BESIDE)])
        keep_it = widgets.Button(description="keep this log in my sheet", layout={"width": "220px"})
        self.told, self.view = widgets.HTML(layout={"min_height": "24px"}), widgets.HTML()
        self.drop.observe(lambda _: [self.take(f["name"], bytes(f["content"])) for f in self.drop.value], "value")
        self.path.observe(lambda _: self._open(), "value")
        self.typed.observe(lambda _: self.take(BY_HAND, self.typed.value.encode()), "value")
        for box in (self.channel, *self.asked.values()):
            box.observe(lambda _: self._show(), "value")
        keep_it.on_click(lambda _: self.keep())
        super().__init__(
            [
                widgets.HBox([self.drop, keep_it]),
                self.path,
                by_hand,
                self.place,
                *self.asked.values(),
                self.channel,
                self.told,
                self.view,
            ],
            layout={"max_width": "860px"},
        )

    def _open(self):
        place = Path(self.path.value.strip()).expanduser()
        if not place.is_file():
            self._say(f"{place} is not there.")
        elif place.stat().st_size > LARGEST_BYTES:
            self._say(too_large(place.name, place.stat().st_size))
        else:
            self.take(place.name, place.read_bytes())

    def take(self, name, data):
        """Read a log and show what came of it.  name: of the file. data: its bytes."""
        self.name, self.data = name, data
        self._show()

    def _show(self):
        given = {key: box.value if box.index else None for key, box in self.asked.items()}
        try:
            self.read, text = dropped_log_html(
                self.build, self.name, self.data, channel=self.channel.value.strip() or None, **given, **self.how
            )
        except Fault as why:
            self.read, text = None, ""
            self._say(why if self.data else "")
        else:
            self._say("Not kept yet: the rest of the page goes on with the log of the sheet.")
        self.view.value = f'<div class="jp-RenderedHTMLCommon">{text}</div>'

    def keep(self):
        """Put the log into the sheet; a demo is first copied to a sheet of one's own."""
        if self.read is None:
            self._say("There is no log to keep yet.")
            return
        try:
            place = self.place.value.strip()
            at_m = parse(place, "m", where=PLACE).nominal if place else None
            path, said = own_file(self.build)
            given = {key: box.value if box.index else None for key, box in self.asked.items()}
            channel = self.channel.value.strip() or None
            log = Log(self.name, at_m, given["attached"], channel, given["time"], given["kind"])
            number = keep_log(path, self.data, log)
        except Fault as why:
            self._say(why)
            return
        missing = "" if place else f"{_WHERE} "
        self._say(f"{said}Kept in {path.name} as log {number + 1}. {missing}Run this page again.")

    def _say(self, words):
        self.told.value = f"<div>{plain_html(str(words))}</div>"

    def kept(self):
        """What the saved page shows of the form without a kernel."""
        return {"text/plain": "Form: drop in a warm-up log. Run this page to use it."}, {}
