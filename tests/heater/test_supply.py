"""The supply's line: hand case, properties, fits against numpy and scipy, limits and refusal."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import stats
from scipy.optimize import minimize_scalar

import benchcalc as bc
from benchcalc.basics.fault import Fault
from benchcalc.heater import supply as s

VOLTS = st.floats(1, 50)
SOURCE = st.floats(0.05, 20)
LOAD = st.floats(0.01, 1000)


def test_hand_case_of_the_load_line():
    # Worked by hand from Thevenin's theorem: 12 V behind 2 ohm into 4 ohm.
    # I = 12/(2 + 4) = 2 A; U = 2 x 4 = 8 V; P = 16 W; inside 2^2 x 2 = 8 W; 24 W in all.
    # Most power at 2 ohm: 6 V, 3 A, 18 W.  16 W again at R with R x 4 = 2^2: 1 ohm: 4 A, 4 V.
    assert s.load_current(12.0, 2.0, 4.0) == 2.0
    assert s.load_voltage(2.0, 4.0) == 8.0 and s.load_power(2.0, 4.0) == 16.0
    assert s.most_power(12.0, 2.0) == 18.0 and s.most_with_limit(12.0, 2.0, None) == (18.0, 2.0)
    assert s.higher_resistance(12.0, 2.0, 16.0) == pytest.approx(4.0, rel=1e-12)
    assert s.lower_resistance(12.0, 2.0, 16.0) == pytest.approx(1.0, rel=1e-12)
    assert s.regulation_of(12.0, 8.0) == 0.5
    assert s.source_from_two(12.0, 0.0, 8.0, 2.0) == 2.0 and s.open_from_two(8.0, 2.0, 2.0) == 12.0


@given(VOLTS, SOURCE, LOAD)
def test_power_is_never_above_the_most(open_v, source_ohm, load_ohm):
    watts = s.load_power(s.load_current(open_v, source_ohm, load_ohm), load_ohm)
    assert watts <= s.most_power(open_v, source_ohm) * (1 + 1e-12)


@given(VOLTS, SOURCE, st.floats(0.01, 20), LOAD)
def test_power_is_never_above_the_most_with_a_limit(open_v, source_ohm, limit_a, load_ohm):
    most_w, at_ohm = s.most_with_limit(open_v, source_ohm, limit_a)
    for kind in ("bench supply", "switching supply"):
        volts, amps, _ = s.working_point(kind, open_v, source_ohm, limit_a, load_ohm)
        assert volts * amps <= most_w * (1 + 1e-9)
    volts, amps, _ = s.working_point("bench supply", open_v, source_ohm, limit_a, at_ohm)
    assert volts * amps == pytest.approx(most_w, rel=1e-9)


@given(VOLTS, SOURCE)
def test_the_most_power_is_found_by_a_search_too(open_v, source_ohm):
    # scipy.optimize.minimize_scalar over the logarithm of the load
    found = minimize_scalar(
        lambda x: -s.load_power(s.load_current(open_v, source_ohm, np.exp(x)), np.exp(x)),
        bounds=(np.log(1e-3), np.log(1e3)),
        method="bounded",
        options={"xatol": 1e-7},
    )
    assert -found.fun == pytest.approx(s.most_power(open_v, source_ohm), rel=1e-6)
    assert np.exp(found.x) == pytest.approx(source_ohm, rel=1e-2)


@given(VOLTS, SOURCE, st.floats(1.0, 100), st.floats(1.0001, 5))
def test_more_wire_never_gives_more_watts_on_the_higher_branch(open_v, source_ohm, ratio, longer):
    def watts(load_ohm):
        return s.load_power(s.load_current(open_v, source_ohm, load_ohm), load_ohm)

    assert watts(source_ohm * ratio * longer) <= watts(source_ohm * ratio) * (1 + 1e-12)
    assert watts(source_ohm / ratio / longer) <= watts(source_ohm / ratio) * (1 + 1e-12)  # the other branch falls too


@given(VOLTS, SOURCE, st.floats(0.02, 0.98))
def test_both_resistances_give_the_power_and_multiply_to_the_source_squared(open_v, source_ohm, share):
    wanted_w = share * s.most_power(open_v, source_ohm)
    high = s.higher_resistance(open_v, source_ohm, wanted_w)
    low = s.lower_resistance(open_v, source_ohm, wanted_w)
    assert low <= source_ohm <= high
    assert high * low == pytest.approx(source_ohm**2, rel=1e-6)
    for load in (high, low):
        assert s.load_power(s.load_current(open_v, source_ohm, load), load) == pytest.approx(wanted_w, rel=1e-6)


@given(VOLTS, SOURCE, st.floats(1.001, 50))
def test_power_out_of_reach_has_no_resistance(open_v, source_ohm, share):
    with np.errstate(invalid="ignore"):
        wanted_w = share * s.most_power(open_v, source_ohm)
        assert np.isnan(s.higher_resistance(np.float64(open_v), source_ohm, wanted_w))
        assert np.isnan(s.lower_resistance(np.float64(open_v), source_ohm, wanted_w))


@given(VOLTS, SOURCE, LOAD)
def test_energy_in_is_energy_out(open_v, source_ohm, load_ohm):
    amps = s.load_current(open_v, source_ohm, load_ohm)
    assert open_v * amps == pytest.approx(s.load_power(amps, load_ohm) + s.load_power(amps, source_ohm), rel=1e-12)


@given(VOLTS, SOURCE, st.floats(0, 3), st.floats(0.05, 3))
def test_two_readings_are_exact(open_v, source_ohm, first_a, step_a):
    amps = np.array([first_a, first_a + step_a])
    volts = open_v - source_ohm * amps
    got_v, got_ohm = s.line_through(volts, amps)
    assert (got_v, got_ohm) == (pytest.approx(open_v, rel=1e-9), pytest.approx(source_ohm, rel=1e-7))
    by_hand = s.source_from_two(volts[0], amps[0], volts[1], amps[1])
    assert by_hand == pytest.approx(source_ohm, rel=1e-7)
    assert s.open_from_two(volts[1], amps[1], by_hand) == pytest.approx(open_v, rel=1e-7)
    quality = s.judge_line(volts, amps, 0.05)
    assert quality.straight is None and quality.odd is None and np.isnan(quality.source_error_ohm)


@given(VOLTS, SOURCE, st.lists(st.floats(-0.2, 0.2), min_size=3, max_size=8))
def test_the_fit_and_its_errors_equal_scipy_and_numpy(open_v, source_ohm, noise):
    assume(np.ptp(noise) > 1e-3)
    amps = np.linspace(0.0, 2.5, len(noise))
    volts = open_v - source_ohm * amps + np.array(noise)
    assume(stats.linregress(amps, volts).slope < -1e-3)
    got_v, got_ohm = s.line_through(volts, amps)
    quality = s.judge_line(volts, amps, 0.05)
    fit = stats.linregress(amps, volts)
    assert (got_v, got_ohm) == (pytest.approx(fit.intercept, rel=1e-9), pytest.approx(-fit.slope, rel=1e-7, abs=1e-9))
    assert quality.source_error_ohm == pytest.approx(fit.stderr, rel=1e-6, abs=1e-9)
    assert quality.open_error_v == pytest.approx(fit.intercept_stderr, rel=1e-6, abs=1e-9)
    # numpy.polyfit scales its covariance by the residuals over k - 2 unless told not to
    line, cov = np.polyfit(amps, volts, 1, cov=True) if len(noise) > 3 else (np.polyfit(amps, volts, 1), None)
    assert got_v == pytest.approx(line[1], rel=1e-9)
    if cov is not None:
        assert quality.source_error_ohm == pytest.approx(np.sqrt(cov[0, 0]), rel=1e-6, abs=1e-9)
        assert quality.open_error_v == pytest.approx(np.sqrt(cov[1, 1]), rel=1e-6, abs=1e-9)


def test_samples_side_by_side_give_the_fits_one_by_one():
    rng = np.random.default_rng(2)
    amps = np.array([0.0, 1.1, 1.6, 2.2])[:, None] + rng.uniform(-0.02, 0.02, (4, 7))
    volts = 18.2 - 1.3 * amps + rng.uniform(-0.05, 0.05, (4, 7))
    together = s.line_through(volts, amps)
    for i in range(7):
        assert (together[0][i], together[1][i]) == pytest.approx(s.line_through(volts[:, i], amps[:, i]), rel=1e-12)


AMPS = np.array([0.0, 1.1, 1.7, 2.4])


@pytest.mark.parametrize("odd", range(4))
def test_one_odd_reading_of_four_is_pointed_out(odd):
    volts = 18.2 - 1.3 * AMPS
    volts[odd] += 1.0
    quality = s.judge_line(volts, AMPS, 0.03)
    assert quality.straight is False and quality.odd == odd


@pytest.mark.parametrize("odd", range(3))
def test_with_three_readings_none_is_accused(odd):
    volts = 18.2 - 1.3 * AMPS[:3]
    volts[odd] += 1.0
    quality = s.judge_line(volts, AMPS[:3], 0.03)
    assert quality.straight is False and quality.odd is None


def test_a_bend_is_no_odd_reading_and_a_straight_line_is_straight():
    quality = s.judge_line(18.2 - 0.5 * AMPS**2, AMPS, 0.03)
    assert quality.straight is False and quality.odd is None
    quality = s.judge_line(18.2 - 1.3 * AMPS + np.array([0.02, -0.02, 0.02, -0.02]), AMPS, 0.03)
    assert quality.straight is True and quality.odd is None
    assert quality.residual_v.sum() == pytest.approx(0, abs=1e-12)


@pytest.mark.parametrize("volts, amps", [([18.2], [0.0]), ([18.2, 18.1], [1.0, 1.0])])
def test_no_line_without_two_currents(volts, amps):
    with pytest.raises(Fault, match="two different currents"):
        s.line_through(volts, amps)


@pytest.mark.parametrize("readings", [[(12.0, 0.0), (13.0, 1.0)], [(10.0, 0.0), (5.0, 0.1), (5.1, 0.2), (9.9, 2.0)]])
def test_a_sheet_whose_readings_rise_is_refused(readings):
    # second case: the ends fall, but the line through all of it rises
    text = '[sheet]\nname = "rising"\n[supply]\nkind = "transformer"\n' + "".join(
        f"[[supply.reading]]\nvolts = {v}\namps = {a}\n" for v, a in readings
    )
    with pytest.raises(Fault, match="rise"):
        bc.work_supply(bc.read(text))


def test_a_trip_gives_nothing_and_a_limit_holds_its_current():
    # by hand: 12 V stiff, 5 A: 2 ohm would take 6 A; 4 ohm takes 3 A
    assert s.working_point("switching supply", 12.0, 0.0, 5.0, 2.0) == (0.0, 0.0, True)
    assert s.working_point("switching supply", 12.0, 0.0, 5.0, 4.0) == (12.0, 3.0, False)
    assert s.working_point("bench supply", 12.0, 0.0, 5.0, 2.0) == (10.0, 5.0, True)
    assert s.working_point("bench supply", 12.0, 0.0, 5.0, 4.0) == (12.0, 3.0, False)
    assert s.working_point("battery", 12.0, 0.0, 5.0, 2.0) == (12.0, 6.0, True)  # warned of, not limited
    assert s.most_with_limit(12.0, 0.0, 5.0) == (60.0, pytest.approx(2.4))
    assert s.most_with_limit(12.0, 2.0, 1.0) == (10.0, 10.0)
    assert s.most_with_limit(12.0, 0.0, None) == (np.inf, 0.0)


def test_working_points_of_many_loads_equal_the_single_ones():
    loads = np.array([1.0, 2.4, 3.0, 10.0])
    for kind in s.KINDS:
        together = s.working_point(kind, 12.0, 0.1, 4.0, loads)
        for i, load in enumerate(loads):
            assert [x[i] for x in together] == [pytest.approx(x) for x in s.working_point(kind, 12.0, 0.1, 4.0, load)]


@pytest.mark.parametrize("output, fine, past", [("AC", 50.0, 50.01), ("DC", 120.0, 120.01)])
def test_refusal_above_extra_low_voltage(output, fine, past):
    # IEC 61558-1:2005, 3.7.16 and IEC 61140: 50 V AC, 120 V DC
    assert s.refusal(fine, output) == ""
    assert output in s.refusal(past, output) and "licensed person" in s.refusal(past, output)
    text = (
        f'[sheet]\nname = "x"\n[supply]\nkind = "battery"\noutput = "{output}"\nopen = "{past} V"\nsource = "1 ohm"\n'
        '[[wire]]\nid = "w"\nalloy = "nicr-80-20"\ngauge = "28 AWG"\n[coil]\nwire = "w"\nlength = "1 m"\n'
        '[want]\npower = "20 W"\n'
    )
    workings = bc.work_out(bc.read(text), samples=0)
    assert workings.supply.refused and np.isnan(workings.wire.length_m) and np.isnan(workings.coil.coil_w)
    assert [v.state for v in workings.of("supply") if v.what.startswith("no-load voltage")] == ["over"]
    allowed = bc.work_out(bc.read(text.replace(f"{past} V", f"{fine} V")), samples=0)
    assert not allowed.supply.refused and allowed.coil.coil_w > 0


def test_what_ifs_above_extra_low_voltage_are_refused_too():
    text = (
        '[sheet]\nname = "x"\n[supply]\nkind = "transformer"\nopen = "40 V"\nsource = "1 ohm"\n'
        '[[wire]]\nid = "w"\nalloy = "nicr-80-20"\ngauge = "28 AWG"\n[coil]\nwire = "w"\nlength = "1 m"\n'
    )
    many = bc.links(bc.change(bc.read(text), "supply.open_v", np.array([40.0, 60.0])))[2]
    assert many.coil_w[0] > 0 and np.isnan(many.coil_w[1])
