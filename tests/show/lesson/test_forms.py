"""Forms of the class: what is typed is marked, nothing is readable beforehand, a locked choice stays locked."""

import pytest

from benchcalc.basics.names import display, say
from benchcalc.pages import class_form, exercises_form, learner_form, predict_form
from benchcalc.show.lesson.class_tables import exercise_table, score_table, spread_table
from benchcalc.show.page.table import as_html
from benchcalc.studies.lesson import scores
from benchcalc.studies.lesson.bank import exercise_named, exercises, guesses_of, keys_of
from benchcalc.studies.lesson.class_data import class_readings, keep_readings
from benchcalc.studies.lesson.first_evening_readings import first_evening
from benchcalc.studies.lesson.guesses import guess_file
from benchcalc.studies.lesson.opening_word import opening_word
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
    assert "Hint 1" in asked.hinted.value and "Hint 2" not in asked.hinted.value
    asked.type("1 W")
    assert "Hint 1" in asked.hinted.value and "too little" in asked.told.value  # a try takes no hint away


def test_all_hints_open_the_work_without_a_try_and_say_so(asked, own_folder):
    for _ in asked.exercise.hints:
        assert asked.show_work.disabled
        asked.hint.click()
    assert not asked.show_work.disabled and "open to you now" in asked.hinted.value
    (kept,) = scores.scores_of(scores.score_file("ada l."))
    assert (kept.state, kept.tries, kept.hints) == ("begun", 0, len(asked.exercise.hints))


def test_what_was_done_is_not_undone_by_beginning_again(own_folder):
    for state in ("right", "begun"):
        scores.keep_score("ada", scores.LessonScore("wire-at-volts", state, 1, 0, ""))
    assert [s.state for s in scores.scores_of(scores.score_file("ada"))] == ["right"]


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
    assert (
        rows[0][:3] == ("ada", "1", f"1 of {len(keys_of(1))}") and [r[0] for r in rows[1:]] == ["could not be read"] * 2
    )
    assert "ben.csv" in rows[1][-1] and "eve.csv" in rows[2][-1]


def test_what_cannot_be_read_is_letters_in_the_class_s_table_and_escaped_once(own_folder):
    keep_readings("1", {"A1 amps": "<b>two</b> & a bit"})
    told = as_html(spread_table(*class_readings(first_evening())))
    assert "&lt;b&gt;two&lt;/b&gt; &amp; a bit" in told and "<b>" not in told


def texts_of_all(form):
    """Everything that a form tells beside its questions."""
    return " ".join(a.told.value for a in form.asked.values())


def test_guesses_of_an_evening_stay_shut_until_the_room_opens_them(own_folder):
    learner = learner_form("Ada")
    form = predict_form(*guesses_of(1), learner=learner, evening=1)
    first, second, *others = form.asked.values()
    for asked in (first, *others):
        asked.choose(0)
        asked.lock()
    told = texts_of_all(form)
    assert "opened with the others" in told and "✓" not in told and "✗" not in told
    assert first.found is None and first.choice.disabled
    assert {s.state for s in scores.scores_of(scores.score_file("ada"))} == {"locked"}
    form.open_all("something else")
    assert first.found is None and "not tonight" in form.told.value
    form.open_all(f" {opening_word(1).upper()} ")
    assert first.told.value.startswith("<b>") and not second.told.value
    second.choose(0)
    second.lock()
    assert second.told.value.startswith("<b>")
    kept = scores.scores_of(scores.score_file("ada"))
    assert len(kept) == len(guesses_of(1)) and {s.state for s in kept} <= {"locked right", "locked wrong"}


def test_the_six_asked_again_stand_beside_the_first_answers(own_folder):
    for evening, choice in ((1, 0), (6, 1)):
        form = predict_form("longer-at-volts", learner=learner_form("Ada"), evening=evening)
        form.asked["longer-at-volts"].choose(choice)
        form.asked["longer-at-volts"].lock()
        form.open_all(opening_word(evening))
    assert [s.state for s in scores.scores_of(scores.score_file("ada"))] == ["locked right", "locked wrong"]
    told = {row[1]: row[5] for row in score_table().rows}
    assert told == {"1": f"1 of {len(guesses_of(1))}", "6": f"0 of {len(guesses_of(6))}"}


def test_what_was_locked_is_shown_again_after_a_rerun_and_cannot_be_changed(own_folder):
    """Run All, or a page opened again: the same name finds its guesses locked as they were."""

    def run(name="Bo"):
        learner = learner_form()
        form = predict_form(*guesses_of(1), learner=learner, evening=1)
        learner.name_box.value = name
        return form

    def kept():
        return [(s.key, s.state) for s in scores.scores_of(scores.score_file("bo"))]

    first = run()
    keys = list(first.asked)
    for key in keys[:5]:
        first.asked[key].choose(0)
        first.asked[key].lock()
    again = run("  bO ")
    assert f"5 of {len(keys)} locked" in again.told.value and again.asked[keys[5]].choice.index is None
    for key in keys[:5]:
        asked = again.asked[key]
        assert asked.locked and asked.choice.index == 0 and asked.choice.disabled and asked.lock_it.disabled
        assert "✓" not in asked.told.value and "✗" not in asked.told.value
        asked.choose(1)  # as a page that has not heard of it would
        asked.lock()
        assert {state for _, state in kept()} == {"locked"}
    again.open_all(opening_word(1))
    opened = kept()
    right = {k: again.asked[k].found.right == 0 for k in keys[:5]}
    once_more = run()
    assert once_more.opened and once_more.word.disabled
    for key in keys[:5]:
        told = once_more.asked[key].told.value
        assert once_more.asked[key].choice.index == 0 and told.startswith("<b>") and ("✓" in told) == right[key]
    assert kept() == opened and not once_more.asked[keys[5]].locked


def test_a_second_page_cannot_lock_another_answer(own_folder):
    """Two pages open at once, one name: the first answer stands on both."""
    pages = [predict_form("longer-at-volts", learner=learner_form("Bo"), evening=1) for _ in range(2)]
    for choice, page in enumerate(pages):
        page.asked["longer-at-volts"].choose(choice)
        page.asked["longer-at-volts"].lock()
    assert pages[1].asked["longer-at-volts"].choice.index == 0


def test_another_name_at_the_same_page_begins_with_its_own_guesses(own_folder):
    learner = learner_form()
    form = predict_form(*guesses_of(1), learner=learner, evening=1)
    first, *_ = form.asked.values()
    first.choose(2)
    first.lock()  # before any name
    learner.name_box.value = "Bo"
    assert first.locked and "1 of" in form.told.value
    learner.name_box.value = "Cy"
    assert not first.locked and first.choice.index is None and "0 of" in form.told.value
    learner.name_box.value = "Bo"
    assert first.locked and first.choice.index == 2


def test_guesses_spoilt_by_hand_are_told_and_stop_nothing(own_folder):
    form = predict_form("longer-at-volts", learner=learner_form("Bo"), evening=1)
    form.asked["longer-at-volts"].choose(0)
    form.asked["longer-at-volts"].lock()
    guess_file("bo").write_text("a,b\n1,2\n")
    learner = learner_form("Bo")
    form = predict_form("longer-at-volts", learner=learner, evening=1)
    assert "could not be read" in learner.told.value and not form.asked["longer-at-volts"].locked


def test_no_two_evenings_have_the_same_word():
    assert len({opening_word(n) for n in range(1, 7)}) == 6


def test_what_was_expected_is_folded_until_this_bench_has_all_rows_in(own_folder):
    asked = first_evening()
    keep_readings("other", {a.row: f"{a.expected.nominal:.3f} {display(a.key)[0]}" for a in asked})
    form = class_form()
    form.bench.value = "one"
    bands = [say(a.key, a.expected.low) for a in asked]
    assert not any(band in form.view.value for band in bands)
    for a in asked:
        if not a.quick:
            form.type(a.row, f"{a.expected.nominal:.3f}")  # without its unit
    form.keep()
    assert all(band in form.view.value for band in bands) and "all in" in form.told.value
    assert form.fields["A1 amps"].value.endswith(" A")
    one = spread_table(*class_readings(asked), True, "one").rows
    assert {row[4] for row in one} == {"inside", "not read, only for the quick"} and "inside" in form.view.value
    form.bench.value = "two"  # another bench at the same laptop has nothing in yet
    assert not any(f.value for f in form.fields.values()) and not any(band in form.view.value for band in bands)
    form.unfold()
    assert all(band in form.view.value for band in bands)


def test_a_reading_that_cannot_be_read_is_told_beside_its_field_at_once(own_folder):
    form = class_form()
    form.type("A1 amps", "one and a bit")
    assert "unit" in form.beside["A1 amps"].value and form.fields["A1 amps"].value == "one and a bit"
    form.type("A1 amps", "1.27 A")
    assert not form.beside["A1 amps"].value


def test_the_exercise_that_most_gave_up_stands_first(own_folder):
    for name, key, state in (
        ("a", "wire-at-amps", "shown"),
        ("b", "wire-at-amps", "shown"),
        ("a", "wire-at-volts", "right"),
    ):
        scores.keep_score(name, scores.LessonScore(key, state, 2, 1, ""))
    rows = exercise_table().rows
    assert exercises()["wire-at-amps"].title in rows[0][1] and rows[0][2:5] == ("2", "0", "2") and len(rows) == 2
