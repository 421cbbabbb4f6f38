"""The outside of a tool: warm air and draught at the rear, a tip in fresh air, rings of a step, grain of wood."""

import ht
import numpy as np
import pytest

import benchcalc as bc
from benchcalc.materials.bulk import joint_row
from benchcalc.sheet.defaults import default
from benchcalc.thermal.network.curves import STEFAN_BOLTZMANN_W_M2K4, conductivity
from benchcalc.thermal.network.steady import steady
from benchcalc.thermal.surfaces.surface_loss import air_at, convection_of, nusselt_standing, rayleigh
from benchcalc.thermal.tool.model import model_of
from benchcalc.thermal.tool.parts import Between, Piece, Place, Tool, Winding


def heat_of(name="insert_press", **changes):
    build = bc.load_chosen(name)
    for path, value in changes.items():
        build = bc.change(build, path.replace("__", "."), value)
    return bc.work_out(build, samples=0).heat


def test_warm_air_is_carried_away_by_a_draught():
    """Nothing of the free convection left: what a draught takes is Churchill and Bernstein's, by the library ht."""
    rise, d, speed = 80.0, 0.010, 0.5
    k, nu, prandtl = air_at(20 + rise / 2)
    h = ht.Nu_cylinder_Churchill_Bernstein(float(speed * d / nu), float(prandtl)) * float(k) / d
    assert convection_of(20 + rise, 20.0, d, speed, "tip down", 0.2, 0.0) == pytest.approx(h * rise, rel=1e-4)
    still = convection_of(20 + rise, 20.0, d, 0.0, "tip down", 0.2)
    assert convection_of(20 + rise, 20.0, d, 0.0, "tip down", 0.2, 0.35) == pytest.approx(0.35 * still)


def test_the_entry_cools_with_every_bit_of_draught_and_warm_air_counts_less():
    speeds = np.linspace(0.0, 1.0, 11)
    own, free = (heat_of(room__air_speed_m_s=speeds, heat__rear_convection=f).entry_c for f in (0.35, 1.0))
    assert np.all(np.diff(own) < 0) and np.all(own > free)
    assert (own - free)[-1] < 0.15 * (own - free)[0]


def test_a_short_piece_in_fresh_air_sheds_as_a_laminar_layer_does():
    """As wide as a plate, a tip's height of it takes what the laminar equation gives (Churchill and Chu for Ra below
    1e9, Incropera et al., eq. 9.27); of a thin tip it is about 1.4 times the mean of the whole tool."""
    for height in (0.02, 0.03, 0.05):
        ra, prandtl = float(rayleigh(250.0, 20.0, height)), float(air_at(135.0)[2])
        laminar = 0.68 + 0.670 * ra**0.25 / (1 + (0.492 / prandtl) ** (9 / 16)) ** (4 / 9)
        assert nusselt_standing(250.0, 20.0, 10.0, height) == pytest.approx(laminar, rel=0.07)
    thin = [float(nusselt_standing(250.0, 20.0, 0.008, x)) / x for x in (0.024, 0.21)]
    assert 1.2 < thin[0] / thin[1] < 1.5


def test_only_a_tip_that_points_down_meets_fresh_air():
    """Its curve is by its own height; lying, the height does not count."""
    tip = Piece("tip", "tip", 0.0, 0.03, 0.0, 0.008, conductivity("brass", 120.0), 3.2e6)
    rod = Piece("rod", "stem", 0.03, 0.21, 0.0, 0.008, conductivity("steel", 50.0), 3.8e6)
    joint = Between("tip", "rod", contact_w_m2k=1e6, made="one piece")
    for attitude, ratio in (("tip down", 1.3), ("lying", 1.0)):
        wind = Winding("rod", 0.04, 0.06, 0.008, 0.009, 5.0, 1.0)
        under = (Between("rod", "coil", layers=((2e-4, 0.2),)),)
        tool = Tool((tip, rod), wind, (joint, *under), None, Place(air_speed_m_s=0.0, attitude=attitude))
        model = model_of(tool)
        at = {n.split(" @")[0]: i for i, n in enumerate(model.net.names)}
        curve = {k: model.net.skins.curve[model.net.skins.node == at[k]][0] for k in ("tip", "rod")}
        a, b = (np.interp(200.0, *_table(model.net.curves[curve[k]])) for k in ("tip", "rod"))
        assert a / b == pytest.approx(ratio, abs=0.1)


def _table(curve):
    values = curve.pieces[0, 1:]
    return curve.start_c + curve.step_k * np.arange(values.size), values


def test_the_rings_of_all_steps_are_what_a_turned_tool_shows():
    """Everything outside shines on the room: the sides, and every ring that is seen along the axis, once each."""
    model = heat_of().model
    to_room = model.net.rays.second == len(model.net.names) - 1
    shine = {p.id: p.emissivity for p in model.tool.pieces}
    side = {"tip": 0.008 * 0.024, "tube": 0.010 * 0.096, "handle": 0.026 * 0.090}
    end = {"tip": 0.008**2, "tube": 0.010**2 - 0.0081**2, "handle": 2 * (0.026**2 - 0.010**2)}
    shown = sum(shine[k] * (np.pi * side[k] + np.pi / 4 * end[k]) for k in side)
    assert model.net.rays.exchange_w_k4[to_room].sum() == pytest.approx(STEFAN_BOLTZMANN_W_M2K4 * shown, rel=1e-9)


def test_wood_conducts_along_its_grain_and_its_contact_is_a_band():
    row = default("handle.along_grain")
    assert 1.5 <= row["low"] < row["value"] < row["high"] <= 2.8  # Wood Handbook FPL-GTR-190, chapter 4: 1.5 to 2.8
    grip = heat_of(heat__wood_along_grain=np.array([1.0, 1.8, 2.8])).grip_c
    assert np.all(np.diff(grip) < 0)  # the hottest place spreads
    entry = heat_of(heat__wood_contact_w_m2k=np.array([150.0, 430.0, 3000.0])).entry_c
    assert np.all(np.diff(entry) < 0)
    wood, contact = joint_row("loose in wood"), default("handle.contact_w_m2k")
    assert (contact["value"], contact["low"], contact["high"]) == (wood["value_w_m2k"], wood["low"], wood["high"])
    assert {"heat.wood_contact_w_m2k", "heat.wood_along_grain"} <= set(bc.load_chosen("insert_press").known)


def test_a_rod_that_conducts_twice_as_well_along_its_axis():
    """Fin with an insulated end (Incropera eq. 3.75): its reach grows with the root of the conductivity along it."""
    reach = []
    for scale in (1.0, 2.0):
        rod = Piece("rod", "stem", 0.0, 0.30, 0.0, 0.01, conductivity("wood", 0.18), 1e6, 0.9, along_scale=scale)
        model = model_of(Tool((rod,), Winding("rod", 0.0, 0.01, 0.01, 0.011, 1.0, 1.0), (), None, Place()))
        place_m, temps_c = (x[3:] for x in model.along("rod", steady(model.net).temps_c))
        there = (place_m > 0.012) & (temps_c > 20.5) & (temps_c < 30)
        reach.append(-1 / np.polyfit(place_m[there], np.log(temps_c[there] - 20), 1)[0])
    assert reach[1] / reach[0] == pytest.approx(2**0.5, rel=0.03)
