"""A stranger's sheet and log in a real browser: names that are markup run nothing, load nothing, spoil no picture."""

import json
import re

import pytest
from browser.lab import opened, running_lab, stored_in
from canonical import ROOT

MARKUP = "<img src=nowhere onerror=evil=1>![m](/nowhere)$x_$"
ORDINARY = ("00_start_here",)
PAGES = [
    path.stem if path.stem in ORDINARY else pytest.param(path.stem, marks=pytest.mark.slow)
    for path in sorted((ROOT / "notebooks").glob("[0-9][0-9]_*.ipynb"))
]


@pytest.fixture(scope="module")
def hostile_lab(chromium, served, tmp_path_factory):
    """A JupyterLab whose chosen sheet has markup in its name, in every id, and in a log's file name and channel."""
    folder = tmp_path_factory.mktemp("hostile")
    text = (ROOT / "data" / "builds" / "insert_press.toml").read_text(encoding="utf-8")
    for name in set(re.findall(r'^id = "([^"]+)"', text, re.M)):
        text = text.replace(f'"{name}"', f"'{name}{MARKUP}'")
    log, evil_log = "insert_press_step.csv", f"step {MARKUP.replace('/', '')}.csv"
    text = text.replace(f'"{log}"', f"'{evil_log}'")
    text = re.sub(r"^name = .*$", lambda _: f"name = 'evil {MARKUP}'", text, count=1, flags=re.M)
    (folder / "evil.toml").write_text(text, encoding="utf-8")
    readings = (ROOT / "data" / "logs" / log).read_text(encoding="utf-8").replace("tip degC", f"tip {MARKUP} degC")
    (folder / evil_log).write_text(readings, encoding="utf-8")
    (folder / "my").mkdir()
    settings = {"BENCHCALC_SHEET": str(folder / "evil.toml"), "BENCHCALC_MY": str(folder / "my")}
    with running_lab(served, tmp_path_factory.mktemp("hostile_home"), **settings) as started:
        yield started


@pytest.mark.parametrize("name", PAGES)
def test_nothing_of_a_hostile_sheet_runs_or_loads(browser, hostile_lab, name):
    with opened(browser, hostile_lab[0], f"notebooks/{name}.ipynb") as page:
        page.set_viewport_size({"width": 1280, "height": 16000})  # cells out of sight are not laid out
        page.wait_for_timeout(1500)
        stored = stored_in(page)["cells"]
        errors = [o["evalue"] for c in stored if c["cell_type"] == "code" for o in c["outputs"] if "evalue" in o]
        assert errors == []
        assert "evil" in json.dumps(stored), "the hostile sheet is not on the page"
        assert page.evaluate("() => window.evil === undefined"), "a name of the sheet ran as script"
        assert page.locator('img[src$="nowhere"]').count() == 0, "a name of the sheet became a picture"
    requested = re.findall(r"(?:GET|404).*nowhere", hostile_lab[1].read_text())
    assert requested == []
