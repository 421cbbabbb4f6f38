"""The sheet editor: the whole sheet by form, checked and drawn as it is typed, kept when the maker says so."""

from pathlib import Path

import ipywidgets as widgets

from ...basics.fault import Fault
from ...chain.workings import Workings
from ...sheet.build import Build
from ...sheet.choose import choose, chosen, copy_to_mine, demos, my_sheets, new_sheet, sheet_path
from ...sheet.draft import Draft
from ...sheet.edits import Edit, told_apart
from ...sheet.key import ASSUMED
from ...sheet.readings_first import beaten_guesses
from ...sheet.schema import KEYS
from ...studies.from_job import followed
from ...studies.mend_first import ToMend
from ..panel.mending import MOST_FIELDS
from ..start.glance import sheets_listed
from .follows import Follows
from .form_words import in_form
from .headed import steps_to_run
from .job_view import JobView, first_told, job_told
from .keeps import KeepingView
from .left_out import is_empty_row
from .plan import field_label
from .true_fields import stated_edits
from .view import ASKED, BEGUN, CHOSEN, FAULTY, KEPT, TRUE, kept_form, say_all, whether_kept

STILL = ("sheet", "soak", "lead_out", "control", "sensor", "use", "marker", "log", "learned", "as_built", "heat_break")


def sheet_form(
    build: Build | None = None, workings: Workings | None = None, found: ToMend | None = None
) -> KeepingView:
    """The whole sheet by form.

    build, workings, found: a Build, its Workings and what to mend first in it, where they are worked out already; they
    are told of the chosen sheet as long as it says the same.
    Returns a widget box; `.pick(name)`, `.type(section, index, key, text)`, `.add(section)`, `.keep()`, `.undo()`,
    `.copy(name)`, `.empty(name)`, `.work()` do what its menus, fields and buttons do.
    """
    return _Editor(None if build is None or workings is None or found is None else (build, workings, found))


class _Editor(KeepingView):
    def __init__(self, known):
        self.draft = self.build = self.told_of = self.asked = None
        acts = dict(zip(CHOSEN, (self.work,))) | dict(zip(BEGUN, (self.copy, self.empty, self.from_job)))
        acts |= dict(zip(KEPT, (self.keep, self.undo, self.redo)))
        acts |= {TRUE: self.all_true}
        acts |= dict(zip(ASKED, (lambda: self.take_file(True), self.keep_mine, lambda: self.take_file(False))))
        super().__init__(acts, self._do, self.pick)
        self.follows = Follows(self.picture, self.mending, self.glance, self.head, known, self.offer_true)
        try:
            self.pick(str(chosen()))
        except Fault as why:  # the chosen sheet has gone
            self.pick(demos()[0])
            self.say(why)
        self.watch()

    def pick(self, name):
        """Show a sheet in the form; nothing is chosen or written.  name: name or path of a sheet."""
        try:
            self.draft = Draft(sheet_path(name))
        except Fault as why:
            self._nothing(sheet_path(name), why)
            return
        self.list_sheets()
        self.ask_about("")
        self.say("")
        self.follows.news = ""
        if self.draft.resumed:
            more = f" {self.draft.lost} of them no longer fit and were left out." if self.draft.lost else ""
            count = "1 field" if self.draft.resumed == 1 else f"{self.draft.resumed} fields"
            self.say(f"Typed here before and not kept yet: {count}; they stand in the form.{more}")
        if self.told_of and self.told_of != self.draft.path:  # what a job needs stands over its own sheet alone
            self.told_of, self.work_place.children = None, []
        self.anew()

    def _nothing(self, path, why):
        """A sheet that cannot be shown field by field: its own fault is told, and no other sheet stands for it."""
        self.draft, self.build, self.path = None, None, Path(path)
        self.list_sheets()
        self.begin({})
        self.told_of, self.work_place.children = None, []
        self.follows.nothing()
        self.kept_said.value = self.begun_said.value = self.job_said.value = ""
        self.say(f"The sheet {Path(path).name} cannot be shown field by field.\n{why}")

    def anew(self):
        """Every field as the sheet has it now."""
        try:
            tables = self.draft.tables
        except Fault as why:
            self._nothing(self.draft.path, why)
            return
        self.begin(tables)
        self.check(again=True)

    def _do(self, edits, done):
        """Do what was typed; what is wrong is told beside it, the picture and the chain follow.

        edits: of Edit. done: function to call before the rows are told.
        """
        if self.draft is None:
            return
        try:
            if edits:
                self.draft.do(*edits)
            after = self._followed(edits)
            self.follows.news = after if edits else self.follows.news
            tables = self.draft.tables
        except Fault as why:
            self.say(why)
            return
        self.tables = tables
        for section in (s for group in self.made.values() for s in group.sections):
            section.tables = tables
        done()
        self.say(after) if edits else None  # what was said before is of an earlier state
        self.check(again=bool(edits))
        self.look_again()

    def _followed(self, edits):
        """What was only assumed follows what was typed, in the same step; in words.  edits: of Edit.

        A guess of the supply goes when readings tell it; watts and wire of a job follow the tool.
        """
        still = all(e.section.split(".")[0] in STILL or e.key == "id" for e in edits)
        if still or ASSUMED not in self.draft.text:
            return ""
        build = self.draft.checked()[0]
        if build is None:
            return ""
        told = []
        gone = {("supply", key): "" for key in beaten_guesses(self.draft.tables["supply"], build)}
        if gone:
            told.append(f"Your readings tell it now, the guess is gone: {self._as_told(gone)}.")
        found = followed(self.draft.text, build)
        if found:
            was = {(s, k): self.draft.tables[s][0].get(k, "") for s, k in found}
            told.append(
                f"What the job assumed follows, until you type it yourself: {self._as_told(found)} "
                f"(before: {self._as_told(was)})."
            )
        follow = gone | found
        if follow:
            self.draft.do(*(Edit("set", section, None, key, text, True) for (section, key), text in follow.items()))
            for section in (s for group in self.made.values() for s in group.sections):
                if section.section in {section for section, _ in follow}:
                    section.show(self.draft.tables)
        return " ".join(told)

    def _as_told(self, values):
        said = ((field_label(KEYS[s][k]), told_apart(text)[0]) for (s, k), text in values.items())
        return ", ".join(" ".join(words).strip() for words in said)

    def check(self, again):
        """Say what is wrong with the sheet as it stands; with `again` picture and chain follow.  again: flag."""
        tables = self.draft.tables
        self.build, self.wrong = self.draft.checked()
        self.wrong = wrong = in_form(self.wrong)
        self.tell(tables, wrong)
        self.kept_said.value = whether_kept(self.draft)
        self.job_said.value = "" if self.told_of else job_told(self.draft.text)
        if again:
            build, left, kept = (self.build, (), {}) if self.build else self.draft.as_far_as_it_goes()
            left = [p for p in left if not is_empty_row(p, tables)]  # a row that is only added says nothing yet
            self.follows.show(self.draft, build, tables, (left, kept), steps_to_run(self.draft))
        self.count(wrong, self.misplaced)

    @property
    def misplaced(self):
        """How many things are wrong with the places of the parts, by the picture."""
        return len(self.follows.shown.wrong) if self.follows.shown else 0

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

    def offer_true(self, found):
        """Offer to mark as stated what most limits rest on.  found: ToMend."""
        self.listed = tuple(path for path, _, _ in found.assumed[:MOST_FIELDS])
        self.true.layout.display = None if self.listed else "none"

    def all_true(self):
        """Mark the listed guesses as what the maker knows, in one step."""
        edits = stated_edits(self.build, self.draft.tables, self.listed) if self.draft and self.build else []
        if edits:
            self._do(edits, lambda: None)
            self.show(self.draft.tables)
            self.say(f"Taken as what you know: {len(edits)} field{'s' * (len(edits) > 1)}. Undo takes it back.")

    def add(self, section):
        """One more row.  section: its name."""
        number = next(i for i, g in enumerate(self.groups) if section in g.sections)
        self.open_group(number)
        self.opened.sections[self.groups[number].sections.index(section)].add()

    def work(self):
        """Choose the shown sheet for all pages."""
        path = self._path()
        trouble = FAULTY if self.build is None else ""
        self.attempt(
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
                if before.base == before.seen.text:
                    before.forget()  # what was typed goes with the copy
                self._again(edits)

        self._begin(make, lambda: f"Copied to {self.file_words()} and chosen for all pages.")

    def _again(self, edits):
        for edit in edits:
            try:
                self.draft.do(edit)
            except Fault:
                continue
        self.anew()

    def empty(self, name=None, text=""):
        """An empty sheet of one's own.  name: its name; None: as typed in the form. text: TOML beyond its name."""

        def make():
            self.pick(str(new_sheet(name or self.name.value, text)))

        self._begin(make, lambda: f"A new sheet, {self.file_words()}, is begun and chosen for all pages.")

    def from_job(self):
        """Open the way from a job to a first sheet, or close it again."""
        was_open = self.asked is not None and self.asked.box in self.work_place.children
        if self.asked is None:
            self.asked = JobView(self._first, self.name.value)
        elif not was_open and self.name.value:
            self.asked.name.value = self.name.value
        self.told_of, self.work_place.children = None, [] if was_open else [self.asked.box]

    def _first(self, found, name):
        """A first sheet came of the job: begin it, and say what it needs.  found: FromJob. name: of the sheet."""

        self.pick(str(new_sheet(name, found.text)))
        self.work_place.children = [widgets.HTML(first_told(found, self.asked.shape.value))]
        self.told_of, self.job_said.value = self.draft.path, ""
        self.say(f"A first sheet, {self.file_words()}, is begun and chosen for all pages.")

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

    def list_sheets(self):
        """The sheets that there are now, with the shown one picked."""
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
