"""The wire's ends in the winding and the tails that draw on them: beside a fine solution, and whatever the mesh."""

import numpy as np
import pytest
from scipy.integrate import solve_bvp

import benchcalc as bc
from benchcalc.chain.heat.places import read_heat
from benchcalc.chain.workings import chain
from benchcalc.thermal.network.steady import steady
from benchcalc.thermal.surfaces.wire_over_winding import end_of_wire
from benchcalc.thermal.tool.mesh import Grain
from benchcalc.thermal.tool.model import model_of


def test_an_end_holds_back_what_the_wire_itself_solved_finely_does():
    """Nickel-chromium of 0.4 mm in a winding, 1 K over it for each W/m; its end is kept 100 K below the winding while
    27 W/m are made in it.  Peer: the wire's own equation, k A T'' = (T - winding) / excess - W/m, by scipy's solver."""
    k_a, excess_k_m_w, made_w_m = 13.0 * np.pi / 4 * 0.4e-3**2, 1.0, 27.0

    def slope(x, y):
        return np.vstack([y[1], (y[0] / excess_k_m_w - made_w_m) / k_a])

    x = np.linspace(0.0, 0.05, 400)
    found = solve_bvp(
        slope, lambda at, end: [at[0] + 100.0, end[1]], x, np.zeros((2, x.size)), tol=1e-8, max_nodes=20000
    )
    drawn_w = k_a * found.sol(0.0)[1]
    end_k_w = 2 * end_of_wire(excess_k_m_w, 13.0, np.pi / 4 * 0.4e-3**2)  # one end
    assert drawn_w == pytest.approx((made_w_m * excess_k_m_w + 100.0) / end_k_w, rel=1e-4)


@pytest.mark.parametrize("demo", ["insert_press", "foil_iron"])
def test_tails_are_as_hot_however_finely_the_tool_is_cut(demo):
    """Peer: the same tool cut four times as finely."""
    build = bc.load_chosen(demo)
    _, wire, coil, heat, _ = chain(build)
    model = heat.model
    grain = Grain(tuple(4 * n for n in model.mesh.cells), tuple(t.name for t in model.tracks))
    fine = model_of(model.tool, grain)
    finer = read_heat(build, wire, coil, coil.coil_w, fine, steady(fine.net))
    first = [m.along("leads", h.temps_c)[1][0] for m, h in ((model, heat), (fine, finer))]
    assert heat.tip_c == pytest.approx(finer.tip_c, abs=0.1)
    assert heat.wire_c == pytest.approx(finer.wire_c, abs=0.2)
    assert heat.tails_c == pytest.approx(finer.tails_c, rel=0.02)
    assert heat.carried_w == pytest.approx(finer.carried_w, rel=0.02)
    assert first[0] == pytest.approx(first[1], rel=0.05)  # its middle lies farther from the winding


def test_a_place_that_passes_the_end_of_the_winding_moves_nothing():
    """The warm air behind may begin just before the winding's end or just behind it: a cell of some micrometres."""
    build, found = bc.load_chosen("insert_press"), []
    end_m = chain(build).heat.model.tool.winding.to_m
    handle_m = next(p.from_m for p in build.part if p.role == "handle")
    for off_m in (-2e-6, 2e-6):
        heat = chain(bc.change(build, "heat.rear_length_m", handle_m - end_m + off_m)).heat
        found.append([heat.tip_c, heat.wire_c, heat.entry_c, heat.grip_c, heat.tails_c])
    assert found[0] == pytest.approx(found[1], abs=0.3)
