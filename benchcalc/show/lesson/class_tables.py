"""Tables of the class: the demonstration, what the benches read, scores."""

from ...basics.names import say
from ...basics.tables import one
from ...basics.tables import rows as data
from ...studies.lesson.bank import exercises
from ...studies.lesson.class_data import BenchReading, Spread, class_readings, verdict_of
from ...studies.lesson.first_evening_readings import first_evening
from ...studies.lesson.four_ways import ON_THE_TABLE, Demonstration, four_ways, without_the_lamp
from ...studies.lesson.prediction_bank import every_prediction
from ...studies.lesson.question_numbers import question_line
from ...studies.lesson.scores import LessonScore, class_scores
from ..page.table import Table, table
from ..page.words import Words, caution_box


def _band(key, band):
    return f"{say(key, band.nominal)} ({say(key, band.low)} to {say(key, band.high)})"


def demonstration(set_up: Demonstration = ON_THE_TABLE) -> Table:
    """One wire, four ways: what meters and wire should show.

    set_up: Demonstration.
    """
    rows = [
        (
            row.way,
            say("length_m", row.length_m),
            say("load_v", row.load_v),
            say("load_a", row.load_a),
            say("load_w", row.load_w),
            say("wire_w_m", row.wire_w_m),
            _band("wire_c", row.wire_c),
            _band("tube_c", row.tube_c) if row.tube_c else "–",
        )
        for row in four_ways(set_up)
    ]
    return table(
        ("way", "length", "volts", "amps", "watts", "each metre", "wire, air 0.1 m/s (range)", "tube, outside"), rows
    )


def lamp_forgotten(set_up: Demonstration = ON_THE_TABLE) -> Words:
    """What happens if the lamp's outlet meets the wire without its lamp, or its clips touch.  set_up: Demonstration."""
    amps, watts, opens_s = without_the_lamp(set_up)
    outlet, fuse = say("load_v", set_up.lamp_supply_v, figures=2), say("fuse_a", set_up.fuse_a, figures=2)
    return Words(
        f"> **Never the {outlet} outlet without its lamp.** The shortest piece would take {say('load_a', amps)}, "
        f"{say('load_w', watts)}, and pass any heat it can stand within seconds. A quick-acting fuse of {fuse} in that "
        f"outlet has opened after {opens_s:.1f} s at the latest; a slow one of the next rating may take minutes: none "
        "goes in. The lamp is wired into that outlet for good, its plug fits no other, and a dead lamp ends B. "
        f"Clips that touch leave all {say('load_v', set_up.lamp_supply_v, figures=2)} to a lamp made for "
        f"{say('load_v', set_up.lamp_v, figures=2)}, and the fuse may not mind: it dazzles, gets far hotter, may "
        "burst. Off at once, then part them."
    )


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


def class_table(asked: list[BenchReading] | None = None) -> Table:
    """Every bench's readings beside the band, from the folder of the class.

    asked: list of BenchReading, None for the first evening.
    """
    return spread_table(*class_readings(asked or first_evening()))


def spread_table(spreads: list[Spread], told: list[str]) -> Table:
    """Readings beside their bands, where they are gathered already.

    spreads, told: of class_readings.
    """
    rows = [
        (
            s.asked.row,
            _band(s.asked.key, s.asked.expected) if s.values.size else "after the first reading",
            str(s.values.size),
            say(s.asked.key, s.middle) if s.values.size else "–",
            ", ".join(s.outside) or "–",
            verdict_of(s),
        )
        for s in spreads
    ]
    rows += [("could not be read", "", "", "", "", complaint) for complaint in told]
    return table(("row", "expected", "benches", "their middle", "outside", "so"), rows)


def score_table() -> Table:
    """The teacher's sheet: learner by learner, from the folder of the class."""
    found, told = class_scores()
    rows = []
    for name, scores in found.items():
        asked = [s for s in scores if s.key in exercises()]
        guessed = [s for s in scores if s.key in every_prediction()]
        stuck = [exercises()[s.key].title for s in asked if s.state == "shown"]
        rows.append(
            (
                name,
                _of(asked, "right"),
                f"{sum(s.tries for s in asked) / len(asked):.1f}" if asked else "–",
                str(sum(s.hints for s in asked)),
                _of(guessed, "locked right"),
                "; ".join(stuck) or "–",
            )
        )
    rows += [("could not be read", "", "", "", "", complaint) for complaint in told]
    head = ("learner", "exercises right", "tries each", "hints", "predictions right", "worked answer opened")
    return table(head, rows or [("nobody yet", "–", "–", "–", "–", "–")])


def _of(scores: list[LessonScore], state: str) -> str:
    return f"{sum(s.state == state for s in scores)} of {len(scores)}" if scores else "–"


def minutes_of(evening: int) -> Table:
    """What an evening is made of, with the risk of each part and what to do when it fails.

    evening: 1 to 6.
    """
    mine = [r for r in data("class_minutes") if r["evening"] == str(evening)]
    at, rows = 0, []
    for r in mine:
        rows.append(
            (f"{at // 60}:{at % 60:02d}", f"{float(r['minutes']):.0f} min", r["what"], r["risk"], r["if_it_fails"])
        )
        at += int(float(r["minutes"]))
    return table(("at", "for", "what", "risk", "if it fails"), rows)


def kit_of(benches: int = 5, evening: int | None = None) -> Table:
    """What to lay out, spares and rough cost counted.

    benches: of two or three people, 1 to 15. evening: 1 to 6, None for all.
    """
    mine = [r for r in data("class_kit") if evening is None or str(evening) in r["evenings"]]
    rows, total = [], 0.0
    for r in mine:
        each, spare = int(r["each"]), int(r["spare"])
        count = each * benches + (-(-spare * benches // 10) if each else spare)
        cost = count * float(r["cost_eur"])
        total += cost
        rows.append((r["item"], str(count), f"{cost:.0f}", r["note"] or "–"))
    rows.append(
        ("together, roughly", "", f"{total:.0f}", "prices are our own guess; much of it is in a workshop already")
    )
    return table(("item", f"pieces for {benches} benches", "euro", "note"), rows)


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
        lines.append(f"{r['number']}. [{r['question']}]({target}.ipynb#{anchor})")
    return Words("\n".join(lines))
