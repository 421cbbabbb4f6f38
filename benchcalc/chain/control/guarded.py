"""What a cut-out on the sheet guards when control fails, and the tool left on and forgotten with it.

A tool left on in an empty room and a switch that has fused are one event: the same cut-out ends both.
"""

from dataclasses import dataclass, replace

import numpy as np

from ...basics.band import Band
from ...basics.names import say
from ...basics.tables import source_words
from ..heat.left_on import forgotten, room_doubt
from ..heat.limits import ITSELF, upper_end, worst_of
from ..verdict import Limit, judge, not_fine
from .cut_out import own_cut_out
from .part import Harm


def fitted_cut_out(build, heat, control, bands):
    """The cut-out that the sheet names.

    build: Build. heat: HeatPart. control: ControlPart. bands: path -> Band.
    Returns (CutOut or None, why it cannot be judged).
    """
    return own_cut_out(build, heat.model, control, bands, control.use_doubt_k, room_doubt(build))


@dataclass(frozen=True)
class Unguarded:
    """The place that comes nearest to its limit, or passes it by most, of those that nothing guards.  harm: Harm.
    band: of it, or None. saved: words of the places that a cut-out guards. reached: whether any limit may be passed."""

    harm: Harm
    band: Band | None
    saved: tuple
    reached: bool


def unguarded(control, bands, guards, tip=True):
    """The worst place with power stuck on; with a cut-out that guards, of those that it leaves.

    control: ControlPart with harms. bands: path -> Band. guards: whether the sheet's cut-out opens before the first
    harm beyond use, and not in use. tip: whether a tip that works counts.
    Returns Unguarded, None where nothing is left.
    """
    harms = [h for h in control.harms if tip or h.at.key != "tip_c"]
    doubts = {h: h.at.doubt(bands, control.left.room_c, ITSELF) for h in harms}
    reached = [h for h in harms if max(h.end_c, upper_end(h.end_c, doubts[h])) > h.limit_c]
    saved = [h for h in reached if guards and h.after_s != 0]
    left = [h for h in harms if h not in saved]
    if not left:
        return None
    place, band = worst_of([h.at for h in left], [doubts[h] for h in left])
    words = tuple(dict.fromkeys(h.place for h in saved))
    return Unguarded(next(h for h in left if h.at is place), band, words, bool(reached))


def when_passed(harm):
    """When a limit is passed with power stuck on, a sentence or "".  harm: Harm."""
    if not np.isfinite(harm.after_s) or harm.after_s <= 0:
        return ""
    return f" It takes {harm.after_s / 60:.0f} min." if harm.after_s > 90 else f" It takes {harm.after_s:.0f} s."


def forgotten_checks(build, parts, bands):
    """The verdict on a tool that is left on and forgotten, the cut-out of its sheet counted where it guards.

    build: Build. parts: name of a link -> its part. bands: path -> Band.
    Returns list of Verdict: none without heat, or where the cut-out guards every place that has a limit.
    """
    heat, control = parts["heat"], parts.get("control")
    if heat is None or heat.model is None:
        return []
    found, _ = forgotten(build, bands)
    fitted = None if control is None or not control.harms else fitted_cut_out(build, heat, control, bands)[0]
    if fitted is None or not fitted.guards:
        return [found]
    left = unguarded(control, bands, True, tip=False)
    if left is None:
        return []
    if not left.saved:
        return [found]
    harm, way = left.harm, {"units": build.units, "degrees": build.degrees}
    link = f"{say('temp_c', fitted.rating_c, **way)} at {say('length_m', fitted.at_m, **way)}"
    made = judge(
        found.what,
        "temp_c",
        harm.end_c,
        Limit(harm.limit_c, "at most", source_words(harm.source_id)),
        why=f"All night at {say('mains', control.left.mains)} of today's volts, still air, a warm room: your cut-out, "
        f"{link}, opens before {', '.join(left.saved)} comes to harm; of the rest {harm.place} comes nearest to its "
        "limit. Never leave it on all the same.",
        band=left.band,
    )
    return [not_fine(replace(made, place=harm.place, melts_c=found.melts_c), control.untold)]
