"""What can be said with little: one reading, no load only, too much wanted, a former too short."""

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.chain.verdict import Limit, judge, unknown, worst_state

HEAD = '[sheet]\nname = "x"\n[supply]\nkind = "transformer"\n'
LOADED = "[[supply.reading]]\nvolts = 16.1\namps = 1.61\n"
NO_LOAD = "[[supply.reading]]\nvolts = 18.2\namps = 0\n"
WIRE = (
    '[[wire]]\nid = "w"\nalloy = "cuni-44"\ngauge = "28 SWG"\n'
    '[coil]\nwire = "w"\nwire_temperature = "20 degC"\n{}\n[coil.tails]\nohm = "0 ohm"\n'
)
FORMER = '[[part]]\nid = "core"\nfrom = "0 mm"\nto = "{} mm"\nouter = "6 mm"\n'


def verdict(out, what):
    return next(v for _, v in out.verdicts if v.what == what)


def test_a_supply_alone_works():
    out = bc.work_out(bc.read(HEAD + NO_LOAD + LOADED))
    # by hand: (18.2 - 16.1)/1.61 = 1.3043 ohm; 18.2^2/(4 x 1.3043) = 63.49 W
    assert out.supply.source_ohm == pytest.approx(1.3043, rel=1e-4) and out.supply.most_power_w == pytest.approx(
        63.49, rel=1e-3
    )
    assert out.wire is None and out.coil is None and verdict(out, "wire").state == "not known"
    assert "One more load" in out.supply.next_reading


def test_nothing_at_all_says_so():
    out = bc.work_out(bc.read('[sheet]\nname = "x"\n'))
    assert (out.supply, out.wire, out.coil) == (None, None, None) and {v.state for _, v in out.verdicts} == {
        "not known"
    }


def coil_of_ohms(ohm):
    """The sheet with one reading and a coil of this resistance: measured wire, 1 m of it."""
    wire = WIRE.format('length = "1 m"').replace(
        'gauge = "28 SWG"', f'gauge = "28 SWG"\nmeasured_ohm = {ohm}\nmeasured_length = "1 m"'
    )
    return bc.read(HEAD + LOADED + wire)


def test_one_reading_is_exact_at_its_own_load():
    # Ohm's law: 16.1 V at 1.61 A is 10 ohm and 25.921 W, whatever lies behind
    out = bc.work_out(coil_of_ohms(10.0))
    assert out.coil.load_v == pytest.approx(16.1, rel=1e-12) and out.coil.load_a == pytest.approx(1.61, rel=1e-12)
    assert out.coil.coil_w == pytest.approx(16.1 * 1.61, rel=1e-12)
    for share in (0.0, 0.15, 0.5):  # the assumed source resistance does not matter there
        assert bc.links(bc.change(coil_of_ohms(10.0), "supply.source_share", share))[2].coil_w == pytest.approx(
            25.921, rel=1e-12
        )


def test_one_reading_is_less_and_less_sure_away_from_it():
    def width(ohm):
        drawn = bc.sample(coil_of_ohms(ohm), 400)
        for exact in ("mains", "warming"):
            drawn = bc.change(drawn, f"supply.{exact}", 1.0)
        for exact, value in (("volts_v", 16.1), ("amps_a", 1.61)):
            drawn = bc.change(drawn, f"supply.reading.0.{exact}", value)
        drawn = bc.change(bc.change(drawn, "wire.w.measured_ohm", ohm), "wire.w.factor_place", 0.0)
        watts = bc.links(drawn)[2].coil_w
        return np.ptp(watts) / np.mean(watts)

    assert width(10.0) < 1e-9 < width(12.0) < width(20.0)


def test_one_reading_says_what_stays_unknown_and_what_to_read_next():
    out = bc.work_out(bc.read(HEAD + LOADED))
    assert out.supply.how == "one reading" and np.isnan(out.supply.most_power_w)
    assert out.supply.unknown == ("the open-circuit voltage", "the source resistance", "the most it can give")
    assert "no load" in out.supply.next_reading
    told = verdict(out, "supply line")
    assert told.state == "not known" and "source resistance" in told.why and "no load" in told.why
    assert verdict(out, "no-load voltage, AC").state == "not known"


def test_one_loaded_reading_above_the_limit_is_refused():
    out = bc.work_out(bc.read(HEAD + "[[supply.reading]]\nvolts = 55\namps = 1\n"))
    assert out.supply.refused and verdict(out, "no-load voltage, AC").state == "over"


@pytest.mark.parametrize(
    "reading, refused",
    [
        ("volts = 45\namps = 1", True),  # half as much again with no load: 67 V
        ("volts = 49.8\namps = 0", True),  # within one per cent of the meter of 50 V
        ("volts = 30\namps = 1", False),
        ("volts = 48\namps = 0", False),
    ],
)
def test_a_supply_whose_doubt_reaches_past_the_limit_sizes_nothing(reading, refused):
    """50 V AC with no load ends extra-low voltage: IEC 61140."""
    sheet = HEAD + f"[[supply.reading]]\n{reading}\n" + WIRE.format('length = "1 m"') + '[want]\npower = "20 W"\n'
    out = bc.work_out(bc.read(sheet))
    assert bool(out.supply.refused) == refused
    if refused:
        assert verdict(out, "no-load voltage, AC").state == "not known" and "up to" in out.supply.refused
        assert np.isnan(out.coil.coil_w) and np.isnan(out.wire.length_m)
        assert np.isnan(out.bands["coil.coil_w"].high)
        many = bc.links(bc.change(bc.read(sheet), "coil.length_m", np.array([0.5, 1.0])))[2]
        assert np.all(np.isnan(many.coil_w))


def test_no_load_only():
    out = bc.work_out(bc.read(HEAD + NO_LOAD + WIRE.format('length = "1 m"') + '[want]\npower = "20 W"\n'))
    assert out.supply.open_v == 18.2 and np.isnan(out.supply.source_ohm) and out.supply.how == "no load reading yet"
    assert "one load" in out.supply.next_reading and "the source resistance" in out.supply.unknown
    assert verdict(out, "no-load voltage, AC").state in ("fine", "tight")
    assert np.isnan(out.coil.coil_w) and np.isnan(out.wire.length_m) and out.coil.cold_ohm > 0


def test_typed_open_volts_and_one_load_are_two_points():
    out = bc.work_supply(bc.read(HEAD + 'open = "18.2 V"\n' + LOADED))
    assert (
        out.open_v == pytest.approx(18.2) and out.source_ohm == pytest.approx((18.2 - 16.1) / 1.61) and not out.unknown
    )


def test_typed_source_resistance_and_one_load_make_a_line():
    out = bc.work_supply(bc.read(HEAD + 'source = "1.3 ohm"\n' + LOADED))
    assert out.source_ohm == pytest.approx(1.3) and out.open_v == pytest.approx(16.1 + 1.3 * 1.61)


def test_two_readings_without_load_are_one():
    text = HEAD + NO_LOAD + NO_LOAD.replace("18.2", "18.1")
    try:
        build = bc.read(text)
    except bc.Fault:
        return  # told when the sheet is read: good as well
    assert bc.work_supply(build).how == "no load reading yet"


def test_readings_above_a_typed_voltage_are_told():
    # 12 V typed, 100 V read: one of them is wrong, and one of them is dangerous
    text = HEAD + 'open = "12 V"\nsource = "1 ohm"\n[[supply.reading]]\nvolts = 100\namps = 0\n'
    try:
        out = bc.work_out(bc.read(text))
    except bc.Fault:
        return
    assert out.supply.refused


@pytest.mark.parametrize("wanted, state", [(30.0, "fine"), (60.0, "tight"), (64.0, "over")])
def test_wanted_power_above_the_most_says_the_most(wanted, state):
    text = HEAD + NO_LOAD + LOADED + WIRE.format("") + f'[want]\npower = "{wanted} W"\n'
    out = bc.work_out(bc.read(text))
    told = verdict(out, "most power for the coil, against the wanted power")
    assert told.state == state and "63.5 W" in told.why and told.value == pytest.approx(63.49, rel=1e-3)
    assert told.limit == wanted and told.sense == "at least" and 0 < told.band.low < told.value < told.band.high
    assert np.isnan(out.wire.length_m) == (state == "over")


@pytest.mark.parametrize("to_mm, fits", [(60, True), (30, False)])
def test_a_former_too_short_says_by_how_much(to_mm, fits):
    coil = 'on = "core"\nlength = "733 mm"\npitch = "1 mm"\nend_room = "3 mm"\nanchor_turns = 2'
    build = bc.read(HEAD + NO_LOAD + LOADED + WIRE.format(coil) + FORMER.format(to_mm))
    out = bc.work_out(build)
    told = verdict(out, "length of the winding")
    # by hand: wire 0.0148 in = 0.37592 mm, mean diameter 6.37592 mm, turn sqrt((pi 6.37592)^2 + 1) = 20.0553 mm,
    # 36.549 turns, winding 36.925 mm; room = to - 2 (3 + 2 x 0.37592)
    short_mm = to_mm - 2 * (3 + 2 * 0.37592) - 36.925
    assert told.state == ("fine" if fits else "over")
    assert told.margin == pytest.approx(short_mm / 1e3, abs=2e-6)
    assert f"{abs(short_mm):.1f} mm" in told.why
    if not fits:  # the former it names is the smallest: at the tightest pitch it fits exactly, or the bend decides
        bigger = bc.change(
            bc.change(build, "part.core.outer_m", out.coil.smallest_former_m), "coil.pitch_m", 2 * 0.37592e-3
        )
        assert f"at least {bc.say('former_m', out.coil.smallest_former_m)} thick" in told.why
        assert bc.links(bigger)[2].spare_m == pytest.approx(0, abs=1e-9)


def test_length_for_the_wanted_power_gives_that_power():
    text = HEAD + NO_LOAD + LOADED + WIRE.format("") + '[want]\npower = "25 W"\n'
    build = bc.read(text)
    out = bc.work_out(build, samples=0)
    assert out.coil.coil_w == pytest.approx(25, rel=1e-9) and out.wire.length_m > out.wire.short_length_m
    other = bc.links(bc.change(build, "coil.length_m", out.wire.short_length_m))[2]
    assert other.coil_w == pytest.approx(25, rel=1e-9) and other.source_loss_w > 5 * out.coil.source_loss_w
    tails = bc.links(bc.change(build, "coil.tails.resistance_ohm", 0.5))
    assert tails[2].coil_w == pytest.approx(25, rel=1e-9) and tails[1].length_m < out.wire.length_m


def test_measured_ohms_win_over_the_table():
    wire = WIRE.format('length = "1 m"').replace(
        "gauge", 'measured_ohm = 9.0\nleads_ohm = 0.2\nmeasured_length = "2 m"\ngauge'
    )
    out = bc.work_out(bc.read(HEAD + NO_LOAD + LOADED + wire))
    assert (
        out.wire.measured
        and out.wire.linear_ohm_per_m == pytest.approx(4.4)
        and out.coil.cold_ohm == pytest.approx(4.4)
    )
    assert out.wire.table_ohm_per_m == pytest.approx(4.9e-7 / (np.pi / 4 * 0.37592e-3**2), rel=1e-4)
    assert verdict(out, "measured against tabulated ohms per metre").state in ("fine", "tight")


def test_the_unnamed_alloy_holds_the_common_reading():
    # Common practice, no source: 56 cm of 32 AWG Fe-Cr-Al reads about 26 ohm with leads (0.2 to 0.5 ohm).
    text = '[sheet]\nname = "x"\n[[wire]]\nid = "w"\nalloy = "fecral"\ngauge = "32 AWG"\n'
    text += '[coil]\nwire = "w"\nlength = "56 cm"\n'
    build = bc.read(text)
    ends = build.known["wire.w.resistivity_ohm_m"]
    low, high = (bc.links(bc.change(build, "wire.w.resistivity_ohm_m", x))[2].cold_ohm for x in (ends.low, ends.high))
    assert low < 26 - 0.5 and high > 26 - 0.2


@pytest.mark.parametrize("share, what", [(0.90, "touch"), (1.00, "Inside"), (1.10, "high")])
def test_the_finished_coil_is_checked(share, what):
    text = HEAD + NO_LOAD + LOADED + WIRE.format('on = "core"\nlength = "733 mm"\npitch = "1 mm"') + FORMER.format(60)
    wire = text.replace("gauge", 'measured_ohm = "4.4 ohm +- 0.02 ohm"\nmeasured_length = "1 m"\ngauge')
    plan = bc.work_out(bc.read(wire)).coil
    out = bc.work_out(bc.read(wire + f"[as_built]\ncold_ohm = {plan.meter_ohm * share}\n"))
    told = verdict(out, "cold ohms of the finished coil")
    assert what in told.why and told.state == ("fine" if share == 1 else "over")
    if share < 1:  # a tenth of the ohms is a tenth of the turns
        assert f"{0.1 * plan.meter_ohm / plan.one_turn_ohm:.1f} turns" in told.why


def test_verdict_states():
    from benchcalc.basics.band import Band

    def state(value, low, high, sense="at most"):
        return judge("x", "load_w", value, Limit(10.0, sense, "s"), why="w", band=Band(value, low, high)).state

    assert (state(8, 7, 9), state(8, 7, 11), state(11, 9, 12)) == ("fine", "tight", "over")
    assert (state(12, 11, 13, "at least"), state(12, 9, 13, "at least"), state(9, 8, 12, "at least")) == (
        "fine",
        "tight",
        "over",
    )
    assert judge("x", "load_w", float("nan"), Limit(10.0, "at most", "s"), why="w").state == "not known"
    many = judge("x", "load_w", np.array([8.0, 12.0, np.nan]), Limit(10.0, "at most", "s"), why="w")
    assert list(many.state) == ["fine", "over", "not known"]
    # past the limit by less than a page shows ("48, at most 48") is tight, alone and in an array; volts are over
    assert judge("x", "open_v", 50.04, Limit(50.0, "at most", "s"), why="w").state == "over"
    skin = judge("x", "grip_c", np.array([47.9, 48.4, 48.6]), Limit(48.0, "at most", "s"), why="w")
    alone = [judge("x", "grip_c", c, Limit(48.0, "at most", "s"), why="w").state for c in (47.9, 48.4, 48.6)]
    assert list(skin.state) == alone == ["fine", "tight", "over"]
    over = judge("x", "load_w", 12.0, Limit(10.0, "at most", "s"), why="w")
    assert over.margin == -2 and worst_state([over, unknown("y", "load_w", why="w")]) == "over"
    advice = judge("x", "load_w", 12.0, Limit(10.0, "at most", "s", advice=True), why="w")
    assert worst_state([advice]) == "tight" and worst_state([]) == "does not apply"


OWN = """[sheet]
name = "own"
[supply]
kind = "transformer"
reading = [{volts = 14.1, amps = 0}, {volts = 12.6, amps = 1.9}]
[[wire]]
id = "reel"
alloy = "fecral"
gauge = "30 SWG"
[coil]
wire = "reel"
on = "rod"
[[part]]
id = "rod"
material = "mild steel"
role = "stem"
from = "0 mm"
to = "55 mm"
outer = "7 mm"
[[part]]
id = "tube"
material = "mild steel"
role = "tube"
from = "0 mm"
to = "120 mm"
inner = "8 mm"
outer = "10 mm"
[[layer]]
between = ["rod", "coil"]
material = "mica"
thickness = "0.3 mm"
[want]
power = "25 W"
"""


def test_a_coil_that_cannot_enter_its_tube_is_over():
    """By hand: 7 + 2 x 0.3 + 2 x 0.315 = 8.23 mm does not go into 8 mm."""
    verdict = next(v for _, v in bc.work_out(bc.read(OWN)).verdicts if v.what == "wound coil in the bore of the tube")
    assert verdict.state == "over" and verdict.value == pytest.approx(8.23e-3, abs=1e-5)
    wider = bc.work_out(bc.read(OWN.replace('"8 mm"', '"9 mm"')))
    assert next(v for _, v in wider.verdicts if v.what == "wound coil in the bore of the tube").state == "fine"


def test_without_a_length_the_bands_are_those_of_the_wire_that_will_be_cut():
    """By hand: 327 mm of 17.58 ohm/m and 0.1 ohm of tails; a quarter up or down is the unnamed alloy, not the mains."""
    out = bc.work_out(bc.read(OWN))
    assert out.coil.length_m == pytest.approx(out.wire.length_m)
    band = out.bands["coil.meter_ohm"]
    assert band.low / band.nominal > 0.8 and band.high / band.nominal < 1.2
    assert out.bands["coil.coil_w"].high > 1.1 * out.coil.coil_w  # mains swing shows in the watts


def test_a_pitch_that_fills_the_room_leaves_exactly_nothing():
    out = bc.work_out(bc.read(OWN))
    assert out.coil.spare_m == 0.0
    assert next(v for _, v in out.verdicts if v.what == "length of the winding").state == "fine"


def test_a_missing_mounting_is_said():
    verdict = next(v for _, v in bc.work_out(bc.read(OWN)).verdicts if v.what == "surface load of the wire")
    assert verdict.state == "not known" and "mounting" in verdict.why


def test_a_key_in_the_wrong_section_is_sent_to_its_own():
    with pytest.raises(bc.Fault, match=r"measured_ohm: is not a key here. It belongs in .*wire"):
        bc.read(OWN.replace('on = "rod"', 'on = "rod"\nmeasured_ohm = 3'))


def test_a_misspelt_meter_is_told_at_its_own_line():
    text = '[sheet]\nname = "a"\n[supply]\nkind = "transformer"\n[[supply.reading]]\nvolts = 12\n'
    text += 'amps = 1\nwith = "cheep multimeter"\n'
    with pytest.raises(bc.Fault, match=r"line 8, supply\.reading 1\.with: 'cheep multimeter'"):
        bc.read(text)
