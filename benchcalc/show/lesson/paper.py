"""Paper for a class: handouts with each learner's own numbers, the teacher's answers, a bench sheet, words, cautions.

Written as HTML, black on white, that any browser prints and that fetches nothing; PDF too where Chromium is.
"""

from pathlib import Path

from ...basics.escape import plain_text
from ...basics.fault import Fault, fault
from ...basics.names import NAMES, display, say
from ...basics.tables import one
from ...basics.tables import rows as data
from ...studies.lesson.bank import EVENINGS, guesses_of, of_evening
from ...studies.lesson.exercise import Exercise
from ...studies.lesson.first_evening_readings import first_evening
from ...studies.lesson.personal import tidy_name
from ...studies.lesson.prediction_bank import prediction_named
from ..card.paper import to_pdf

MOST_NAMES = 200
STYLE = """@page { size: A4; margin: 14mm 15mm }
body { font: 10.5pt/1.4 "DejaVu Sans", Verdana, Arial, sans-serif; color: #000; background: #fff; margin: 0 }
h1 { font-size: 15pt; margin: 0 0 2mm } h2 { font-size: 11.5pt; margin: 4mm 0 1mm; break-after: avoid }
p { margin: 1mm 0 }
section { break-after: page } section:last-child { break-after: auto } .ask { break-inside: avoid; margin: 0 0 5mm }
.space { display: inline-block; border-bottom: .8pt solid #000; min-width: 55mm; height: 6mm }
.work { border: .5pt solid #777; height: 24mm; margin: 1mm 0 0 }
table { border-collapse: collapse; width: calc(100% - 2pt); font-size: 9pt } tr { break-inside: avoid }
td, th { border: .5pt solid #555; padding: 1mm 1.5mm; text-align: left; vertical-align: top }
td.blank { min-width: 30mm } td.edge { border-left: 1.5pt dashed #000 }
pre { font: 8.5pt/1.5 "DejaVu Sans Mono", monospace; margin: 1mm 0 }
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
        sections.append(f"<h1>Evening {evening}: {plain_text(name)}</h1>{_guesses(evening)}")
        sections.append(f"<h1>Numbers of your own, {plain_text(name)}</h1>{asked}")
    return _document(f"evening {evening}, handouts", *sections)


def teacher_answers(evening: int, names: list[str], word: str = "") -> str:
    """The teacher's table: every learner's answers, and the slips to look out for.

    evening, names, word: as `handouts`.
    Returns HTML.
    """
    asked = of_evening(evening)
    lanes = [" (why lane)" if e.lane == "why" else "" for e in asked]
    head = "".join(
        f"<th>{i}. {plain_text(e.title)}{lane}</th>" for i, (e, lane) in enumerate(zip(asked, lanes, strict=True), 1)
    )
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
        f"<h1>The guesses</h1><ul>{_revealed(evening)}</ul><h1>Slips to look out for</h1>{slips}",
    )


def _revealed(evening: int):
    """The predictions with what is right, and why."""
    told = ""
    for asked in map(prediction_named, guesses_of(evening)):
        found = asked.revealed()
        right = asked.choices[found.right]
        told += f"<li>{plain_text(asked.ask)} <b>{plain_text(right)}.</b> {plain_text(found.words)}</li>"
    return told


CIRCUITS = """A   4 V outlet o----( A )----[ wire between two bare steel clips ]----o      V across the clips

B  19 V outlet o--( lamp, wired in for good )--( A )--[ wire ]--o             V across the clips"""


def bench_sheet() -> str:
    """The first evening's bench sheet: circuits, blanks, and the accept bands on an edge to fold back.

    Returns HTML.
    """
    rows = "".join(
        f'<tr><td>{plain_text(a.row)}</td><td>{plain_text(a.what)}</td><td class="blank"></td>'
        f'<td class="edge">{say(a.key, a.expected.low)} to {say(a.key, a.expected.high)}</td></tr>'
        for a in first_evening()
    )
    return _document(
        "bench sheet",
        "<h1>Bench sheet, evening one</h1>"
        '<p class="stop">Off, count to sixty, then clip. Wire that does not glow still burns, and so do lamp and tube. '
        "The lamp's outlet never without the lamp.</p>"
        f"<pre>{CIRCUITS}</pre>"
        '<p class="small">Fold the right edge back before you read; open it when all rows are filled in.</p>'
        f"<table><tr><th>row</th><th>what to read</th><th>your reading</th><th>fold: it should lie "
        f"in</th></tr>{rows}</table><p>Watts of each setting: volts times amps. &nbsp; A: ________ ________ ________ "
        "&nbsp; B: ________ ________ ________</p><h2>Outside?</h2><ul><li>Volts first: does the outlet hold them? "
        "Say what it reads.</li><li>Clips: squeeze and turn them, read again.</li><li>Length: from clip to clip, "
        "with the tape on the wire.</li><li>Meter: amps socket, and AC or DC as the outlet says.</li><li>Volts "
        "right, amps still out, and the neighbours too? Then the wire is not what its "
        'reel says: measure its ohms for each metre.</li></ul><p>bench: <span class="space"></span> date: '
        '<span class="space"></span></p>',
    )


def log_sheet() -> str:
    """A sheet for a warm-up logged by hand: the bet first, then times and readings.

    Returns HTML.
    """
    blank = "<tr>" + '<td class="blank">&nbsp;</td>' * 4 + "</tr>"
    return _document(
        "log sheet",
        "<h1>A warm-up by hand</h1>"
        '<p>room: <span class="space"></span> switched on at: <span class="space"></span></p>'
        '<p>volts at the tool: <span class="space"></span> where the bead sits: <span class="space"></span></p>'
        '<p>at minute three I say: it ends at <span class="space"></span> within 5 K of it at minute '
        '<span class="space"></span></p>'
        f"<table><tr><th>minute</th><th>reading</th><th>minute</th><th>reading</th></tr>{blank * 22}</table>",
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
    return _document(
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
    if evening == 5:
        papers["evening_5_log_sheet"] = log_sheet()
    for name, text in papers.items():
        page = folder / f"{name}.html"
        page.write_text(text, encoding="utf-8")
        try:
            yield f"{to_pdf(page, page.with_suffix('.pdf'))}"
        except Fault as told:
            yield f"{page} ({told})"
