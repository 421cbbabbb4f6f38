"""Heat stored where specific heat changes: against a building standard's steel, a general integrator, sums by hand."""

import numpy as np
import pytest
from scipy.integrate import quad, solve_ivp

import benchcalc as bc
from benchcalc.chain.heat.in_time import warming
from benchcalc.materials.bulk import solid, specific_heat_curve
from benchcalc.thermal.network.curves import melting
from benchcalc.thermal.network.network import held, link, network, node
from benchcalc.thermal.network.stored import Holding, specific_heat_of, state_at
from benchcalc.thermal.network.warm_up import warm_up


def steel():
    temps, values = specific_heat_curve("mild steel")
    return temps, values, specific_heat_of("mild steel", values, temps)


def en_1993_1_2(temp_c):
    """Specific heat of carbon steel, 20 to 600 degC, EN 1993-1-2, eq. 3.2a, J/(kg K)."""
    return 425 + 0.773 * temp_c - 1.69e-3 * temp_c**2 + 2.22e-6 * temp_c**3


def lump(power_w, w_k, mass_kg=0.1):
    """A bar of mild steel, as one node with its own specific heat."""
    from dataclasses import replace

    temps, values, store = steel()
    net = network(
        node("bar", mass_kg * float(np.interp(20.0, temps, values)), power_w=power_w),
        held("room", 20.0),
        link("bar", "room", w_k),
    )
    return replace(net, stores=(store,), stored_by=np.array([0, -1]))


def test_a_mild_steel_bar_takes_what_its_table_says_and_about_what_the_standard_says():
    """50 W into 100 g, nothing lost: the seconds to 500 degC are its heat over 50 W."""
    temps, values, _ = steel()
    run = warm_up(lump(50.0, 1e-12), 800.0, tol_k=1e-3)
    times = np.linspace(0, 800, 8001)
    reached = np.interp(500.0, run.at(times, "bar"), times)
    by_table = 0.1 * quad(lambda t: np.interp(t, temps, values), 20, 500, points=temps)[0]
    assert 50 * reached == pytest.approx(by_table, rel=2e-5)
    by_standard = 0.1 * quad(en_1993_1_2, 20, 500)[0]
    assert 50 * reached == pytest.approx(by_standard, rel=0.03)
    cold = 0.1 * 480 * float(np.interp(20.0, temps, values))
    assert cold < 0.83 * by_table  # what counting with the value at 20 degC would leave out
    assert abs(run.closure_j) < 1e-6 * run.supplied_j


def test_warming_and_cooling_against_a_general_integrator():
    """c(T) dT/dt = P - g (T - 20), on and then off, by scipy's Radau; the energy account closes."""
    temps, values, _ = steel()
    run = warm_up(lump(60.0, 0.15), 1500.0, power=[(0.0, 60.0), (900.0, 0.0)], tol_k=1e-3)

    def rate(t, y):
        return ((60.0 if t < 900 else 0.0) - 0.15 * (y - 20)) / (0.1 * np.interp(y, temps, values))

    up = solve_ivp(rate, (0, 900 - 1e-9), [20.0], "Radau", rtol=1e-9, atol=1e-9)
    down = solve_ivp(rate, (900, 1500), up.y[:, -1], "Radau", rtol=1e-9, atol=1e-9)
    assert run.at(900.0, "bar") == pytest.approx(up.y[0, -1], abs=0.02)
    assert run.at(1500.0, "bar") == pytest.approx(down.y[0, -1], abs=0.02)
    assert abs(run.closure_j) < 1e-5 * run.supplied_j
    assert run.stored_j == pytest.approx(0.1 * quad(lambda t: np.interp(t, temps, values), 20, run["bar"])[0], rel=1e-4)


@pytest.mark.parametrize("metal", ["mild steel", "nickel", "copper", "stainless 304", "beech"])
def test_temperatures_come_back_from_what_is_held(metal):
    temps, values = specific_heat_curve(metal)
    curve = specific_heat_of(metal, values, temps)
    melts = [(2, melting(5.0, 60.0, 60.0, 500.0))]
    hold = Holding(np.array([3.0, 0.0, 5.0]), (curve,), [0, -1, 0], melts)
    for t in np.linspace(-80.0, 1700.0, 60):
        state = hold.states(np.array([t, t, t]))
        back, rise = hold.temps_and_rise(state)
        assert back[:2] == pytest.approx([t, t], abs=2e-3) and (t == 60.0 or back[2] == pytest.approx(t, abs=1e-6))
        assert rise[0] == pytest.approx(
            np.interp(20.0, temps, values) / np.interp(t, temps, values), rel=5e-3
        ) and rise[1] == pytest.approx(1.0)
        assert np.array_equal(hold.temps(state), back)
    assert state_at(None, 300.0) == 300.0 and specific_heat_of("x", (500.0,), (20.0,)) is None


def test_a_tool_holds_what_its_parts_and_layers_weigh():
    """Insert press, by hand: mass times specific heat at 20 degC of each part, layers, winding and leads."""
    build = bc.load_chosen("insert_press")
    heat = bc.work_out(build, samples=0).heat
    model, tool = heat.model, heat.model.tool
    total = sum(
        np.pi
        / 4
        * (p.outer_m**2 - p.inner_m**2)
        * (p.to_m - p.from_m)
        * solid(next(x for x in build.part if x.id == p.id).material).density_kg_m3
        * float(np.interp(20.0, *specific_heat_curve(next(x for x in build.part if x.id == p.id).material)))
        for p in tool.pieces
    )
    along = tool.winding.to_m - tool.winding.from_m
    under, over = (np.pi * t * (d + t) * along for t, d in ((0.25e-3, 6e-3), (0.4e-3, 6.5e-3 + 2 * 0.28e-3)))
    layers = under * 2850 * 880 + over * 500 * 800  # mica and bare glass sleeve, data/solid_values.csv
    rest = tool.winding.capacity_j_k + tool.leads.capacity_j_mk * (tool.leads.to_m - tool.leads.from_m)
    assert model.net.capacity_j_k.sum() == pytest.approx(total + layers + rest, rel=1e-6)
    assert layers > 0.004 * total


def _held(net, temps_c, from_c):
    """Joules that a network holds above a temperature, node by node; nothing in it melts."""
    curves = [net.stores[k] if k >= 0 else None for k in net.stored_by]
    pairs = zip(net.capacity_j_k, curves, temps_c)
    return sum(c * float(state_at(curve, t) - state_at(curve, from_c)) for c, curve, t in pairs)


@pytest.mark.parametrize("name", ["insert_press", "foil_iron"])
def test_what_a_tool_holds_is_told_by_both_accounts(name):
    """Joules by parts, from the temperatures alone, are those that the run stored; the account closes within 1e-4."""
    build = bc.load_chosen(name)
    out = bc.work_out(build, samples=0)
    run = warming(build, out.wire, out.coil, out.heat, until_s=1200.0, points=5)
    held_j = _held(run.model.net, run.run.at(1200.0), build.room.ambient_c)
    assert held_j == pytest.approx(run.stored_j, rel=1e-6)
    assert abs(run.closure_j) < 1e-4 * run.supplied_j
    assert np.argmax(run.tip_c) == 4
