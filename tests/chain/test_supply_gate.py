"""What the gate lets through: direct volts are judged by the winding behind them, and no kind is guessed."""

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.basics.tables import rows as rows_of
from benchcalc.show.supply.panel import at_load, run_words, supply_panel, with_load

COIL = '[[wire]]\nid = "w"\nalloy = "nicr-80-20"\ndiameter = "0.4 mm"\n[coil]\nwire = "w"\nlength = "2 m"\n'


def of(rectifier, no_load_v, loaded_v, kind="transformer", output="DC"):
    key = f'rectifier = "{rectifier}"\n' if rectifier else ""
    return bc.read(
        f'[sheet]\nname = "x"\n[supply]\nkind = "{kind}"\noutput = "{output}"\n{key}[[supply.reading]]\n'
        f"volts = {no_load_v}\namps = 0\n[[supply.reading]]\nvolts = {loaded_v}\namps = 1.0\n{COIL}"
    )


@pytest.mark.parametrize(
    "rectifier, passes_v, refused_v",
    # by hand, 50 V AC of IEC 61140 behind the rectifier, diodes of 0.9 V left in:
    # half wave 0.4502 x 50 - 0.45 = 22.1; bridge 0.9003 x 50 - 1.8 = 43.2; with capacitor 1.414 x 50 - 1.8 = 68.9
    [("half", 21.5, 22.6), ("bridge", 42.0, 44.2), ("bridge with capacitor", 67.0, 70.4)],
)
def test_direct_volts_are_judged_by_the_winding_behind_them(rectifier, passes_v, refused_v):
    passed = bc.work_out(of(rectifier, passes_v, 0.9 * passes_v), samples=20)
    assert not passed.supply.refused and passed.coil.coil_w > 0
    refused = bc.work_out(of(rectifier, refused_v, 0.9 * refused_v), samples=20)
    assert "winding behind the rectifier" in refused.supply.refused and np.isnan(refused.coil.coil_w)
    assert "over" in [v.state for v in refused.of("supply")]


def test_a_transformer_read_in_direct_volts_without_its_rectifier_sizes_nothing():
    workings = bc.work_out(of(None, 14.0, 12.0), samples=20)
    assert 'rectifier = "half"' in workings.supply.refused and np.isnan(workings.coil.coil_w)
    assert {v.state for v in workings.of("supply")} == {"not known"}


def test_unsmoothed_watts_are_those_that_the_heater_feels():
    # 40 V and 36 V behind a bare bridge: the mean misses 1 - 8/pi^2 of the watts (Horowitz and Hill, rectifiers)
    alternating = bc.work_out(of("none", 40.0, 36.0, output="AC"), samples=0)
    bridge = bc.work_out(of("bridge", 40.0, 36.0), samples=0)
    assert alternating.coil.coil_w / bridge.coil.coil_w == pytest.approx(8 / np.pi**2, rel=0.03)


@pytest.mark.parametrize("kind", ["electronic transformer", "LED driver", "transformer of an old valve radio"])
def test_a_kind_that_cannot_be_judged_is_refused_by_its_name(kind):
    with pytest.raises(bc.Fault, match="is refused") as told:
        of(None, 14.0, 12.0, kind=kind)
    assert "Closest" not in str(told.value)


def test_an_unknown_kind_is_not_answered_by_the_closest_one():
    with pytest.raises(bc.Fault, match="none is guessed") as told:
        of(None, 14.0, 12.0, kind="led transformer")
    assert "Closest" not in str(told.value)


@pytest.mark.parametrize(
    "rectifier, kind, output, says",
    [
        ("bridge", "battery", "DC", "does not go with a battery"),
        ("bridge", "transformer", "AC", 'says output = "AC"'),
        ("none", "transformer", "DC", "gives alternating volts"),
    ],
)
def test_a_rectifier_that_does_not_fit_is_told(rectifier, kind, output, says):
    with pytest.raises(bc.Fault, match=says):
        of(rectifier, 14.0, 12.0, kind, output)


def test_a_battery_sags_and_its_charge_lasts_as_long_as_it_lasts():
    text = '[sheet]\nname = "x"\n[supply]\nkind = "battery"\nopen = "18 V"\nsource = "0.1 ohm"\n{}' + COIL
    told = bc.work_out(bc.read(text.format("")), samples=200)
    # a lithium cell from 4.2 V full to 3.3 V empty: a fifth of the volts, a third of the watts
    assert told.bands["coil.coil_w"].low < 0.75 * told.coil.coil_w
    charged = bc.read(text.format('charge = "4 Ah"\n'))
    # by hand: 4 Ah x 0.8 over 2 A is 1.6 h
    bare, line = bc.read(text.format("")), bc.work_supply(charged)
    assert run_words(charged, line, 2.0) == "96 min (72 to 114)" and "not known" in run_words(bare, line, 2.0)
    # by hand: 72 Wh at 18 V are the same 4 Ah
    labelled = bc.read(text.format('energy = "72 Wh"\n'))
    assert run_words(labelled, line, 2.0) == "96 min (72 to 114)"
    run = bc.work_out(labelled, samples=400)
    assert run.bench.run_s == pytest.approx(4 * 0.8 / run.coil.load_a * 3600)
    assert run.bands["bench.run_s"].high > 1.2 * run.bands["bench.run_s"].low  # of the charge that is really there
    with pytest.raises(bc.Fault, match="Wh is a unit of energy"):
        bc.read(text.format('charge = "72 Wh"\n'))
    rows = dict(supply_panel(charged).good.rows)
    assert supply_panel(charged).handles["supply.mains"].min == pytest.approx(0.8)
    assert rows["one charge lasts"] == run_words(charged, line, at_load(with_load(charged))[1].load_a)


def test_the_core_carries_more_at_60_hz():
    core = (
        '[sheet]\nname = "x"\n[supply]\nkind = "transformer"\n{}core = "stacked"\ncore_width = "20 mm"\n'
        'core_stack = "20 mm"\n'
    )
    fifty, sixty = (bc.work_out(bc.read(core.format(f)), samples=0).bench for f in ("", 'frequency = "60 Hz"\n'))
    assert sixty.core_va == pytest.approx(1.2 * fifty.core_va)  # Reference Data for Radio Engineers: in proportion


def test_the_separated_way_is_told_as_the_standard_asks():
    told = {r["way"]: r["practice"] for r in rows_of("earthing")}
    assert "414.4.4" in told["metal and supply both left floating"]
    assert "not the separated way" in told["metal earthed through a conductor of its own, supply floating"]


LABELLED = '[sheet]\nname = "x"\n[supply]\nkind = "transformer"\nopen = "{} V{}"\n'


@pytest.mark.parametrize(
    "volts, how, gate, touch",
    # small transformers rise by 10 to 50 % without load (common practice); IEC 61140: 50 V and 25 V, alternating
    [
        (12, "", "fine", "fine"),
        (20, "", "fine", "not known"),  # 30 V
        (40, "", "not known", "over"),  # 60 V
        (40, " +- 1 V", "not known", "over"),  # a band is no meter
        (32, "", "fine", "over"),  # 48 V
        (32, " +- 3 V", "not known", "over"),  # 52.5 V
        (40, " with cheap multimeter", "fine", "over"),
        (20, " with cheap multimeter", "fine", "fine"),
    ],
)
def test_volts_of_a_label_are_volts_under_load(volts, how, gate, touch):
    build = bc.read(LABELLED.format(volts, how))
    loaded = bc.read(f"{LABELLED.format(volts, how)}[[supply.reading]]\nvolts = {0.95 * volts}\namps = 1\n")
    for sheet in (build, loaded):  # a reading with a load says nothing of the volts without one
        states = {v.what: v.state for _, v in bc.work_out(sheet, samples=0).verdicts}
        assert states["no-load voltage, AC"] == gate and states["touch with dry hands, AC"] == touch


def test_a_reading_without_load_is_what_a_label_wants():
    idle = bc.read(LABELLED.format(40, "") + "[[supply.reading]]\nvolts = 41\namps = 0\n")
    states = {v.what: v.state for _, v in bc.work_out(idle, samples=0).verdicts}
    assert states["no-load voltage, AC"] == "fine"
