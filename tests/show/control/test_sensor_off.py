"""The sensor taken off: its picture and panel, the steps on the bench, and what the page says to dial."""

import re
from dataclasses import replace

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.basics.slices import finished
from benchcalc.chain.control import link, standing, stuck
from benchcalc.chain.control.link import MOST_RUNS, held_by
from benchcalc.sheet.build_control import Control, Sensor
from benchcalc.sheet.defaults import fill
from benchcalc.show.control import fail_tables, hold_tables, seat_tables
from benchcalc.show.control.bench_cut_out import cut_out_step
from benchcalc.show.control.bench_words import _hold, _trial_rule, _watch, on_the_bench
from benchcalc.show.control.menu_words import into_the_box
from benchcalc.show.control.numbers import held_numbers
from benchcalc.show.control.panel import control_panel, held_sliders, met_before, to_hold
from benchcalc.show.control.runaway_numbers import runaway, runaway_caption
from benchcalc.show.control.runaway_panel import sensor_off_panel, with_cut_out
from benchcalc.show.panel.sliders import results_at
from benchcalc.studies import stopping
from benchcalc.studies.full_watts import FIT_FIRST, FREE, GUARDED, full_watts_gate
from benchcalc.studies.harmless_trial import harmless_trial
from benchcalc.studies.harmless_watts import harmless_watts
from benchcalc.studies.held_elsewhere import for_wanted
from benchcalc.studies.holding import holding
from benchcalc.studies.settings import with_settings
from benchcalc.studies.tuned import tuning_of
from benchcalc.studies.tunings import SMOOTH
from benchcalc.thermal.control.failing import first_trip
from benchcalc.thermal.network.steady import steady
from benchcalc.thermal.network.warm_up import warm_up

IRON = bc.load_chosen("foil_iron")


@pytest.fixture(scope="module")
def iron():
    return holding(IRON)


def test_the_runaway_is_the_run_of_power_stuck_on_and_the_reading_falls(iron):
    own = replace(IRON, control=replace(IRON.control, cut_out_c=228.0, cut_out_at_m=0.12))
    bare = runaway(IRON, iron)
    assert bare.curves["held"][1][-1] == pytest.approx(iron.control.stuck_c) and not bare.cut
    n = runaway(own, iron)
    minutes, held = n.curves["held"]
    assert n.cut and (np.diff(n.curves["read"][1]) <= 0).all()
    on = minutes <= n.opens_min
    assert held[on] == pytest.approx(np.interp(minutes[on], *bare.curves["held"]), abs=0.1)
    assert held.max() == pytest.approx(np.interp(n.opens_min, minutes, held), abs=5.0) and held[-1] < 60.0
    assert {w.rsplit(",", 1)[0] for _, _, w in n.passed} < {w.rsplit(",", 1)[0] for _, _, w in bare.passed}
    at = n.curves["cut"][1]
    assert np.interp(n.opens_min, minutes, at) == pytest.approx(228.0, abs=1.0)  # it opens at its mark at the latest
    for when, limit_c, words in bare.passed:
        harm = next(h for h in iron.control.harms if words.startswith(h.place))
        assert np.interp(60 * when, iron.control.stuck.time_s, harm.curve_c) == pytest.approx(limit_c, abs=1.0)
    assert (
        "then cools" in runaway_caption(n)
        and "mica sheet" in runaway_caption(n)
        and "use itself passes" in runaway_caption(n)
    )


def test_watts_rating_and_place_can_be_tried_in_a_panel_and_fewer_watts_harm_less():
    build = with_settings(to_hold(bc.load_chosen("wax_pot"))[0])
    assert None not in (with_cut_out(build)[0].control.cut_out_c, with_cut_out(build)[0].control.cut_out_at_m)
    made = sensor_off_panel(build)
    assert not made.suggestion.paths  # this sheet has one of its own
    ends = dict(made.good.rows)["work ends at"]
    made.set("coil.length_m", 3 * made.spec.build.coil.length_m)
    fewer = dict(made.good.rows)
    assert float(fewer["work ends at"].split()[0]) < float(ends.split()[0])
    made.set("control.cut_out_c", 240.0)
    assert dict(made.good.rows)["cut-out opens"] == "never" and made.png


def test_a_cut_out_that_the_page_advises_is_not_on_the_sheet_until_it_is_kept(tmp_path, monkeypatch):
    """The tool as it is stays over, whatever stands in the panel; keeping writes rating and place together."""
    monkeypatch.setenv("BENCHCALC_MY", str(tmp_path))
    build = with_settings(to_hold(bc.change(bc.load_chosen("insert_press"), "want.tip_c", 150.0))[0])
    made = sensor_off_panel(build)
    assert made.suggestion.advised and "not on your sheet" in made.told.value and not made.moved()

    def states():
        return {v.what.split(":")[0]: (v.state, v.note) for v in made.good.verdicts}

    tried = states()
    assert tried["power stuck on"] == ("over", "") and "tried here" in tried["the cut-out, between use and harm"][1]
    made.set("control.cut_out_at_m", 0.09)
    assert states()["power stuck on"][0] == "over"
    made.reset()
    assert "not on your sheet" in made.told.value
    made.keep()
    kept = bc.load_chosen(next(tmp_path.glob("*.toml")).stem)
    best = made.spec.build.control
    assert (kept.control.cut_out_c, kept.control.cut_out_at_m) == (best.cut_out_c, best.cut_out_at_m) != (None, None)
    assert "tried here" not in str(states()) and not made.suggestion.paths
    made.reset()
    assert made.told.value == "Everything is as on the sheet."


def test_the_bench_begins_with_watts_that_harm_nothing_and_withholds_what_would(iron):
    few = harmless_watts(IRON, iron)
    steps = on_the_bench(IRON, iron).text.split("\n")
    assert bc.say("coil_w", few.watts) in steps[1] and 0 < few.share < 0.5
    assert "The cut-out waits" in steps[0] and "mica sheet" in steps[0]  # its wire passes the mica while it is held
    assert "Not at this dial yet" in steps[3] and "mica sheet" in steps[3]
    assert "alone with the tool" not in " ".join(steps) and "Never on the full watts" in steps[2]
    hot = [h.at.value_c - h.limit_c for h in iron.control.harms]
    assert max(hot) > 0  # the full watts do harm: the share is what spares it
    weak = holding(bc.change(IRON, "control.set_c", 880.0))
    assert "Nothing to hold" in on_the_bench(bc.change(IRON, "control.set_c", 880.0), weak).text


def calm_press(cut_out=None):
    """The press with a bead in the metal, at a dial that use bears: stuck on still harms its wood."""
    build = bc.load_chosen("insert_press")
    build = fill(replace(build, control=Control(set_c=110.0), sensor=Sensor(attached="peened or embedded")))
    return build if cut_out is None else replace(build, control=replace(build.control, **cut_out))


@pytest.fixture(scope="module")
def press():
    build = calm_press()
    return build, holding(build)


def first_and_full(build, found):
    """The cut-out's step and the step at full watts."""
    gate = full_watts_gate(build, found)
    return gate, cut_out_step(build, found, gate), _hold(build, found, gate)


def test_no_full_watts_where_stuck_on_harms_and_nothing_guards_it(press):
    """Without a cut-out, with one that comes too late, with the advised one: only the last goes on."""
    build, found = press
    gate, first, full = first_and_full(build, found)
    assert gate.state == FIT_FIRST and "the wood at the tube" in gate.passed and gate.first_s > 60
    best = gate.advice.best
    assert all(w in first for w in (bc.say("temp_c", best.rating_c), bc.say("length_m", best.at_m), "buy two"))
    assert "No full watts yet" in full and "once step 4 is done" in _watch(build, found, gate)
    gate, _, full = first_and_full(calm_press({"cut_out_c": 240.0, "cut_out_at_m": best.at_m}), found)
    assert gate.state == FIT_FIRST and "No full watts yet" in full
    gate, first, full = first_and_full(calm_press({"cut_out_c": best.rating_c, "cut_out_at_m": best.at_m}), found)
    assert gate.state == GUARDED and "hold the set point" in full and "No full" not in full
    assert "holding temperature" in first and f"{bc.say('temp_c', best.from_c)} and" in first
    few = tuple(h for h in found.control.harms if "melting" in h.place)  # nothing but metals, which bear it
    gate, _, full = first_and_full(build, replace(found, control=replace(found.control, harms=few)))
    assert gate.state == FREE and "hold the set point" in full


@pytest.mark.parametrize("name", ["foil_iron", "insert_press", pytest.param("wax_pot", marks=pytest.mark.slow)])
def test_the_trial_holds_a_dial_that_its_watts_reach(name, iron, press):
    """Balance at those watts, by the network; the rule that is offered trips on no reading of the way up."""
    pot = bc.load_chosen("wax_pot")
    build, found = {"foil_iron": (IRON, iron), "insert_press": press}.get(name) or (pot, holding(pot))
    few = harmless_watts(build, found)
    trial = harmless_trial(build, found, few)
    standing, share = found.control.standing, few.watts / found.control.on_w
    net = replace(standing.seat.net, power_w=standing.seat.net.power_w * share)
    node = standing.seat.watch["sensor"][0][0]
    assert steady(net).temps_c[node] == pytest.approx(trial.reached_c, abs=0.1)
    assert build.room.ambient_c + 15 <= trial.dial_c < trial.low_c < trial.reached_c and trial.held_c > trial.dial_c
    time_s = np.arange(0.0, 3 * trial.ready_s, 1.0)
    read = warm_up(net, time_s[-1], accounted=False).at(time_s, "sensor")
    assert read[time_s >= trial.ready_s][0] >= trial.dial_c - 1.0
    said = _trial_rule(build, found, trial)
    if trial.rule is not None:
        assert np.isnan(first_trip(trial.rule, time_s, np.ones(time_s.size), read))
        assert trial.after_s > trial.rule.wait_s and "off** here" not in said
    else:
        assert trial.trips_s > 0 and "has to be **off**" in said


def test_what_to_dial_aims_at_the_wanted_temperature_and_stands_still_once_it_is_dialled():
    """Obeyed once, the line says the same again: it does not walk down with the dial."""
    wanted = bc.change(IRON, "want.tip_c", 350.0)
    said, dial = seat_tables.to_dial(wanted, holding(wanted))
    obeyed = bc.change(wanted, "control.set_c", round(dial))
    again, dial_again = seat_tables.to_dial(obeyed, holding(obeyed))
    assert dial_again == pytest.approx(dial, abs=1.0) and "350 degC" in again.text and "there already" in again.text
    assert "on-off" in said.text and for_wanted(wanted, 350.0)[1] == pytest.approx(dial)


def test_a_sheet_without_a_dial_is_held_where_the_metal_is_wanted_and_all_that_is_taken_is_told():
    """By hand: a pressed bead sees 0.85 of the rise, so 210 degC of the metal over 20 degC read about 182 degC."""
    press = bc.load_chosen("insert_press")
    wanted = bc.change(press, "want.tip_c", 210.0)
    build, told = to_hold(wanted)
    assert build.control.set_c == pytest.approx(20.0 + 0.85 * 190.0, abs=2.0)
    assert holding(build).held.mean_c == pytest.approx(210.0, abs=1.0)
    for taken in ("at the sensor", "should be at 210 degC", "burst as its switch", "type K", "pressed bead", "cold"):
        assert taken in told.text, taken
    silent = replace(build, control=replace(build.control, set_c=None))
    assert holding(silent).control.held_c == pytest.approx(210.0, abs=0.1)  # so do the other pages


def test_how_the_bead_is_fixed_stands_beside_its_places(iron):
    rows = {r[0]: r for r in seat_tables.seats(IRON, iron).rows}
    pressed, peened = (next(r for k, r in rows.items() if word in k) for word in ("pressed", "peened"))
    assert [float(re.findall(r"[\d.]+", r[2])[0]) for r in (pressed, peened)] == pytest.approx([83.0, 15.0], abs=3.0)


def test_nothing_speaks_against_a_law_only_where_wire_insulation_and_wood_stand_it(iron):
    told = hold_tables.remarks(IRON, iron).text
    assert "mica sheet" in told and "past its" in told and "Nothing" not in told
    assert "at its hottest" in repr(fail_tables.harms(IRON, iron))


def test_settings_of_ones_own_stand_beside_the_rules_where_they_overshoot(iron):
    eager = replace(IRON.control, kind="proportional-integral", proportional_k=5.0, integral_s=20.0)
    build = replace(IRON, control=eager)
    found = holding(build)
    for told in (hold_tables.laws, hold_tables.tuning):
        rows = {row[0]: row for row in told(build, found).rows}
        (own,) = [row for word, row in rows.items() if word.endswith("yours")]
        assert "5.00 K" in own and found.held.ripple_k > 3.0
    assert "With your own band of 5.00 K and 20.0 s" in hold_tables.which_law(build, found).text
    assert "Its band of 5.00 K is narrower than the" in hold_tables.remarks(build, found).text
    assert not any("yours" in row[0] for row in hold_tables.tuning(IRON, iron).rows)


def test_sliders_reach_what_the_page_advises_and_a_browser_that_stops_at_an_end_is_told():
    build = with_settings(to_hold(IRON)[0])
    ends = {s.path: s for s in held_sliders(build)}
    found = holding(build)
    assert ends["control.set_c"].high > found.control.full_c and ends["control.set_c"].step == 1.0
    smooth = tuning_of(build, found.control.standing, SMOOTH[-1][0])
    assert ends["control.proportional_k"].high >= 1 / smooth.gain_per_k
    assert ends["control.integral_s"].high >= smooth.integral_s
    made = control_panel(build)
    made.handles["control.band_k"].value = made.handles["control.band_k"].max
    assert "goes from 0.5 to 30" in made.told.value


def test_the_left_picture_ends_some_rounds_after_the_way_up(iron):
    _, far, *_ = held_numbers(IRON, iron).frame
    assert iron.held.ready_s < 60 * far / 2 and 60 * far <= iron.run.time_s[-1] * 1.01


def test_a_slider_that_is_dragged_for_long_keeps_few_runs(iron, monkeypatch):
    tool, ran = iron.control.standing, []
    assert held_by(tool, iron.law) is held_by(tool, iron.law)  # asked again, not run again
    monkeypatch.setattr(link, "hold", lambda *_: ran.append(1))
    for k in range(MOST_RUNS + 2):
        held_by(tool, replace(iron.law, set_c=100.0 + k / 7))
    runs = tool.kept.pop("held by")
    assert len(runs) == MOST_RUNS and len(ran) == MOST_RUNS + 2


def test_a_press_runs_what_it_changes_and_no_more(monkeypatch):
    """The law moved: one run by modes. The cut-out moved: none. The dial: no modes, no failure, no samples anew; these
    follow at rest. Another coil: its modes, once."""
    build = with_settings(to_hold(IRON)[0])
    held, off = control_panel(build), sensor_off_panel(build)
    ran = []

    def counted(module, name):
        act = getattr(module, name)
        monkeypatch.setattr(module, name, lambda *given, **how: ran.append(name) or act(*given, **how))

    for module, name in ((standing, "fast_run"), (standing, "modes_at"), (standing, "warm_up"), (stuck, "warm_up"),
                         (stopping, "drawn_builds")):  # fmt: skip
        counted(module, name)

    def pressed(made, path, value, rest=False):
        ran.clear()
        results_at(made.spec, {path: value}, rest)
        return sorted(ran)

    dial = build.control.set_c
    assert pressed(held, "control.band_k", build.control.band_k + 1) == ["fast_run"]
    assert pressed(held, "control.band_k", build.control.band_k + 1, rest=True) == []
    assert pressed(held, "control.proportional_k", 33.0) == []  # on-off does not hear it
    assert pressed(held, "control.set_c", dial + 3) == ["fast_run"]
    assert pressed(held, "control.set_c", dial + 3, rest=True) == ["warm_up"]  # power stuck on, from there
    assert pressed(off, "control.cut_out_at_m", off.spec.build.control.cut_out_at_m + 0.004) == []
    assert pressed(off, "control.set_c", dial + 3) == []  # the other panel did it
    longer = 1.02 * build.coil.length_m
    assert pressed(held, "coil.length_m", longer) == ["fast_run", "modes_at", "warm_up"]
    assert pressed(held, "coil.length_m", longer, rest=True) == ["drawn_builds", "warm_up"]


def test_settings_that_the_sheet_leaves_open_work_out_no_other_failure(monkeypatch):
    """What is only assumed of a law becomes the reader's own when it is moved: still the same tool left on."""
    build = with_settings(to_hold(bc.load_chosen("insert_press"))[0])
    assert {"control.window_s", "sensor.lag_s"} <= {p for p, known in build.known.items() if known.how == "assumed"}
    held, ran = control_panel(build), []
    for name in ("warm_up", "stuck_run"):
        act = getattr(stuck, name)
        monkeypatch.setattr(stuck, name, lambda *given, act=act, **how: ran.append(1) or act(*given, **how))
    for path, value in (("control.window_s", 3.0), ("control.proportional_k", 77.0), ("control.integral_s", 333.0)):
        assert results_at(held.spec, {path: value}).verdicts and not ran
    assert (
        results_at(held.spec, {"control.set_c": build.control.set_c + 2}).verdicts and ran
    )  # another dial, another start


def test_the_long_part_of_verdicts_comes_in_slices_and_counts_once_it_is_whole():
    did = []
    slow, known = met_before(str.upper, lambda tool: did.append("left on"), lambda tool: did.append("in doubt"))
    work = slow("iron")
    next(work)
    assert did == ["left on"] and known("iron") is None
    work.close()  # a newer press came
    assert finished(slow("pot")) is True and did[1:] == ["left on", "in doubt"]
    assert known("pot") is True and known("POT") is True and known("iron") is None


def test_no_place_of_the_sensor_stands_twice_and_the_ranges_are_those_of_its_kind(iron):
    """A Pt100 is sold up to 850 degC at the most (IEC 60751): no box for it has a range of 1300 K."""
    press = to_hold(bc.load_chosen("insert_press"))[0]
    rows = seat_tables.seats(press, holding(press)).rows
    assert "front of the tip" not in {row[0] for row in rows} and len({row[0] for row in rows}) == len(rows)
    assert not any(row[1:] == rows[0][1:] for row in rows[1:])
    platinum = replace(IRON, sensor=replace(IRON.sensor, kind="Pt100", grade=None))
    for build, most in ((IRON, 1300.0), (platinum, 850.0)):
        band = into_the_box(build, holding(build)).rows[0][1]
        assert max(float(x) for x in re.findall(r"of (\d+) K", band)) <= most
