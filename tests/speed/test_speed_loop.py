"""One tool at other powers: its network is built once, and each answer starts from the one before."""

from dataclasses import replace

import numpy as np
import pytest
import scipy.linalg.lapack
from speed.test_speed_network import counted

import benchcalc as bc
from benchcalc.chain.heat import link
from benchcalc.chain.heat.holes import with_break
from benchcalc.chain.heat.in_time import power_for
from benchcalc.chain.heat.tool_of import tool_of
from benchcalc.chain.workings import chain
from benchcalc.show.handle.figure import BREAK
from benchcalc.show.handle.panel import handle_links, to_play
from benchcalc.thermal.network import assemble
from benchcalc.thermal.network.steady import steady
from benchcalc.thermal.tool.model import model_of

IRON, PRESS = bc.load_chosen("foil_iron"), bc.load_chosen("insert_press")


def test_the_loop_to_the_hot_resistance_builds_one_network(monkeypatch):
    built, assembled = counted(monkeypatch, link, "model_of"), counted(monkeypatch, assemble, "assemble")
    factored = counted(monkeypatch, scipy.linalg.lapack, "dgbsv")
    found = chain(IRON)
    assert found.passes > 1 and len(built) == 1 and len(assembled) <= 1
    assert len(factored) <= 7 + 4 * (found.passes - 1)
    alone = link.work_heat(IRON, found.wire, found.coil)
    assert found.heat.temps_c == pytest.approx(alone.temps_c, abs=1e-6)


def test_a_power_for_a_temperature_builds_one_network(monkeypatch):
    supply, wire, coil, heat, _ = chain(IRON)
    built, solved = counted(monkeypatch, link, "model_of"), counted(monkeypatch, link, "steady")
    watts = power_for(IRON, wire, coil, 250.0)
    assert len(built) == 1 and len(solved) > 4
    assert link.work_heat(IRON, wire, coil, watts).tip_c == pytest.approx(250.0, abs=0.02)


def test_only_power_may_differ():
    supply, wire, coil, heat, _ = chain(IRON)
    tool = heat.model.tool
    more = tool_of(IRON, wire, coil, 1.3 * coil.coil_w)
    other, own = heat.model.with_power(more), model_of(more)
    assert (other.net.power_w == own.net.power_w).all() and other.tool == more
    assert other.net.links is heat.model.net.links
    assert steady(other.net).temps_c == pytest.approx(steady(own.net).temps_c, abs=1e-6)
    warmer = replace(tool, place=replace(tool.place, ambient_c=tool.place.ambient_c + 1))
    thinner = replace(tool, pieces=(replace(tool.pieces[0], outer_m=tool.pieces[0].outer_m * 0.99), *tool.pieces[1:]))
    many = replace(tool, winding=replace(tool.winding, power_w=np.array([10.0, 20.0])))
    for changed in (warmer, thinner, many, replace(tool, leads=None)):
        assert heat.model.with_power(changed) is None


def test_only_holes_may_differ():
    """With its holes moved, added or taken away a tool is what it is when its network is made anew."""
    build = with_break(PRESS, rings=2)
    supply, wire, coil, heat, _ = chain(build)
    for path, value in (("rings", 3.0), ("rings", 0.0), ("from_m", 0.09), ("hole_m", 1.5e-3)):
        tool = tool_of(bc.change(build, f"heat_break.break.{path}", value), wire, coil, coil.coil_w)
        for model in (heat.model, model_of(replace(tool, narrow=()))):
            other, own = model.with_holes(tool), model_of(tool)
            assert other.net.bars.shape_m == pytest.approx(own.net.bars.shape_m, rel=1e-12) and other.tool == tool
            assert other.net.links is model.net.links
    assert steady(other.net).temps_c == pytest.approx(steady(own.net).temps_c, abs=1e-6)
    assert heat.model.with_holes(tool_of(build, wire, coil, 1.3 * coil.coil_w)) is None
    assert heat.model.with_holes(replace(tool, place=replace(tool.place, ambient_c=tool.place.ambient_c + 1))) is None


def test_moved_holes_build_no_network_and_a_moved_handle_builds_one(monkeypatch):
    build = to_play(PRESS)
    handle_links(build)
    built = counted(monkeypatch, link, "model_of")
    moved = bc.change(build, "heat_break.break.rings", 1.0)
    BREAK.numbers(moved, handle_links(moved))
    assert len(built) == 0
    moved = bc.change(build, "part.handle.from_m", build.part[-1].from_m + 0.004)
    BREAK.numbers(moved, handle_links(moved))
    assert len(built) == 1
