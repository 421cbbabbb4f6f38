"""The control page: panel at every end of every slider, picture, tables, sheets that hold nothing."""

from dataclasses import replace

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.show.control import fail_tables, hold_tables, ways_tables
from benchcalc.show.control.figure import HELD_TOOL
from benchcalc.show.control.numbers import envelope, held_caption, held_numbers
from benchcalc.show.control.panel import held_says, held_sliders, held_verdicts, to_hold, with_settings
from benchcalc.show.drawing.live_picture import Live
from benchcalc.show.panel.sliders import Telling, plan, results_at, settings
from benchcalc.studies.holding import holding


def spec(name):
    build = with_settings(to_hold(bc.load_chosen(name))[0])
    return plan(build, held_sliders(build), holding, HELD_TOOL, Telling(held_says, held_verdicts, slow=None))


@pytest.mark.parametrize("name", ["insert_press", "foam_bow", pytest.param("wax_pot", marks=pytest.mark.slow)])
def test_the_panel_holds_at_every_end_of_every_slider(name):
    s, live = spec(name), Live(HELD_TOOL)
    for word, moved in settings(s):
        at = results_at(s, moved, rest=False)
        assert live.png(at.numbers) and at.caption and at.rows and at.verdicts, word
        if at.result.refused:
            assert "not known" in [v.state for v in at.verdicts] and at.result.refused in at.caption


@pytest.fixture(scope="module")
def iron():
    build = bc.load_chosen("foil_iron")
    return build, holding(build)


def test_the_picture_tells_what_was_worked_out(iron):
    build, found = iron
    n = held_numbers(build, found)
    assert bc.say("temp_c", found.held.mean_c) in held_caption(n) and n.frame[0] == "held"
    x = np.arange(5000.0)
    y = np.sin(x)
    thin_x, thin_y = envelope(x, y, 100)
    assert thin_x.size <= 200 and thin_y.max() > 0.999 and thin_y.min() < -0.999 and (np.diff(thin_x) > 0).all()


def test_half_power_is_half_in_every_row_that_can(iron):
    build, found = iron
    rows = {r[0]: r for r in ways_tables.half_power(build, found).rows}
    full = float(rows["full power"][2].split()[0])
    for way in ("lower volts", "series resistor", "burst", "switched DC", "relay"):
        assert float(rows[way][2].split()[0]) == pytest.approx(full / 2, rel=0.01), way
    assert float(rows["diode"][2].split()[0]) < full / 2


def test_tables_of_holding_and_failing_say_what_they_should(iron):
    build, found = iron
    table, apart = hold_tables.two_models(build, found, seconds=30.0)
    assert apart < 1.0 and "millionth" in table.rows[-1][1]
    fallen = fail_tables.faults(build, found).rows[0]
    assert bc.say("temp_c", found.control.stuck_c) in fallen
    hot = replace(build, sensor=replace(build.sensor, broken="hot"))
    assert (
        "cools" in fail_tables.faults(hot, found).rows[1][2]
        and "cools" not in fail_tables.faults(build, found).rows[1][2]
    )
    assert fail_tables.stops(build, found).rows and fail_tables.harms(build, found).rows
    mean, low, high = hold_tables.hold_band(build, found)
    assert low < mean < high
    assert len(hold_tables.touches(build, found).rows) == 2 and len(hold_tables.tuning(build, found).rows) == 3


def test_the_dial_that_is_told_brings_the_tip_there(iron):
    build, found = iron
    aimed, dial = hold_tables.for_wanted(build, 350.0)
    assert dial < 350.0 and holding(aimed).control.held_c == pytest.approx(350.0, abs=0.5)
