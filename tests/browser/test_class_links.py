"""The index of the thirty questions in a real browser: a link arrives at the heading that it names."""

import pytest
from browser.lab import VIEW, opened

LINK = "a[href*='07_handle_and_heat_break.ipynb'][href*='#Cool']"
SEEN = """
() => {
  const panel = jupyterapp.shell.currentWidget;
  const heads = [...panel.node.querySelectorAll('h3')].filter(h => h.textContent.includes('Cool enough'));
  return heads.some(h => h.getBoundingClientRect().top > 0 && h.getBoundingClientRect().top < window.innerHeight);
}
"""


@pytest.mark.slow
def test_a_link_to_a_page_that_was_not_open_arrives_at_its_heading(browser, lab):
    with opened(browser, lab[0], "notebooks/class/07_questions.ipynb") as page:
        page.set_viewport_size(VIEW)
        page.wait_for_selector(LINK, state="attached")
        page.evaluate("link => document.querySelector(link).click()", LINK)
        page.wait_for_function("() => jupyterapp.shell.currentWidget?.title.label.startsWith('07_handle')")
        page.wait_for_function(SEEN, timeout=30_000)
