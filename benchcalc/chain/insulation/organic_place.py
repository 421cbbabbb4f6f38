"""Where on a tool organic insulation ages: on the sheet's own layers, or on the tails behind the coil."""

import numpy as np

from ...basics.names import say
from ...materials.insulation import rating
from ...sheet.build import Build
from ..heat.part import HeatPart
from .link import InsulationPart
from .verdicts import place_words

USUAL = "silicone rubber"  # what leads are sleeved with where the sheet names nothing organic
BEHIND_M = 0.03


def ages_where(build: Build, heat: HeatPart | None, part: InsulationPart | None) -> tuple:
    """The organic material that a page on ageing looks at, where it lies, and how hot it is there.

    build: Build. heat: HeatPart with temperatures. part: InsulationPart or None.
    Returns (Rating, words, temp_c); temp_c a float, or an array of many designs.  The sheet's own organic layers come
    first, then its sleeve on the tails, then a usual sleeve on the tails, then the outside of the stack.
    """
    if part is not None:
        own = [k for k, y in enumerate(part.layers) if y.rating is not None and y.rating.organic]
        if own:
            k = min(own, key=lambda k: part.layers[k].rating.limit_c - np.max(part.hot_c[k]))
            return part.layers[k].rating, f"the layer {place_words(part.layers[k].between)}", part.hot_c[k]
        if part.sleeve is not None and part.sleeve.organic and not np.all(np.isnan(part.tails_c)):
            return part.sleeve, "the sleeve where the tails leave the coil", part.tails_c
    model = heat.model
    if model is not None and model.tool.leads is not None:
        places, temps = model.along("leads", heat.temps_c)
        at = float(np.ravel(model.tool.leads.from_m)[0]) + BEHIND_M
        flat, along = (
            temps.reshape(-1, temps.shape[-1]),
            np.broadcast_to(places, temps.shape).reshape(-1, temps.shape[-1]),
        )
        met = np.array([np.interp(at, x, t) for x, t in zip(along, flat)])
        words = f"a sleeve on the tails, {say('length_m', BEHIND_M, units=build.units)} behind the coil"
        return rating(USUAL), words, met if temps.ndim > 1 else float(met[0])
    if part is not None and part.layers and not np.all(np.isnan(part.cold_c[-1])):
        return rating(USUAL), "a tape round the outside of the stack", part.cold_c[-1]
    return rating(USUAL), "a sleeve against the wire", heat.wire_c
