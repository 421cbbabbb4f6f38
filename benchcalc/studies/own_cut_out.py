"""A cut-out of its own against fire: what no cure of the heat can stand for, since nobody is there to see to it."""

from dataclasses import replace

import numpy as np

from ..basics.names import say
from ..chain.control.cut_out import failing_order, outside_of, own_cut_out, places_for
from ..chain.control.part import ControlPart
from ..chain.control.stuck import failed, unheld
from ..chain.heat.left_on import room_doubt
from ..chain.heat.limits import ITSELF
from ..chain.workings import Workings
from ..sheet.build import Build
from ..thermal.control.failing import cut_out_for

LEFT_ALONE = ("left on and forgotten", "power stuck on")  # verdicts on what nobody watches


def cut_out_words(build: Build, workings: Workings, place: str) -> str:
    """The cut-out that a tool left alone needs, in a sentence; or why none fits.

    build: Build (floats). workings: Workings of it. place: the place that passes its limit, in words.
    Returns text, "" where the heat cannot be worked out.  The cut-out has to stay shut in use, doubt of mains and
    draught counted, and to open before that place may pass its limit on the day of a tool left on.
    """
    heat = workings.parts.get("heat")
    if heat is None or heat.refused or heat.model is None or heat.model.designs:
        return ""
    control = _failing(build, workings)
    if control.left is None or control.stuck is None:
        return ""
    if build.control is not None and build.control.cut_out_c is not None:
        return _on_the_sheet(build, workings, control)
    on, way = outside_of(heat.model), {"units": build.units, "degrees": build.degrees}
    if any(h.place == place and h.after_s == 0 for h in control.harms):
        return f"no cut-out can spare {place}: use itself passes that limit; mend that first, then fit one."
    order = [h.place for _, h in failing_order(control, workings.bands)]
    for skip in range(order.index(place) + 1 if place in order else 0):
        doubt_k, room_k = control.use_doubt_k, room_doubt(build)
        best = cut_out_for(*places_for(heat.model, control, workings.bands, doubt_k, room_k, skip))
        if best is not None:
            at = say("length_m", best.at_m, **way)
            mark, use, fail = (say("temp_c", c, **way) for c in (best.rating_c, best.normal_c, best.fail_c))
            hold = "" if best.holds else f" Take one whose maker's sheet holds it closed for good at {use}."
            return (
                f"first of all a cut-out of its own: a one-shot thermal link marked {mark} on the {on}, "
                f"{at} from the tip. In use it is at {use} there at most and stays shut; "
                f"it opens before {order[skip]} may be past its limit ({fail} there then).{hold} Page 08 tells how to "
                "fit it."
            )
    return (
        "a cut-out of its own belongs in it, but none of those usually sold both stays shut in use and opens in time "
        f"on the {on}: fewer watts, or a controller that holds it cooler, make room for one (page 08). Until then a "
        "plug-in timer ends a forgotten evening."
    )


def _on_the_sheet(build, workings, control):
    """What the cut-out that the sheet names does."""
    model, way = workings.heat.model, {"degrees": build.degrees}
    fitted, why = own_cut_out(build, model, control, workings.bands, control.use_doubt_k, room_doubt(build))
    rating = say("temp_c", build.control.cut_out_c, **way)
    if fitted is None:
        return f"the sheet's own cut-out, {rating}, cannot be judged: {why}"
    does = "opens in time, but not for this" if fitted.guards else fitted.does
    return f"the sheet's own cut-out, {rating}, {does}."


def _failing(build, workings):
    """The tool with power stuck on: the chain's own where it has a controller, else one that nothing holds."""
    if workings.parts.get("control") is not None:
        return workings.control
    heat, coil = workings.heat, workings.coil
    control = ControlPart(**failed(build, coil.coil_w, heat, unheld(heat, np.nan)))  # its use is full power
    return replace(control, doubt_k=_use_doubt(control, workings.bands, build.room.ambient_c))


def _use_doubt(control, bands, room_c):
    """How much hotter the hottest place may be in use for mains and draught, K: the tool's own doubt, which use and
    harm share, taken off the band of the tip."""
    whole, own = bands.get("heat.tip_c"), bands.get(f"{ITSELF}tip_c")
    if whole is None or own is None or control.normal_c is None or whole.nominal - room_c <= 1.0:
        return 0.0
    left_k2 = (whole.high - whole.nominal) ** 2 - (own.high - own.nominal) ** 2
    share = np.sqrt(max(left_k2, 0.0)) / (whole.nominal - room_c)
    return float(share * max(np.max(control.normal_c) - room_c, 0.0))
