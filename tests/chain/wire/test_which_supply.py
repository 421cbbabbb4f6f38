"""Several supplies on one sheet: each reason by hand, and the sheet's own among them."""

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.chain.wire.which_supply import OWN, rank_supplies, with_supply

TEXT = """[sheet]
name = "x"
[want]
power = "20 W"
[supply]
kind = "transformer"
open = "16 V"
source = "1.5 ohm"
[[wire]]
id = "reel"
alloy = "nicr-80-20"
gauge = "28 AWG"
[coil]
wire = "reel"
mounting = "bare wire in free air"
[coil.tails]
ohm = "0 ohm"
[[other_supply]]
id = "brick"
kind = "switching supply"
open = "19 V"
limit = "LIMIT"
[[other_supply]]
id = "bare brick"
kind = "switching supply"
open = "19 V"
[[other_supply]]
id = "weak"
kind = "transformer"
open = "12 V"
volts = 9
amps = 2
[[other_supply]]
id = "read once"
kind = "battery"
volts = 11
amps = 2
[[other_supply]]
id = "high"
kind = "transformer"
open = "52 V"
source = "1 ohm"
[[other_supply]]
id = "thirty"
kind = "transformer"
open = "30 V"
source = "1 ohm"
[[other_supply]]
id = "label"
kind = "transformer"
open = "40 V"
source = "1 ohm"
"""


def ranked_at(limit):
    return {s.id: s for s in rank_supplies(bc.read(TEXT.replace("LIMIT", limit)))}


@pytest.fixture(scope="module")
def ranked():
    return ranked_at("2 A")


def test_each_supply_is_tried_and_the_first_thing_that_fails_is_named(ranked):
    # by hand: 12 V falling to 9 V at 2 A is 1.5 ohm, at most 12^2 / 6 = 24 W; a stiff 19 V gives 20 W at 1.05 A
    assert {s.id for s in ranked.values() if s.works} == {"brick", OWN, "weak", "thirty"}
    assert "the current at which it limits" in ranked["bare brick"].reason
    assert "source resistance" in ranked["read once"].reason
    assert "above 50 V AC" in ranked["high"].reason and np.isnan(ranked["high"].load_a)  # IEC 61140
    assert ranked["brick"].load_a == pytest.approx(20 / 19, rel=1e-6)
    higher_ohm = np.max(np.roots([1, 3 - 144 / 20, 2.25]))
    assert ranked["weak"].load_a == pytest.approx(np.sqrt(20 / higher_ohm))


def test_gentle_ones_come_first_and_what_may_not_be_touched_after_them(ranked):
    assert [*ranked][:4] == ["brick", OWN, "weak", "thirty"]  # 30 V AC is above a touch with dry hands, 25 V
    assert not ranked["thirty"].touchable and ranked[OWN].touchable
    # volts of a label are volts under load, and up to half as many more may stand there: 27 V are past 25 V
    own = {s.id: s for s in rank_supplies(bc.read(TEXT.replace("LIMIT", "2 A").replace('"16 V"', '"18 V"')))}[OWN]
    assert own.works and not own.touchable


def test_volts_of_a_label_that_may_be_past_extra_low_are_no_supply_to_wind_for(ranked):
    assert not ranked["label"].works and "read it before you build" in ranked["label"].reason  # 60 V AC, IEC 61140
    assert ranked["brick"].source_loss_w < ranked[OWN].source_loss_w < ranked["weak"].source_loss_w


def test_a_brick_trips_on_the_cold_ohms_at_switch_on():
    # 20 W at 19 V are 1.053 A hot; hot ohms are 1.04 times cold ones at 400 degC, so 1.09 A flow in the first moment
    assert ranked_at("1.07 A")["brick"].reason == "reel: draws more than the supply's limit"


def test_the_build_on_another_supply_is_a_build_like_any_other():
    build = bc.load_chosen("insert_press")
    brick = with_supply(build, "notebook brick")
    assert brick.supply.output == "DC" and brick.soak.cold_ohm is None and not brick.supply.reading
    assert bc.work_out(brick, samples=20).supply.open_v == 19.5
    assert rank_supplies(bc.change(build, "want.power_w", None)) == ()
    weak = next(s for s in rank_supplies(build) if "doll" in s.id)
    assert "at most 16." in weak.reason  # 13.1^2 / (4 * 2.6)


def test_what_no_supply_of_the_box_can_be_is_told():
    for spoilt, says in (
        (("volts = 9\n", ""), "belong together"),
        (('kind = "battery"', 'kind = "bell transformer"'), "refused"),
        (('id = "weak"', 'id = "brick"'), "stands twice"),
    ):
        with pytest.raises(bc.Fault, match=says):
            bc.read(TEXT.replace("LIMIT", "2 A").replace(*spoilt))


def test_ohms_told_by_clips_on_one_supply_stay_known_on_the_others():
    clipped = """[[supply.reading]]
volts = 18
amps = 0
[[supply.reading]]
volts = 16.5
amps = 1.0
clipped = "1.5 m"
"""
    text = TEXT.replace("LIMIT", "2 A").replace('alloy = "nicr-80-20"\n', "")
    text = text.replace('open = "16 V"\nsource = "1.5 ohm"\n', clipped, 1)
    ranked = {s.id: s for s in rank_supplies(bc.read(text))}
    assert ranked["brick"].works and ranked[OWN].works
    # 16.5 ohm on 1.5 m: 11 ohm/m; 20 W at 19 V take 18.05 ohm hot, so 1.64 m of it cold
    assert ranked["brick"].length_m == pytest.approx(18.05 / 11 / 1.05, rel=0.02)  # hot factor 1.05: data/defaults.csv


def test_the_wires_are_named_and_a_pack_tells_its_minutes(ranked):
    used = 'alloy = "nicr-80-20"\ngauge = "28 AWG"\nused = true\nmeasured_ohm = 13.0\nmeasured_length = "0.9 m"\n'
    text = TEXT.replace("LIMIT", "2 A").replace('alloy = "nicr-80-20"\ngauge = "28 AWG"\n', used)
    text += '[[other_supply]]\nid = "pack"\nkind = "battery"\nopen = "20 V"\nsource = "0.1 ohm"\ncharge = "5 Ah"\n'
    short = {s.id: s for s in rank_supplies(bc.read(text))}
    assert short["brick"].reason.startswith("reel: not enough wire") and "900 mm" in short["brick"].reason
    # nearest first: a wire is lacking, then unknown, then refused by 50 V AC
    order = [*short]
    assert order.index("brick") < order.index("bare brick") < order.index("high") == len(order) - 1
    pack = {s.id: s for s in rank_supplies(bc.read(text.replace(used, 'alloy = "nicr-80-20"\ngauge = "28 AWG"\n')))}
    # by hand: 20 W from some 20 V are 1.0 A; 5 Ah x 0.8 over that is 4 h; for hours comes before on a charge
    assert pack["pack"].run_s == pytest.approx(4 * 3600, rel=0.03) and "on one charge" in pack["pack"].hours
    assert [*pack].index("brick") < [*pack].index(OWN) < [*pack].index("pack")


def test_a_soak_test_that_allows_the_current_ranks_a_transformer_for_hours():
    rows = "".join(f"[[soak.hour]]\nhours = {h}\nohm = {r}\n" for h, r in ((1, 57.0), (2, 58.2), (3, 58.5), (4, 58.6)))
    soak = '[soak]\ncold_ohm = 50.0\ncold_room = "20 degC"\nend_room = "20 degC"\namps = {}\n' + rows
    enough, few = (
        next(s for s in rank_supplies(bc.read(TEXT.replace("LIMIT", "2 A") + soak.format(a))) if s.id == OWN)
        for a in (1.3, 0.5)
    )
    assert enough.lasts == 0 and "soak test allows" in enough.hours and not enough.hours.startswith("not")
    assert few.lasts == 2 and few.hours.startswith("not for hours")
