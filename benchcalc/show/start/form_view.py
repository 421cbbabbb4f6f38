"""What the form of the first page looks like; what its menus and buttons do is said by whoever makes it."""

import html

import ipywidgets as widgets

from ...basics.tables import rows as table_rows
from ..panel.panel import Kept

_WIDE = {"description_width": "170px"}
BUTTONS = ("work with this sheet", "copy to a sheet of my own", "add a row", "check and keep")


class FormView(Kept):
    """Menus, boxes and buttons of the form, and the place where the chain is shown.

    `.menu`, `.name`, `.meter`, `.fields` (path -> box), `.lines` (a row for each reading), `.told`, `.view`.
    """

    def __init__(self, fields, press, picked, changed):
        """fields: (path, words) of each box. press: four functions, for BUTTONS. picked, changed: functions to call."""
        self.quiet, self.changed = False, changed
        self.menu = widgets.Dropdown(description="sheet", style=_WIDE, layout={"width": "430px"})
        self.name = widgets.Text(
            description="name of my copy", placeholder="my_iron", style=_WIDE, layout={"width": "430px"}
        )
        self.meter = widgets.Dropdown(
            description="read with",
            style=_WIDE,
            layout={"width": "430px"},
            options=[
                ("each as on the sheet", ""),
                *((r["key"], r["key"]) for r in table_rows("instruments") if r["quantity"] == "v"),
            ],
        )
        self.fields = {
            path: widgets.Text(description=words, continuous_update=False, style=_WIDE, layout={"width": "430px"})
            for path, words in fields
        }
        self.lines = widgets.VBox()
        self.told = widgets.HTML(layout={"min_height": "48px"})
        self.view = widgets.HTML()
        buttons = {words: widgets.Button(description=words, layout={"width": "220px"}) for words in BUTTONS}
        for words, do in zip(buttons, press):
            buttons[words].on_click(lambda _, do=do: do())
        self.menu.observe(lambda _: None if self.quiet else picked(self.menu.value), "value")
        self.meter.observe(lambda _: changed(), "value")
        for box in self.fields.values():
            box.observe(lambda _: changed(), "value")
        super().__init__(
            [
                widgets.HBox([self.menu, buttons["work with this sheet"]]),
                widgets.HBox([self.name, buttons["copy to a sheet of my own"]]),
                widgets.HTML("<b>Readings at the supply</b>: no load first (0 A), then one or more loads."),
                self.lines,
                widgets.HBox([buttons["add a row"], self.meter]),
                *self.fields.values(),
                widgets.HBox([buttons["check and keep"]]),
                self.told,
                self.view,
            ],
            layout={"max_width": "860px"},
        )

    def say(self, words):
        """Say something under the buttons.  words: a text or a Fault."""
        self.told.value = f"<div>{html.escape(str(words)).replace(chr(10), '<br>')}</div>"

    def show(self, chain):
        """Show the chain.  chain: HTML."""
        self.view.value = f'<div class="jp-RenderedHTMLCommon">{chain}</div>'

    def reading_line(self, volts, amps, instrument, place):
        """A row for one reading.  volts, amps, instrument: as typed. place: its number on the sheet, or None."""
        boxes = [
            widgets.Text(
                value=text,
                description=words,
                continuous_update=False,
                layout={"width": "210px"},
                style={"description_width": "80px"},
            )
            for text, words in ((volts, "volts, V"), (amps, "amps, A"))
        ]
        away = widgets.Button(description="remove this row", layout={"width": "140px"})
        line = widgets.HBox([*boxes, away])
        line.instrument, line.place = instrument, place
        for box in boxes:
            box.observe(lambda _: self.changed(), "value")

        def remove(_):
            self.lines.children = [other for other in self.lines.children if other is not line]
            self.changed()

        away.on_click(remove)
        return line
