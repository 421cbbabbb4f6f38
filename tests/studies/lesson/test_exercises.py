"""Exercises: their answers against cases printed elsewhere, the marking of any text, slips named, numbers personal."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchcalc.basics.fault import Fault
from benchcalc.basics.names import display, say
from benchcalc.basics.quantity import UNITS, parse
from benchcalc.show.page.worked import is_straight
from benchcalc.studies.lesson.bank import exercise_named, exercises
from benchcalc.studies.lesson.exercise import said
from benchcalc.studies.lesson.mark import dimension_of, mark
from benchcalc.studies.lesson.slips import slips_of_units

ALL = sorted(exercises())
NAMES = [f"learner {i}" for i in range(30)]


@pytest.fixture(params=ALL)
def exercise(request):
    return exercise_named(request.param)


def texts_of(key, value, digits):
    """An SI value as people type it, in every unit that is read, to so many significant digits."""
    suffix = dimension_of(key)
    for unit, size in UNITS[suffix].items():
        if (suffix == "c" and unit in ("degF", "F", "K", "C")) or (suffix == "k" and unit != "K"):
            continue  # scales with another zero, or another word for the same; a difference is in kelvin
        yield f"{value / size:.{digits}g} {unit}".replace("e+", "e")


def test_numbers_are_printed_whole(exercise):
    """What a question shows is what the answer was worked out from."""
    for name in NAMES:
        for key, value in exercise.numbers_for(name).items():
            text = said(key, value)
            unit, size = display(key)
            assert text.endswith(unit)
            assert float(text.removesuffix(unit)) * size == pytest.approx(value, rel=1e-9), text


def test_the_question_names_each_number_and_no_answer(exercise):
    numbers = exercise.numbers_for("nobody")
    text = exercise.question(numbers)
    assert "{" not in text and all(said(k, v) in text for k, v in numbers.items())
    assert say(exercise.result, exercise.answer(numbers)[0]) not in text
    assert exercise.lane in ("everyday", "why") and exercise.hints and exercise.learned


def test_a_rise_in_degrees_of_a_thermometer_is_asked_for_again_and_costs_no_try():
    rise = exercise_named("rise-of-a-winding")
    numbers = rise.numbers_for("nobody")
    right = rise.answer(numbers)[0]
    for unit in ("degC", "°C", "C", "deg C", "degF"):
        marked = mark(rise, numbers, f"{right:.1f} {unit}")
        assert marked.state == "unread" and "kelvin" in marked.words
    assert mark(rise, numbers, f"{right:.1f} K").state == "right"


def test_the_worked_answer_is_what_ran(exercise):
    numbers = exercise.numbers_for("nobody")
    right, runs = exercise.answer(numbers)
    assert runs and all(is_straight(function) for function, _ in runs)
    function, given_numbers = runs[-1]
    assert float(function(**given_numbers)) == right


def test_the_same_name_gives_the_same_numbers_and_the_word_gives_new_ones(exercise):
    assert exercise.numbers_for(" Ada  L.") == exercise.numbers_for("ada l.")
    assert exercise.numbers_for("ada l.") != exercise.numbers_for("ada l.", word="autumn")


def test_neighbours_differ(exercise):
    seen = [tuple(exercise.numbers_for(name).values()) for name in NAMES]
    assert len(set(seen)) >= len(NAMES) - 1


def test_right_in_any_unit_and_rounding(exercise):
    for name in NAMES[:6]:
        numbers = exercise.numbers_for(name)
        right = exercise.answer(numbers)[0]
        for digits in (3, 5):
            for text in texts_of(exercise.result, right, digits):
                assert mark(exercise, numbers, text).state == "right", text


def test_every_named_slip_is_told(exercise):
    for name in NAMES[:6]:
        numbers = exercise.numbers_for(name)
        for slip, wrong in exercise.slipped(numbers):
            unit, size = display(exercise.result)
            told = mark(exercise, numbers, f"{wrong / size:.5g} {unit}")
            assert told.state == "slip" and told.words in {s.words for s, w in exercise.slipped(numbers)}, slip.words


def test_slips_of_units_are_told(exercise):
    numbers = exercise.numbers_for("nobody")
    right = exercise.answer(numbers)[0]
    unit, size = display(exercise.result)
    for slip, wrong in slips_of_units(exercise.result, right):
        state = mark(exercise, numbers, f"{wrong / size:.5g} {unit}").state
        assert state == "slip" or abs(wrong - right) <= exercise.tolerance(right), slip.words


@settings(max_examples=150, deadline=None)
@given(key=st.sampled_from(ALL), name=st.sampled_from(NAMES), factor=st.floats(-50, 50))
def test_a_wrong_number_never_passes(key, name, factor):
    exercise = exercise_named(key)
    numbers = exercise.numbers_for(name)
    right = exercise.answer(numbers)[0]
    unit, size = display(exercise.result)
    text = f"{right * factor / size:.6f} {unit}"
    typed = parse(text, dimension_of(exercise.result)).nominal
    if abs(typed - right) > exercise.tolerance(right):
        assert mark(exercise, numbers, text).state != "right"


@pytest.mark.parametrize("text", ["", "about ten", "12", "5 parsec", "1,234 W", "9" * 200])
def test_what_cannot_be_read_is_no_wrong_answer(text):
    exercise = exercise_named("wire-at-volts")
    told = mark(exercise, exercise.numbers_for("nobody"), text)
    assert told.state == "unread" and told.typed is None and told.words


def test_a_sloppy_rounding_is_not_right():
    exercise = exercise_named("wire-at-volts")
    numbers = {"linear_ohm_per_m": 10.0, "length_m": 0.5, "load_v": 8.0}  # 12.8 W
    assert mark(exercise, numbers, "13 W").state == "right"
    assert mark(exercise, numbers, "10 W").state == "wrong"


def test_names_are_needed_and_short():
    for name in ("", "   ", "x" * 61):
        with pytest.raises(Fault):
            exercise_named("wire-at-volts").numbers_for(name)


# an exercise, the numbers of a printed example, its answer (SI), how near; where it stands
PRINTED = (
    # IEC 61558-1, clause 14.2, by hand with 234.5: 0.2 x 254.5 - 2
    ("rise-of-a-winding", (12.0, 20.0, 14.4, 22.0), 48.9, 1e-3),
    # HyperPhysics (Georgia State University), American Wire Gauges: copper 20 AWG, 0.8118 mm
    ("ohms-of-a-gauge", (1.7241e-8, 0.8118e-3), 0.033301, 2e-3),
    # textbook passage on motor life: 20 000 h at 130 degC, half for each 10 K
    ("life-of-insulation", (130.0, 10.0, 140.0), 3.6e7, 1e-6),
    # integral-cycle control: 40 of 100 cycles are 40 % of the watts
    ("share-of-the-time", (100.0, 40.0), 0.4, 1e-9),
    # an electrical life of 1e5, once each 10 s
    ("life-of-a-relay", (1e5, 10.0), 1e6, 1e-9),
    # Cengel, Heat and Mass Transfer, example 3-4: k = 237, h_c = 11 000 W/m2K -> the critical-radius form k/h = 2.15 cm
    ("wrap-that-cools", (237.0, 11000.0), 0.0215, 3e-3),
    # Horowitz and Hill, The Art of Electronics, exercise 1.9 (from memory): 15 V behind 5 kohm, 10 kohm: 10 mW
    ("watts-on-a-sagging-line", (15.0, 5000.0, 10000.0), 0.010, 1e-9),
)


@pytest.mark.parametrize(("key", "given_numbers", "answer", "near"), PRINTED, ids=[row[0] for row in PRINTED])
def test_with_the_numbers_of_a_printed_example(key, given_numbers, answer, near):
    asked = exercise_named(key)
    names = asked.numbers_for("nobody")
    assert len(names) == len(given_numbers)
    found = asked.answer(dict(zip(names, given_numbers, strict=True)))[0]
    assert found == pytest.approx(answer, rel=near)
