"""What was counted on the finished coil, and the temperature that is wanted, are judged against what is predicted.

The expected states follow from the predicted value itself: what equals it is fine, what is far off is over.
"""

from dataclasses import replace

import pytest

import benchcalc as bc
from benchcalc.sheet.build_as_built import CardReading

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


def kept(row, read, quantity, *expected):
    return CardReading(row, read, quantity, *(expected or (None, None, None)))


def card_verdicts(*readings, build=DEMO, samples=0, **coil):
    built = replace(build, as_built=replace(build.as_built, reading=readings, **coil))
    return {v.what: v for _, v in bc.work_out(built, samples=samples).verdicts if v.what.startswith("card: ")}


FULL = {"full.load_v": "load_v", "full.load_a": "load_a", "full.coil_w": "coil_w"}


def full(volts, amps, watts):
    return [kept(row, read, key) for (row, key), read in zip(FULL.items(), (volts, amps, watts), strict=True)]


def test_a_reading_that_contradicts_its_card_is_told_with_its_meter_counted():
    joint = ("full.joint_c", "joint_c", 80.0, 70.0, 90.0)
    told = card_verdicts(kept(joint[0], "60 degC", *joint[1:]))["card: joint of tails and cable"]
    assert (told.state, told.sense, told.limit, told.advice) == ("over", "at least", 70.0, True)
    assert "70 degC to 90 degC" in told.why and "Page 10" in told.why
    for agrees in ("85 degC", "90.3 degC"):  # the second by its bead, which is good to more than a kelvin
        assert not card_verdicts(kept(joint[0], agrees, *joint[1:]))
    assert not card_verdicts(kept("first.set_v", "3 V", "load_v", 4.0, 4.0, 4.0))  # what is set has no band
    assert not card_verdicts(kept("time.tip_c_60", "warm", "tip_c", 300.0, 280.0, 320.0))  # no number
    hot = card_verdicts(kept("time.tip_c_60", "400 degC", "tip_c", 300.0, 280.0, 320.0))
    assert list(hot) == ["card: tip, after 60 min"]


def test_a_reading_of_the_plan_is_held_against_the_sheet_as_it_now_is():
    band = PLAN.bands["coil.load_a"]
    then = kept("full.load_a", f"{band.nominal:.4f} A", "load_a", 9.0, 8.0, 10.0)  # another plan, before
    assert not card_verdicts(then, samples=40) and card_verdicts(then)  # without bands: what was expected then


def test_watts_must_follow_from_the_volts_and_amps_beside_them():
    """10 V times 2 A less 2 A squared in the tails: 20 W less some."""
    tails_w = PLAN.coil.tails_w * (2.0 / PLAN.coil.load_a) ** 2
    what = "card: watts against volts and amps"
    assert not card_verdicts(*full("10 V", "2 A", f"{20 - tails_w:.2f} W"))
    far = card_verdicts(*full("10 V", "2 A", "26 W"))[what]
    assert far.state == "over" and far.sense == "at most" and 20 < far.limit < 24
    assert card_verdicts(*full("10 V", "2 A", "14 W"))[what].sense == "at least"
    assert not card_verdicts(*full("10 V", "2 A", "26 W")[:2])


def test_wire_and_winding_must_fit_the_turns_that_were_counted():
    turns, wire = PLAN.coil.turns, "card: wire against its turns"
    fits = kept("wire.length_m", f"{PLAN.coil.length_m * 1000:.0f} mm", "length_m")
    assert not card_verdicts(fits, turns=turns)
    assert card_verdicts(fits, turns=turns + 4)[wire].sense == "at least"
    assert card_verdicts(fits, turns=turns - 4)[wire].sense == "at most"
    close = 34 * next(w for w in DEMO.wire if w.id == DEMO.coil.wire).diameter_m
    assert not card_verdicts(turns=34, winding_m=close)
    assert card_verdicts(turns=34, winding_m=0.8 * close)["card: winding against its turns"].state == "over"


def test_cold_ohms_of_a_stretched_wire_are_judged_without_turns():
    bow = bc.load_chosen("foam_bow")
    low = bc.work_out(bc.change(bow, "as_built.cold_ohm", 1.0), samples=0)
    told = verdicts(low, "cold ohms of the finished coil")[0]
    assert told.state == "over" and "turn" not in told.why
