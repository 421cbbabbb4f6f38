"""The supply page: its pictures say what the numbers say, its panel holds at every end of every slider."""

from dataclasses import replace

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.chain.bench.load_verdicts import load_checks
from benchcalc.heater import coil
from benchcalc.heater.windings import lamp_current
from benchcalc.show.drawing.live_picture import Live, picture
from benchcalc.show.page.inputs import inputs_used
from benchcalc.show.page.open_page import derive, ready
from benchcalc.show.panel.sliders import results_at, settings
from benchcalc.show.supply import bench_tables as bench_rows
from benchcalc.show.supply import tables as supply_rows
from benchcalc.show.supply.line_figure import LOAD_LINE
from benchcalc.show.supply.panel import SUPPLY, at_load, supply_panel, with_load
from benchcalc.show.supply.soak_figure import SOAK
from benchcalc.show.supply.switched_table import switched
from benchcalc.show.wire import bare_wire_tables
from benchcalc.show.wire import scrap_tables as box_rows
from benchcalc.show.wire.panel import wire_panel
from benchcalc.studies.harm import harm_of


@pytest.mark.parametrize("name", bc.demos())
def test_the_panel_holds_at_every_end_of_every_slider(name):
    spec = supply_panel(bc.load_chosen(name)).spec
    live = Live(spec.draw)
    for words, moved in settings(spec):
        at = results_at(spec, moved, rest=False)
        assert at.rows and at.caption, words
        assert live.image(at.numbers).width > 100


def test_the_point_of_today_lies_on_the_line_and_on_the_curve_of_power():
    build = with_load(bc.load_chosen())
    supply, load = at_load(build)
    n = LOAD_LINE.numbers(build, (supply, load), True)
    amps, volts, watts, ohm = n.today
    assert np.interp(amps, n.amps_a, n.volts_v) == pytest.approx(volts, rel=1e-6)
    assert np.interp(amps, n.amps_a, n.watts_w) == pytest.approx(watts, rel=2e-3)
    assert volts / amps == pytest.approx(ohm) and np.all(n.band[0] <= n.band[1])
    assert (
        n.whose == "your" and LOAD_LINE.numbers(replace(build, lent="x"), (supply, load), False).whose == "the demo's"
    )
    zones = {z[0]: z for z in n.zones}
    # by hand: the line delivers the core's 23.5 VA at the root of (18.2 - 1.3 I) I = 23.5
    low = np.min(np.roots([-supply.source_ohm, supply.open_v, -bc.work_out(build, samples=0).bench.core_va]))
    assert zones["past the core's hint"][1] == pytest.approx(low, abs=0.1)
    assert zones["more heat in the supply than outside"][1] == pytest.approx(
        supply.open_v / 2 / supply.source_ohm, rel=1e-6
    )


def test_the_soak_curve_goes_through_its_readings_and_a_lighter_load_runs_cooler():
    build = with_load(bc.load_chosen("foam_bow"))
    here = SOAK.numbers(build, at_load(build))
    at = np.interp(here.read_hours, here.hours, here.tested_c)
    assert np.max(np.abs(at - here.read_c)) < 2.0
    light = bc.change(build, "supply.load_ohm", 3 * build.supply.load_ohm)
    low, mid, high = (x[-1] for x in SOAK.numbers(light, at_load(light)).here_c)
    assert low < mid < high < here.tested_c[-1]
    assert "class ends at 100 degC" in SOAK.caption(here)


def test_a_winding_that_would_melt_has_no_temperature():
    build = with_load(bc.load_chosen("insert_press"))
    short = bc.change(build, "supply.load_ohm", 0.75)
    n = SOAK.numbers(short, at_load(short))
    assert n.here_end_c[1] > 1085 > n.limit_c and n.frame[2] < 1500  # copper freezes at 1084.62 degC: ITS-90
    assert "its copper would melt first" in SOAK.caption(n)
    judged = [v for v in load_checks(short, *at_load(short)) if v.key == "winding_c"]
    assert [(v.state, v.said(v.value)) for v in judged] == [("over", "melts")]
    load = at_load(build)[1]
    assert SOAK.numbers(build, at_load(build)).here_end_c[1] == pytest.approx(load.winding_c)


def test_past_the_summit_heat_inside_is_over_and_hours_without_a_soak_are_not_known():
    build = with_load(bc.load_chosen("foil_iron"))
    source = at_load(build)[0].source_in_use_ohm
    # maximum power transfer: both heats are equal where the load is the source's own resistance
    for share, state in ((2.0, "fine"), (0.5, "over")):
        at = bc.change(build, "supply.load_ohm", share * source)
        said = {v.key: v.state for v in load_checks(at, *at_load(at))}
        assert said == {"source_loss_w": state, "winding_c": "not known"}
    hot = next(v for v in load_checks(at, *at_load(at)) if v.key == "source_loss_w")
    assert not hot.advice and "No soak" in hot.why and harm_of(hot) == (2, "a supply that burns")
    soaked = with_load(bc.load_chosen("insert_press"))  # its winding is judged by its own temperature
    assert next(v for v in load_checks(soaked, *at_load(soaked)) if v.key == "source_loss_w").advice
    assert "-" not in SUPPLY.caption(SUPPLY.numbers(at, at_load(at))).split("no load to")[1][:8]


def test_without_a_line_or_a_soak_the_pictures_say_so():
    bare = bc.read('[sheet]\nname = "x"\n[supply]\nkind = "transformer"\n[[supply.reading]]\nvolts = 12\namps = 0\n')
    shown = picture(SUPPLY, with_load(bare), at_load(with_load(bare)))
    assert "No line yet" in shown.caption and "No soak curve" in shown.caption
    assert supply_panel(bare).good.rows[0][1].startswith("the supply's line is not known")


@pytest.mark.parametrize("name", bc.demos())
def test_tables_of_the_page_serve_every_demo(name):
    build = bc.load_chosen(name)
    workings = bc.work_out(build, samples=0)
    for made in (
        supply_rows.clip_plan,
        supply_rows.lamps,
        bench_rows.fuses,
        bench_rows.cables,
        supply_rows.rectifiers,
        bench_rows.duties,
        bench_rows.hours_allow,
        supply_rows.voltage_limits,
        box_rows.box,
    ):
        assert made(build, workings).rows
    lamp = next(r for r in supply_rows.lamps(build, workings).rows if r[0].startswith("12 V 21"))
    volts, amps = (float(x.split()[0]) for x in lamp[1:3])
    assert amps == pytest.approx(lamp_current(12.0, 21.0, volts), rel=0.01)
    assert volts == pytest.approx(workings.supply.open_v - workings.supply.source_ohm * amps, rel=0.01)
    assert sum(r[1] == "proposed" for r in bench_rows.fuses(build, workings).rows) == 1


def test_clipped_readings_of_a_sheet_give_line_and_wire():
    text = '[sheet]\nname = "x"\n[supply]\nkind = "transformer"\n' + "".join(
        f'[[supply.reading]]\nvolts = {v}\namps = {a}\nclipped = "{m} m"\n'
        for v, a, m in ((16.93, 0.99, 2.0), (16.11, 1.57, 1.2), (14.95, 2.46, 0.7))
    )
    told = dict(r for r in supply_rows.clip_result(bc.read(text)).rows)
    assert told["wire"].startswith("8.4") and told["source resistance"].startswith("1.3")
    assert (
        "fill in “wire between the clips, where a piece of wire was the load” (page 00, button “supply”), e.g. 60 cm"
        in str(supply_rows.clip_result(bc.load_chosen()))
    )


LOADED = "[[supply.reading]]\nvolts = 40\namps = 3\n"
SOAKED = "[soak]\ncold_ohm = 50\namps = 1\n[[soak.hour]]\nhours = 3\nohm = 60\n"


@pytest.mark.parametrize("reading, more", [("volts = 60\namps = 0", LOADED), ("volts = 45\namps = 1", "")])
def test_a_refused_supply_gets_its_reason_and_no_plan(reading, more):
    """Beyond 50 V AC with no load (IEC 61140): nothing on the page tells what to connect to it."""
    build = bc.read(
        f'[sheet]\nname = "r"\n[supply]\nkind = "transformer"\n[[supply.reading]]\n{reading}\n{more}{SOAKED}'
        '[[wire]]\nid = "w"\nalloy = "nicr-80-20"\ndiameter = "0.4 mm"\n[coil]\nwire = "w"\nlength = "1 m"\n'
    )
    workings = bc.work_out(build, samples=0)
    assert workings.supply.refused
    plans = (supply_rows.clip_plan, supply_rows.lamps, supply_rows.rectifiers, bench_rows.fuses, bench_rows.hours_allow)
    for plan in plans:
        assert [r[0] for r in plan(build, workings).rows] == [f"Nothing to plan here. {workings.supply.refused}"], plan
    for plan in (bench_rows.cables, bench_rows.duties):
        assert "known yet" in str(plan(build, workings)), plan
    bare = bare_wire_tables.bare_currents(build, workings)
    assert [r[0] for r in bare.rows] == [f"Nothing to plan here. {workings.supply.refused}"]
    assert bare_wire_tables.how_good(build, workings) == ""
    turn = {"mean_diameter_m": 5e-3, "pitch_m": 1e-3}
    for worked in (
        bare_wire_tables.bare_heat(build, workings),
        bare_wire_tables.bare_ends(build, workings),
        derive(coil.turn_length, on=build, fed=workings, **turn),
    ):
        assert workings.supply.refused[:30] in str(worked.text), worked
    assert derive(coil.turn_length, on=build, **turn).value > 0


def test_the_wire_page_draws_and_slides_nothing_on_a_refused_supply():
    text = '[sheet]\nname = "r"\n[supply]\nkind = "transformer"\n{}[[wire]]\nid = "w"\nalloy = "nicr-80-20"\n'
    text += 'diameter = "0.4 mm"\n[coil]\nwire = "w"\nlength = "1 m"\n'
    for reading, says in (("[[supply.reading]]\nvolts = 60\namps = 0\n", "is refused"), ("", "not known yet")):
        panel = wire_panel(bc.read(text.format(reading)))
        assert not panel.handles and says in panel.good.rows[0][1] and "No curve" in panel.good.caption


def test_a_refused_supply_has_nothing_to_slide_and_no_slider_reaches_past_the_limit():
    text = '[sheet]\nname = "r"\n[supply]\nkind = "transformer"\n[[supply.reading]]\nvolts = {}\namps = 0\n' + LOADED
    refused = supply_panel(bc.read(text.format(60)))
    assert not [p for p in refused.handles if p.startswith("supply.")]
    assert refused.good.rows[0][1] == "none: this supply is refused"
    half = text.replace('"transformer"\n', '"transformer"\nrectifier = "half"\n').replace("volts = 40", "volts = 12")
    panel = supply_panel(bc.read(half.format(14)))
    panel.set("supply.open_v", panel.handles["supply.open_v"].max)
    assert not panel.good.result[0].refused and panel.good.result[1].load_w > 0


def test_a_soak_ends_early_at_the_ohms_of_its_class():
    build = bc.load_chosen()
    told = [r[0] for r in bench_rows.soak_stops(build, bc.work_out(build, samples=0)).rows]
    # by hand: 58 ohm at 20 degC is 58 x 334.5/254.5 = 76.2 ohm at 100 degC (IEC 60028)
    assert any("smell" in t for t in told) and any("too hot to hold" in t for t in told)
    assert "the primary reads 76.2 ohm" in told


DIRECT = """[sheet]
name = "d"
[supply]
kind = "switching supply"
open = "12 V"
limit = "{}"
[[wire]]
id = "w"
alloy = "cuni-44"
gauge = "26 AWG"
[coil]
wire = "w"
length = "1 m"
wire_temperature = "200 degC"
"""


def test_switched_direct_volts_keep_their_peak():
    """By hand: watts with the share of the time, effective amps with its root, the peak as it was."""
    build = bc.read(DIRECT.format("5 A"))
    out = bc.work_out(build, samples=0)
    rows = [[float(cell.split()[0]) for cell in row[1:]] for row in switched(build, out).rows]
    (full_w, full_a, _), *less = rows
    for share, (watts, equal_a, peak_a) in zip((0.5, 0.25, 0.1), less):
        assert watts == pytest.approx(share * full_w, rel=0.01) and peak_a == pytest.approx(full_a, rel=0.02)
        assert equal_a == pytest.approx(full_a * np.sqrt(share), rel=0.02)
    for text, said in ((DIRECT.format("2 A"), "the peak stays"), (bc.chosen("insert_press").read_text(), "alternate")):
        other = bc.read(text)
        assert said in switched(other, bc.work_out(other, samples=0)).rows[0][0]


def sheet(supply, more=""):
    return bc.read(
        f'[sheet]\nname = "s"\n[want]\npower = "30 W"\n[supply]\n{supply}[[wire]]\nid = "w"\nalloy = "nicr-80-20"\n'
        f'diameter = "0.4 mm"\n[coil]\nwire = "w"\nlength = "1.5 m"\n{more}'
    )


BRICK = 'kind = "switching supply"\nopen = "19 V"\nlimit = "4 A"\n'
PACK = 'kind = "battery"\nopen = "18 V"\nsource = "0.2 ohm"\ncharge = "4 Ah"\n'


def test_bricks_and_packs_are_told_in_words_of_their_own():
    brick, pack = sheet(BRICK), sheet(PACK)
    for build in (brick, pack):
        stops = str(bench_rows.soak_stops(build, bc.work_out(build, samples=0)))
        assert "primary" not in stops and "case is too hot" in stops
    at_brick, at_pack = bc.work_out(brick, samples=0), bc.work_out(pack, samples=0)
    assert "of its limit" in str(bench_rows.hours_allow(brick, at_brick))
    assert "Rests do not help" in str(bench_rows.duties(brick, at_brick))
    rests = {r[0]: float(r[1].split()[0]) for r in bench_rows.duties(pack, at_pack).rows}
    # by hand: half of the time doubles it; 4 Ah x 0.8 over the coil's amps
    assert rests["50%"] == pytest.approx(2 * rests["100%"], rel=0.01)
    assert rests["100%"] == pytest.approx(4 * 0.8 / at_pack.coil.load_a * 60, rel=0.01)
    assert not any(r[1] == "proposed" for r in bench_rows.fuses(brick, at_brick).rows)
    assert "limits at 4.00 A" in str(supply_rows.most_there_is(brick, at_brick).text)  # 19 V without ohms has no summit


def test_a_load_that_trips_its_supply_says_so_in_tile_picture_and_verdict():
    panel = supply_panel(sheet(BRICK))
    panel.set("supply.load_ohm", 2.0)
    assert "trips" in panel.good.rows[0][1] and "9.5 A" in panel.good.rows[0][1]  # 19 V over 2 ohm
    assert "the supply trips" in panel.good.caption
    assert [(v.what, v.state) for v in panel.good.verdicts] == [("current that this load asks for", "over")]


def test_a_winding_that_charges_a_capacitor_is_held_against_the_soak():
    rows = "".join(f"[[soak.hour]]\nhours = {h}\nohm = {r}\n" for h, r in ((1, 57.0), (2, 58.2), (3, 58.5), (4, 58.6)))
    soak = '[soak]\ncold_ohm = 50.0\ncold_room = "20 degC"\nend_room = "20 degC"\namps = 1.5\n' + rows
    build = sheet('kind = "transformer"\nopen = "18 V"\nsource = "1 ohm"\n', soak)
    told = supply_rows.rectifiers(build, bc.work_out(build, samples=0))
    plain, smooth = (next(r for r in told.rows if r[:2] == ("bridge", c)) for c in ("none", "10 mF"))
    assert (
        "past" not in plain[7] and "past what the soak allows" in smooth[7] and "soak test on the sheet" in told.caption
    )


def test_half_a_cable_is_told_and_inputs_name_what_they_belong_to():
    build = sheet(BRICK + '[supply.cable]\nsection = "0.75 mm2"\n')
    told = [v for v in bc.work_out(build, samples=0).of("bench") if v.what == "ohms of the cable"]
    assert told[0].state == "not known" and "Write length" in told[0].why
    said = inputs_used(build).text
    assert "section of the cable 0.75 mm2" in said and "w: wire diameter" in said


def test_the_top_of_a_page_refuses_first():
    high = sheet('kind = "transformer"\nopen = "60 V"\nsource = "2 ohm"\n')
    assert ready(high, "supply", "wire", "coil")[1].text.startswith("**Your supply is refused: nothing on this page")
    unread = ready(sheet('kind = "transformer"\n'), "supply", "wire")[1].text
    assert unread.startswith("**Nothing can be sized") and "nothing connected first" in unread
    lent = ready(bc.change(high, "coil.length_m", None), "supply", "wire", "coil")[1].text
    assert lent.startswith("**Your supply is refused.**") and "not for your supply" in lent
