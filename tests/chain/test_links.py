"""The links as records: their order from what they need, and a link of one's own beside them."""

from dataclasses import dataclass, replace
from functools import cache
from graphlib import CycleError
from pathlib import Path

import pytest

import benchcalc as bc
from benchcalc.chain.links import LINKS
from benchcalc.chain.record import Link, in_order
from benchcalc.chain.verdict import Limit, judge
from benchcalc.chain.workings import work_out
from benchcalc.show.page import lesson
from benchcalc.show.start.glance import glance

NOTEBOOKS = Path(__file__).parents[2] / "notebooks"
NAMES = [link.name for link in LINKS]


@dataclass(frozen=True)
class ToyPart:
    energy_wh: float


def work_toy(build, coil):
    """What half an hour of the coil's power comes to."""
    return None if coil is None else ToyPart(0.5 * coil.coil_w)


def toy_verdicts(build, parts, bands):
    part = parts["toy"]
    if part is None:
        return []
    band = bands.get("toy.energy_wh")
    return [judge("energy of half an hour", "energy_wh", part.energy_wh, Limit(1.0, "at most", ""), why="", band=band)]


TOY = Link("toy", needs=("coil",), work=work_toy, verdicts=toy_verdicts, headline=("energy_wh",), page="00_start_here")


def test_a_link_of_ones_own_is_worked_out_judged_and_listed():
    build = bc.load_chosen("insert_press")
    out = work_out(build, samples=20, more_links=(TOY,))
    assert out.toy.energy_wh == pytest.approx(out.coil.coil_w / 2)
    assert out.bands["toy.energy_wh"].high == pytest.approx(out.bands["coil.coil_w"].high / 2)
    (verdict,) = out.of("toy")
    assert verdict.state == "over" and verdict.band is not None
    row = next(r for r in lesson.at_a_glance(build, out).rows if r[0] == "toy")
    assert "over" in row[1] and f"{out.toy.energy_wh:.3g}"[:3] in row[2] and "energy of half an hour" in row[3]
    assert "**toy**" in lesson.summary(out, build).text
    assert "toy" not in glance(build) and "energy of half an hour" in glance(build, more_links=(TOY,))


def test_a_link_of_ones_own_leaves_the_chain_as_it_was():
    build = bc.load_chosen("insert_press")
    without, beside = work_out(build, samples=20), work_out(build, samples=20, more_links=(TOY,))
    assert [repr(x) for x in beside.verdicts if x[0] != "toy"] == [repr(x) for x in without.verdicts]
    assert beside.coil == without.coil and not hasattr(without, "toy")
    assert [link.name for link in LINKS] == NAMES


def test_each_link_stands_behind_what_it_needs_however_they_are_listed():
    for listed in (LINKS, LINKS[::-1], sorted(LINKS, key=lambda link: link.name)):
        order = [link.name for link in in_order(listed)]
        assert sorted(order) == sorted(NAMES)
        for link in listed:
            assert all(order.index(need) < order.index(link.name) for need in link.needs), link.name


def test_where_the_needs_leave_a_choice_the_list_decides():
    first, second = Link("first"), Link("second")
    assert [x.name for x in in_order((second, first))] == ["second", "first"]
    assert in_order(LINKS) == LINKS


def test_needs_in_a_circle_or_unmet_are_refused():
    with pytest.raises(CycleError):
        in_order((Link("a", needs=("b",)), Link("b", needs=("a",))))
    with pytest.raises(ValueError, match="toy needs moon"):
        work_out(bc.load_chosen("insert_press"), more_links=(replace(TOY, needs=("moon",)),))
    with pytest.raises(ValueError, match="same name"):
        in_order((TOY, TOY))


@pytest.mark.parametrize("link", LINKS, ids=NAMES)
def test_a_record_is_whole(link):
    assert (NOTEBOOKS / f"{link.page}.ipynb").is_file()
    assert link.verdicts is not None and (link.work is not None or link.counts_to in NAMES)
    found = [w.parts[link.name] for w in map(worked, bc.demos()) if w.parts.get(link.name) is not None]
    assert found or link.work is None, "no demo sheet reaches this link"
    for part in found:
        assert all(hasattr(part, field) for field in link.headline)
    assert any(w.of(link.counts_to or link.name) for w in map(worked, bc.demos()))


@cache
def worked(name):
    return work_out(bc.load_chosen(name), samples=0)


def test_the_start_page_lists_every_link_with_a_part():
    out = worked("insert_press")
    rows = [row[0] for row in lesson.at_a_glance(bc.load_chosen("insert_press"), out).rows]
    assert rows == [link.name.replace("_", "-") for link in LINKS if link.work is not None]
