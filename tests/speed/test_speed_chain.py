"""What working a tool out costs, counted: looks into the air table, matrices, points without mass, pieces of material.

Printed is the time of a whole demo with bands beside the same without, no more: nothing is judged by it.
"""

import dataclasses

import numpy as np
import pytest
import scipy.linalg.lapack
from speed.test_speed_network import counted

import benchcalc as bc
from benchcalc.chain.control.standing import Standing
from benchcalc.chain.control.stuck import Beginning, failed
from benchcalc.chain.heat.limits import PART
from benchcalc.chain.heat.link import nominal_heat
from benchcalc.chain.workings import all_parts, drawn_builds
from benchcalc.thermal.network import assemble, history, side_by_side
from benchcalc.thermal.network import warm_up as warm_up_module
from benchcalc.thermal.network.balance import working
from benchcalc.thermal.network.curves import conduction_integral, conductivity_at
from benchcalc.thermal.network.even_ramps import ramp_pieces
from benchcalc.thermal.network.steady import steady
from benchcalc.thermal.network.warm_up import warm_up
from benchcalc.thermal.tool import surface_curves
from benchcalc.thermal.tool.model import model_of
from benchcalc.thermal.tool.paths import air

IRON = bc.load_chosen("foil_iron")


@pytest.fixture(scope="module")
def iron():
    return bc.work_out(IRON, samples=0)


def test_bands_of_a_demo(race, iron):
    """A demo with 200 samples behind its bands, beside the same without; samples go on from a design that is solved, on
    a coarser mesh.  Counted: balances solved, and the unknowns in all of them."""
    race({"with bands": lambda: bc.work_out(IRON), "without": lambda: bc.work_out(IRON, samples=0)})
    drawn = drawn_builds(IRON, iron.heat, iron.wire, 200)
    for near, balances, unknowns in ((None, 5.1, 683), (nominal_heat(iron.heat), 2.8, 275)):
        with pytest.MonkeyPatch.context() as patch:
            solved = counted(patch, side_by_side, "eliminate")
            all_parts(drawn, near=near)
        assert sum(matrix.shape[1] for _, matrix in solved) <= balances * 200  # from cold seven times each
        assert max(order.right.size for order, _ in solved) <= unknowns


def test_the_air_beside_a_tool_is_looked_up_once(iron, monkeypatch):
    looked, curves = (
        counted(monkeypatch, surface_curves, "air_beside"),
        counted(monkeypatch, surface_curves, "loss_curve"),
    )
    model_of(iron.heat.model.tool)
    assert len(looked) == 1 and len(curves) > 5


def test_matrices_are_kept_where_only_the_power_changes(iron, monkeypatch):
    built = counted(monkeypatch, assemble, "assemble")
    standing = Standing(iron.control.standing.seat)
    shares = np.linspace(0.1, 1.2, 12)
    temps = [standing.settled(share) for share in shares]
    assert len(built) <= 1
    net = standing.seat.net
    for share, found in zip(shares[::5], temps[::5]):
        cold = steady(dataclasses.replace(net, power_w=net.power_w * share)).temps_c
        assert found == pytest.approx(cold, abs=1e-6)


def test_a_run_is_told_from_its_steps_alone(iron, monkeypatch):
    """Points without mass too: no balance and no solve for a time that is asked, nor for what was lost by then."""
    net = iron.heat.model.net
    run = warm_up(net, 600.0)
    solved = counted(monkeypatch, scipy.linalg.lapack, "dgbsv")
    looked = counted(monkeypatch, warm_up_module, "working")
    assert run.at([10.0, 100.0]).shape == (2, len(net.names)) and not solved and not looked
    warm_up(net, 600.0)
    points = int(((net.capacity_j_k == 0) & np.isnan(net.held_c)).sum())
    assert len(looked) == 1 and 0 < len(solved) <= 5  # they are settled once, at the start
    assert all(matrix.shape[1] == points and half <= 3 for half, _, matrix, *_ in solved)  # by their own equations


def test_power_stuck_on_is_told_at_the_places_that_are_watched(iron, monkeypatch):
    """Two hours at every ten seconds: of the few places that have limits, not of every node."""
    asked = counted(monkeypatch, history.WarmUp, "at")
    heat = iron.heat
    found = failed(IRON, iron.coil.coil_w, heat, Beginning("cold", None, iron.control.normal_c))
    told = sum(np.size(times) * len(numbers) for _, times, numbers in asked)
    assert told <= 0.5 * found["stuck"].time_s.size * len(heat.model.net.names) and len(asked) == 2
    everywhere = found["stuck"].run.at(found["stuck"].time_s)
    parts = [h for h in found["harms"] if h.at.name.startswith(PART)]
    assert parts
    for harm in parts:
        own = found["left"].heat.model.along(harm.at.name.removeprefix(PART), everywhere)[1].max(axis=-1)
        assert harm.curve_c == pytest.approx(own, abs=1e-9)


def test_a_material_of_thirty_points_is_one_look_up(iron):
    """The pieces are the integral itself, and the solver's balance is made of them."""
    gas, temps = air(), np.linspace(-150.0, 2000.0, 999)
    first_c, step_k, pieces = ramp_pieces(gas)
    x = (temps - first_c) / step_k + 1
    cell = np.clip(x.astype(int), 0, pieces.shape[1] - 1)
    a, b, c = pieces[:, cell]
    x = x - cell
    base = conductivity_at(gas, -300.0)
    assert a + x * (b + x * c) + base * temps == pytest.approx(conduction_integral(gas, temps), abs=1e-9)
    assert (b + 2 * x * c) / step_k + base == pytest.approx(conductivity_at(gas, temps), rel=1e-12)
    banded = assemble.assembled(iron.heat.model.net)
    several = [s for s in banded.slots if s.kind == "ramps"]
    assert several and all(s.low_c is None and s.pieces.table.shape[0] == 3 for s in several)
    heat, heat_and_stiffness = working(banded)
    at = np.linspace(20.0, 700.0, banded.free.size)
    once, twice = np.empty(at.size), np.empty(at.size)
    heat(at, banded.fixed_w, once)
    slopes = heat_and_stiffness(at, banded.fixed_w, twice).T
    assert once == pytest.approx(twice, abs=1e-9)
    heat(at + 1e-4, banded.fixed_w, twice)
    half, places = banded.half, np.arange(at.size)
    rows = places + np.arange(-half, half + 1)[:, None]
    inside = (rows >= 0) & (rows < at.size)
    lost = np.bincount(rows[inside], slopes[inside], at.size)  # each row's sum: all nodes warmer by as much
    assert (once - twice) / 1e-4 == pytest.approx(lost, abs=1e-4, rel=1e-4)
