"""What an unknown wire may be, and what in the box works."""

import numpy as np
import pytest

from benchcalc.basics.fault import Fault
from benchcalc.heater import scrap_box, unknown_wire
from benchcalc.heater.unknown_wire import RoundErrors as Errors
from benchcalc.heater.wire import linear_resistance, round_area
from benchcalc.heater.wire_candidates import CLINGS, wire_kinds
from benchcalc.materials.alloys import alloy_value
from benchcalc.materials.gauges import diameter_of, sizes
from benchcalc.show.page.worked import is_straight, worked


@pytest.mark.parametrize(
    "alloy, size",
    [
        ("nicr-80-20", "26 AWG"),
        ("cuni-44", "0.5 mm"),
        ("fecral-25-5", "24 AWG"),
        ("nicr-60-15", "24 SWG"),
        ("copper", "0.4 mm"),
    ],
)
def test_a_wire_is_found_again_from_its_own_numbers(alloy, size):
    d = diameter_of(size)
    ohm = linear_resistance(alloy_value(alloy, "resistivity_ohm_m").value, round_area(d)) * 1.5
    found = unknown_wire.guess(ohm, 1.5, d, errors=Errors(0.005, 0.002, 0.005))
    assert found.candidates[0].alloy == alloy
    assert found.candidates[0].diameter_m == pytest.approx(d, rel=2e-3)
    assert found.if_feet is None
    likely = [c.likelihood for c in found.candidates]
    assert likely == sorted(likely, reverse=True)


def test_the_printed_grade_is_named():
    """Grade 650 at 26 AWG, 2.57 ohm for each foot (circular-mil table of a maker): 650/(15.94 mil)^2."""
    found = unknown_wire.guess(650 / 15.94**2, 0.3048, 15.94 * 25.4e-6)
    assert found.candidates[0].alloy in ("nicr-80-20", "nicr-60-15")
    assert "nicr-80-20" in [c.alloy for c in found.candidates]


def test_coarser_meters_leave_more_candidates():
    fine = unknown_wire.guess(6.35, 0.75, 0.405e-3, errors=Errors(0.005, diameter=0.005), most=99)
    rough = unknown_wire.guess(6.35, 0.75, 0.405e-3, errors=Errors(0.05, diameter=0.04), most=99)
    assert len(rough.candidates) > len(fine.candidates) > 0


def test_a_length_in_feet_is_suspected_only_if_it_would_fit():
    ohm = linear_resistance(1.09e-6, round_area(0.405e-3)) * 1.5 * 0.3048
    found = unknown_wire.guess(ohm, 1.5, 0.405e-3)
    assert {c.alloy for c in found.candidates} == {"nickel-silver"}  # a rare thing fits as well as a common slip
    assert found.if_feet.alloy.startswith("nicr")
    nothing = unknown_wire.guess(1000.0, 0.1, 0.4e-3)
    assert not nothing.candidates and nothing.if_feet is None and nothing.nearest.misfit_ohm > 1


@pytest.mark.parametrize("bad", [(0.0, 1.0, 0.4e-3), (1.0, -1.0, 0.4e-3), (1.0, 1.0, 40.0e-3)])
def test_what_is_no_wire_is_refused(bad):
    with pytest.raises(Fault):
        unknown_wire.guess(*bad)


def candidate(alloy, size):
    return unknown_wire.WireCandidate(alloy, size, diameter_of(size), 0.0, 0.0, 1.0, 0.5)


def test_the_measurement_that_tells_two_apart():
    tell = unknown_wire.tell_apart
    assert tell(candidate("nicr-80-20", "26 AWG"), candidate("fecral-13-4", "26 AWG"))[0] == "magnet"
    way, share = tell(candidate("nicr-60-15", "26 AWG"), candidate("cuni-44", "26 AWG"))
    assert way == "hot ohms" and share > 0.03
    way, share = tell(candidate("nicr-80-20", "26 AWG"), candidate("nicr-80-20", "0.4 mm"))
    assert way == "diameter" and share == pytest.approx(diameter_of("26 AWG") / 0.4e-3 - 1)
    assert tell(candidate("nicr-80-20", "26 AWG"), candidate("nicr-80-20", "26 AWG")) == ("nothing here", 0.0)


def test_lengths_and_diameters_from_a_coil():
    assert unknown_wire.from_ten_turns(2.8e-3) == pytest.approx(0.28e-3)
    steps = np.linspace(0, 2 * np.pi * 34, 200001)  # the helix measured as a polygon
    x, y, z = 3.39e-3 * np.cos(steps), 3.39e-3 * np.sin(steps), steps / (2 * np.pi) * 1.16e-3
    walked = np.sum(np.sqrt(np.diff(x) ** 2 + np.diff(y) ** 2 + np.diff(z) ** 2))
    assert unknown_wire.coil_wire(2 * 3.39e-3 + 0.28e-3, 0.28e-3, 34, 34 * 1.16e-3 + 0.28e-3) == pytest.approx(
        walked, rel=1e-6
    )


BOX = [
    scrap_box.BoxWire("fits", 17.7, 0.28e-3, 1.04),
    scrap_box.BoxWire("thick", 1.0, 1.2e-3),
    scrap_box.BoxWire("hair", 140.0, 0.1e-3),
    scrap_box.BoxWire("short", 17.7, 0.28e-3, 1.04, have_m=0.3),
]


def test_each_wire_of_the_box_is_ranked_with_its_reason():
    tried = scrap_box.try_pieces(
        BOX, scrap_box.WindingJob(20.0, 18.2, 1.4, most_w_m2=40000, former_m=6.5e-3, room_m=45e-3)
    )
    assert {t.id: t.reason for t in tried} == {
        "fits": "works",
        "thick": "too long to wind in the room",
        "hair": "surface load past guidance",
        "short": "not enough wire",
    }
    assert tried[0].id == "fits" and all(t.reason in scrap_box.REASONS for t in tried)
    for t, piece in ((t, p) for t in tried for p in BOX if p.id == t.id):
        assert t.load_a**2 * piece.linear_ohm_per_m * piece.hot_factor * t.length_m == pytest.approx(20.0)


def test_a_power_out_of_reach_or_over_the_limit_is_said():
    ways = dict(most_w_m2=40000, former_m=6.5e-3, room_m=45e-3)
    assert {t.reason for t in scrap_box.try_pieces(BOX, scrap_box.WindingJob(500.0, 18.2, 1.4, **ways))} == {
        "the supply cannot give this power"
    }
    assert (
        scrap_box.try_pieces(BOX[:1], scrap_box.WindingJob(20.0, 18.2, 1.4, limit_a=1.0, **ways))[0].reason
        == "draws more than the supply's limit"
    )


@pytest.mark.parametrize(
    "fn, values",
    [
        (scrap_box.in_series, dict(one_ohm=3.0, other_ohm=6.0)),
        (scrap_box.side_by_side, dict(one_ohm=3.0, other_ohm=6.0)),
        (scrap_box.tail_resistance, dict(linear_ohm_per_m=17.7, tail_m=0.05, strands=2)),
        (scrap_box.tail_heat, dict(load_a=1.22, tails_ohm=0.9)),
        (unknown_wire.from_ten_turns, dict(winding_m=2.8e-3, turns=10)),
        (unknown_wire.coil_wire, dict(outer_m=7e-3, diameter_m=0.28e-3, turns=34.0, coil_m=0.04)),
    ],
)
def test_each_formula_can_be_shown(fn, values):
    assert is_straight(fn)
    assert worked(fn, **values).value == pytest.approx(fn(**values), rel=1e-12)


def test_kirchhoff_side_by_side_and_doubled_tails():
    assert scrap_box.side_by_side(3.0, 6.0) == pytest.approx(2.0)
    single, double = (scrap_box.tail_heat(2.0, scrap_box.tail_resistance(8.0, 0.05, n)) for n in (1, 2))
    assert double == pytest.approx(single / 2)


def test_a_wire_drawn_a_little_thick_is_believed_more_than_one_that_contradicts_itself():
    """Thicker by 1 % means fewer ohms by 2 %: the pair fits better than 2 % more ohms with the same diameter."""
    d, table = 0.5e-3, alloy_value("nicr-80-20", "resistivity_ohm_m").value
    exact = linear_resistance(table, round_area(d)) * 2.0

    def fit(ohm):
        found = unknown_wire.guess(ohm, 2.0, 1.01 * d, errors=Errors(0.005, 0.002, 0.005), most=999)
        return next((c.fit for c in found.candidates if (c.alloy, c.size) == ("nicr-80-20", "0.5 mm")), 0.0)

    assert fit(exact / 1.01**2) > fit(exact * 1.01**2) + 0.01


def test_of_400_invented_pieces_those_told_about_70_per_cent_are_right_in_60_to_80():
    """Pieces drawn from another mix than the guess believes in (every family as often), with resistivity spread evenly
    over the trade's band, drawn sizes and reading errors: what is told must still be what is right.
    """
    rng, kinds = np.random.default_rng(2), wire_kinds()
    grades = [sum(k.family == j.family for j in kinds) for k in kinds]
    odds = np.array([1 / g for g in grades]) / sum(1 / g for g in grades)
    near = [d for system in ("AWG", "SWG", "metric") for _, d in sizes(system) if 0.1e-3 < d < 1e-3]
    told, right = [], []
    for _ in range(400):
        kind = kinds[rng.choice(len(kinds), p=odds)]
        rho = kind.resistivity_ohm_m * np.exp(rng.uniform(-1, 1) * np.sqrt(3) * kind.own)
        d, length = rng.choice(near) * np.exp(rng.normal(0, 0.01)), rng.uniform(0.3, 2.0)
        ohm = linear_resistance(rho, round_area(d)) * length
        read = (ohm, length, d) * np.exp(rng.normal(0, (0.02, 0.005, 0.02)))
        key, likely = unknown_wire.guess(*read).alloys[0]
        told.append(likely)
        right.append(key == kind.key)
    told, right = np.array(told), np.array(right)
    about = (told > 0.6) & (told < 0.8)
    assert about.sum() > 40 and told[about].mean() == pytest.approx(0.7, abs=0.03)
    assert 0.6 <= right[about].mean() <= 0.8
    assert right[told > 0.95].mean() > 0.95 and right[told < 0.5].mean() < 0.5


def test_a_magnet_parts_twins_and_other_metals_are_candidates():
    """1.25e-6 ohm m lies between Ni-Cr 60/15 (GB/T 1234: 1.11) and Fe-Cr-Al 13-4 (1.25) within coarse errors."""
    rough = Errors(0.05, 0.02, 0.03)
    ohm = linear_resistance(1.19e-6, round_area(0.4e-3))
    told = {m: dict(unknown_wire.guess(ohm, 1.0, 0.4e-3, errors=rough, magnetic=m).families) for m in (None, *CLINGS)}
    assert told["yes"]["Fe-Cr-Al"] > 0.95 and told["no"]["Ni-Cr"] > 0.95
    assert told["no"]["Fe-Cr-Al"] < told[None]["Fe-Cr-Al"] < told["yes"]["Fe-Cr-Al"]
    for rho, magnetic, family in (  # EN 10088-1; carbon steel; CDA free-cutting brass, 26 % IACS; 5.5 % IACS
        (7.3e-7, "weakly", "stainless steel"),
        (1.7e-7, "yes", "steel"),
        (6.63e-8, "no", "brass"),
        (3.13e-7, "no", "nickel silver"),
    ):
        found = unknown_wire.guess(linear_resistance(rho, round_area(0.5e-3)), 1.0, 0.5e-3, magnetic=magnetic)
        assert found.families[0][0] == family and found.families[0][1] > 0.9
    shares = sum(c.likelihood for c in unknown_wire.guess(ohm, 1.0, 0.4e-3, most=999).candidates)
    assert shares <= 1.0
    strange = unknown_wire.guess(linear_resistance(2.3e-6, round_area(0.4e-3)), 1.0, 0.4e-3)
    assert strange.other > 0.9 and not strange.candidates
    with pytest.raises(Fault, match="yes, weakly, no"):
        unknown_wire.guess(ohm, 1.0, 0.4e-3, magnetic="sometimes")
