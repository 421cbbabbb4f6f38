"""Speed against scipy in one run: rounds alternate, the median of each round's ratio counts, at equal error.

The heated tool of tests/thermal/heated_tool.py; equal error: every output within 0.25 K of Radau on 0.5 mm
cells at every second.  What loses the race below its limit fails; the table is printed (pytest -s).
"""

import time

import numpy as np
import pytest
from thermal.network.heated_tool import GRADED, HOUR_S, build, outputs, uniform
from thermal.network.heated_tool_plain import plain
from thermal.network.test_heated_tool import FINE, hour_by_radau, random_designs

from benchcalc.thermal.network.assemble import ready
from benchcalc.thermal.network.side_by_side import design
from benchcalc.thermal.network.steady import steady
from benchcalc.thermal.network.warm_up import warm_up

ROUNDS = 9
EQUAL_ERROR_K = 0.25


def race(contenders, rounds=ROUNDS):
    """Median ms of each contender, and how many times longer than the first the others take."""
    names = list(contenders)
    for name in names:
        contenders[name]()  # imports and caches
    taken = {name: [] for name in names}
    for turn in range(rounds):
        for name in names if turn % 2 else names[::-1]:
            start = time.perf_counter()
            contenders[name]()
            taken[name].append((time.perf_counter() - start) * 1e3)
    ours = np.array(taken[names[0]])
    ratios = {name: float(np.median(np.array(taken[name]) / ours)) for name in names}
    print()
    for name in names:
        print(f"{name:55s} {np.median(taken[name]):9.3f} ms  x {ratios[name]:.2f}")
    return ratios


def test_an_hour_of_warming_up():
    """Aim 6, limit 4: 3601 outputs against solve_ivp, BDF, sparsity given, 1 mm cells (2 mm cells miss the error)."""
    from scipy.integrate import solve_ivp
    from scipy.sparse import csr_array

    times, exact = hour_by_radau()
    rhs, sparsity, at_plain = plain(uniform(1.0))
    sparsity = csr_array(sparsity)
    net, at = build(GRADED)
    start = np.full(sparsity.shape[0], 20.0)

    def ours(tol_k=0.3):
        ready.cache_clear()  # assembling is counted
        return outputs_of(warm_up(net, HOUR_S, tol_k=tol_k), at, times)

    def scipy(**options):
        return outputs(solve_ivp(rhs, (0, HOUR_S), start, t_eval=times, **options).y.T, at_plain)

    bdf = {"method": "BDF", "jac_sparsity": sparsity, "rtol": 1e-4, "atol": 1e-2}
    lsoda = {"method": "LSODA", "lband": 3, "uband": 3, "rtol": 1e-4, "atol": 1e-2}
    for found in (ours(), scipy(**bdf), scipy(**lsoda)):
        assert np.abs(found - exact).max() < EQUAL_ERROR_K
    assert (
        np.abs(scipy(**bdf | {"rtol": 1e-3, "atol": 0.1}) - exact).max() > EQUAL_ERROR_K
    )  # the next coarser one misses
    ratios = race(
        {
            "network, graded cells, 0.3 K a step": ours,
            "network, 0.1 K a step": lambda: ours(0.1),
            "solve_ivp BDF, sparsity, rtol 1e-4": lambda: scipy(**bdf),
            "solve_ivp LSODA, banded, rtol 1e-4": lambda: scipy(**lsoda),
        }
    )
    assert ratios["solve_ivp BDF, sparsity, rtol 1e-4"] > 4
    assert ratios["solve_ivp LSODA, banded, rtol 1e-4"] > 2


def outputs_of(run, at, times):
    numbers = at["tip"] + at["entry"] + at["sleeve"]
    temps = run.at(times, numbers)
    return outputs(temps, {"tip": [0, 1], "entry": [2, 3], "sleeve": list(range(4, len(numbers)))})


def test_steady_state_from_cold():
    """Aim 25, limit 12: against scipy.optimize.root (hybr) with a banded Jacobian on 2 mm cells."""
    from scipy.optimize import root

    rhs, sparsity, _ = plain(uniform(2.0))
    start = np.full(sparsity.shape[0], 300.0)
    net, at = build(GRADED)
    assert outputs(steady(net).temps_c, at) == pytest.approx(FINE, abs=EQUAL_ERROR_K)
    ratios = race(
        {
            "network, graded cells, from cold": lambda: [steady(net) for _ in range(10)],
            "network, assembled anew": lambda: [(ready.cache_clear(), steady(net)) for _ in range(10)],
            "scipy.optimize.root, band": lambda: [
                root(lambda t: rhs(0, t), start, method="hybr", options={"band": (3, 3)}) for _ in range(10)
            ],
        }
    )
    assert ratios["scipy.optimize.root, band"] > 12


def test_many_designs_at_once():
    """Aim 5, limit 3: 2000 random designs side by side against the single solve in a loop (a fortieth of it, times 40)."""
    net, _ = random_designs(2000)
    singles = [design(net, k) for k in range(0, 2000, 40)]
    each = [steady(s).temps_c for s in singles]
    together = steady(net).temps_c[::40]
    assert np.abs(together - each).max() < 1e-6

    def loop():
        ready.cache_clear()
        return [steady(s) for s in singles]

    ratios = race({"2000 designs at once": lambda: steady(net), "50 designs in a loop": loop}, rounds=5)
    assert 40 * ratios["50 designs in a loop"] > 3
