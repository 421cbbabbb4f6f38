"""The network against scipy, at equal error: every output within 0.25 K of Radau on 0.5 mm cells at every second.

The heated tool of tests/thermal/network/heated_tool.py. Asserted is what is counted: steps, factorisations, designs
a call.
"""

from dataclasses import replace

import numpy as np
import pytest
import scipy.linalg.lapack
from scipy.integrate import solve_ivp
from scipy.optimize import root
from scipy.sparse import csr_array
from thermal.network.heated_tool import GRADED, HOUR_S, build, outputs, uniform
from thermal.network.heated_tool_plain import plain
from thermal.network.test_heated_tool import FINE, hour_by_radau, random_designs

from benchcalc.thermal.network import numbering, side_by_side, structure
from benchcalc.thermal.network.assemble import assembled, matrices_of
from benchcalc.thermal.network.balance import working
from benchcalc.thermal.network.factor import Factor
from benchcalc.thermal.network.side_by_side import design
from benchcalc.thermal.network.steady import steady
from benchcalc.thermal.network.structure import structure_of
from benchcalc.thermal.network.warm_up import _Stepper, warm_up

EQUAL_ERROR_K = 0.25


def counted(monkeypatch, holder, name):
    """A list that grows by the arguments of each call of holder.name from now on."""
    calls, real = [], getattr(holder, name)
    monkeypatch.setattr(holder, name, lambda *a, **k: (calls.append(a), real(*a, **k))[1])
    return calls


def forget(*, structure=False):
    """Have the next network assembled anew; the structure too, which other values of the same network share."""
    assembled.cache_clear()
    matrices_of.cache_clear()
    if structure:
        structure_of.cache_clear()
        numbering._islands.cache_clear()


def outputs_of(run, at, times):
    numbers = at["tip"] + at["entry"] + at["sleeve"]
    temps = run.at(times, numbers)
    return outputs(temps, {"tip": [0, 1], "entry": [2, 3], "sleeve": list(range(4, len(numbers)))})


def fed(net, at, times):
    """The hour by LSODA that is fed with the network's own balance and its banded Jacobian: (outputs, its account).

    It knows no point without mass: the face gets a thousandth of what the cell behind it holds.
    """
    face, mass = net.names.index("face"), net.capacity_j_k.copy()
    mass[face] = 1e-3 * mass[face + 1]
    forget()
    banded = assembled(replace(net, capacity_j_k=mass))
    half, n, given = banded.half, banded.free.size, net.power_w[banded.free] + banded.fixed_w
    heat, heat_and_stiffness = working(banded)
    per_mass, into = 1 / banded.capacity_j_k, np.empty(n)
    rows = np.clip(np.arange(n)[:, None] + np.arange(-half, half + 1), 0, n - 1)

    def rate(_, temps):
        heat(temps, given, into)
        return into * per_mass

    def jacobian(_, temps):
        return (heat_and_stiffness(temps, given, into) * -per_mass[rows]).T

    options = {"lband": half, "uband": half, "rtol": 2e-4, "atol": 2e-2, "t_eval": times, "jac": jacobian}
    found = solve_ivp(rate, (0, HOUR_S), np.full(n, 20.0), method="LSODA", **options)
    place = np.argsort(banded.free)  # the room comes last
    return outputs(found.y.T, {name: place[numbers] for name, numbers in at.items()}), found


def test_an_hour_of_warming_up(race):
    """3601 outputs against solve_ivp, BDF, sparsity given, 1 mm cells (2 mm cells miss the error); each at about the
    loosest tolerance that keeps it within 0.2 K.  The last has the network's cells and formulation too: what is left
    is the march alone."""
    times, exact = hour_by_radau()
    rhs, sparsity, at_plain = plain(uniform(1.0))
    sparsity = csr_array(sparsity)
    net, at = build(GRADED)
    start = np.full(sparsity.shape[0], 20.0)

    def ours(tol_k):
        forget()  # assembling is counted
        run = warm_up(net, HOUR_S, tol_k=tol_k)
        return outputs_of(run, at, times), run

    def scipy(**options):
        found = solve_ivp(rhs, (0, HOUR_S), start, t_eval=times, **options)
        return outputs(found.y.T, at_plain), found

    bdf = {"method": "BDF", "jac_sparsity": sparsity, "rtol": 3e-4, "atol": 3e-2}
    lsoda = {"method": "LSODA", "lband": 3, "uband": 3, "rtol": 2e-4, "atol": 2e-2}
    answers = race(
        {
            "network, graded cells, 1.8 K a step": lambda: ours(1.8),
            "network, 0.1 K a step": lambda: ours(0.1),
            "solve_ivp BDF, sparsity, rtol 3e-4": lambda: scipy(**bdf),
            "solve_ivp LSODA, banded, rtol 2e-4": lambda: scipy(**lsoda),
            "LSODA fed with our balance and Jacobian, graded, rtol 2e-4": lambda: fed(net, at, times),
        }
    )
    *judged, (by_fed, _) = answers.values()
    for found, _ in judged:
        assert np.abs(found - exact).max() < 0.2 < EQUAL_ERROR_K
    assert np.abs(by_fed - exact).max() < EQUAL_ERROR_K
    coarser = scipy(**bdf | {"rtol": 1e-3, "atol": 0.1})[0]
    assert np.abs(coarser - exact).max() > EQUAL_ERROR_K  # the next coarser one misses
    coarse, fine, by_bdf, by_lsoda = (run for _, run in judged)
    assert coarse.steps + coarse.refused <= 15 and fine.steps + fine.refused <= 32
    assert 6 * coarse.steps < min(by_bdf.nfev, by_lsoda.nfev)  # two heat balances a step


def test_what_a_step_costs(monkeypatch):
    """One factorisation, five solves, a balance and one with its stiffness; no rows of the matrix move."""
    net, _ = build(GRADED)
    steps = ((Factor, "take"), (Factor, "solve"), (_Stepper, "look"), (_Stepper, "look_and_stiffen"))
    taken, solved, looked, stiffened = (counted(monkeypatch, *step) for step in steps)
    run = warm_up(net, HOUR_S, tol_k=0.3)
    tried = run.steps + run.refused
    assert len(taken) == tried and len(solved) == 5 * tried and len(looked) == tried
    assert not any(factor.exchanged for factor, *_ in taken)
    assert len(stiffened) <= run.steps + 2  # one more settles the point without mass at the start


def test_steady_state_from_cold(race, monkeypatch):
    """Against scipy.optimize.root (hybr) with a banded Jacobian on 2 mm cells."""
    rhs, sparsity, _ = plain(uniform(2.0))
    start = np.full(sparsity.shape[0], 300.0)
    net, at = build(GRADED)
    steady(net)
    others = [build(GRADED, scale={"joint": 1 + k / 20, "skin": 1 + k / 50, "power": 1 + k / 30})[0] for k in range(10)]
    found, *_, theirs = race(
        {
            "network, graded cells, from cold": lambda: [steady(net) for _ in range(10)][0],
            "ten of other numbers, assembled anew, their structure met before": lambda: [
                (forget(), steady(other)) for other in others
            ],
            "nothing of them met before": lambda: [(forget(structure=True), steady(other)) for other in others],
            "scipy.optimize.root, band": lambda: [
                root(lambda t: rhs(0, t), start, method="hybr", options={"band": (3, 3)}) for _ in range(10)
            ][0],
        }
    ).values()
    assert outputs(found.temps_c, at) == pytest.approx(FINE, abs=EQUAL_ERROR_K)
    factorised = counted(monkeypatch, scipy.linalg.lapack, "dgbsv")
    found = steady(net)
    assert len(factorised) == found.iterations <= 4 and 2 * found.iterations < theirs.nfev


def test_other_values_in_a_structure_that_is_known_are_only_filled_in(monkeypatch):
    """A wall, a joint and a room moved: the same answers as a network that nothing is known of."""
    forget(structure=True)
    ordered = counted(monkeypatch, structure, "numbering")
    nets = [build(GRADED, scale={"joint": j, "handle": h, "skin": k})[0] for j, h, k in ((1, 1, 1), (3, 0.5, 1.2))]
    nets.append(replace(nets[0], held_c=nets[0].held_c + 15.0))
    quick = [steady(net).temps_c for net in nets]
    assert len(ordered) == 1
    for net, found in zip(nets, quick):
        forget(structure=True)
        assert (steady(net).temps_c == found).all()
    linked = replace(nets[0].links, first=np.append(nets[0].links.first, 0), second=np.append(nets[0].links.second, 9))
    linked = replace(linked, conductance_w_k=np.append(nets[0].links.conductance_w_k, 0.1))
    steady(replace(nets[0], links=linked))
    assert len(ordered) == 5  # one way more is another structure


def test_cost_by_cells_and_designs(race):
    """Four times the cells, four times the designs: the band stays as narrow as it was, and the answers are found in as
    many steps, so that the cost grows as cells and designs do; the times stand in the table."""
    nets = {mm: build(uniform(mm))[0] for mm in (2.0, 1.0, 0.5, 0.25)}
    found = race(
        {f"settled, cells of {mm} mm: {len(net.names)} nodes": lambda n=net: steady(n) for mm, net in nets.items()}
    )
    steps = [one.iterations for one in found.values()]
    assert max(steps) <= min(steps) + 1
    assert len({structure_of(structure.ButNumbers(net)).half for net in nets.values()}) == 1
    crowds = {count: random_designs(count)[0] for count in (250, 500, 1000, 2000)}
    many = race({f"settled, {count} designs": lambda n=net: steady(n) for count, net in crowds.items()})
    steps = [one.iterations for one in many.values()]
    assert max(steps) <= min(steps) + 1


def test_many_designs_at_once(race, monkeypatch):
    """2000 random designs side by side against the single solve in a loop (a fortieth of it)."""
    net, _ = random_designs(2000)
    singles = [design(net, k) for k in range(0, 2000, 40)]
    together, each = race(
        {"2000 designs at once": lambda: steady(net), "50 of them in a loop": lambda: [steady(s) for s in singles]}
    ).values()
    assert np.abs(together.temps_c[::40] - [s.temps_c for s in each]).max() < 1e-6
    solved = counted(monkeypatch, side_by_side, "eliminate")
    many = steady(net)
    sizes = [matrix.shape[1] for _, matrix in solved]
    calls = -(-2000 // (side_by_side.SIDE_BY_SIDE // len(net.names)))
    assert len(sizes) <= calls * many.iterations  # every call solves many designs
    assert sum(sizes) <= 4.5 * 2000  # most have their answer after four steps, and are left alone then
    assert many.iterations <= max(s.iterations for s in each) + 1
