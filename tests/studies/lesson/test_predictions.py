"""Predictions: what is right comes out of the work; the four confusions are each asked."""

import pytest

import benchcalc as bc
from benchcalc.basics.fault import Fault
from benchcalc.studies.holding import holding
from benchcalc.studies.lesson import confusions, printed_errors
from benchcalc.studies.lesson.prediction import Prediction, Revealed
from benchcalc.studies.lesson.prediction_bank import every_prediction, prediction_named

# by Ohm's and Joule's laws and any bench: power at constant volts U2/R, at constant amps I2 R
KNOWN = {
    "longer-at-volts": "less",
    "longer-at-amps": "more",
    "thicker-same-watts": "cooler",
    "same-watts-longer": "cooler",
}


@pytest.mark.parametrize("key", KNOWN)
def test_the_right_choice_is_the_textbook_s(key):
    asked = prediction_named(key)
    assert asked.choices[asked.revealed().right] == KNOWN[key]


def test_nickel_chromium_grows_by_a_few_per_cent():
    """GB/T 1234, table of R(T)/R(20): 1.026 at 500, 1.018 at 900 degC for 80/20."""
    assert prediction_named("hot-ohms").revealed().right == 0


def test_each_confusion_is_asked():
    assert {p.confusion for p in confusions.PREDICTIONS} == {"power", "temperature", "resistance", "length"}


def test_every_question_has_choices_that_differ():
    for asked in every_prediction().values():
        assert 2 <= len(asked.choices) <= 5 and len(set(asked.choices)) == len(asked.choices), asked.key


def test_a_wrong_index_is_no_answer():
    with pytest.raises(Fault):
        Prediction("x", "?", ("a", "b"), lambda build, workings: Revealed(2, "")).revealed()


@pytest.fixture(scope="module")
def foam_bow():
    build = bc.settled(bc.load_chosen("foam_bow"))
    return build, bc.work_out(build)


@pytest.mark.parametrize("key", ["copper-stem", "finer-holes", "hand-round-it", "which-is-late", "narrow-band"])
def test_a_sheet_without_the_part_gets_a_sentence(key, foam_bow):
    """A stretched wire has no stem, no tube, no handle and nothing to hold."""
    build, workings = foam_bow
    about = holding(build) if key == "narrow-band" else workings
    with pytest.raises(Fault):
        prediction_named(key).revealed(build, about)


@pytest.mark.parametrize("key", ["tenth-more-volts", "half-the-coil", "half-the-watts", "hotter-by-the-gap"])
def test_a_sheet_without_anything_gets_a_sentence(key):
    with pytest.raises(Fault, match="yet"):
        prediction_named(key).revealed(None, None)


# by hand: 2 x 3 m x 0.01724 ohm mm2/m / 0.5 mm2 x 2 A = 0.41 V; U2/R / (8/pi2) = 22.2 W
BY_HAND = {"volts-in-the-cable": 2, "bare-bridge": 2, "thicker-wire": 2, "ten-kelvin-more": 2, "play-gone": 1}


@pytest.mark.parametrize("key", BY_HAND)
def test_by_hand(key):
    assert prediction_named(key).revealed(None, None).right == BY_HAND[key]


def test_statements_in_print_are_judged_as_their_sources_were_found():
    """Of those met in print all but two are wrong: 132.42 ohm, 1.75 times, 2.2 ohm a metre (recomputed)."""
    judged = {p.key: p.choices[p.revealed().right] for p in printed_errors.PREDICTIONS}
    assert [k for k, word in judged.items() if word == "it holds"] == ["error-wrap-that-cools", "error-twice-as-thick"]
    assert "132.42" in prediction_named("error-field-coil").revealed().words
    assert "2.20 ohm/m" in prediction_named("error-ribbon-per-foot").revealed().words
    assert "1.7" in prediction_named("error-halved-by-ten").revealed().words


WANTED = '[sheet]\nname = "x"\n[want]\npower = "40 W"\n'
SUPPLY = WANTED + '[supply]\nkind = "switching supply"\nopen = "19.3 V"\nlimit = "{} A"\n'
REEL = '[[wire]]\nid = "w"\nalloy = "nicr-80-20"\ndiameter = "0.4 mm"\n[coil]\nwire = "w"\n'


def test_the_coil_keeps_its_length_in_a_prediction_even_where_the_sheet_names_none():
    build = bc.read(SUPPLY.format(5) + REEL)
    found = prediction_named("tenth-more-volts").revealed(build, bc.work_out(build, samples=0))
    assert found.words.startswith("21 per cent")  # 1.1 squared, on a supply without a source resistance


@pytest.mark.parametrize("limit, key", [(1.9, "tenth-more-volts"), (3.0, "half-the-coil")])
def test_a_supply_that_trips_answers_no_prediction(limit, key):
    build = bc.read(SUPPLY.format(limit) + REEL + 'length = "1.15 m"\n')
    with pytest.raises(bc.Fault, match="trips"):
        prediction_named(key).revealed(build, bc.work_out(build, samples=0))
