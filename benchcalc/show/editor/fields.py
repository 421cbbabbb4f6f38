"""The boxes of the sheet editor: one for each field, and the rows they stand in.

While a field is typed in nothing here touches its box: what is wrong stands in a line of its own beside it.
"""

import ipywidgets as widgets

from ...basics.escape import plain_text
from ...sheet.edits import PAIRED, as_shown, put_together, spelt, told_apart, with_its_unit
from ...sheet.key import ASSUMED
from .plan import choices, fields_of, title_of
from .search import is_unsure, meant, named, offers

WIDE = (("coil", "mounting"), ("wire", "alloy"), ("supply", "open"), ("supply", "source"))  # long texts as a rule
UNSURE = {"alloy": " The ohms of a measured length tell how much it gives; page 02 says which alloys would fit them."}
UNLISTED = {
    "job": ": no temperature, heat or fume is known for it, so nothing is judged by it.",
    "role": ": it is heated as any other part, and nothing is judged that a tip, handle, cup or work has.",
}
STYLE = """<style>
.bench-field{flex:0 1 198px!important;margin:2px 6px 4px 0!important;overflow:visible!important;min-width:150px}
.bench-field.bench-wide{flex-basis:402px!important}
.bench-box{flex-direction:column!important;height:auto!important;flex:1 1 96px!important;width:auto!important;
 margin:0!important}
.bench-box .widget-label{width:auto!important;min-width:0!important;max-width:100%;text-align:left!important;
 line-height:15px!important; height:auto!important;font-size:11.5px;white-space:normal!important;
 overflow:visible!important;color:var(--jp-ui-font-color1)}
.bench-box input,.bench-box select{width:100%!important;min-width:0!important;flex:0 0 28px!important;
 height:28px!important}
.bench-box{align-self:flex-end!important}
.bench-how{flex:0 0 84px!important;width:84px!important;margin:0 0 0 2px!important;align-self:flex-end}
.bench-wide .bench-how{flex-basis:150px!important;width:150px!important}
.bench-pick{flex:0 0 34px!important;width:34px!important;margin:0 0 0 2px!important;align-self:flex-end}
.bench-told{flex:1 1 100%!important;margin:0!important;line-height:1.25;font-size:12px;
 overflow:visible!important}
.bench-told .widget-html-content{line-height:1.25!important}
.bench-told .wrong{color:var(--jp-ui-font-color0);border-left:4px solid #c4321d;padding-left:5px;display:block;
 margin-top:2px}
.bench-told .read{color:var(--jp-ui-font-color1);display:block}
.bench-row{border-left:3px solid #c4621d;padding:2px 0 2px 8px;margin:4px 0 8px 0!important;
 overflow:visible!important}
.bench-head{align-items:center;flex-wrap:wrap;overflow:visible!important}
.bench-head button{height:24px;line-height:24px;padding:0 8px;width:auto}
.bench-title{font-weight:600;flex:1 1 300px;overflow:visible!important;line-height:1.3!important}
.bench-groups{flex-wrap:wrap;overflow:visible!important}
.bench-groups button{width:auto;padding:0 9px;margin:2px}
.bench-groups button.bench-open{background:#7d3a0c;color:#fff}
.bench-ask{border:2px solid #c4321d;padding:6px;overflow:visible!important}
</style>"""


def say_wrong(sentences) -> str:
    """What is wrong, as HTML.  sentences: list of text, with whatever the maker typed in them."""
    return "".join(f'<span class="wrong">▲ {plain_text(s)}</span>' for s in sentences)


def _filled_later(widget, **traits):
    for name, value in traits.items():
        if getattr(widget, name) != value:
            setattr(widget, name, value)


class FieldBox:
    """One field: `.box` to lay out, `.typed()` what stands in it, `.show(text)`, `.tell(sentences)`."""

    def __init__(self, field, text, tables, changed):
        """field: Field. text: what the sheet says. tables: of the sheet. changed: function (this, its text)."""
        self.field, self.tables, self.quiet = field, tables, False
        self.changed = changed
        self.told, self.parts, self.pick = widgets.HTML(), [], None
        self.told.add_class("bench-told")
        getattr(self, f"_make_{field.kind}")()
        self.box = widgets.Box([*self.parts, self.told], layout={"flex_flow": "row wrap"})
        self.box.add_class("bench-field")
        if field.kind == "pair" or (field.key.section, field.key.key) in WIDE:
            self.box.add_class("bench-wide")
        self.show(text)
        for part in self.parts:
            part.observe(self._seen, "value")

    def _add(self, made, look):
        made.add_class(look)
        self.parts.append(made)
        return made

    def _make_quantity(self):
        self._typed_box()
        if self.field.how:
            words = f"how {self.field.label} is known: stated is your own word for it, assumed is a guess"
            self._add(widgets.Dropdown(options=self.field.how, tooltip=words), "bench-how")

    def _make_text(self):
        self._typed_box()

    def _make_name(self):
        self._typed_box(widgets.Combobox, options=[o.word for o in offers(self.field.key)], ensure_option=False)
        self.pick = self._add(widgets.Dropdown(tooltip=f"choose {self.field.label}"), "bench-pick")
        self._offer(())

    def _make_choice(self):
        self._add(widgets.Dropdown(description=self.field.label), "bench-box")

    def _make_pair(self):
        for words in (self.field.label, "and"):
            self._add(widgets.Dropdown(description=words), "bench-box")

    def _typed_box(self, kind=widgets.Text, **more):
        hint = f"e.g. {self.field.hint}" if self.field.kind == "quantity" else self.field.hint
        made = kind(description=self.field.label, placeholder=hint, continuous_update=False, **more)
        self._add(made, "bench-box")

    def _offer(self, found):
        """Fill the list at the right: what may be meant, or everything."""
        listed = found or offers(self.field.key)
        self.pick.options = [("", ""), *((o.line, o.word) for o in listed)]
        self.pick.value = ""

    def typed(self):
        """What stands in the field, as it goes into the sheet."""
        values = [part.value for part in self.parts]
        if self.field.kind == "quantity" and len(values) == 2:
            return put_together(*values)
        return PAIRED.join(v for v in values if v) if self.field.kind == "pair" else values[0]

    def show(self, text):
        """Put a text into the field.  text: as the sheet has it."""
        if self.typed() == text and self.field.kind not in ("choice", "pair"):
            return
        self.quiet = True
        if self.field.kind == "quantity" and len(self.parts) == 2:
            body, how = told_apart(text)
            known = [v for _, v in self.field.how]
            if how not in known:
                body, how = text, ""
            _filled_later(self.parts[0], value=body)
            _filled_later(self.parts[1], value=how)
        elif self.field.kind in ("choice", "pair"):
            self._choose(text)
        else:
            _filled_later(self.parts[0], value=text)
        self.quiet = False

    def _choose(self, text):
        values = (text.split(PAIRED) + ["", ""])[:2] if self.field.kind == "pair" else [text]
        for part, value in zip(self.parts, values):
            options = choices(self.field, self.tables, value)
            if part.options != options:
                part.options = options
            _filled_later(part, value=value)

    def new_choices(self, tables, text):
        """Offer the ids that the sheet has now.  tables: of the sheet. text: what it says here, shown in place of an id
        that is gone: it may have a new name."""
        self.tables = tables
        if self.field.kind in ("choice", "pair"):
            shown = self.typed()
            there = {value for _, value in choices(self.field, tables)}
            self.quiet = True
            self._choose(shown if set(shown.split(PAIRED)) <= there else text)
            self.quiet = False

    def _seen(self, change):
        if self.quiet:
            return
        if change["owner"] is self.pick:
            if not self.pick.value:
                return
            self.quiet = True
            self.parts[0].value, self.pick.value = self.pick.value, ""
            self.quiet = False
        if change["owner"] is self.parts[0] and self.field.kind == "quantity" and self.parts[-1].value == ASSUMED:
            self.quiet = True  # a value typed over an assumed one is what the maker says; the choice stays his
            self.parts[-1].value = ""
            self.quiet = False
        self.changed(self)

    def tell(self, sentences):
        """Say what is wrong beside the field.  sentences: list of text, empty where nothing is."""
        said, typed = say_wrong(sentences), self.typed()
        if self.field.kind == "quantity" and typed.strip() and not sentences:
            anew = with_its_unit(self.field.key, spelt(self.field.key, typed))
            said = f'<span class="read">read as {plain_text(anew)}</span>' if anew != typed else said
        if self.field.kind == "name" and typed.strip():
            word = named(self.field.key, typed)
            unsure = is_unsure(typed)
            found = () if word or unsure else meant(self.field.key, typed)
            if sentences and unsure:
                said = say_wrong([f"Leave this empty where you do not know it.{UNSURE.get(self.field.key.kind, '')}"])
            elif sentences and found:
                said = say_wrong(
                    [f"“{typed}” is not one thing here. Meant: {'; '.join(o.word for o in found)}? Choose beside."]
                )
            elif word and word != typed and not sentences:
                said = f'<span class="read">read as {plain_text(word)}</span>'
            elif not word and not sentences:
                said = f'<span class="read">▲ {plain_text(self._unlisted(typed, found))}</span>'
            self.quiet = True
            self._offer(found if sentences else ())
            self.quiet = False
        if self.told.value != said:
            self.told.value = said

    def _unlisted(self, typed, found):
        """What a word counts for that a sheet takes although no list has it."""
        mark = next((m for m in self.field.key.marks if m in UNLISTED), "")
        near = f" Meant: {'; '.join(o.word for o in found[:4])}?" if found else ""
        return f"“{typed}” is none of the list{UNLISTED.get(mark, ': it counts as a name alone.')}{near}"


class Row:
    """One row of a section: a head with buttons, and its fields, which are made when it is opened."""

    def __init__(self, section, index, many, act, changed):
        """section, index: which one. many: whether others may stand beside it. act: function (this, what), for
        "open", "up", "down", "remove". changed: function (this, FieldBox)."""
        self.section, self.index, self.many, self.changed = section, index, many, changed
        self.fields, self.fresh = {}, False
        self.title, self.told, self.inner = (
            widgets.HTML(),
            widgets.HTML(),
            widgets.Box(layout={"flex_flow": "row wrap"}),
        )
        self.title.add_class("bench-title")
        self.told.add_class("bench-told")
        head = [self.title]
        for words in ("open", "up", "down", "remove") if many else ():
            button = widgets.Button(description=words, tooltip=f"{words} this row")
            button.on_click(lambda _, words=words: act(self, words))
            head.append(button)
        self.opener = head[1] if many else None
        top = widgets.HBox(head)
        top.add_class("bench-head")
        self.box = widgets.VBox([*([top] if many else []), self.told, self.inner])
        self.box.add_class("bench-row")

    def open(self, tables):
        """Make the fields, or show them again.  tables: of the sheet."""
        if not self.fields:
            row = self._row(tables)
            for field in fields_of(self.section):
                text = as_shown(field.key, row.get(field.key.key))
                self.fields[field.key.key] = FieldBox(field, text, tables, lambda box: self.changed(self, box))
            self.inner.children = [f.box for f in self.fields.values()]
        self.inner.layout.display = ""
        if self.opener:
            self.opener.description = "close"

    def close(self):
        """Fold the fields away."""
        self.inner.layout.display = "none"
        self.opener.description = "open"

    @property
    def is_open(self):
        """Whether its fields can be seen."""
        return bool(self.fields) and self.inner.layout.display != "none"

    def _row(self, tables):
        rows = tables[self.section]
        at = self.index or 0
        return rows[at] if at < len(rows) else {}

    def show(self, tables):
        """Put what the sheet says now into every field.  tables: of the sheet."""
        row = self._row(tables)
        for key, field in self.fields.items():
            field.tables = tables
            field.show(as_shown(field.field.key, row.get(key)))

    def new_choices(self, tables):
        """Offer the ids that the sheet has now.  tables: of the sheet."""
        row = self._row(tables)
        for key, field in self.fields.items():
            field.new_choices(tables, as_shown(field.field.key, row.get(key)))

    def tell(self, tables, wrong):
        """Name the row, and say beside each field what is wrong with it.

        tables: of the sheet. wrong: dict of sentences by place.
        """
        if self.many:
            self.title.value = plain_text(title_of(self.section, self.index, self._row(tables)))
        mine = {k: v for (s, i, k), v in wrong.items() if s == self.section and (i or 0) == (self.index or 0)}
        here = [] if self.fresh else list(mine.get("", ()))
        for key, said in mine.items():
            if key and key not in self.fields and not self.fresh:
                here += [f"{key}: {s}" for s in said]
        self.told.value = say_wrong(here)
        for key, field in self.fields.items():
            field.tell([] if self.fresh else mine.get(key, []))
