"""An exercise: a question with personal numbers, the work that answers it, and the slips that people make.

The right answer is never written down: `work` runs the library's own straight functions on the numbers, and what ran is
what the worked answer shows.  Wrong answers are made in the same way, by running the work on a wrong number.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from random import Random

from ...basics.fault import fault
from ...basics.names import say, suffix_of
from .personal import random_for

MOST_DRAWS = 200  # until the numbers keep every slip apart from the answer
APART = 3.0  # a slip's answer lies at least this many tolerances from the right one


@dataclass
class Workbench:
    """Runs straight functions and remembers each run, so that the worked answer can show them in order.

    >>> from benchcalc.heater.wire import cold_resistance
    >>> bench = Workbench()
    >>> bench(cold_resistance, linear_ohm_per_m=10.0, length_m=0.5)
    5.0
    >>> bench.runs[0][1]["length_m"]
    0.5
    """

    runs: list = field(default_factory=list)

    def __call__(self, function, **numbers):
        """Run a function.  function: straight, its arguments named as in the glossary. numbers: its arguments, SI."""
        value = function(**numbers)
        self.runs.append((function, numbers))
        return float(value)


@dataclass(frozen=True)
class Slip:
    """A likely mistake: what it is, and how it changes the numbers or the answer.

    words: a sentence to the learner. change: function (numbers) -> numbers that the slip works with, or None for the
    right ones. after: function (what came of them) -> the wrong answer, or None.  One of both is given, or both.
    """

    words: str
    change: Callable[[dict], dict] | None = None
    after: Callable[[float], float] | None = None


@dataclass(frozen=True)
class Exercise:
    """A question with personal numbers.

    key: its name, e.g. "wire-at-volts". title: a few words. lane: "everyday" (plain arithmetic, squares and roots) or
    "why" (exponentials, logarithms, longer chains). ask: text with {names} of the numbers. draw: function (Random) ->
    numbers, SI, by names of the glossary, each shown without rounding. work: function (Workbench, numbers) -> answer,
    SI. result: the glossary's name of the answer. share: tolerance, of the answer. within: tolerance, SI; the wider
    counts. slips, hints: in the order in which they are tried or told. learned: a sentence for afterwards. source: of
    data/sources.csv, or "own". per_cent: whether a share is asked for in per cent.
    """

    key: str
    title: str
    lane: str
    ask: str
    draw: Callable[[Random], dict]
    work: Callable[[Workbench, Mapping], float]
    result: str
    share: float = 0.03
    within: float = 0.0
    slips: tuple[Slip, ...] = ()
    hints: tuple[str, ...] = ()
    learned: str = ""
    source: str = "own"
    per_cent: bool = False

    def answer(self, numbers: Mapping) -> tuple[float, list]:
        """The right answer, SI, and the runs that give it.  numbers: as drawn."""
        bench = Workbench()
        return self.work(bench, dict(numbers)), bench.runs

    def tolerance(self, right: float) -> float:
        """How far from the right answer still counts as right, SI.  right: the answer, SI."""
        return max(self.share * abs(right), self.within)

    def within_words(self) -> str:
        """The tolerance as a marker needs it: a share, or a width in the answer's unit, whichever is the wider."""
        share = f"{100 * self.share:g} %"
        if not self.within:
            return share
        width = f"{self.within:g} K" if suffix_of(self.result) == "c" else self.told(self.within)
        return f"{width}, or {share} where that is more" if self.share else width

    def slipped(self, numbers: Mapping) -> list[tuple[Slip, float]]:
        """Every slip of this exercise with the answer that it leads to, SI.  numbers: as drawn."""
        found = []
        for slip in self.slips:
            came = self.answer(slip.change(dict(numbers)) if slip.change else numbers)[0]
            found.append((slip, slip.after(came) if slip.after else came))
        return found

    def told(self, value: float) -> str:
        """An answer as the question wants it, with its unit.  value: SI."""
        return f"{100 * value:.3g} %" if self.per_cent else say(self.result, value)

    def numbers_for(self, name: str, word: str = "") -> dict:
        """The numbers of one learner, SI: the same each time, others for the neighbour.

        name: the learner's. word: the teacher's; another word gives new numbers to all.
        Raises Fault: an empty name.
        """
        random = random_for(name, word, self.key)
        for _ in range(MOST_DRAWS):
            numbers = self.draw(random)
            right = self.answer(numbers)[0]
            apart = APART * self.tolerance(right)
            if all(abs(wrong - right) > apart for _, wrong in self.slipped(numbers)):
                return numbers
        raise fault(self.key, name, "has no numbers that keep its slips apart from its answer.")

    def question(self, numbers: Mapping, *, degrees: str = "C") -> str:
        """The question with its numbers, Markdown.  numbers: as drawn. degrees: "C" or "F"."""
        return self.ask.format(**{k: said(k, v, degrees) for k, v in numbers.items()})


def said(key: str, value: float, degrees: str = "C") -> str:
    """A drawn number as the question prints it: all of its digits, no more.

    key: its name. value: SI. degrees: "C" or "F".

    >>> said("length_m", 0.56), said("linear_ohm_per_m", 17.7)
    ('560 mm', '17.7 ohm/m')
    """
    for figures in range(2, 7):
        text = say(key, value, figures=figures, degrees=degrees)
        if text == say(key, value, figures=figures + 1, degrees=degrees) or _same(text, key, value, degrees):
            return text
    return text


def _same(text, key, value, degrees):
    """Whether nothing was rounded away: more figures add only noughts."""
    finer = say(key, value, figures=9, degrees=degrees)
    number, more = text.split(" ")[0], finer.split(" ")[0]
    return "e" not in number and float(number) == float(more)
