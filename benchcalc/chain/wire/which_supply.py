"""Which of the supplies on the sheet does the job: each tried with the wires of the box.  No physics here."""

from dataclasses import dataclass, replace
from types import MappingProxyType

import numpy as np

from ...basics.names import say
from ...basics.tables import one
from ...sheet.build import Build, Reading, Soak, Supply
from ...sheet.defaults import fill
from ..parts import NAN
from ..supply.link import judged_volts, work_supply
from .coil import work_coil
from .link import linear_of, work_wire
from .scrap_box import work_box

OWN = "the one under [supply]"
WORKS = "works"
LIMITED = ("switching supply", "bench supply")  # no work with these is judged without their limit


@dataclass(frozen=True)
class RankedSupply:
    """A supply for the job: reason (WORKS, or the first thing that fails), the wire of the box that suits it best, its
    length, current and the heat left in supply and leads; open_v: with no load; touchable: with dry hands."""

    id: str
    reason: str
    wire: str
    length_m: float
    load_a: float
    source_loss_w: float
    open_v: float
    touchable: bool

    @property
    def works(self):
        """Whether it does the job."""
        return self.reason == WORKS


def with_supply(build: Build, id):
    """The build fed by another supply of the box; the soak test, which was the other's, is left out.

    build: Build (floats). id: of an [[other_supply]].
    Returns Build.
    """
    other = next(s for s in build.other_supply if s.id == id)
    place, known = f"other_supply.{id}.", {}
    for path, told in build.known.items():
        if path.startswith(place):
            field = path[len(place) :]
            path = f"supply.reading.0.{field}" if field in ("volts_v", "amps_a") else f"supply.{field}"
        elif path.startswith(("supply.", "soak.")) and not path.startswith("supply.cable"):
            continue
        known[path] = told
    readings = () if other.volts_v is None else (Reading(volts_v=other.volts_v, amps_a=other.amps_a),)
    supply = Supply(
        kind=other.kind,
        output=other.output,
        rectifier=other.rectifier,
        open_v=other.open_v,
        source_ohm=other.source_ohm,
        limit_a=other.limit_a,
        reading=readings,
        cable=build.supply.cable,
    )
    wires = tuple(_as_clipped(build, wire) for wire in build.wire)
    return fill(replace(build, supply=supply, wire=wires, soak=Soak(), known=MappingProxyType(known)))


def _as_clipped(build, wire):
    """A wire with the ohms that the readings of the other supply told of it, which go with that supply."""
    linear, how = linear_of(build, wire)
    return replace(wire, measured_ohm=linear + wire.leads_ohm, measured_length_m=1.0) if how == "clip test" else wire


def rank_supplies(build: Build):
    """Every supply of the sheet, tried for the wanted power with the wires of the box, best first.

    build: Build (floats).
    Returns tuple of RankedSupply: those that work first, among them those that may be touched bare, then by the heat
    left in the supply; each other one with the first thing that fails.  Empty without a wanted power.
    """
    if build.want.power_w is None:
        return ()
    own = [(OWN, build)] if build.supply.kind is not None else []
    tried = [_try(id, b) for id, b in (*own, *((s.id, with_supply(build, s.id)) for s in build.other_supply))]
    return tuple(
        sorted(tried, key=lambda t: (not t.works, not t.touchable, np.nan_to_num(t.source_loss_w, nan=np.inf)))
    )


def _try(id, build):
    supply = work_supply(build)
    volts, output = judged_volts(build.supply, supply.open_v)
    touchable = bool(volts <= one("limits", "key", f"dry_touch_{output.lower()}_v")["value"])
    if supply.refused:
        return RankedSupply(id, supply.refused, "", NAN, NAN, NAN, supply.open_v, False)
    lacks = supply.unknown
    if not lacks and supply.kind in LIMITED and supply.limit_a is None:
        lacks = ("the current at which it limits",)
    if lacks:
        why = f"not known yet: {', '.join(lacks)}. {supply.next_reading}".strip()
        return RankedSupply(id, why, "", NAN, NAN, NAN, supply.open_v, touchable)
    wire = work_wire(build, supply)
    box = work_box(build, supply, wire, work_coil(build, supply, wire))
    if not box:
        why = "no wire of known ohms and size on the sheet to try it with"
        return RankedSupply(id, why, "", NAN, NAN, NAN, supply.open_v, touchable)
    best = box[0]
    lost = best.load_a**2 * (supply.source_in_use_ohm + wire.tails_ohm)
    if best.works:
        reason = WORKS
    elif np.isfinite(best.load_a):
        reason = f"{best.reason} (wire: {best.id})"
    else:
        reason = f"{best.reason}: at most {say('coil_w', wire.most_in_coil_w)} in any coil"
    return RankedSupply(id, reason, best.id, best.length_m, best.load_a, float(lost), supply.open_v, touchable)
