"""Verdicts as they are told where numbers are not the maker's own: borrowed from a demo, or a demo that is lent."""

from dataclasses import replace

import numpy as np

from ..sheet.borrowed import borrowed
from ..sheet.defaults import default
from ..sheet.field_words import field_words
from ..sheet.key import ASSUMED
from ..thermal.control.law import ON_OFF
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


ASSUMED_HERE = "assumed on the sheet"  # how the note of a verdict begins that would be fine but for a guess
ELECTRICAL = ("supply", "wire", "coil")
HEAT = (*ELECTRICAL, "part", "joint", "layer", "room", "heat", "heat_break", "lead_out")
SIZES = ("wire", "part", "layer", "coil.layers")  # what a thickness rests on, whatever the length of the wire
WISH_W, WISH_C = "want.power_w", "want.tip_c"
RESTS_ON = {  # sections, or single paths, that the verdicts of a link rest on; a link of one's own rests on all of them
    "supply": ("supply", "other_supply"),
    "bench": (*ELECTRICAL, "soak"),
    "wire": ELECTRICAL,
    "coil": ELECTRICAL,
    **dict.fromkeys(("heat", "metals", "insulation", "leads", "handle"), HEAT),
    "warm_up": ("log",),  # read where the probe sat: neither parts nor use move it
    "control": (*HEAT, "control", "sensor", WISH_C),
}
BY_KEY = {  # and those of verdicts that rest on something else, by their key or their words
    ("supply", "load_w"): (*ELECTRICAL, WISH_W),
    ("bench", "winding_c"): ("supply", "soak"),  # as read, at the amps of the test
    **dict.fromkeys([("coil", key) for key in ("winding_m", "gap_m", "turns")], ("wire", "coil", "part", "layer")),
    **dict.fromkeys([("coil", "former_m"), ("coil", "outer_m"), ("insulation", "stack_m")], SIZES),
    ("wire", "misfit"): ("wire",),
    ("insulation", "withstand_v"): ("supply", "layer"),
    ("insulation", "years"): (*HEAT, "use"),
    ("handle", "wood_years"): (*HEAT, "use"),
    ("handle", "web_pa"): (*HEAT, "use"),
    ("handle", "web_m"): ("part", "heat_break"),
    ("heat", "tip against the wanted temperature"): (*HEAT, WISH_C),
    ("control", "contact_life_s"): ("control", "use"),  # where the window tells the rounds
}


def rests_on(build, link, verdict, paths):
    """Those of the paths that a verdict rests on.

    build: Build. link: of the verdict, "" where it is not told. verdict: Verdict. paths: of the build.
    Returns list of paths.  The wanted power counts where it decides the coil's length; of the box only the wire that
    is wound.
    """
    sections = BY_KEY.get((link, verdict.what), BY_KEY.get((link, verdict.key), RESTS_ON.get(link)))
    if verdict.key == "contact_life_s" and build.control is not None and build.control.law == ON_OFF:
        sections = (*RESTS_ON["control"], "use")  # the tool itself tells them
    if sections is None:
        return paths
    if "coil" in sections and build.coil is not None and build.coil.length_m is None:
        sections = (*sections, *ELECTRICAL, WISH_W)
    near = link == "coil" or verdict.key == "stack_m"
    return [p for p in paths if (p in sections or p.split(".")[0] in sections) and not _elsewhere(build, near, p)]


def _elsewhere(build, near_coil, path):
    """Whether a path belongs to a wire that is not wound, or to a part that neither bears the coil nor holds it."""
    section, _, rest = path.partition(".")
    if section == "wire":
        own = wound(build)
        return own is None or not rest.startswith(f"{own.id}.")
    if section != "part" or not near_coil or build.coil is None:
        return False
    near = {build.coil.on, *(part.id for part in build.part if part.inner_m is not None and part.role != "handle")}
    return rest.split(".")[0] not in near


def guessed(build):
    """Paths of what the maker marked as assumed on the sheet itself.

    build: Build.
    Returns list of paths.  A guess that leaves as much doubt as a sheet that says nothing is no worse than its silence:
    that doubt is in the bands already; and all places count from the tip, so that where the tip begins is no guess.
    """
    marked = [(path, known) for path, known in build.known.items() if known.how == ASSUMED and known.line is not None]
    return [p for p, known in marked if not _as_wide(default(p), known) and not _is_the_tip(build, p, known)]


def _is_the_tip(build, path, known):
    """Whether a path is where the foremost part begins, at 0 by definition: the tip, or the only part that does."""
    at = [part for part in build.part if part.from_m == 0.0]
    own = [p for p in at if path == f"part.{p.id}.from_m" and (p.role == "tip" or len(at) == 1)]
    return bool(own) and known.low == known.high == 0.0


def rested_on(build, verdicts):
    """What the maker only assumed, by how many limits would be fine without that doubt, the most first.

    build: Build. verdicts: (link, Verdict) pairs as they are told.
    Returns tuple of (path, words, number of limits); advice counts as none.
    """
    paths = guessed(build)
    resting = [(link, v) for link, v in verdicts if v.note.startswith(ASSUMED_HERE) and not v.advice]
    counts = dict.fromkeys(paths, 0)
    for link, v in resting:
        for path in rests_on(build, link, v, paths):
            counts[path] += 1
    most = sorted(((p, n) for p, n in counts.items() if n), key=lambda one: -one[1])
    return tuple((p, field_words(build, p), n) for p, n in most)


def heat_guesses(build):
    """What the maker only assumed of all that the settled temperatures rest on, in words; "" where nothing is.

    build: Build.
    """
    paths = [p for p in guessed(build) if p.split(".")[0] in HEAT and not _elsewhere(build, False, p)]
    paths.sort(key=lambda p: p != "coil.length_m")  # what carries the watts first
    few = "; ".join(field_words(build, p) for p in paths[:2])
    return few + (f"; and {len(paths) - 2} more, listed beside what to mend" if len(paths) > 2 else "")


def _as_wide(row, known):
    """Whether a guess leaves at least the doubt of data/defaults.csv.  row: of it, or None. known: Known."""
    return row is not None and row["low"] < row["high"] and known.low <= row["low"] and known.high >= row["high"]


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
            one = field_words(build, rests[0]) + (f" and {len(rests) - 1} more" if len(rests) > 1 else "")
            v = replace(v, state="not known", note=f"{ASSUMED_HERE}: {one}", why=why)
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
