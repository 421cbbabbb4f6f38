"""A stranger's sheet and log in a real browser: names that are markup run nothing, load nothing, spoil no picture."""

import json
import re

import pytest
from browser.lab import opened, running_lab, stored_in
from canonical import ROOT
from notebooks.hostile import hostile_sheet

import benchcalc as bc
from benchcalc.show.card.html import card_document
from benchcalc.studies.card.card import build_card

ORDINARY = ("00_start_here",)
PAGES = [
    path.stem if path.stem in ORDINARY else pytest.param(path.stem, marks=pytest.mark.slow)
    for path in sorted((ROOT / "notebooks").glob("[0-9][0-9]_*.ipynb"))
]


@pytest.fixture(scope="module")
def hostile_lab(chromium, served, tmp_path_factory):
    """A JupyterLab whose chosen sheet has markup in its name, in every id, and in a log's file name and channel."""
    folder = tmp_path_factory.mktemp("hostile")
    sheet = hostile_sheet("insert_press", folder)
    (folder / "my").mkdir()
    settings = {"BENCHCALC_SHEET": str(sheet), "BENCHCALC_MY": str(folder / "my")}
    with running_lab(served, tmp_path_factory.mktemp("hostile_home"), **settings) as started:
        yield started


def harmless(page):
    """Whether nothing in a page has run as script, and no picture or link is there that a name of the sheet made."""
    found = page.locator('img[src$="nowhere"], a[href*="javascript"], a[href$="nowhere"]').count()
    return found == 0 and page.evaluate("() => window.evil === undefined")


@pytest.mark.parametrize("name", PAGES)
def test_nothing_of_a_hostile_sheet_runs_or_loads(browser, hostile_lab, name):
    with opened(browser, hostile_lab[0], f"notebooks/{name}.ipynb") as page:
        page.set_viewport_size({"width": 1280, "height": 16000})  # cells out of sight are not laid out
        page.wait_for_timeout(1500)
        stored = stored_in(page)["cells"]
        errors = [o["evalue"] for c in stored if c["cell_type"] == "code" for o in c["outputs"] if "evalue" in o]
        assert errors == []
        assert "evil" in json.dumps(stored), "the hostile sheet is not on the page"
        assert harmless(page)
    requested = re.findall(r"(?:GET|404).*nowhere", hostile_lab[1].read_text())
    assert requested == []


def test_nothing_of_a_card_on_paper_runs_or_loads(browser, tmp_path):
    build = bc.load(hostile_sheet("foil_iron", tmp_path))
    card = tmp_path / "card.html"
    card.write_text(card_document(build, build_card(build, bc.work_out(build, samples=0))), encoding="utf-8")
    page, asked = browser.new_page(), []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(card.as_uri())
    assert harmless(page) and "javascript:evil" in page.inner_text("body")  # the letters are there, and only letters
    assert [url[:40] for url in asked if not url.startswith(("data:", card.as_uri()))] == []
    page.close()
