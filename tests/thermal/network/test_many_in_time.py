"""Many designs marched side by side by long steps: against closed forms, scipy and each design marched alone."""

import numpy as np
import pytest
from scipy.integrate import solve_ivp

import benchcalc as bc
from benchcalc.chain.heat.link import work_heat
from benchcalc.chain.workings import all_parts, chain, drawn_builds
from benchcalc.thermal.network.curves import melting
from benchcalc.thermal.network.many_in_time import step_ends, warm_up_many
from benchcalc.thermal.network.network import held, link, network, node
from benchcalc.thermal.network.side_by_side import design
from benchcalc.thermal.network.warm_up import warm_up


def test_steps_grow_and_end_where_asked():
    ends = step_ends(3600.0)
    assert ends[0] == 0 and ends[-1] == pytest.approx(3600.0) and ends.size < 32
    assert np.diff(ends)[1:] / np.diff(ends)[:-1] == pytest.approx(1.25)


def test_a_lump_by_its_closed_form_and_second_order():
    # C dT/dt = P - G (T - 20): 20 + P/G (1 - exp(-t G/C)), Incropera eq. 5.25
    net = network(node("lump", 100.0, power_w=10.0), held("room", 20.0), link("lump", "room", 0.25))
    errors = []
    for growth in (1.2, 1.1):
        found = warm_up_many(net, 1200.0, growth=growth)
        exact = 20 + 40 * (1 - np.exp(-found.time_s / 400))
        errors.append(np.abs(found.temps_c[:, 0, 0] - exact).max())
    assert errors[0] < 0.25 and errors[1] < errors[0] / 3  # half the steps' length, a quarter of their error


def test_three_nodes_with_and_without_mass_by_scipy():
    net = network(
        node("coil", 20.0, power_w=12.0), node("joint"), node("tip", 60.0), held("room", 20.0),
        link("coil", "joint", 0.5), link("joint", "tip", 0.3), link("tip", "room", 0.05), link("coil", "room", 0.02),
    )  # fmt: skip
    g = 1 / (1 / 0.5 + 1 / 0.3)

    def rates(_, t):
        across = g * (t[0] - t[1])
        return [(12 - across - 0.02 * (t[0] - 20)) / 20, (across - 0.05 * (t[1] - 20)) / 60]

    found = warm_up_many(net, 1800.0, growth=1.05)
    exact = solve_ivp(rates, (0, 1800), [20.0, 20.0], t_eval=found.time_s, rtol=1e-9, atol=1e-9).y
    assert pytest.approx(exact, abs=0.5) == found.temps_c[:, 0, [0, 2]].T
    assert found.temps_c[-1, 0, [0, 2]] == pytest.approx(exact[:, -1], abs=0.06)


def test_what_melts_takes_its_latent_heat():
    """60 W into 100 J/K that melts at 60 degC with 6000 J, no loss: there after 40/0.6 s, liquid 100 s later."""
    net = network(
        node("wax", 100.0, power_w=60.0, content=melting(100.0, 59.5, 60.5, 6000.0)), held("room", 20.0),
        link("wax", "room", 1e-6),
    )  # fmt: skip
    found = warm_up_many(net, 300.0, growth=1.03)
    at = np.interp([66.0, 120.0, 166.0, 300.0], found.time_s, found.temps_c[:, 0, 0])
    energy = [59.5, 20 + (60 * 300.0 - 6000.0) / 100]  # 3960 J are just inside the melting; 18000 J far beyond it
    assert at[[0, 3]] == pytest.approx(energy, abs=0.6) and 59.4 < at[1] < 60.6 and 59.9 < at[2] < 61.5


def test_samples_of_a_tool_differ_as_marched_alone():
    """Side by side the difference between designs is within 3 % of it, at all nodes from the first minute."""
    build = bc.load_chosen("insert_press")
    parts, _ = all_parts(build)
    _, wire, coil, _, _ = chain(drawn := drawn_builds(build, parts["heat"], parts["wire"], 3))
    net = work_heat(drawn, wire, coil).model.net
    many = warm_up_many(net, 3600.0)
    late = many.time_s > 60
    room_c = net.held_c[:, -1]
    alone = [
        warm_up(design(net, i), 3600.0, start_c=room_c[i], tol_k=0.02, accounted=False).at(many.time_s)
        for i in range(3)
    ]
    for i in (1, 2):
        apart = alone[i] - alone[0]
        off = many.temps_c[:, i] - many.temps_c[:, 0] - apart
        assert np.abs(off[late]).max() < 0.03 * np.abs(apart).max()
        assert np.abs(off[-1]).max() < 0.005 * np.abs(apart).max()
