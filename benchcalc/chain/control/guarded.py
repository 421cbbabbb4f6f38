"""What a cut-out on the sheet guards when control fails, and the tool left on and forgotten with it.

A tool left on in an empty room and a switch that has fused are one event: the same cut-out ends both.
"""

from dataclasses import dataclass, replace

import numpy as np

from ...basics.band import Band
from ...basics.names import say
from ...basics.tables import source_words
from ..heat.left_on import forgotten, room_doubt
from ..heat.limits import ITSELF, kinds_of, upper_end, worst_of
from ..verdict import Limit, judge, not_fine
from .cut_out import own_cut_out
from .opened import after_opening, opened
from .part import Harm


def fitted_cut_out(build, heat, control, bands):
    """The cut-out that the sheet names.

    build: Build. heat: HeatPart. control: ControlPart. bands: path -> Band.
    Returns (CutOut or None, why it cannot be judged).
    """
    return own_cut_out(build, heat.model, control, bands, control.use_doubt_k, room_doubt(build))


@dataclass(frozen=True)
class Unguarded:
    """The place that comes nearest to its limit, or passes it by most, once the cut-out has opened where there is one.
    harm: Harm. top_c: its hottest, degC. band: of that, or None. saved: words of the places that a cut-out guards.
    reached: whether any limit may be passed. opens_s: when a cut-out that counts opens at the latest, nan for none.
    after_s: when the limit is passed, nan for never."""

    harm: Harm
    top_c: float
    band: Band | None
    saved: tuple
    reached: bool
    opens_s: float
    after_s: float


def unguarded(control, bands, fitted, tip=True, burns=None):
    """The worst place with power stuck on; with a cut-out that comes in time, of what they come to once it has opened.

    control: ControlPart with harms. bands: path -> Band. fitted: CutOut of the sheet, or None. tip: whether a tip that
    works counts. burns: which kind of place counts, None for all.
    Returns Unguarded, None where no place counts.  What a place comes to after a cut-out is doubted as its rise up to
    then is.
    """
    harms = [h for h in control.harms if (tip or h.at.key != "tip_c") and burns in (None, h.at.burns)]
    if not harms:
        return None
    cut = opened(control, fitted) if fitted is not None and fitted.in_time else None
    doubts = [h.at.doubt(bands, control.left.room_c, ITSELF) for h in harms]
    reached = [max(h.end_c, upper_end(h.end_c, d)) > h.limit_c for h, d in zip(harms, doubts)]
    tops, after_s = [h.end_c for h in harms], [h.after_s for h in harms]
    if cut is not None:
        tops, after_s, doubts = _once_opened(control, harms, doubts, cut)
    places = [replace(h.at, value_c=top) for h, top in zip(harms, tops)]
    place, band = worst_of(places, doubts)
    worst = next(k for k, p in enumerate(places) if p is place)
    saved = [
        h.place
        for h, top, d, was in zip(harms, tops, doubts, reached)
        if cut is not None and was and h.after_s != 0 and not max(top, upper_end(top, d)) > h.limit_c
    ]
    opens_s = float(cut.run.run.at_s) if cut is not None else float("nan")
    told = harms[worst], tops[worst], band, tuple(dict.fromkeys(saved)), any(reached), opens_s, after_s[worst]
    return Unguarded(*told)


def _once_opened(control, harms, doubts, cut):
    """What places come to once a cut-out has opened: their hottest, when the limit is passed, the doubt."""
    found = dict(zip(control.harms, after_opening(control, cut)))
    tops = [max(float(found[h][0].max()), h.used_c if h.after_s == 0 else -np.inf) for h in harms]
    after_s = [0.0 if h.after_s == 0 else found[h][1] for h in harms]
    return tops, after_s, [_up_to(h, top, d) for h, top, d in zip(harms, tops, doubts)]


def still_passed(control, bands, fitted):
    """The places that use spares and that may pass their limit with power stuck on, the sheet's cut-out counted.

    control: ControlPart with harms. bands: path -> Band. fitted: CutOut of the sheet.
    Returns tuple of words, doubt counted; None where the cut-out never opens in time, so that nothing is ended by it.
    """
    cut = opened(control, fitted) if fitted is not None and fitted.in_time else None
    if cut is None:
        return None
    harms = [h for h in control.harms if h.after_s != 0]
    doubts = [h.at.doubt(bands, control.left.room_c, ITSELF) for h in harms]
    tops, _, doubts = _once_opened(control, harms, doubts, cut)
    over = [h.place for h, top, d in zip(harms, tops, doubts) if max(top, upper_end(top, d)) > h.limit_c]
    return tuple(dict.fromkeys(over))


def _up_to(harm, top_c, band):
    """Band of a place at the hottest that it comes to: its doubt in the end, by the share of the rise up to then."""
    if band is None:
        return None
    from_c = harm.curve_c[0]
    gone = (top_c - from_c) / (harm.end_c - from_c) if harm.end_c - from_c > 1.0 else 1.0
    gone = float(np.clip(gone, 1e-9, 1.0))  # of a doubt that has no end nothing small is left
    return Band(top_c, top_c + gone * (band.low - harm.end_c), top_c + gone * (band.high - harm.end_c))


def when_passed(after_s):
    """When a limit is passed with power stuck on, a sentence or "".  after_s: s, 0 for in use, nan for never."""
    if not np.isfinite(after_s) or after_s <= 0:
        return ""
    return f" It takes {after_s / 60:.0f} min." if after_s > 90 else f" It takes {after_s:.0f} s."


def cut_off_words(left, begins, link=""):
    """What a cut-out does before the rest is told, "" without one.

    left: Unguarded. begins: what the run of it begins from, one of BEGINS. link: which it is, in words.
    """
    if not np.isfinite(left.opens_s):
        return ""
    when = f"{left.opens_s / 60:.1f} min" if left.opens_s >= 60 else f"{left.opens_s:.0f} s"
    before = f", before {', '.join(left.saved)} comes to harm" if left.saved else ""
    which = f", {link}," if link else ""
    since = "the cold tool is switched on" if begins == "cold" else "control fails"
    return f"your cut-out{which} opens at the latest {when} after {since}{before}; what is left of the heat counted, "


def forgotten_checks(build, parts, bands):
    """The verdicts on a tool that is left on and forgotten, the cut-out of its sheet counted where it guards.

    build: Build. parts: name of a link -> its part. bands: path -> Band.
    Returns list of Verdict, none without heat.
    """
    heat, control = parts["heat"], parts.get("control")
    if heat is None or heat.model is None:
        return []
    fitted = None if control is None or not control.harms else fitted_cut_out(build, heat, control, bands)[0]
    return [_guarded(build, control, bands, fitted, *one) for one in forgotten(build, bands)[0]]


def _guarded(build, control, bands, fitted, found, burns):
    """One verdict on a forgotten tool, with the cut-out of the sheet where that saves any place of its kind."""
    left = None if fitted is None else unguarded(control, bands, fitted, tip=False, burns=burns)
    if left is None or not left.saved:
        return found
    harm, way = left.harm, {"units": build.units, "degrees": build.degrees}
    link = f"{say('temp_c', fitted.rating_c, **way)} at {say('length_m', fitted.at_m, **way)}"
    made = judge(
        found.what,
        "temp_c",
        left.top_c,
        Limit(harm.limit_c, "at most", source_words(harm.source_id)),
        why=f"All night at {say('mains', control.left.mains)} of today's volts, still air, a warm room: "
        f"{cut_off_words(left, control.begins, link)}{harm.place} comes nearest to its limit. Never leave it on all "
        "the same.",
        band=left.band,
    )
    untold = [words for _, kind, words in kinds_of("", [h.at for h in control.harms], control.untold) if kind == burns]
    return not_fine(replace(made, place=harm.place, melts_c=found.melts_c), sum(untold, ()))
