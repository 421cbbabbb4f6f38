"""The stack at a winding temperature: its power is that of a run of its own, at every end, its runs are counted."""

from dataclasses import replace

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.chain.heat import link
from benchcalc.chain.heat.link import work_heat
from benchcalc.chain.insulation.link import work_insulation
from benchcalc.studies import stack_at_temperature
from benchcalc.studies.stack_at_temperature import CLOSE_K, LEAST, MOST, at_winding

DEMOS = ("insert_press", "foil_iron", "wax_pot")


@pytest.mark.parametrize("name", DEMOS)
def test_the_stack_is_that_of_a_run_with_the_same_power(name):
    build = bc.load_chosen(name)
    supply, wire, coil = bc.links(build)
    for share in (0.05, 0.5, 1.7, 6.0):
        heat = work_heat(build, wire, coil, share * coil.coil_w)
        one = work_insulation(build, supply, wire, coil, heat)
        read = at_winding(replace(build, at_c=float(heat.wire_c), known={}))
        assert read.power_w == pytest.approx(share * coil.coil_w, rel=1e-3)
        assert read.insulation.cold_c == pytest.approx(one.cold_c, abs=2 * CLOSE_K)


def test_power_and_every_face_rise_with_the_temperature_and_stop_at_the_ends():
    build = bc.load_chosen("insert_press")
    own_w, seen = bc.links(build).coil.coil_w, []
    for temp_c in (-40.0, 20.0, 22.0, 60.0, 61.0, 400.0, 1000.0, 1001.0, 2000.0, 1e5):
        at = at_winding(replace(build, at_c=temp_c))
        seen.append((at.wire_c, at.power_w, *at.insulation.cold_c))
        assert LEAST * own_w * (1 - 1e-9) <= at.power_w <= MOST * own_w * (1 + 1e-9)
        assert at.wire_c == temp_c or not 60 <= temp_c <= 2000
    assert (np.diff(np.array(seen), axis=0) >= -CLOSE_K).all()
    assert seen[0] == seen[1] == pytest.approx(seen[2])  # less than the least power heats it no less
    assert 2000 < seen[-1][0] < 1e5 and seen[-1][1] == pytest.approx(MOST * own_w)


def test_a_power_without_balance_ends_the_search_below_it(monkeypatch):
    """As of a tool that finds none beyond some power: the hottest that it settles at is told."""
    build, asked = bc.load_chosen("insert_press"), []
    own_w, real = bc.links(build).coil.coil_w, link.work_heat

    def limited(build, wire, coil, power_w=None, **how):
        asked.append(power_w)
        if power_w is not None and power_w > 3 * own_w:
            return link.refused_heat("no balance")
        return real(build, wire, coil, power_w, **how)

    monkeypatch.setattr(stack_at_temperature, "work_heat", limited)
    at = at_winding(replace(build, at_c=1500.0, room=replace(build.room, ambient_c=19.0)))
    assert 2.7 * own_w < at.power_w <= 3 * own_w and at.wire_c < 1500.0 and at.shells
    assert len(asked) < 20


def test_a_moved_temperature_settles_a_few_times_and_a_moved_layer_makes_one_network(monkeypatch):
    counted = {"model_of": 0, "steady": 0}

    def counting(name):
        real = getattr(link, name)

        def call(*given, **named):
            counted[name] += 1
            return real(*given, **named)

        monkeypatch.setattr(link, name, call)

    build = replace(bc.load_chosen("insert_press"), at_c=420.0)
    at_winding(build)
    counting("model_of")
    counting("steady")
    moved = at_winding(replace(build, at_c=425.0))
    assert counted["model_of"] == 0 and counted["steady"] <= 3 and moved.wire_c == 425.0
    counted["steady"] = 0
    thick = at_winding(bc.change(build, "layer.0.thickness_m", 0.8e-3))
    assert counted["model_of"] == 1 and counted["steady"] <= 4
    assert abs(thick.insulation.hot_c[0] - 420.0) <= CLOSE_K
    for count in counted:
        counted[count] = 0
    hours = at_winding(
        replace(bc.change(build, "layer.0.thickness_m", 0.8e-3), use=replace(build.use, hours_per_year=7.0))
    )
    assert counted == {"model_of": 0, "steady": 0} and hours.power_w == thick.power_w
