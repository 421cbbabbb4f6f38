"""Many patterns read off from a few solved ones: against each solved on its own mesh; what is solved is counted."""

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.chain.workings import drawn_builds, links
from benchcalc.show.handle.panel import handle_links, to_play
from benchcalc.thermal.holes import many_patterns, solved_wall
from benchcalc.thermal.holes.closed_form import extra_length, in_closed_form
from benchcalc.thermal.holes.many_patterns import MANY, extra_lengths
from benchcalc.thermal.holes.pattern import Pattern, refuse_bad_pattern
from benchcalc.thermal.holes.solved_wall import solve_wall


def spread_of(like, share, count=14, seed=1):
    """Patterns whose lengths lie within a share of those of one, drawn evenly."""
    found, draw = [], np.random.default_rng(seed)
    for scale in 1 + share * draw.uniform(-1, 1, (count, 4)):
        outer, inner, holes, hole, rings, spacing, staggered, slot = like
        sizes = outer * (1 + (scale[0] - 1) / 4), inner * (1 + (scale[0] - 1) / 4)  # tubes are drawn to closer sizes
        p = Pattern(*sizes, holes, hole * scale[1], rings, spacing * scale[2], staggered, slot * scale[3])
        refuse_bad_pattern(p)
        found.append(p)
    return found


@pytest.mark.parametrize(
    "like, share, most",
    [
        ((10e-3, 8.1e-3, 6, 3e-3, 3, 4e-3, True, 0.0), 0.01, 1e-3),
        ((10e-3, 8.1e-3, 6, 3e-3, 3, 4e-3, False, 0.0), 0.05, 2e-3),
        ((10e-3, 8.1e-3, 10, 1.5e-3, 2, 2e-3, True, 0.0), 0.06, 4e-3),
        ((10e-3, 8.1e-3, 3, 1.5e-3, 2, 3e-3, True, 4e-3), 0.05, 4e-3),
        ((10e-3, 8.1e-3, 1, 4e-3, 1, 3e-3, True, 0.0), 0.06, 2e-3),
    ],
    ids=["close", "aligned", "wide", "slots", "one hole"],
)
def test_read_off_they_are_what_each_is_solved(monkeypatch, like, share, most):
    patterns = spread_of(like, share)
    exact = np.array([solve_wall(p).extra_m for p in patterns])
    solved = []
    monkeypatch.setattr(many_patterns, "solved_extra", lambda p: solved.append(p) or solve_wall(p).extra_m)
    assert extra_lengths(patterns) == pytest.approx(exact, rel=most)
    assert 3 <= len(solved) <= 7
    assert np.ptp(exact) > 10 * most * exact.min()  # they do differ


def test_few_far_apart_and_closed_ones_are_each_their_own():
    like = (10e-3, 8.1e-3, 6, 3e-3, 3, 4e-3, True, 0.0)
    few, far = spread_of(like, 0.05, MANY), spread_of(like, 0.12, MANY + 1)
    closed = spread_of((10e-3, 8.1e-3, 6, 2.5e-3, 2, 4e-3, True, 0.0), 0.02)
    assert all(map(in_closed_form, closed))
    for patterns in (few, far, closed, few[:2] + closed[:2]):
        assert extra_lengths(patterns).tolist() == [extra_length(p) for p in patterns]


def test_bands_of_a_new_ring_solve_the_wall_a_few_times(monkeypatch):
    build = bc.change(to_play(bc.load_chosen()), "heat_break.break.rings", 3.0)
    solved, real = [], solved_wall.solve_wall
    monkeypatch.setattr(solved_wall, "solve_wall", lambda p, *across: solved.append(p) or real(p, *across))
    solved_wall.solved_extra.cache_clear()
    solved_wall.wall_of.cache_clear()
    many = handle_links(drawn_builds(build, None, links(build).wire))[4]
    assert np.ptp(many.extra_m) > 0 and len(solved) <= 5
