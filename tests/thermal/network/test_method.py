"""The method of the march by its conditions, in exact fractions, and by what it does in steps of any length.

Conditions: Hairer and Wanner, Solving Ordinary Differential Equations II, 2nd ed. 1996, sections IV.6 (straight lines:
the exponential function) and IV.7 (curved ones).
"""

from fractions import Fraction
from math import comb, factorial

import numpy as np
import pytest
from scipy.linalg import expm

from benchcalc.thermal.network.network import held, link, network, node, ray
from benchcalc.thermal.network.warm_up import CURVE, GAMMA, SUMS, warm_up

G = Fraction(1, 3)
FIRST, PUSH = ([Fraction(x) for x in row] for row in SUMS.tolist())
BETWEEN = [[Fraction(x) for x in row] for row in CURVE.tolist()]
POWERS = range(1, 5)


def stage(number):
    """Stage 1 to 4 of y' = y by powers of h, from the first on: z w^number with z = g h, w = 1 / (1 - z)."""
    return [comb(p - 2 + number, number - 1) * G**p for p in POWERS]


def last_stage():
    """The fifth: w (z guess + z sum of PUSH w^number)."""
    at_once = [G * x for x in [Fraction(1), *guess()[:3]]]
    pushed = [sum(d * x for d, x in zip(PUSH, column)) for column in zip(*map(stage, POWERS))]
    inside = [a + b for a, b in zip(at_once, pushed)]
    return [sum(inside[k] * G ** (p - 1 - k) for k in range(p)) for p in POWERS]


def guess():
    return [sum(c * x for c, x in zip(FIRST, column)) for column in zip(*map(stage, POWERS))]


def test_straight_lines_are_met_to_the_third_power_in_the_guess_and_to_the_fourth_in_the_answer():
    assert pytest.approx(float(G), rel=1e-15) == GAMMA
    answer = [a + b for a, b in zip(guess(), last_stage())]
    assert guess()[:3] == [Fraction(1, factorial(p)) for p in POWERS][:3] != guess()[1:]
    assert answer == [Fraction(1, factorial(p)) for p in POWERS]
    assert FIRST[0] == 1  # all that settles at once is settled in the guess


def test_curved_lines_are_met_to_the_third_power():
    """Of y' = q(y) the term q" q q h^3 / 6: the fifth stage alone has it, g q" (h q)^2 / 2 at a guess of h q."""
    assert sum(c * G for c in FIRST) == 1 and 1 / (G / 2) == 6


def test_between_the_ends_straight_lines_are_met_to_the_third_power():
    columns = [*map(stage, POWERS), last_stage()]
    for power in range(1, 4):  # of h: the quartic in t must be t^power / power!
        by_t = [sum(w * column[power - 1] for w, column in zip(weights, columns)) for weights in BETWEEN]
        assert by_t == [Fraction(1, factorial(power)) if t == power else 0 for t in POWERS]
    assert [sum(column) for column in zip(*BETWEEN)] == [*FIRST, 1]  # it ends where the step ends


def test_a_lump_never_swings_however_long_the_step():
    """One step of a hundredth of its time constant to one of ten thousand of them: it never cools beyond the room."""
    net = network(node("lump", 50.0), held("room", 20.0), link("lump", "room", 0.5))
    for step_s in np.geomspace(1.0, 1e6, 60):
        run = warm_up(net, step_s, start_c=520.0, power=lambda t, temps: 0.0, every_s=step_s, tol_k=1e30)
        left, exact = (run["lump"] - 20.0) / 500.0, np.exp(-step_s / 100.0)
        assert run.steps == 1 and left > 0 and -0.011 < left - exact < 0.044


def test_order_four_where_all_lines_are_straight():
    """Fixed steps, halved: the error at their ends falls sixteenfold; exact by scipy's matrix exponential."""
    ways = [("a", "b", 0.5), ("b", "c", 0.3), ("c", "room", 0.2), ("a", "room", 0.1)]
    net = network(
        node("a", 12.0, power_w=30.0), node("b", 4.0), node("c", 30.0), held("room", 20.0), *(link(*w) for w in ways)
    )
    matrix = np.array([[-0.6, 0.5, 0.0], [0.5, -0.8, 0.3], [0.0, 0.3, -0.5]]) / np.array([[12.0], [4.0], [30.0]])
    end = np.linalg.solve(matrix, [-30.0 / 12.0, 0.0, 0.0])
    exact = 20 + end - expm(120.0 * matrix) @ end
    errors = []
    for steps in (20, 40, 80):
        run = warm_up(net, 120.0, power=lambda t, temps: 30.0, every_s=120.0 / steps, tol_k=1e9)
        errors.append(np.abs(run.at(120.0, ["a", "b", "c"]) - exact).max())
    assert (np.log2(np.array(errors[:-1]) / errors[1:]) > 3.8).all(), errors


@pytest.mark.parametrize("foil_j_k", [0.0, 0.05])
def test_a_foil_that_radiates_keeps_the_tolerance(foil_j_k):
    """Glowing, with next to no heat of its own or none: its balance is all curved, and follows the others at once.
    Against the same march a thousand times finer."""
    net = network(
        node("core", 20.0, power_w=60.0),
        node("foil", foil_j_k),
        node("tube", 8.0),
        held("room", 20.0),
        link("core", "foil", 0.05),
        ray("core", "foil", 3e-3, 0.9),
        ray("foil", "tube", 3e-3, 0.9),
        link("tube", "room", 0.1),
    )
    times = np.linspace(0.0, 2000.0, 2001)
    exact = warm_up(net, 2000.0, tol_k=1e-4).at(times)
    for tol_k in (0.3, 0.1):
        assert np.abs(warm_up(net, 2000.0, tol_k=tol_k).at(times) - exact).max() < tol_k / 2
