"""What the sheet editor looks like: menus, buttons, the open group, the places where something is told."""

import ipywidgets as widgets

from ...basics.escape import plain_text
from ..panel.panel import Kept
from ..start.glance import glance
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

    `.menu`, `.head` (whose numbers are shown), `.name`, `.begun_said`, `.kept_said`, `.said` (what is told beside their
    buttons), `.ask`, `.picture`, `.mending`, `.glance`, `.work_place`, `.job_said` (for a job), `.groups`.
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
        self.said, self.picture, self.general, self.mending, self.glance = (widgets.HTML() for _ in range(5))
        self.head, self.begun_said, self.kept_said, self.job_said = (widgets.HTML() for _ in range(4))
        self.fold = widgets.ToggleButton(
            description=FOLDED, layout=_AUTO | {"align_self": "flex-start"}
        )  # stays as it is when the chain is redrawn
        self.fold.observe(lambda _: self._unfold(), "value")
        self._unfold()
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
        above = [bars[0], self.head, self.ask, bars[1], self.begun_said, self.work_place, self.job_said]
        below = [self.general, self.body, bars[2], self.kept_said, self.said]
        typed = [*above, self.picture, tabs, *below]
        form = widgets.VBox(typed, layout={"flex": "1 1 900px", "max_width": "1240px", "overflow": "visible"})
        # what to mend stands beside a wide page's form, else right below it
        wide = {"flex_flow": "row wrap", "align_items": "flex-start", "overflow": "visible"}
        style = widgets.HTML(STYLE, layout={"display": "none"})
        self.true = _button(TRUE, acts[TRUE], display="none")  # shown where something is only assumed
        beside = widgets.VBox([self.mending, self.true], layout={"flex": "1 1 420px", "min_width": "0"})
        both = widgets.HBox([form, beside], layout=wide)
        super().__init__([style, both, self.fold, self.glance], layout={"overflow": "visible"})

    def _unfold(self):
        self.glance.layout.display = None if self.fold.value else "none"
        self.fold.description = UNFOLDED if self.fold.value else FOLDED

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
        self.count(wrong)
        self.general.value = say_all(wrong.get(("", None, ""), ()))

    def count(self, wrong, misplaced=0):
        """How much is wrong in each group, on its button.

        wrong: dict of sentences by place. misplaced: number of parts and places that cannot be, told under the picture.
        """
        for button, group in zip(self.openers, self.groups):
            count = count_wrong(group, wrong) + ("part" in group.sections and misplaced)
            words = f"{group.title} ▲{count}" if count else group.title
            if button.description != words:
                button.description = words

    def say(self, words):
        """Say something under the buttons.  words: a text or a Fault."""
        lines = [plain_text(line) for line in str(words).splitlines()]
        self.said.value = f'<div style="line-height:1.35;min-height:24px">{"<br>".join(lines)}</div>'

    def ask_about(self, words):
        """Show the question about a file that was changed elsewhere, or hide it.  words: text, "" to hide."""
        self.ask_words.value = plain_text(words)
        self.ask.layout.display = "" if words else "none"


FOLDED, UNFOLDED = "show the whole chain, link by link", "fold the chain"
CHOSEN = ("work with this sheet",)
BEGUN = ("copy the shown sheet", "an empty sheet", "start from a job")
TRUE = "these are true: I know them"
KEPT = ("check and keep", "undo", "redo")
ASKED = (
    "lay what I typed on the file as it is now",
    "keep mine; the other stays among the versions",
    "drop what I typed",
)
FAULTY = "\nBut it has faults: no page can work with it until they are mended."
NOT_LOST = (
    ", each told beside its field (▲). What you typed is not lost: it stands in the form, and is there again when this "
    "page is opened later."
)
MISPLACED = (
    " ▲ {} with the places of its parts, told under the picture: until that is mended no temperature is to be believed."
)
MEANWHILE = (
    " was changed by hand, or on another page, since it was opened here. What shall be done? Nothing is lost: every "
    "version stays."
)


def say_all(sentences):
    """What is wrong with the sheet as a whole, as HTML.  sentences: of text."""
    told = "".join(f'<span class="wrong">▲ {plain_text(s)}</span>' for s in sentences)
    return f'<div class="bench-told">{told}</div>' if told else ""


def whether_kept(draft):
    """Whether what stands in the form is kept, in a line.  draft: Draft."""
    count, file = draft.changes, plain_text(draft.path.name)
    if not draft.altered or not count:
        return f"<b>Kept:</b> {file} says what stands in the form."
    return f"<b>Not kept:</b> the form differs from {file} in {count} {'field' if count == 1 else 'fields'}."


def kept_form(draft, build, mending):
    """What the saved page shows of the form without a kernel: text by kind.

    draft: Draft or None. build: Build, None where it cannot be worked with. mending: HTML, what to mend first.
    """
    shows = "The sheet cannot be worked with yet.</p>"
    if build is not None:
        title = f"the chain of the sheet {plain_text(draft.path.stem)}, link by link"
        shows = f"</p>{mending}<details><summary>{title}</summary>{glance(build)}</details>"
    return {
        "text/plain": "Form: the whole sheet, field by field. Run this page to use it.",
        "text/html": f"<p>Run this page to describe your tool field by field. {shows}",
    }
