"""The live panel: sliders, a picture that follows, numbers with bands, verdicts, a derivation.

The only place where widgets are made for it.  What it shows is worked out by `results_at`, which
knows no widgets; here is only the wiring.
"""

import base64
import threading
from dataclasses import replace
from functools import wraps
from inspect import isgeneratorfunction
from pathlib import Path

import ipywidgets as widgets

from ...basics.escape import plain_html, plain_text
from ...basics.fault import Fault
from ...sheet.save import keep
from ...sheet.schema import key_of
from ..drawing.live_picture import Live, still
from .buttons import row
from .designs import design_of, designs_html
from .from_sheet import FromSheet, begun_again
from .handles import handle_of, handle_value, stands_at
from .keeping import WORKED_OUT, kept_words, lent_note, nothing_moved, own_sheet, to_keep
from .panel_html import at_its_end, cards, math_html, math_px, page_html, told_verdicts
from .resting import Resting, set_aside, shown_apart
from .sliders import Choice, build_at, plan, results_at
from .suggestion import Suggestion

KEEP = "keep this in my sheet"


class Kept(widgets.VBox):
    """A box whose saved output can be read without a kernel; `kept()` gives what is saved."""

    def _repr_mimebundle_(self, **how):
        given = super()._repr_mimebundle_(**how)
        data, extra = self.kept()
        return {**(given[0] if isinstance(given, tuple) else given), **data}, extra


def panel(build, sliders, work, draw, tells, suggestion=None, begins=None):
    """A live panel.

    build: Build of the sheet. sliders: list of Slider and Choice; those whose field this sheet does
    not have are left out. work(build) -> result, fast. draw: a Drawing of show/drawing.
    tells: Telling, what stands beside the picture. suggestion: Suggestion of what is not on the sheet, or None.
    begins: FromSheet, how `build` and `sliders` were made from the sheet; None: `build` is the sheet.
    Returns a widget box with `.spec`, `.view`, `.moved()`, `.set(path, value)`, `.keep()`, `.reset()`,
    `.hold(letter)`, `.try_on(moves, words)` and `.offer(paths)`.
    """
    begins = begins or FromSheet(build, lambda sheet: (sheet, sliders))
    made = _Panel(plan(build, sliders, work, draw, tells), suggestion or Suggestion(()), begins)
    set_aside()
    return made


def _alone(act):
    """Whatever moves a panel, one at a time: a front end may bring what was moved and what was pressed in threads of
    their own, and the tools behind all panels of a page are shared."""

    @wraps(act)
    def waits(self, *given, **named):
        with _Panel.one_at_a_time:
            return act(self, *given, **named)

    return waits


class _Panel(Kept):
    one_at_a_time = threading.RLock()

    def __init__(self, spec, suggestion, begins):
        self.suggestion, self.begins = suggestion, begins
        self.spec, self.live, self.resting, self.quiet = spec, Live(spec.draw), Resting(self._rest), False
        self.good, self.png, self.tried, self.designs, self.trouble, self.judged = None, b"", {}, {}, "", ()
        self.looked, self.shown = {}, (None, {})  # what stood moved when it was last looked at, and when it was shown
        self.handles = {s.path: handle_of(s, spec.build) for s in spec.sliders}
        self.view, self.math = widgets.HTML(layout={"flex": "2 1 600px", "min_width": "0"}), widgets.HTMLMath()
        self.told, self.beside = widgets.HTML(), widgets.HTML()
        for handle in self.handles.values():
            handle.observe(self._changed, "value")
        first = results_at(spec, {})
        self.room = len(first.rows), len(first.verdicts)
        self.told.layout = {"height": "64px", "overflow": "auto"}
        self.rack = widgets.VBox(list(self.handles.values()))
        note = [widgets.HTML(words) for words in [lent_note(spec.build)] if words]
        left = widgets.VBox(
            [*note, self.rack, self._buttons(), *self._bar(), self.told, self.beside],
            layout={"flex": "1 1 370px", "max_width": "430px", "overflow": "hidden"},
        )
        boxes = [widgets.HBox([left, self.view], layout={"flex_flow": "row wrap", "align_items": "flex-start"})]
        if spec.tells.derive:
            self.math.layout = {
                "height": f"{math_px(spec.tells.derive(first.result, first.build))}px",
                "overflow": "auto",
            }
            boxes.append(self.math)
        super().__init__(boxes)
        self._show(first)
        self.told.value = plain_text(suggestion.words)

    def _buttons(self):
        """What can be pressed; a panel that only looks has nothing to keep in a sheet."""
        acts = {"back to the sheet": self.reset}
        if any(key_of(s.path) is not None for s in self.spec.sliders) and not self.spec.build.lent:
            acts = {KEEP: self.keep} | acts
        pair = (
            {"hold as A": lambda: self.hold("A"), "hold as B": lambda: self.hold("B")} if len(self.handles) > 1 else {}
        )
        rows = [row(acts), row(pair)]
        self.keeper = rows[0].children[0] if KEEP in acts else None
        return widgets.HBox(rows, layout={"flex_flow": "row wrap"})  # a pair is never parted

    def _bar(self):
        """Room for a bar, where what is worked out at rest takes longer than a moment."""
        return [self.resting.bar] if isgeneratorfunction(self.spec.tells.slow) else []

    def _keeps(self, trouble):
        """Offer to keep what is shown, or not.  trouble: why it cannot be, "" where it can."""
        self.trouble = trouble
        if self.keeper is not None:
            self.keeper.disabled = bool(trouble)
            self.keeper.tooltip = "Not while this cannot be." if trouble else ""

    def offer(self, paths):
        """Show these sliders alone; the others keep where they stand and move nothing.  paths: of fields."""
        self.rack.children = tuple(handle for path, handle in self.handles.items() if path in paths)
        self._changed(None)  # a handle that comes back may stand elsewhere than on the sheet

    @_alone
    def hold(self, letter):
        """Hold what is shown as design A or B, and tell the two side by side.  letter: "A" or "B"."""
        self.designs[letter] = design_of(self.good, self.spec.sliders, self.moved())
        self.beside.value = designs_html(self.designs)

    @_alone
    def try_on(self, moves, words=""):
        """Show the tool with some fields changed, exactly so, as its panel would begin on a sheet that says it.

        moves: dict of path -> SI value or text. words: what is tried.
        """
        if self._begin(moves) and self._try(rest=True):
            self.told.value = f"<i>Tried: {plain_text(words)}. Back to the sheet takes it off again.</i>"

    def _begin(self, tried, looks=()):
        """Stand on the sheet with some fields changed, every slider where that has it but what looks elsewhere.

        tried: dict of path -> value. looks: pairs of them.  Returns False, nothing changed, where no panel begins so.
        """
        try:
            self.spec = self.begins.spec_with(self.spec, tried)
        except Fault as why:
            self._refuse(why)
            return False
        self.tried, self.quiet = dict(tried), True
        for handle in (new := begun_again(self.handles, self.spec)):
            handle.observe(self._changed, "value")
        for path, value in looks:
            self.set(path, value)
        has = [self.handles[s.path] for s in self.spec.sliders]
        shown = tuple(handle for handle in has if handle in self.rack.children or handle in new)
        if shown != self.rack.children:
            self.rack.children = shown
        self.quiet = False
        return True

    def moved(self):
        """The fields that stand elsewhere than on the sheet: dict of path -> SI value or text."""
        return self.tried | self._slid()

    def _slid(self):
        """The sliders that stand elsewhere than where the panel begins: dict of path -> SI value or text."""
        found = {}
        for s in self.spec.sliders:
            handle = self.handles[s.path]
            if handle not in self.rack.children:
                continue
            value, start = handle.value, handle.start
            if value != start if isinstance(s, Choice) else abs(value - start) > 1e-6 * handle.step:
                found[s.path] = stands_at(s, self.spec.build, value)
        return found

    def set(self, path, value):
        """Move one slider as a reader would.  path: field. value: SI, or the text of a Choice."""
        slider = next(s for s in self.spec.sliders if s.path == path)
        self.handles[path].value = handle_value(slider, self.spec.build, value)

    @_alone
    def _changed(self, change):
        if self.quiet or self.moved() == self.looked:  # a browser may round a handle that was put back
            return
        self.told.value = at_its_end(None if change is None else change["owner"])
        if self._try(rest=False) and not self.good.rest and not self.resting.later():
            self._rest()

    def _try(self, rest, extra=None):
        self.resting.drop()
        self.looked, known = self.moved(), self.spec.tells.known
        try:
            slid = self._slid()
            extra = known(build_at(self.spec, slid)) if known and extra is None else extra
            met = self.good.result if self.shown[0] is self.spec and self.shown[1] == self.looked else None
            self._show(results_at(self.spec, slid, rest or extra is not None, extra, met))
            return True
        except Fault as why:
            self._refuse(why)
            return False

    def _refuse(self, why):
        self.view.value = self._page(self.good, str(why))
        self._keeps(str(why))

    @_alone
    def _rest(self):
        """What is worked out at rest, or its next slice."""
        slow, extra = self.spec.tells.slow, None
        try:
            if self.resting.work is not None:
                done, extra = self.resting.step()
                if not done:
                    return
            elif isgeneratorfunction(slow) and self.resting.later(0.0):
                self.resting.take(shown_apart(slow(build_at(self.spec, self._slid()))))
                return
            self._try(True, extra)
        except Fault as why:
            self._refuse(why)
        except Exception as why:  # nobody else would see it: say it here
            self.told.value = f"<i>{plain_text(f'The band could not be worked out: {why}')}</i>"
            raise

    def _show(self, at):
        self.good, self.png, self.shown = at, self.live.png(at.numbers), (self.spec, self.looked)
        self.judged = self.judged if at.verdicts is None else at.verdicts
        self.view.value = self._page(at)
        self._keeps(at.refused)
        if at.rest and self.spec.tells.derive:
            self.math.value = math_html(self.spec.tells.derive(at.result, at.build))

    def _page(self, at, trouble=""):
        """Picture, caption, numbers and verdicts: one text, so that they always belong together."""
        dim, below = ";opacity:0.35" if trouble else "", plain_html(trouble or at.caption)
        if trouble:
            below = f"<b>Not possible:</b> {below} The picture is of the last good setting."
        late = at.verdicts is None
        tiles = cards(at.rows, self.room[0], at.rest or late or not self.spec.tells.slow)
        told = told_verdicts(self.judged, self.room[1], at.build, late)
        return page_html(at, (self.png, self.live.figure.canvas.get_width_height()), tiles, told, below, dim)

    @_alone
    def keep(self):
        """Write the moved fields into the sheet; a demo is first copied to a sheet of one's own."""
        if self.trouble:
            self.told.value = f"<b>Not kept:</b> this cannot be. {plain_html(self.trouble)}"
            return
        sliders, build = self.spec.sliders, self.spec.build
        stands, moved = {s.path: stands_at(s, build, self.handles[s.path].value) for s in sliders}, self.moved()
        moved |= {path: stands[path] for path in self.suggestion.to_keep(moved) if path in stands}
        moved, looked = to_keep(build, sliders, moved, {p: x for p, x in stands.items() if p == WORKED_OUT})
        if not moved:
            self.told.value = nothing_moved(looked)
            return
        try:
            path, said = own_sheet(build, moved)
            kept = keep(path, moved, build)
        except Fault as why:
            self.told.value = f"<b>Not kept.</b> {plain_html(str(why))}"
            return
        self.suggestion.kept(moved)
        self.begins = replace(self.begins, sheet=kept)
        begun = self._begin({}, [(path, x) for path, x in self._slid().items() if key_of(path) is None])
        self.told.value = plain_text(
            f"{said}Kept in {Path(path).name}: {kept_words(sliders, moved, kept)}. "
            "Run this page again, and others, to see it everywhere."
        )
        if begun:
            self._try(rest=True)

    @_alone
    def reset(self):
        """Put every slider back to where the sheet has it."""
        if self.tried:
            self._begin({})
        self.quiet = True
        for handle in self.handles.values():
            handle.value = handle.start
        self.quiet = False
        self.told.value = plain_text(self.suggestion.words) or "Everything is as on the sheet."
        self._try(rest=True)

    def kept(self):
        """What the saved page shows of the panel without a kernel: (data by kind, their notes)."""
        named = ", ".join(s.label.split(",")[0] for s in self.spec.sliders)
        png = base64.b64encode(still(self.spec.draw, self.good.numbers)).decode()
        return (
            {"text/plain": f"Live panel with sliders for {named}: run this page to move it.", "image/png": png},
            {"image/png": {"alt": self.good.caption}},
        )
