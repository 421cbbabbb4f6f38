"""Warming up against exact lumped answers: orders, steps of power, melting, massless nodes, the energy account."""

import numpy as np
import pytest

from benchcalc import Fault
from benchcalc.thermal.network.curves import conductivity, heat_of, loss_curve, melting, temperature_of
from benchcalc.thermal.network.network import bar, held, link, network, node, ray, skin
from benchcalc.thermal.network.steady import steady
from benchcalc.thermal.network.warm_up import warm_up


def lump(capacity_j_k, conductance_w_k, *, power_w=0.0, room_c=20.0, content=None):
    return network(
        node("lump", capacity_j_k, power_w=power_w, content=content),
        held("room", room_c),
        link("lump", "room", conductance_w_k),
    )


def bead(diameter_m, h, density, cp):
    area, volume = np.pi * diameter_m**2, np.pi * diameter_m**3 / 6
    return density * cp * volume, h * area


def when(run, name, temp_c):
    """First time at which a node passes a temperature, by bisection on the dense output."""
    from scipy.optimize import brentq

    return brentq(lambda t: run.at(t, name) - temp_c, 0.0, run.time_s[-1], xtol=1e-9)


def test_thermocouple_incropera_5_1():
    """Incropera and DeWitt, 6th ed., Ex 5.1: bead of 0.706 mm, 25 degC into gas at 200 degC: 5.2 s to 199 degC."""
    net = lump(*bead(7.06e-4, 400.0, 8500.0, 400.0), room_c=200.0)
    assert when(warm_up(net, 20.0, start_c=25.0, tol_k=1e-3), "lump", 199.0) == pytest.approx(5.165, rel=2e-3)


def test_thermocouple_cengel_4_1():
    """Cengel, Heat and Mass Transfer, Ex 4-1: 1 mm bead, 99 % of the step in 10 s (9.94 from its inputs)."""
    net = lump(*bead(1e-3, 210.0, 8500.0, 320.0), room_c=100.0)
    assert when(warm_up(net, 30.0, start_c=0.0, tol_k=1e-3), "lump", 99.0) == pytest.approx(9.94, rel=1e-3)


def test_a_lump_follows_the_exponential_at_all_times():
    """Exact: T = T_room + P/G (1 - exp(-G t / C))."""
    run = warm_up(lump(30.0, 0.5, power_w=50.0), 400.0, tol_k=1e-4)
    t = np.linspace(0, 400, 777)
    assert np.abs(run.at(t, "lump") - (20 + 100 * (1 - np.exp(-t / 60)))).max() < 2e-3
    assert run["lump"] == pytest.approx(120 - 100 * np.exp(-400 / 60), abs=1e-3)


def test_radiating_lump_cools_by_the_closed_form():
    """Exact for loss to surroundings at 0 K: T = (T0^-3 + 3 a t)^(-1/3); Incropera and DeWitt, 6th ed., eq. 5.18,
    T_sur = 0."""
    net = network(node("ball", 2.0), held("space", -273.15), ray("ball", "space", 0.01, 0.5))
    a = 5.670374419e-8 * 0.01 * 0.5 / 2.0
    run = warm_up(net, 5000.0, start_c=900.0, tol_k=1e-3)
    t = np.linspace(0, 5000, 301)
    exact = (1173.15**-3 + 3 * a * t) ** (-1 / 3) - 273.15
    assert np.abs(run.at(t, "ball") - exact).max() < 0.05


def cooling(t):
    return 12 * (t - 20) + 0.8 * 5.670374419e-8 * ((t + 273.15) ** 4 - 293.15**4)


def stiff_net(*, massless):
    steel = conductivity("steel", (50.0, 30.0), (-100.0, 700.0))
    cool = loss_curve("skin", cooling, 20.0, step_k=0.5)
    mass = 0.0 if massless else 0.5
    return network(
        node("coil", 3.0, power_w=40.0),
        node("face", mass),
        node("core", 20.0),
        node("tip", 8.0),
        held("room", 20.0),
        link("coil", "face", 0.3),
        ray("coil", "core", 1e-3, 0.5),
        bar("face", "core", 0.02, steel),
        bar("core", "tip", 0.01, steel),
        skin("tip", 4e-3, cool),
        skin("face", 2e-3, cool),
    )


def reference(net):
    """The same by scipy's Radau, with the fluxes written out again."""
    from scipy.integrate import solve_ivp
    from scipy.optimize import brentq

    def k_integral(t):
        return 50 * t - (t + 100) ** 2 / 2 * 20 / 800

    def flows(coil, face, core, tip):
        beam = 5.670374419e-8 * 1e-3 * 0.5 * ((coil + 273.15) ** 4 - (core + 273.15) ** 4)
        into_face, on, out = (
            0.3 * (coil - face),
            0.02 * (k_integral(face) - k_integral(core)),
            0.01 * (k_integral(core) - k_integral(tip)),
        )
        return 40 - into_face - beam, into_face - on - 2e-3 * cooling(face), on + beam - out, out - 4e-3 * cooling(tip)

    massless = net.capacity_j_k[1] == 0

    def rhs(_, y):
        if massless:
            face = brentq(lambda f: flows(y[0], f, y[1], y[2])[1], -500, 3000, xtol=1e-12, rtol=1e-14)
            q = flows(y[0], face, y[1], y[2])
            return q[0] / 3.0, q[2] / 20.0, q[3] / 8.0
        q = flows(*y)
        return q[0] / 3.0, q[1] / 0.5, q[2] / 20.0, q[3] / 8.0

    start = [20.0] * (3 if massless else 4)
    found = solve_ivp(rhs, (0, 240), start, method="Radau", rtol=1e-9, atol=1e-8, dense_output=True)
    return lambda t: found.sol(t)[[0, -2, -1]].T


@pytest.mark.parametrize("massless", [False, True])
def test_order_three_with_and_without_massless_nodes(massless):
    """Fixed steps, halved: the error at the end falls eightfold (Sandu et al. 1997: order 3; reference: scipy
    Radau)."""
    net = stiff_net(massless=massless)
    exact = reference(net)(240.0)
    errors = []
    for steps in (30, 60, 120):
        run = warm_up(net, 240.0, power=lambda t, temps: 40.0, every_s=240.0 / steps, tol_k=1e9)
        assert run.steps == steps
        errors.append(np.abs(run.at(240.0, ["coil", "core", "tip"]) - exact).max())
    rates = np.log2(np.array(errors[:-1]) / errors[1:])
    assert (rates > 2.8).all() and (rates < 3.3).all(), (errors, rates)


@pytest.mark.parametrize("massless", [False, True])
def test_tolerance_is_kept_at_all_times(massless):
    net = stiff_net(massless=massless)
    exact = reference(net)
    t = np.linspace(0, 240, 481)
    for tol_k in (0.3, 0.03, 0.003):
        run = warm_up(net, 240.0, tol_k=tol_k)
        assert np.abs(run.at(t, ["coil", "core", "tip"]) - exact(t)).max() < 2 * tol_k
        assert abs(run.closure_j) < 0.002 * tol_k * run.supplied_j / 0.03 + 1e-9


def test_massless_node_is_in_balance_at_every_moment():
    net = stiff_net(massless=True)
    run = warm_up(net, 240.0, tol_k=0.01)
    t = np.array([0.0, 1.7, 33.3, 200.0])
    all_temps = dict(zip(net.names, run.at(t).T))
    for k in range(t.size):
        held_around = network(
            held("coil", all_temps["coil"][k]),
            node("face"),
            held("core", all_temps["core"][k]),
            link("coil", "face", 0.3),
            bar("face", "core", 0.02, net.materials[0]),
            skin("face", 2e-3, net.curves[0]),
        )
        assert all_temps["face"][k] == pytest.approx(steady(held_around)["face"], abs=0.02)


def test_end_of_a_long_run_is_the_steady_state():
    net = stiff_net(massless=False)
    assert warm_up(net, 2e5).at(2e5) == pytest.approx(steady(net).temps_c, abs=1e-3)


def test_schedule_stops_at_its_steps():
    """Two steps of power: exact exponentials, one after the other."""
    run = warm_up(lump(30.0, 0.5, power_w=1.0), 300.0, power=[(0.0, 50.0), (100.0, 0.0), (250.0, 20.0)], tol_k=1e-3)
    assert {100.0, 250.0} <= set(run.time_s)
    first = 20 + 100 * (1 - np.exp(-100 / 60))
    second = 20 + (first - 20) * np.exp(-150 / 60)
    third = 60 + (second - 60) * np.exp(-50 / 60)
    assert run.at([100.0, 250.0, 300.0], "lump") == pytest.approx([first, second, third], abs=5e-3)
    assert run.at(np.array([99.999, 100.001]), "lump") == pytest.approx([first, first], abs=0.01)
    assert run.supplied_j == pytest.approx(50 * 100 + 20 * 50, rel=1e-12)
    assert abs(run.closure_j) < 1e-5 * run.supplied_j


def test_schedule_begins_without_power_and_takes_names_or_arrays():
    net = lump(30.0, 0.5)
    late = warm_up(net, 100.0, power=[(40.0, {"lump": 50.0})], tol_k=1e-3)
    assert late.at(40.0, "lump") == pytest.approx(20.0, abs=1e-9)
    assert late["lump"] == pytest.approx(20 + 100 * (1 - np.exp(-1.0)), abs=5e-3)
    again = warm_up(net, 60.0, power=[(0.0, np.array([50.0, 0.0]))], tol_k=1e-3)
    assert again["lump"] == pytest.approx(late["lump"], abs=5e-3)


def test_feedback_is_asked_at_its_interval():
    """A thermostat asked every 5 s: against the same recursion written with exact exponentials."""
    asked = []

    def thermostat(time_s, temps):
        asked.append(time_s)
        return 60.0 if temps["lump"] < 90.0 else 0.0

    run = warm_up(lump(30.0, 0.5, power_w=1.0), 300.0, power=thermostat, every_s=5.0, tol_k=1e-4)
    assert asked == list(np.arange(0.0, 300.0, 5.0))
    exact, temp = [20.0], 20.0
    for _ in asked:
        to = 20 + (60.0 if temp < 90.0 else 0.0) / 0.5
        temp = to + (temp - to) * np.exp(-5 / 60)
        exact.append(temp)
    assert run.at(np.arange(0, 301, 5.0), "lump") == pytest.approx(exact, abs=5e-3)
    assert 80 < run["lump"] < 100


def test_a_melting_node_stays_until_its_latent_heat_is_in():
    """Exact: 50 W into 10 J/K and 1000 J of latent heat at 60 degC, with 0.5 W/K to a room at 20 degC.

    Up to 60 by the exponential, then 1000 J / (50 - 20) W, then by the exponential again.
    """
    net = lump(10.0, 0.5, power_w=50.0, content=melting(10.0, 60.0, 60.0, 1000.0))
    run = warm_up(net, 100.0, tol_k=0.01)
    begins = -20 * np.log(1 - 40 / 100)
    ends = begins + 1000 / 30
    assert run.at(np.linspace(begins + 0.2, ends - 0.2, 50), "lump") == pytest.approx(np.full(50, 60.0), abs=1e-9)
    t = np.array([5.0, begins - 0.5, ends + 0.5, 80.0, 100.0])
    exact = np.where(t < begins, 120 - 100 * np.exp(-t / 20), 120 - 60 * np.exp(-(t - ends) / 20))
    assert run.at(t, "lump") == pytest.approx(exact, abs=0.05)
    assert run.stored_j == pytest.approx(10 * (run["lump"] - 20) + 1000, abs=1e-6)
    assert abs(run.closure_j) < 1e-4 * run.supplied_j


def test_melting_over_a_range_and_freezing_again():
    """After a heat pulse and a long rest the node is as cold as before, and all latent heat has come out."""
    content = melting(10.0, 55.0, 65.0, 500.0, liquid_j_k=14.0)
    net = lump(10.0, 0.5, power_w=1.0, content=content)
    run = warm_up(net, 2000.0, power=[(0.0, 50.0), (60.0, 0.0)], tol_k=0.01)
    assert run.at(60.0, "lump") > 65.0
    assert run["lump"] == pytest.approx(20.0, abs=1e-3)
    assert run.stored_j == pytest.approx(0.0, abs=0.01)
    assert abs(run.closure_j) < 3e-4 * run.supplied_j
    warm, slope = temperature_of(content, np.array([heat_of(content, t) for t in (20.0, 60.0, 100.0)]))
    assert warm == pytest.approx([20.0, 60.0, 100.0])
    assert slope == pytest.approx([1 / 10, 10 / 620, 1 / 14])


def test_an_island_keeps_its_heat():
    """Without any way out: P t = C (T - T0)."""
    run = warm_up(network(node("brick", 500.0, power_w=10.0)), 100.0, start_c=20.0)
    assert run["brick"] == pytest.approx(22.0, abs=1e-9)
    assert (run.lost_j, run.closure_j) == pytest.approx((0.0, 0.0), abs=1e-9)


def test_held_nodes_and_lists_in_the_output():
    net = stiff_net(massless=False)
    run = warm_up(net, 10.0)
    assert run.at([0.0, 10.0]).shape == (2, 5)
    assert run.at([0.0, 10.0], ["room", "tip"]).shape == (2, 2)
    assert run.at(3.0, "room") == 20.0 and np.ndim(run.at(3.0, "tip")) == 0
    assert run.at(np.arange(0, 10, 0.01), "coil") == pytest.approx(
        [float(run.at(t, "coil")) for t in np.arange(0, 10, 0.01)]
    )


def test_refusals():
    def says(*words):
        return pytest.raises(Fault, match="(?s)" + ".*".join(words))

    net = lump(1.0, 1.0, power_w=1.0)
    with says("outside 0 to 5 s"):
        warm_up(net, 5.0).at(6.0, "lump")
    with says("above zero"):
        warm_up(net, -1.0)
    with says("every_s"):
        warm_up(net, 5.0, power=lambda t, temps: 1.0)
    with says("rising times"):
        warm_up(net, 5.0, power=[(3.0, 1.0), (2.0, 0.0)])
    with says("zero or more, in W"):
        warm_up(net, 5.0, power=[(0.0, -1.0)])
    with says("none of the nodes has a power", "Say which"):
        warm_up(lump(1.0, 1.0), 5.0, power=[(0.0, 1.0)])
    with says("'lmp' is no node"):
        warm_up(net, 5.0, power=[(0.0, {"lmp": 1.0})])
    with says("start_c is needed"):
        warm_up(
            network(
                node("a", 1.0), held("hot", 100.0), held("cold", 0.0), link("a", "hot", 1.0), link("a", "cold", 1.0)
            ),
            5.0,
        )
    with says("no way for heat", "cannot be told"):
        warm_up(network(node("a", 0.0), node("b", 1.0), held("room", 20.0), link("b", "room", 1.0)), 5.0)
    with says("melts, without heat capacity"):
        lump(0.0, 1.0, content=melting(1.0, 60.0, 60.0, 10.0))
    with says("melting"):
        melting(1.0, 60.0, 50.0, 10.0)
