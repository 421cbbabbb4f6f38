"""The control link on the demos: what is held, what power stuck on does, what the cut-out can, and bad sheets."""

import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.chain.control.guarded import fitted_cut_out
from benchcalc.chain.control.link import doubt_of, set_point, work_control
from benchcalc.chain.control.opened import opened
from benchcalc.chain.heat.left_on import left_on
from benchcalc.chain.heat.link import work_heat
from benchcalc.chain.workings import chain
from benchcalc.materials.sensors import tolerance
from benchcalc.sheet.build_control import Control, Sensor
from benchcalc.sheet.defaults import fill
from benchcalc.studies.holding import holding
from benchcalc.studies.stopping import cut_out_advice, may_pass
from benchcalc.studies.touching import touched
from benchcalc.studies.tuned import tuning_of
from benchcalc.thermal.network.warm_up import warm_up

IRON = bc.load_chosen("foil_iron")
TEXT = Path(IRON.file).read_text(encoding="utf-8")


def held(build):
    return work_control(build, *chain(build)[:4])


@pytest.fixture(scope="module")
def iron():
    return holding(IRON)


def test_the_held_watts_are_those_that_settle_the_tip_there(iron):
    """The heat link, asked for the tip at the mean watts, answers with the held temperature."""
    supply, wire, coil, heat = iron.parts
    settled = work_heat(IRON, wire, coil, iron.control.hold_w)
    assert settled.tip_c == pytest.approx(iron.control.held_c, abs=1.0)
    assert iron.held.mean_c == pytest.approx(iron.control.held_c, abs=6.0)  # on-off swings unevenly about it
    assert iron.control.duty * iron.control.on_w == pytest.approx(iron.control.hold_w)
    assert iron.control.on_w < coil.coil_w  # the triac keeps its share


def test_a_reading_is_low_by_its_attachment_and_doubt_adds_up(iron):
    share = 0.02 * (iron.control.held_c - 20.0)
    assert iron.control.held_c - 350.0 == pytest.approx(share, abs=2.5)
    assert iron.control.offset_k == pytest.approx(iron.held.mean_c - 350.0)  # what is told is the mean of the swing
    own = tolerance("type K", "2", 350.0).half_k
    assert doubt_of(IRON, 350.0) > own + 1.5


def test_power_stuck_on_ends_where_the_heat_link_says():
    pot = bc.load_chosen("wax_pot")
    found = held(pot)
    wax = next(h for h in found.harms if "wax" in h.place)
    assert wax.end_c > wax.limit_c and 60 < wax.after_s < 3600
    assert found.stuck_c == pytest.approx(wax.end_c, abs=3.0)
    said = {v.what: v for v in bc.work_out(pot, samples=0).of("control")}
    hours = float(re.search(r"every ([\d.]+) s", said["contacts of the relay, for a year"].why).group(1)) * 1e5 / 3600
    assert hours == pytest.approx(said["contacts of the relay, for a year"].value / 3600, rel=0.01)  # rounds of on-off
    assert hours > 3 * 1e5 * pot.control.window_s / 3600
    link = next(v for k, v in said.items() if k.startswith("the cut-out, between use and harm"))
    assert (
        link.state == "over" and link.key == "temp_c" and link.sense == "at most" and link.value > link.limit
    )  # a 93 degC link would go off while the wax is melted
    assert said["power stuck on"].state == "over" and "cut-out" in said["power stuck on"].why


def test_power_stuck_on_is_a_tool_left_on():
    """One event, one answer: same mains, room and still air, whatever is held, and whether anything is."""
    wood = {}
    for build in (IRON, bc.change(IRON, "control.set_c", 700.0), bc.change(IRON, "sensor.at_m", 0.5)):
        out = bc.work_out(build, samples=0)
        left = {v.what: v for v in (*out.of("heat"), *out.of("control"))}
        assert left["power stuck on"].value == pytest.approx(left["left on and forgotten"].value, abs=0.01)
        entry = next(h for h in out.control.harms if h.place == "the wood at the tube")
        assert entry.end_c == pytest.approx(left_on(build).heat.entry_c)
        wood[out.control.begins] = entry.after_s
    assert 0 < wood["full power"] < wood["held"] < wood["cold"]
    today = bc.change(IRON, "room.ambient_c", 38.0)  # hotter than the doubt of any room: today's counts
    assert left_on(today).room_c >= 38.0


def test_a_switch_that_cannot_serve_still_burns_and_says_what_serves():
    """A triac on a battery holds nothing; what power stuck on does stands all the same, with a cure for the switch."""
    pack = replace(IRON.supply, kind="battery", output="DC", core=None, reading=(), open_v=24.0, source_ohm=0.3)
    found = held(replace(IRON, supply=pack))
    assert "The switch: 'burst' does not serve" in found.refused and "switched DC" in found.refused
    assert found.begins == "cold" and found.harms and found.stuck_c > 350


@pytest.mark.parametrize(
    ("rating_c", "at_m", "does"),
    [(72.0, 0.06, "opens in use"), (500.0, 0.06, "comes too late"), (150.0, 0.25, "no place")],
)
def test_the_cut_out_of_a_sheet_is_always_judged(rating_c, at_m, does):
    build = bc.change(bc.change(IRON, "control.cut_out_c", rating_c), "control.cut_out_at_m", at_m)
    verdict = next(v for v in bc.work_out(build, samples=0).of("control") if "cut-out" in v.what)
    assert does in verdict.why, verdict.why
    assert (verdict.state == "not known") == (does == "no place")
    half = bc.work_out(bc.change(IRON, "control.cut_out_c", 150.0), samples=0)
    half = next(v for v in half.of("control") if "cut-out" in v.what)
    assert half.state == "not known" and "cut_out_at" in half.why


def test_nothing_is_held_by_a_wire_that_melts():
    found = held(bc.change(IRON, "coil.length_m", 0.38))
    assert "melting" in found.refused and found.harms and found.harms[0].after_s < 60


def test_a_cut_out_that_fits_clears_the_verdict():
    """A bead in the metal and a lower dial: then a rating fits, and written on the sheet it settles the matter."""
    pot = bc.change(bc.load_chosen("wax_pot"), "sensor.attached", "peened or embedded")
    pot = bc.change(pot, "control.set_c", 60.0)
    best = cut_out_advice(pot, holding(pot)).best
    assert best.rating_c - 10 >= best.normal_c + 5 and best.fail_c >= best.rating_c + 5
    pot = bc.change(bc.change(pot, "control.cut_out_c", best.rating_c), "control.cut_out_at_m", best.at_m)
    said = {v.what: v for _, v in bc.work_out(pot, samples=0).verdicts}
    link = next(v for k, v in said.items() if k.startswith("the cut-out, between use and harm"))
    assert link.state == "fine" and "fits" in link.why and said["power stuck on"].state == "fine"
    left = said["left on and forgotten"]  # the same event, so the same answer
    assert left.value == said["power stuck on"].value and left.state == "fine" and "your cut-out" in left.why
    for hold_c, state, word in ((best.normal_c + 1, "fine", "fits"), (best.normal_c - 1, "over", "in long use")):
        told = bc.work_out(bc.change(pot, "control.cut_out_hold_c", hold_c), samples=0).of("control")
        link = next(v for v in told if v.what.startswith("the cut-out, between use and harm"))
        assert link.state == state and word in link.why and bc.say("temp_c", hold_c) in link.why


def test_a_cut_out_that_is_too_late_for_a_limit_is_never_fine():
    """Marked 150 degC and 100 mm from the tip it saves the glass sleeve and not the wood at the tube: what it has to
    spare for the sleeve does not make it fine."""
    cut_out = Control(set_c=110.0, cut_out_c=150.0, cut_out_at_m=0.1, cut_out_hold_c=145.0)
    press = bc.load_chosen("insert_press")
    build = fill(replace(press, control=cut_out, sensor=Sensor(attached="peened or embedded")))
    (told,) = [v for v in bc.work_out(build, samples=0).of("control") if v.what.startswith("the cut-out")]
    assert "too late for the wood" in told.why and "in time for the glass sleeve" in told.why
    assert told.margin > 0 and told.state == "tight"


def test_a_harm_that_comes_after_the_run_still_counts():
    """With two hundred times the heat in it the wood passes its limit after two hours, when nobody looks any more."""
    cut_out = Control(set_c=110.0, cut_out_c=150.0, cut_out_at_m=0.1, cut_out_hold_c=145.0)
    press = fill(replace(bc.load_chosen("insert_press"), control=cut_out, sensor=Sensor(attached="peened or embedded")))
    slow = bc.work_out(bc.change(press, "heat.stored_scale", 200.0), samples=0)
    wood = next(h for h in slow.control.harms if "wood" in h.place)
    assert np.isnan(wood.after_s) and wood.end_c > wood.limit_c
    (told,) = [v for v in slow.of("control") if v.what.startswith("the cut-out")]
    assert told.state == "over" and "too late" in told.why and "no limit" not in told.why


def test_heat_goes_on_walking_outwards_once_a_cut_out_has_opened(iron):
    """Against one run of the network whose power is taken off at that moment; the wood is hottest only after it."""
    control = iron.control
    own = bc.change(bc.change(IRON, "control.cut_out_c", 228.0), "control.cut_out_at_m", 0.12)
    fitted, _ = fitted_cut_out(own, iron.parts[3], control, {})
    assert fitted.late and fitted.saves == "the wood at the tube" and not fitted.guards
    assert "too late for the mica plate" in fitted.does
    cut, stuck = opened(control, fitted), control.stuck.run
    opens_s, net = cut.run.run.at_s, control.left.heat.model.net
    steps = ((0.0, float(net.power_w.sum())), (opens_s, 0.0))
    once = warm_up(net, 1800.0, start_c=stuck.at(np.array([0.0]))[0], power=steps, accounted=False)
    times = np.linspace(0.0, 1800.0, 19)
    nodes = list(range(0, len(net.names), 7))
    assert np.abs(once.at(times, nodes) - cut.run.run.at(times, nodes)).max() < 1.0
    wood = next(k for k, p in enumerate(cut.places) if "wood" in p.word)
    curve = cut.curves_c[wood]
    assert curve.max() > np.interp(opens_s, cut.run.time_s, curve) + 1.0 and curve.max() < cut.places[wood].limit_c
    fire, rest = (v for v in bc.work_out(own, samples=0).of("control") if v.what.startswith("power stuck on"))
    assert rest.state == "over" and "opens at the latest" in rest.why and "wood" not in rest.place
    assert fire.state == "fine" and "wood" in fire.place and "opens at the latest" in fire.why


def test_no_rating_fits_where_use_comes_too_near_to_harm(iron):
    """The iron that is soldered with, held as hot as its flux stands: fewer watts are the answer, not a link."""
    job = bc.change(IRON, "want.job", "soldering, Sn60Pb40")
    found = holding(job)
    first = may_pass(job, found)[0][1].place
    assert first in cut_out_advice(job, found).late


def test_out_of_reach_says_the_most_and_is_never_fine():
    hot = bc.change(IRON, "control.set_c", 700.0)
    found = held(hot)
    assert "out of reach" in found.refused and bc.say("temp_c", found.full_c) in found.refused
    states = {v.what: v.state for v in bc.work_out(hot, samples=0).of("control")}
    assert states["set point within reach"] == "over" and states["held temperature"] == "not known"
    assert (
        "not above the room" in held(bc.change(bc.change(IRON, "room.ambient_c", 35.0), "control.set_c", 30.0)).refused
    )


def test_a_sensor_off_the_tool_or_elsewhere_is_told():
    off = held(bc.change(IRON, "sensor.at_m", 0.5))
    assert "The sensor's place" in off.refused and "read the room" in off.refused
    elsewhere = held(bc.change(bc.change(IRON, "sensor.on", "shroud"), "sensor.at_m", 0.07))
    assert abs(elsewhere.offset_k) > 20 or elsewhere.refused


def test_silent_sheets_hold_nothing_and_cost_nothing():
    press = bc.load_chosen("insert_press")
    out = bc.work_out(press, samples=0)
    assert out.control is None and out.of("control") == ()
    silent = bc.read(TEXT.replace('set = "350 degC"\n', ""))
    assert "is missing" in held(silent).refused
    assert set_point(bc.change(silent, "want.job", "soldering, Sn60Pb40")) == pytest.approx(340.0)  # 300 to 380
    assert set_point(bc.change(silent, "want.tip_c", 321.0)) == 321.0
    bow = bc.read(Path(bc.load_chosen("foam_bow").file).read_text(encoding="utf-8") + '\n[control]\nset = "200 degC"\n')
    (verdict,) = bc.work_out(bow, samples=0).of("control")
    assert verdict.state == "not known" and "free air" in verdict.why


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ('window = "5 ms"', "control.window"),
        ('proportional_band = "-4 K"', "negative"),
        ('way = "dimmer"', "burst"),
        ("set = 350", "unit"),
    ],
)
def test_bad_keys_are_told_with_their_range(line, says):
    own = TEXT[: TEXT.index("[control]")] + "[control]\n" + line + "\n"
    with pytest.raises(bc.Fault, match=says):
        bc.read(own)


def test_a_touch_takes_its_heat_and_the_tip_comes_back(iron):
    joint = touched(IRON, iron, "joint", until_s=60.0)
    warm = 0.002 * 385 * (iron.control.held_c - 20)  # two grams of copper, by hand
    assert warm * 0.8 < joint.energy_j < warm + 0.0005 * (188 * 340 + 44600) * 1.1
    assert 3 < joint.dip_k < 120


def test_a_calmer_tuning_has_the_wider_band(iron):
    tight, smooth = (tuning_of(IRON, iron.control.standing, s) for s in (1.0, 4.0))
    assert smooth.gain_per_k < tight.gain_per_k and smooth.integral_s >= tight.integral_s


def test_many_designs_and_arrays_are_left_to_others():
    many = bc.change(IRON, "coil.length_m", np.array([1.4, 1.5]))
    assert held(many) is None and bc.work_out(many, samples=0).control is None


def test_a_held_tool_is_judged_as_it_is_held_and_the_failure_beside_it(iron):
    """In use is what the run of the law brings, not full power for ever: wire, mica and wood by their hottest there."""
    used = {h.place: h.used_c for h in iron.control.harms}
    assert used["the wire"] == pytest.approx(iron.wire_top_c, abs=2.0) and used["the wire"] < 600 < iron.parts[3].wire_c
    calm = bc.change(bc.change(IRON, "control.kind", "proportional-integral"), "control.set_c", 300.0)
    said = {v.what: v for v in bc.work_out(calm, samples=0).of("control")}
    mica, stuck = said["as held: the mica plate between core and coil"], said["power stuck on"]
    assert mica.value < mica.limit and mica.band.high > mica.value + 5.0 and stuck.state == "over"
    assert said["as held: the wood at the tube"].value == pytest.approx(used["the wood at the tube"] * 0.85, abs=4.0)
    control = held(calm)
    plate = next(h for h in control.harms if "plate" in h.place)
    assert plate.after_s > 0 and plate in control.passed  # what use does not pass, a cut-out has to guard


def test_no_cut_out_is_offered_for_what_only_doubt_brings_to_a_limit_where_use_harms_more(iron):
    wood, bit = (next(h for h in iron.control.harms if word in h.place) for word in ("wood", "bit"))
    near = replace(bit, at=replace(bit.at, limit_c=bit.end_c + 1.0))
    for early, offered in ((0.0, False), (np.nan, True)):
        harms = (replace(wood, at=replace(wood.at, limit_c=30.0 if early == 0 else 500.0), after_s=early), near)
        found = replace(iron, control=replace(iron.control, harms=harms))
        told = cut_out_advice(IRON, found)
        assert (told.unsure == ()) is offered, early


def test_a_place_for_a_cut_out_is_one_that_a_ruler_finds():
    pot = bc.change(
        bc.change(bc.load_chosen("wax_pot"), "sensor.attached", "peened or embedded"), "control.set_c", 60.0
    )
    best = cut_out_advice(pot, holding(pot)).best
    assert 1e3 * best.at_m == pytest.approx(round(1e3 * best.at_m), abs=1e-6)
