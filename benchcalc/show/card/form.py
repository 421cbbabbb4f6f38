"""The form of the card: type the readings back, see at once which row contradicts, keep them beside the sheet."""

import ipywidgets as widgets
import numpy as np

from ...basics.escape import plain_html, plain_text
from ...basics.fault import Fault
from ...sheet.build import Build
from ...sheet.choose import my_folder
from ...sheet.keep_rows import keep_rows
from ...sheet.save import keep
from ...studies.card.as_built import CONTRADICTS, as_card_readings, compare, finished_coil, kept_readings
from ...studies.card.record import Card
from ..page.table import as_widget_html
from ..panel.keeping import own_file
from ..panel.panel import Kept
from .as_built_tables import compared_table, verdict_words
from .words import expected_words
from .write import write_card

PAPER = "paper"  # the folder for the card, beside the sheets
BUILT_WORDS = {
    "as_built.cold_ohm": "cold ohms",
    "as_built.turns": "turns counted",
    "as_built.winding_m": "length of the winding",
}


def as_built_form(build: Build, card: Card) -> Kept:
    """Type the card's readings back.

    build: Build of the sheet. card: Card of it.
    Returns a widget box; `.type(id, text)` does what typing into a row does, `.keep()` keeps the readings in the
    sheet, with what was expected.
    """
    return _CardForm(build, card)


class _CardForm(Kept):
    def __init__(self, build, card):
        self.build, self.card = build, card
        kept = kept_readings(build)
        asked = (r for r in card.rows() if r.ask or r.id in kept)
        self.rows = [r for r in asked if r.expected is not None and np.isfinite(r.expected.nominal)]
        self.boxes, lines = {}, []
        for r in self.rows:
            words = f"{plain_text(r.what)}: <b>{plain_text(expected_words(build, r))}</b>"
            told = widgets.HTML(f'<div style="line-height:1.25">{words}</div>', layout={"width": "520px"})
            self.boxes[r.id] = widgets.Text(
                value=kept.get(r.id, ""),
                placeholder="with its unit",
                continuous_update=False,
                layout={"width": "150px"},
            )
            self.boxes[r.id].observe(lambda _: self._show(), "value")
            lines.append(widgets.HBox([told, self.boxes[r.id]], layout={"align_items": "center"}))
        keep_it = widgets.Button(description="keep these readings", layout={"width": "220px"})
        keep_it.on_click(lambda _: self.keep())
        self.told, self.view = widgets.HTML(layout={"min_height": "24px"}), widgets.HTML()
        super().__init__([*lines, keep_it, self.told, self.view], layout={"max_width": "860px"})
        self._show()

    def readings(self):
        """What is typed: id of a row -> text."""
        return {id: box.value for id, box in self.boxes.items() if box.value.strip()}

    def type(self, id, text):
        """Type a reading.  id: of the row. text: with its unit."""
        self.boxes[id].value = text

    def _show(self):
        try:
            found = compare(self.build, self.card, self.readings())
        except Fault as why:
            self._say(why)
            return
        self.view.value = as_widget_html(compared_table(self.build, found))
        self._say(verdict_words(found) if found else "Type a reading with its unit, such as 13.1 ohm.")

    def keep(self):
        """Keep the readings in the sheet, with what was expected; a demo is first copied to one of one's own."""
        try:
            found = compare(self.build, self.card, self.readings())
            path, said = own_file(self.build)
            rows = as_card_readings(self.build, self.card, self.readings())
            coil = finished_coil(self.build, self.card, self.readings())
            if coil:
                keep(path, coil, self.build)
            self.build = keep_rows(path, "as_built.reading", rows)
        except Fault as why:
            self._say(why)
            return
        words = " and ".join(BUILT_WORDS[p] for p in coil)
        also = f" Written into the sheet as of the finished coil, too: {words}." if coil else ""
        self._say(f"{said}Kept in {path.name}, each reading with what the card expected of it.{also}{_against(found)}")

    def _say(self, words):
        self.told.value = f"<div>{plain_html(str(words))}</div>"

    def kept(self):
        """What the saved page shows of the form without a kernel."""
        return {"text/plain": "Form: the readings of the card. Run this page to use it."}, {}


def _against(found):
    """What of the kept readings contradicts the card, in sentences; "" where nothing does.  found: of Compared."""
    names = [c.row.what for c in found if c.state == CONTRADICTS]
    if not names:
        return ""
    return (
        f" Kept as read, though they contradict the card: {'; '.join(names)}. What the card goes on to promise is of "
        "the tool as planned; give it no power before the first of them is found."
    )


def card_form(build: Build) -> Kept:
    """A button that writes the card of this sheet to paper, in a folder beside the maker's sheets.

    build: Build.
    Returns a widget box; `.write()` does what its button does.
    """
    return _CardButton(build)


class _CardButton(Kept):
    def __init__(self, build):
        self.build, self.told = build, widgets.HTML()
        self.button = widgets.Button(description="write the card to paper", layout={"width": "220px"})
        self.button.on_click(lambda _: self.write())
        super().__init__([self.button, self.told])

    def write(self):
        """Write the card as HTML, and as PDF where there is a browser, and say where they are."""
        said, self.button.disabled = [], True
        self.told.value = "Being written: some seconds."
        try:
            said += write_card(self.build, my_folder() / PAPER)
        except (Fault, OSError) as why:
            said.append(f"Not written: {why}")
        finally:
            self.button.disabled = False
            self.told.value = "<br>".join(plain_html(words) for words in said)

    def kept(self):
        """What the saved page shows of it without a kernel."""
        return {"text/plain": "Button: write the card to paper. Run this page to press it."}, {}
