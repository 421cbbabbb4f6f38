"""Every test works with the demo's sheet, never with the user's own."""

import gc

import pytest
from canonical import use_the_demo

use_the_demo()
TABLES = pytest.StashKey[dict]()


@pytest.fixture
def table(request):
    """Function (title, lines): what is told at the end of the run, by title; it judges nothing."""

    def tell(title, lines):
        request.config.stash.setdefault(TABLES, {}).setdefault(title, []).extend(lines)

    return tell


def pytest_terminal_summary(terminalreporter, config):
    """All that was told to tables."""
    for title, lines in config.stash.get(TABLES, {}).items():
        terminalreporter.section(f"{title} (nothing is judged by time)")
        for line in lines:
            terminalreporter.write_line(line)


def pytest_collection_finish():
    """What is there now stays to the end: the collector need not look at it again and again."""
    gc.collect()
    gc.freeze()


def pytest_collection_modifyitems(items):
    """The browser comes last: its driver keeps an event loop running, which other tests must not find."""
    items.sort(key=lambda item: "browser" in item.path.parts)
