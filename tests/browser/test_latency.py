"""The live picture follows the keyboard: each press changes it once, in order, none is lost, at the reader's own pace.

The next press waits for the picture of the last, and for the bands that come with it once the slider rests. How long
that takes, beside the fastest thing a widget can do (change a text), stands in a table at the end; it judges nothing.
"""

import json
import statistics

import pytest
from browser.lab import (
    changes,
    live_outputs,
    opened,
    start_watching,
    state_of,
    stop_watching,
    wait_for_change,
    waits_ms,
)
from canonical import KERNELSPEC, ROOT

from benchcalc.show.panel.panel_html import WORKING

PRESSES = 10
LATE_MS = 500  # after the last press: what comes then is one picture too many
FLOOR = """\
import ipywidgets as widgets
slider = widgets.FloatSlider(value=1, min=0, max=2, step=0.01, description="length, m")
text = widgets.HTMLMath("$R = 1.000$ ohm")
slider.observe(lambda change: setattr(text, "value", f"$R = {change.new:.3f}$ ohm"), "value")
widgets.VBox([slider, text])"""


def write_floor(path):
    """A notebook at path with one slider that changes one text."""
    cell = {"cell_type": "code", "id": "floor", "metadata": {}, "execution_count": None, "outputs": [], "source": FLOOR}
    path.write_text(
        json.dumps({"cells": [cell], "metadata": {"kernelspec": KERNELSPEC}, "nbformat": 4, "nbformat_minor": 5})
    )


def ways_of(page, output, handle):
    """The keys that move a slider there and back, its output watched from now on and the slider in focus."""
    handle.scroll_into_view_if_needed()
    page.wait_for_timeout(1000)
    start_watching(page, output)
    handle.focus()
    now, top = handle.evaluate("h => [+h.getAttribute('aria-valuenow'), +h.getAttribute('aria-valuemax')]")
    return ("ArrowRight", "ArrowLeft") if now < top else ("ArrowLeft", "ArrowRight")


def step_there_and_back(page, column):
    """(frames, presses) while the first slider goes PRESSES steps one way and back; each press waits for the last."""
    output = live_outputs(page)[0]
    there, back = ways_of(page, output, output.query_selector('[role="slider"]'))
    for press in range(2 * PRESSES):
        before = state_of(page)[column]
        page.keyboard.press(there if press < PRESSES else back)
        wait_for_change(page, column, before, WORKING)
    page.wait_for_timeout(LATE_MS)
    return stop_watching(page)


def test_changes_and_waits_are_read_off_the_frames():
    frames = [[0, 1, "a", 9], [10, 1, "b", 9], [20, 2, "b", 9], [40, 2, "b", 9], [60, 3, "c", 9]]
    assert waits_ms(frames, [5, 30], 1) == [15, 30]
    assert waits_ms(frames, [5, 30], 2) == [5, 30]
    assert waits_ms(frames, [21, 50], 1) == [None, 10]
    assert waits_ms(frames, [61], 1) == [None]
    assert changes(frames, [5, 30], 1) == [[2], [3]]
    assert changes(frames, [5], 2) == [["b", "c"]]
    assert changes(frames, [21, 50], 1) == [[], [3]]


@pytest.mark.parametrize(
    "name, notebook, column",
    [("text alone", "floor.ipynb", 2), ("picture with numbers", "notebooks/02_wire_sizing.ipynb", 1)],
    ids=["text alone", "picture"],
)
def test_each_press_changes_it_once_and_in_order(browser, lab, served, table, name, notebook, column):
    write_floor(served / "floor.ipynb")
    with opened(browser, lab[0], notebook) as page:
        frames, presses = step_there_and_back(page, column)
    assert len(presses) == 2 * PRESSES
    told = [[at, picture, text.rsplit("|", 1)[0], height] for at, picture, text, height in frames]  # not the derivation
    for texts in changes(told, presses, 2):
        assert len([text for text in texts if WORKING not in text]) == 1 and len(texts) <= 2
    seen = changes(frames, presses, column)
    assert all(1 <= len(of_press) <= 2 for of_press in seen)  # at once, and again with the bands
    first = [frame for frame in frames if frame[0] <= presses[0]][-1][column]
    there, back = [first] + [s[-1] for s in seen[:PRESSES]], [s[-1] for s in seen[PRESSES:]]
    assert len(set(there)) == PRESSES + 1  # every step has a picture of its own
    assert back == there[-2::-1]  # and the way back shows the same ones in reverse
    median_ms = statistics.median(waits_ms(frames, presses, column))
    table("key press to change", [f"{name:30s} median of {len(presses)}: {median_ms:8.1f} ms"])


FEW = 4  # presses to and fro, where every slider is tried
PANELS = sorted(p.name for p in (ROOT / "notebooks").glob("0[1-9]_*.ipynb"))


def waits_of(page, output, handle):
    """Waits of a few presses of a slider each way, until picture or text has changed, ms; None where nothing did."""
    for key in ways_of(page, output, handle) * FEW:
        state_of(page)
        page.keyboard.press(key)
        page.wait_for_timeout(900)  # at rest again, bands and all
    frames, presses = stop_watching(page)
    both = zip(*(waits_ms(frames, presses, column) for column in (1, 2)))
    return [min((w for w in pair if w is not None), default=None) for pair in both]


@pytest.mark.slow
@pytest.mark.parametrize("name", PANELS, ids=[name[:2] for name in PANELS])
def test_every_slider_of_every_panel_beside_a_text_alone(browser, lab, served, table, name):
    """Every slider shows something new when it is moved; the waits stand in a table, as times and over the floor of the
    same run, and how many presses showed nothing before the next one came, 0.9 s later."""
    write_floor(served / "floor.ipynb")
    with opened(browser, lab[0], "floor.ipynb") as page:
        output = live_outputs(page)[0]
        floor = statistics.median(waits_of(page, output, output.query_selector('[role="slider"]')))
    lines, mute = [f"{'text alone':52s} median {floor:6.1f} ms"], []
    with opened(browser, lab[0], f"notebooks/{name}") as page:
        for output in live_outputs(page):
            for handle in output.query_selector_all('[role="slider"]'):
                what = f"{name[:2]} {handle.get_attribute('aria-label')}"
                waits = waits_of(page, output, handle)
                told = sorted(w for w in waits if w is not None)
                if not told:
                    mute.append(what)
                    continue
                middle, late, unseen = statistics.median(told), told[-1], waits.count(None)
                lines.append(
                    f"{what[:52]:52s} median {middle:6.1f} ms x {middle / floor:4.1f}   "
                    f"latest {late:6.1f} ms x {late / floor:4.1f}" + f"   unseen {unseen}" * (unseen > 0)
                )
                print(lines[-1], flush=True)
    table(f"every slider of the panels of {name}", lines)
    assert len(lines) > 1 and not mute, mute
