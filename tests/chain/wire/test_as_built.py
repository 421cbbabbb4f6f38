"""What was counted on the finished coil, and the temperature that is wanted, are judged against what is predicted.

The expected states follow from the predicted value itself: what equals it is fine, what is far off is over.
"""

import pytest

import benchcalc as bc

DEMO = bc.load_chosen("insert_press")
PLAN = bc.work_out(DEMO, samples=40)


def verdicts(out, what):
    return [v for _, v in out.verdicts if v.what == what]


def verdict(path, value, what):
    out = bc.work_out(bc.change(DEMO, path, value), samples=40)
    told = verdicts(out, what)
    assert len(told) == 1
    return told[0]


@pytest.mark.parametrize(
    "path, what, planned",
    [
        ("as_built.turns", "turns of the finished coil", PLAN.coil.turns),
        ("as_built.winding_m", "winding of the finished coil", PLAN.coil.winding_m),
    ],
    ids=["turns", "winding"],
)
def test_a_count_is_judged_against_the_plan(path, what, planned):
    assert not verdicts(PLAN, what)
    assert verdict(path, planned, what).state == "fine"
    low, high = verdict(path, 0.5 * planned, what), verdict(path, 2 * planned, what)
    assert (low.state, low.sense, high.state, high.sense) == ("over", "at least", "over", "at most")
    assert low.limit < planned < high.limit and "Planned: " in low.why


def test_the_wanted_temperature_is_judged_at_the_tip():
    what, tip_c = "tip against the wanted temperature", PLAN.heat.tip_c
    assert not verdicts(PLAN, what)
    assert verdict("want.tip_c", tip_c - 100, what).state == "fine"
    assert verdict("want.tip_c", tip_c - 0.5, what).state == "tight"  # within the band of what is predicted
    over = verdict("want.tip_c", tip_c + 50, what)
    assert over.state == "over" and over.margin == pytest.approx(-50)


def test_without_a_tip_the_wanted_temperature_stays_not_known():
    out = bc.work_out(bc.change(bc.load_chosen("foam_bow"), "want.tip_c", 300.0), samples=0)
    told = verdicts(out, "tip against the wanted temperature")
    assert [v.state for v in told] == ["not known"] and "tip" in told[0].why
