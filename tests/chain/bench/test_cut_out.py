"""The rating of a cut-out on a transformer follows from a reading at its very place."""

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.chain.bench.cut_out import WHAT, cut_out_window
from benchcalc.chain.bench.load_at import base_rise, most_amps
from benchcalc.chain.cautions.cautions import cautions_for

SETTLED = "".join(f"[[soak.hour]]\nhours = {h}\nohm = {r}\n" for h, r in ((1, 58.6), (2, 59.8), (3, 59.97), (4, 60.0)))


def sheet(place, amps="amps = 2.0\n", klass=105, hours=""):
    return bc.read(
        '[sheet]\nname = "x"\n[supply]\nkind = "transformer"\nopen = "12 V"\nsource = "0.5 ohm"\n'
        f'[room]\nambient = "20 degC +- 5 K"\n[soak]\ncold_ohm = 50.0\ncold_room = "20 degC"\nend_room = "20 degC"\n'
        f'{amps}place = "{place} degC"\nclass = {klass}\n[[soak.cooling]]\nseconds = 0\nohm = 60.0\n{hours}'
    )


def test_the_window_is_that_worked_by_hand():
    # by hand: 10/50 x 254.5 = 50.9 K in the winding, 36 K at the place: its share is 0.7073.
    # warm room 25 + 36 = 61 degC in use; winding at 100 in a cool room of 15: 15 + 0.7073 x 85 = 75.1 degC
    build = sheet(56)
    assert cut_out_window(build, 2.0, 100.0, (15.0, 25.0)) == pytest.approx((61.0, 75.1), abs=0.1)
    # by hand: twice the current is four times the rise, all copper: 25 + 4 x 36
    assert cut_out_window(build, 4.0, 100.0, (15.0, 25.0))[0] == pytest.approx(169.0, abs=0.1)
    assert np.all(np.isnan(cut_out_window(sheet(56, ""), 2.0, 100.0, (15.0, 25.0))))


@pytest.mark.parametrize("place, klass, state", [(56, 180, "fine"), (66, 105, "not known")])
def test_a_rating_is_told_only_where_one_fits(place, klass, state):
    told = next(
        v for v in bc.work_out(sheet(place, klass=klass, hours=SETTLED), samples=0).of("bench") if v.what == WHAT
    )
    assert told.state == state, told
    assert ("never bridge" in told.why) is (state == "fine")


def test_an_open_primary_is_not_to_be_bridged():
    said = [r["sentence"] for r in cautions_for(sheet(56))]
    assert any("Never bridge" in s for s in said) and any("unplug before each reading" in s for s in said)


def test_a_soak_without_readings_over_its_hours_gives_no_rating_and_no_amps():
    told = next(v for v in bc.work_out(sheet(56), samples=0).of("bench") if v.what == WHAT)
    assert told.state == "not known" and "three readings over the hours" in told.why
    known, cooling_only = sheet(56, hours=SETTLED), sheet(56)
    assert np.all(np.isfinite(most_amps(known, 100.0))) and np.all(np.isnan(most_amps(cooling_only, 100.0)))
    assert np.isnan(base_rise(cooling_only)[2])
