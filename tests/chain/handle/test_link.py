"""The handle's link and verdicts: on the demos, with and without holes, one by one and side by side."""

from dataclasses import fields, replace
from pathlib import Path
from types import MappingProxyType

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.basics.band import Band
from benchcalc.basics.tables import rows
from benchcalc.chain.handle.link import _stiffness, yield_low
from benchcalc.chain.handle.verdicts import inspect_after_h, touch_limit
from benchcalc.chain.heat.holes import narrow_of, with_break
from benchcalc.chain.heat.still_air import StillAir, still_air_of
from benchcalc.sheet.build import Known

DEMO = bc.load_chosen("insert_press")


def drilled(build=DEMO, **more):
    build = with_break(build)
    for field, value in ({"rings": 2, "holes": 6, "hole_m": 3e-3, "ring_spacing_m": 4e-3} | more).items():
        build = bc.change(build, f"heat_break.break.{field}", value)
    return build


def back(build, by_m):
    for path in ("part.handle.from_m", "part.handle.to_m", "part.tube.to_m"):
        build = bc.change(build, path, bc.get(build, path) + by_m)
    return build


def by_word(build, **how):
    return {v.what: v for v in bc.work_out(build, **how).of("handle")}


def test_the_insert_press_starts_over_and_ends_fine_but_not_by_holes_alone():
    wood, hand = "wood at the tube, for years", "handle in the hand"
    assert by_word(DEMO)[wood].state == "over"
    assert by_word(drilled())[wood].state == "over"
    assert by_word(drilled(rings=3))[wood].state == "over"
    # 40 mm further back, one hole fewer in a ring, held level: the upper end of the band is then below the limit too
    cured = by_word(bc.change(back(drilled(holes=5), 0.04), "room.attitude", "lying"))
    assert cured[wood].state == "fine" and cured[hand].state == "fine"
    assert all(v.state in ("fine", "tight") or v.advice for v in cured.values())


def test_no_handle_no_link():
    for name in ("wax_pot", "foam_bow"):
        workings = bc.work_out(bc.load_chosen(name), samples=0)
        assert workings.handle is None and workings.of("handle") == ()


def test_holes_cost_strength_and_stiffness():
    plain, one, two = (bc.work_out(b, samples=0).handle for b in (DEMO, drilled(rings=1), drilled()))
    assert plain.net_share == 1 and plain.stiffness == 1 and np.isnan(plain.web_pa)
    assert 1 > one.stiffness > two.stiffness > 0.5 and one.net_share == two.net_share < 0.5
    assert two.extra_m > 2 * one.extra_m and two.entry_c < one.entry_c < plain.entry_c
    assert two.web_pa == pytest.approx(
        20.0 * 0.102 * 32 * 10e-3 / (np.pi * (10e-3**4 - 8.1e-3**4)) / two.net_share, rel=1e-3
    )


def test_a_handle_that_slides_over_the_holes_takes_their_give_away_little_by_little():
    """What it covers does not bend: from the whole break bare to none, without a jump, for one tool and for many."""
    build = drilled()
    hole = build.heat_break[0]
    narrow = narrow_of(build)[0]
    places = np.linspace(hole.from_m - 1e-3, narrow.to_m, 41)
    many = chain_handle(bc.change(build, "part.handle.from_m", places))
    assert many[0] == 1.0 and np.all(np.diff(many) <= 1e-12) and np.max(-np.diff(many)) < 0.1 * (1 - many[-1])
    for k in (0, 20, 40):
        assert chain_handle(bc.change(build, "part.handle.from_m", float(places[k]))) == pytest.approx(many[k])


def chain_handle(build):
    part = next(p for p in build.part if p.role == "handle")
    tube = next(p for p in build.part if p.id == build.heat_break[0].on)
    return _stiffness(tube, part, 0.0, narrow_of(build, refuse=False)[0])


def test_a_finger_finds_a_hotter_tube_than_the_wood():
    h = bc.work_out(DEMO, samples=0).handle
    assert h.finger_c > h.entry_c > h.bore_c > h.grip_c > 20


def test_wood_limit_is_the_same_number_as_its_table():
    v = by_word(DEMO, samples=0)
    assert (
        v["wood at the tube, for years"].limit == 77
        and v["handle in the hand"].limit == touch_limit("wood", 600.0)["value"]
    )
    assert touch_limit("metal", 1.0)["value"] == min(
        r["value"] for r in rows("touch_limits") if r["surface"] == "metal" and r["contact_time_s"] == 1
    )


def test_hot_wood_is_looked_at_sooner():
    hot, cool = bc.work_out(DEMO, samples=0).handle, bc.work_out(back(DEMO, 0.04), samples=0).handle
    assert inspect_after_h(hot) <= inspect_after_h(cool) == 10.0
    assert hot.weaken_s < cool.weaken_s and hot.dry < cool.dry
    for life_s in (3600.0, 1e-9):  # what burns within the hour is not looked at after it
        assert inspect_after_h(replace(hot, weaken_s=life_s)) == pytest.approx(life_s / 3600 / 4)


def test_bands_come_with_the_numbers():
    out = bc.work_out(drilled(), samples=60)
    bands, years = out.bands, next(v for v in out.of("handle") if v.key == "wood_years")
    assert years.band == bands["handle.wood_years"] and years.value == out.handle.weaken_s / 3600 / 60
    for path in ("handle.entry_c", "handle.finger_c", "handle.web_pa", "handle.weaken_s", "handle.wood_years"):
        assert bands[path].low < bands[path].nominal < bands[path].high
    assert bands["handle.entry_c"] == bands["heat.entry_c"]


@pytest.mark.parametrize(
    "path, values",
    [
        ("heat_break.break.holes", [3.0, 5.0, 6.0]),
        ("heat_break.break.rings", [0.0, 1.0, 3.0]),
        ("use.side_load_n", [10.0, 20.0, 40.0]),
        ("room.ambient_c", [15.0, 20.0, 30.0]),
        ("part.handle.from_m", [0.12, 0.122, 0.125]),
        ("coil.length_m", [0.7, 0.733, 0.8]),
    ],
)
def test_many_side_by_side_are_the_single_runs(path, values):
    many = bc.work_out(bc.change(drilled(), path, np.array(values))).handle
    for i, value in enumerate(values):
        one = bc.work_out(bc.change(drilled(), path, value), samples=0).handle
        for f in fields(one):
            got = np.broadcast_to(getattr(many, f.name), 3)[i]
            assert got == pytest.approx(getattr(one, f.name), rel=1e-3, nan_ok=True), f.name


def test_yield_falls_where_it_is_hot_and_ends_with_its_data():
    cold, hot = yield_low("stainless-304", 20.0), yield_low("stainless-304", 400.0)
    assert cold == 190e6 and hot == 90e6 and np.isnan(yield_low("stainless-304", 900.0))
    assert np.isnan(yield_low("beech", 20.0))


def test_a_push_can_be_written_on_the_sheet():
    text = Path(DEMO.file).read_text(encoding="utf-8") + '\n[[heat_break]]\nid = "ring"\n'
    soft, hard = (
        bc.work_out(
            bc.read(text.replace("hours_per_year = 60", f'hours_per_year = 60\nside_load = "{n} N"')), samples=0
        )
        for n in (5, 50)
    )
    assert hard.handle.web_pa == pytest.approx(10 * soft.handle.web_pa)


def test_the_handle_is_judged_up_to_still_air_where_nobody_said_how_the_air_moves():
    """The upper end is that of a tool worked out anew in still air; a sheet that says how its air moves is believed."""
    out = bc.work_out(DEMO, samples=20)
    still = bc.work_out(bc.change(DEMO, "room.air_speed_m_s", 0.0), samples=0)
    told = {v.what: v for v in out.of("handle")}
    for what, field, path in (
        ("handle in the hand", "grip_c", "heat.grip_c"),
        ("wood at the tube, for years", "entry_c", "heat.entry_c"),
        ("tube beside the hand", "finger_c", "handle.finger_c"),
    ):
        v, value_c = told[what], getattr(still.heat, field)
        assert v.band.high == pytest.approx(max(value_c, out.bands[path].high), rel=0.01)
        assert v.band.high >= out.bands[path].high and v.band.low == out.bands[path].low
        assert bc.say(field, v.band.high) in v.why or v.band.high == out.bands[path].high
    known = MappingProxyType({**DEMO.known, "room.air_speed_m_s": Known(0.1, 0.2, "stated", "typed")})
    typed = replace(DEMO, known=known)
    assert still_air_of(typed, out.wire, out.coil, out.heat) is None


def test_an_end_is_never_drawn_nearer_and_what_is_not_known_stays_so():
    still = StillAir(bc.work_out(DEMO, samples=0).heat)
    at = still.heat.grip_c
    assert still.reach("grip_c", at - 9, Band(at - 9, at - 20, at - 5)).high == at
    wide = Band(at - 9, at - 20, at + 5)
    assert still.reach("grip_c", at - 9, wide) is wide and still.reach("grip_c", np.nan, wide) is wide
    assert still.reach("grip_c", at, None) is None and still.words("grip_c", at + 1, 0.1) == ""
