"""Tables of the class: the demonstration, what the benches read, scores."""

from ...basics.escape import plain_text
from ...basics.names import say
from ...studies.lesson.bank import exercises
from ...studies.lesson.class_data import Asked, class_readings, verdict_of
from ...studies.lesson.first_evening_readings import first_evening
from ...studies.lesson.four_ways import ON_THE_TABLE, Demonstration, four_ways
from ...studies.lesson.prediction_bank import every_prediction
from ...studies.lesson.scores import LessonScore, class_scores
from ..page.table import Table, table


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
        )
        for row in four_ways(set_up)
    ]
    return table(("way", "length", "volts", "amps", "watts", "each metre", "wire (range)"), rows)


def to_read(asked: list[Asked] | None = None) -> Table:
    """What each bench reads, with the band in which it should lie.

    asked: list of Asked, None for the first evening.
    """
    rows = [(a.row, a.what, _band(a.key, a.expected), "") for a in asked or first_evening()]
    return table(("row", "what", "expected", "your reading"), rows)


def class_table(asked: list[Asked] | None = None) -> Table:
    """Every bench's readings beside the band, from the folder of the class.

    asked: list of Asked, None for the first evening.
    """
    spreads, told = class_readings(asked or first_evening())
    rows = [
        (
            s.asked.row,
            _band(s.asked.key, s.asked.expected),
            str(s.values.size),
            say(s.asked.key, s.middle) if s.values.size else "–",
            ", ".join(map(plain_text, s.outside)) or "–",
            verdict_of(s),
        )
        for s in spreads
    ]
    rows += [("could not be read", "", "", "", "", plain_text(complaint)) for complaint in told]
    return table(("row", "expected", "benches", "their middle", "outside", "so"), rows)


def score_table() -> Table:
    """The teacher's sheet: learner by learner, from the folder of the class."""
    rows = []
    for name, scores in class_scores().items():
        asked = [s for s in scores if s.key in exercises()]
        guessed = [s for s in scores if s.key in every_prediction()]
        stuck = [exercises()[s.key].title for s in asked if s.state == "shown"]
        rows.append(
            (
                plain_text(name),
                _of(asked, "right"),
                f"{sum(s.tries for s in asked) / len(asked):.1f}" if asked else "–",
                str(sum(s.hints for s in asked)),
                _of(guessed, "locked right"),
                "; ".join(stuck) or "–",
            )
        )
    head = ("learner", "exercises right", "tries each", "hints", "predictions right", "worked answer opened")
    return table(head, rows or [("nobody yet", "–", "–", "–", "–", "–")])


def _of(scores: list[LessonScore], state: str) -> str:
    return f"{sum(s.state == state for s in scores)} of {len(scores)}" if scores else "–"
