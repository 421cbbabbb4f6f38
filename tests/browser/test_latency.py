"""How fast the live picture follows the keyboard, beside the fastest thing a widget can do: change a text.

Both are measured in the same browser in the same run. Aims on an idle machine: the picture within 1.6 times,
a whole panel within 2.5 times the text's time. Asserted is only a wide ratio, for loaded machines.
"""

import json
import statistics

from browser.lab import live_outputs, opened, start_watching, state_of, stop_watching, waits_ms
from canonical import KERNELSPEC

PRESSES = 30
REST_MS = 250
MOST_MISSED = 3
WIDEST_RATIO = 3.0
FLOOR = """\
import ipywidgets as widgets
slider = widgets.FloatSlider(value=1, min=0, max=2, step=0.01, description="length, m")
text = widgets.HTMLMath()
slider.observe(lambda change: setattr(text, "value", f"$R = {change.new:.3f}$ ohm"), "value")
widgets.VBox([slider, text])"""


def write_floor(path):
    """A notebook at path with one slider that changes one text."""
    cell = {"cell_type": "code", "id": "floor", "metadata": {}, "execution_count": None, "outputs": [], "source": FLOOR}
    path.write_text(
        json.dumps({"cells": [cell], "metadata": {"kernelspec": KERNELSPEC}, "nbformat": 4, "nbformat_minor": 5})
    )


def press_to_change_ms(page, column):
    """Waits in ms from key press to change for the first slider of page; column: 1 picture, 2 text."""
    output = live_outputs(page)[0]
    handle = output.query_selector('[role="slider"]')
    handle.scroll_into_view_if_needed()
    page.wait_for_timeout(1000)
    start_watching(page, output)
    handle.focus()
    state_of(page)
    room = handle.evaluate("h => +h.getAttribute('aria-valuenow') < +h.getAttribute('aria-valuemax')")
    there, back = ("ArrowRight", "ArrowLeft") if room else ("ArrowLeft", "ArrowRight")
    for press in range(PRESSES):
        page.keyboard.press(there if press % 2 == 0 else back)
        page.wait_for_timeout(REST_MS)
    page.wait_for_timeout(500)
    return waits_ms(*stop_watching(page), column)


def test_waits_are_read_off_the_frames():
    frames = [[0, 1, "a", 9], [10, 1, "b", 9], [20, 2, "b", 9], [40, 2, "b", 9], [60, 3, "c", 9]]
    assert waits_ms(frames, [5, 30], 1) == [15, 30]
    assert waits_ms(frames, [5, 30], 2) == [5, 30]
    assert waits_ms(frames, [21, 50], 1) == [None, 10]
    assert waits_ms(frames, [61], 1) == [None]


def test_the_picture_follows_the_keyboard(browser, lab, served, capsys):
    write_floor(served / "floor.ipynb")
    medians, missed = {}, {}
    for name, notebook, column in (("text alone", "floor.ipynb", 2), ("picture", "notebooks/02_wire_sizing.ipynb", 1)):
        with opened(browser, lab[0], notebook) as page:
            waits = press_to_change_ms(page, column)
        assert len(waits) == PRESSES
        seen = [wait for wait in waits if wait is not None]
        missed[name] = PRESSES - len(seen)
        medians[name] = statistics.median(seen) if seen else float("nan")
    ratio = medians["picture"] / medians["text alone"]
    with capsys.disabled():
        print(
            f"\nkey press to change, median of {PRESSES}: picture {medians['picture']:.1f} ms, "
            f"text alone {medians['text alone']:.1f} ms, ratio {ratio:.2f} (aim 1.6)"
        )
    assert max(missed.values()) <= MOST_MISSED, f"presses without any change: {missed}"
    assert ratio <= WIDEST_RATIO
