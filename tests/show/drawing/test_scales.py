"""Scales drawn by hand stand where matplotlib puts them and say the same; a new scale sets no number anew."""

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest
from matplotlib.backends.backend_agg import RendererAgg
from matplotlib.ticker import AutoMinorLocator

import benchcalc as bc
from benchcalc.show.control.figure import HELD_TOOL
from benchcalc.show.control.panel import held_at, to_hold
from benchcalc.show.drawing import scales
from benchcalc.show.drawing.live_picture import Drawing, Live, stack
from benchcalc.show.drawing.scales import draw_still
from benchcalc.show.drawing.style import axes_in, house, sheet_of_paper
from benchcalc.show.handle.figure import BREAK
from benchcalc.show.handle.panel import handle_links, to_play
from benchcalc.show.insulation.panel import PICTURE, at_own_temperature, at_winding
from benchcalc.show.metals.figure import LADDER
from benchcalc.show.metals.panel import at_heater
from benchcalc.show.supply.panel import SUPPLY, at_load, with_load

PLACE_PX, FAR_OFF = 2.5, 60


def drawings():
    build = bc.load_chosen("insert_press")
    hot, ladder = at_heater(build)
    insulated, held, drilled, loaded = (
        f(build) for f in (at_own_temperature, lambda b: to_hold(b)[0], to_play, with_load)
    )
    return {
        "ladder": (LADDER, LADDER.numbers(hot, ladder(hot), False)),
        "stack and chart": (PICTURE, PICTURE.numbers(insulated, at_winding(insulated), False)),
        "held tool": (HELD_TOOL, HELD_TOOL.numbers(held, held_at(held), False)),
        "heat break": (BREAK, BREAK.numbers(drilled, handle_links(drilled), False)),
        "supply": (SUPPLY, SUPPLY.numbers(loaded, at_load(loaded), False)),
    }


@pytest.fixture(scope="module")
def drawn():
    return drawings()


def framed(drawing, numbers):
    live = Live(drawing)
    with house():
        drawing.frame(live.artists, numbers)
    return live


def by_matplotlib(figure):
    """Every number and word of every scale as matplotlib sets it: (text, middle in px)."""
    figure.canvas.draw()
    pen = figure.canvas.get_renderer()
    for axes in figure.axes:
        for axis in (axes.xaxis, axes.yaxis) if axes.axison else ():
            low, high = sorted(axis.get_view_interval())
            for tick in axis.get_major_ticks():
                if low - 1e-9 * (high - low) <= tick.get_loc() <= high + 1e-9 * (high - low):
                    for label in (tick.label1, tick.label2):
                        if label.get_visible() and label.get_text():
                            yield label.get_text(), label.get_window_extent(pen)
            if axis.label.get_text():
                yield axis.label.get_text(), axis.label.get_window_extent(pen)


@pytest.mark.parametrize("name", ["ladder", "stack and chart", "held tool", "heat break", "supply"])
def test_numbers_and_words_stand_where_matplotlib_puts_them(drawn, name, monkeypatch):
    figure = framed(*drawn[name]).figure
    expected = [(text, box.x0, box.x1, box.y0, box.y1) for text, box in by_matplotlib(figure)]
    set_here = []
    monkeypatch.setattr(scales, "_set", lambda canvas, word: set_here.append(word))
    with house():
        draw_still(figure)
    assert sorted(w.text for w in set_here) == sorted(text for text, *_ in expected) and len(expected) > 8
    for word in set_here:
        near = [box for text, *box in expected if text == word.text]
        off = []
        for left, right, bottom, top in near:
            x = {"left": left, "right": right, "center": (left + right) / 2}[word.ha]
            y = {"top": top, "bottom": bottom, "center": (top + bottom) / 2}[word.va]
            off.append(max(abs(x - word.x_px), abs(y - word.y_px)))
        assert min(off) < PLACE_PX, (word, near)


@pytest.mark.parametrize("name", ["ladder", "held tool", "heat break", "supply"])
def test_grid_and_ticks_are_those_of_matplotlib_to_the_pixel(drawn, name):
    """Inside the axes, where no number stands."""
    figure = framed(*drawn[name]).figure
    with house():
        figure.canvas.draw()
        whole = np.array(figure.canvas.buffer_rgba())[..., :3].astype(int)
        draw_still(figure)
        here = np.array(figure.canvas.buffer_rgba())[..., :3].astype(int)
    for axes in figure.axes:
        box = axes.bbox
        rows = slice(int(len(whole) - box.y1) + 2, int(len(whole) - box.y0) - 2)
        columns = slice(int(box.x0) + 2, int(box.x1) - 2)
        assert np.abs(here - whole)[rows, columns].max() == 0
    assert (np.abs(here - whole).max(axis=-1) > FAR_OFF).mean() < 0.02  # letters alone, set by another hand


def test_a_new_scale_sets_no_number_by_matplotlib(drawn, monkeypatch):
    """Where each redraw of this picture set and measured more than twenty."""
    drawing, numbers = drawn["held tool"]
    live, texts, real = framed(drawing, numbers), [], RendererAgg.draw_text
    monkeypatch.setattr(
        RendererAgg, "draw_text", lambda self, *given, **how: texts.append(given) or real(self, *given, **how)
    )
    live.figure.canvas.draw()
    assert len(texts) > 20
    texts.clear()
    live.still_parts(numbers)
    assert not texts and live.artists.whole.xaxis.get_visible()
    count = len(live.artists.whole.get_children())
    live.drawn.clear()
    live.still_parts(numbers)
    assert len(live.artists.whole.get_children()) == count  # what is drawn for a moment leaves nothing behind


def plain_axes():
    figure = sheet_of_paper(2.0, 100)
    with house():
        axes, _ = axes_in(figure, (0.0, 0.0, 8.0, 2.0))
    return figure, axes


@pytest.mark.parametrize(
    "made",
    [lambda axes: axes.set_ylim(1e9, 1e9 + 3), lambda axes: axes.yaxis.set_minor_locator(AutoMinorLocator(2))],
    ids=["exponent", "minor ticks"],
)
def test_what_matplotlib_alone_can_do_is_left_to_it(made):
    figure, axes = plain_axes()
    made(axes)
    with house():
        assert scales._drawn(axes.yaxis) is None and scales._drawn(axes.xaxis) is not None
        draw_still(figure)
    assert axes.yaxis.get_visible()


def test_axes_without_ticks_or_switched_off_have_no_words():
    figure, axes = plain_axes()
    axes.set_yticks([])
    with house():
        assert scales._drawn(axes.yaxis) == ([], [])
        axes.set_axis_off()
        draw_still(figure)
        pixels = np.array(figure.canvas.buffer_rgba())
    assert len(np.unique(pixels.reshape(-1, 4), axis=0)) == 1  # paper alone


def test_of_stacked_pictures_only_the_one_whose_scale_changed_is_set_anew():
    counted = {"upper": 0, "lower": 0}

    def one(name):
        def lay(figure, place):
            return SimpleNamespace(moving=(), labels=(), axes=axes_in(figure, place)[0])

        def frame(artists, numbers):
            counted[name] += 1
            artists.axes.set_xlim(0, numbers.frame)

        return Drawing(lambda build, *_: SimpleNamespace(frame=build[name]), lay, frame, lambda *_: None, str, 1.2)

    both = stack(one("upper"), one("lower"))
    live = Live(both)
    for far in (1.0, 2.0, 3.0, 2.0):
        live.image(both.numbers({"upper": far, "lower": 5.0}, None))
    assert counted == {"upper": 4, "lower": 1}


def test_another_scale_of_the_drops_leaves_the_rungs_as_they_are(drawn):
    drawing, numbers = drawn["ladder"]
    live = framed(drawing, numbers)
    rungs = list(live.artists.still)
    ends, most, degrees, own = numbers.frame
    drawing.frame(live.artists, replace(numbers, frame=(ends, 2 * most, degrees, own)))
    assert live.artists.still == rungs and live.artists.drops.get_xlim()[1] == 2 * most
    drawing.frame(live.artists, replace(numbers, frame=(ends, most, degrees, own - 1)))
    assert not set(rungs) & set(live.artists.still)
