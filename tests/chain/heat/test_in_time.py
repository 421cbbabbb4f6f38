"""The tool in time, the power for a temperature, stages of assembly, left on and forgotten."""

import numpy as np
import pytest

import benchcalc as bc
from benchcalc import Fault
from benchcalc.chain.heat.in_time import power_for, safe_after, time_below, time_for_job, time_to, warming
from benchcalc.chain.heat.left_on import forgotten
from benchcalc.chain.heat.link import nth, work_heat
from benchcalc.chain.heat.stages import STAGES, stages
from benchcalc.chain.workings import drawn_builds
from benchcalc.show.heat import tables as heat_tables
from benchcalc.studies.still_air import in_still_air


@pytest.fixture(scope="module", params=["insert_press", "foil_iron", "wax_pot"])
def done(request):
    build = bc.load_chosen(request.param)
    return request.param, build, bc.work_out(build, samples=0)


def test_an_hour_closes_its_energy_and_ends_below_the_settled_tool(done):
    _, _, w = done
    run = warming(done[1], w.wire, w.coil, w.heat)
    assert abs(run.closure_j) < 1e-4 * run.supplied_j
    assert run.supplied_j == pytest.approx(3600 * w.heat.model.net.power_w.sum(), rel=1e-6)
    for field in ("tip_c", "entry_c", "work_c"):
        values = getattr(run, field)
        if np.isfinite(values[0]):
            assert values[0] == pytest.approx(20.0) and values[-1] <= getattr(w.heat, field) + 0.2


def test_usable_in_minutes():
    """Common practice, no source: an iron of this power is usable after about eight minutes."""
    build = bc.load_chosen("insert_press")
    w = bc.work_out(build, samples=0)
    run = warming(build, w.wire, w.coil, w.heat)
    minutes = time_to(run.time_s, run.tip_c, 20 + 0.9 * (w.heat.tip_c - 20)) / 60
    assert 5 < minutes < 12


def test_wax_waits_while_it_melts():
    build = bc.load_chosen("wax_pot")
    w = bc.work_out(build, samples=0)
    run = warming(build, w.wire, w.coil, w.heat)
    speed = np.gradient(run.work_c, run.time_s)
    melting = (run.work_c > 48) & (run.work_c < 66)
    assert speed[melting].mean() < 0.5 * speed[run.work_c < 40].mean()
    # heat in the wax: specific heat, then latent heat (data/solid_values.csv), must take the time it takes
    assert 10 < time_to(run.time_s, run.work_c, 68.0) / 60 < 60


def test_power_for_a_temperature_is_the_power_that_gives_it(done):
    name, build, w = done
    at = "work_c" if name == "wax_pot" else "tip_c"
    watts = power_for(build, w.wire, w.coil, 90.0, at=at)
    assert getattr(work_heat(build, w.wire, w.coil, watts), at) == pytest.approx(90.0, abs=0.05)
    full = getattr(w.heat, at)
    half = power_for(build, w.wire, w.coil, 20 + (full - 20) / 2, at=at)
    assert half < 0.5 * w.coil.coil_w  # radiation: half the rise needs less than half the watts


def test_power_for_refuses_what_cannot_be():
    build = bc.load_chosen("wax_pot")
    w = bc.work_out(build, samples=0)
    with pytest.raises(Fault, match="not above the room"):
        power_for(build, w.wire, w.coil, 10.0, at="work_c")
    with pytest.raises(Fault, match="no such place"):
        power_for(build, w.wire, w.coil, 100.0, at="entry_c")
    with pytest.raises(Fault, match="out of reach of 50 W"):
        power_for(build, w.wire, w.coil, 900.0, at="work_c", most_w=50.0)


def test_left_on_and_forgotten_is_worse_than_in_use(done):
    name, build, w = done
    ((verdict, _), *_), heat = forgotten(build)
    assert verdict.state == "over" and heat.wire_c > w.heat.wire_c
    assert ("wax" in verdict.why) == (name == "wax_pot")


def test_cooling_takes_minutes_and_a_hotter_tool_longer(done):
    _, build, w = done
    after_s, limit_c = safe_after(build, w.wire, w.coil, w.heat)
    assert limit_c == 60.0 and 120 < after_s < 3 * 3600
    half = work_heat(build, w.wire, w.coil, w.coil.coil_w / 2)
    assert safe_after(build, w.wire, w.coil, half)[0] < after_s


def test_stages_in_order(done):
    _, build, w = done
    found = stages(build, w.wire, w.coil)
    assert tuple(s.name for s in found) == STAGES
    assert found[-1].wire_c == pytest.approx(w.heat.wire_c, abs=0.5)
    assert all(s.sheath_c > 100 for s in found)


def test_times_read_off_a_curve():
    t, y = np.array([0.0, 10.0, 20.0]), np.array([20.0, 60.0, 80.0])
    assert time_to(t, y, 40.0) == 5.0 and np.isnan(time_to(t, y, 90.0))
    assert time_below(t, y[::-1], 40.0) == 15.0 and time_below(t, y[::-1], 100.0) == 0.0


def test_no_heat_is_a_clear_fault():
    build = bc.load_chosen("foam_bow")
    w = bc.work_out(build, samples=0)
    with pytest.raises(Fault, match="has not been worked out"):
        warming(build, w.wire, w.coil, w.heat)


def test_time_for_a_job_and_a_job_that_is_not_there():
    build = bc.load_chosen("wax_pot")
    w = bc.work_out(build, samples=0)
    seconds, need_c, place = time_for_job(build, w.wire, w.coil, w.heat)
    run = warming(build, w.wire, w.coil, w.heat, until_s=seconds, points=11)
    assert place == "work" and run.work_c[-1] == pytest.approx(need_c, abs=0.3)
    with pytest.raises(Fault, match="Closest: .*wax, dipping"):
        time_for_job(bc.change(build, "want.job", "wax diping"), w.wire, w.coil, w.heat)


def test_conductivity_beyond_its_table_is_said():
    build = bc.change(bc.load_chosen("foil_iron"), "part.collar.material", "brass")
    w = bc.work_out(build, samples=0)
    assert any("brass" in name for name in w.heat.beyond)
    assert any(v.what.startswith("conductivity of brass") and v.state == "not known" for _, v in w.verdicts)


def test_a_part_that_would_melt_is_over():
    build = bc.change(bc.change(bc.load_chosen("insert_press"), "part.tip.material", "tin"), "coil.length_m", 0.4)
    verdicts = {v.what: v.state for _, v in bc.work_out(build, samples=0).verdicts}
    assert verdicts["melting of the tip"] == "over"


def test_bad_geometry_is_said_and_nothing_breaks():
    build = bc.change(bc.load_chosen("insert_press"), "part.tube.inner_m", 0.0075)
    w = bc.work_out(build)
    assert np.isnan(w.heat.tip_c) and "overlap" in w.heat.refused
    assert any(v.what == "temperatures" and v.state == "not known" for _, v in w.verdicts)
    many = bc.work_out(bc.change(build, "part.tube.inner_m", np.array([0.0075, 0.0081])), samples=0)
    assert np.isnan(many.heat.tip_c[0]) and many.heat.tip_c[1] == pytest.approx(
        bc.work_out(bc.load_chosen("insert_press"), samples=0).heat.tip_c, abs=0.05
    )


def test_left_on_means_still_air_whatever_the_sheet_says():
    build = bc.load_chosen("insert_press")
    windy = bc.change(build, "room.air_speed_m_s", 1.0)
    values = []
    for b in (build, windy):
        values.append([v.value for v, _ in forgotten(b)[0]])
    assert len(values[0]) == 2 and values[0] == pytest.approx(values[1], abs=0.01)


def test_a_joint_of_parts_that_do_not_meet_is_refused():
    build = bc.change(bc.load_chosen("insert_press"), "part.stem.from_m", 0.033)
    w = bc.work_out(build, samples=0)
    assert "joint of tip and stem" in w.heat.refused and "3.00 mm" in w.heat.refused


def test_cooling_is_counted_in_still_air():
    build = bc.change(bc.load_chosen("insert_press"), "room.air_speed_m_s", 1.0)
    w = bc.work_out(build, samples=0)
    windy = warming(build, w.wire, w.coil, w.heat, until_s=10800.0, points=1081, cooling=True)
    assert safe_after(build, w.wire, w.coil, w.heat)[0] > 1.2 * time_below(windy.time_s, windy.hottest_metal_c, 60.0)


def test_the_coil_on_its_core_has_a_band_and_many_designs_are_single_ones():
    build = bc.load_chosen("insert_press")
    w = bc.work_out(build, samples=0)
    drawn = drawn_builds(build, w.heat, w.wire, 9)
    _, wires, coils = bc.links(drawn)
    found = stages(build, w.wire, w.coil, many=(drawn, wires, coils))[1]
    assert found.band.low < found.band.nominal == found.wire_c < found.band.high
    each = [stages(*(nth(x, i) for x in (drawn, wires, coils)))[1].wire_c for i in range(9)]
    assert (found.band.low, found.band.high) == pytest.approx(np.percentile(each, (5, 95)), abs=0.05)
    halved = stages(build, w.wire, w.coil, w.coil.coil_w / 2, (drawn, wires, coils))[1].band
    assert halved.low < halved.nominal < halved.high < found.band.high


def test_still_air_is_hotter_and_told_only_where_the_ranges_leave_it_out():
    build = bc.load_chosen("insert_press")
    w = bc.work_out(build, samples=20)
    heat = in_still_air(build)
    assert heat.entry_c == bc.work_out(bc.change(build, "room.air_speed_m_s", 0.0), samples=0).heat.entry_c
    assert heat.entry_c > w.heat.entry_c and bc.say("entry_c", heat.entry_c) in heat_tables.still_air(build, w)
    still = bc.change(build, "room.air_speed_m_s", 0.0)
    assert heat_tables.still_air(still, bc.work_out(still, samples=0)) == ""
    bow = bc.load_chosen("foam_bow")
    assert heat_tables.still_air(bow, bc.work_out(bow, samples=0)) == ""
