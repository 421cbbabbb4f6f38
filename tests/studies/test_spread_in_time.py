"""Bands in time, places on the tube, times until ready: one study, against designs marched alone and plain looking."""

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.basics.fault import Fault
from benchcalc.chain.heat.in_time import warming
from benchcalc.chain.heat.link import nth
from benchcalc.chain.workings import chain, drawn_builds
from benchcalc.studies.spread_in_time import FIELDS, spread_in_time
from benchcalc.studies.when_and_where import front_of, ready_after, settled_after
from benchcalc.thermal.tool import alike


@pytest.fixture(scope="module")
def press():
    build = bc.load_chosen("insert_press")
    workings = bc.work_out(build)
    return build, workings, spread_in_time(build, workings, designs=64)


def test_each_sample_is_its_own_tool_in_time(press):
    """Two samples worked out and marched alone: tip, wire, entry and grip at all times, within 1.5 % of the rise."""
    build, workings, spread = press
    drawn = drawn_builds(build, workings.heat, workings.wire)
    for i in (3, 40):
        alone = nth(drawn, i)
        _, wire, coil, heat, _ = chain(alone)
        run = warming(alone, wire, coil, heat, until_s=3600.0, points=61)
        for field in ("tip_c", "wire_c", "entry_c", "grip_c"):
            theirs = getattr(run, field)
            ours = np.interp(run.time_s, spread.run.time_s, spread.samples[field][:, i])
            late = run.time_s >= 60
            assert np.abs(ours - theirs)[late].max() < 0.015 * np.ptp(theirs) + 0.3, (i, field)
            assert spread.settled_samples[field][i] == pytest.approx(getattr(heat, field), abs=0.05)


@pytest.mark.parametrize("name", ["insert_press", "wax_pot"])
def test_the_coarse_mesh_moves_no_band_in_time(press, name, monkeypatch):
    """Beside the same samples marched on the fine mesh: ends within 1.5 % of the width from 20 s on (1.1 % seen)."""
    build, workings, _ = press if name == "insert_press" else (bc.load_chosen(name), None, None)
    workings = workings or bc.work_out(build, samples=20)
    near = spread_in_time(build, workings, designs=16, until_s=3600.0)
    monkeypatch.setattr(alike.Nominal, "coarse", lambda self, tool: None)
    fine = spread_in_time(build, workings, designs=16, until_s=3600.0)
    for field in FIELDS:
        true, found = (np.percentile(x.samples[field], (5, 95), axis=1)[:, 2:] for x in (fine, near))
        if np.isfinite(true).all():
            assert (
                np.abs(found - true).max() > 0
                and (np.abs(found - true).max(axis=0) < 0.015 * np.ptp(true, axis=0)).all()
            )


def test_bands_hold_the_nominal_and_end_in_those_of_the_settled_tool(press):
    _, workings, spread = press
    for field in ("tip_c", "wire_c", "entry_c", "grip_c"):
        for time_s in (0.0, 60.0, 480.0, 3600.0):
            band = spread.band_at(field, time_s)
            assert band.low <= band.nominal <= band.high
        end, late = workings.bands[f"heat.{field}"], spread.band_at(field, 10800.0)
        assert spread.band_at(field, np.inf) == end
        assert (late.low, late.high) == pytest.approx((end.low, end.high), abs=0.02 * (end.high - end.low) + 0.3)
    start = spread.band_at("tip_c", 0.0)
    assert start.low == pytest.approx(15.5, abs=1.5) and start.high == pytest.approx(24.5, abs=1.5)  # the room's band


def test_the_warm_front_creeps_and_is_where_the_tube_is_that_hot(press):
    _, workings, spread = press
    heat = workings.heat
    fronts = [front_of(spread, 130.0, t) for t in (240.0, 480.0, 3600.0, np.inf)]
    places = [f.nominal for f in fronts]
    assert places == sorted(places) and fronts[1].low < places[1] < fronts[1].high
    x, t = heat.model.along("tube", heat.temps_c)
    assert np.interp(places[-1], x, t) == pytest.approx(130.0, abs=0.5)
    _, samples = spread.tube_at(480.0)
    inside = [np.interp(fronts[1].high, spread.tube_m, row) <= 130.0 for row in samples]
    assert 0.9 <= np.mean(inside) <= 0.98
    assert np.isnan(front_of(spread, 900.0).nominal) and np.isinf(front_of(spread, 30.0).nominal)
    with pytest.raises(Fault, match="lies outside"):
        front_of(spread, 100.0, 1e6)


def test_hotter_takes_longer_and_may_never_come(press):
    _, workings, spread = press
    soon, sure = ready_after(spread, 120.0)
    later, less = ready_after(spread, 240.0)
    assert 0 < soon.low < soon.nominal < soon.high < later.nominal and sure == 1.0 and less < 1.0
    at = np.interp(soon.nominal, spread.run.time_s, spread.run.tip_c)
    assert at == pytest.approx(120.0, abs=0.1)
    never, chance = ready_after(spread, 900.0)
    assert np.isinf(never.nominal) and chance == 0.0
    entry = settled_after(spread)
    tenth = spread.run.entry_c[0] + 0.9 * (workings.heat.entry_c - spread.run.entry_c[0])
    assert np.interp(entry.nominal, spread.run.time_s, spread.run.entry_c) == pytest.approx(tenth, abs=0.2)
    assert entry.low < entry.nominal < entry.high and settled_after(spread, "tip_c").nominal < entry.nominal


def test_a_tool_without_a_tip_or_tube_has_the_rest(press):
    build = bc.load_chosen("wax_pot")
    spread = spread_in_time(build, bc.work_out(build, samples=0), designs=8, until_s=3600.0)
    assert np.isnan(spread.band_at("tip_c", 600.0).nominal) and spread.tube == ""
    low, high = spread.band_at("work_c", 3600.0).low, spread.band_at("work_c", 3600.0).high
    assert low < spread.band_at("work_c", 3600.0).nominal < high
    with pytest.raises(Fault, match="role tube"):
        front_of(spread, 60.0)
    bare = bc.load_chosen("foam_bow")
    with pytest.raises(Fault, match="has not been worked out"):
        spread_in_time(bare, bc.work_out(bare, samples=0))
    assert set(spread.samples) == set(FIELDS)
