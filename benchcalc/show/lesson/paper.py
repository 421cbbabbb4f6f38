"""Paper for a class: handouts with each learner's own numbers, hints, words and cautions; the command's files.

Written as HTML, black on white, that any browser prints and that fetches nothing; PDF too where Chromium is.
"""

from pathlib import Path

from ...basics.escape import plain_text
from ...basics.fault import Fault, fault
from ...basics.names import NAMES, display
from ...basics.tables import one
from ...basics.tables import rows as data
from ...studies.lesson.bank import EVENINGS, guesses_of, of_evening
from ...studies.lesson.exercise import Exercise
from ...studies.lesson.personal import tidy_name
from ...studies.lesson.prediction_bank import prediction_named
from ..card.paper import to_pdf
from .paper_answers import teacher_answers
from .paper_bench import bench_sheet
from .paper_page import document

MOST_NAMES = 200
ALWAYS = (  # cautions that every evening prints, in this order
    "mains-primary",
    "thermal-link",
    "not-alone",
    "load-test-hot",
    "hot-parts-burn",
    "bare-wire-fire",
    "first-heat-smoke",
    "cut-ends-spring",
    "old-appliance",
    "lead-hands",
)


def class_names(text: str) -> list[str]:
    """Names from a list, one a line; empty lines are left out.

    text: of a file.
    Raises Fault: none, too many, one twice.
    """
    names = [line.strip() for line in text.splitlines() if line.strip()]
    if not names or len(names) > MOST_NAMES:
        raise fault("names", str(len(names)), f"must be 1 to {MOST_NAMES}, one a line.")
    seen = {}
    for name in names:
        if (tidy := tidy_name(name)) in seen:
            raise fault("names", name, f"stands twice (as {seen[tidy]}): both would get the same numbers.")
        seen[tidy] = name
    return names


def _asked(number: int, exercise: Exercise, numbers):
    return (
        f'<div class="ask"><h2>{number}. {plain_text(exercise.title)}</h2>'
        f"<p>{plain_text(exercise.question(numbers))}</p>"
        '<div class="work"></div><p>answer, with its unit: <span class="space"></span></p></div>'
    )


def _guesses(evening: int):
    """The evening's predictions to tick, without answers."""
    asked = "".join(
        f'<div class="ask"><p><b>{plain_text(p.ask)}</b></p>'
        f"<p>{' &nbsp; '.join('☐ ' + plain_text(c) for c in p.choices)}</p></div>"
        for p in map(prediction_named, guesses_of(evening))
    )
    return f"<h2>Guess first, in ink</h2>{asked}"


def handouts(evening: int, names: list[str], word: str = "") -> str:
    """A sheet a learner: guesses to tick, then the evening's exercises with numbers of his own and room to work.

    evening: 1 to 6. names: of class_names. word: the teacher's.
    Returns HTML.
    """
    sections = []
    for name in names:
        asked = "".join(_asked(i, e, e.numbers_for(name, word)) for i, e in enumerate(of_evening(evening), 1))
        sections.append(
            f"<h1>Evening {evening}: {plain_text(name)}</h1>{_guesses(evening)}<h2>Numbers of your own</h2>{asked}"
        )
    return document(f"evening {evening}, handouts", *sections)


def hint_sheet(evening: int) -> str:
    """The hints of an evening's exercises, to lie face down on the bench: the same for all.

    evening: 1 to 6.
    Returns HTML.
    """
    asked = "".join(
        f'<div class="ask"><h2>{i}. {plain_text(e.title)}</h2><ol>'
        f"{''.join(f'<li>{plain_text(h)}</li>' for h in e.hints)}</ol></div>"
        for i, e in enumerate(of_evening(evening), 1)
    )
    return document(
        f"evening {evening}, hints",
        f"<h1>Hints of evening {evening}</h1><p>Face down on the bench. Turn it over when you are stuck, read one "
        f"line, turn it back.</p>{asked}",
    )


def word_list(evening: int) -> str:
    """The words that an evening uses: what each means, and the unit that a quantity is read in.

    evening: 1 to 6.
    Returns HTML.
    """
    used = set()
    for e in of_evening(evening):
        _, runs = e.answer(e.numbers_for("word list"))
        used |= {*(n for _, given in runs for n in given), e.result}
    told = []
    for r in data("class_words"):
        if r["key"] in used:
            told.append((NAMES[r["key"]].word, r["meaning"], display(r["key"])[0] or "–"))
        elif str(evening) in (r["evenings"] or ""):
            told.append((r["word"], r["meaning"], "–"))
    rows = "".join(
        f"<tr>{''.join(f'<td>{plain_text(cell)}</td>' for cell in row)}</tr>"
        for row in sorted(told, key=lambda row: row[0].casefold())
    )
    return document(
        f"evening {evening}, words",
        f"<h1>Words of evening {evening}</h1><table><tr><th>word</th><th>what it means</th><th>read in</th></tr>"
        f"{rows}</table>",
    )


def caution_card() -> str:
    """The cautions that hang at every bench.

    Returns HTML.
    """
    items = "".join(
        f"<li>{plain_text(r['sentence'])} <i>Defer to: {plain_text(r['defer_to'])}.</i></li>"
        for r in (one("cautions", "id", i) for i in ALWAYS)
    )
    return document(
        "cautions",
        '<h1>At every bench</h1><p class="stop">One switch per bench, within the reach of all. Only an adult '
        "switches on. "
        "Anybody switches off: at once, for any reason, without asking. Burnt? Cool running water at once, twenty "
        "minutes, and help.</p>"
        f"<ul>{items}</ul><p>Eye protection on while wire is cut or hot. Hands washed after lead or old solder, before "
        "anything is eaten. Nothing is packed before it can be held.</p>",
    )


def write_class(evening: int, names: list[str], word: str, folder: Path):
    """Write all papers of an evening.

    evening: 1 to 6. names: of class_names. word: the teacher's. folder: made where it is not there.
    Yields a sentence for each file.
    """
    if not 1 <= evening <= len(EVENINGS):
        raise fault("evening", evening, f"must be 1 to {len(EVENINGS)}.")
    folder.mkdir(parents=True, exist_ok=True)
    papers = {
        f"evening_{evening}_handouts": handouts(evening, names, word),
        f"evening_{evening}_answers": teacher_answers(evening, names, word),
        f"evening_{evening}_words": word_list(evening),
        f"evening_{evening}_hints": hint_sheet(evening),
        f"evening_{evening}_bench_sheet": bench_sheet(evening),
        "cautions": caution_card(),
    }
    for name, text in papers.items():
        page = folder / f"{name}.html"
        page.write_text(text, encoding="utf-8")
        try:
            yield f"{to_pdf(page, page.with_suffix('.pdf'))}"
        except Fault as told:
            yield f"{page} ({told})"
