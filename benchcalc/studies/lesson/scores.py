"""Scores: what a learner's answers came to, kept as one small CSV file a learner, gathered into one table."""

import csv
import io
from dataclasses import asdict, dataclass, fields
from pathlib import Path

from ...basics.fault import fault
from ...sheet.store import look
from .class_folder import class_file, put_class_file, read_class

FOLDER = "scores"
LARGEST_FILE = 1_000_000  # characters; a learner's evening takes some hundreds
STATES = ("begun", "right", "shown", "locked", "locked right", "locked wrong")
OPENED = STATES[4:]  # guesses that were told: these stand


@dataclass(frozen=True)
class LessonScore:
    """One question begun or done.  key: its own. state: of STATES. tries, hints: counts. word: the teacher's."""

    key: str
    state: str
    tries: int
    hints: int
    word: str


def score_file(name: str, folder: str | Path | None = None) -> Path:
    """Where a learner's scores are kept.

    name: the learner's. folder: None for scores/ in the folder of the class.
    """
    return class_file(FOLDER, name, folder)


def scores_of(path: str | Path) -> list[LessonScore]:
    """Scores in a file; the last word on each question counts.

    path: file name.
    Raises Fault: it cannot be read as scores.
    """
    seen = look(path)
    if len(seen.text) > LARGEST_FILE:
        raise fault(str(path), "", "is far too long for a file of scores.")
    latest = {}
    for number, row in enumerate(csv.DictReader(io.StringIO(seen.text)), 2):
        try:
            score = LessonScore(row["key"], row["state"], int(row["tries"]), int(row["hints"]), row["word"] or "")
        except (KeyError, TypeError, ValueError):
            raise fault(
                str(path), "", "does not read as scores.", "A line was changed by hand, perhaps.", line=number
            ) from None
        latest[score.key, score.word] = score
    return list(latest.values())


def keep_score(name: str, score: LessonScore, folder: str | Path | None = None) -> Path:
    """Keep a score beside the earlier ones.

    name: the learner's. score: LessonScore. folder: as `score_file`.
    Returns the file's path.  Raises Fault: it cannot be written.
    """
    path = score_file(name, folder)
    kept = {(s.key, s.word): s for s in scores_of(path)}
    before = kept[score.key, score.word].state if (score.key, score.word) in kept else "begun"
    if before not in OPENED and (score.state != "begun" or before == "begun"):
        kept[score.key, score.word] = score  # what was done once is not undone by beginning again
    return put_class_file(path, score_text(kept.values()))


def score_text(scores) -> str:
    """Scores as CSV.  scores: of LessonScore."""
    out = io.StringIO()
    writer = csv.DictWriter(out, [f.name for f in fields(LessonScore)], lineterminator="\n")
    writer.writeheader()
    writer.writerows(asdict(s) for s in scores)
    return out.getvalue()


def class_scores(folder: str | Path | None = None) -> tuple[dict[str, list[LessonScore]], list[str]]:
    """Everybody's scores by file name, without its ending.

    folder: as `score_file`.
    Returns (scores, complaints): a file that cannot be read as scores is complained of; the others count.
    """
    return read_class(FOLDER, scores_of, folder)
