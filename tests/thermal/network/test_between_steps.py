"""Temperatures between the ends of steps: a light node on a heavy one, and the order, against scipy."""

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.interpolate import CubicHermiteSpline
from scipy.linalg import expm

from benchcalc.thermal.network.network import held, link, network, node, ray
from benchcalc.thermal.network.warm_up import warm_up

SIGMA = 5.670374419e-8
CAPACITY = np.array([12.0, 0.02, 30.0])


def tip_with_a_bit():
    """A heated core, a bit of foil that follows it within ten milliseconds, a tube behind."""
    return network(
        node("core", CAPACITY[0], power_w=30.0),
        node("bit", CAPACITY[1]),
        node("tube", CAPACITY[2]),
        held("room", 20.0),
        link("core", "bit", 3.0),
        link("core", "tube", 0.2),
        ray("bit", "room", 4e-3, 0.8),
        link("tube", "room", 0.1),
    )


def balance(_, temps):
    """The same, written out: K/s."""
    core, bit, tube = temps
    into_bit, into_tube = 3.0 * (core - bit), 0.2 * (core - tube)
    shed = SIGMA * 4e-3 * 0.8 * ((bit + 273.15) ** 4 - 293.15**4)
    return np.array([30.0 - into_bit - into_tube, into_bit - shed, into_tube - 0.1 * (tube - 20.0)]) / CAPACITY


def test_a_light_node_on_a_heavy_one_keeps_the_tolerance_between_steps():
    run = warm_up(tip_with_a_bit(), 1800.0, tol_k=0.3)
    exact = solve_ivp(balance, (0, 1800), [20.0] * 3, method="Radau", rtol=1e-9, atol=1e-8, dense_output=True).sol
    times = np.linspace(0, 1800, 1801)
    error = np.abs(run.at(times, ["core", "bit", "tube"]) - exact(times).T)
    assert error.max() < 0.3
    ends = run.at(run.time_s, ["core", "bit", "tube"])
    assert np.abs(ends - exact(run.time_s).T).max() < 0.1
    by_its_rates = CubicHermiteSpline(run.time_s, ends, [balance(0, t) for t in ends])(times)  # through the same ends
    assert np.abs(by_its_rates - exact(times).T)[:, 1].max() > 5 * error[:, 1].max()


@pytest.mark.parametrize("bit_j_k", [4.0, 0.0])
def test_order_three_between_steps_where_all_lines_are_straight(bit_j_k):
    """Fixed steps, halved: the worst error at any time falls eightfold or more; exact by scipy's matrix exponential."""
    net = network(
        node("core", 12.0, power_w=30.0),
        node("bit", bit_j_k),
        node("tube", 30.0),
        held("room", 20.0),
        link("core", "bit", 0.5),
        link("bit", "tube", 0.3),
        link("tube", "room", 0.2),
        link("core", "room", 0.1),
    )
    by_mass, row = 1 / np.array([[12.0], [bit_j_k or 1.0], [30.0]]), 0.5 * 0.3 / 0.8
    if bit_j_k:
        matrix = by_mass * np.array([[-0.6, 0.5, 0.0], [0.5, -0.8, 0.3], [0.0, 0.3, -0.5]])
        names, push = ["core", "bit", "tube"], np.array([30.0 / 12.0, 0.0, 0.0])
    else:  # the point between is in balance: two conductances in a row
        matrix = by_mass[::2] * np.array([[-row - 0.1, row], [row, -row - 0.2]])
        names, push = ["core", "tube"], np.array([30.0 / 12.0, 0.0])
    end = np.linalg.solve(matrix, -push)
    times = np.linspace(0, 120, 1001)
    exact = 20 + np.array([end - expm(matrix * t) @ end for t in times])
    worst = []
    for steps in (40, 80, 160):
        run = warm_up(net, 120.0, power=lambda t, temps: 30.0, every_s=120.0 / steps, tol_k=1e9)
        worst.append(np.abs(run.at(times, names) - exact).max())
        bit = run.at(times, "bit")
        if not bit_j_k:
            around = run.at(times, ["core", "tube"]) @ np.array([0.5, 0.3]) / 0.8
            assert bit == pytest.approx(around, abs=1e-9)  # in balance at every moment, not only where a step ends
    assert (np.log2(np.array(worst[:-1]) / worst[1:]) > 2.7).all(), worst
