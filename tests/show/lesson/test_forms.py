"""Forms of the class: what is typed is marked, nothing is readable beforehand, a locked choice stays locked."""

import pytest

from benchcalc.basics.names import display, say
from benchcalc.pages import exercises_form, learner_form, predict_form
from benchcalc.show.lesson.class_tables import class_table, score_table
from benchcalc.show.page.table import as_html
from benchcalc.studies.lesson import scores
from benchcalc.studies.lesson.bank import exercise_named, exercises
from benchcalc.studies.lesson.class_data import keep_readings
from benchcalc.studies.lesson.prediction_bank import every_prediction


@pytest.fixture
def own_folder(tmp_path, monkeypatch):
    monkeypatch.setenv("BENCHCALC_MY", str(tmp_path))
    return tmp_path


@pytest.fixture
def asked(own_folder):
    learner = learner_form()
    form = exercises_form(learner, "wire-at-volts")
    learner.name_box.value = "Ada L."
    return form.asked["wire-at-volts"]


def right_text(asked):
    unit, size = display(asked.exercise.result)
    return f"{asked.exercise.answer(asked.numbers)[0] / size:.4g} {unit}"


def test_a_right_answer_opens_the_work_and_is_kept(asked, own_folder):
    asked.type(right_text(asked))
    assert "Right" in asked.told.value and "worked answer" in asked.work.value and asked.field.disabled
    (kept,) = scores.scores_of(scores.score_file("ada l."))
    assert (kept.key, kept.state, kept.tries) == ("wire-at-volts", "right", 1)


def test_the_work_opens_after_three_tries_and_not_before(asked):
    for text in ("1 W", "2 W"):
        asked.type(text)
    assert asked.show_work.disabled and not asked.work.value
    asked.type("3 W")
    assert not asked.show_work.disabled and not asked.work.value
    asked.show_work.click()
    assert asked.work.value and asked.done == "shown"


def test_what_cannot_be_read_costs_no_try(asked):
    asked.type("ten")
    asked.type("12")
    assert asked.tries == 0 and "unit" in asked.told.value


def test_hints_come_one_by_one(asked):
    asked.hint.click()
    assert "Hint 1" in asked.told.value and "Hint 2" not in asked.told.value


def test_another_name_begins_anew(own_folder):
    learner = learner_form()
    form = exercises_form(learner, "wire-at-volts")
    asked = form.asked["wire-at-volts"]
    before = asked.ask.value
    asked.type("1 W")
    learner.name_box.value = "somebody else"
    assert asked.ask.value != before and asked.tries == 0 and asked.field.value == ""


def test_a_name_with_markup_is_letters(own_folder):
    learner = learner_form()
    learner.name_box.value = "<img src=x onerror=alert(1)>"
    assert "<img" not in learner.told.value


def test_without_a_name_nothing_is_kept(own_folder):
    form = exercises_form(learner_form(), "wire-at-volts")
    form.asked["wire-at-volts"].type("1 W")
    assert not list(own_folder.rglob("*.csv"))


def test_a_saved_page_holds_questions_and_no_answers(own_folder):
    form = exercises_form(None, *exercises())
    text = form.kept()[0]["text/plain"]
    for key, asked in form.asked.items():
        assert asked.question() in text
        assert say(asked.exercise.result, asked.exercise.answer(asked.numbers)[0]) not in text, key


def test_a_prediction_is_worked_out_once_locked_and_stays(own_folder):
    form = predict_form("longer-at-volts")
    asked = form.asked["longer-at-volts"]
    assert asked.lock_it.disabled
    asked.lock()
    assert asked.found is None
    asked.choose(2)
    assert not asked.told.value
    asked.lock()
    told = asked.told.value
    assert "less" in told and asked.choice.disabled
    asked.lock()
    assert asked.told.value == told


def test_every_prediction_without_a_sheet_says_so_in_words(own_folder):
    for key in every_prediction():
        asked = predict_form(key).asked[key]
        asked.choose(0)
        asked.lock()
        assert asked.told.value, key


def test_scores_of_a_class_are_gathered(own_folder):
    for name in ("ada", "ben"):
        scores.keep_score(name, scores.LessonScore("wire-at-volts", "right", 2, 1, ""))
    scores.keep_score("ada", scores.LessonScore("wire-at-volts", "right", 1, 0, ""))
    found, told = scores.class_scores()
    assert not told
    assert set(found) == {"ada", "ben"} and found["ada"][0].tries == 1 and len(found["ada"]) == 1
    assert exercise_named(found["ben"][0].key)


def test_a_score_file_spoilt_by_hand_costs_the_others_nothing(own_folder):
    kept = scores.keep_score("ada", scores.LessonScore("wire-at-volts", "right", 1, 0, ""))
    (kept.parent / "ben.csv").write_text("key,state,tries,hints,word\nwire-at-volts,right,many,0,\n")
    (kept.parent / "eve.csv").write_bytes(b"\xff\xfek")
    rows = score_table().rows
    assert rows[0][:2] == ("ada", "1 of 1") and [r[0] for r in rows[1:]] == ["could not be read"] * 2
    assert "ben.csv" in rows[1][-1] and "eve.csv" in rows[2][-1]


def test_what_cannot_be_read_is_letters_in_the_class_s_table_and_escaped_once(own_folder):
    keep_readings("1", {"A1 amps": "<b>two</b> & a bit"})
    told = as_html(class_table())
    assert "&lt;b&gt;two&lt;/b&gt; &amp; a bit" in told and "<b>" not in told
