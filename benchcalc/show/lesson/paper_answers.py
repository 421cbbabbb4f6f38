"""The teacher's paper: everybody's answers with their working, and what each slip would have come to."""

from ...basics.escape import plain_text
from ...basics.names import NAMES, say
from ...studies.lesson.bank import guesses_of, of_evening
from ...studies.lesson.exercise import Exercise
from ...studies.lesson.opening_word import opening_word
from ...studies.lesson.prediction_bank import prediction_named
from ..page.typeset import derivation_text
from ..page.worked import worked
from .paper_page import cells_to_rows, document


def teacher_answers(evening: int, names: list[str], word: str = "") -> str:
    """The teacher's key: every learner's answers, and for each exercise its working and what each slip comes to.

    evening, names, word: as `handouts`.
    Returns HTML.
    """
    asked = of_evening(evening)
    head = "".join(f"<th>{i}</th>" for i in range(1, len(asked) + 1))
    wide = cells_to_rows([["right within", *(plain_text(e.within_words()) for e in asked)]])
    body = cells_to_rows(
        [plain_text(name), *(plain_text(e.told(e.answer(e.numbers_for(name, word))[0])) for e in asked)]
        for name in names
    )
    lanes = "; ".join(f"{i} {plain_text(e.title)}{' (why lane)' * (e.lane == 'why')}" for i, e in enumerate(asked, 1))
    told = f" with the word “{plain_text(word)}”" if word else ""
    working = "".join(_working(i, e, names, word) for i, e in enumerate(asked, 1))
    return document(
        f"evening {evening}, answers",
        f"<h1>Evening {evening}: answers{told}</h1><p class='small'>{lanes}. Right within what stands in the first "
        f"row, or rounded to two digits or more.</p><table><tr><th>learner</th>{head}</tr>{wide}{body}</table><h2>The "
        f"guesses, opened by “{opening_word(evening)}”</h2><ul>{_revealed(evening)}</ul><h1>Working, and what a slip "
        f"would have come to</h1>{working}",
    )


def _working(number: int, exercise: Exercise, names: list[str], word: str) -> str:
    """How an exercise goes, by hints and by one learner's numbers; then steps and slips of all."""
    hints = " ".join(map(plain_text, exercise.hints))
    slips = " ".join(f"<b>{_letter(i)}</b> {plain_text(s.words)}" for i, s in enumerate(exercise.slips))
    rows = []
    for name in names:
        numbers = exercise.numbers_for(name, word)
        right, runs = exercise.answer(numbers)
        wrong = [plain_text(exercise.told(value)) for _, value in exercise.slipped(numbers)]
        wide = exercise.tolerance(right)
        span = f"{exercise.told(right - wide)} to {exercise.told(right + wide)}"
        told = f"<b>{plain_text(exercise.told(right))}</b> ({plain_text(span)})"
        rows.append([plain_text(name), _chain(runs), told, *wrong])
    head = "".join(f"<th>{_letter(i)}</th>" for i in range(len(exercise.slips)))
    return (
        f"<h2>{number}. {plain_text(exercise.title)}</h2><p>{hints}</p><p "
        f"class='small'>{_example(exercise, names[0], word)}"
        f"</p><p class='small'>{slips}</p><table "
        f"class='key'><tr><th>learner</th><th>steps</th><th>right (from, to)</th>{head}</tr>"
        f"{cells_to_rows(rows)}</table>"
    )


def _letter(index: int) -> str:
    return "abcdefghij"[index]


def _chain(runs) -> str:
    """What each step of a learner's working comes to."""
    found = [(step.key, step.value) for function, given in runs for step in worked(function, **given).steps]
    return plain_text("; ".join(f"{NAMES[key].word} {say(key, value)}" for key, value in found[:-1]) or "one step")


def _example(exercise: Exercise, name: str, word: str) -> str:
    """The working written out with one learner's numbers."""
    _, runs = exercise.answer(exercise.numbers_for(name, word))
    lines = [line for function, given in runs for line in derivation_text(worked(function, **given)).splitlines()[1:]]
    return f"With the numbers of {plain_text(name)}: " + "; ".join(map(plain_text, lines))


def _revealed(evening: int):
    """The predictions with what is right, and why."""
    told = ""
    for asked in map(prediction_named, guesses_of(evening)):
        found = asked.revealed()
        right = asked.choices[found.right]
        told += f"<li>{plain_text(asked.ask)} <b>{plain_text(right)}.</b> {plain_text(found.words)}</li>"
    return told
