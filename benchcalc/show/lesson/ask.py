"""Exercises with a field for the answer: tries, hints in steps, and the worked answer from the code that ran."""

import html

import ipywidgets as widgets

from ...basics.escape import plain_text
from ...studies.lesson.bank import exercise_named
from ...studies.lesson.exercise import Exercise
from ...studies.lesson.mark import mark, word_of
from ...studies.lesson.scores import LessonScore
from ..page.typeset import derivation_html
from ..page.worked import worked
from ..panel.panel import Kept
from .learner import EXAMPLE, learner_form
from .typed_line import typed_line

TRIES = 3  # wrong numbers, before the worked answer may be opened
SIGNS = {"right": "✓", "slip": "↻", "wrong": "✗", "unread": "?"}


def exercises_form(learner: Kept | None, *keys: str) -> Kept:
    """Exercises one below the other, each with a field that takes a number with its unit.

    learner: of learner_form, or None for the example's numbers. keys: of the bank.
    Returns a widget box; `.asked[key].type(text)` does what typing an answer does.
    """
    return _Exercises(learner or learner_form(), [exercise_named(key) for key in keys])


def example_numbers(*keys: str) -> dict[str, float]:
    """The numbers that the example's questions show, SI, for a page's comparison; no answers.

    keys: of the bank.
    Returns dict, "wire_at_volts_open_v" -> 9.5.
    """
    drawn = {key: exercise_named(key).numbers_for(EXAMPLE) for key in keys}
    return {
        f"{key.replace('-', '_')}_{name}": value for key, numbers in drawn.items() for name, value in numbers.items()
    }


class _Exercises(Kept):
    def __init__(self, learner, exercises):
        self.learner = learner
        self.asked = {e.key: _Asked(e, learner, number) for number, e in enumerate(exercises, 1)}
        super().__init__(list(self.asked.values()), layout={"max_width": "860px"})

    def kept(self):
        """What the saved page shows of the exercises without a kernel: the example's questions, no answers."""
        lines = [
            f"{a.number}. {a.exercise.title}\n   {a.question()}\n   answer: ____________" for a in self.asked.values()
        ]
        return {"text/plain": "\n\n".join(lines)}, {}


class _Asked(widgets.VBox):
    """One exercise."""

    def __init__(self, exercise: Exercise, learner, number: int):
        self.exercise, self.learner, self.number = exercise, learner, number
        self.ask, self.told, self.hinted = (widgets.HTML() for _ in range(3))
        self.work = widgets.HTMLMath()
        self.field = typed_line("answer", "number and unit", 300, 60)
        self.check = widgets.Button(description="check", layout={"width": "90px"})
        self.hint = widgets.Button(description="a hint", layout={"width": "90px"})
        self.show_work = widgets.Button(description="worked answer", layout={"width": "150px"})
        self.field.observe(lambda _: self._check(), "value")
        self.check.on_click(lambda _: self._check())
        self.hint.on_click(lambda _: self._hint())
        self.show_work.on_click(lambda _: self._open())
        row = widgets.HBox([self.field, self.check, self.hint, self.show_work], layout={"flex_flow": "row wrap"})
        super().__init__([self.ask, row, self.told, self.hinted, self.work], layout={"margin": "0 0 18px 0"})
        learner.listen(self.fresh)
        self.fresh()

    def fresh(self):
        """Begin anew: other numbers, no tries, no hints."""
        self.numbers = self.exercise.numbers_for(self.learner.name, self.learner.word)
        self.tries, self.hints, self.done, self.last = 0, 0, "", ""
        self.field.value, self.field.disabled, self.work.value, self.told.value = "", False, "", ""
        self.hinted.value = ""
        self.ask.value = f"<b>{self.number}. {html.escape(self.exercise.title)}</b><br>{html.escape(self.question())}"
        self._buttons()

    def question(self):
        """The question with the learner's own numbers."""
        return self.exercise.question(self.numbers)

    def type(self, text):
        """Type an answer and leave the field.  text: number and unit."""
        self.field.value = text

    def _check(self):
        text = self.field.value.strip()
        if not text or text == self.last or self.done:
            return
        self.last, marked = text, mark(self.exercise, self.numbers, text)
        self.tries += marked.state != "unread"
        words = plain_text(marked.words)
        if marked.state == "right":
            self._end("right")
            words += " " + html.escape(self.exercise.learned)
        else:
            words += self._open_now()
            self._note("begun")
        self.told.value = f"<b>{SIGNS[marked.state]}</b> {words}"
        self._buttons()

    def _hint(self):
        if self.hints < len(self.exercise.hints):
            self.hints += 1
        told = [f"Hint {i}: {html.escape(h)}" for i, h in enumerate(self.exercise.hints[: self.hints], 1)]
        self.hinted.value = "<br>".join(told) + self._open_now()
        self._note("begun")
        self._buttons()

    @property
    def earned(self):
        """Whether the worked answer may be opened: three tries, or all hints."""
        return self.tries >= TRIES or self.hints >= len(self.exercise.hints)

    def _open_now(self):
        return " The worked answer is open to you now." if self.earned else ""

    def _open(self):
        if not self.done:
            self._end("shown")
            self.told.value = html.escape(self.exercise.learned)
        self._buttons()

    def _end(self, state):
        self.done, self.field.disabled = state, True
        _, runs = self.exercise.answer(self.numbers)
        steps = "".join(derivation_html(worked(function, **numbers)) for function, numbers in runs)
        self.work.value = (
            f"<details open><summary>worked answer: {html.escape(word_of(self.exercise))}</summary>{steps}</details>"
        )
        self._note(state)

    def _note(self, state):
        self.learner.note(LessonScore(self.exercise.key, state, self.tries, self.hints, self.learner.word))

    def _buttons(self):
        self.check.disabled = bool(self.done)
        self.hint.disabled = bool(self.done) or self.hints >= len(self.exercise.hints)
        self.show_work.disabled = bool(self.done) or not self.earned
