"""What a panel works out at rest in slices: the page has its turn between them, a newer press lets it go."""

import asyncio
import gc
import weakref
from dataclasses import replace

import pytest

import benchcalc as bc
from benchcalc.basics.fault import fault
from benchcalc.basics.slices import finished
from benchcalc.show.handle.panel import handle_panel, to_play
from benchcalc.show.heat.panel import heat_panel
from benchcalc.show.panel import resting
from benchcalc.show.panel.panel import panel
from benchcalc.show.panel.resting import Resting
from benchcalc.show.panel.sliders import Slider, Telling, plan, results_at
from benchcalc.show.wire.stacked_figure import WIRE_SIZING

SLICES, LENGTH = 6, "coil.length_m"
PENDING = "working"


class Work:
    """Work of six slices for each length, with a record of what was done."""

    def __init__(self):
        self.slices, self.ended, self.let_go, self.done, self.wrong = [], [], [], {}, None

    def slow(self, build):
        length_m = build.coil.length_m
        if length_m in self.done:
            return self.done[length_m]
        try:
            for i in range(SLICES):
                self.slices.append(length_m)
                if self.wrong and i == 2:
                    raise self.wrong
                yield i + 1, SLICES, "counting"
        except GeneratorExit:
            self.let_go.append(length_m)
            raise
        self.ended.append(length_m)
        self.done[length_m] = f"{1000 * length_m:.0f} mm"
        return self.done[length_m]

    def panel(self):
        build = bc.settled(bc.load_chosen("insert_press"))
        self.done[build.coil.length_m] = "as on the sheet"
        return panel(build, *self.telling())

    def telling(self):
        return (
            [Slider(LENGTH, 0.2, 1.5, 0.005, "coil length")],
            bc.links,
            WIRE_SIZING,
            Telling(
                lambda result, build, extra: [("length", extra or PENDING)],
                verdicts=lambda *_: [],
                slow=self.slow,
                known=lambda build: self.done.get(build.coil.length_m),
            ),
        )


@pytest.fixture
def work(monkeypatch):
    monkeypatch.setattr(resting, "REST_S", 0.0)
    monkeypatch.setattr(Resting.later, "__defaults__", (0.0,))
    return Work()


def played(scene):
    """A scene with a loop that runs, as in a kernel; what the loop was told of errors."""
    troubles = []

    async def play():
        asyncio.get_running_loop().set_exception_handler(lambda _, told: troubles.append(told["exception"]))
        await scene()

    asyncio.run(play())
    return troubles


async def turns(n=200):
    for _ in range(n):
        await asyncio.sleep(0.001)


def test_the_page_has_a_turn_between_two_slices(work):
    box, seen, apart = work.panel(), [], []

    async def scene():
        box.set(LENGTH, 0.6)
        assert PENDING in box.view.value and not work.slices  # shown at once, nothing worked out yet
        while box.good.extra is None:
            await asyncio.sleep(0)
            seen.append((len(work.slices), box.resting.bar.value, box.resting.bar.layout.visibility))
            apart.append(bool(work.ended) and box.good.extra is None)

    assert not played(scene)
    assert all(b[0] - a[0] <= 1 for a, b in zip(seen, seen[1:]))  # never two slices in one turn
    assert any(apart)  # nor is what they come to shown in the turn of the last
    assert {bar for _, bar, _ in seen} >= set(range(1, SLICES + 1))
    assert "visible" in {shown for *_, shown in seen} and box.resting.bar.layout.visibility == "hidden"
    assert box.good.extra == "600 mm" and "600 mm" in box.view.value and PENDING not in box.view.value


def test_a_newer_press_lets_it_go_and_is_shown_at_once(work):
    box = work.panel()

    async def scene():
        box.set(LENGTH, 0.6)
        while len(work.slices) < 3:
            await asyncio.sleep(0)
        box.set(LENGTH, 0.7)
        assert work.let_go == [0.6] and bc.get(box.good.build, LENGTH) == 0.7
        assert box.resting.bar.layout.visibility == "hidden"
        await turns()

    assert not played(scene)
    assert work.ended == [0.7] and work.slices == [0.6] * 3 + [0.7] * SLICES
    assert box.good.extra == "700 mm"


def test_what_is_known_is_shown_without_a_rest(work):
    box = work.panel()
    work.done[0.6] = "known"

    async def scene():
        box.set(LENGTH, 0.6)
        assert box.good.rest and box.good.extra == "known"
        await turns(20)
        box.reset()
        assert box.good.extra == "as on the sheet"

    assert not played(scene)
    assert not work.slices


def test_without_a_loop_all_slices_are_done_at_once(work):
    box = work.panel()
    box.set(LENGTH, 0.6)
    assert box.good.extra == "600 mm" and work.ended == [0.6]
    at = results_at(plan(bc.settled(bc.load_chosen("insert_press")), *work.telling()), {LENGTH: 0.8})
    assert at.rest and at.extra == "800 mm"


def test_what_goes_wrong_in_a_slice_is_said(work):
    box = work.panel()

    async def scene():
        work.wrong = fault("coil", "", "is too long for its tube.")
        box.set(LENGTH, 0.6)
        await turns(20)
        assert "Not possible" in box.view.value and "too long for its tube" in box.view.value
        work.wrong = ValueError("no such number")
        box.set(LENGTH, 0.7)
        await turns(20)
        assert "could not be worked out: no such number" in box.told.value
        work.wrong = None
        box.set(LENGTH, 0.8)
        await turns()

    assert [str(t) for t in played(scene)] == ["no such number"]
    assert box.good.extra == "800 mm" and box.resting.bar.layout.visibility == "hidden"


def test_keeping_and_trying_let_go_of_what_is_worked_out(work):
    box = work.panel()

    async def scene():
        box.set(LENGTH, 0.6)
        while len(work.slices) < 2:
            await asyncio.sleep(0)
        box.reset()
        await turns(20)

    assert not played(scene)
    assert work.let_go == [0.6] and box.good.extra == "as on the sheet" and len(work.slices) == 2


def test_finished_does_all_slices_and_tells_each():
    heard, work = [], Work()
    build = bc.settled(bc.load_chosen("insert_press"))
    build = replace(build, coil=replace(build.coil, length_m=0.9))
    assert finished(work.slow(build), lambda *told: heard.append(told)) == "900 mm"
    assert heard == [(i, SLICES, "counting") for i in range(1, SLICES + 1)]


def drilled_panel(build):
    """The panel of the handle page where the sheet has holes: only then their sliders are there."""
    return handle_panel(to_play(build))


@pytest.mark.parametrize("made, path", [(heat_panel, "want.power_w"), (drilled_panel, "heat_break.break.hole_m")])
def test_bands_of_heat_and_handle_let_a_press_between_and_show_no_bar(monkeypatch, made, path):
    monkeypatch.setattr(Resting.later, "__defaults__", (0.0,))
    box = made(bc.load_chosen("insert_press"))
    start = bc.get(box.spec.build, path)
    steps = []
    monkeypatch.setattr(box.resting, "step", lambda: steps.append(dict(box.looked)) or Resting.step(box.resting))

    async def scene():
        box.set(path, 1.1 * start)
        while len(steps) < 2:
            await asyncio.sleep(0)
        assert box.good.extra is None and box.resting.bar.layout.visibility == "hidden"
        box.set(path, 1.2 * start)
        while box.good.extra is None:
            await asyncio.sleep(0)

    assert not played(scene)
    left, then = ([s for s in steps if abs(s[path] / start - x) < 0.05] for x in (1.1, 1.2))
    assert len(left) == 2 and len(then) >= 6 and box.good.extra  # samples on two meshes, settled, shown
    assert bc.get(box.good.build, path) == pytest.approx(1.2 * start, rel=0.02)


def test_what_a_press_has_worked_out_is_not_worked_out_again_at_rest(work, monkeypatch):
    box = work.panel()
    asked, links = [], box.spec.work
    box.spec = replace(box.spec, work=lambda build: asked.append(build.coil.length_m) or links(build))

    async def scene():
        box.set(LENGTH, 0.6)
        await turns()
        assert box.good.rest and asked == [0.6]
        box.set(LENGTH, 0.7)
        await turns()
        box.set(LENGTH, 0.6)  # another press in between: anew
        await turns()

    assert not played(scene)
    assert asked == [0.6, 0.7, 0.6]
    box.spec = replace(box.spec, build=bc.change(box.spec.build, "supply.open_v", 10.0))
    box._try(True)
    assert asked == [0.6, 0.7, 0.6, 0.6] and box.good.result[0].open_v == 10.0  # nor is another tool's taken for it


def test_what_a_page_has_loaded_is_left_out_of_later_collections(work):
    """Else one over all of it, longer than several presses, comes in the midst of one."""
    for _ in range(4):  # a page that is run again and again
        held = work.panel()
        assert held.good and gc.get_freeze_count() > 50_000
        assert len(gc.get_objects()) < 0.3 * gc.get_freeze_count()


def test_what_was_set_aside_and_has_served_is_let_go_once_much_has_come():
    gc.collect()
    ring = Work()
    ring.slices.append(ring)  # gone only by a collection
    there = weakref.ref(ring)
    gc.freeze()
    del ring
    gc.collect()
    resting.set_aside()
    assert there() is not None  # little has come
    pile = [[] for _ in range(gc.get_freeze_count() // 2)]
    resting.set_aside()
    assert there() is None and len(gc.get_objects()) < 0.1 * gc.get_freeze_count() and pile
