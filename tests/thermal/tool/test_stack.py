"""Faces of a stack of layers: against the closed form, against the solver's own flow, many designs as single ones."""

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.chain.heat.tool_of import tool_of
from benchcalc.show.page.worked import is_straight
from benchcalc.thermal.network.steady import steady
from benchcalc.thermal.tool.model import model_of
from benchcalc.thermal.tool.stack import layer_drop, stack_faces


def solved(build):
    _, wire, coil = bc.links(build)
    model = model_of(tool_of(build, wire, coil))
    return model, steady(model.net).temps_c


def test_the_drop_is_straight_and_that_of_a_thick_pipe():
    is_straight(layer_drop)
    # insulated pipe: 100 mm of pipe, 50 mm of k = 0.05 W/(m K), 100 W/m: q ln(2)/(2 pi k), by hand
    assert layer_drop(100.0, 0.1, 0.05, 0.05) == pytest.approx(100 * 0.693147 / 0.314159, rel=1e-5)


@pytest.mark.parametrize("name", ["insert_press", "foil_iron", "wax_pot"])
def test_drops_of_all_layers_are_those_of_the_flow_that_crosses_them(name):
    build = bc.load_chosen(name)
    model, temps = solved(build)
    for between in (b for b in model.tool.between if b.layers):
        faces = stack_faces(model, temps, between)
        assert len(faces.temps_c) == len(between.layers) + 1 == len(faces.radii_m)
        for (thickness, k), a, b, r in zip(between.layers, faces.temps_c, faces.temps_c[1:], faces.radii_m):
            assert np.allclose(a - b, layer_drop(faces.flow_w_m, 2 * r, thickness, k), rtol=1e-9)


def test_the_heat_through_both_stacks_of_a_winding_is_nearly_all_that_it_makes():
    build = bc.load_chosen("insert_press")
    model, temps = solved(build)
    _, _, coil = bc.links(build)
    steps = model.mesh.step_m[0]
    out = 0.0
    for between in (b for b in model.tool.between if b.layers):
        faces = stack_faces(model, temps, between)
        cells = np.isin(np.round(model.mesh.middle_m[0], 12), np.round(faces.places_m, 12))
        out += float(np.sum(faces.flow_w_m * steps[cells])) * (1 if between.inner == "coil" else -1)
    assert out == pytest.approx(coil.coil_w, rel=0.03)  # the leads take the rest


def test_two_half_layers_are_one_layer():
    build = bc.load_chosen("insert_press")
    from dataclasses import replace

    under = build.layer[0]
    half = replace(under, thickness_m=under.thickness_m / 2)
    double = replace(build, layer=(half, half, *build.layer[1:]))
    one, two = (solved(b) for b in (build, double))
    a, b = (stack_faces(m, t, next(x for x in m.tool.between if x.outer == "coil")) for m, t in (one, two))
    assert np.allclose(a.temps_c[0], b.temps_c[0], rtol=1e-9) and np.allclose(a.temps_c[-1], b.temps_c[-1], rtol=1e-9)
    # the middle lies between both ends, whichever way heat goes: at the leads' end of the winding it goes outwards
    assert np.all((b.temps_c[1] - b.temps_c[0]) * (b.temps_c[2] - b.temps_c[1]) > 0)


def test_many_designs_are_the_single_ones_side_by_side():
    build = bc.load_chosen("insert_press")
    thick = np.array([2.4e-4, 2.5e-4, 2.6e-4])  # the gap beyond the sleeve stays a film
    model, temps = solved(bc.change(build, "layer.0.thickness_m", thick))
    many = stack_faces(model, temps, next(x for x in model.tool.between if x.outer == "coil"))
    for i, t in enumerate(thick):
        m, at = solved(bc.change(build, "layer.0.thickness_m", float(t)))
        one = stack_faces(m, at, next(x for x in m.tool.between if x.outer == "coil"))
        assert many.temps_c[1][i].max() == pytest.approx(one.temps_c[1].max(), abs=0.05)  # cells differ a little
        assert np.abs(many.flow_w_m[i]).max() == pytest.approx(np.abs(one.flow_w_m).max(), rel=0.01)
