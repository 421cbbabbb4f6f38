"""One JupyterLab and one Chromium for all browser tests.

BENCHCALC_BROWSER=required makes a missing Chromium a failure instead of a skip.
BENCHCALC_SHOTS=folder keeps the screenshots.
"""

import os
import shutil
from pathlib import Path

import pytest
from browser.lab import BROWSER_ARGUMENTS, running_lab
from canonical import ROOT


@pytest.fixture(scope="session")
def chromium():
    """The path of Debian's Chromium."""
    path = shutil.which("chromium") or shutil.which("chromium-browser")
    if path is None:
        word = "Chromium is not installed: the pages are not looked at in a browser (apt-get install chromium)"
        if os.environ.get("BENCHCALC_BROWSER") == "required":
            pytest.fail(word)
        pytest.skip(word)
    return path


@pytest.fixture(scope="session")
def served(tmp_path_factory):
    """The folder that is served: a copy, so that nothing in the checkout changes."""
    folder = tmp_path_factory.mktemp("served")
    shutil.copytree(
        ROOT / "notebooks", folder / "notebooks", ignore=shutil.ignore_patterns(".ipynb_checkpoints", "__pycache__")
    )
    return folder


@pytest.fixture(scope="session")
def lab(chromium, served, tmp_path_factory):
    """(address, log) of a running JupyterLab."""
    with running_lab(served, tmp_path_factory.mktemp("home")) as started:
        yield started


@pytest.fixture(scope="session")
def browser(chromium):
    """A running Chromium."""
    playwright = pytest.importorskip("playwright.sync_api")
    with playwright.sync_playwright() as player:
        running = player.chromium.launch(executable_path=chromium, headless=False, args=BROWSER_ARGUMENTS)
        yield running
        running.close()


@pytest.fixture(scope="session")
def shots(tmp_path_factory):
    """The folder for screenshots."""
    folder = Path(os.environ.get("BENCHCALC_SHOTS") or tmp_path_factory.mktemp("shots"))
    folder.mkdir(parents=True, exist_ok=True)
    return folder
