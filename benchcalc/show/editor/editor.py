"""The sheet editor: the whole sheet by form, checked and drawn as it is typed, kept when the maker says so."""

from pathlib import Path

import ipywidgets as widgets

from ...basics.fault import Fault
from ...chain.workings import Workings
from ...sheet.build import Build
from ...sheet.choose import choose, chosen, copy_to_mine, demos, my_folder, my_sheets, new_sheet, sheet_path
from ...sheet.draft import Draft
from ...sheet.store import ChangedMeanwhile
from ...studies.mend_first import ToMend
from ..panel.keeping import own_name
from ..start.glance import sheets_listed
from .follows import Follows
from .form_words import in_form
from .headed import steps_to_run
from .job_view import JobView, first_told, job_told
from .view import ASKED, BEGUN, CHOSEN, FAULTY, KEPT, MEANWHILE, NOT_LOST, EditorView, kept_form, say_all, whether_kept


def sheet_form(build: Build | None = None, workings: Workings | None = None, found: ToMend | None = None) -> EditorView:
    """The whole sheet by form.

    build, workings, found: a Build, its Workings and what to mend first in it, where they are worked out already; they
    are told of the chosen sheet as long as it says the same.
    Returns a widget box; `.pick(name)`, `.type(section, index, key, text)`, `.add(section)`, `.keep()`, `.undo()`,
    `.copy(name)`, `.empty(name)`, `.work()` do what its menus, fields and buttons do.
    """
    return _Editor(None if build is None or workings is None or found is None else (build, workings, found))


class _Editor(EditorView):
    def __init__(self, known):
        self.draft, self.build = None, None
        acts = dict(zip(CHOSEN, (self.work,))) | dict(zip(BEGUN, (self.copy, self.empty, self.from_job)))
        acts |= dict(zip(KEPT, (self.keep, self.undo, self.redo)))
        acts |= dict(zip(ASKED, (lambda: self.take_file(True), self.keep_mine, lambda: self.take_file(False))))
        super().__init__(acts, self._do, self.pick)
        self.follows = Follows(self.picture, self.mending, self.glance, self.head, known)
        try:
            self.pick(str(chosen()))
        except Fault as why:  # the chosen sheet has gone
            self.pick(demos()[0])
            self.say(why)

    def pick(self, name):
        """Show a sheet in the form; nothing is chosen or written.  name: name or path of a sheet."""
        try:
            self.draft = Draft(sheet_path(name))
        except Fault as why:
            self._nothing(sheet_path(name), why)
            return
        self._list()
        self.ask_about("")
        self.say("")
        if self.draft.resumed:
            more = f" {self.draft.lost} of them no longer fit and were left out." if self.draft.lost else ""
            self.say(f"Typed here before and not kept yet: {self.draft.resumed} changes; they stand in the form.{more}")
        self._anew()

    def _nothing(self, path, why):
        """A sheet that cannot be shown field by field: its own fault is told, and no other sheet stands for it."""
        self.draft, self.build, self.path = None, None, Path(path)
        self._list()
        self.begin({})
        self.follows.nothing()
        self.kept_said.value = self.begun_said.value = self.job_said.value = ""
        self.say(f"The sheet {Path(path).name} cannot be shown field by field.\n{why}")

    def _anew(self):
        """Every field as the sheet has it now."""
        try:
            tables = self.draft.tables
        except Fault as why:
            self._nothing(self.draft.path, why)
            return
        self.begin(tables)
        self._check(again=True)

    def _do(self, edits, done):
        """Do what was typed; what is wrong is told beside it, the picture and the chain follow.

        edits: of Edit. done: function to call before the rows are told.
        """
        if self.draft is None:
            return
        try:
            if edits:
                self.draft.do(*edits)
            tables = self.draft.tables
        except Fault as why:
            self.say(why)
            return
        self.tables = tables
        for section in (s for group in self.made.values() for s in group.sections):
            section.tables = tables
        done()
        self.say("") if edits else None  # what was said before is of an earlier state
        self._check(again=bool(edits))
        if edits and self.draft.changed_elsewhere:
            self._changed_elsewhere()

    def _check(self, again):
        tables = self.draft.tables
        self.build, self.wrong = self.draft.checked()
        self.wrong = wrong = in_form(self.wrong)
        self.tell(tables, wrong)
        self.kept_said.value, self.job_said.value = whether_kept(self.draft), job_told(self.draft.text)
        if again:
            self.follows.show(self.draft, self.build, tables, wrong, steps_to_run(self.draft))

    def type(self, section, index, key, text):
        """Type into a field.  section, index (None for a section that stands once), key: which one. text: text."""
        for number, group in enumerate(self.groups):
            if section in group.sections:
                self.open_group(number)
                view = self.opened.sections[group.sections.index(section)]
                row = view.rows[index or 0]
                row.open(self.tables)
                box = row.fields[key]
                box.show(text)
                view._changed(row, box)

    def add(self, section):
        """One more row.  section: its name."""
        number = next(i for i, g in enumerate(self.groups) if section in g.sections)
        self.open_group(number)
        self.opened.sections[self.groups[number].sections.index(section)].add()

    def work(self):
        """Choose the shown sheet for all pages."""
        path = self._path()
        trouble = FAULTY if self.build is None else ""
        self._try(
            lambda: choose(self._name(path)),
            f"From now on every page works with {path.stem}. A page that is open shows it when it is run again "
            f"(Run, Run All Cells).{trouble}",
        )

    def copy(self, name=None):
        """Copy the shown sheet to one of one's own.  name: its name; None: as typed in the form."""
        path = self._path()

        def make():
            before, edits = self.draft, list(self.draft.edits) if self.draft else []
            made = copy_to_mine(self._name(path), name or self.name.value)
            self.pick(str(made))
            if edits and self.draft:
                before.forget()  # what was typed goes with the copy
                self._again(edits)

        self._begin(make, lambda: f"Copied to {self._file()} and chosen for all pages.")

    def _again(self, edits):
        for edit in edits:
            try:
                self.draft.do(edit)
            except Fault:
                continue
        self._anew()

    def empty(self, name=None, text=""):
        """An empty sheet of one's own.  name: its name; None: as typed in the form. text: TOML beyond its name."""

        def make():
            self.pick(str(new_sheet(name or self.name.value, text)))

        self._begin(make, lambda: f"A new sheet, {self._file()}, is begun and chosen for all pages.")

    def from_job(self):
        """Open the way from a job to a first sheet, or close it again."""
        was_open = self.work_place.children
        self.asked = JobView(self._first, self.name.value)
        self.work_place.children = [] if was_open else [self.asked.box]

    def _first(self, found, name):
        """A first sheet came of the job: begin it, and say what it needs.  found: FromJob. name: of the sheet."""

        self.pick(str(new_sheet(name, found.text)))
        self.work_place.children = [widgets.HTML(first_told(found, self.asked.shape.value))]
        self.say(f"A first sheet, {self._file()}, is begun and chosen for all pages.")

    def _file(self):
        return f"{my_folder().name}/{self.draft.path.name}"

    def keep(self):
        """Check what was typed and write it; a demo is first copied to a sheet of one's own."""
        if self.draft is None or not self.draft.edits:
            self.say("Nothing was altered: the sheet stays as it is.")
            return
        if self.build is None:
            count = sum(map(len, self.wrong.values()))
            self.say(f"Not kept: {count} to mend first{NOT_LOST}")
            return
        self._write()

    def _write(self, over=False):
        def write():
            path, said = own_name(self.draft.path)
            self.draft.keep(path, over=over)
            self._list()
            self.ask_about("")
            self._check(again=True)
            return said

        self._try(
            write,
            lambda: (
                f"Kept in {self._file()}; every version before can be had with undo. "
                "Run the page again to see it in the rest of the page."
            ),
        )

    def undo(self):
        """One step back: the last change, or the version before."""
        self._step(lambda: self.draft.undo(), "There is nothing further back.")

    def redo(self):
        """One step forward again."""
        self._step(lambda: self.draft.redo(), "There is nothing to do again.")

    def _step(self, act, else_words):
        if self.draft is None:
            return

        def step():
            said = act()
            if said:
                self.show(self.draft.tables)
                self._check(again=True)
            return said or else_words

        self._try(step, "")

    def _changed_elsewhere(self):
        self.ask_about(f"The file {self.draft.path.name}{MEANWHILE}")

    def take_file(self, mine):
        """Go on from the file as it is now.  mine: True to lay what was typed here on it."""

        def take():
            lost = self.draft.take_file(with_mine=mine)
            self.ask_about("")
            self._anew()
            return f"{lost} changes no longer fit and were left out. " if lost else ""

        self._try(take, "The form shows the file as it is now" + (", with what you typed laid on it." if mine else "."))

    def keep_mine(self):
        """Write what stands in the form; the other version stays among the earlier ones."""
        if self.build is None:
            self.keep()
        else:
            self._write(over=True)

    def _try(self, act, told):
        try:
            said = act()
        except ChangedMeanwhile:
            self._changed_elsewhere()
            return
        except Fault as why:
            self.say(why)
            return
        self.say((said if isinstance(said, str) else "") + (told() if callable(told) else told))
        self._list()

    def _begin(self, make, told):
        """Begin another sheet; why it cannot be begun stands beside the buttons that begin one."""
        self.begun_said.value = ""
        try:
            make()
            self.say(told())
        except Fault as why:
            self.begun_said.value = say_all(map(str, why.complaints))

    def _path(self):
        return self.draft.path if self.draft else self.path

    def _name(self, path):
        return path.stem if path.stem in (*my_sheets(), *demos()) else str(path)

    def _list(self):
        self.quiet = True
        name = self._name(self._path())
        listed = sheets_listed()
        if name not in [n for _, n in listed]:
            listed.append((Path(name).name, name))
        if list(self.menu.options) != listed:
            self.menu.options = listed
        if self.menu.value != name:
            self.menu.value = name
        self.quiet = False

    def kept(self):
        """What the saved page shows of the form without a kernel."""
        return kept_form(self.draft, self.build, self.mending.value), {}
