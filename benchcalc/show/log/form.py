"""The form of the warm-up page: drop in a log, answer what the file does not say, keep it in the sheet."""

from pathlib import Path
from typing import Any

import ipywidgets as widgets

from ...basics.escape import plain_html
from ...basics.fault import Fault
from ...chain.log.link import keep_log
from ...sheet.build import Build, Log
from ...thermal.log.decoding import LARGEST_BYTES, too_large
from ..panel.keeping import own_file
from ..panel.panel import Kept
from .dropped_log import dropped_log_html

_WIDE = {"description_width": "170px"}


def log_form(build: Build, **how: Any) -> Kept:
    """Drop in a warm-up log: a file or its path, with the answers to what a file may not say.

    build: Build of the sheet. how: as show.log_numbers.view_of.
    Returns a widget box; `.take(name, data)` does what dropping a file does, `.keep()` puts it into the sheet.
    """
    return _LogForm(build, how)


class _LogForm(Kept):
    ASKED = (
        ("time", "time is written in", ("as the file says", "s", "min", "h", "mm:ss", "hh:mm")),
        ("kind", "readings are", ("as the file says", "degC", "degF", "type K mV", "Pt100 ohm")),
        ("attached", "probe is", ("not told", "pressed bead", "peened or embedded", "infrared, metal")),
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
        keep_it = widgets.Button(description="keep this log in my sheet", layout={"width": "220px"})
        self.told, self.view = widgets.HTML(layout={"min_height": "24px"}), widgets.HTML()
        self.drop.observe(lambda _: [self.take(f["name"], bytes(f["content"])) for f in self.drop.value], "value")
        self.path.observe(lambda _: self._open(), "value")
        for box in (self.channel, *self.asked.values()):
            box.observe(lambda _: self._show(), "value")
        keep_it.on_click(lambda _: self.keep())
        super().__init__(
            [widgets.HBox([self.drop, keep_it]), self.path, self.channel, *self.asked.values(), self.told, self.view],
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
            path, said = own_file(self.build)
            given = {key: box.value if box.index else None for key, box in self.asked.items()}
            channel = self.channel.value.strip() or None
            log = Log(self.name, None, given["attached"], channel, given["time"], given["kind"])
            number = keep_log(path, self.data, log)
        except Fault as why:
            self._say(why)
            return
        self._say(
            f"{said}Kept in {path.name} as log {number + 1}. Write the probe's place there (at = ...), and run "
            "this page again."
        )

    def _say(self, words):
        self.told.value = f"<div>{plain_html(str(words))}</div>"

    def kept(self):
        """What the saved page shows of the form without a kernel."""
        return {"text/plain": "Form: drop in a warm-up log. Run this page to use it."}, {}
