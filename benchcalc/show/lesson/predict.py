"""Predictions: choose, lock, and only then is the answer worked out and told."""

import html

import ipywidgets as widgets

from ...basics.escape import plain_text
from ...basics.fault import Fault
from ...chain.workings import Workings
from ...sheet.build import Build
from ...studies.lesson.prediction import Prediction
from ...studies.lesson.prediction_bank import prediction_named
from ...studies.lesson.scores import LessonScore
from ..panel.panel import Kept


def predict_form(
    *keys: str, build: Build | None = None, workings: Workings | None = None, learner: Kept | None = None
) -> Kept:
    """Questions with choices; what is right is worked out after the choice is locked.

    keys: of the bank of predictions. build, workings: of the page's sheet, where a question asks about it. learner: of
    learner_form, for the score, or None.
    Returns a widget box; `.asked[key].choose(index)` and `.asked[key].lock()` do what the reader does.
    """
    return _Predictions([prediction_named(key) for key in keys], build, workings, learner)


class _Predictions(Kept):
    def __init__(self, predictions, build, workings, learner):
        self.asked = {p.key: _Predicted(p, (build, workings), learner) for p in predictions}
        super().__init__(list(self.asked.values()), layout={"max_width": "860px"})

    def kept(self):
        """What the saved page shows of the questions without a kernel: no answers."""
        return {"text/plain": "\n\n".join(a.plain(i) for i, a in enumerate(self.asked.values(), 1))}, {}


class _Predicted(widgets.VBox):
    """One prediction."""

    def __init__(self, prediction: Prediction, given, learner):
        self.prediction, self.given, self.learner, self.found = prediction, given, learner, None
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
        """Lock the choice; the answer is worked out now."""
        if self.choice.index is None or self.found is not None:
            return
        self.choice.disabled = self.lock_it.disabled = True
        try:
            self.found = self.prediction.revealed(*self.given)
        except Fault as told:
            self.told.value = f"<i>This sheet cannot answer it: {plain_text(told)}</i>"
            return
        right = self.found.right == self.choice.index
        sign = "✓ As you said." if right else f"✗ It is: {html.escape(self.prediction.choices[self.found.right])}."
        self.told.value = f"<b>{sign}</b> {html.escape(self.found.words, quote=False)}"
        if self.learner is not None:
            state = "locked right" if right else "locked wrong"
            self.learner.note(LessonScore(self.prediction.key, state, 1, 0, self.learner.word))

    def _ready(self):
        self.lock_it.disabled = self.choice.index is None or self.found is not None

    def plain(self, number):
        """The question and its choices in plain letters.  number: its place."""
        choices = "\n".join(f"   ( ) {c}" for c in self.prediction.choices)
        return f"{number}. {self.prediction.ask}\n{choices}"
