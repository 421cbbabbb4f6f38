"""The form of the first page: choose a sheet, copy it, type readings, see the whole chain at a glance."""

import html
from pathlib import Path

from ...basics.fault import Fault
from ...sheet.choose import choose, chosen, copy_to_mine, demos, my_folder, my_sheets, sheet_path
from ...sheet.form_edits import keep_readings, with_typed
from ...sheet.load import load, read
from ...sheet.save import as_typed
from ...sheet.schema import asked
from ..panel.keeping import own_name
from ..panel.panel import Kept
from .form_view import FormView
from .glance import glance, sheets_listed

FIELDS = tuple((path, asked(path)) for path in ("want.power_w", "coil.length_m"))


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


def start_form() -> Kept:
    """The form of the first page.

    Returns a widget box; `.pick(name)`, `.type(readings, fields)`, `.work()`, `.copy(name)` and
    `.keep()` do what its menus and buttons do.
    """
    return _Form()


class _Form(FormView):
    def __init__(self):
        super().__init__(FIELDS, (self.work, self.copy, self.add, self.keep), self.pick, self._changed)
        try:
            self.pick(str(chosen()))
        except Fault as why:  # the chosen sheet has gone
            self.pick(demos()[0])
            self.say(why)

    def pick(self, name):
        """Show a sheet in the form; nothing is chosen or written.  name: name or path of a sheet."""
        self.path = Path(sheet_path(name))
        self._list()
        self.told.value, self.view.value = "", ""
        try:
            self.build = load(self.path)
            readings, fields = typed_in(self.build)
            self.show(glance(self.build))
        except Fault as why:
            self.build, readings, fields = None, [], {}
            self.say(why)
        self.quiet = True
        self.meter.value = ""
        self.lines.children = [self.reading_line(*r) for r in readings]
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
            self.lines.children = [self.reading_line(*r) for r in readings]
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
        self.lines.children = (*self.lines.children, self.reading_line("", "", "", None))

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
            self.say("Nothing was altered: the sheet stays as it is.")
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
            self.say(why)
            return
        self.say(
            "" if self.typed() == self.before else "Not kept yet: below is the chain with what stands in the form."
        )
        self.show(glance(build))

    def _do(self, act, told):
        try:
            said = act()
        except Fault as why:
            self.say(why)
            return
        self.say(("" if said is None or isinstance(said, Path) else said) + (told() if callable(told) else told))
        self._list()

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
