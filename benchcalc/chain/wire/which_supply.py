"""Which of the supplies on the sheet does the job: each tried with the wires of the box.  No physics here."""

from dataclasses import dataclass, replace
from types import MappingProxyType

import numpy as np

from ...basics.names import say
from ...basics.tables import one
from ...heater.supply import LIMITS, extra_low_limit
from ...sheet.build import Build, Reading, Soak, Supply
from ...sheet.defaults import fill
from ..bench.lasting import lasting
from ..parts import NAN
from ..supply.link import judged_volts, work_supply
from ..supply.unread import most_unread, unread_words
from .coil import work_coil
from .link import linear_of, work_wire
from .scrap_box import pieces_of, work_box

OWN = "the sheet's own"
WORKS = "works"


@dataclass(frozen=True)
class RankedSupply:
    """A supply for the job: reason (WORKS, or what fails, wire by wire), the wire of the box that suits it best, its
    length, current and the heat left in supply and leads; open_v: with no load; touchable: with dry hands; most_w: the
    most in any coil; margin: share of that which is left; run_s: of a battery's charge; hours: how long, in words;
    lasts: 0 for hours, 1 for nobody knows, 2 for minutes."""

    id: str
    reason: str
    wire: str = ""
    length_m: float = NAN
    load_a: float = NAN
    source_loss_w: float = NAN
    open_v: float = NAN
    touchable: bool = False
    most_w: float = NAN
    margin: float = NAN
    run_s: float = NAN
    hours: str = ""
    lasts: int = 1
    stage: int = 0

    @property
    def works(self):
        """Whether it does the job."""
        return self.reason == WORKS

    @property
    def rank(self):
        """What it is ranked by: that it works, or how near it comes; then safety, hours, margin."""
        return (not self.works, self.stage, not self.touchable, self.lasts, -np.nan_to_num(self.margin, nan=-np.inf))


WIRES_FAIL, WEAK, NOT_KNOWN, REFUSED = 1, 2, 3, 4  # stages of a supply that does not work


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
        charge_a_s=other.charge_a_s,
        energy_j=other.energy_j,
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
    Returns tuple of RankedSupply: those that work first, among them those that may be touched bare, then those that
    last for hours, then by the margin of their watts; each other one with what fails, the nearest first.  Empty without
    a wanted power.
    """
    if build.want.power_w is None:
        return ()
    own = [(OWN, build)] if build.supply.kind is not None else []
    tried = [_try(id, b) for id, b in (*own, *((s.id, with_supply(build, s.id)) for s in build.other_supply))]
    return tuple(sorted(tried, key=lambda t: t.rank))


def _try(id, build):
    supply = work_supply(build)
    volts, output = judged_volts(build.supply, supply.open_v)
    if supply.refused:
        return RankedSupply(id, supply.refused, open_v=supply.open_v, stage=REFUSED)
    most_v = most_unread(build, volts)
    touchable = bool(most_v <= one("limits", "key", f"dry_touch_{output.lower()}_v")["value"])
    found = RankedSupply(id, "", open_v=supply.open_v, touchable=touchable)
    if most_v > extra_low_limit(output)[0]:
        return replace(found, reason=f"not known yet:{unread_words(build, volts, 0.0)}", stage=NOT_KNOWN)
    lacks = supply.unknown
    if not lacks and supply.kind in LIMITS and supply.limit_a is None:
        lacks = ("the current at which it limits",)
    if lacks:
        why = f"not known yet: {', '.join(lacks)}. {supply.next_reading}".strip()
        return replace(found, reason=why, stage=NOT_KNOWN)
    wire = work_wire(build, supply)
    box = work_box(build, supply, wire, work_coil(build, supply, wire))
    if not box:
        return replace(found, reason="no wire of known ohms and size on the sheet to try it with", stage=NOT_KNOWN)
    best, most_w = box[0], float(wire.most_in_coil_w)
    lost = best.load_a**2 * (supply.source_in_use_ohm + wire.tails_ohm)
    hours, lasts, run_s = lasting(build, supply, best.load_a)
    found = replace(found, most_w=most_w, margin=1 - build.want.power_w / most_w)
    if best.works:
        fits = {"wire": best.id, "length_m": best.length_m, "load_a": best.load_a, "source_loss_w": float(lost)}
        return replace(found, reason=WORKS, run_s=run_s, hours=hours, lasts=lasts, **fits)
    if not np.isfinite(best.load_a):
        return replace(found, reason=f"{best.reason}: at most {say('coil_w', most_w)} in any coil", stage=WEAK)
    there = {p.id: p.have_m for p in pieces_of(build)[0]}
    told = "; ".join(f"{t.id}: {_fails(t, there[t.id], build.units)}" for t in box)
    return replace(found, reason=told, hours=hours, lasts=lasts, run_s=run_s, stage=WIRES_FAIL)


def _fails(tried, have_m, units):
    """Why a wire fails, with the metres where they are too few."""
    if not tried.length_m > have_m:
        return tried.reason
    needed, there = (say("length_m", x, units=units) for x in (tried.length_m, have_m))
    return f"{tried.reason}, {needed} needed of {there}"
