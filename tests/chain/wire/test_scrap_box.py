"""What in the box works: each reason of the demo's box worked by hand, and unmarked wire named with its rival."""

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.chain.wire.scrap_box import pieces_of, work_box
from benchcalc.chain.wire.unmarked import guess_wire, piece_lengths
from benchcalc.heater.unknown_wire import guess_ribbon
from benchcalc.show.wire.scrap_tables import box, unmarked


@pytest.fixture(scope="module")
def press():
    build = bc.load_chosen("insert_press")
    return build, bc.links(build)


def test_the_box_of_the_demo_is_ranked_with_a_reason_for_each(press):
    build, (supply, wire, coil) = press
    tried = {t.id: t for t in work_box(build, supply, wire, coil)}
    assert [t.works for t in tried.values()] == sorted((t.works for t in tried.values()), reverse=True)
    # by hand: 20 W from 18.2 V behind 1.3 + 0.1 ohm needs 13.7 ohm hot (root of R^2 + (2.8 - 18.2^2/20) R + 1.96)
    hot = np.max(np.roots([1, 2 * 1.39 - 18.18**2 / 20, 1.39**2]))
    assert tried["reel"].works and tried["reel"].length_m == pytest.approx(hot / 1.04 / 17.70, rel=0.03)
    assert (
        tried["thick reel"].reason == "too long to wind in the room"
    )  # some 1.9 m of 0.5 mm on a 6.5 mm former: 85 turns
    assert tried["dryer spiral"].reason == "surface load past guidance"  # 20 W on 0.39 m of 0.20 mm: 8 W/cm2
    assert tried["toaster ribbon"].reason == "not enough wire"  # 10 ohm/m, so 1.3 m of a piece of 0.72 m
    assert tried["toaster ribbon"].surface_load_w_m2 == pytest.approx(
        20 / (2 * (0.9e-3 + 0.12e-3) * tried["toaster ribbon"].length_m)
    )


def test_an_unmarked_wire_is_named_and_an_unmeasured_one_is_refused(press):
    build, _ = press
    found = guess_wire(build, "dryer spiral")
    assert found.candidates[0].alloy == "nicr-80-20" and found.candidates[0].diameter_m == pytest.approx(
        0.2e-3, rel=0.03
    )
    with pytest.raises(bc.Fault, match="measured_length and a diameter"):
        guess_wire(build, "reel")


def test_a_piece_that_is_too_short_for_the_plan_is_a_verdict(press):
    build = bc.change(press[0], "coil.wire", "toaster ribbon")
    build = bc.change(build, "coil.length_m", None)
    told = next(v for v in bc.work_out(build, samples=0).of("wire") if v.what.startswith("wire on hand"))
    # by hand: 20 W need some 13.1 ohm cold at 10 ohm/m, so 1.3 m with anchors and more of a piece of 0.72 m
    assert told.state == "over" and told.limit == pytest.approx(0.72) and told.value > 1.3
    assert not [v for v in bc.work_out(press[0], samples=0).of("wire") if v.what.startswith("wire on hand")]  # a reel


def test_a_ribbon_is_named_by_its_section(press):
    # 7.2 ohm over 0.72 m of 0.9 x 0.12 mm with rolled edges: 10.0 x 1.08e-7 x 0.96 = 1.037e-6 ohm m,
    # Ni-Cr (1.04 to 1.13e-6)
    found = guess_wire(press[0], "toaster ribbon")
    assert found.candidates[0].alloy.startswith("nicr") and abs(found.candidates[0].misfit_ohm) < 0.1
    wrong = bc.change(press[0], "wire.toaster ribbon.measured_length_m", 0.72 / 0.3048)
    told = guess_wire(wrong, "toaster ribbon")
    assert told.if_feet is None or told.if_feet.alloy.startswith("nicr")
    with pytest.raises(bc.Fault, match="not below the thickness"):
        guess_ribbon(1.0, 1.0, 1e-4, 2e-4)


def test_wires_that_lack_size_or_ohms_are_listed_apart(press):
    build, _ = press
    bare = bc.read(
        '[sheet]\nname = "x"\n[[wire]]\nid = "a"\nalloy = "cuni-44"\n[[wire]]\nid = "b"\ngauge = "28 AWG"\n'
        '[[wire]]\nid = "c"\nalloy = "cuni-44"\ngauge = "28 AWG"\n'
    )
    known, lacking = pieces_of(bare)
    assert [p.id for p in known] == ["c"] and lacking == ("a", "b")
    assert work_box(bare, None, None, None) == ()


REEL = '[sheet]\nname = "x"\n[[wire]]\nid = "w"\ngauge = "28 AWG"\n'


def test_ohms_without_a_length_answer_how_long_it_is():
    # CRC wire tables: 28 AWG is 0.3211 mm, so 1.09e-6 ohm m is 13.46 ohm/m, and 26.9 ohm are 2.00 m
    named = bc.read(REEL + 'alloy = "nicr-80-20"\nmeasured_ohm = "26.92 ohm +- 0.1 ohm"\nused = true\n')
    (piece,) = piece_lengths(named, "w")
    assert piece.length_m == pytest.approx(2.0, rel=2e-3) and piece.low_m == pytest.approx(1.9, abs=0.02)
    (known,), _ = pieces_of(named)
    assert known.have_m == piece.low_m  # a used piece counts as the shortest it can be
    assert not bc.work_wire(named, None).measured  # ohms of an unknown length tell nothing of the ohms per metre
    clings = bc.change(bc.read(REEL + "measured_ohm = 26.9\n"), "wire.w.magnetic", "yes")
    found = {p.name: p for p in piece_lengths(clings, "w")}
    assert [*found][0] == "iron-chromium-aluminium 25-5" and sum(p.share for p in found.values()) <= 1
    assert all(p.low_m < p.length_m < p.high_m for p in found.values())
    with pytest.raises(bc.Fault, match="measured_ohm and a diameter"):
        piece_lengths(bc.read(REEL), "w")


def test_a_clip_test_feeds_the_wire_its_ohms():
    """Volts and amps over bare wire at two lengths, made up from 15 ohm/m cold, 0.2 ohm of clips, cool wire."""
    text = REEL + 'alloy = "cuni-44"\n[supply]\nkind = "transformer"\n[[supply.reading]]\nvolts = 12\namps = 0\n'
    for metres in (3.0, 2.0):
        amps = 12 / (0.5 + 0.2 + 15 * metres)
        text += f'[[supply.reading]]\nvolts = {12 - 0.5 * amps}\namps = {amps}\nclipped = "{metres} m"\n'
    build = bc.read(text)
    wire = bc.work_wire(build, bc.work_supply(build))
    assert wire.how == "clip test" and wire.measured
    assert wire.linear_ohm_per_m == pytest.approx(15.0, rel=5e-3)  # copper-nickel gains nothing when warm
    assert wire.linear_ohm_per_m > 2 * wire.table_ohm_per_m
    mixed = bc.read(text.replace('"3.0 m"', '"2.01 m"').replace('"2.0 m"', '"3.0 m"').replace('"2.01 m"', '"2.0 m"'))
    assert bc.work_wire(mixed, bc.work_supply(mixed)).how == "table"  # ohms that fall with the length are no wire's
    own = bc.change(bc.change(build, "wire.w.measured_ohm", 14.0), "wire.w.measured_length_m", 1.0)
    assert bc.work_wire(own, bc.work_supply(own)).how == "measured"  # a measured piece comes first
    assert bc.work_out(build, samples=30).bands["wire.linear_ohm_per_m"].low < 15.0


def test_a_magnet_that_contradicts_the_alloy_is_told(press):
    what = "alloy of the wire, by a magnet"
    for alloy, magnetic, told in (("nicr-80-20", "yes", 1), ("nicr-80-20", "no", 0), ("fecral", "no", 1)):
        reel = bc.read(REEL + f'alloy = "{alloy}"\nmagnetic = "{magnetic}"\n')
        said = [v.state for _, v in bc.work_out(reel, samples=0).verdicts if v.what == what]
        assert said == ["not known"] * told
    clings = unmarked(bc.change(press[0], "wire.dryer spiral.magnetic", "yes")).rows[0]  # 1.08e-6 ohm m: Ni-Cr by ohms
    assert clings[1] == "Ni-Cr" and clings[-1].startswith("the magnet contradicts it")


def test_all_that_one_has_of_a_wire_is_what_may_be_cut_from_it(press):
    build, _ = press
    short = bc.change(build, "wire.reel.there_m", 0.5)  # the coil takes 733 mm, by the demo
    told = {v.what: v for _, v in bc.work_out(short, samples=0).verdicts}
    on_hand = told["wire on hand, against what is cut from it"]
    assert on_hand.state == "over" and on_hand.limit == 0.5 and on_hand.value > 0.733
    rows = {row[0]: row[1] for row in box(short, bc.work_out(short, samples=0)).rows}
    assert rows["reel"] == "not enough wire"
    assert {row[1] for row in box(build, bc.work_out(build, samples=0)).rows if row[0] == "reel"} == {
        "works, if you have that much"
    }
