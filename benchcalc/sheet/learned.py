"""What readings on the finished tool taught, put into the build and taken out again."""

from dataclasses import replace
from types import MappingProxyType

from .build import Build, Known
from .change import change, get
from .learned_together import LEARNED
from .teachable import name_of, possible, said_of, teachable


def with_learned(build: Build, *, that_day: bool = False) -> Build:
    """The build with what its sheet keeps as learned put in.

    build: Build, nothing learned in it yet. that_day: True to put in what belonged to that day too: mains and room.
    Returns Build; what is used is known as "learned", with its ends, and each of its entries names the field; an entry
    of something that the sheet no longer says is not used, and says why.
    """
    if not build.learned:
        return build
    named = {name_of(build, path): path for path in teachable(build)}
    known, entries = dict(build.known), []
    for entry in build.learned:
        path = named.get(entry.input)
        why = _why_not(build, entry, path, that_day)
        if why:
            entries.append(replace(entry, path="", why=why))
            continue
        was = known.get(path)
        spread = "log" if was is not None and was.spread == "log" and entry.low > 0 else "uniform"
        entries.append(replace(entry, path=path, why="", was=get(build, path), was_known=was))
        known[path] = Known(entry.low, entry.high, LEARNED, f"learned from {entry.log}", spread=spread, group=LEARNED)
        build = change(build, path, entry.value)
    return replace(build, learned=tuple(entries), known=MappingProxyType(known))


def _why_not(build, entry, path, that_day):
    if entry.that_day and not that_day:
        return "it belongs to that day, not to the tool"
    if path is None:
        return f"this sheet has no input {entry.input}"
    if entry.of != said_of(build, path):
        return f"it was learned of {entry.of}, and the sheet now says {said_of(build, path)}"
    least, most = possible(path)
    if not least <= entry.low <= entry.high <= most:
        return f"it can only be {least:g} to {most:g}"
    return ""


def without_learned(build: Build) -> Build:
    """The build as its sheet is without what was learned.

    build: Build.
    Returns Build; a field that was changed since keeps its change.
    """
    known = dict(build.known)
    for entry in build.learned:
        if entry.path and entry.path in known and known[entry.path].how == LEARNED:
            build = change(build, entry.path, entry.was)
            known[entry.path] = entry.was_known  # where it stood
    known = {path: k for path, k in known.items() if k is not None}
    return replace(build, learned=(), known=MappingProxyType(known))


def of_that_day(build: Build) -> Build:
    """The build as it stood on the day of the readings: its mains and its room too.

    build: Build.
    """
    bare = without_learned(build)
    return with_learned(replace(bare, learned=build.learned), that_day=True)


def learned_words(build: Build) -> str:
    """What of a sheet was learned, and what of it is not used, in sentences.

    build: Build.
    Returns text; "" for a sheet that keeps nothing of the kind.
    """
    used = [e for e in build.learned if e.path]
    idle = [e for e in build.learned if not e.path and not e.that_day]
    told = []
    if used:
        logs = "; ".join(dict.fromkeys(e.log for e in used))
        told.append(f"Learned from {logs}: {len(used)} inputs of the tool.")
    told += [f"Learned and not used: {e.input}, for {e.why}." for e in idle]
    return " ".join(told)
