"""What no verdict may call fine: numbers that are none, half a winding, a kilowatt in nothing, a bore too small."""

from dataclasses import replace
from types import MappingProxyType

import numpy as np
import pytest
from chain.test_arrays import numeric_paths

import benchcalc as bc
from benchcalc.basics.band import Band
from benchcalc.basics.fault import Complaint
from benchcalc.chain.as_told import guessed, rests_on
from benchcalc.chain.heat import left_on
from benchcalc.chain.log.link import sheet_log
from benchcalc.chain.verdict import Limit, judge, worst_state
from benchcalc.sheet.build import Known
from benchcalc.sheet.schema import key_of
from benchcalc.show.log.panel import log_panel
from benchcalc.show.panel.sliders import judged, results_at, told_of
from benchcalc.show.wire.panel import wire_panel

INF = float("inf")
NO_PARTS = """[sheet]
name = "x"
[supply]
kind = "bench supply"
limit = "40 A"
[[supply.reading]]
volts = 30
amps = 0
[[supply.reading]]
volts = 29.9
amps = 10
[[wire]]
id = "w"
alloy = "Ni-Cr 80/20"
diameter = "1 mm"
[coil]
wire = "w"
length = "{}"
mounting = "bench tool core in a tube"
"""


ALONE = ("insulation under", "thickness of", "volts between", "length of the log")  # what layers or log alone decide
NO_LENGTH = (*ALONE, "former for", "wound coil", "measured against", "least metal")  # nor the length of the wire


def text():
    with open(bc.load_chosen("insert_press").file, encoding="utf-8") as sheet:
        return sheet.read()


def told(sheet, what):
    out = bc.work_out(bc.read(sheet), samples=0)
    return next(v for _, v in out.verdicts if v.what == what)


@pytest.mark.parametrize(
    "value, limit, sense, band",
    [
        (INF, 1.0, "at least", None),
        (-INF, 1.0, "at most", None),
        (1.0, INF, "at most", None),
        (1.0, -INF, "at least", None),
        (1.0, 2.0, "at most", Band(1.0, 0.5, float("nan"))),
        (1.0, 2.0, "at most", Band(1.0, -INF, 1.5)),
    ],
)
def test_a_number_that_is_not_finite_is_never_fine(value, limit, sense, band):
    v = judge("x", "temp_c", value, Limit(limit, sense, "example"), why="why", band=band)
    assert v.state == "not known"


def test_an_infinite_value_past_its_limit_is_over_and_so_is_one_of_many():
    assert judge("x", "temp_c", INF, Limit(1.0, "at most", "example"), why="why").state == "over"
    many = judge("x", "temp_c", np.array([0.0, INF, -INF, np.nan]), Limit(1.0, "at most", "example"), why="why")
    assert many.state.tolist() == ["fine", "over", "not known", "not known"]


def test_less_than_a_turn_is_no_winding():
    # 9 mm of wire once round a mean diameter of 6.78 mm: pi x 6.78 = 21.3 mm a turn, so 0.42 turns
    sheet = text().replace('length = "733 mm"', 'length = "9 mm"')
    v = told(sheet, "turns on the former")
    assert v.value == pytest.approx(9 / (np.pi * 6.78), rel=0.01) and (v.state, v.advice) == ("over", False)


def test_a_kilowatt_without_parts_is_not_known():
    out = bc.work_out(bc.read(NO_PARTS.format("600 mm")), samples=0)
    assert out.coil.coil_w > 900  # 30 V on about 0.85 ohm
    heat = [v for link, v in out.verdicts if link == "heat"]
    assert worst_state(heat) == "not known" and "parts" in heat[0].why


def test_a_surface_load_past_every_mounting_is_no_guidance_any_more():
    # the maker's table behind data/surface_load.csv ends at 15 W/cm2, in blown air
    v = told(NO_PARTS.format("600 mm"), "surface load of the wire")
    assert v.value > 150e3 and (v.state, v.advice) == ("over", False)
    mild = told(text().replace('mounting = "bench tool core in a tube"', 'mounting = "coil shut in brick"'), v.what)
    assert (mild.state, mild.advice) == ("over", True)  # 3.1 W/cm2 against 2.5: guidance, as before


def test_a_bore_narrower_than_the_former_is_judged():
    # a stem of 6 mm and its winding do not go into a bore of 5 mm
    v = told(text().replace('inner = "8.1 mm"', 'inner = "5 mm"'), "wound coil in the bore of the tube")
    assert v.value > v.limit == pytest.approx(5e-3) and v.state == "over"


def test_a_former_thicker_than_the_tube_around_it_does_not_go_in():
    # 12 mm of stem in a tube of 10 mm outside and 8.1 mm inside
    v = told(text().replace('outer = "6 mm"', 'outer = "12 mm"'), "wound coil in the bore of the tube")
    assert v.value > 12e-3 and v.state == "over"


def test_a_tip_that_stays_six_hundred_kelvin_below_what_is_wanted_is_over():
    v = told(
        text().replace('power = "20 W"', 'power = "20 W"\ntemperature = "900 degC"'),
        "tip against the wanted temperature",
    )
    assert v.value < 900 - 600 and worst_state([v]) == "over"


def test_a_coil_moved_off_its_former_is_told():
    out = bc.work_out(bc.change(bc.load_chosen("insert_press"), "coil.from_m", 0.5), samples=0)
    assert "lies beside its former, the stem" in out.heat.refused


def test_ohms_without_their_length_leave_the_table_to_speak():
    build = bc.load_chosen("insert_press")
    assert bc.work_wire(bc.change(build, "wire.reel.measured_ohm", 17.6), bc.work_supply(build)) is not None


def test_what_rests_on_the_makers_own_guess_is_never_fine():
    sheet = bc.chosen("insert_press").read_text(encoding="utf-8")
    states = lambda text: {(link, v.what): v.state for link, v in bc.work_out(bc.read(text)).verdicts}  # noqa: E731
    sure, guess = states(sheet), states(sheet.replace('to = "210 mm"', 'to = "210 mm assumed"'))
    electric = {k for k in sure if k[0] in ("supply", "bench", "wire", "coil") or k[1].startswith(ALONE)}
    assert any(s == "fine" for k, s in sure.items() if k not in electric)
    for k, state in sure.items():  # a guess about the handle leaves the electrical verdicts as they are
        assert guess[k] == ("not known" if state == "fine" and k not in electric else state), k
    about = states(sheet.replace('length = "733 mm"', 'length = "733 mm assumed"'))
    kept = {what for (link, what), s in about.items() if s == "fine" and link not in ("supply", "bench")}
    assert kept and all(what.startswith(NO_LENGTH) for what in kept)  # a thickness that was typed stays what it is
    soft = states(sheet.replace('power = "20 W"', 'power = "20 W assumed"'))  # the coil's length is typed
    assert {k for k in sure if sure[k] == "fine" != soft[k] and k[0] in ("supply", "wire", "coil")} == {
        ("supply", "most power for the coil, against the wanted power")
    }


def test_contacts_rest_on_what_tells_their_rounds():
    """On-off turns as often as the tool lets it, the other law once in a window."""
    iron, life = bc.load_chosen("foil_iron"), "contacts of the relay, for a year"

    def paths(law, link="control"):
        build = replace(iron, control=replace(iron.control, kind=law))
        verdict = judge(life, "contact_life_s", 2.0, Limit(1.0, "at least", "x"), why="")
        return rests_on(build, link, verdict, ["part.core.outer_m", "use.hours_per_year", "supply.open_v"])

    assert paths("on-off") == ["part.core.outer_m", "use.hours_per_year", "supply.open_v"]
    assert paths("on-off", link="") == paths("on-off"), "a panel's verdicts name no link"
    assert paths("proportional-integral") == ["use.hours_per_year"]


def test_a_limit_rests_only_on_what_moves_it():
    """Each guess is moved by hand: a verdict whose number or limit follows (by more than what the wire's heat brings
    back to its ohms) is never called fine by it, and one that stays what it was keeps its word.  Room and draught with
    the doubt of a silent sheet are in the bands already."""
    build = bc.load_chosen("insert_press")
    told = lambda b: {(k, v.what): v for k, v in bc.work_out(b, samples=0).verdicts}  # noqa: E731
    was = told(build)
    for path, to in (("use.hours_per_year", 3.0), ("want.power_w", 17.0), ("layer.0.thickness_m", 4e-4)):
        known = Known(0.9 * to, 1.1 * to, "assumed", "", 1)
        marked = replace(build, known=MappingProxyType({**build.known, path: known}))
        moved = told(bc.change(build, path, to))
        guess = told(marked)
        for key, v in was.items():
            same = (v.value, v.limit) == pytest.approx((moved[key].value, moved[key].limit), rel=0.01, nan_ok=True)
            if v.state == "fine" and not same:
                assert guess[key].state == "not known", (path, key)
        assert any(v.state == "fine" == guess[key].state for key, v in was.items() if key[0] == "supply"), path
    silent = "insert_press", 'ambient = "20 degC +- 5 K'
    sheet = bc.chosen(silent[0]).read_text(encoding="utf-8")
    assert f'{silent[1]}"' in sheet
    marked = f'{silent[1]} assumed"', 'ambient = "20 degC assumed"'
    said = [guessed(bc.read(sheet.replace(f'{silent[1]}"', x))) for x in marked]
    assert said == [[], ["room.ambient_c"]]
    assert sheet.count('from = "0 mm"') == 1  # all places count from the tip: where it begins is no guess
    tips = [sheet.replace('from = "0 mm"', f'from = "{x} assumed"') for x in ("0 mm", "0.5 mm")]
    assert [guessed(bc.read(tip)) for tip in tips] == [[], ["part.tip.from_m"]]


def test_a_panel_tells_what_a_verdict_rests_on_as_the_page_does():
    sheet = bc.chosen("insert_press").read_text(encoding="utf-8").replace('to = "210 mm"', 'to = "210 mm assumed"')
    build = bc.read(sheet)
    spec = wire_panel(build).spec
    assert any(v.state == "fine" for v in told_of(spec, build, judged(bc.links(build), build, None)))


def test_what_a_log_read_rests_on_the_log_alone_on_the_page_and_in_its_panel():
    build = bc.load_chosen("insert_press")
    build = replace(build, want=replace(build.want, job="insert, ABS"))
    own = [(i, p) for i, p in enumerate(build.log)][1]
    paths = ("use.hours_per_year", "want.power_w", "room.air_speed_m_s", "part.tip.outer_m", "part.tip.from_m")

    def told(*marked):
        known = {path: Known(0.9, 1.1, "assumed", "", 1) for path in marked}
        guess = replace(build, known=MappingProxyType({**build.known, **known}))
        spec = log_panel(guess, sheet_log(guess, own[0]), own[1]).spec
        out = bc.work_out(guess, samples=0)
        seen = results_at(spec, {}, False).verdicts
        return {v.what: v.state for v in seen}, {v.what: v.state for k, v in out.verdicts if k == "warm_up"}

    bare = told()
    assert "fine" in bare[0].values() and bare[0] == bare[1]
    assert told(*paths) == bare
    for states in told("log.1.at_m"):
        assert "fine" not in states.values() and "not known" in states.values()


def numbers_of(build):
    """(path, Key) of every number of a build that a key of a sheet allows a range for."""
    return [(p, k) for p in numeric_paths(build) if (k := key_of(p)) is not None and k.is_quantity]


@pytest.mark.parametrize("demo", bc.demos())
def test_no_number_goes_far_beyond_the_range_of_its_key(demo):
    """Not below, not above, not one of many, nothing that is not finite: then nothing can be fine by it."""
    build = bc.load_chosen(demo)
    found = numbers_of(build)
    assert len(found) > 40
    for path, key in found:
        span = key.high - key.low
        for bad in (
            -11 * span,
            11 * key.high,
            np.array([key.high, 11 * key.high]),
            INF,
            *([0.0] if key.low > 0 else []),
        ):
            with pytest.raises(bc.Fault, match="outside|finite"):
                bc.change(build, path, bad)


def test_a_night_that_cannot_be_worked_out_is_not_known(monkeypatch):
    def refuse(net):
        raise bc.Fault(Complaint("steady state", "", "found no balance."))

    monkeypatch.setattr(left_on, "steady", refuse)
    ((verdict, _),), heat = left_on.forgotten(bc.change(bc.load_chosen("insert_press"), "coil.length_m", 0.7211))
    assert verdict.state == "not known" and heat is None


def test_a_finished_coil_without_a_whole_turn_is_judged_without_turns():
    build = bc.change(bc.change(bc.load_chosen("insert_press"), "coil.length_m", 0.03), "coil.pitch_m", None)
    v = next(
        v
        for _, v in bc.work_out(bc.change(build, "as_built.cold_ohm", 0.01), samples=0).verdicts
        if v.what == "cold ohms of the finished coil"
    )
    assert v.state == "over" and "nan" not in v.why and "turns touch" in v.why


def test_bare_wire_on_a_metal_pot_without_any_layer_is_told():
    sheet = (
        '[sheet]\nname = "x"\n[[wire]]\nid = "w"\ndiameter = "0.5 mm"\n[coil]\nwire = "w"\non = "tin"\nlength = "2 m"\n'
        '[[part]]\nid = "tin"\nrole = "cup"\nmaterial = "mild steel"\nfrom = "0 mm"\nto = "70 mm"\ninner = "74 mm"\n'
        'outer = "75 mm"\n'
    )
    assert told(sheet, "insulation under the coil, on the tin").state == "over"


def test_a_coil_on_a_stuff_that_belongs_in_no_tool_is_told_and_stops_nothing():
    sheet = (
        '[sheet]\nname = "x"\n[[wire]]\nid = "w"\ndiameter = "0.5 mm"\n'
        '[coil]\nwire = "w"\non = "plug"\nlength = "2 m"\n[[part]]\nid = "plug"\nrole = "stem"\n'
        'material = "asbestos"\nfrom = "0 mm"\nto = "70 mm"\nouter = "9 mm"\n'
    )
    out = bc.work_out(bc.read(sheet), samples=0)
    assert not [v for _, v in out.verdicts if v.what.startswith("insulation under the coil")]


def test_a_wish_missed_by_next_to_nothing_is_tight_and_a_limit_of_safety_over():
    """Of 280 degC a hundredth of the rise over 20 degC is 2.6 K, of 26.3 W 0.26 W; one by one as many side by side."""
    wish, limit = (Limit(280.0, "at least", "test", wish=w) for w in (True, False))
    values = np.array([281.0, 279.0, 277.5, 277.3, 264.0])
    states = [judge("tip", "tip_c", v, wish, why="").state for v in values]
    assert (
        states == ["fine", "tight", "tight", "over", "over"] == list(judge("tip", "tip_c", values, wish, why="").state)
    )
    assert judge("tip", "tip_c", 279.0, limit, why="").state == "over"
    watts = Limit(26.3, "at least", "test", wish=True)
    assert [judge("most", "load_w", w, watts, why="").state for w in (26.2, 26.0)] == ["tight", "over"]
    assert judge("tip", "tip_c", 279.0, wish, why="", band=Band(279.0, -INF, INF)).state == "over"  # no doubt helps
