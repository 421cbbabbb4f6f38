"""Tables of the class: the demonstration, what the benches read, scores."""

from math import ceil

from ...basics.names import say
from ...basics.tables import one
from ...basics.tables import rows as data
from ...studies.lesson.bank import EVENINGS, exercises, guess_noted_as, guesses_of, keys_of
from ...studies.lesson.class_data import BenchReading, Spread, verdict_of
from ...studies.lesson.first_evening_readings import first_evening
from ...studies.lesson.four_ways import ON_THE_TABLE, WAYS, Demonstration, four_ways
from ...studies.lesson.question_numbers import question_line
from ...studies.lesson.scores import class_scores
from ..page.table import Table, table
from ..page.words import Words, caution_box
from .line_drawings import CIRCUITS


def _band(key, band):
    return f"{say(key, band.nominal)} ({say(key, band.low)} to {say(key, band.high)})"


def _span(band):
    return f"{band.nominal:.0f} ({band.low:.0f} to {band.high:.0f})"


def demonstration(set_up: Demonstration = ON_THE_TABLE) -> Table:
    """One wire, in each way that is run: what meters and wire should show.

    set_up: Demonstration.
    """
    in_tube = [row for row in four_ways(set_up) if row.way == WAYS[2]]
    rows = [
        (
            row.way,
            say("length_m", row.length_m),
            say("load_v", row.load_v),
            say("load_a", row.load_a),
            say("load_w", row.load_w),
            say("wire_w_m", row.wire_w_m),
            _span(row.wire_c),
            _span(row.tube_c) if row.tube_c else "–",
        )
        for row in four_ways(set_up)
        if row not in in_tube[1:]  # only the shortest piece goes through the tube
    ]
    return table(
        ("way", "length", "volts", "amps", "watts", "each metre", "wire in 0.1 m/s, degC", "tube outside, degC"), rows
    )


def circuits() -> Words:
    """Where the meters sit in A and B of the first evening."""
    return Words(f"```\n{CIRCUITS}```")


def to_read(asked: list[BenchReading] | None = None) -> Table:
    """What each bench reads, without what it should be.

    asked: list of BenchReading, None for the first evening.
    """
    rows = [(a.row, a.what, "") for a in asked or first_evening()]
    return table(("row", "what", "your reading"), rows)


def accepted(asked: list[BenchReading] | None = None) -> Table:
    """The teacher's: the band in which each reading should lie.  asked: as `to_read`."""
    return table(
        ("row", "what", "expected"), [(a.row, a.what, _band(a.key, a.expected)) for a in asked or first_evening()]
    )


def spread_table(spreads: list[Spread], told: list[str], unfolded: bool = True, bench: str = "") -> Table:
    """Readings of all benches, and beside them what was expected, once that is unfolded.

    spreads, told: of class_readings. unfolded: whether the bands and what lies outside them are told.
    bench: whose own place is told too, as its file says it, or "".
    """
    rows = []
    for s in spreads:
        middle = say(s.asked.key, s.middle) if s.values.size else "–"
        row = (s.asked.row, str(s.values.size), middle)
        if unfolded:
            mine = (s.place_of(bench),) if bench else ()
            row += (_band(s.asked.key, s.asked.expected), *mine, ", ".join(s.outside) or "nobody", verdict_of(s))
        rows.append(row)
    head = (
        "row",
        "benches",
        "their middle",
        *(("expected", *(("this bench",) if bench else ()), "who is outside", "so") if unfolded else ()),
    )
    rows += [("could not be read", *[""] * (len(head) - 2), complaint) for complaint in told]
    return table(head, rows, "" if unfolded else "What was expected is folded until this bench has all its rows in.")


def score_table() -> Table:
    """The teacher's sheet: learner by learner and evening by evening, from the folder of the class."""
    found, told = class_scores()
    rows = []
    for name, scores in found.items():
        for evening in range(1, len(EVENINGS) + 1):
            asked = [s for s in scores if s.key in keys_of(evening)]
            noted = {guess_noted_as(key, evening) for key in guesses_of(evening)}
            guessed = [s for s in scores if s.key in noted]
            if not asked and not guessed:
                continue
            right = sum(s.state == "right" for s in asked)
            stuck = [exercises()[s.key].title for s in asked if s.state == "shown"]
            rows.append(
                (
                    name,
                    str(evening),
                    f"{right} of {len(keys_of(evening))}",
                    f"{sum(s.tries for s in asked) / len(asked):.1f}" if asked else "–",
                    str(sum(s.hints for s in asked)),
                    _guessed(guessed, evening),
                    "; ".join(stuck) or "–",
                )
            )
    rows += [("could not be read", "", "", "", "", "", complaint) for complaint in told]
    head = ("learner", "evening", "exercises right", "tries each", "hints", "guesses right", "worked answer opened")
    return table(head, rows or [("nobody yet", *["–"] * (len(head) - 1))])


def _guessed(scores, evening):
    shut = sum(s.state == "locked" for s in scores)
    told = f"{sum(s.state == 'locked right' for s in scores)} of {len(guesses_of(evening))}" if scores else "–"
    return told + (f", {shut} locked and shut" if shut else "")


def exercise_table() -> Table:
    """The teacher's other sheet: exercise by exercise, the one at which most opened the worked answer first."""
    found, _ = class_scores()
    by_key = {}
    for scores in found.values():
        for s in scores:
            by_key.setdefault(s.key, []).append(s)
    rows = []
    for evening in range(1, len(EVENINGS) + 1):
        for number, key in enumerate(keys_of(evening), 1):
            done = by_key.get(key)
            if not done:
                continue
            counts = [sum(s.state == state for s in done) for state in ("right", "shown")]
            tries = sum(s.tries for s in done) / len(done)
            named = f"{number}. {exercises()[key].title}"
            rows.append((evening, named, len(done), *counts, f"{tries:.1f}", sum(s.hints for s in done)))
    rows.sort(key=lambda row: -row[4])
    head = ("evening", "exercise", "begun by", "right", "worked answer opened", "tries each", "hints")
    return table(head, rows or [("–", "nobody yet", *["–"] * (len(head) - 2))])


def minutes_of(evening: int, *, spoken: bool = False) -> Table:
    """What an evening is made of, with the risk of each part.

    evening: 1 to 6. spoken: with what the teacher may say there, and what to do when a part fails.
    """
    columns = ("what", "say", "risk", "if_it_fails") if spoken else ("what", "risk")
    at, rows = 0, []
    for r in data("class_minutes"):
        if r["evening"] != str(evening):
            continue
        said = {k: f"“{v}”" if k == "say" else v for k, v in r.items() if k in columns}
        rows.append((f"{at // 60}:{at % 60:02d}", f"{float(r['minutes']):.0f} min", *(said[k] for k in columns)))
        at += int(float(r["minutes"]))
    heads = {"what": "what", "say": "what you may say", "risk": "risk", "if_it_fails": "if it fails"}
    return table(("at", "for", *(heads[k] for k in columns)), rows)


def kit_of(benches: int = 5, evening: int | None = None) -> Table:
    """What to lay out, spares and rough cost counted.

    benches: of two or three people, 1 to 15. evening: 1 to 6, None for all.
    """
    mine = [r for r in data("class_kit") if evening is None or str(evening) in r["evenings"]]
    rows, total = [], 0.0
    for r in mine:
        each, own, spare = (float(r[k]) for k in ("each", "teacher", "spare"))
        sharing = min(benches, int(float(r["at_most"]))) if r["at_most"] else benches
        count = ceil(round(each * sharing + own, 6)) + ceil(spare * benches / 10)
        cost = count * float(r["cost_eur"])
        total += cost
        rows.append((r["item"], str(count), f"{cost:.0f}", r["note"] or "–"))
    rows.append(
        ("together, roughly", "", f"{total:.0f}", "prices are our own guess; much of it is in a workshop already")
    )
    return table(("item", f"pieces for {benches} benches", "euro", "note"), rows)


def by_mounting() -> Table:
    """Advised watts for each square centimetre of wire, by how it is mounted."""
    rows = [
        (
            r["mounting"],
            f"{r['low_w_m2'] / 1e4:g} to {r['high_w_m2'] / 1e4:g}",
            f"{r['words']}{'; ' + r['note'] if r['note'] else ''}",
            f"{r['source_id'].replace(';', ', ')} ({r['basis']})",
        )
        for r in data("surface_load")
    ]
    return table(("mounting", "W/cm2", "what that is", "source"), rows)


def bench_cautions(*ids: str) -> Words:
    """Cautions by their ids, in this order.

    ids: of data/cautions.csv.  Raises Fault for an unknown one.
    """
    return caution_box([one("cautions", "id", i) for i in ids])


def questions() -> Table:
    """The thirty questions, each with its answer, its numbers and the place where it is answered in full."""
    rows = []
    for r in data("learner_questions"):
        more = f" {question_line(r['numbers'])}" if r["numbers"] else ""
        rows.append((r["number"], r["question"], r["answer"] + more, f"{r['page']}: {r['heading']}"))
    return table(("", "question", "answer", "in full on"), rows)


def question_links() -> Words:
    """Links to where each question is answered in full."""
    lines = []
    for r in data("learner_questions"):
        target = r["page"].removeprefix("class/") if r["page"].startswith("class/") else f"../{r['page']}"
        anchor = r["heading"].replace(" ", "-")
        lines.append(f"{r['number']}. [{r['question']}]({target}.ipynb#{anchor}) *{r['page'][-30:]}: {r['heading']}*")
    return Words("\n".join(lines))
