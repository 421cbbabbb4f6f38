"""The way from page to page: one order, read from the folder of the pages."""

import re
from pathlib import Path

from .lesson import Words

TEACHERS = "00_plan.ipynb"  # leads to the pages of the class; none of them leads back: it holds their answers
PAGE = re.compile(r"(\d\d)_(\w+)\.ipynb")


def pages_here(folder=None):
    """The pages beside this one, in their order.

    folder: of the pages; None for the one a page runs in.
    Returns list of file names.
    """
    return sorted(p.name for p in Path(folder or ".").glob("[0-9][0-9]_*.ipynb") if PAGE.fullmatch(p.name))


def way(page: str, folder: str | Path | None = None) -> Words:
    """Links to the page before this one, to the first and to the next; none to the teacher's page of a class.

    page: number of this page, e.g. "05". folder: of the pages; None for the one a page runs in.
    Returns Words, empty where the pages are not there.
    """
    here = pages_here(folder)
    at = next((i for i, name in enumerate(here) if name.startswith(f"{page}_")), None)
    if at is None:
        return Words("")
    if here[0] == TEACHERS and at > 0:
        here, at = here[1:], at - 1
    told = []
    if at > 0:
        told.append(f"previous: {_link(here[at - 1])}")
    if at > 1:
        told.append(f"all: {_link(here[0])}")
    if at + 1 < len(here):
        told.append(f"next: {_link(here[at + 1])}")
    return Words(" · ".join(told))


def _link(name):
    number, words = PAGE.fullmatch(name).groups()
    return f"[{number} {words.replace('_', ' ')}]({name})"
