"""The form of the first page: choose a sheet, copy it, type readings, see the whole chain at a glance."""

import html
from pathlib import Path

import ipywidgets as widgets

from ...basics.fault import Fault
from ...basics.names import say
from ...basics.tables import rows as table_rows
from ...chain.workings import band_text, work_out
from ...materials.alloys import alloy_name
from ...sheet.choose import choose, chosen, copy_to_mine, demos, my_folder, my_sheets, sheet_path
from ...sheet.form_edits import keep_readings, with_typed
from ...sheet.load import load, read
from ...sheet.save import as_typed
from ..page.lesson import chain
from ..page.table import as_html, headline
from ..panel.panel import Kept, own_name

HEADLINE = (
    ("no-load voltage", "supply.open_v"),
    ("source resistance", "supply.source_ohm"),
    ("length for the wanted power", "wire.length_m"),
    ("power in the coil", "coil.coil_w"),
    ("current", "coil.load_a"),
    ("reading at the tails, cold", "coil.meter_ohm"),
)
FIELDS = (("want.power_w", "wanted power, W"), ("coil.length_m", "coil length, with unit"))
_WIDE = {"description_width": "170px"}


def sheets_listed():
    """Every sheet as (words, name): demos, marked as invented, then one's own."""
    return [(f"{n} (invented demo)", n) for n in demos()] + [(f"{n} (my own)", n) for n in my_sheets()]


def typed_in(build):
    """What the form shows of a sheet, in the user's own words where there are any.

    build: Build.
    Returns (readings as (volts, amps, instrument, place), dict of field path -> text).
    """

    def own(path, value):
        known = build.known.get(path)
        return "" if value is None else known.text if known and known.text else f"{value:g}"

    readings = [
        (
            own(f"supply.reading.{i}.volts_v", r.volts_v),
            own(f"supply.reading.{i}.amps_a", r.amps_a),
            r.instrument or "",
            i,
        )
        for i, r in enumerate(build.supply.reading)
    ]
    fields = {"want.power_w": own("want.power_w", build.want.power_w)}
    if build.coil is not None:
        length = build.coil.length_m
        fields["coil.length_m"] = "" if length is None else str(as_typed("coil.length_m", length, build))
    return readings, fields


def glance(build, more_links=()):
    """Headline numbers and the state of every link, as HTML.

    build: Build. more_links: Links of one's own beside those of the chain.
    """
    workings = work_out(build, more_links=more_links)
    told = [
        (word, band_text(workings.bands[path], path.split(".")[1], units=build.units, degrees=build.degrees))
        for word, path in HEADLINE
        if path in workings.bands
    ]
    if workings.wire is not None:
        of = alloy_name(workings.wire.alloy) if workings.wire.alloy else "unknown alloy"
        told.insert(
            2, ("wire", f"{workings.wire.id}: {of}, {say('diameter_m', workings.wire.diameter_m, units=build.units)}")
        )
    return f"{as_html(headline(told))}\n{as_html(chain(build, workings))}"


def start_form():
    """The form of the first page.

    Returns a widget box; `.pick(name)`, `.type(readings, fields)`, `.work()`, `.copy(name)` and
    `.keep()` do what its menus and buttons do.
    """
    return _Form()


class _Form(Kept):
    def __init__(self):
        self.quiet = False
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
            for path, words in FIELDS
        }
        self.lines = widgets.VBox()
        self.told = widgets.HTML(layout={"min_height": "48px"})
        self.view = widgets.HTML()
        buttons = {
            words: widgets.Button(description=words, layout={"width": "220px"})
            for words in ("work with this sheet", "copy to a sheet of my own", "add a row", "check and keep")
        }
        for words, do in zip(buttons, (self.work, self.copy, self.add, self.keep)):
            buttons[words].on_click(lambda _, do=do: do())
        self.menu.observe(lambda _: None if self.quiet else self.pick(self.menu.value), "value")
        self.meter.observe(lambda _: self._changed(), "value")
        for box in self.fields.values():
            box.observe(lambda _: self._changed(), "value")
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
        try:
            self.pick(str(chosen()))
        except Fault as why:  # the chosen sheet has gone
            self.pick(demos()[0])
            self._say(why)

    def pick(self, name):
        """Show a sheet in the form; nothing is chosen or written.  name: name or path of a sheet."""
        self.path = Path(sheet_path(name))
        self._list()
        self.told.value, self.view.value = "", ""
        try:
            self.build = load(self.path)
            readings, fields = typed_in(self.build)
            self.view.value = _page(glance(self.build))
        except Fault as why:
            self.build, readings, fields = None, [], {}
            self._say(why)
        self.quiet = True
        self.meter.value = ""
        self.lines.children = [self._line(*r) for r in readings]
        for path, box in self.fields.items():
            box.disabled = path not in fields
            box.value = fields.get(path, "")
        self.quiet = False
        self.before = self.typed()

    def typed(self):
        """What stands in the form: (readings, fields), as `with_typed` takes them."""
        readings = [
            (line.children[0].value, line.children[1].value, self.meter.value or line.instrument, line.place)
            for line in self.lines.children
        ]
        return readings, {path: box.value for path, box in self.fields.items() if not box.disabled}

    def type(self, readings=None, fields=None):
        """Type into the form.  readings: rows (volts, amps, instrument, place or None). fields: path -> text."""
        self.quiet = True
        if readings is not None:
            self.lines.children = [self._line(*r) for r in readings]
        for path, text in (fields or {}).items():
            self.fields[path].value = text
        self.quiet = False
        self._changed()

    def work(self):
        """Choose the shown sheet for all pages."""
        trouble = ""
        try:
            load(self.path)
        except Fault as why:
            trouble = f"\nBut it has faults, and pages will show a demo until they are mended:\n{why}"
        self._do(
            lambda: choose(self._name()),
            f"From now on every page works with {self.path.stem}. "
            "A page that is open shows it when it is run again (Run, Run All Cells)." + trouble,
        )

    def copy(self, name=None):
        """Copy the shown sheet to one of one's own.  name: its name; None: as typed in the form."""

        def make():
            made = copy_to_mine(self._name(), name or self.name.value)
            self.pick(str(made))

        self._do(
            make, lambda: f"Copied to {self.path.name} in the folder {my_folder().name}/, and chosen for all pages."
        )

    def add(self):
        """One more blank row for a reading."""
        self.lines.children = (*self.lines.children, self._line("", "", "", None))

    def keep(self):
        """Check what was typed and write it; a demo is first copied to a sheet of one's own."""

        def write():
            readings, fields = self._altered()
            text = with_typed(self.path.read_text(encoding="utf-8"), readings, fields)
            read(text, where=self.path.name)  # complains before anything is copied
            path, said = own_name(self.path)
            keep_readings(path, readings, fields)
            self.pick(str(path))
            return said

        if self.typed() == self.before:
            self._say("Nothing was altered: the sheet stays as it is.")
            return
        self._do(
            write,
            lambda: (
                f"Kept in {self.path.name}; its comments stayed, and the version before lies beside it. "
                "Run the page again to see it in the rest of the page."
            ),
        )

    def _altered(self):
        (readings, fields), (old_readings, old_fields) = self.typed(), self.before
        return (
            readings if readings != old_readings else None,
            {p: t for p, t in fields.items() if t != old_fields.get(p)},
        )

    def _changed(self):
        """Something was typed: check it all, and show the chain as it would be."""
        if self.quiet:
            return
        try:
            build = read(with_typed(self.path.read_text(encoding="utf-8"), *self._altered()), where=self.path.name)
        except Fault as why:
            self._say(why)
            return
        self._say(
            "" if self.typed() == self.before else "Not kept yet: below is the chain with what stands in the form."
        )
        self.view.value = _page(glance(build))

    def _do(self, act, told):
        try:
            said = act()
        except Fault as why:
            self._say(why)
            return
        self._say(("" if said is None or isinstance(said, Path) else said) + (told() if callable(told) else told))
        self._list()

    def _say(self, words):
        self.told.value = f"<div>{html.escape(str(words)).replace(chr(10), '<br>')}</div>"

    def _name(self):
        return self.path.stem if self.path.stem in (*my_sheets(), *demos()) else str(self.path)

    def _list(self):
        self.quiet = True
        listed = sheets_listed()
        if self._name() not in [n for _, n in listed]:
            listed.append((self.path.name, self._name()))
        self.menu.options = listed
        self.menu.value = self._name()
        self.quiet = False

    def _line(self, volts, amps, instrument, place):
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
            box.observe(lambda _: self._changed(), "value")

        def remove(_):
            self.lines.children = [other for other in self.lines.children if other is not line]
            self._changed()

        away.on_click(remove)
        return line

    def kept(self):
        """What the saved page shows of the form without a kernel."""
        shows = (
            f"The chain of the sheet {html.escape(self.path.stem)}:</p>\n{glance(self.build)}"
            if self.build
            else f"The sheet {html.escape(self.path.stem)} cannot be worked with yet.</p>"
        )
        return {
            "text/plain": "Form: choose a sheet, copy it, type readings. Run this page to use it.",
            "text/html": f"<p>Run this page to choose a sheet, copy it and type readings. {shows}",
        }, {}


def _page(text):
    return f'<div class="jp-RenderedHTMLCommon">{text}</div>'


def progress_bar(words="working"):
    """A bar that shows how far a long calculation is, and goes when it is done.

    words: said before it.
    Returns function (done, of, what) to hand to the calculation.
    """
    from IPython.display import display

    bar = widgets.IntProgress(
        min=0, max=1, description=words, layout={"width": "60%"}, style={"description_width": "initial"}
    )
    display(bar)

    def moved(done, of, what):
        bar.max, bar.value, bar.description = of, done, f"{words}: {what}"
        if done >= of:
            bar.close()

    return moved
