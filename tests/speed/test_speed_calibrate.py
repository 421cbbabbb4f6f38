"""Calibrating a tool to its log against doing the same with scipy alone, on the same network: runs are counted.

The peer: scipy.optimize.least_squares with bounds and the same prior, its own slopes, each run by
solve_ivp BDF with the pattern of links given (LSODA and Radau are slower here), at equal error: all readings within
0.25 K of Radau at a much finer tolerance.
"""

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import least_squares
from scipy.sparse import coo_array
from studies.calibrate.test_calibrate import few

import benchcalc as bc
from benchcalc.basics.slices import finished
from benchcalc.studies.calibrate.probe import nodes_at, probe
from benchcalc.studies.calibrate.sensor_model import as_read, deviation, ends
from benchcalc.studies.calibrate.start import sloped, trial_of
from benchcalc.studies.calibrate.trial_tool import tool_at, true_readings
from benchcalc.thermal.network.curves import conduction_integral, loss_at
from benchcalc.thermal.tool.model import model_of
from benchcalc.thermal.warmup.bounded_fit import PRIOR_DEVIATION, bounded_fit

LIGHTEST_J_K = 2e-3  # what a surface without mass weighs for scipy, which knows no nodes without
EQUAL_ERROR_K = 0.25
TIMES = np.linspace(0, 3600, 40)


@pytest.fixture(scope="module")
def task():
    build = few(bc.load_chosen("insert_press"), "room.air_speed_m_s", "heat.rear_convection", "part.tube.emissivity")
    blank = probe("tube", 0.105, TIMES, 20 + TIMES / 50)
    metal = true_readings(trial_of(build, (blank,)), np.array([0.3, -0.2, 0.1, 0.5, -0.6, 0.4]))
    read = metal - 0.2 * (metal - metal[0]) + np.random.default_rng(3).normal(0, 1, metal.size)
    return trial_of(build, (probe("tube", 0.105, TIMES, read),))


def rates_of(net):
    """dT/dt of a network written plainly: flow of each link, bar, ray and surface, summed at its nodes."""
    n, free = len(net.names), np.isnan(net.held_c)
    mass = np.maximum(net.capacity_j_k, LIGHTEST_J_K)
    links, bars, rays, skins = net.links, net.bars, net.rays, net.skins
    first = np.concatenate([links.first, bars.first, rays.first, skins.node])
    second = np.concatenate([links.second, bars.second, rays.second])
    kinds = [(m, np.flatnonzero(bars.material == k)) for k, m in enumerate(net.materials)]
    surfaces = [(c, np.flatnonzero(skins.curve == k)) for k, c in enumerate(net.curves)]
    everywhere = np.where(free, 0.0, net.held_c)

    def rates(_, temps):
        everywhere[free] = temps
        by_bar = np.empty(bars.first.size)
        for material, at in kinds:
            by_bar[at] = bars.shape_m[at] * (
                conduction_integral(material, everywhere[bars.first[at]])
                - conduction_integral(material, everywhere[bars.second[at]])
            )
        fourth = (everywhere + 273.15) ** 4
        off = np.empty(skins.node.size)
        for curve, at in surfaces:
            off[at] = skins.area_m2[at] * loss_at(curve, everywhere[skins.node[at]])[0]
        flows = np.concatenate(
            [
                links.conductance_w_k * (everywhere[links.first] - everywhere[links.second]),
                by_bar,
                rays.exchange_w_k4 * (fourth[rays.first] - fourth[rays.second]),
            ]
        )
        heat = net.power_w - np.bincount(first, np.concatenate([flows, off]), n) + np.bincount(second, flows, n)
        rise = np.ones(n)  # specific heat at each node's temperature, as a share of that at 20 degC
        for i, store in enumerate(net.stores):
            mine = net.stored_by == i
            rise[mine] = np.interp(everywhere[mine], store.temps_c, store.ratio)
        return (heat / (mass * rise))[free]

    return rates, free


def by_scipy(trial, place, method="BDF", rtol=3e-3, atol=0.3):
    """The readings of one run by solve_ivp, the pattern of links given."""
    model = model_of(tool_at(trial, place)[2])
    net = model.net
    rates, free = rates_of(net)
    ends_of = [(w.first, w.second) for w in (net.links, net.bars, net.rays)]
    a, b = (np.concatenate([e[i] for e in ends_of] + [np.arange(free.size)]) for i in (0, 1))
    pattern = coo_array((np.ones(2 * a.size), (np.concatenate([a, b]), np.concatenate([b, a])))).tocsr()[free][:, free]
    times = trial.probes[0].time_s
    start = np.full(free.sum(), net.held_c[~free][0])
    found = solve_ivp(
        rates, (0, times[-1]), start, method=method, t_eval=times, rtol=rtol, atol=atol, jac_sparsity=pattern
    )
    everywhere = np.zeros((times.size, free.size))
    everywhere[:, free] = found.y.T
    nodes, weights = nodes_at(model, trial.probes[0].at_m)
    return everywhere[:, nodes] @ weights


def test_calibrating_to_a_log_of_an_hour(task, race):
    """The whole search, with the slopes it needs: it ends no worse, with fewer runs of the tool."""
    k = len(task.unknowns)
    read_c, bounds = task.probes[0].temp_c, ends(task)
    spread_k = deviation(task.build, task.probes, read_c)
    exact = by_scipy(task, np.zeros(k), "Radau", 1e-5, 1e-3)
    assert np.abs(true_readings(task, np.zeros(k)) - exact).max() < EQUAL_ERROR_K
    assert np.abs(by_scipy(task, np.zeros(k)) - exact).max() < EQUAL_ERROR_K

    runs = {"ours": 0, "theirs": 0}

    def model(place):
        runs["ours"] += 1
        return true_readings(task, place[:k])

    def slope(place):
        runs["ours"] += k + 1
        return finished(sloped(task, place))[1]

    def observe(place, metal_c, steep):
        said, of = as_read(task, place, metal_c, steep)
        return (said - read_c) / spread_k, of / spread_k[:, None]

    def ours():
        return bounded_fit(model, lambda p, there: slope(p[:k]), observe, bounds)

    def misfits(place):
        runs["theirs"] += 1
        said = as_read(task, place, by_scipy(task, place[:k]))[0]
        return np.concatenate([(said - read_c) / spread_k, place / PRIOR_DEVIATION])

    def theirs():
        return least_squares(
            misfits, np.zeros(k + 2), bounds=bounds, diff_step=0.05, x_scale=1.0, ftol=1e-3, xtol=1e-2, gtol=1e-2
        )

    a, b = race(
        {"calibrated by the tool's own solver": ours, "scipy least_squares over solve_ivp BDF, pattern given": theirs}
    ).values()
    assert a.at_rest and 0 < runs["ours"] < runs["theirs"], runs
    assert misfits(a.place) @ misfits(a.place) < 2 * b.cost + 0.3  # ours ends no worse
    assert a.moves <= 4 and a.slopes <= 3
