"""The build card: every number is the chain's own, or holds against a formula written down here anew."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.chain.control.opened import after_opening, opened
from benchcalc.heater.power import resistor_rating
from benchcalc.heater.ways_down import way_rows
from benchcalc.show.card.html import card_html
from benchcalc.studies.card import control_rows
from benchcalc.studies.card.card import build_card
from benchcalc.studies.card.coil_rows import winding
from benchcalc.studies.card.first_heat import a_first_heat
from benchcalc.studies.card.heated import at_the_tool
from benchcalc.studies.card.timed import in_time, spread_for
from benchcalc.studies.holding import holding
from benchcalc.studies.settings import with_settings
from benchcalc.studies.stopping import cut_out_advice


@cache
def worked(name="insert_press"):
    build = bc.load_chosen(name)
    workings = bc.work_out(build, samples=60)
    return build, workings, build_card(build, workings)


def test_rows_are_the_chains_own_numbers_and_follow_the_sheet():
    build, workings, card = worked()
    for id, path in (
        ("gate.open_v", "supply.open_v"),
        ("winding.cold_ohm", "coil.meter_ohm"),
        ("full.load_a", "coil.load_a"),
    ):
        row = card.row(id)
        assert (row.expected.nominal, row.expected.low) == (workings.bands[path].nominal, workings.bands[path].low)
    longer = bc.change(build, "coil.length_m", 2 * build.coil.length_m)
    again = winding(longer, bc.work_out(longer, samples=0)).rows[0].expected
    tails = workings.wire.tails_ohm
    assert again.nominal - tails == pytest.approx(2 * (card.row("winding.cold_ohm").expected.nominal - tails))


def test_the_order_is_that_of_the_bench_and_no_row_stands_twice():
    _, _, card = worked()
    ids = [row.id for row in card.rows()]
    assert len(set(ids)) == len(ids)
    order = ["gate.plate", "fuse.rating", "wire.cut_m", "winding.cold_ohm", "tails.to_metal", "closed.cold_ohm"]
    order += ["first.load_a", "full.load_v", "time.tip_c_8", "soak.hot_ohm", "later.cold_ohm"]
    assert [ids.index(i) for i in order] == sorted(ids.index(i) for i in order)


def test_a_third_of_the_watts_by_the_whole_circuit():
    """Kirchhoff and Joule with numpy's linear solver: volts set at the tails, or the resistor in the supply's line."""
    _, workings, _ = worked()
    build = worked()[0]
    found, coil, wire, supply = a_first_heat(build, workings), workings.coil, workings.wire, workings.supply
    hot_ohm = found.hot_over_cold.nominal * (coil.cold_ohm + wire.tails_ohm) - wire.tails_ohm
    amps = np.linalg.solve([[wire.tails_ohm + hot_ohm]], [found.set_v])[0]
    assert amps == pytest.approx(found.load_a.nominal, rel=1e-9)
    assert amps**2 * hot_ohm == pytest.approx(coil.coil_w / 3, rel=2e-3)
    loop = supply.source_in_use_ohm + wire.tails_ohm + coil.hot_ohm
    full, third = (np.linalg.solve([[loop + r]], [supply.open_in_use_v])[0] for r in (0.0, found.series_ohm))
    assert third**2 / full**2 == pytest.approx(1 / 3, rel=1e-9)
    over = build.known["supply.mains"].high / build.supply.mains
    assert found.series_w == pytest.approx((over * found.load_a.nominal) ** 2 * found.series_ohm, rel=1e-9)
    assert found.series_w / resistor_rating(found.series_w) <= 2 / 3
    assert found.load_a.low < found.load_a.nominal < found.load_a.high
    assert build.room.ambient_c < found.wire_c.nominal < workings.heat.wire_c


def test_the_primary_after_hours_by_the_copper_formula():
    """R2 / R1 = (234.5 + t2) / (234.5 + t1), as IEC 60034-1 prints it for copper."""
    build, workings, card = worked()
    hot = (
        build.soak.cold_ohm
        * (234.5 + build.soak.cold_room_c + workings.bench.settled_k)
        / (234.5 + build.soak.cold_room_c)
    )
    assert card.row("soak.hot_ohm").expected.nominal == pytest.approx(hot, rel=1e-3)


def test_no_card_for_a_supply_beyond_extra_low_volts():
    build = bc.change(worked()[0], "supply.open_v", 80.0)
    card = build_card(build, bc.work_out(build, samples=20))
    assert card.stop and {row.id.split(".")[0] for row in card.rows()} == {"gate"}


@pytest.mark.parametrize("name", ["foam_bow", "wax_pot"])
def test_a_card_for_tools_without_tube_and_handle(name):
    build, _, card = worked(name)
    assert not card.stop
    assert {"gate", "wire", "first", "full", "time"} <= {row.id.split(".")[0] for row in card.rows()}
    assert (build.coil.on is None) == (not any(row.id.endswith("to_metal") for row in card.rows()))


def test_an_empty_sheet_gives_a_card_that_promises_nothing():
    from benchcalc.sheet.load import read

    build = read('[sheet]\nname = "empty"\n')
    card = build_card(build, bc.work_out(build, samples=20))
    assert all(row.expected is None for row in card.rows())


def calm_press():
    """The press with a bead in the metal, its dial where use harms nothing, and the cut-out that serves it there."""
    text = bc.chosen("insert_press").read_text(encoding="utf-8")
    text += '\n[control]\nset = "110 degC"\nCUT[sensor]\nattached = "peened or embedded"\nat = "10 mm"\non = "tip"\n'
    fitted = 'cut_out = "157 degC"\ncut_out_at = "60 mm"\n'
    return [bc.read(text.replace("CUT", cut)) for cut in (fitted, "")]


@cache
def card_of(which):
    build = bc.load_chosen("foil_iron") if which == "iron" else calm_press()[which]
    workings = bc.work_out(build, samples=40)
    return build, workings, build_card(build, workings)


def test_a_held_tool_keeps_its_temperatures_and_is_ready_when_the_control_page_says():
    """Ready, mean and wire are those of the run on page 08; what is beside the tip lies between room and full power."""
    for which in ("iron", 0):
        build, workings, card = card_of(which)
        timed = next(s for s in card.sections if s.title.startswith("12"))
        rows = {row.id: row for row in timed.rows}
        assert rows.keys() >= {"held.ready", "held.set_c", "held.held_c", "held.entry_c", "held.grip_c", "held.wire_c"}
        assert "No heat" not in timed.said
        found = holding(with_settings(build))
        assert rows["held.ready"].words == f"{found.held.ready_s / 60:.1f} min"
        assert rows["held.held_c"].expected.nominal == pytest.approx(found.held.mean_c)
        assert rows["held.wire_c"].expected.nominal == pytest.approx(found.wire_top_c)
        for id, full_c in (("held.entry_c", workings.heat.entry_c), ("held.grip_c", workings.heat.grip_c)):
            band = rows[id].expected
            assert build.room.ambient_c < band.low < band.nominal < band.high and band.nominal < full_c, id
        set_c = rows["held.set_c"].expected.nominal
        assert all(row.key != "tip_c" or row.expected.nominal <= set_c for row in timed.rows)


def test_the_card_tells_what_is_set_where_the_sensor_and_the_cut_out_sit_and_what_a_fallen_sensor_does():
    build, _, card = card_of(0)
    law = holding(with_settings(build)).law
    told = {row.id: row for row in card.rows()}
    settings = (law.kind, bc.say("rise_k", 1 / law.gain_per_k), bc.say("constant_s", law.integral_s))
    said = told["control.law"].what + told["control.law"].words
    assert all(w in said for w in settings) and "window 2.00 s" in told["control.switch"].words
    assert all(w in told["control.sensor"].words for w in ("type K", "10.0 mm", "on the tip", "peened or embedded"))
    off = told["control.off"].words
    assert "the wood at the tube" in off and "min" in off
    assert off.startswith("full power until the cut-out opens, after ") and "without it the wood" in off
    assert "157 degC at 60.0 mm" in told["cut.where"].words and "tube" in told["cut.where"].words
    band = told["cut.sample"].expected
    assert (band.low, band.high) == (147.0, 157.0)  # ten kelvin below its mark, IEC 60691
    assert "holding" in told["cut.holds"].what.lower() and "no source" in told["cut.holds"].words
    assert {"control.rule", "control.trial"} <= told.keys() and "dial" in told["control.trial"].words


def test_the_sensor_off_never_sounds_harmless():
    """Where something is past a limit at full power, or a limit is not known, or only the doubt reaches one."""
    bare = calm_press()[1]
    held = control_rows.on_card(bare, bc.work_out(bare))
    off = lambda one: next(r for r in control_rows.to_set(bare, one).rows if r.id == "control.off").words  # noqa: E731
    assert off(held).startswith("full power for ever: the wood at the tube, ") and "the first after" in off(held)
    part, gate = held.found.control, replace(held.gate, passed=())
    calm = tuple(replace(h, at=replace(h.at, limit_c=2000.0)) for h in part.harms)
    untold = replace(held, gate=gate, over=("long service of the stem",))
    part = replace(part, harms=calm, untold=("the wire (its limit)",))
    told = off(replace(untold, found=replace(held.found, control=part)))
    assert "past a limit at full power: long service of the stem" in told and "not known: the wire" in told
    nothing = replace(held.found, control=replace(part, untold=()))
    assert "skin" in off(replace(held, gate=gate, over=(), found=nothing))


@pytest.mark.parametrize("length_m, late", [(0.733, False), (0.45, True)])
def test_the_sensor_off_tells_what_the_cut_out_of_the_sheet_spares_as_page_08_does(length_m, late):
    """What is past a limit stands there only where no cut-out ends it in time: by a coil of so many watts that its
    sleeve is gone first.  Each place that is said to be spared stays below its limit on the run itself."""
    build = bc.read(bc.chosen("insert_press").read_text(encoding="utf-8") + '\n[control]\nset = "120 degC"\n')
    build = bc.change(bc.change(build, "part.tube.material", "stainless-304"), "coil.length_m", length_m)
    told = cut_out_advice(build, holding(build))
    for path, value in (("cut_out_c", told.best.rating_c), ("cut_out_at_m", told.best.at_m)):
        build = bc.change(build, f"control.{path}", value)
    held = control_rows.on_card(build, bc.work_out(build, samples=0))
    said = next(r for r in control_rows.to_set(build, held).rows if r.id == "control.off").words
    assert "until the cut-out opens" in said and "doubt counted, past its limit" not in said
    spared = said.split("it spares, doubt counted: ")[1].split(";")[0]
    assert told.guards in spared and ("may be past its limit all the same" in said) == late
    assert all(place in said.split("all the same: ")[1] and place not in spared for place in told.late)
    control = held.found.control
    curves = zip(control.harms, after_opening(control, opened(control, held.gate.own)))
    assert all(curve.max() < harm.limit_c for harm, (curve, _) in curves if harm.place in spared)


def test_volts_at_full_power_say_what_the_switch_keeps():
    """A triac keeps its volts, closed contacts hardly any: those of the table of ways down."""
    text = bc.chosen("insert_press").read_text(encoding="utf-8") + '\n[control]\nset = "120 degC"\nway = "WAY"\n'
    for way in ("burst", "relay"):
        build = bc.read(text.replace("WAY", way))
        workings = bc.work_out(build, samples=20)
        held, section = control_rows.on_card(build, workings), at_the_tool(build, workings)
        said = control_rows.behind_gate(build, held, section).said
        assert f"keeps about {way_rows()[way]['drop_v']:.2g} V" in said and "without the switch" in said
        slow = replace(held.found.run, share=np.ones_like(held.found.run.share))  # no power is taken back
        held = replace(held, found=replace(held.found, run=slow))
        said = in_time(build, workings, spread_for(build, workings, held), held).said
        assert "at full power, without controller and switch" in said


def test_full_power_waits_for_the_cut_out_on_the_card():
    """Fitted: a box to tick. Not on the sheet, or use itself past a limit: no reading at full power is asked for."""
    order = [r.id for r in card_of(0)[2].rows()]
    assert (
        order.index("cut.fitted") < order.index("control.law") < order.index("gate.full") < order.index("full.load_a")
    )
    for which, word, asked in ((0, "Only with the cut-out", True), ("iron", "NOT at this dial", False)):
        rows = {r.id: r for r in card_of(which)[2].rows()}
        gate = rows["gate.full"]
        assert word in gate.what + gate.words and gate.ask is asked
        assert {r.ask for id, r in rows.items() if id in ("full.load_v", "full.load_a", "held.grip_c")} == {asked}
    bare = calm_press()[1]
    held = control_rows.on_card(bare, bc.work_out(bare, samples=0))
    assert "NOT yet" in control_rows.full_gate(bare, held).words
    where = control_rows.cut_out_rows(bare, held)[0]
    assert "157 degC at 60.0 mm" in where.words and "Not on the sheet yet" in where.outside
    assert not [r for r in worked()[2].rows() if r.id.startswith(("gate.full", "control.", "cut."))]  # nothing holds it


def test_what_the_job_never_bears_has_no_space_for_a_reading():
    text = bc.chosen("insert_press").read_text(encoding="utf-8")
    hot = bc.read(text.replace("[want]", '[want]\njob = "leather, branding"'))
    workings = bc.work_out(hot)
    limit_c = next(v.limit for _, v in workings.verdicts if v.what == "tip, left on")
    rows = [r for r in build_card(hot, workings).rows() if r.key == "tip_c"]
    assert rows and all(r.ask == (r.expected.nominal <= limit_c) for r in rows)


def test_a_brick_holds_its_volts_and_a_resistor_makes_its_first_heat():
    build = bc.read(
        '[sheet]\nname = "x"\n[supply]\nkind = "switching supply"\nopen = "19 V"\nlimit = "3.42 A"\n'
        '[[wire]]\nid = "w"\nalloy = "nicr-80-20"\ndiameter = "0.4 mm"\n'
        '[coil]\nwire = "w"\nlength = "1 m"\nwire_temperature = "600 degC"\n'
    )
    card = build_card(build, bc.work_out(build, samples=60))
    assert "line.source_ohm" not in {r.id for r in card.rows()} and "3.42 A" in card.row("line.limit_a").words
    assert "own limit protects" in card.row("fuse.rating").words and card.unjudged
    coil = bc.work_out(build, samples=0).coil
    ohm = (np.sqrt(3) - 1) * (
        coil.hot_ohm + coil.meter_ohm - coil.cold_ohm
    )  # by hand: a third of the watts, volts held, Ohm's law
    said = card.row("first.set_v").words
    assert f"through {bc.say('series_ohm', ohm)}" in said


def test_temperatures_say_that_nobody_read_the_air():
    build, _, card = worked()
    said = next(s.said for s in card.sections if "Temperatures and times" in s.title)
    assert bc.say("air_speed_m_s", build.room.air_speed_m_s) in said and "nobody read" in said


def test_what_nobody_knows_stands_at_the_head_of_the_card():
    build, workings, card = worked()
    unknown = {v.what for _, v in workings.verdicts if v.state == "not known" and not v.advice and not v.note}
    assert set(card.open) == unknown and not card.cut_out
    top = card_html(build, replace(card, open=("joint to the cable",), resting=2)).split("<h2>")[0]
    assert "Not judged, nobody knows it: joint to the cable. 2 more limits rest" in top
    assert "No thermal cut-out is chosen: never leave it switched on and alone." in top
    assert "cut-out" not in card_html(build, replace(card, cut_out=True)).split("<h2>")[0]
