"""Who is answering: a name gives numbers of one's own, and the place where the scores are kept."""

import ipywidgets as widgets

from ...basics.escape import plain_text
from ...basics.fault import Fault
from ...studies.lesson.guesses import LockedGuess, lock_guess, locked_by
from ...studies.lesson.personal import tidy_name
from ...studies.lesson.scores import LessonScore, keep_score, score_file
from ..panel.panel import Kept

EXAMPLE = "example"  # the name until somebody types another; nothing of it is kept


def learner_form(name: str = "", word: str = "") -> Kept:
    """Type a name, and a word if the teacher gave one: questions below take their numbers from both.

    name, word: as typed; a page leaves both empty.
    Returns a widget box with `.name`, `.word`, `.listen(function)` and `.note(score)`.
    """
    return _Learner(name, word)


class _Learner(Kept):
    def __init__(self, name, word):
        self.listeners = []
        wide = {"layout": {"width": "340px"}, "style": {"description_width": "120px"}, "continuous_update": False}
        self.name_box = widgets.Text(value=name, description="your name", placeholder="a nickname will do", **wide)
        self.word_box = widgets.Text(
            value=word, description="teacher's word", placeholder="leave empty if none", **wide
        )
        self.told = widgets.HTML()
        for box in (self.name_box, self.word_box):
            box.observe(lambda _: self._changed(), "value")
        row = widgets.HBox([self.name_box, self.word_box], layout={"flex_flow": "row wrap"})
        super().__init__([row, self.told], layout={"max_width": "860px"})
        self._changed()

    @property
    def name(self):
        """The name, or the example's while none is typed."""
        return self.name_box.value.strip() or EXAMPLE

    @property
    def word(self):
        """The teacher's word, or nothing."""
        return self.word_box.value.strip()

    def listen(self, function):
        """Call a function whenever name or word change.  function: takes nothing."""
        self.listeners.append(function)

    def note(self, score: LessonScore) -> None:
        """Keep a score, where a name is typed.  score: LessonScore."""
        if self.name == EXAMPLE:
            return
        try:
            keep_score(self.name, score)
        except Fault as told:
            self.told.value = f"<i>Your score could not be kept: {plain_text(told)}</i>"

    def locked(self) -> dict[str, LockedGuess]:
        """What was locked under this name, key -> LockedGuess; nothing while no name is typed."""
        if self.name == EXAMPLE:
            return {}
        try:
            return locked_by(self.name)
        except Fault as told:
            self.told.value = f"<i>Your locked guesses could not be read: {plain_text(told)}</i>"
            return {}

    def lock(self, guess: LockedGuess) -> LockedGuess:
        """Keep a guess, where a name is typed.  guess: LockedGuess.  Returns the one that stands."""
        if self.name == EXAMPLE:
            return guess
        try:
            return lock_guess(self.name, guess)
        except Fault as told:
            self.told.value = f"<i>Your guess could not be kept: {plain_text(told)}</i>"
            return guess

    def _changed(self):
        try:
            tidy_name(self.name)
        except Fault as told:
            self.told.value = f"<i>{plain_text(told)}</i>"
            return
        if self.name == EXAMPLE:
            said = "Without a name you get the example's numbers, and no score is kept."
        else:
            said = (
                f"Numbers of your own, {plain_text(self.name)}; scores go to {plain_text(score_file(self.name).name)}."
            )
        self.told.value = f"<i>{said}</i>"
        for function in self.listeners:
            function()

    def kept(self):
        """What the saved page shows of the form without a kernel."""
        return {"text/plain": "Your name: ____________   Teacher's word: ____________   (run the page to type)"}, {}
