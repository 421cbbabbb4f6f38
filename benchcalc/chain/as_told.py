"""Verdicts as they are told where numbers are not the maker's own: borrowed from a demo, or a demo that is lent."""

from dataclasses import replace

import numpy as np

from ..sheet.borrowed import borrowed
from ..sheet.key import ASSUMED
from .supply.link import is_guessed


def mark_of(verdict):
    """What tells whether a verdict is still the same one: what, does it apply, value, limit.  verdict: Verdict."""
    return verdict.what, verdict.state == "does not apply", f"{verdict.value:.6g}", f"{verdict.limit:.6g}"


def is_untold(workings, link, field):
    """Whether no page and no card may print a number of a link: only a guess that carries the chain on, or what a
    verdict calls not known.

    workings: Workings. link: its name. field: of its part.
    A verdict that holds the number against something speaks for it; one that is not known for want of a limit has
    another key.
    """
    about = [v for v in workings.of(link) if v.key == field]
    lacking = any(v.state == "not known" and np.ndim(v.value) == 0 and np.isnan(v.value) for v in about)
    return is_guessed(workings.parts.get(link), field) or lacking and all(v.state == "not known" for v in about)


RESTS_ON = {  # sections that the verdicts of a link rest on; every other link rests on all of them
    "supply": ("supply", "other_supply"),
    "bench": ("supply", "soak"),
    "wire": ("supply", "wire", "want"),
    "coil": ("supply", "wire", "coil", "want"),
}


def guessed(build):
    """Paths of what the maker marked as assumed on the sheet itself.  build: Build."""
    return [path for path, known in build.known.items() if known.how == ASSUMED and known.line is not None]


def without_guesses(build, verdicts):
    """Verdicts in which none is fine by what the maker only assumed; what is tight or over stays so.

    build: Build. verdicts: (link, Verdict) pairs.
    """
    paths = guessed(build)
    if not paths:
        return tuple(verdicts)
    told = []
    for link, v in verdicts:
        rests = [p for p in paths if p.split(".")[0] in RESTS_ON.get(link, (p.split(".")[0],))]
        if rests and np.ndim(v.value) == 0 and v.state == "fine":
            few = ", ".join(rests[:3]) + (f" and {len(rests) - 3} more" if len(rests) > 3 else "")
            why = f"It would be fine, but rests on what is only assumed on the sheet ({few}). {v.why}"
            v = replace(v, state="not known", note="assumed on the sheet", why=why)
        told.append((link, v))
    return tuple(told)


def as_told(build, verdicts, stand):
    """Verdicts as they are told: one that rests on borrowed evidence is not known, and a lent demo is named.

    build: Build. verdicts: (link, Verdict) pairs. stand: marks of those that stand without it, or None: nothing
    was borrowed.
    Returns tuple of (link, Verdict).  What is over stays over: doubt makes nothing safer.
    """
    verdicts = without_guesses(build, verdicts)
    if build.lent:
        return tuple((link, replace(v, note=f"demo {build.lent}")) for link, v in verdicts)
    if stand is None:
        return tuple(verdicts)
    lent = ", ".join(borrowed(build))
    told, note = [], f"borrowed from the demo {build.begun_from}"
    for link, v in verdicts:
        if np.ndim(v.value) or v.state == "does not apply" or mark_of(v) in stand:
            told.append((link, v))
            continue
        state = v.state if v.state == "over" else "not known"
        why = f"It rests on what that demo lends ({lent}): nobody measured it on your tool. {v.why}"
        told.append((link, replace(v, state=state, note=note, why=why)))
    return tuple(told)
