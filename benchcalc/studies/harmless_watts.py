"""The most watts at which a tool may be left on and no limit of its sheet is passed: what a first trial begins with."""

from dataclasses import dataclass, replace

from ..chain.heat.limits import ITSELF, places_of, upper_end
from ..chain.heat.places import read_heat
from ..sheet.build import Build
from ..thermal.network.steady import steady
from .holding import HeldTool
from .stopping import own_doubt

SHARES = (0.5, 0.4, 0.3, 0.25, 0.2, 0.15, 0.1, 0.07, 0.05)  # of the full watts, the most that is tried first


@dataclass(frozen=True)
class Harmless:
    """Watts at which nothing is passed.  share: of the full watts; watts: in the coil on the day of the readings.
    tip_c: what is held, or would be, settles there on the worse day. first: the place that comes first with more."""

    share: float
    watts: float
    tip_c: float
    first: str


def harmless_watts(build: Build, found: HeldTool) -> Harmless | None:
    """The most of some shares of the full watts at which no known limit is passed by a tool that is left on.

    build: Build with a controller (floats). found: its HeldTool.
    Returns Harmless, None where each share passes a limit or the worse day has no answer.  The upper end of each place
    counts, on the day of a tool left on; places that nobody knows are in found.control.untold and speak for nothing.
    """
    left = None if found.control is None else found.control.left
    if left is None or left.heat.refused or not left.coil.coil_w > 0:
        return None
    bands, first = own_doubt(build), ""
    ends = {h.place: h.at for h in found.control.harms}
    for share in SHARES:
        heat = _at(left, share)
        places, _ = places_of(left.build, left.wire, left.coil, heat)
        tops = [(_top(p, ends.get(p.word), bands, left.room_c) - p.limit_c, p) for p in places]
        worst, place = max(tops, key=lambda pair: pair[0], default=(0.0, None))
        if worst <= 0 and place is not None:
            held = heat.work_c if heat.work_c == heat.work_c else heat.tip_c
            return Harmless(share, share * found.parts[2].coil_w, float(held), first)
        first = "" if place is None else place.word
    return None


def _at(left, share):
    """The tool left on, settled at a share of its watts."""
    model = left.heat.model
    net = replace(model.net, power_w=model.net.power_w * share)
    return read_heat(left.build, left.wire, left.coil, share * left.coil.coil_w, model, steady(net))


def _top(place, end, bands, room_c):
    """Upper end of a place, degC: its own doubt at full watts, by its share of the rise there."""
    band = None if end is None else end.doubt(bands, room_c, ITSELF)
    rise = max(place.value_c - room_c, 0.0)
    if band is None or end.value_c - room_c <= 1.0 or not rise:
        return place.value_c
    return place.value_c + (upper_end(end.value_c, band) - end.value_c) * rise / (end.value_c - room_c)
