"""A cut-out of its own against fire: what no cure of the heat can stand for, since nobody is there to see to it."""

from dataclasses import replace
from types import MappingProxyType

import numpy as np

from ..basics.names import say
from ..chain.control.cut_out import outside_of, own_cut_out
from ..chain.control.part import ControlPart
from ..chain.control.stuck import failed, unheld
from ..chain.heat.left_on import room_doubt
from ..chain.heat.limits import ITSELF
from ..chain.workings import Workings, work_out
from ..sheet.build import Build
from ..sheet.build_control import Sensor
from .stopping import advised_for

LEFT_ALONE = ("left on and forgotten", "power stuck on")  # how verdicts on what nobody watches begin


def cut_out_words(build: Build, workings: Workings, place: str) -> str:
    """The cut-out that a tool left alone needs, in a sentence; or why none fits.

    build: Build (floats). workings: Workings of it. place: the place that passes its limit, in words.
    Returns text, "" where the heat cannot be worked out or nothing is left to guard.  The cut-out has to stay shut in
    use, doubt of mains and draught counted, and to open before a limit may be passed on the day of a tool left on.
    """
    heat = workings.parts.get("heat")
    if heat is None or heat.refused or heat.model is None or heat.model.designs:
        return ""
    control = _failing(build, workings)
    if control.left is None or control.stuck is None:
        return ""
    if build.control is not None and build.control.cut_out_c is not None:
        return _on_the_sheet(build, workings, control)
    if any(h.place == place and h.after_s == 0 for h in control.harms):
        return f"no cut-out can spare {place}: use itself passes that limit; mend that first, then fit one."
    told = advised_for(heat.model, control, workings.bands, room_doubt(build))
    if told is None:
        return ""
    if told.unsure:
        return "no cut-out would save what use itself harms: mend that first, then fit one."
    best = told.best
    if best is None:
        return f"a cut-out of its own belongs in it, but {_none(heat.model)}"
    use, fail = (say("temp_c", c, degrees=build.degrees) for c in (best.normal_c, best.fail_c))
    hold = "" if best.holds else f" Take one whose maker's sheet holds it closed for good at {use}."
    more = f" None is quick enough for {', '.join(told.late)}: only fewer watts help that." if told.late else ""
    more += nobody_knows(control)
    saved = f" and spares {', '.join(told.saved)} too" if told.saved else ""
    if build.control is None:
        more += " That is for a tool which nothing holds: with a controller on the sheet it is chosen anew."
    return (
        f"first of all a cut-out of its own: a one-shot thermal link {_mark(build, heat.model, best)}. In use it is at "
        f"{use} there at most and stays shut; it opens before {told.guards} may be past its limit ({fail} there then)"
        f"{saved}."
        f"{more}{hold} Page 08 tells how to fit it."
    )


def nobody_knows(control: ControlPart) -> str:
    """What the choice of a cut-out leaves out, a sentence behind a space, "" where all limits are known.

    control: ControlPart with power stuck on.
    """
    if not control.untold:
        return ""
    return f" Not counted, since nobody knows: {', '.join(control.untold)}."


def unheld_words(build: Build) -> str:
    """The cut-out of a tool while nothing holds it, as `cut_out_words` tells it for a sheet without a controller.

    build: Build (floats), with or without a controller.
    """
    known = {p: k for p, k in build.known.items() if not p.startswith(("control.", "sensor."))}
    bare = replace(build, control=None, sensor=Sensor(), known=MappingProxyType(known))
    workings = work_out(bare)
    left = [v for v in workings.of("heat") if v.what.startswith(LEFT_ALONE) and v.state in ("over", "tight")]
    return cut_out_words(bare, workings, left[0].place) if left else ""


def _none(model):
    return (
        f"none of those usually sold both stays shut in use and opens in time on the {outside_of(model)}: fewer watts, "
        "or a controller that holds it cooler, make room for one (page 08). Until then a plug-in timer ends a "
        "forgotten evening."
    )


def _mark(build, model, cut):
    at = say("length_m", cut.at_m, units=build.units)
    return f"marked {say('temp_c', cut.rating_c, degrees=build.degrees)} on the {outside_of(model)}, {at} from the tip"


def _on_the_sheet(build, workings, control):
    """What the cut-out that the sheet names does, and the one that serves where it does not."""
    model, rating = workings.heat.model, say("temp_c", build.control.cut_out_c, degrees=build.degrees)
    room_k = room_doubt(build)
    fitted, why = own_cut_out(build, model, control, workings.bands, control.use_doubt_k, room_k)
    if fitted is None:
        return f"the sheet's own cut-out, {rating}, cannot be judged: {why}"
    if fitted.guards:
        long = "" if fitted.holds else ", and may open in long use"
        return f"the sheet's own cut-out, {rating}, opens in time, but not for this{long}."
    told = advised_for(model, control, workings.bands, room_k)
    if told is None:
        return f"the sheet's own cut-out, {rating}, {fitted.does}."
    other = f". One {_mark(build, model, told.best)}, guards {told.guards}." if told.best is not None else ""
    return f"the sheet's own cut-out, {rating}, {fitted.does}{other or ', and ' + _none(model)}"


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
