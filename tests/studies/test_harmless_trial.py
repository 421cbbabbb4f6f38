"""A trial on few watts is offered only where these watts bring the reading to its dial while somebody is there."""

import benchcalc as bc
from benchcalc.show.control.bench_words import on_the_bench
from benchcalc.studies.harmless_trial import CLIMB_S, harmless_trial
from benchcalc.studies.harmless_watts import harmless_watts
from benchcalc.studies.holding import holding


def test_no_trial_is_offered_whose_watts_do_not_reach_its_dial_within_three_hours():
    """The wax pot with eight times the heat in it warms eight times as slowly: it is not there after a quarter of a
    day.  Its settled readings are the same, so nothing but the time speaks against it."""
    pot = bc.load_chosen("wax_pot")
    found = holding(pot)
    trial = harmless_trial(pot, found, harmless_watts(pot, found))
    assert 0 < trial.ready_s <= CLIMB_S and trial.dial_c < trial.low_c
    slow = bc.change(pot, "heat.stored_scale", 8.0)
    found = holding(slow)
    few = harmless_watts(slow, found)
    assert few.watts == harmless_watts(pot, holding(pot)).watts
    assert harmless_trial(slow, found, few) is None
    words = on_the_bench(slow, found).text
    assert "more than 3 hours" in words and "Dial" not in words.split("The sensor off the metal")[1].split("\n")[0]
