"""Verdicts as they are told where numbers are not the maker's own: borrowed from a demo, or a demo that is lent."""

from dataclasses import replace

import numpy as np

from ..sheet.borrowed import borrowed


def mark_of(verdict):
    """What tells whether a verdict is still the same one: what, does it apply, value, limit.  verdict: Verdict."""
    return verdict.what, verdict.state == "does not apply", f"{verdict.value:.6g}", f"{verdict.limit:.6g}"


def as_told(build, verdicts, stand):
    """Verdicts as they are told: one that rests on borrowed evidence is not known, and a lent demo is named.

    build: Build. verdicts: (link, Verdict) pairs. stand: marks of those that stand without it, or None: nothing
    was borrowed.
    Returns tuple of (link, Verdict).  What is over stays over: doubt makes nothing safer.
    """
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
