"""Soak, core, fuse and cable on a sheet: judged, banded, and refused where the readings cannot be."""

import numpy as np
import pytest

import benchcalc as bc

HEAD = '[sheet]\nname = "x"\n[supply]\nkind = "transformer"\nopen = "12 V"\nsource = "0.5 ohm"\n'
WIRE = (
    '[[wire]]\nid = "w"\nalloy = "cuni-44"\ngauge = "30 SWG"\n'
    '[coil]\nwire = "w"\nlength = "1 m"\nwire_temperature = "200 degC"\n'
)
SOAK = '[soak]\ncold_ohm = 58.0\ncold_room = "20 degC"\nend_room = "22 degC"\namps = 2.0\n'


def hours(*rows):
    return "".join(f"[[soak.hour]]\nhours = {h}\nohm = {r}\n" for h, r in rows)


def cooling(*rows):
    return "".join(f"[[soak.cooling]]\nseconds = {s}\nohm = {r}\n" for s, r in rows)


SETTLED = hours((1, 68.5), (2, 69.8), (3, 69.97), (4, 70.0))


def bench(text):
    out = bc.work_out(bc.read(HEAD + text), samples=50)
    return out, {v.what: v for v in out.of("bench")}


def test_one_reading_at_switch_off_gives_the_rise_worked_by_hand():
    # IEC 61558-1 clause 14.2 with 234.5: 12/58 x 254.5 - 2 = 50.66 K
    out, by = bench(SOAK + cooling((0, 70.0)))
    assert out.bench.winding_rise_k == pytest.approx(50.66, abs=0.01)
    told = by["supply's winding after hours of load"]
    assert told.state == "not known" and "nobody knows whether it had settled" in told.why
    out, by = bench(SOAK + SETTLED + cooling((0, 70.0)))
    assert by["supply's winding after hours of load"].value == pytest.approx(72.66, abs=0.01)
    assert (
        by["supply's winding after hours of load"].state == "fine"
        and "check the standard" in by["supply's winding after hours of load"].source
    )


def test_readings_while_cooling_are_followed_back_and_the_first_alone_reads_low():
    rows = [(s, round(58 + 12 * np.exp(-s / 900), 2)) for s in (30, 75, 120, 180)]
    out, _ = bench(SOAK + cooling(*rows))
    assert out.bench.winding_rise_k == pytest.approx(50.66, abs=0.3)
    first, _ = bench(SOAK + cooling(rows[0]))
    assert first.bench.winding_rise_k < out.bench.winding_rise_k - 1
    assert "One reading" in first.bench.said


def test_the_class_by_number_moves_the_limit():
    hot = hours((1, 85.0), (2, 87.6), (3, 87.9), (4, 88.0)) + cooling((0, 88.0))
    limits = [
        bench(SOAK + f"class = {c}\n" + hot)[1]["supply's winding after hours of load"]
        for c in (105, 120, 130, 155, 180)
    ]
    assert (
        [v.limit for v in limits] == sorted(v.limit for v in limits)
        and limits[0].state == "over"
        and limits[-1].state == "fine"
    )
    with pytest.raises(bc.Fault, match="Classes go by their number"):
        bc.read(HEAD + SOAK + "class = 110\n")


def test_a_short_soak_says_so_and_a_long_one_leads_further():
    def rows(*at):
        return hours(*((h, round(58 + 12.7 * (1 - np.exp(-h / 1.4)), 2)) for h in at))

    long, by = bench(SOAK.replace("22 degC", "20 degC") + rows(0.5, 1, 2, 3, 4))
    # 12.7 ohm more than cold, by hand: 12.7/58 x 254.5 = 55.7 K
    assert long.bench.settled_k == pytest.approx(55.73, abs=0.1) and long.bench.reached > 0.9
    drifting, _ = bench(SOAK + rows(0.5, 1, 2, 3, 4))
    assert drifting.bench.settled_k == pytest.approx(55.73 - 2, abs=1.0)
    short, by_short = bench(SOAK + rows(0.2, 0.4, 0.6))
    assert short.bench.reached < 0.5 and "too short" in by_short["supply's winding, where the hours lead"].why


HOURS = "supply's winding after hours of load"


@pytest.mark.parametrize("amps, says", [("amps = 0.1\n", "Test again"), ("", "no amps")])
def test_a_soak_with_too_few_amps_or_none_told_is_not_known(amps, says):
    test = WIRE + SOAK.replace("amps = 2.0\n", amps)
    _, by = bench(test + hours((1, 66.0), (2, 69.0), (3, 69.8), (4, 70.0)))
    for what in (HOURS, "supply's winding, where the hours lead"):
        assert by[what].state == "not known" and says in by[what].why
    _, by = bench(test + cooling((0, 90.0)))
    assert by[HOURS].state == "over" and says in by[HOURS].why  # too hot at any amps stays too hot


def test_the_most_that_the_coil_may_draw_counts_in_the_winding():
    """Copper's heat goes with the square of the current: high mains over the amps of the test."""
    out, by = bench(WIRE + SOAK.replace("2.0", "1.75") + SETTLED + cooling((0, 70.0)))
    band, used = by[HOURS].band, out.bands["bench.winding_a"]
    assert used.nominal < 1.05 * 1.75 < used.high
    assert band.high - 22 == pytest.approx((out.bands["bench.winding_c"].high - 22) * (used.high / 1.75) ** 2)


def test_no_soak_is_not_known_and_another_kind_is_not_judged_by_it():
    _, by = bench("")
    assert by["supply's winding after hours of load"].state == "not known"
    out = bc.work_out(bc.read('[sheet]\nname = "x"\n[supply]\nkind = "bench supply"\nopen = "12 V"\nlimit = "3 A"\n'))
    assert out.of("bench")[0].state == "does not apply"


def test_the_gain_error_of_one_meter_drops_out_of_the_rise():
    both = bc.sample(bc.read(HEAD + SOAK + cooling((0, 70.0))), 400)
    from benchcalc.chain.bench.link import rise_of

    shared = np.std(rise_of(both)[0])
    apart = bc.sample(
        bc.read(HEAD + SOAK.replace("58.0", '"58.0 ohm +- 0.784 ohm"') + cooling((0, '"70.0 ohm +- 0.9 ohm"'))), 400
    )
    assert 0 < shared < 0.7 * np.std(rise_of(apart)[0])


def test_a_cable_takes_volts_and_lowers_the_short():
    # two cores of 5 m and 0.5 mm2: 2 x 1.7241e-8 x 5/0.5e-6 = 0.345 ohm
    bare, _ = bench(WIRE)
    long, _ = bench(WIRE.replace("[[wire]]", '[supply.cable]\nlength = "5 m"\nsection = "0.5 mm2"\n[[wire]]'))
    assert long.bench.cable_ohm == pytest.approx(0.34482, rel=1e-4)
    assert long.coil.load_a < bare.coil.load_a and long.bench.short_a < bare.bench.short_a
    loop = long.supply.source_in_use_ohm + long.coil.hot_ohm + long.coil.meter_ohm - long.coil.cold_ohm
    assert long.coil.load_a == pytest.approx(12 / loop, rel=1e-6)


@pytest.mark.parametrize(
    "kind, says",
    [
        ("bell transformer", "short loads|few seconds"),
        ("microwave transformer", "2000 V"),
        ("LiPo", "burn or burst"),
        ("dimmer", "full mains"),
        ("autotransformer", "connected to the mains"),
    ],
)
def test_a_refused_kind_says_why_and_what_instead(kind, says):
    with pytest.raises(bc.Fault, match=says) as told:
        bc.read(f'[sheet]\nname = "x"\n[supply]\nkind = "{kind}"\n')
    assert told.value.complaints[0].do and told.value.complaints[0].line == 4


@pytest.mark.parametrize(
    "text, says",
    [
        (SOAK + cooling((30, 57.0)), "not above the cold 58 ohm"),
        (SOAK + hours((1, 57.0)), "not above the cold 58 ohm"),
        ("[soak]\n" + cooling((30, 60.0)), "cold_ohm: is missing"),
        (SOAK + cooling((30, 60.0), (30, 61.0)), "stands twice"),
        (SOAK + "[[soak.cooling]]\nseconds = 30\n", "needs both seconds and ohm"),
    ],
)
def test_soak_readings_that_cannot_be(text, says):
    with pytest.raises(bc.Fault, match=says):
        bc.read(HEAD + text)


def test_cooling_readings_that_do_not_fall_are_no_answer():
    _, by = bench(SOAK + cooling((40, 67.6), (90, 67.1), (150, 69.6)))
    assert (
        by["supply's winding after hours of load"].state == "not known"
        and "do not fall" in by["supply's winding after hours of load"].why
    )
