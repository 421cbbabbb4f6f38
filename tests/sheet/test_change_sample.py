"""`change` alters one field and tells what is wrong; `sample` draws within the ends, the same by seed."""

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.sheet.change import item

PRESS = bc.load_chosen("insert_press")
NO_LOAD = '[sheet]\nname = "x"\n[supply]\nkind = "transformer"\n[[supply.reading]]\nvolts = 18.2\namps = 0\n'


def test_change_alters_one_field_and_nothing_else():
    longer = bc.change(PRESS, "coil.length_m", 0.8)
    assert longer.coil.length_m == 0.8 and PRESS.coil.length_m == 0.733
    assert bc.change(longer, "coil.length_m", 0.733).coil == PRESS.coil
    assert longer.supply is PRESS.supply and longer.wire is PRESS.wire
    by_id = bc.change(PRESS, "wire.reel.diameter_m", 0.3e-3)
    assert by_id.wire == bc.change(PRESS, "wire.0.diameter_m", 0.3e-3).wire and by_id.wire[0].diameter_m == 0.3e-3
    assert bc.change(PRESS, "supply.reading.2.volts_v", 16.0).supply.reading[2].volts_v == 16.0
    assert bc.change(PRESS, "coil.length_m", None).coil.length_m is None


def test_a_changed_field_is_exact():
    changed = bc.change(PRESS, "coil.tails.resistance_ohm", 0.2)
    assert "coil.tails.resistance_ohm" in PRESS.known and "coil.tails.resistance_ohm" not in changed.known
    assert bc.sample(changed, 5).coil.tails.resistance_ohm == 0.2


@pytest.mark.parametrize("path", ["wire.w.diameter_m", "wire.0.diameter_m"])
def test_a_changed_field_is_exact_by_id_and_by_place(path):
    build = bc.read('[sheet]\nname = "x"\n[[wire]]\nid = "w"\nalloy = "nicr-80-20"\ndiameter = "0.3 mm +- 0.02 mm"\n')
    assert bc.sample(bc.change(build, path, 0.5e-3), 5).wire[0].diameter_m == pytest.approx(0.5e-3)


@pytest.mark.parametrize(
    "path, x, says",
    [
        ("coil.legnth_m", 1.0, "Closest: length_m"),
        ("wire.rele.diameter_m", 1e-3, "Closest: reel"),
        ("colis.length_m", 1.0, "Closest: coil"),
        ("coil.length_m", np.nan, "finite"),
        ("coil.length_m", [1.0, np.inf], "finite"),
        ("coil.length_m", np.ones((2, 2)), "flat array"),
        ("wire.reel.alloy", [1.0, 2.0], "takes a text"),
        ("coil.on", 3.0, "takes a text"),
        ("supply.reading.9.volts_v", 1.0, "not on this sheet"),
        ("wire.reel.gauge", "99 AWG", "finer"),
        ("wire.reel.gauge", "24", "no gauge system"),
    ],
)
def test_change_tells_what_is_wrong(path, x, says):
    with pytest.raises(bc.Fault, match=says):
        bc.change(PRESS, path, x)


def test_items_and_get_list_the_closest():
    with pytest.raises(bc.Fault, match="Closest: reel"):
        item(PRESS.wire, "reels")
    with pytest.raises(bc.Fault, match="Closest"):
        bc.get(PRESS, "coil.tails.resistanse_ohm")


def test_another_alloy_or_gauge_is_another_wire():
    text = (
        '[sheet]\nname = "x"\n[[wire]]\nid = "w"\nalloy = "nicr-80-20"\ndiameter = "0.3 mm +- 0.01 mm"\n'
        'measured_ohm = 10\nmeasured_length = "0.5 m"\n'
    )
    build = bc.read(text)
    assert bc.work_wire(build, None).linear_ohm_per_m == pytest.approx(20.0)
    alloy = bc.work_wire(bc.change(build, "wire.w.alloy", "copper"), None)
    assert not alloy.measured and alloy.linear_ohm_per_m == pytest.approx(1.7241e-8 / (np.pi / 4 * 0.3e-3**2), rel=1e-9)
    gauge = bc.change(build, "wire.w.gauge", "24 SWG")
    assert gauge.wire[0].diameter_m == pytest.approx(0.022 * 0.0254) and gauge.wire[0].measured_ohm is None


@pytest.mark.parametrize("word", ["nichrome 80", "NiCr 80/20"])
def test_change_knows_an_alloy_by_its_other_spellings(word):
    # the same words as in a sheet
    assert bc.links(bc.change(PRESS, "wire.reel.alloy", word))[1].linear_ohm_per_m == pytest.approx(
        bc.links(PRESS)[1].linear_ohm_per_m
    )


def test_change_refuses_an_unknown_alloy():
    with pytest.raises(bc.Fault, match="nicr-80-20"):
        bc.change(PRESS, "wire.reel.alloy", "nichrom 80-20")


def test_a_bow_can_be_wound_on_a_part():
    out = bc.links(bc.change(bc.load_chosen("foam_bow"), "coil.on", "bow"))[2]
    assert out.turns > 0


def test_an_assumed_wire_temperature_goes_with_its_mounting():
    # data/defaults.csv: 700 degC on a bench tool core, 750 degC for an open coil
    assert PRESS.known["coil.wire_temp_c"].how == "assumed" and PRESS.coil.wire_temp_c == 700
    assert bc.change(PRESS, "coil.mounting", "open coil in air").coil.wire_temp_c == 750


def test_a_no_load_reading_can_be_changed_to_a_loaded_one():
    supply = bc.work_supply(bc.change(bc.read(NO_LOAD), "supply.reading.0.amps_a", 1.0))
    assert supply.how == "one reading"


def test_sample_is_the_same_by_seed_and_another_by_another():
    one, two, other = bc.sample(PRESS, 50, 3), bc.sample(PRESS, 50, 3), bc.sample(PRESS, 50, 4)
    for path in PRESS.known:
        assert np.array_equal(bc.get(one, path), bc.get(two, path))
    assert not np.array_equal(one.coil.tails.resistance_ohm, other.coil.tails.resistance_ohm)


@pytest.mark.parametrize("name", bc.demos())
def test_sample_respects_the_ends_of_every_input(name):
    build = bc.load_chosen(name)
    drawn = bc.sample(build, 400, 5)
    banded = [
        p
        for p, k in build.known.items()
        if k.low < k.high and not p.startswith(("other_supply.", "control.", "sensor."))
    ]
    assert len(banded) >= 10
    for path in banded:
        k, got = build.known[path], bc.get(drawn, path)
        slack = 1e-9 * max(abs(k.low), abs(k.high), 1e-12)
        assert got.shape == (400,) and got.min() >= k.low - slack and got.max() <= k.high + slack
        assert got.max() - got.min() > 0.7 * (k.high - k.low), path  # and it uses the room between them
    for path in set(build.known) - set(banded):
        assert np.ndim(bc.get(drawn, path)) == 0


def test_readings_of_one_instrument_share_its_gain():
    """An instrument of gain only: two readings of it keep their ratio; counts move apart."""
    known = PRESS.known
    volts = [known[f"supply.reading.{i}.volts_v"] for i in range(4)]
    assert len({k.group for k in volts}) == 1 and volts[0].group == "better multimeter v"
    assert known["supply.reading.1.amps_a"].group == "better multimeter a"
    # data/instruments.csv: 0.5 % + 0.03 V
    assert volts[0].high - volts[0].low == pytest.approx(2 * (0.005 * 18.2 + 0.03)) and volts[0].share == pytest.approx(
        0.091 / 0.121
    )
    drawn = bc.sample(PRESS, 2000)
    first, second = (drawn.supply.reading[i].volts_v for i in (0, 1))
    alone = (1 - 0.75) ** 2 / (0.75**2 + 0.25**2)
    assert np.corrcoef(first, second)[0, 1] == pytest.approx(1 - alone, abs=0.05)
    assert abs(np.corrcoef(first, drawn.supply.reading[1].amps_a)[0, 1]) < 0.1


def test_no_load_means_no_amps_at_all():
    # nothing is connected: the zero is exact, whatever the meter
    drawn = bc.sample(PRESS, 20).supply.reading[0].amps_a
    assert np.all(drawn == 0)


@pytest.mark.parametrize("seed", range(3))
def test_one_sample_of_a_no_load_reading_works_like_many(seed):
    assert bc.work_supply(bc.sample(bc.read(NO_LOAD), 1, seed)).how == "no load reading yet"


def test_a_band_narrows_with_better_readings():
    rough = bc.read(NO_LOAD + '[[supply.reading]]\nvolts = "16.1 V with cheap multimeter"\namps = 1.6\n')
    fine = bc.read(
        NO_LOAD.replace("18.2", '"18.2 V +- 0.01 V"')
        + '[[supply.reading]]\nvolts = "16.1 V +- 0.01 V"\namps = "1.6 A +- 0.005 A"\n'
    )
    width = [b.high - b.low for b in (bc.work_out(x).bands["supply.source_ohm"] for x in (rough, fine))]
    assert width[1] < width[0] / 5
