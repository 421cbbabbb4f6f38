"""What rests on a demo that stands in for a sheet says so: a line above a table, a sentence before words."""

from functools import wraps

from ...basics.escape import plain_text
from ...sheet.build import Build
from .table import captioned
from .words import Words


def lent_words(build: Build) -> str:
    """Whose numbers these are where a demo stands in for the sheet.

    build: Build.
    Returns a sentence, "" where they are the sheet's own.
    """
    return f"Of the demo {plain_text(build.lent)}, not of your tool." if build.lent else ""


def tells_lent(show):
    """A function of a page whose table or words name the demo that they rest on.

    show: function with a Build as its first argument; gives a Table, Words, or a tuple that begins with one of them.
    Returns function of the same arguments.
    """

    @wraps(show)
    def told(build, *args, **more):
        given, whose = show(build, *args, **more), lent_words(build)
        if not whose:
            return given
        if isinstance(given, tuple):
            return _named(whose, given[0]), *given[1:]
        return _named(whose, given)

    return told


def _named(whose, thing):
    if isinstance(thing, Words):
        return Words(f"*{whose}* {thing.text}") if thing.text else thing
    return captioned(whose, thing)
