"""The form of the warm-up page: drop in or type a log, answer what it does not say, keep it in the sheet."""

from pathlib import Path
from typing import Any

import ipywidgets as widgets

from ...basics.escape import plain_html
from ...basics.fault import Fault
from ...basics.quantity import parse
from ...sheet.build import Build, Log
from ...sheet.keep_log import drop_log, keep_log
from ...sheet.load import load
from ...sheet.log_watts import AMPS, VOLTS, day_watts
from ...thermal.log.decoding import LARGEST_BYTES, too_large
from ...thermal.log.power import FEWEST
from ...thermal.warmup.forecast import FEW
from ..editor.form_words import on_page
from ..panel.keeping import own_file
from ..panel.panel import Kept
from .dropped_log import dropped_log_html

_WIDE, _LONG = {"description_width": "170px"}, {"width": "430px"}
BY_HAND, EXAMPLE = "by_hand.txt", "min  degC\n0    21\n1    40\n2    64\n4    108\n8    171\n15   225"
PLACE, ONE_MORE = "place of the probe", "one more log"


AGAIN = "The version before stays in its folder. Run this page again."
CORRECTED = f"Correct it here and keep it again: it goes in place of this one; for another, choose “{ONE_MORE}”. "
WHICH = "Choose at “in my sheet it is” which log to take out."
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
    `.keep()` puts the log into the sheet, as one more or in place of the one chosen in `.where` (from then on the one
    it has put there), `.take_out()` takes that one out.
    """
    return _LogForm(build, how)


def _box(words, such=""):
    """A box to type in.  words: beside it. such: an example."""
    return widgets.Text(description=words, placeholder=such, continuous_update=False, style=_WIDE, layout=_LONG)


class _LogForm(Kept):
    ASKED = (
        ("time", "how times are written", ("as the file says", "s", "min", "h", "mm:ss", "hh:mm")),
        ("kind", "how readings are written", ("as the file says", "degC", "degF", "type K mV", "Pt100 ohm")),
        ("attached", "how the probe sits", ("not told", "pressed bead", "peened or embedded", "infrared, metal")),
    )

    def __init__(self, build, how):
        self.build, self.how, self.name, self.data, self.read = build, how, "", b"", None
        self.mine = None  # (number, name) of the log that was kept from here
        self.file, self.logs = build.file, [one.file or "without a file" for one in build.log]
        self.drop = widgets.FileUpload(
            description="choose a file (to 8 MB)",
            accept=".csv,.txt,.tsv,.dat,.log",
            multiple=False,
            layout={"width": "220px"},
        )
        self.path, self.channel = _box("or its path (to 20 MB)"), _box("channel, if several")
        self.asked = {
            key: widgets.Dropdown(description=words, options=options, style=_WIDE, layout=_LONG)
            for key, words, options in self.ASKED
        }
        self.typed = widgets.Textarea(
            placeholder="time and temperature, a row each",
            continuous_update=False,
            rows=8,
            layout={"width": "260px", "height": "150px"},
        )
        self.place = _box(PLACE, "from the tip, such as 3 mm")
        self.volts, self.amps = _box(VOLTS, "while it is hot, such as 12.1 V"), _box(AMPS, "such as 1.68 A")
        self.where = widgets.Dropdown(
            description="in my sheet it is", options=self._places(), style=_WIDE, layout=_LONG
        )
        by_hand = widgets.HBox([self.typed, widgets.HTML(_BESIDE)])
        keep_it = widgets.Button(description="keep this log in my sheet", layout={"width": "220px"})
        out = widgets.Button(description="take the chosen log out", layout={"width": "220px"})
        self.told, self.view = widgets.HTML(layout={"min_height": "24px"}), widgets.HTML()
        self.drop.observe(lambda _: [self.take(f["name"], bytes(f["content"])) for f in self.drop.value], "value")
        self.path.observe(lambda _: self._open(), "value")
        self.typed.observe(lambda _: self.take(BY_HAND, self.typed.value.encode()), "value")
        for box in (self.channel, *self.asked.values(), self.volts, self.amps):
            box.observe(lambda _: self._show(), "value")
        keep_it.on_click(lambda _: self.keep())
        out.on_click(lambda _: self.take_out())
        super().__init__(
            [
                widgets.HBox([self.drop, keep_it, out]),
                self.path,
                by_hand,
                self.place,
                self.volts,
                self.amps,
                self.where,
                *self.asked.values(),
                self.channel,
                self.told,
                self.view,
            ],
            layout={"max_width": "860px"},
        )

    def _places(self):
        """Where a log goes: one more, or in place of one that is there."""
        there = [(f"in place of log {i + 1}, {name}", i) for i, name in enumerate(self.logs)]
        return [(ONE_MORE, None), *there]

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
        if self.mine is not None and self.where.value == self.mine[0] and name != self.mine[1]:
            self.where.value = None  # another file is no correction of the one that was kept from here
        self.name, self.data = name, data
        self._show()

    def _given(self):
        return {key: box.value if box.index else None for key, box in self.asked.items()}

    def _show(self):
        try:
            watts = day_watts(self.build, self.volts.value, self.amps.value)
            how = self._given() | self.how
            at = Log(self.name, attached=how.pop("attached"), power_w=None if watts is None else watts.watts_w)
            channel = self.channel.value.strip() or None
            self.read, text = dropped_log_html(self.build, self.name, self.data, channel=channel, at=at, **how)
        except Fault as why:
            self.read, text = None, ""
            self._say(why if self.data else "")
        else:
            said = f" {watts.said}." if watts is not None else ""
            self._say(f"Not kept yet: the rest of the page goes on with the log of the sheet.{said}")
        self.view.value = f'<div class="jp-RenderedHTMLCommon">{text}</div>'

    def keep(self):
        """Put the log into the sheet, where the form says; a demo is first copied to a sheet of one's own."""
        if self.read is None:
            self._say("There is no log to keep yet.")
            return
        try:
            place = self.place.value.strip()
            at_m = parse(place, "m", where=PLACE).nominal if place else None
            watts = day_watts(self.build, self.volts.value, self.amps.value)
            path, said = self._own()
            given, instead = self._given(), self.where.value
            channel = self.channel.value.strip() or None
            log = Log(self.name, at_m, given["attached"], channel, given["time"], given["kind"])
            power = None if watts is None else watts.on_sheet
            number = keep_log(path, self.data, log, instead=instead, power=power)
        except Fault as why:
            self._say(why)
            return
        missing = f"{_WHERE} " if load(path).log[number].at_m is None else ""
        was = "" if instead is None else f" in place of {self.logs[instead]}, whose file stays beside the sheet"
        taught = "" if instead is None else self._taught(path, self.logs[instead])
        self._reload(path)
        self.mine, self.where.value = (number, self.name), number
        self._say(f"{said}Kept in {path.name} as log {number + 1}{was}. {missing}{taught}{CORRECTED}{AGAIN}")

    def take_out(self):
        """Take the log that is chosen out of the sheet; its file and the version before stay."""
        number = self.where.value
        if number is None:
            self._say(WHICH if self.logs else "There is no log on this sheet to take out.")
            return
        try:
            path, said = self._own()
            drop_log(path, number)
        except Fault as why:
            self._say(why)
            return
        name, taught = self.logs[number], self._taught(path, self.logs[number])
        self._reload(path)
        self._say(f"{said}Log {number + 1}, {name}, is out of {path.name}; its file stays beside it. {taught}{AGAIN}")

    def _own(self):
        """The sheet to write to: that of the page, or the copy that this form has made of it."""
        if self.file != self.build.file:
            return Path(self.file), ""
        return own_file(self.build)

    def _taught(self, path, name):
        """A word on what was learned from a log that is no longer there."""
        learned = any(name in (e.log or "") for e in load(path).learned)
        return f"What was learned from {name} still stands: drop it or learn again, further down. " if learned else ""

    def _reload(self, path):
        self.mine = None
        self.file = str(path)
        self.logs = [one.file or "without a file" for one in load(path).log]
        self.where.options = self._places()

    def _say(self, words):
        self.told.value = f"<div>{plain_html(str(words))}</div>"

    def kept(self):
        """What the saved page shows of the form without a kernel."""
        return {"text/plain": "Form: drop in a warm-up log. Run this page to use it."}, {}
