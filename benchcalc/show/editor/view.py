"""What the sheet editor looks like: menus, buttons, the open group, the places where something is told."""

import ipywidgets as widgets

from ...basics.escape import plain_text
from ..panel.panel import Kept
from .fields import STYLE
from .plan import groups
from .sections import GroupView, count_wrong

_AUTO = {"width": "auto"}


def _button(words, do, **layout):
    made = widgets.Button(description=words, layout=_AUTO | layout)
    made.on_click(lambda _: do())
    return made


class EditorView(Kept):
    """The widgets of the editor; `acts` says what its buttons do.

    `.menu`, `.name`, `.said`, `.ask`, `.picture`, `.glance`, `.work_place` (for starting from a job), `.groups`.
    """

    def __init__(self, acts, do, picked):
        """acts: dict of function by the words of its button. do: as SectionView. picked: function (name of a sheet)."""
        self.do, self.quiet, self.made, self.now = do, False, {}, 0
        self.menu = widgets.Dropdown(
            description="sheet", layout={"width": "330px"}, style={"description_width": "44px"}
        )
        self.menu.observe(lambda _: None if self.quiet else picked(self.menu.value), "value")
        self.name = widgets.Text(
            placeholder="name of the new one, e.g. my_iron", continuous_update=False, layout={"width": "230px"}
        )
        self.said, self.picture, self.glance, self.general = (widgets.HTML() for _ in range(4))
        self.work_place = widgets.VBox()
        self.ask_words = widgets.HTML()
        self.ask = widgets.VBox(
            [self.ask_words, widgets.HBox([_button(w, acts[w]) for w in ASKED], layout={"flex_flow": "row wrap"})],
            layout={"display": "none"},
        )
        self.ask.add_class("bench-ask")
        self.groups = groups()
        self.openers = [_button(g.title, lambda i=i: self.open_group(i)) for i, g in enumerate(self.groups)]
        tabs = widgets.HBox(self.openers, layout={"flex_flow": "row wrap"})
        tabs.add_class("bench-groups")
        self.body = widgets.VBox(layout={"overflow": "visible"})
        rows = [[self.menu, *(_button(w, acts[w]) for w in CHOSEN)], [self.name, *(_button(w, acts[w]) for w in BEGUN)]]
        bars = [widgets.HBox(r, layout={"flex_flow": "row wrap"}) for r in (*rows, [_button(w, acts[w]) for w in KEPT])]
        super().__init__(
            [
                widgets.HTML(STYLE, layout={"display": "none"}),
                *bars[:2],
                self.work_place,
                self.picture,
                tabs,
                self.general,
                self.body,
                bars[2],
                self.ask,
                self.said,
                self.glance,
            ],
            layout={"max_width": "1240px", "overflow": "visible"},
        )

    def begin(self, tables):
        """Begin with another sheet: every group is made anew when it is opened.  tables: of the sheet, {} for none."""
        self.made, self.tables = {}, tables
        self.open_group(self.now)

    def open_group(self, number):
        """Open a group.  number: its place in `.groups`."""
        self.now = number
        for i, button in enumerate(self.openers):
            (button.add_class if i == number else button.remove_class)("bench-open")
        if not self.tables:
            self.body.children = []
            return
        if number not in self.made:
            self.made[number] = GroupView(self.groups[number], self.tables, self.do)
        self.body.children = [self.made[number].box]
        self.do([], lambda: None)

    @property
    def opened(self):
        """The group that is open, None where there is no sheet to show."""
        return self.made.get(self.now)

    def show(self, tables):
        """Show what the sheet says now in every group that was opened.  tables: of the sheet."""
        self.tables = tables
        for group in self.made.values():
            group.show(tables)

    def tell(self, tables, wrong):
        """Say what is wrong beside the fields, and how much in each group.  tables, wrong: as SectionView.tell."""
        self.tables = tables
        for group in self.made.values():
            group.tell(tables, wrong)
            group.new_choices(tables)
        for button, group in zip(self.openers, self.groups):
            count = count_wrong(group, wrong)
            words = f"{group.title} ▲{count}" if count else group.title
            if button.description != words:
                button.description = words
        self.general.value = say_all(wrong.get(("", None, ""), ()))

    def say(self, words):
        """Say something under the buttons.  words: a text or a Fault."""
        lines = [plain_text(line) for line in str(words).splitlines()]
        self.said.value = f'<div style="line-height:1.35;min-height:24px">{"<br>".join(lines)}</div>'

    def ask_about(self, words):
        """Show the question about a file that was changed elsewhere, or hide it.  words: text, "" to hide."""
        self.ask_words.value = plain_text(words)
        self.ask.layout.display = "" if words else "none"


CHOSEN = ("work with this sheet",)
BEGUN = ("copy the shown sheet", "an empty sheet", "start from a job")
KEPT = ("check and keep", "undo", "redo")
ASKED = (
    "lay what I typed on the file as it is now",
    "keep mine; the other stays among the versions",
    "drop what I typed",
)


def say_all(sentences):
    """What is wrong with the sheet as a whole, as HTML.  sentences: of text."""
    told = "".join(f'<span class="wrong">▲ {plain_text(s)}</span>' for s in sentences)
    return f'<div class="bench-told">{told}</div>' if told else ""
