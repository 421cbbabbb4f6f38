"""What the class stands on: questions that lead somewhere, evenings of two hours, papers that tell nothing early."""

import json
import re

import pytest
from canonical import ROOT

from benchcalc.basics.escape import plain_text
from benchcalc.basics.fault import Fault
from benchcalc.basics.names import NAMES, say
from benchcalc.basics.tables import rows
from benchcalc.pages import way
from benchcalc.show.lesson.__main__ import print_class
from benchcalc.show.lesson.class_tables import kit_of, question_links, questions
from benchcalc.show.lesson.paper import caution_card, class_names, handouts, hint_sheet, word_list
from benchcalc.show.lesson.paper_answers import teacher_answers
from benchcalc.show.lesson.paper_bench import bench_sheet, log_sheet
from benchcalc.studies.lesson.bank import EVENINGS, exercises, guesses_of, keys_of, of_evening
from benchcalc.studies.lesson.first_evening_readings import first_evening
from benchcalc.studies.lesson.prediction_bank import every_prediction, prediction_named

PAGES = ROOT / "notebooks"
QUESTIONS = rows("learner_questions")


def headings(page):
    cells = json.loads((PAGES / f"{page}.ipynb").read_text(encoding="utf-8"))["cells"]
    text = "\n".join("".join(c["source"]) for c in cells if c["cell_type"] == "markdown")
    return [line.lstrip("#").strip() for line in text.splitlines() if line.startswith("#")]


@pytest.mark.parametrize("row", QUESTIONS, ids=lambda r: str(r["number"]))
def test_each_question_leads_to_a_heading_that_is_there(row):
    assert row["heading"] in headings(row["page"])


def test_there_are_thirty_and_each_has_an_answer():
    assert len(QUESTIONS) == 30 and all(len(r["answer"]) > 60 for r in QUESTIONS)
    assert len(questions().rows) == 30 and question_links().text.count("](") == 30


def test_each_evening_lasts_two_hours():
    for evening in range(1, len(EVENINGS) + 1):
        assert sum(float(r["minutes"]) for r in rows("class_minutes") if float(r["evening"]) == evening) == 120


def test_the_kit_grows_with_the_benches():
    assert len(kit_of(10).rows) == len(kit_of(5).rows)
    assert float(kit_of(10).rows[-1][2]) > 1.8 * float(kit_of(5).rows[-1][2]) * 0.9
    assert len(kit_of(5, evening=3).rows) < len(kit_of(5).rows)


def test_no_learner_s_page_leads_to_the_teacher_s():
    """The plan holds what is expected, the answers and all the words; it leads on, nothing leads back."""
    pages = sorted((PAGES / "class").glob("0*.ipynb"))
    for page in pages[1:]:
        assert pages[0].stem not in page.read_text(encoding="utf-8") + way(page.name[:2], page.parent).text, page.name
    told = way("03", pages[0].parent).text
    assert pages[1].name in told and pages[2].name in told and pages[4].name in told
    assert pages[1].name in way("00", pages[0].parent).text


def test_every_exercise_and_prediction_is_asked_on_a_page():
    text = "\n".join(p.read_text(encoding="utf-8") for p in PAGES.rglob("*.ipynb"))
    evenings = range(1, len(EVENINGS) + 1)
    asked = {key for n in evenings if f"keys_of({n})" in text for key in keys_of(n)}
    asked |= {key for n in evenings if f"guesses_of({n})" in text for key in guesses_of(n)}
    missing = [k for k in (*exercises(), *every_prediction()) if k not in asked and f'\\"{k}\\"' not in text]
    assert not missing


def test_what_an_evening_guesses_needs_no_sheet():
    for n in range(1, len(EVENINGS) + 1):
        assert guesses_of(n) and all(prediction_named(key).revealed().words for key in guesses_of(n))


def test_no_page_holds_the_answer_of_an_exercise():
    """What stands stored on the evenings' pages are the example's questions."""
    for number in range(1, len(EVENINGS) + 1):
        text = next((PAGES / "class").glob(f"0{number}_*.ipynb")).read_text(encoding="utf-8")
        for e in of_evening(number):
            numbers = e.numbers_for("example")
            right = e.answer(numbers)[0]
            assert e.question(numbers)[:40] in text, e.key
            assert f"answer: {say(e.result, right)}" not in text and f"{right:.5g}\\n" not in text, e.key


# ---- paper


@pytest.mark.parametrize("evening", range(1, len(EVENINGS) + 1))
def test_handouts_hold_each_question_and_answers_hold_each_answer(evening):
    names = ["Ada", "Ben"]
    asked, told = handouts(evening, names, "autumn"), teacher_answers(evening, names, "autumn")
    for e in of_evening(evening):
        for name in names:
            numbers = e.numbers_for(name, "autumn")
            right = e.answer(numbers)[0]
            assert e.told(right) in told
            wide = e.tolerance(right)  # a marker needs no computer
            assert f"{plain_text(e.told(right - wide))} to {plain_text(e.told(right + wide))}" in told
            assert all(e.told(wrong) in told for _, wrong in e.slipped(numbers))
        assert all(plain_text(hint) in told and plain_text(hint) in hint_sheet(evening) for hint in e.hints)
        assert asked.count(plain_text(e.title)) >= 2
    for key in guesses_of(evening):
        found = prediction_named(key)
        assert plain_text(found.ask) in asked and plain_text(found.choices[found.revealed().right]) in told
        assert plain_text(found.revealed().words) not in asked


@pytest.mark.parametrize("evening", range(1, len(EVENINGS) + 1))
def test_each_word_that_an_evening_computes_with_is_explained_on_its_paper(evening):
    meanings = {r["key"]: r["meaning"] for r in rows("class_words") if r["key"]}
    text = word_list(evening)
    for e in of_evening(evening):
        _, runs = e.answer(e.numbers_for("word list"))
        for name in {*(n for _, given in runs for n in given), e.result}:
            assert plain_text(NAMES[name].word) in text and plain_text(meanings[name]) in text
    assert "nine times in ten" in text  # what a band is stands on each of them


def test_words_of_the_class_are_words_of_the_glossary_and_each_is_on_some_evening():
    papers = "".join(word_list(n) for n in range(1, len(EVENINGS) + 1))
    for r in rows("class_words"):
        assert r["key"] in NAMES if r["key"] else r["evenings"]
        assert plain_text(r["meaning"]) in papers, r


def test_the_log_sheet_asks_for_the_bet_first():
    assert log_sheet().index("minute three") < log_sheet().index("<table>")


def test_paper_fetches_nothing_runs_nothing_and_is_grey():
    for text in (
        handouts(1, ["<script>x</script>"]),
        teacher_answers(1, ["a"]),
        *map(bench_sheet, range(1, len(EVENINGS) + 1)),
        caution_card(),
        word_list(2),
    ):
        assert not re.search(r"<script|src=|url\(|href=", text)
        assert set(re.findall(r"#[0-9a-f]{3,6}\b", text)) <= {"#000", "#fff", "#777", "#555"}


def test_the_bench_sheet_holds_each_row_with_its_band():
    text = bench_sheet()
    for a in first_evening():
        assert plain_text(a.what) in text and say(a.key, a.expected.low).replace(" ", "&nbsp;") in text


def test_the_second_evening_s_sheet_asks_for_line_soak_and_room():
    """What page and plan ask of a bench that evening can be written down on paper alone."""
    text = bench_sheet(2).lower()
    for word in ("between the two pins", "nothing connected", "two lamps", "ohms cold", "234.5", "room", "<svg", "off"):
        assert word in text, word


def test_anybody_may_switch_off_on_every_paper_of_a_live_bench():
    for text in (caution_card(), *(bench_sheet(n) for n in (1, 2, 4, 6))):
        assert "anybody" in text.lower() and " off" in text


def test_the_caution_card_names_tap_switch_and_goggles():
    text = caution_card()
    assert "cool running water" in text.lower() and "one switch" in text.lower() and "eye protection" in text.lower()


def test_names_once_each():
    assert class_names("Ada\n\n Ben \n") == ["Ada", "Ben"]
    for text in ("", "Ada\nada ", "\n".join(map(str, range(300)))):
        with pytest.raises(Fault):
            class_names(text)


def test_the_command_says_what_is_wrong(tmp_path, capsys):
    assert print_class(["--evening", "1", "--names", str(tmp_path / "none.txt"), "--to", str(tmp_path)]) == 1
    (tmp_path / "names.txt").write_text("Ada\n")
    assert print_class(["--evening", "9", "--names", str(tmp_path / "names.txt"), "--to", str(tmp_path)]) == 1
    assert "1 to 6" in capsys.readouterr().err
