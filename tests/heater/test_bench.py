"""Soak, protection, rectified supplies, load tests: laws recovered from made readings, and bad input refused."""

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

from benchcalc.basics.fault import Fault
from benchcalc.heater import battery, load_test, protection, rectified, soak
from benchcalc.heater import refused_kinds as kinds
from benchcalc.show.page.worked import is_straight, worked


@pytest.mark.parametrize(
    "fn, values",
    [
        (soak.winding_rise, dict(cold_winding_ohm=58.0, hot_winding_ohm=70.0, cold_temp_c=20.0, end_temp_c=22.0)),
        (soak.hot_winding, dict(cold_winding_ohm=108.0, cold_temp_c=22.0, winding_c=80.0)),
        (protection.cable_resistance, dict(cable_m=1.5, cable_m2=0.75e-6)),
        (protection.short_current, dict(open_v=10.6, source_ohm=1.15, warming=1.1, cable_ohm=0.1)),
        (battery.run_time, dict(charge_a_s=14_400.0, usable=0.8, load_a=2.0)),
        (load_test.without_burden, dict(open_v=12.0, read_a=1.5, burden_v=0.3)),
        (load_test.without_drift, dict(before_v=12.2, loaded_v=11.0, after_v=12.0)),
        (load_test.from_volts_and_amps, dict(load_v=0.11, load_a=1.02)),
    ],
)
def test_each_formula_can_be_shown_and_its_last_number_is_the_answer(fn, values):
    assert is_straight(fn)
    assert worked(fn, **values).value == fn(**values)


@pytest.mark.parametrize(
    "cold, hot, t1, t2, rise, over", [(58.0, 70.0, 20, 22, 50.7, False), (412.0, 574.0, 19, 22, 96.7, True)]
)
def test_soaked_windings_of_the_two_demos(cold, hot, t1, t2, rise, over):
    got = soak.winding_rise(cold, hot, t1, t2)
    assert got == pytest.approx(rise, abs=0.06)
    assert (t2 + got > soak.class_limit(105)[0]) is over


def test_the_rise_and_the_resistance_are_one_law():
    hot = soak.hot_winding(58.0, 20.0, 95.0)
    assert soak.winding_rise(58.0, hot, 20.0, 23.0) == pytest.approx(95.0 - 23.0)


def test_cooling_readings_lead_back_to_switch_off():
    times = np.array([30.0, 75.0, 120.0, 180.0])
    hot = 58 + 12 * np.exp(-times / 900)
    found = soak.at_switch_off(58.0, times, hot)
    assert found.resistance_ohm == pytest.approx(70.0) and found.error_ohm < 1e-6
    noisy = soak.at_switch_off(58.0, times, hot + [0.05, -0.05, 0.05, -0.05])
    assert abs(noisy.resistance_ohm - 70.0) < 3 * noisy.error_ohm and noisy.error_ohm > 0.01
    assert hot[0] < found.resistance_ohm
    assert "One reading" in soak.at_switch_off(58.0, [30], [69.0]).remark
    many_s = np.array([30.0, 90.0, 150.0])[:, None] * [1.0, 1.1]  # times in doubt: side by side as one by one
    many, _, left = soak.back_to_zero(58.0, many_s, np.array([69.0, 68.0, 67.2]))
    alone = [soak.back_to_zero(58.0, many_s[:, i], np.array([69.0, 68.0, 67.2]))[0] for i in (0, 1)]
    assert many == pytest.approx(alone) and left.shape == (3, 2)


@pytest.mark.parametrize(
    "act, match",
    [
        (lambda: soak.at_switch_off(58.0, [30, 60], [57.0, 56.0]), "above the cold 58"),
        (lambda: soak.at_switch_off(58.0, [30, 60], [60.0]), "do not pair up"),
        (lambda: soak.at_switch_off(58.0, [30, 30], [60.0, 60.1]), "different times"),
        (lambda: soak.class_limit(110), "105, 120, 130, 155, 180"),
        (lambda: soak.steady_equal(10.0, 90.0, 60.0), "whole cycle"),
        (lambda: protection.fuse_rating(0.0), "above 0"),
        (lambda: protection.fuse_rating(5.5), "table ends"),
        (lambda: protection.opening("time-lg", 2.0, 5.0), "Closest: time-lag"),
        (lambda: protection.opening("time-lag", 2.2, 5.0), "preferred"),
        (lambda: protection.leakage(12.0, [11.0], [1.0]), "two different loads"),
        (lambda: load_test.clip_test([1.0], [10.0], [1.0]), "two different lengths"),
        (lambda: load_test.clip_test([1.0, 0.5], [10.0, 11.0], [1.0, 0.5]), "does not grow"),
        (lambda: rectified.true_share("brigde"), "Closest: bridge"),
    ],
)
def test_bad_input_is_refused_in_words(act, match):
    with pytest.raises(Fault, match=match):
        act()


def test_a_fuse_is_never_smaller_than_its_load_and_never_two_steps_too_big():
    for load_a in np.linspace(0.1, 5.0, 99):
        rating = protection.fuse_rating(load_a)
        assert rating >= load_a / protection.RUN_AT_MOST * (1 - 1e-9)
        if rating > 1:
            assert rating <= 1.35 * load_a / protection.RUN_AT_MOST


def test_a_fuse_below_its_promise_does_not_act_and_more_current_is_never_slower():
    assert protection.opening("time-lag", 2.5, 4.0).latest_s == np.inf
    assert not protection.opening("time-lag", 2.5, 4.0).acts
    for kind in ("time-lag", "quick-acting"):
        latest = [protection.opening(kind, 2.5, 2.5 * t).latest_s for t in np.linspace(1, 15, 60)]
        assert all(a >= b for a, b in zip(latest, latest[1:]))
    assert protection.opening("time-lag", 1.6, 1.6 * 7).acts


def test_a_soft_supply_cannot_blow_its_fuse_quickly_and_a_stiff_one_can():
    def acts(load_a, open_v, source_ohm):
        rating = protection.fuse_rating(load_a)
        short = protection.short_current(open_v, source_ohm, 1.15, 0.05 + protection.fuse_ohms(rating))
        return protection.opening("time-lag", rating, short).acts

    assert not acts(2.03, 10.6, 1.15)
    assert acts(2.56, 12.4, 0.11)


def test_leakage_comes_back_from_made_readings():
    def volts(amps, r=1.2, x=2.1, u0=15.0):
        return brentq(lambda u: (u + amps * r) ** 2 + (amps * x) ** 2 - u0**2, 0, u0)

    amps = np.array([0.5, 1.5, 2.5])
    found = protection.leakage(15.0, [volts(a) for a in amps], amps)
    assert found == pytest.approx((1.2, 2.1, 0.5, 2.5))


def test_what_a_meter_misses_of_leakage_is_told():
    def volts(amps, r=1.2, x=2.1, u0=15.0):
        return brentq(lambda u: (u + amps * r) ** 2 + (amps * x) ** 2 - u0**2, 0, u0)

    amps, rng = np.array([0.5, 1.5, 2.5]), np.random.default_rng(1)
    for _ in range(20):
        off = rng.uniform(-0.05, 0.05, 4)
        source, reactance = protection.leakage_ends(
            15.0 + off[3], [volts(a) + o for a, o in zip(amps, off)], amps, 0.05
        )
        assert source[0] <= 1.2 <= source[1] and reactance[0] <= 2.1 <= reactance[1]


@pytest.mark.parametrize("circuit", rectified.CIRCUITS)
def test_rectified_values_equal_their_integrals(circuit):
    def wave(x):
        u = 10 * np.sqrt(2) * np.sin(x)
        return abs(u) if circuit == "bridge" else max(u, 0.0)

    mean = quad(wave, 0, 2 * np.pi, points=[np.pi])[0] / (2 * np.pi)
    rms = np.sqrt(quad(lambda x: wave(x) ** 2, 0, 2 * np.pi, points=[np.pi])[0] / (2 * np.pi))
    assert rectified.rms_and_mean(circuit, 10.0) == pytest.approx((rms, mean), rel=1e-7)
    stepped = rectified.behind(circuit, (10.0, 0.0), 5.0, diode_v=0.0)
    assert (stepped.rms_v, stepped.mean_v) == pytest.approx((rms, mean), rel=1e-5)


def test_watts_from_the_mean_are_too_few_and_a_big_capacitor_mends_it():
    assert rectified.true_share("bridge") == pytest.approx(8 / np.pi**2)
    assert rectified.true_share("half wave") == pytest.approx(4 / np.pi**2)
    large = rectified.behind("bridge", (12.0, 0.0), 20.0, 0.05, diode_v=0.0)
    assert large.rms_v / large.mean_v < 1.0005 and large.mean_v == pytest.approx(12 * np.sqrt(2), rel=0.01)
    small = rectified.behind("bridge", (12.0, 0.0), 20.0, 0.002, diode_v=0.0)
    assert large.ripple_v < small.ripple_v < 12 * np.sqrt(2) / (20 * 2 * 50 * 0.002)  # I/(2 f C) is the upper bound


def test_one_set_of_clip_readings_gives_supply_and_wire():
    lengths = np.array([2.0, 1.2, 0.7])
    ohms = 0.05 + 8.466 * lengths
    amps = 18.2 / (1.3 + ohms)
    found = load_test.clip_test(lengths, amps * ohms, amps)
    assert (found.open_v, found.source_ohm, found.linear_ohm_per_m, found.contact_ohm) == pytest.approx(
        (18.2, 1.3, 8.466, 0.05)
    )
    assert found.straight
    assert np.isnan(load_test.clip_test(lengths[:2], (amps * ohms)[:2], amps[:2]).linear_error_ohm_per_m)


def test_burden_and_drift_drop_out():
    open_v, around, load, meter = 12.0, 0.4, 6.0, 0.3
    read = open_v / (around + load + meter)
    assert load_test.without_burden(open_v, read, read * meter) == pytest.approx(open_v / (around + load))
    assert load_test.without_drift(12.0, 11.1 - 0.1, 11.8) == pytest.approx(0.9)


@pytest.mark.parametrize(
    "said, kind",
    [
        ("Doorbell transformer", "bell transformer"),
        ("AUTO-TRANSFORMER", "auto-transformer"),
        ("18650", "bare lithium cells"),
        ("dimmer", "dimmed mains"),
        ("microwave transformer", "microwave-oven transformer"),
        ("train transformer", "toy transformer"),
    ],
)
def test_dangerous_kinds_are_refused_with_a_reason(said, kind):
    row = kinds.refused_kind(said)
    assert row["kind"] == kind and len(row["reason"]) > 30 and row["do"]
    assert kinds.refused_kind("transformer") is None
