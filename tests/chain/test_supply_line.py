"""What makes a supply's line and what does not: readings at its limit, readings that are missing, a capacitor."""

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.chain.supply.verdicts import FOR_COIL
from benchcalc.heater import rectified
from benchcalc.pages import mend_first

COIL = '[[wire]]\nid = "w"\nalloy = "nicr-80-20"\ndiameter = "0.4 mm"\n[coil]\nwire = "w"\nlength = "1.2 m"\n'
HEAD = '[sheet]\nname = "x"\n[supply]\n'


def read(keys, *readings, coil=COIL):
    told = "".join(f"[[supply.reading]]\nvolts = {v}\namps = {a}\n" for v, a in readings)
    return bc.read(f"{HEAD}{keys}\n{told}{coil}")


@pytest.mark.parametrize("kind", ["bench supply", "switching supply"])
def test_a_reading_at_the_limit_is_no_source_resistance(kind):
    keys = f'kind = "{kind}"\nlimit = "5 A"'
    workings = bc.work_out(read(keys, (24.0, 0), (7.0, 5.0)), samples=20)
    amps = 24.0 / (workings.coil.hot_ohm + workings.wire.tails_ohm)  # Ohm's law on 24 V that are held
    assert workings.coil.coil_w == pytest.approx(amps**2 * workings.coil.hot_ohm, rel=1e-9)
    told = next(v for v in workings.of("supply") if v.what.startswith("reading 2"))
    assert told.state == "not known" and "left out" in told.why
    three = bc.work_out(read(keys, (24.0, 0), (23.98, 2.0), (7.0, 5.6)), samples=20)
    assert three.supply.open_v == pytest.approx(24.0) and three.supply.source_ohm == pytest.approx(0.01)
    below = bc.work_out(read(keys, (24.0, 0), (23.5, 4.5)), samples=20)
    assert below.supply.source_ohm == pytest.approx(0.5 / 4.5)


def test_a_plate_limit_of_a_transformer_takes_no_reading_away():
    workings = bc.work_out(read('kind = "transformer"\nlimit = "2 A"', (24.0, 0), (20.0, 2.0)), samples=0)
    assert workings.supply.source_ohm == pytest.approx(2.0)


def test_a_supply_without_readings_asks_for_no_load_volts_and_gives_no_number():
    build = read('kind = "transformer"')
    workings = bc.work_out(build, samples=20)
    told = " ".join(v.why for v in workings.of("supply"))
    assert "nan" not in told and "a touch can kill" not in told and "nothing connected first" in told
    assert not workings.supply.refused and np.isnan(workings.supply.most_power_w)
    found = mend_first(build, workings, ("wire", "coil"))
    assert [m.link for m in found.first] == ["supply"] * len(found.first) and found.first
    assert not any("load the supply" in v.why for v in workings.of("bench"))


@pytest.mark.parametrize("readings", [[(60.4, 0), (57.0, 1.0)], [(45.0, 1.2)]])
def test_a_refusal_stands_alone_whatever_the_page_asks_about(readings):
    build = read('kind = "transformer"', *readings)
    workings = bc.work_out(build, samples=50)
    assert workings.supply.refused and not workings.of("bench")
    for links in (("supply", "bench"), ("wire", "coil")):
        found = mend_first(build, workings, links)
        assert len(found.first) == 1 and found.first[0].verdict.what.startswith("no-load voltage")
        assert not found.advice
    assert "fine" not in [v.state for link, v in workings.verdicts if link in ("wire", "coil")]


def test_a_supply_that_trips_still_tells_what_to_mend():
    build = read('kind = "switching supply"\nlimit = "1.7 A"', (19.3, 0), (19.2, 1.5))
    workings = bc.work_out(build, samples=50)
    assert workings.coil.coil_w == 0.0
    assert "current that the coil asks for" in [m.verdict.what for m in mend_first(build, workings).first]


@pytest.mark.parametrize("farad, near", [(30e-3, 0.05), (4.7e-3, 0.15)])
def test_behind_a_capacitor_the_winding_is_found_and_a_short_draws_what_it_lets_through(farad, near):
    # the reading and the short by stepping through the period, which a solver of differential equations confirms
    winding_v, winding_ohm = 26.8, 0.95
    got = rectified.behind("bridge", (winding_v, winding_ohm), 25.0, farad)
    open_v = np.sqrt(2) * winding_v - 1.8
    supply = bc.work_out(
        read(
            'kind = "transformer"\noutput = "DC"\nrectifier = "bridge with capacitor"',
            (open_v, 0),
            (got.mean_v, got.mean_v / 25.0),
        ),
        samples=0,
    )
    assert supply.supply.source_ohm > 2.5 * winding_ohm  # what the meter's droop alone would say
    assert supply.supply.winding_ohm == pytest.approx(winding_ohm, rel=near)
    assert supply.supply.winding_ohm > winding_ohm  # never less: the fuse must act on the smallest short
    short = rectified.behind("bridge", (winding_v, winding_ohm + 0.05), 1e-4).winding_a
    assert supply.supply.short_v / (winding_ohm + 0.05) == pytest.approx(short, rel=0.01)
    assert supply.bench.short_a > 0.5 * short


READ = ((12.6, 0), (11.2, 2.0))  # by hand: 12.6 V and (12.6 - 11.2) / 2 = 0.7 ohm


def line_of(keys, *readings):
    build = read(f'kind = "transformer"\n{keys}', *readings)
    workings = bc.work_out(build, samples=0)
    told = [v for v in workings.of("supply") if v.what.startswith("readings, beside")]
    return workings.supply.open_v, workings.supply.source_ohm, [v.why for v in told]


def test_readings_beat_an_assumed_line_and_a_typed_one_says_that_it_overrules_them():
    guess = 'open = "24 V +- 10 % assumed"\nsource = "2.66 ohm +- 50 % assumed"'
    assert line_of(guess, *READ) == (pytest.approx(12.6), pytest.approx(0.7), [])
    assert line_of(guess, READ[0]) == (pytest.approx(12.6), pytest.approx(2.66), [])
    assert line_of('open = "24 V assumed"\nsource = "0.7 ohm"', READ[1])[0] == pytest.approx(12.6)
    assert line_of('open = "12.6 V"\nsource = "9 ohm assumed"', READ[1])[1] == pytest.approx(0.7)
    one = bc.work_out(read(f'kind = "transformer"\n{guess}', READ[1]), samples=0).supply
    assert one.open_v - 2.0 * one.source_ohm == pytest.approx(11.2)  # at its own load a reading is what it says
    open_v, source_ohm, told = line_of('open = "24 V"\nsource = "2.66 ohm"', *READ)
    assert (open_v, source_ohm) == (24.0, 2.66) and "12.6 V" in told[0] and "0.700 ohm" in told[0]
    open_v, source_ohm, told = line_of('open = "24 V"\nsource = "2.66 ohm assumed"', *READ)
    assert (open_v, source_ohm) == (24.0, pytest.approx(0.7)) and "24.0 V as typed" in told[0]
    assert not line_of('open = "24 V"', READ[1])[2]


TAILS = """
[sheet]
name = "tails and a supply"
[supply]
kind = "transformer"
open = "12 V"
source = "{ohm}"
[[wire]]
id = "w"
alloy = "nicr-80-20"
diameter = "0.3 mm"
[coil]
wire = "w"
[coil.tails]
ohm = "0.5 ohm"
[want]
power = "10 W"
"""


def test_the_most_for_any_coil_is_told_with_its_tails_and_without():
    """Ohm's law at the match: 144 V2 over 4 x 2 ohm with tails, over 4 x 1.5 ohm without; as much is made outside the
    coil, in the ratio of the two resistances."""
    told = {v.what: v for _, v in bc.work_out(bc.read(TAILS.format(ohm="1.5 ohm")), samples=0).verdicts}[FOR_COIL]
    assert told.value == pytest.approx(144 / 8)
    assert "18.0 W with these tails of 0.500 ohm, 24.0 W with none" in told.why
    assert "13.5 W are made inside the supply and its cable and 4.50 W in the tails" in told.why


def test_a_supply_that_reads_level_is_told_to_be_read_again_and_no_end_is_promised():
    told = {v.what: v for _, v in bc.work_out(bc.read(TAILS.format(ohm="0 ohm")), samples=0).verdicts}[FOR_COIL]
    assert "inf" not in told.why and "heavier load" in told.why
