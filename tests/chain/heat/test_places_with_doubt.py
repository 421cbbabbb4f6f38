"""Places along the axis and a wire's diameter that carry doubt are drawn: seams stay whole, order may change."""

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.chain.heat.link import nth, work_heat
from benchcalc.chain.insulation.link import work_insulation
from benchcalc.chain.workings import chain, drawn_builds, links
from benchcalc.studies.spread_in_time import spread_in_time

PRESS = bc.chosen("insert_press").read_text(encoding="utf-8")
SEAM = ("part.tip.to_m", "part.stem.from_m", "joint.1.to_m")
PLACES = ("tip_c", "wire_c", "entry_c", "grip_c")


def press(*lines):
    text = PRESS
    for old, new in lines:
        assert old in text
        text = text.replace(old, new, 1)
    return bc.read(text)


def handle_at(doubt):
    return press(('from = "120 mm"', f'from = "120 mm +- {doubt} mm"'))


def drawn(build, samples):
    own = chain(build)
    many = drawn_builds(build, own.heat, own.wire, samples)
    return many, links(many)


def test_a_doubt_at_a_seam_moves_both_parts_and_their_joint():
    many = bc.sample(press(('to = "30 mm"  ', 'to = "30 mm +- 1 mm"  ')), 30)
    tip, *rest = (bc.get(many, path) for path in SEAM)
    assert tip.min() < 29.2e-3 < 30.8e-3 < tip.max()
    assert all(np.array_equal(tip, other) for other in rest)


def test_a_seam_in_doubt_is_worked_out_and_counts_as_one_input():
    build = press(
        ('to = "30 mm"  ', 'to = "30 mm +- 3 mm"  '), ('diameter = "0.28 mm"', 'diameter = "0.28 mm +- 0.02 mm"')
    )
    out = bc.work_out(build, samples=60)
    assert all(np.isfinite(out.drawn.outcomes[f"heat.{key}"]).all() for key in PLACES)
    assert {out.drawn.groups[path] for path in SEAM} == {"place 0.03"}
    thick = next(s for s in out.shares("coil.coil_w").inputs if "wire.reel.diameter_m" in s.paths)
    assert thick.share > 0.1 and thick.rises  # thicker wire of a given length takes more watts


def test_what_goes_into_one_another_does_so_in_every_sample():
    """Fitting parts typed with doubt: equal sizes move together, near ones never overlap, and none is thrown away."""
    equal = ('outer = "10 mm"\nfinish', 'outer = "10 mm +- 0.1 mm"\nfinish')
    build = press(equal, ('inner = "8.1 mm"', 'inner = "8.1 mm +- 0.3 mm"'))
    many, (_, wire, coil) = drawn(build, 40)
    by = {p.id: p for p in many.part}
    assert np.ptp(by["handle"].inner_m) > 1.8e-4 and np.array_equal(by["handle"].inner_m, by["tube"].outer_m)
    assert (by["tip"].outer_m <= by["tube"].inner_m).all() and by["tube"].inner_m.min() < 7.95e-3
    assert np.isfinite(work_heat(many, wire, coil).entry_c).all()


def test_designs_in_another_order_are_solved_in_groups_and_equal_single_ones():
    """The handle may begin before or behind places of the zone in front of it: few orders for many designs."""
    many, (_, wire, coil) = drawn(handle_at(6), 40)
    heat = work_heat(many, wire, coil)
    assert 2 <= len(heat.groups) <= 6 and sum(numbers.size for numbers, _ in heat.groups) == 40
    layers = work_insulation(many, None, wire, coil, heat)
    for i in (0, 13, 39):
        one = work_heat(*(nth(t, i) for t in (many, wire, coil)))
        for key in PLACES:
            assert getattr(heat, key)[i] == pytest.approx(getattr(one, key), rel=1e-3)
        side = work_insulation(*(nth(t, i) for t in (many, None, wire, coil)), one)
        assert layers.cold_c[1][i] == pytest.approx(side.cold_c[1], rel=1e-3)


def test_more_doubt_of_a_place_is_never_the_safer_end():
    tops = []
    for doubt in (1, 8, 20):
        many, (_, wire, coil) = drawn(handle_at(doubt), 40)
        tops.append(np.percentile(work_heat(many, wire, coil).entry_c, 95))
    assert tops[0] < tops[1] < tops[2]


def test_bands_in_time_go_through_the_same_groups():
    build = handle_at(6)
    found = spread_in_time(build, bc.work_out(build, samples=20), designs=8, until_s=600.0)
    assert all(np.isfinite(found.settled_samples[key]).sum() == 8 for key in ("tip_c", "entry_c"))
    assert found.samples["tip_c"].shape[1] == 8
