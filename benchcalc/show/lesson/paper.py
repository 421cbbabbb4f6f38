"""Paper for a class: handouts with each learner's own numbers, the teacher's answers, a bench sheet, words, cautions.

Written as HTML, black on white, that any browser prints and that fetches nothing; PDF too where Chromium is.
"""

from pathlib import Path

from ...basics.escape import plain_text
from ...basics.fault import Fault, fault
from ...basics.names import NAMES, display, say
from ...basics.tables import rows as data
from ...studies.lesson.bank import EVENINGS, of_evening
from ...studies.lesson.exercise import Exercise
from ...studies.lesson.first_evening_readings import first_evening
from ...studies.lesson.personal import tidy_name
from ..card.paper import to_pdf

MOST_NAMES = 200
STYLE = """@page { size: A4; margin: 14mm 15mm }
body { font: 10.5pt/1.4 "DejaVu Sans", Verdana, Arial, sans-serif; color: #000; background: #fff; margin: 0 }
h1 { font-size: 15pt; margin: 0 0 2mm } h2 { font-size: 11.5pt; margin: 4mm 0 1mm; break-after: avoid }
p { margin: 1mm 0 }
section { break-after: page } section:last-child { break-after: auto } .ask { break-inside: avoid; margin: 0 0 5mm }
.space { display: inline-block; border-bottom: .8pt solid #000; min-width: 55mm; height: 6mm }
.work { border: .5pt solid #777; height: 24mm; margin: 1mm 0 0 }
table { border-collapse: collapse; width: 100%; font-size: 9pt } tr { break-inside: avoid }
td, th { border: .5pt solid #555; padding: 1mm 1.5mm; text-align: left; vertical-align: top }
td.blank { min-width: 30mm }
.stop { border: 2pt solid #000; padding: 1.5mm 3mm; font-weight: bold } li { margin: 1mm 0; break-inside: avoid }
.small { font-size: 8.5pt }"""
ALWAYS = (  # cautions that every evening prints, in this order
    "mains-primary",
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


def _document(title, *sections):
    body = "".join(f"<section>{s}</section>" for s in sections)
    return (
        f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{plain_text(title)}</title>'
        f"<style>{STYLE}</style></head><body>{body}</body></html>\n"
    )


def _asked(number: int, exercise: Exercise, numbers):
    lane = "" if exercise.lane == "everyday" else " (why lane)"
    return (
        f'<div class="ask"><h2>{number}. {plain_text(exercise.title)}{lane}</h2>'
        f"<p>{plain_text(exercise.question(numbers))}</p>"
        '<div class="work"></div><p>answer, with its unit: <span class="space"></span></p></div>'
    )


def handouts(evening: int, names: list[str], word: str = "") -> str:
    """One section a learner: the evening's exercises with numbers of his own and room to work.

    evening: 1 to 6. names: of class_names. word: the teacher's.
    Returns HTML.
    """
    sections = []
    for name in names:
        asked = "".join(_asked(i, e, e.numbers_for(name, word)) for i, e in enumerate(of_evening(evening), 1))
        sections.append(f"<h1>Evening {evening}: {plain_text(name)}</h1>{asked}")
    return _document(f"evening {evening}, handouts", *sections)


def teacher_answers(evening: int, names: list[str], word: str = "") -> str:
    """The teacher's table: every learner's answers, and the slips to look out for.

    evening, names, word: as `handouts`.
    Returns HTML.
    """
    asked = of_evening(evening)
    head = "".join(f"<th>{i}. {plain_text(e.title)}</th>" for i, e in enumerate(asked, 1))
    body = ""
    for name in names:
        cells = "".join(f"<td>{plain_text(say(e.result, e.answer(e.numbers_for(name, word))[0]))}</td>" for e in asked)
        body += f"<tr><td>{plain_text(name)}</td>{cells}</tr>"
    slips = "".join(
        f"<h2>{i}. {plain_text(e.title)}</h2><ul>{''.join(f'<li>{plain_text(s.words)}</li>' for s in e.slips)}</ul>"
        for i, e in enumerate(asked, 1)
    )
    told = f" with the word “{plain_text(word)}”" if word else ""
    return _document(
        f"evening {evening}, answers",
        f"<h1>Evening {evening}: answers{told}</h1><p>Right within the tolerance of each exercise, or rounded to two "
        f"digits or more.</p><table><tr><th>learner</th>{head}</tr>{body}</table>",
        f"<h1>Slips to look out for</h1>{slips}",
    )


def bench_sheet() -> str:
    """The first evening's bench sheet: what to read, the band it should lie in, a blank, what to do outside.

    Returns HTML.
    """
    rows = "".join(
        f"<tr><td>{a.row}</td><td>{plain_text(a.what)}</td><td>{say(a.key, a.expected.low)} to "
        f'{say(a.key, a.expected.high)}</td><td class="blank"></td></tr>'
        for a in first_evening()
    )
    return _document(
        "bench sheet",
        "<h1>Bench sheet, evening one</h1>"
        '<p class="stop">Power off before anything is clipped or moved. Wire that does not glow still burns.</p>'
        f"<table><tr><th>row</th><th>what to read</th><th>it should lie in</th><th>your reading</th></tr>{rows}</table>"
        "<h2>Outside?</h2><ul><li>Clips: squeeze and turn them, read again.</li><li>Length: from clip to clip, with "
        "the tape on the wire.</li><li>Meter: range, and the right socket for amps.</li><li>Still outside, and the "
        "neighbours too? Then the wire is not what its reel says: measure its ohms for each metre.</li></ul>"
        '<p>bench: <span class="space"></span> date: <span class="space"></span></p>',
    )


def word_list(evening: int) -> str:
    """The words and signs that an evening uses, with the unit each is read in.

    evening: 1 to 6.
    Returns HTML.
    """
    used = {}
    for e in of_evening(evening):
        _, runs = e.answer(e.numbers_for("word list"))
        for name in (*(n for _, given in runs for n in given), e.result):
            used[name] = NAMES[name].word
    rows = "".join(
        f"<tr><td>{plain_text(word)}</td><td>{plain_text(display(name)[0]) or '–'}</td></tr>"
        for name, word in sorted(used.items(), key=lambda pair: pair[1].casefold())
    )
    return _document(
        f"evening {evening}, words",
        f"<h1>Words of evening {evening}</h1><table><tr><th>word</th><th>read in</th></tr>{rows}</table>",
    )


def caution_card() -> str:
    """The cautions that hang at every bench.

    Returns HTML.
    """
    by_id = {row["id"]: row for row in data("cautions")}
    items = "".join(
        f"<li>{plain_text(by_id[i]['sentence'])} <i>Defer to: {plain_text(by_id[i]['defer_to'])}.</i></li>"
        for i in ALWAYS
    )
    return _document(
        "cautions",
        '<h1>At every bench</h1><p class="stop">One switch per bench, within reach, and one adult who switches it on. '
        "Burnt? Cool running water at once, twenty minutes, and help.</p>"
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
        "cautions": caution_card(),
    }
    if evening == 1:
        papers["evening_1_bench_sheet"] = bench_sheet()
    for name, text in papers.items():
        page = folder / f"{name}.html"
        page.write_text(text, encoding="utf-8")
        try:
            yield f"{to_pdf(page, page.with_suffix('.pdf'))}"
        except Fault as told:
            yield f"{page} ({told})"
