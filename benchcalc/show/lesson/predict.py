"""Predictions: choose, lock, and only then is the answer worked out and told: at once, or with the whole room."""

import html

import ipywidgets as widgets

from ...basics.escape import plain_text
from ...basics.fault import Fault
from ...chain.workings import Workings
from ...sheet.build import Build
from ...studies.lesson.bank import guess_noted_as
from ...studies.lesson.guesses import LockedGuess
from ...studies.lesson.opening_word import opens
from ...studies.lesson.prediction import Prediction
from ...studies.lesson.prediction_bank import prediction_named
from ...studies.lesson.scores import LessonScore
from ..panel.panel import Kept
from .learner import EXAMPLE
from .typed_line import typed_line


def predict_form(
    *keys: str,
    build: Build | None = None,
    workings: Workings | None = None,
    learner: Kept | None = None,
    evening: int | None = None,
) -> Kept:
    """Questions with choices; what is right is worked out after the choice is locked.

    keys: of the bank of predictions. build, workings: of the page's sheet, where a question asks about it. learner: of
    learner_form, for the score, or None. evening: 1 to 6, where locked choices stay shut until the room opens them
    with that evening's word (`opening_word`); None: each opens as it is locked.
    Returns a widget box; `.asked[key].choose(index)`, `.asked[key].lock()`, `.open_all(word)` do what the reader does.
    """
    return _Predictions([prediction_named(key) for key in keys], (build, workings), learner, evening)


class _Predictions(Kept):
    def __init__(self, predictions, given, learner, evening):
        self.evening, self.opened = evening, evening is None
        self.asked = {p.key: _Predicted(p, given, learner, self) for p in predictions}
        self.word = typed_line("the room's word", "called out at the end", 380, 120)
        self.told = widgets.HTML()
        self.word.observe(lambda _: self._try(), "value")
        gate = [] if self.opened else [widgets.HBox([self.word], layout={"flex_flow": "row wrap"}), self.told]
        super().__init__([*self.asked.values(), *gate], layout={"max_width": "860px"})
        self.learner, self.named = learner, ""
        if learner is not None:
            learner.listen(self.again)
            self.again()
        self.count()

    def again(self):
        """Show what was locked under the learner's name: another name begins with its own, and what was locked before
        any name was typed goes to the first that is."""
        if self.learner.name == self.named:
            return
        if self.named not in ("", EXAMPLE):
            self._shut()
            for asked in self.asked.values():
                asked.fresh()
        self.named, kept = self.learner.name, self.learner.locked()
        noted = {guess_noted_as(key, self.evening): asked for key, asked in self.asked.items()}
        if any(kept[k].opened for k in noted if k in kept):
            self._open()
        for key, asked in noted.items():
            asked.remember(kept.get(key))
        self.count()

    def _shut(self):
        self.opened = self.word.disabled = self.evening is None
        self.word.value = ""

    def _open(self):
        self.opened, self.word.disabled = True, True
        self.told.value = "<i>Open. What is not locked yet opens as you lock it.</i>"

    def open_all(self, word):
        """Type the room's word.  word: as called out."""
        self.word.value = word

    def count(self):
        """Say how many are locked, while they are shut."""
        locked = sum(a.locked for a in self.asked.values())
        if not self.opened:
            self.told.value = f"<i>{locked} of {len(self.asked)} locked; all open together, by the room's word.</i>"

    def _try(self):
        if self.opened or not self.word.value.strip():
            return
        if not opens(self.evening, self.word.value):
            self.told.value = "<i>That is not tonight's word.</i>"
            return
        self._open()
        for asked in self.asked.values():
            asked.reveal()

    def kept(self):
        """What the saved page shows of the questions without a kernel: no answers."""
        return {"text/plain": "\n\n".join(a.plain(i) for i, a in enumerate(self.asked.values(), 1))}, {}


class _Predicted(widgets.VBox):
    """One prediction."""

    def __init__(self, prediction: Prediction, given, learner, room):
        self.prediction, self.given, self.learner, self.room = prediction, given, learner, room
        self.found, self.locked = None, False
        self.ask = widgets.HTML(f"<b>{html.escape(prediction.ask)}</b>")
        self.choice = widgets.RadioButtons(options=list(prediction.choices), index=None, layout={"width": "auto"})
        self.lock_it = widgets.Button(description="lock my answer", disabled=True, layout={"width": "160px"})
        self.told = widgets.HTMLMath()
        self.choice.observe(lambda _: self._ready(), "index")
        self.lock_it.on_click(lambda _: self.lock())
        super().__init__([self.ask, self.choice, self.lock_it, self.told], layout={"margin": "0 0 16px 0"})

    def choose(self, index):
        """Choose an answer.  index: of the choices."""
        self.choice.index = index

    def lock(self):
        """Lock the choice; the answer is worked out now, or when the room opens."""
        if self.choice.index is None or self.locked:
            return
        self.choice.disabled = self.lock_it.disabled = self.locked = True
        self._keep()
        if self.room.opened:
            self.reveal()
            return
        self.told.value = "<i>Locked. It is opened with the others.</i>"
        self._note("locked")
        self.room.count()

    def _keep(self):
        """Keep the choice; where another was locked before under this name, that one stands and is shown."""
        if self.learner is None:
            return
        chosen = self.prediction.choices[self.choice.index]
        stands = self.learner.lock(LockedGuess(self._noted(), chosen, self.found is not None))
        if stands.choice in self.prediction.choices:
            self.choice.index = self.prediction.choices.index(stands.choice)

    def remember(self, kept):
        """Show again what was locked.  kept: LockedGuess, or None: then what is locked here is kept under the name."""
        if kept is None or kept.choice not in self.prediction.choices:
            if self.locked:
                self._keep()
                self._note_again()
            return
        if self.found is not None:
            self.fresh()
        self.choice.index = self.prediction.choices.index(kept.choice)
        self.choice.disabled = self.lock_it.disabled = self.locked = True
        self.told.value = "<i>Locked before. It is opened with the others.</i>"
        if kept.opened or self.room.opened:
            self.reveal()

    def fresh(self):
        """Begin anew, for another learner."""
        self.found, self.locked, self.told.value = None, False, ""
        self.choice.index, self.choice.disabled = None, False
        self._ready()

    def reveal(self):
        """Work the answer out, if the choice is locked."""
        if not self.locked or self.found is not None:
            return
        try:
            self.found = self.prediction.revealed(*self.given)
        except Fault as told:
            self.told.value = f"<i>This sheet cannot answer it: {plain_text(told)}</i>"
            return
        right = self.found.right == self.choice.index
        sign = "✓ As you said." if right else f"✗ It is: {html.escape(self.prediction.choices[self.found.right])}."
        self.told.value = f"<b>{sign}</b> {html.escape(self.found.words, quote=False)}"
        self._keep()
        self._note_again()

    def _note_again(self):
        """Note how it stands now: shut, or what came of it."""
        if self.found is None:
            self._note("locked")
        else:
            self._note("locked right" if self.found.right == self.choice.index else "locked wrong")

    def _noted(self):
        return guess_noted_as(self.prediction.key, self.room.evening)

    def _note(self, state):
        if self.learner is not None:
            self.learner.note(LessonScore(self._noted(), state, 1, 0, ""))  # a guess is the same with any word

    def _ready(self):
        self.lock_it.disabled = self.choice.index is None or self.locked

    def plain(self, number):
        """The question and its choices in plain letters.  number: its place."""
        choices = "\n".join(f"   ( ) {c}" for c in self.prediction.choices)
        return f"{number}. {self.prediction.ask}\n{choices}"
