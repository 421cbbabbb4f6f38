"""A bench's readings typed into the page, and every bench's on one picture."""

import ipywidgets as widgets

from ...basics.escape import plain_text
from ...basics.fault import Fault
from ...basics.names import display
from ...studies.lesson.class_data import BenchReading, class_readings, keep_readings, readings_file, texts_in
from ...studies.lesson.first_evening_readings import first_evening
from ..drawing.live_picture import Live
from ..drawing.tag import image_tag
from ..page.table import as_html
from ..panel.panel import Kept
from .class_figure import CLASS_SPREAD, class_spread, class_spread_caption
from .class_tables import spread_table, to_read


def class_form(asked: list[BenchReading] | None = None) -> Kept:
    """Type a bench's readings, and see all benches.

    asked: list of BenchReading, None for the first evening.
    Returns a widget box; `.type(row, text)` does what typing does, `.keep()` keeps them in the folder of the class,
    `.gather()` reads that folder again.
    """
    return _ClassForm(asked or first_evening())


class _ClassForm(Kept):
    def __init__(self, asked):
        self.asked, self.live = asked, Live(CLASS_SPREAD)
        self.bench = widgets.Text(description="bench", placeholder="its name or number", continuous_update=False)
        self.bench.observe(lambda _: self._known(), "value")
        self.fields = {
            a.row: widgets.Text(
                description=f"{a.row.split()[0]}: {a.what}",
                placeholder=f"number and {display(a.key)[0]}",
                continuous_update=False,
                layout={"width": "520px"},
                style={"description_width": "330px"},
            )
            for a in asked
        }
        keep_it = widgets.Button(description="keep this bench's readings", layout={"width": "240px"})
        again = widgets.Button(description="read all benches again", layout={"width": "240px"})
        keep_it.on_click(lambda _: self.keep())
        again.on_click(lambda _: self.gather())
        self.told, self.view = widgets.HTML(), widgets.HTML()
        super().__init__(
            [self.bench, *self.fields.values(), widgets.HBox([keep_it, again]), self.told, self.view],
            layout={"max_width": "860px"},
        )
        self.gather()

    def type(self, row, text):
        """Type a reading.  row: of the worksheet. text: with its unit."""
        self.fields[row].value = text

    def keep(self):
        """Keep the readings of this bench in the folder of the class."""
        try:
            path = keep_readings(self.bench.value, {row: f.value for row, f in self.fields.items()})
        except Fault as complaint:
            self.told.value = f"<i>{plain_text(complaint)}</i>"
            return
        self.told.value = f"<i>kept in {plain_text(path.name)}</i>"
        self.gather()

    def _known(self):
        """A bench that was kept before brings its readings along; what is typed stays."""
        try:
            texts = texts_in(readings_file(self.bench.value))
        except Fault:
            return
        for row, text in texts.items():
            if row in self.fields and not self.fields[row].value:
                self.fields[row].value = text

    def gather(self):
        """Read every bench's file again."""
        spreads, told = class_readings(self.asked)
        numbers = class_spread(spreads)
        said = class_spread_caption(numbers)
        image = image_tag(self.live.png(numbers), said, "width:100%;max-width:860px;display:block")
        self.view.value = (
            f'<div class="jp-RenderedHTMLCommon">{image}<p>{plain_text(said)}</p>{as_html(spread_table(spreads, told))}'
            "</div>"
        )

    def kept(self):
        """What the saved page shows of the form without a kernel: the rows to fill in."""
        return {"text/plain": f"bench: ________\n\n{to_read(self.asked)}"}, {}
