"""A group of the sheet editor: its sections, the rows of each, adding, removing and moving them."""

import ipywidgets as widgets

from ...basics.escape import plain_text
from ...sheet.edits import Edit
from .fields import Row, say_wrong
from .plan import many, words_of

OPEN_AT_FIRST = 6  # so many rows are shown with all their fields; beyond that each is opened by its button


class SectionView:
    """The rows of one section; `.box` to lay out.  What is done goes out as edits."""

    def __init__(self, section, tables, do):
        """section: its name. tables: of the sheet. do: function (edits, function to call when they are done)."""
        self.section, self.do, self.many = section, do, many(section)
        self.told = widgets.HTML()
        self.told.add_class("bench-told")
        self.rows, self.stack = [], widgets.VBox()
        title = words_of(section)[0]
        children = [widgets.HTML(f"<b>{plain_text(title[0].upper() + title[1:])}</b>"), self.told, self.stack]
        if self.many:
            self.adder = widgets.Button(description=f"add a {words_of(section)[1]}", layout={"width": "auto"})
            self.adder.on_click(lambda _: self.add())
            children.append(widgets.HBox([self.adder]))
        self.box = widgets.VBox(children, layout={"overflow": "visible"})
        self.box.add_class("bench-section")
        self.tables = tables
        self._make()

    def _make(self):
        count = len(self.tables[self.section]) if self.many else 1
        self.rows = [self._row(i if self.many else None) for i in range(count)]
        for row in self.rows:
            if count <= OPEN_AT_FIRST:
                row.open(self.tables)
        self.stack.children = [r.box for r in self.rows]

    def _row(self, index):
        return Row(self.section, index, self.many, self._act, self._changed)

    def _changed(self, row, box):
        edit = Edit("set", self.section, row.index, box.field.key.key, box.typed())
        row.fresh = False
        self.do([edit], lambda: None)

    def add(self):
        """One more row after the others, open, with its faults not told before something is typed in it."""

        def done():
            row = self._row(len(self.rows))
            row.fresh = True
            self.rows.append(row)
            row.open(self.tables)
            self.stack.children = [*self.stack.children, row.box]  # the ones before it stay as they are

        self.do([Edit("add", self.section)], done)

    def _act(self, row, what):
        if what == "open":
            row.close() if row.is_open else row.open(self.tables)
            self.do([], lambda: None)
        elif what == "remove":

            def removed():
                row.box.layout.display = "none"  # it stays where it is, so that no other row is made anew
                self.rows.remove(row)
                for i, other in enumerate(self.rows):
                    other.index = i

            self.do([Edit("remove", self.section, row.index)], removed)
        else:
            other = row.index + (1 if what == "down" else -1)
            if 0 <= other < len(self.rows):

                def moved():
                    for changed in (row, self.rows[other]):
                        changed.show(self.tables)

                self.do([Edit("move", self.section, row.index, text=str(other))], moved)

    def show(self, tables):
        """Show what the sheet says now, in as many rows as it has.  tables: of the sheet."""
        self.tables = tables
        count = len(tables[self.section]) if self.many else 1
        if count != len(self.rows):
            self._make()
        for row in self.rows:
            row.show(tables)

    def tell(self, tables, wrong):
        """Say what is wrong beside each field.  tables: of the sheet. wrong: dict of sentences by place."""
        self.tables = tables
        self.told.value = say_wrong(wrong.get((self.section, None, ""), ()) if self.many else ())
        for row in self.rows:
            row.tell(tables, wrong)

    def new_choices(self, tables):
        """Offer the ids that the sheet has now.  tables: of the sheet."""
        for row in self.rows:
            row.new_choices(tables)


class GroupView:
    """A group: what it is about, and its sections one below the other; `.box` to lay out."""

    def __init__(self, group, tables, do):
        """group: Group. tables: of the sheet. do: as SectionView."""
        self.group = group
        self.sections = [SectionView(s, tables, do) for s in group.sections]
        about = widgets.HTML(f'<div style="margin:4px 0;line-height:1.35">{plain_text(group.about)}</div>')
        self.box = widgets.VBox([about, *(s.box for s in self.sections)], layout={"overflow": "visible"})

    def show(self, tables):
        """Show what the sheet says now.  tables: of the sheet."""
        for section in self.sections:
            section.show(tables)

    def tell(self, tables, wrong):
        """Say what is wrong.  tables, wrong: as SectionView.tell."""
        for section in self.sections:
            section.tell(tables, wrong)

    def new_choices(self, tables):
        """Offer the ids that the sheet has now.  tables: of the sheet."""
        for section in self.sections:
            section.new_choices(tables)


def count_wrong(group, wrong) -> int:
    """How many things are wrong in a group.  group: Group. wrong: dict of sentences by place."""
    return sum(len(v) for (s, _, _), v in wrong.items() if s in group.sections)
