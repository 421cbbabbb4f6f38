"""Every workbook in a real JupyterLab: it runs, each slider moves the picture by keyboard, nothing jumps."""

import re

import pytest
from browser.lab import (
    CHANGE_LIMIT_S,
    RUN_LIMIT_S,
    VIEW,
    both_change,
    live_outputs,
    opened,
    run_all,
    start_watching,
    state_of,
    stop_watching,
    stored_in,
    unrun,
)
from canonical import ROOT, source_of

PAGES = sorted(path.name for path in (ROOT / "notebooks").glob("[0-9][0-9]_*.ipynb"))
# every second page in the ordinary run, all of them with the mark slow
SAMPLED = [n if i % 2 == 0 else pytest.param(n, marks=pytest.mark.slow) for i, n in enumerate(PAGES)]
MOST_PRESSES = 5
QUICK_S = 3  # before all presses are made
JUMP_LIMIT_PX = 4
TALLEST_SHOT_PX = 16000

# A slider with its visible label, read-out and end stops.
READ = """
handle => {
  const box = handle.closest('.widget-slider, .jupyter-widgets');
  const label = box.querySelector('.widget-label'), readout = box.querySelector('.widget-readout');
  return {label: label ? label.innerText.trim() : '', said: handle.getAttribute('aria-label'),
          seen: !!label && label.getBoundingClientRect().width > 0,
          cut: !!label && label.scrollWidth > label.clientWidth + 1, readout: readout ? readout.innerText : '',
          now: +handle.getAttribute('aria-valuenow'), top: +handle.getAttribute('aria-valuemax')};
}
"""


@pytest.fixture(params=SAMPLED)
def page(request, browser, lab):
    with opened(browser, lab[0], f"notebooks/{request.param}") as opened_page:
        opened_page.name = request.param.removesuffix(".ipynb")
        yield opened_page


def has_unit(slider):
    """A unit follows the label's comma or stands in brackets, or the read-out carries one (% included)."""
    return bool(
        re.search(r"(,\s*|[(\[])°?[^\W\d]|[(\[,]\s*%", slider["label"])
        or re.search(r"[^\W\d_]|[%°]", slider["readout"])
    )


def press_until_changed(page, key, before):
    """Press key until picture and text have both changed from the state before; True if they did."""
    for _ in range(MOST_PRESSES):
        page.keyboard.press(key)
        if both_change(page, before, QUICK_S / MOST_PRESSES):
            return True
    return both_change(page, before, CHANGE_LIMIT_S)


def try_slider(page, output, handle):
    """Faults found while one slider (its handle, inside output) is looked at and moved there and back."""
    handle.scroll_into_view_if_needed()
    page.wait_for_timeout(200)  # cells far down the page are drawn when they come into view
    slider, faults = handle.evaluate(READ), []
    name = slider["label"] or "a slider without label"
    if not slider["seen"] or slider["cut"] or not has_unit(slider):
        faults.append(f"{name}: label not visible, cut off, or without unit: {slider}")
    if slider["said"] != slider["label"] or not handle.get_attribute("aria-valuetext"):
        faults.append(f"{name}: a screen reader hears {slider['said']!r}")
    start_watching(page, output)
    handle.focus()
    keys = ("ArrowRight", "ArrowLeft") if slider["now"] < slider["top"] else ("ArrowLeft", "ArrowRight")
    for key in keys:
        if not press_until_changed(page, key, state_of(page)):
            faults.append(f"{name}: {key} changed not both picture and text")
    page.wait_for_timeout(300)  # what follows when the slider rests
    heights = [frame[3] for frame in stop_watching(page)[0]]
    if max(heights) - min(heights) > JUMP_LIMIT_PX:
        faults.append(f"{name}: the output's height moved between {min(heights):.0f} and {max(heights):.0f} px")
    return faults


def full_height(page):
    """Height in px that a window needs to show the last cell."""
    return page.evaluate(
        "() => { document.querySelector('.jp-WindowedPanel-outer').scrollTop = 0;"
        " return Math.ceil([...document.querySelectorAll('.jp-Notebook .jp-Cell')].at(-1)"
        ".getBoundingClientRect().bottom) + 80 }"
    )


def photograph(page, folder):
    """Write the whole page to folder, in the light and in the dark theme."""
    for theme in ("Light", "Dark"):
        page.evaluate("theme => jupyterapp.commands.execute('apputils:change-theme', {theme})", f"JupyterLab {theme}")
        page.wait_for_function("theme => document.body.dataset.jpThemeName === theme", arg=f"JupyterLab {theme}")
        page.set_viewport_size(VIEW | {"height": TALLEST_SHOT_PX})
        page.wait_for_timeout(400)
        page.set_viewport_size(VIEW | {"height": min(full_height(page), TALLEST_SHOT_PX)})
        page.wait_for_timeout(300)
        bare, count = pictures_without_words(page)
        assert not bare, f"{len(bare)} of {count} pictures have no text"
        page.screenshot(path=folder / f"{page.name}_{theme.lower()}.png")
        page.set_viewport_size(VIEW)


def test_page_runs_and_every_slider_moves_its_picture(page, shots):
    cells = [cell for cell in stored_in(page)["cells"] if cell["cell_type"] == "code"]
    for cell in cells:
        assert cell["execution_count"], f"not run: {source_of(cell)[:80]!r}"
        for output in cell["outputs"]:
            may = "raises-exception" in cell["metadata"].get("tags", [])
            assert output["output_type"] != "error" or may, f"{output['evalue']} from {source_of(cell)[:80]!r}"
    photograph(page, shots)
    faults = [
        fault
        for output in live_outputs(page)
        for handle in output.query_selector_all('[role="slider"]')
        for fault in try_slider(page, output, handle)
    ]
    if faults:
        pytest.fail("\n".join(faults), pytrace=False)
    assert live_outputs(page) or page.name.startswith(("00", "10")), "no live panel on the page"


def pictures_without_words(page):
    """Pictures in outputs that have no text for who does not see them; how many pictures there are."""
    return page.evaluate(
        "() => { const all = [...document.querySelectorAll('.jp-OutputArea-output img')];"
        " return [all.filter(i => (i.alt || '').length < 30).map(i => i.src.slice(0, 60)), all.length] }"
    )


def test_the_projects_own_switches_are_on(browser, lab, served):
    log = lab[1].read_text()
    assert "benchcalc.show.server | extension was successfully loaded" in log, log[-2000:]
    assert "live pictures may stutter" not in log
    with opened(browser, lab[0], f"notebooks/{PAGES[0]}") as page:
        page.wait_for_timeout(1000)
        assert page.locator(".Toastify__toast").count() == 0, "a pop-up covers the page at the first start"


def test_a_page_says_what_to_run_first_and_stays_where_its_reader_is(browser, lab):
    with unrun(browser, lab[0], "notebooks/04_insulation.ipynb") as page:
        page.evaluate(
            "() => { const book = jupyterapp.shell.currentWidget.content;"
            " book.activeCellIndex = book.widgets.findIndex((c, i) => i > 1 && c.model.type === 'code');"
            " jupyterapp.commands.execute('notebook:run-cell') }"
        )
        page.wait_for_selector(".jp-OutputArea-output [role=alert]", timeout=RUN_LIMIT_S * 1000)
        said = page.locator(".jp-OutputArea-output:has([role=alert])").inner_text()
        assert "first cell" in said and "Run All Above" in said and "NameError" in said, said
        assert page.locator(".jp-OutputArea-output [role=alert]").count() == 1
        run_all(page)
        page.wait_for_timeout(800)
        assert page.locator("[role=alert]").count() == 0
        assert page.evaluate("() => document.querySelector('.jp-WindowedPanel-outer').scrollTop") == 0
        page.evaluate(
            "() => { const outer = document.querySelector('.jp-WindowedPanel-outer');"
            " jupyterapp.commands.execute('notebook:run-all-cells');"
            " outer.dispatchEvent(new Event('wheel')); outer.scrollTop = 900 }"
        )
        page.wait_for_timeout(1200)
        assert page.evaluate("() => document.querySelector('.jp-WindowedPanel-outer').scrollTop") > 0, "he moved on"
