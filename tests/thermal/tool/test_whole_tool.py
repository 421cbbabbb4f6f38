"""A whole tool by the network against two-dimensional finite elements of the same drawing: settled, and on the way."""

import numpy as np
import pytest
from thermal.tool import whole_tool_fem as fem

from benchcalc.chain.heat.places import entry_of
from benchcalc.thermal.network.curves import conductivity
from benchcalc.thermal.network.steady import steady
from benchcalc.thermal.network.stored import specific_heat_of
from benchcalc.thermal.network.warm_up import warm_up
from benchcalc.thermal.tool.model import model_of
from benchcalc.thermal.tool.parts import Between, Piece, Place, Tool, Winding

STEEL = conductivity("steel", fem.STEEL_K[1], fem.STEEL_K[0])
STEEL_STORE = specific_heat_of("steel", fem.STEEL_C[1], fem.STEEL_C[0])
TIMES_S = (240.0, 480.0)


def network_of_it():
    """The same tool as parts on an axis; its bore plugged, its parts on one axis."""
    r, steel_heat = fem.R, 7850 * fem.STEEL_C[1][0]
    pieces = (
        Piece("tip", "tip", 0.0, fem.TIP_M, 0.0, 2 * r["tip"], conductivity("t", fem.K_TIP), 8500 * 380.0, 0.6),
        Piece("stem", "stem", fem.TIP_M, fem.STEM_M, 0.0, 2 * r["stem"], STEEL, steel_heat, 0.6, store=STEEL_STORE),
        Piece(
            "tube", "tube", fem.FRONT_M, fem.TUBE_M, 2 * r["bore"], 2 * r["tube"], STEEL, steel_heat, 0.5,
            store=STEEL_STORE,
        ),
        Piece(
            "handle", "handle", fem.HANDLE_M, fem.END_M, 2 * r["tube"], 2 * r["wood"],
            conductivity("w", fem.K_ACROSS), fem.HEAT[fem.WOOD], 0.9, along_scale=fem.K_ALONG / fem.K_ACROSS, rings=3,
        ),
    )  # fmt: skip
    mica_m = r["mica"] - r["stem"]
    between = (
        Between("tip", "stem", contact_w_m2k=1e6, made="one piece"),
        Between("tip", "tube", contact_w_m2k=fem.FIT_W_M2K, from_m=fem.FRONT_M, to_m=fem.TIP_M, made="clearance"),
        Between("tube", "handle", contact_w_m2k=fem.GRIP_W_M2K, made="loose in wood"),
        Between("stem", "coil", layers=((mica_m, fem.K_MICA),), layers_j_m3k=(fem.HEAT[fem.MICA],)),
    )
    ring = np.pi * (r["coil"] ** 2 - r["mica"] ** 2) * (fem.COIL_M[1] - fem.COIL_M[0])
    winding = Winding(
        "stem", *fem.COIL_M, 2 * r["mica"], 2 * r["coil"], fem.POWER_W, fem.HEAT[fem.COIL] * ring, fem.SHINE["coil"]
    )
    place = Place(air_speed_m_s=fem.SPEED_M_S, eccentricity=0.0, slack_m=0.0, bore_open=0.0)
    return model_of(Tool(pieces, winding, between, None, place))


def places(model, temps_c):
    """The same four places; the tip's face is half a cell before its first point."""
    tip = model.along("tip", temps_c)[1]
    return {
        "tip": tip[0],
        "winding": model.along("coil", temps_c)[1].max(),
        "tube": float(entry_of(model, temps_c, {"handle": "handle"})),
        "grip": model.shell("handle skin", temps_c)[1].max(),
    }


@pytest.fixture(scope="module")
def elements():
    return fem.WholeTool()


def test_settled_within_two_per_cent_of_the_rise(elements):
    model = network_of_it()
    ours, theirs = places(model, steady(model.net).temps_c), elements.places(elements.settled())
    for name, value in ours.items():
        assert value - 20 == pytest.approx(theirs[name] - 20, rel=0.015), (name, ours, theirs)


def test_four_and_eight_minutes_within_two_per_cent_of_the_rise(elements):
    model = network_of_it()
    run = warm_up(model.net, TIMES_S[-1], start_c=20.0)
    for time_s, temps in zip(TIMES_S, elements.warming(TIMES_S)):
        ours, theirs = places(model, run.at(time_s)), elements.places(temps)
        for name, value in ours.items():
            assert value - 20 == pytest.approx(theirs[name] - 20, rel=0.02, abs=0.3), (time_s, name, ours, theirs)
    assert abs(run.closure_j) < 1e-4 * run.supplied_j
