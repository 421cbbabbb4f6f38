"""Every test works with the demo's sheet, never with the user's own."""

from canonical import use_the_demo

use_the_demo()


def pytest_collection_modifyitems(items):
    """The browser comes last: its driver keeps an event loop running, which other tests must not find."""
    items.sort(key=lambda item: "browser" in item.path.parts)
