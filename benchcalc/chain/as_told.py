"""Verdicts as they are told where numbers are not the maker's own: borrowed from a demo, or a demo that is lent."""

from dataclasses import replace

import numpy as np

from ..sheet.borrowed import borrowed
from ..sheet.field_words import field_words
from ..sheet.key import ASSUMED
from .supply.link import is_guessed
from .wire.link import wound


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


ELECTRICAL = ("supply", "wire", "coil")
RESTS_ON = {  # sections that the verdicts of a link rest on; every other link rests on all of them
    "supply": ("supply", "other_supply"),
    "bench": (*ELECTRICAL, "soak"),
    "wire": ELECTRICAL,
    "coil": ELECTRICAL,
}
BY_KEY = {  # and those of verdicts that rest on something else
    ("supply", "load_w"): (*ELECTRICAL, "want"),
    ("bench", "winding_c"): ("supply", "soak"),
    **dict.fromkeys(
        [("coil", key) for key in ("winding_m", "gap_m", "former_m", "outer_m", "turns")],
        ("wire", "coil", "part", "layer"),
    ),
}


def rests_on(build, link, verdict, paths):
    """Those of the paths that a verdict rests on.

    build: Build. link: of the verdict, "" where it is not told. verdict: Verdict. paths: of the build.
    Returns list of paths.  The wanted power counts where it decides the coil's length; of the box only the wire that
    is wound.
    """
    sections = BY_KEY.get((link, verdict.key), RESTS_ON.get(link))
    if sections is None:
        return paths
    if "coil" in sections and build.coil is not None and build.coil.length_m is None:
        sections = (*sections, *ELECTRICAL, "want")
    return [p for p in paths if p.split(".")[0] in sections and not _elsewhere(build, link, p)]


def _elsewhere(build, link, path):
    """Whether a path belongs to a wire that is not wound, or to a part that neither bears the coil nor holds it."""
    section, _, rest = path.partition(".")
    if section == "wire":
        own = wound(build)
        return own is None or not rest.startswith(f"{own.id}.")
    if section != "part" or link != "coil":
        return False
    near = {build.coil.on, *(part.id for part in build.part if part.inner_m is not None and part.role != "handle")}
    return rest.split(".")[0] not in near


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
        rests = rests_on(build, link, v, paths)
        if rests and np.ndim(v.value) == 0 and v.state == "fine":
            few = "; ".join(field_words(build, p) for p in rests[:3])
            few += f"; and {len(rests) - 3} more" if len(rests) > 3 else ""
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
