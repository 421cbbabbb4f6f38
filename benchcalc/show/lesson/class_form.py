"""A bench's readings typed into the page, and every bench's on one picture; what was expected opens when all are in."""

import re

import ipywidgets as widgets

from ...basics.escape import plain_text
from ...basics.fault import Fault
from ...basics.names import display
from ...studies.lesson.class_data import (
    BenchReading,
    class_readings,
    keep_readings,
    not_yet,
    read_one,
    readings_file,
    texts_in,
)
from ...studies.lesson.first_evening_readings import first_evening
from ..drawing.live_picture import Live
from ..drawing.tag import image_tag
from ..page.table import as_html
from ..panel.panel import Kept
from .class_figure import CLASS_SPREAD, class_spread, class_spread_caption
from .class_tables import spread_table, to_read
from .typed_line import typed_line

BARE_NUMBER = re.compile(r"[-+]?\d+([.,]\d*)?|[-+]?[.,]\d+")


def class_form(asked: list[BenchReading] | None = None) -> Kept:
    """Type a bench's readings, and see all benches.

    asked: list of BenchReading, None for the first evening.
    Returns a widget box; `.type(row, text)` does what typing does, `.keep()` keeps them in the folder of the class,
    `.gather()` reads that folder again, `.unfold()` shows what was expected before this bench has all its rows.
    """
    return _ClassForm(asked or first_evening())


class _ClassForm(Kept):
    def __init__(self, asked):
        self.asked, self.live, self.unfolded = asked, Live(CLASS_SPREAD), False
        self.bench = widgets.Text(description="bench", placeholder="its name or number", continuous_update=False)
        self.bench.observe(lambda change: self._known(change["old"]), "value")
        self.fields, self.beside = {}, {}
        rows = [self._row(a) for a in asked]
        keep_it = widgets.Button(description="keep this bench's readings", layout={"width": "240px"})
        again = widgets.Button(description="read all benches again", layout={"width": "240px"})
        self.unfold_it = widgets.Button(description="unfold what was expected", layout={"width": "240px"})
        keep_it.on_click(lambda _: self.keep())
        again.on_click(lambda _: self.gather())
        self.unfold_it.on_click(lambda _: self.unfold())
        self.told, self.view = widgets.HTML(), widgets.HTML()
        buttons = widgets.HBox([keep_it, again, self.unfold_it], layout={"flex_flow": "row wrap"})
        super().__init__([self.bench, *rows, buttons, self.told, self.view], layout={"max_width": "860px"})
        self.gather()

    def _row(self, asked):
        words = f"{asked.row}, {1000 * asked.length_m:.0f} mm{' (for the quick)' * asked.quick}"
        field = typed_line(words, f"number, {display(asked.key)[0]}", 420, 230)
        field.observe(lambda _: self._typed(asked), "value")
        self.fields[asked.row], self.beside[asked.row] = field, widgets.HTML()
        return widgets.HBox([field, self.beside[asked.row]], layout={"flex_flow": "row wrap"})

    def type(self, row, text):
        """Type a reading.  row: of the worksheet. text: with its unit, or a bare number in the row's own unit."""
        self.fields[row].value = text

    def _typed(self, asked):
        """A bare number gets the unit that its row asks for, where all can see it; what cannot be read is told."""
        field, beside = self.fields[asked.row], self.beside[asked.row]
        text, beside.value = field.value.strip(), ""
        if BARE_NUMBER.fullmatch(text):
            field.value = f"{text} {display(asked.key)[0]}"
            return
        if text:
            try:
                read_one(asked, text)
            except Fault as complaint:
                beside.value = f"<i>{plain_text(complaint)}</i>"

    def keep(self):
        """Keep the readings of this bench in the folder of the class."""
        try:
            path = keep_readings(self.bench.value, {row: f.value for row, f in self.fields.items()})
        except Fault as complaint:
            self.told.value = f"<i>{plain_text(complaint)}</i>"
            return
        self.gather()
        left = self._left()
        still = f"; still to come: {', '.join(left)}" if left else "; all in, so what was expected is unfolded below"
        self.told.value = f"<i>kept in {plain_text(path.name)}{still}</i>"

    def unfold(self):
        """Show what was expected, whether or not this bench has read all of it."""
        self.unfolded = True
        self.gather()

    def _filed(self):
        """The bench by the name of its file; nothing where it has no name or has kept nothing."""
        return readings_file(self.bench.value).stem if self._texts(self.bench.value) else ""

    def _left(self):
        """Rows that this bench has not kept yet; all of them while it has no name."""
        return not_yet(self.asked, self._texts(self.bench.value))

    def _texts(self, bench):
        """What a bench has kept; nothing where it has no name or no file."""
        try:
            return texts_in(readings_file(bench))
        except Fault:
            return {}

    def _known(self, before):
        """Another bench: what the one before has kept leaves the fields, what it did not keep stays; a bench that was
        kept before brings its readings along."""
        for row, text in self._texts(before).items():
            if row in self.fields and self.fields[row].value.strip() == text:
                self.fields[row].value = ""
        for row, text in self._texts(self.bench.value).items():
            if row in self.fields and not self.fields[row].value:
                self.fields[row].value = text
        self.told.value = ""
        self.gather()

    def gather(self):
        """Read every bench's file again."""
        spreads, told = class_readings(self.asked)
        unfolded = self.unfolded or not self._left()
        self.unfold_it.disabled = unfolded
        numbers = class_spread(spreads, unfolded)
        image = image_tag(
            self.live.png(numbers), class_spread_caption(numbers), "width:100%;max-width:860px;display:block"
        )
        rows = as_html(spread_table(spreads, told, unfolded, self._filed()))
        self.view.value = f'<div class="jp-RenderedHTMLCommon">{image}{rows}</div>'

    def kept(self):
        """What the saved page shows of the form without a kernel: the rows to fill in."""
        return {"text/plain": f"bench: ________\n\n{to_read(self.asked)}"}, {}
