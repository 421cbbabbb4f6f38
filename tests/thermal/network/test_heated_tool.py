"""The heated tool: grids, an hour of warming up, many designs, all against scipy or against itself refined."""

from functools import cache

import numpy as np
import pytest
from thermal.network.heated_tool import GRADED, HOUR_S, build, outputs, uniform
from thermal.network.heated_tool_plain import plain

from benchcalc import Fault
from benchcalc.thermal.network import newton
from benchcalc.thermal.network.curves import loss_curve
from benchcalc.thermal.network.network import Links, Network
from benchcalc.thermal.network.side_by_side import design
from benchcalc.thermal.network.steady import steady
from benchcalc.thermal.network.warm_up import warm_up

# Steady tip, hottest wire, handle entry (degC) by the plain formulation, scipy.optimize.root;
# test_plain_* recomputes two.
TABLE = {2.0: (253.887, 849.674, 84.404), 1.0: (254.412, 849.762, 84.398), 0.5: (254.544, 849.739, 84.393)}
FINE = TABLE[0.5]


@cache
def hour_by_radau():
    """Outputs at every second on 0.5 mm cells, by scipy's Radau on the plain formulation."""
    from scipy.integrate import solve_ivp
    from scipy.sparse import csr_array

    rhs, sparsity, at = plain(uniform(0.5))
    times = np.arange(0.0, HOUR_S + 1)
    found = solve_ivp(
        rhs,
        (0, HOUR_S),
        np.full(sparsity.shape[0], 20.0),
        method="Radau",
        jac_sparsity=csr_array(sparsity),
        rtol=1e-7,
        atol=1e-6,
        t_eval=times,
    )
    return times, outputs(found.y.T, at)


@pytest.mark.parametrize("cell_mm", [2.0, 1.0])
def test_plain_formulation_by_scipy_root(cell_mm):
    from scipy.optimize import root

    rhs, sparsity, at = plain(uniform(cell_mm))
    found = root(
        lambda t: rhs(0, t), np.full(sparsity.shape[0], 300.0), method="hybr", options={"band": (3, 3), "xtol": 1e-10}
    )
    assert found.success
    assert outputs(found.x, at) == pytest.approx(TABLE[cell_mm], abs=6e-4)


@pytest.mark.parametrize(("cell_mm", "allowed_k"), [(2.0, 0.03), (1.0, 0.02), (0.5, 0.005)])
@pytest.mark.parametrize("face_node", [True, False])
def test_steady_state_on_each_grid(cell_mm, allowed_k, face_node):
    """The plain formulation takes k at each cell, ours the integral of k: they differ by what the grid leaves open
    (0.020 K on 2 mm cells with the face node, 0.027 K without; a quarter of it on 1 mm).

    face_node: copper and steel meet in a point without mass, or in one conductance.
    """
    net, at = build(uniform(cell_mm), face_node=face_node)
    found = steady(net)
    assert outputs(found.temps_c, at) == pytest.approx(TABLE[cell_mm], abs=allowed_k)
    assert abs(found.balance_w) < 1e-9


def test_graded_grid_keeps_the_half_kelvin():
    net, at = build(GRADED)
    assert outputs(steady(net).temps_c, at) == pytest.approx(FINE, abs=0.25)


def test_grid_converges_with_the_square_of_the_cell():
    """Tip against the finest grid: halving the cell quarters the error (finite volumes, second order)."""
    tip = [outputs(steady(net).temps_c, at)[0] for net, at in (build(uniform(c)) for c in (2.0, 1.0, 0.5, 0.25))]
    steps = np.diff(tip)
    assert np.log2(steps[:-1] / steps[1:]) == pytest.approx([2.0, 2.0], abs=0.15)


def test_an_hour_against_radau():
    times, exact = hour_by_radau()
    net, at = build(uniform(0.5))
    run = warm_up(net, HOUR_S, tol_k=1e-3)
    assert np.abs(outputs(run.at(times), at) - exact).max() < 0.005
    assert abs(run.closure_j) < 1e-6 * run.supplied_j
    assert run.stored_j == pytest.approx(6938.4, rel=1e-4)  # by Radau on the plain formulation


def test_as_exact_between_steps_as_at_their_ends():
    net, _ = build(GRADED)
    times = np.arange(1.0, HOUR_S)
    fine, run = (warm_up(net, HOUR_S, tol_k=tol_k) for tol_k in (1e-3, 0.3))
    between, ends = (np.abs(run.at(t) - fine.at(t)).max() for t in (times, run.time_s))
    assert between <= ends < 0.1


@pytest.mark.parametrize("tol_k", [0.7, 0.3, 0.1])
def test_graded_grid_keeps_a_quarter_kelvin_at_every_second(tol_k):
    times, exact = hour_by_radau()
    net, at = build(GRADED)
    run = warm_up(net, HOUR_S, tol_k=tol_k)
    assert np.abs(outputs(run.at(times), at) - exact).max() < 0.25
    assert abs(run.closure_j) < 1e-4 * run.supplied_j
    assert run.supplied_j == pytest.approx(144000.0)


def test_error_falls_with_the_tolerance():
    net, at = build(uniform(2.0))
    times = np.linspace(0, HOUR_S, 500)
    exact = outputs(warm_up(net, HOUR_S, tol_k=1e-5).at(times), at)
    runs = [warm_up(net, HOUR_S, tol_k=t) for t in (0.1, 0.01, 0.001)]
    errors = [np.abs(outputs(r.at(times), at) - exact).max() for r in runs]
    order = np.log(np.array(errors[:-1]) / errors[1:]) / np.log([b.steps / a.steps for a, b in zip(runs, runs[1:])])
    assert errors[0] < 0.1 and errors[2] < 0.005
    assert (order > 2.3).all(), (errors, order)


def test_extremes_find_their_steady_state():
    """540 combinations: nothing to 120 W, joint 0.05-20 W/K, handle 0.05-5 W/(m K), skins and sleeve a tenth to
    tenfold."""
    power, joint, handle, skin, sleeve = (
        v.ravel()
        for v in np.meshgrid(
            (0.0, 0.01, 0.3, 1.0, 3.0), (0.025, 0.2, 1.0, 10.0), (0.15, 1.0, 15.0), (0.1, 1.0, 3.0), (0.05, 1.0, 10.0)
        )
    )
    net, _ = build(
        uniform(2.0), scale={"power": power, "joint": joint, "handle": handle, "skin": skin, "sleeve": sleeve}
    )
    together = steady(net)
    for k in range(0, power.size, 5):
        alone = steady(design(net, k))
        assert alone.iterations <= 12 and abs(alone.balance_w) < 1e-8
        assert together.temps_c[k] == pytest.approx(alone.temps_c, abs=1e-7)


def random_designs(count, seed=1):
    rng = np.random.default_rng(seed)
    low, high = {"power": 0.5, "joint": 0.3, "handle": 0.5, "sleeve": 0.5, "skin": 0.5}, 2.0
    return build(GRADED, scale={k: rng.uniform(a, high, count) for k, a in low.items()})


def test_the_last_step_may_go_by_the_matrix_before_it(monkeypatch):
    """Within a millionth of a kelvin of Newton's method carried on to the last digits, with fewer matrices factored."""
    nets = [build(GRADED, scale={"power": p, "joint": j})[0] for p in (0.01, 0.1, 0.5, 1.0, 3.0) for j in (0.02, 1.0)]
    soon = [steady(net) for net in nets]
    monkeypatch.setattr(newton, "error_repeated", lambda moved_k, before_k: np.inf)
    plain = [steady(net) for net in nets]
    monkeypatch.setattr(newton, "CLOSE_ENOUGH_K", 1e-10)
    late = [steady(net) for net in nets]
    assert max(np.abs(a.temps_c - b.temps_c).max() for a, b in zip(soon, late)) < 1e-6
    count = [sum(found.iterations for found in of) for of in (soon, plain, late)]
    assert count[0] + 3 <= count[1] < count[2]


def test_many_designs_equal_single_ones():
    net, _ = random_designs(600)
    together = steady(net)
    assert together.temps_c.shape == (600, len(net.names))
    assert np.abs(together.balance_w).max() < 1e-8
    worst = max(np.abs(together.temps_c[k] - steady(design(net, k)).temps_c).max() for k in range(0, 600, 17))
    assert worst < 1e-8
    assert together["room"] == pytest.approx(np.full(600, 20.0))


def test_many_designs_with_a_loss_curve_each():
    net, _ = random_designs(5)
    speed = np.linspace(0.5, 2.0, 5)[:, None]
    each = loss_curve("draught", lambda t: speed * 8 * (t - 20.0), 20.0)
    net = Network(
        net.names,
        net.capacity_j_k,
        net.power_w,
        net.held_c,
        net.links,
        net.bars,
        net.rays,
        net.skins,
        net.materials,
        (net.curves[0], each),
        {},
        True,
    )
    together = steady(net)
    for k in range(5):
        assert together.temps_c[k] == pytest.approx(steady(design(net, k)).temps_c, abs=1e-8)
    assert (np.diff(together.lost_w / net.power_w.sum(axis=1)) < 1e-9).all()


def test_many_designs_refusals():
    net, _ = random_designs(3)
    with pytest.raises(Fault, match="designs that differ"):
        steady(
            Network(
                net.names,
                net.capacity_j_k,
                np.ones((2, len(net.names))),
                net.held_c,
                net.links,
                net.bars,
                net.rays,
                net.skins,
                net.materials,
                net.curves,
            )
        )
    off = net.links.conductance_w_k.copy()
    off[1] = 0.0
    cut = Network(
        net.names,
        net.capacity_j_k,
        net.power_w,
        net.held_c,
        Links(net.links.first, net.links.second, off),
        materials=net.materials,
        curves=net.curves,
    )
    with pytest.raises(Fault, match="no way for heat"):
        steady(cut)
    loose = np.tile(net.held_c, (3, 1))
    loose[1, -1] = np.nan
    with pytest.raises(Fault, match="same nodes"):
        steady(
            Network(
                net.names,
                net.capacity_j_k,
                net.power_w,
                loose,
                net.links,
                net.bars,
                net.rays,
                net.skins,
                net.materials,
                net.curves,
            )
        )
