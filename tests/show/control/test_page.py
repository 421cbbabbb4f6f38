"""The control page: panel at every end of every slider, picture, tables, sheets that hold nothing."""

import json
import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from canonical import ROOT, source_of

import benchcalc as bc
from benchcalc.show.control import fail_tables, hold_tables, seat_tables, ways_tables
from benchcalc.show.control.bench_cut_out import cut_out_step
from benchcalc.show.control.fault_table import faults
from benchcalc.show.control.figure import HELD_TOOL
from benchcalc.show.control.numbers import envelope, held_caption, held_numbers
from benchcalc.show.control.panel import control_panel, held_at, held_says, held_sliders, held_verdicts, to_hold
from benchcalc.show.drawing.live_picture import Live
from benchcalc.show.panel.sliders import Telling, plan, results_at, settings
from benchcalc.studies.full_watts import full_watts_gate
from benchcalc.studies.held_elsewhere import for_wanted, hold_band
from benchcalc.studies.holding import holding
from benchcalc.studies.own_cut_out import cut_out_words
from benchcalc.studies.settings import is_taken, with_settings
from benchcalc.studies.stopping import cut_out_advice
from benchcalc.thermal.control.law import Law
from benchcalc.thermal.control.measures import mean_over
from benchcalc.thermal.control.modes import fast_run, pulse_over_mean


def spec(name):
    build = with_settings(to_hold(bc.load_chosen(name))[0])
    return plan(build, held_sliders(build), held_at, HELD_TOOL, Telling(held_says, held_verdicts, slow=lambda _: True))


@pytest.mark.parametrize("name", ["insert_press", "foam_bow", pytest.param("wax_pot", marks=pytest.mark.slow)])
def test_the_panel_holds_at_every_end_of_every_slider(name):
    s, live = spec(name), Live(HELD_TOOL)
    for word, moved in settings(s):
        at = results_at(s, moved, rest=False)
        assert live.png(at.numbers) and at.caption and at.rows and at.verdicts is None, word
        moving, at = at, results_at(s, moved)
        assert at.rows == moving.rows and at.caption == moving.caption and at.verdicts, word  # these follow at rest
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


def test_a_pulse_tops_its_mean_as_the_stepped_run_does(iron):
    """Half power in windows of 10 s, stepped for long: the modes' closed form gives the top of the saw-tooth."""
    standing = iron[1].control.standing
    place = list(standing.seat.watch).index("sheath")
    law = Law("proportional-integral", 5000.0, window_s=10.0, gain_per_k=1.0, most=0.5)
    run = fast_run(standing.kept_modes, law, standing.seat.watch, 120.0, start_c=standing.settled(0.5))
    late = run.time_s > 80.0
    saw = run.temp_c["sheath"][late]
    top = pulse_over_mean(standing.kept_modes, place, 0.5, 10.0)
    assert top == pytest.approx(saw.max() - mean_over(run.time_s[late], saw), rel=0.1) and top > 10.0


def test_another_law_brings_its_own_sliders_at_once():
    build = with_settings(to_hold(bc.load_chosen("insert_press"))[0])
    made = control_panel(build)
    calm = {"control.window_s", "control.proportional_k", "control.integral_s"}
    both = {"control.kind", "control.set_c", "sensor.attached", "sensor.at_m", "coil.length_m"}

    def seen():
        return {p for p, h in made.handles.items() if h in made.rack.children} - both

    assert seen() == calm
    made.set("control.integral_s", build.control.integral_s + 50.0)
    made.set("control.kind", "on-off")
    assert seen() == {"control.band_k"} and set(made.moved()) == {"control.kind"}  # what it does not hear moves nothing
    assert made.handles["control.band_k"].value == build.control.band_k
    made.set("control.kind", "proportional-integral")
    assert seen() == calm and set(made.moved()) == {"control.integral_s"}
    made.set("control.kind", "on-off")
    made.reset()
    assert seen() == calm and not made.moved()


def test_no_two_sliders_are_called_the_same(iron):
    names = [s.label.split(",")[0] for s in held_sliders(iron[0])]
    assert len(set(names)) == len(names)


def test_parts_of_ways_that_do_not_serve_are_left_out_with_the_reason(iron):
    build, found = iron
    assert len(ways_tables.parts_and_failures(build, found).rows) == 6
    pack = replace(build.supply, kind="switching supply", output="DC", core=None, reading=(), open_v=24.0)
    pack = replace(build, supply=replace(pack, source_ohm=0.2))
    told = ways_tables.parts_and_failures(pack, holding(pack))
    served = {r[0] for r in ways_tables.currents(pack, holding(pack)).rows}
    assert {r[0] for r in told.rows} == served and "diode (Direct current passes a diode" in told.caption


def test_what_rests_on_a_demo_that_stands_in_names_it(iron):
    build, found = replace(iron[0], lent="foil_iron"), iron[1]
    words = "Of the demo foil_iron, not of your tool."
    shown = [f(build, found) for f in (ways_tables.half_power, ways_tables.parts_and_failures, fail_tables.harms,
                                       fail_tables.failing_summary, seat_tables.seats)]  # fmt: skip
    assert all(words in repr(x) for x in shown) and words in held_caption(held_numbers(build, found))
    assert words not in repr(ways_tables.half_power(*iron)) + held_caption(held_numbers(*iron))


def test_ways_say_what_they_lose_and_what_to_buy(iron):
    build, found = iron
    rows = {r[0]: r[1] for r in ways_tables.half_power(build, found).rows}
    ohm, watts, buy = (float(x) for x in re.findall(r"[\d.]+", rows["series resistor"])[:3])
    amps = float(next(r for r in ways_tables.half_power(build, found).rows if r[0] == "series resistor")[3].split()[0])
    assert watts == pytest.approx(amps**2 * ohm, rel=0.01) and buy >= 1.9 * watts
    assert "1.2 V" in rows["burst"] and "1.9 V" in rows["switched DC"] and "39 V" in rows["switched DC"]
    flows = {r[0]: r[1:] for r in ways_tables.currents(build, found).rows}
    assert float(flows["burst"][1].split()[0]) > 1.4 * float(flows["burst"][0].split()[0])  # a peak of all the watts
    assert flows["diode"][2] != "none" and {r[2] for k, r in flows.items() if k != "diode"} == {"none"}
    assert float(flows["series resistor"][3].split()[0]) == pytest.approx(watts, rel=0.01)
    box = ways_tables.box_rows(build, found)
    total, copper, iron, switch = (float(x) for x in re.findall(r"([\d.]+) W", box.rows[0][1] + box.caption)[:4])
    # by hand: a triac keeps 1.2 V of the mean current while it is on, the copper of the supply its r.m.s. square
    assert "600 cm2" in box.caption and total == pytest.approx(copper + iron + switch, rel=0.01)
    line = ways_tables.line_of(*found.parts[:3])
    on_a = (2 * 2**0.5 / np.pi * line.open_v - 1.2) / (line.source_ohm + line.coil_ohm + line.tails_ohm)
    assert switch == pytest.approx(1.2 * on_a * found.control.duty, rel=0.02)
    assert "no half" in repr(ways_tables.serving(build, found.parts, "diode", lambda: "no half waves"))
    pack = replace(build, supply=replace(build.supply, kind="switching supply", output="DC", core=None, reading=()))
    pack = replace(pack, supply=replace(pack.supply, open_v=24.0, source_ohm=0.2))
    assert "Not on this supply" in repr(ways_tables.serving(pack, holding(pack).parts, "diode", lambda: "half waves"))


def test_tables_of_holding_say_what_they_should(iron):
    build, found = iron
    table, apart = hold_tables.two_models(build, found, seconds=30.0)
    assert apart < 1.0 and "millionth" in table.rows[-1][1]
    mean, low, high = hold_band(build, found)
    assert low < mean < high
    assert len(hold_tables.touches(build, found).rows) == 2
    tuned = hold_tables.tuning(build, found).rows
    assert len(tuned) == 3 and sum("take this one" in r[0] for r in tuned) == 1
    on_off, calm = hold_tables.laws(build, found).rows
    assert float(on_off[8].split()[0]) == pytest.approx(found.period_s, rel=0.01)  # one round, told
    assert float(on_off[9].split()[0]) == pytest.approx(1e5 * found.period_s / 3600, rel=0.01)
    assert calm[0] in hold_tables.which_law(build, found).text
    bands = [float(r[1].split()[0]) for r in hold_tables.windows(build, found).rows]
    assert (np.diff(bands) > 0).all()  # half a window is delay: each row has its own gain


def test_a_window_that_does_the_loop_no_good_is_told(iron):
    build, _ = iron
    slow = bc.change(bc.change(build, "control.kind", "proportional-integral"), "control.window_s", 600.0)
    found = holding(slow)
    assert "too seldom" in hold_tables.remarks(slow, found).text and (
        "the loop",
        "window too long for it",
    ) in held_says(found, slow, None)
    assert hold_tables.two_models(slow, found, seconds=60.0)[1] < 1.0
    pot = bc.change(bc.load_chosen("wax_pot"), "control.kind", "proportional-integral")
    assert "Not settled" in hold_tables.remarks(pot, holding(pot)).text


def test_failing_stands_whatever_holds_the_tool(iron):
    build, found = iron
    fallen = faults(build, found).rows[0]
    assert bc.say("temp_c", found.control.stuck_c) in fallen
    hot = replace(build, sensor=replace(build.sensor, broken="hot"))
    broken = (faults(b, found).rows[1][2] for b in (hot, build))
    assert ["cools" in b for b in broken] == [True, False]
    for off in (bc.change(build, "control.set_c", 700.0), bc.change(build, "sensor.at_m", 0.5)):
        told = holding(off)
        assert told.refused and [r[2:] for r in faults(off, told).rows[:4]] == [fallen[2:]] * 4
        assert len(fail_tables.minutes_stuck(off, told).rows) == 6 and len(fail_tables.stops(off, told).rows) >= 2
        assert (
            "mm from the tip, for the wood" in fail_tables.failing_summary(off, told).text
            and "melt" not in fail_tables.day(off, told).text
        )
    short = bc.change(build, "coil.length_m", 0.38)
    assert "melts" in faults(short, holding(short)).rows[0][3]


def test_the_rule_is_printed_with_the_reading_it_watches_and_the_cut_out_with_its_place(iron):
    build, found = iron
    how, left = fail_tables.stops(build, found).rows[0][1:]
    assert "while the sensor reads less than" in how and "no false alarm" in left
    own = bc.change(bc.change(build, "control.cut_out_c", 72.0), "control.cut_out_at_m", 0.06)
    rows = {r[0]: r for r in fail_tables.stops(own, found).rows}
    assert rows["the cut-out of your sheet"][2] == "it opens in use"


def test_the_dial_that_is_told_brings_the_mean_of_the_tip_there(iron):
    build, found = iron
    aimed, dial = for_wanted(build, 350.0)
    assert dial < 350.0 and holding(aimed).held.mean_c == pytest.approx(350.0, abs=1.0)


def test_the_two_lines_of_the_page_are_a_sheet_that_holds():
    """What the page shows as a beginning is read, with every key that it names."""
    notebook = json.loads((ROOT / "notebooks" / "08_power_control.ipynb").read_text(encoding="utf-8"))
    text = next(c for c in map(source_of, notebook["cells"]) if "sensor = {" in c)
    lines = text.split("```")[1].strip()
    sheet = Path(bc.load_chosen("foil_iron").file).read_text(encoding="utf-8")
    build = bc.read(lines + "\n" + sheet[: sheet.index("# How the tip is held")])
    assert build.control.set_c == 350.0 and build.control.cut_out_c == 150.0 and build.sensor.at_m == 0.015
    read = (ROOT / "README.md").read_text(encoding="utf-8")
    assert all(f"`{key}`" in read for key in ("[control]", "[sensor]", "cut_out", "cut_out_at", "attached"))


def test_a_sheet_without_a_controller_is_told_the_cut_out_of_page_00_and_the_one_of_the_controller_apart():
    """One row, one answer: for the tool as its sheet stands, and once the controller that the page takes is fitted."""
    sheet = bc.change(bc.load_chosen("insert_press"), "part.tube.material", "stainless-304")
    sheet = bc.change(sheet, "coil.length_m", 1.1)
    workings = bc.work_out(sheet)
    place = next(v.place for v in workings.of("heat") if v.what == "left on and forgotten")
    words = cut_out_words(sheet, workings, place)
    build = with_settings(to_hold(sheet)[0])
    found = holding(build)
    stands, fitted = fail_tables.stops(build, found).rows[-2:]
    assert stands[1] == words and "nothing holds" in stands[0] and "controller taken here" in fitted[0]
    assert "page 00" in cut_out_step(build, found, full_watts_gate(build, found))
    own = bc.read(bc.chosen("insert_press").read_text(encoding="utf-8") + '\n[control]\nset = "120 degC"\n')
    own = with_settings(to_hold(own)[0])
    assert is_taken(build) and not is_taken(own)
    assert not any("taken here" in row[0] for row in fail_tables.stops(own, holding(own)).rows)


def test_what_nobody_knows_of_a_cut_out_stands_in_its_own_row(iron):
    build, found = iron
    control = replace(found.control, untold=("the ring (material or place)",))
    rows = fail_tables.stops(build, replace(found, control=control)).rows
    (link,) = [row for row in rows if row[0].startswith("an independent")]
    assert "use itself passes" in link[1] and "as the tool stands: link " in link[2]  # one row, one word: none yet
    assert "not counted, since nobody knows: the ring" in link[2] and "trusted" not in str(rows)
    assert sum("the ring" in str(row) for row in rows) == 1


def test_a_cut_out_says_from_when_its_minutes_count_and_never_that_it_fits_what_nobody_knows():
    text = bc.chosen("wax_pot").read_text(encoding="utf-8")
    ring = '[[part]]\nid = "ring"\nmaterial = "PTFE"\nouter = "14 mm"\n\n[room]'
    ringed = text.replace("[room]", ring, 1)
    for sheet, state, words in ((text, "fine", "It fits"), (ringed, "not known", "By the limits")):
        pot = bc.change(bc.change(bc.read(sheet), "sensor.attached", "peened or embedded"), "control.set_c", 60.0)
        best = cut_out_advice(pot, holding(pot)).best
        pot = bc.change(bc.change(pot, "control.cut_out_c", best.rating_c), "control.cut_out_at_m", best.at_m)
        told = bc.work_out(pot, samples=0)
        (link,) = [v for v in told.of("control") if v.what.startswith("the cut-out, between")]
        assert link.state == state and link.why.startswith(words)
        assert " after control fails" in next(v for v in told.of("control") if v.what == "power stuck on").why
