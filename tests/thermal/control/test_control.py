"""Control of small networks: the law, exact stepping against scipy and closed forms, the fast against the exact."""

from dataclasses import replace

import numpy as np
import pytest
import scipy.linalg
from held_iron import NET, PLACES, WATCH, iron
from scipy.integrate import solve_ivp
from scipy.linalg.blas import dsbmv
from scipy.signal import cont2discrete, dlti, dstep

from benchcalc.basics.fault import Fault
from benchcalc.thermal.control.failing import cut_out_for, first_trip, holding_c, noticed_after, rise_rules
from benchcalc.thermal.control.held_run import Held, exact_run
from benchcalc.thermal.control.law import ON_OFF, STEADY, Law, State, as_heard, checked_law, decide
from benchcalc.thermal.control.measures import measures_of, period_of
from benchcalc.thermal.control.modes import _Walk, fast_run, modes_at
from benchcalc.thermal.control.seated import with_sensor, with_work, without_nodes
from benchcalc.thermal.control.tuning import band_share, repeats_per_minute, simc
from benchcalc.thermal.network.curves import loss_curve, melting
from benchcalc.thermal.network.network import held, link, network, node, skin
from benchcalc.thermal.network.steady import steady
from benchcalc.thermal.network.warm_up import warm_up
from benchcalc.thermal.warmup.formulas import Shape

PI = Law(STEADY, 300.0, window_s=4.0, gain_per_k=0.02, integral_s=120.0)
OFTEN = Law(ON_OFF, 300.0, band_k=6.0)


def held_state(net=NET, at="sensor", wanted_c=300.0):
    from scipy.optimize import brentq

    def settled(share):
        return steady(replace(net, power_w=net.power_w * share))

    return settled(brentq(lambda s: settled(s)[at] - wanted_c, 0.01, 1.0)).temps_c


def test_a_sensor_lags_and_reads_low_by_its_share():
    run = warm_up(NET, 3600.0)
    assert run["sensor"] == pytest.approx(20 + 0.97 * (run["tip"] - 20), abs=0.05)
    t = np.array([600.0, 601.0])
    slope = np.diff(run.at(t, "tip"))[0]
    assert run.at(600.0, "sensor") == pytest.approx(20 + 0.97 * (run.at(600.0, "tip") - 4.0 * slope - 20), abs=0.1)
    bare = steady(iron())
    assert without_nodes(NET, steady(NET).temps_c, "sensor") == pytest.approx(
        bare.temps_c, abs=0.01
    )  # it cools nothing


@pytest.mark.parametrize("law", [PI, replace(PI, window_s=10.0), OFTEN], ids=("2 s", "10 s", "on-off"))
def test_fast_and_exact_agree_within_a_kelvin_and_energy_closes(law):
    """From where the law first holds back, for ten minutes; on-off by its tops and bottoms, since its moves drift."""
    full = warm_up(NET, 1800.0, accounted=False)
    t = np.arange(0.0, 1800.0)
    start = full.at(float(t[full.at(t, "sensor") > 245.0][0]))
    exact = exact_run(NET, law, WATCH, 600.0, start_c=start)
    fast = fast_run(modes_at(NET, held_state(), WATCH), law, WATCH, 600.0, start_c=start)
    assert abs(exact.run.closure_j) < 1e-4 * exact.run.supplied_j
    assert exact.run.supplied_j == pytest.approx((np.diff(exact.time_s) * exact.share[1:]).sum() * 60.0, rel=1e-9)
    for place in PLACES:
        mine, own = (measures_of(run, place, 300.0) for run in (fast, exact))
        assert mine.top_c == pytest.approx(own.top_c, abs=1.0)
        if law is OFTEN:
            assert mine.mean_c == pytest.approx(own.mean_c, abs=1.0) and mine.duty == pytest.approx(own.duty, abs=0.02)
        elif place != "wire":  # whose saw-tooth is told by its tops
            seen = np.interp(exact.time_s, fast.time_s, fast.temp_c[place])
            assert np.abs(seen - exact.temp_c[place]).max() < 1.0


def test_fast_and_exact_agree_where_something_melts():
    """A pot of wax on-off from cold, through all of its melting."""
    cup = replace(OFTEN, set_c=75.0, band_k=4.0)
    wax = melting(60.0, 46.0, 68.0, 3000.0)
    air = loss_curve("air", lambda t: 2.0 * np.sign(t - 20) * np.abs(t - 20) ** 1.25, 20.0)
    pot = network(
        node("coil", 6.0, power_w=40.0), node("cup", 60.0), node("wax", 150.0, content=wax), held("room", 20.0),
        link("coil", "cup", 0.5), link("cup", "wax", 0.6), skin("cup", 1.2e-2, air), link("wax", "room", 0.02),
    )  # fmt: skip
    pot = with_sensor(pot, "cup", 6.0, 0.02)
    watch = {n: ((pot.names.index(n),), (1.0,)) for n in ("sensor", "cup", "wax")}
    exact = exact_run(pot, cup, watch, 600.0)
    fast = fast_run(modes_at(pot, held_state(pot, wanted_c=75.0), watch), cup, watch, 600.0)
    assert exact.temp_c["wax"].max() > 68.0 > exact.temp_c["wax"][exact.time_s < 200.0].max()
    for place, apart_k in (("sensor", 0.5), ("cup", 0.5), ("wax", 2.0)):  # which leaps once it has melted
        seen = np.interp(exact.time_s, fast.time_s, fast.temp_c[place])
        assert np.abs(seen - exact.temp_c[place]).max() < apart_k


def test_modes_are_those_of_the_nodes_that_hold_heat(monkeypatch):
    """What has no capacity follows at once and is no part of the eigenproblem; its share of each mode is exact."""
    sizes, eigh = [], scipy.linalg.eigh
    monkeypatch.setattr(scipy.linalg, "eigh", lambda a, **how: sizes.append(a.shape) or eigh(a, **how))
    modes = modes_at(NET, held_state(), WATCH)
    heavy = modes.mass > 0
    assert sizes == [(heavy.sum(), heavy.sum())] and heavy.sum() < heavy.size
    flows = np.column_stack([dsbmv(modes.stiff.shape[0] - 1, 1.0, modes.stiff, v, lower=1) for v in modes.shape.T])
    assert flows == pytest.approx(modes.mass[:, None] * modes.shape * modes.rate_per_s, abs=1e-9 * np.abs(flows).max())
    assert modes.shape.T @ (modes.mass[:, None] * modes.shape) == pytest.approx(np.eye(heavy.sum()), abs=1e-9)


def test_the_curved_part_is_looked_at_seldom_once_it_is_calm(monkeypatch):
    looks, look = [], _Walk.look
    monkeypatch.setattr(_Walk, "look", lambda self: looks.append(self.now) or look(self))
    fast_run(modes_at(NET, held_state(), WATCH), PI, WATCH, 3600.0)
    assert 60 <= len(looks) <= 100 and np.diff(looks)[-20:].min() > 50.0 and np.diff(looks).min() < 6.0


def test_laws_that_do_the_same_are_equal():
    other = replace(OFTEN, gain_per_k=0.5, integral_s=3.0, window_s=9.0)
    assert as_heard(other) == as_heard(OFTEN) != as_heard(replace(OFTEN, band_k=7.0))
    assert as_heard(replace(PI, band_k=9.0, look_s=2.0)) == as_heard(PI) != as_heard(replace(PI, window_s=3.0))
    assert decide(as_heard(PI), State(True, 0.2), 299.0) == decide(PI, State(True, 0.2), 299.0)


def test_the_fast_model_counts_its_work_and_its_modes():
    """An hour costs a piece or two a window and a look at the curved part every few seconds, not a solve a second."""
    modes = modes_at(NET, held_state(), WATCH, count=5)
    assert modes.rate_per_s.size == 5
    hour = fast_run(modes_at(NET, held_state(), WATCH), PI, WATCH, 3600.0)
    assert hour.pieces <= 2 * 900 + 10 and hour.time_s[-1] == pytest.approx(3600.0)
    whole = fast_run(modes_at(NET, held_state(), WATCH), PI, WATCH, 3600.0, start_c=held_state())
    assert measures_of(whole, "sensor", 300.0).mean_c == pytest.approx(300.0, abs=0.3)  # the integral leaves no error


def test_on_off_on_a_lump_is_scipys_events():
    """A lump at once seen: exponentials between the two switching temperatures; scipy's solve_ivp finds them too."""
    lump = with_sensor(
        network(node("lump", 20.0, power_w=30.0), held("room", 20.0), link("lump", "room", 0.1)), "lump", 0.0
    )
    law = Law(ON_OFF, 150.0, band_k=10.0, look_s=0.05)
    watch = {n: ((lump.names.index(n),), (1.0,)) for n in ("sensor", "lump")}
    run = exact_run(lump, law, watch, 400.0)
    late = run.time_s > 200.0
    assert run.temp_c["lump"][late].max() == pytest.approx(155.0, abs=0.1)
    assert run.temp_c["lump"][late].min() == pytest.approx(145.0, abs=0.1)

    def up(t, y):
        return y[0] - 155.0

    def down(t, y):
        return y[0] - 145.0

    up.terminal = down.terminal = True
    climb = solve_ivp(lambda t, y: (30.0 - 0.1 * (y - 20)) / 20, (0, 500), [145.0], events=up, rtol=1e-9)
    fall = solve_ivp(lambda t, y: -0.1 * (y - 20) / 20, (0, 500), [155.0], events=down, rtol=1e-9)
    assert period_of(run) == pytest.approx(climb.t[-1] + fall.t[-1], rel=0.01)


def test_the_integral_law_on_a_lump_is_scipys_linear_loop():
    """Small steps about a duty of a half, never at the clamp: the sampled closed loop of scipy.signal."""
    gain, reset, window, tau, full = 0.002, 60.0, 1.0, 100.0, 200.0
    law = Law(STEADY, 120.0, window_s=window, gain_per_k=gain, integral_s=reset, frequency_hz=1e6)
    state, temp, seen = State(True, 0.49), 118.0, []
    for _ in range(300):
        seen.append(temp)
        state, pieces = decide(law, state, temp)
        share = sum(s * p for s, p in pieces) / window
        temp = 20 + share * full + (temp - 20 - share * full) * np.exp(-window / tau)
    a, b, *_ = cont2discrete((np.array([[-1 / tau]]), np.array([[full / tau]]), np.eye(1), np.zeros((1, 1))), window)
    a, b = float(a[0, 0]), float(b[0, 0])
    # rise e and integral q: q' = q + k h/Ti (set - e); u = k (set - e) + q'
    kept = gain * (1 + window / reset)
    loop = dlti(
        np.array([[a - b * kept, b], [-gain * window / reset, 1.0]]),
        np.array([[b * kept], [gain * window / reset]]),
        np.array([[1.0, 0.0]]),
        np.zeros((1, 1)),
        dt=window,
    )
    _, (answer,) = dstep(loop, n=300)  # a step of 1 K in the set point
    assert np.array(seen) == pytest.approx(118.0 + 2.0 * answer[:, 0], abs=2e-3)


def test_the_integral_stands_still_at_the_clamp():
    law = Law(STEADY, 300.0, window_s=2.0, gain_per_k=0.02, integral_s=10.0)
    state = State()
    for _ in range(500):
        state, pieces = decide(law, state, 20.0)
    assert state.gathered == 0.0 and pieces == ((2.0, 1.0),)
    assert decide(law, state, 500.0)[1] == ((2.0, 0.0),)
    assert decide(law, state, float("nan"))[1] == ((2.0, 0.0),)  # nothing read: off


def test_bad_laws_are_refused_all_at_once():
    with pytest.raises(Fault) as told:
        checked_law(Law("bang", float("nan"), gain_per_k=-1.0, integral_s=0.0, most=2.0))
    assert all(word in str(told.value) for word in ("control.kind", "control.set", "runs away", "integral", "most"))
    with pytest.raises(Fault, match="shorter than one mains cycle"):
        checked_law(Law(STEADY, 300.0, window_s=0.01))
    with pytest.raises(Fault, match="too few to divide"):
        checked_law(Law(STEADY, 300.0, window_s=0.1))
    assert checked_law(Law(STEADY, 300.0, window_s=0.2)) and checked_law(Law(ON_OFF, 300.0, window_s=0.02))


def test_touching_work_takes_the_heat_it_must():
    """Latent heat in full: the touched lump's heat content is what left the tip, and energy closes."""
    solid = melting(0.5, 183.0, 190.0, 25.0)
    net = with_work(NET, "tip", 0.5, 0.6, solid)
    start = np.insert(held_state(), net.names.index("touched work"), 20.0)
    watch = {n: ((net.names.index(n),), (1.0,)) for n in ("sensor", "tip", "touched work")}
    law = replace(PI, window_s=1.0)
    calm = measures_of(exact_run(NET, law, WATCH, 300.0, start_c=held_state()), "sensor", 300.0).duty
    run = exact_run(net, law, watch, 60.0, start_c=start, state=State(True, calm))
    assert abs(run.run.closure_j) < 1e-3 * run.run.supplied_j
    assert run.temp_c["touched work"][-1] > 190.0 and run.temp_c["tip"].min() < 304.0
    soft = exact_run(with_work(NET, "tip", 0.5, 0.6), law, watch, 60.0, start_c=start, state=State(True, calm))
    assert run.temp_c["tip"].min() < soft.temp_c["tip"].min() - 0.5  # melting makes the dip deeper


# Skogestad 2003, settings for second-order processes with tau_c = theta, worked from his eq. 10, 23 and 24 by hand
@pytest.mark.parametrize(
    ("slow", "fast", "dead", "gain", "reset"),
    [
        (100.0, 0.0, 5.0, 100 / (2 * 5), 40.0),  # lag dominant: tau_I = 8 theta
        (10.0, 0.0, 5.0, 10 / 10, 10.0),  # balanced: tau_I = tau
        (100.0, 10.0, 0.0, 105 / 10, 40.0),  # half rule: theta 5, tau 105
    ],
)
def test_simc_is_skogestads_rule(slow, fast, dead, gain, reset):
    weight = slow / (slow - fast) if fast else 1.0  # two capacities in a row: no zero
    found = simc(Shape("two" if fast else "one with dead time", 20.0, 1.0, slow, fast, weight, dead))
    assert (found.gain_per_k, found.integral_s) == pytest.approx((gain, reset), rel=1e-6)
    with pytest.raises(Fault, match="no dead time"):
        simc(Shape("one", 20.0, 300.0, 100.0))


def test_a_small_zero_moves_the_settings_a_little():
    """Skogestad 2003, sec. 2: a zero goes with the neighbouring larger lag; none and next to none are the same."""
    rounded = 200.0 / 170.0  # two capacities in a row, slow 200 s and fast 30 s, have no zero
    none, small, all_of_it = (
        simc(Shape("two", 20.0, 300.0, 200.0, 30.0, w, 2.0)) for w in (rounded, rounded - 1e-3, 1.0)
    )
    assert small.integral_s == pytest.approx(none.integral_s, rel=0.01)
    assert small.gain_per_k == pytest.approx(none.gain_per_k, rel=0.01)
    assert none.gain_per_k < small.gain_per_k < all_of_it.gain_per_k and all_of_it.lumped_s == 200.0


def test_a_zero_is_taken_off_the_second_constant_before_the_half_rule():
    """By hand, Skogestad 2003, T3 and the half rule: (57 s + 1) over (190 s + 1)(100 s + 1) leaves 190 and 43; with
    a lag of 2 and a window of 2 the constant is 190 + 21.5, the delay 21.5 + 2 + 1."""
    weight = (190.0 - 57.0) / (190.0 - 100.0)
    found = simc(Shape("two", 20.0, 400.0, 190.0, 100.0, weight), lag_s=2.0, window_s=2.0)
    assert (found.zero_s, found.slow_s, found.second_s, found.late_s) == pytest.approx((57.0, 190.0, 43.0, 2.0))
    assert (found.lumped_s, found.delay_s) == pytest.approx((211.5, 24.5))


def test_a_band_in_per_cent_and_repeats_are_the_same_settings():
    """By hand: full power over 30 K is 7.5 % of a range of 400 K; 120 s is half a repeat a minute."""
    assert band_share(1 / 30.0, 400.0) == pytest.approx(7.5) and repeats_per_minute(120.0) == pytest.approx(0.5)


def _margins(process, tuned):
    """(largest sensitivity, gain margin, phase margin in degrees) of a loop with the tuned PI law."""
    w = np.logspace(-4, 1.5, 40000)
    loop = tuned.gain_per_k * (1 + 1 / (tuned.integral_s * 1j * w)) * process(1j * w)
    phase, size = np.unwrap(np.angle(loop)), np.abs(loop)
    gain_margin = 1 / np.interp(np.pi, -phase, size)
    phase_margin = 180 + np.degrees(np.interp(0.0, -np.log(size), phase))
    return np.abs(1 / (1 + loop)).max(), gain_margin, phase_margin


@pytest.mark.parametrize(
    ("slow", "expected"), [(2.0, (1.59, 3.14, 61.4)), (8.0, (1.59, 3.14, 61.4)), (3000.0, (1.70, 2.96, 46.9))]
)
def test_simc_on_first_order_and_dead_time_has_the_published_margins(slow, expected):
    """Skogestad 2003, table of robustness margins with tau_c = theta: tau up to 8 theta, and integrating (memory)."""
    tuned = simc(Shape("one with dead time", 0.0, 1.0, slow, dead_s=1.0))
    assert _margins(lambda s: np.exp(-s) / (1 + s * slow), tuned) == pytest.approx(expected, rel=0.01)


@pytest.mark.parametrize("lag", [0.1, 0.3, 1.0, 3.0, 10.0, 100.0, 500.0])
@pytest.mark.parametrize("lags", [1, 2])
def test_simc_is_robust_on_the_batch_of_astrom_and_hagglund(lag, lags):
    """Advanced PID Control, test batch P1 = exp(-s)/(1 + sT) and P2 = exp(-s)/(1 + sT)^2: a largest sensitivity of 1.2
    to 2 is what they call reasonable (from memory)."""
    near = lag * (1 + 1e-6)
    two = Shape("two", 0.0, 1.0, near, lag, near / (near - lag), 1.0)
    tuned = simc(Shape("one with dead time", 0.0, 1.0, lag, dead_s=1.0) if lags == 1 else two)
    most, gain_margin, phase_margin = _margins(lambda s: np.exp(-s) / (1 + s * lag) ** lags, tuned)
    assert 1.2 < most < 2.0 and gain_margin > 2 and phase_margin > 30


def test_simc_settings_hold_the_tool_calmly():
    """What the rule promises: overshoot of a few kelvin on a tool that is no textbook process."""
    from benchcalc.thermal.warmup.curve import Data
    from benchcalc.thermal.warmup.fit import fit

    t = np.linspace(0.0, 2400.0, 200)
    shape = fit(Data(t, warm_up(NET, 2400.0, accounted=False).at(t, "sensor")), "two").shape
    found = simc(shape, window_s=2.0)
    law = replace(PI, gain_per_k=found.gain_per_k, integral_s=found.integral_s, window_s=2.0)
    told = measures_of(fast_run(modes_at(NET, held_state(), WATCH), law, WATCH, 2400.0), "sensor", 300.0)
    assert told.overshoot_k < 12.0 and abs(told.error_k) < 0.5


def test_the_rise_rule_spares_a_sound_tool_and_catches_a_fallen_sensor():
    t = np.linspace(0.0, 1200.0, 1201)
    read, full = warm_up(NET, 1200.0, accounted=False).at(t, "sensor"), np.ones(t.size)
    rule = rise_rules([(t, read)], 280.0, 20.0)[0]
    assert rule.rise_k >= 5.0 and np.isnan(first_trip(rule, t, full, read))
    fallen = warm_up(with_sensor(iron(), "tip", 4.0, 0.95), 1200.0, accounted=False).at(t, "sensor")
    assert first_trip(rule, t, full, fallen) == pytest.approx(rule.wait_s, abs=60.0)
    assert rise_rules([(t, 20 + 0.001 * t)], 280.0, 20.0) == []
    late = np.concatenate([np.linspace(200.0, 190.0, 41), 190 + 0.3 * np.arange(1160)])  # switched on part-way down
    slower = rise_rules([(t, read), (t, late)], 280.0, 20.0)[0]
    assert slower.below_c < 200.0 and np.isnan(first_trip(slower, t, full, late))
    # held by on-off: 70 s of full power, in the first 40 of which the late sensor still falls
    held_s = np.array([0.0, 100.0, 170.0, 200.0])
    share, dip = np.array([0.0, 0.0, 1.0, 0.0]), np.array([285.0, 275.0, 276.0, 285.0])
    assert first_trip(replace(rule, below_c=280.0), held_s, share, dip) == 170.0
    assert np.isnan(first_trip(replace(rule, below_c=270.0), held_s, share, dip))  # not asked so near


def test_a_rule_sees_a_bead_in_the_air_only_where_the_law_gives_full_power():
    rule, fallen = rise_rules([(np.arange(600.0), 20 + np.arange(600.0))], 280.0, 20.0)[0], (300.0, 25.0, 20.0)
    after = noticed_after(rule, PI, State(True, 0.4), fallen)
    until_below = 20.0 * np.log((300.0 - 25.0) / (rule.below_c - 25.0))
    assert until_below + rule.wait_s <= after <= until_below + rule.wait_s + 3 * PI.window_s
    assert np.isnan(noticed_after(rule, replace(PI, most=0.5), State(True, 0.4), fallen))


def test_the_mean_over_a_window_tells_ripple_from_an_oscillation():
    t = np.arange(0.0, 4000.0, 0.5)
    saw = Held(t, np.ones(t.size), {"tip": 300 + 5 * (t % 10.0) / 10.0}, State())
    slow = Held(t, np.ones(t.size), {"tip": 300 + 5 * np.sin(t / 50.0)}, State())
    assert measures_of(saw, "tip", 300.0, 10.0).slow_k < 0.3 and measures_of(slow, "tip", 300.0, 10.0).slow_k > 9.5
    on = Held(t, (t % 80.0 < 30.0).astype(float), {"tip": saw.temp_c["tip"]}, State())
    assert period_of(on) == pytest.approx(80.0) and np.isnan(period_of(saw))


def test_what_still_drifts_has_not_settled():
    t = np.linspace(0.0, 4000.0, 801)
    share = np.ones(t.size)
    calm = Held(t, share, {"tip": 300 + np.sin(t)}, State())
    late = Held(t, share, {"tip": 300 + np.sin(t) - 60 * np.exp(-t / 1500.0)}, State())
    assert measures_of(calm, "tip", 300.0).settled and not measures_of(late, "tip", 300.0).settled


def test_a_cut_out_clears_use_and_comes_before_harm_with_both_tolerances():
    places = np.linspace(0.05, 0.15, 11)
    normal, fail = np.linspace(220.0, 60.0, 11), np.linspace(330.0, 100.0, 11)
    found = cut_out_for(places, normal, fail)
    assert found.rating_c - 10 - found.normal_c == pytest.approx(found.spare_low_k) and found.spare_low_k >= 5
    assert found.fail_c - found.rating_c == pytest.approx(found.spare_high_k) and found.spare_high_k >= 5
    assert cut_out_for(places, normal, normal + 8.0) is None


def test_a_link_that_use_leaves_alone_for_good_goes_before_one_with_more_to_spare():
    """By hand from the table: a mark of 240 holds 40 K below it by common practice, one of 192 25 K below."""
    assert (holding_c(240.0), holding_c(192.0), holding_c(240.0, 215.0)) == (200.0, 167.0, 215.0)
    near = cut_out_for([0.07], [206.0], [256.0])
    assert near.key == "link 240" and near.guards and not near.holds and near.does == "may open in long use"
    both = cut_out_for([0.07, 0.09], [206.0, 163.0], [256.0, 199.0])
    assert both.key == "link 192" and both.holds and both.does == "fits" and both.spare_high_k == 7.0
    assert both.spare_high_k < min(near.spare_low_k, near.spare_high_k)
