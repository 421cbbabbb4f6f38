"""The numbers behind the picture of the coil, and the picture in words."""

from dataclasses import dataclass

import numpy as np

from ...basics.names import digits, say
from ...chain.wire.fit_verdicts import bores_around, size_words
from ...sheet.change import item
from ..drawing.style import coarse_up

ACROSS_IN, BAND_IN = 7.9, 0.86  # widest and thickest drawing
NAN = float("nan")


@dataclass(frozen=True)
class CoilNumbers:
    """What the picture of a coil is drawn from (SI); nan where it is not known.

    kind: "wound", "straight" or "nothing". start_m, end_m: of the winding along the former.
    room_end_m: where the winding must end. tube, bore_m, across_all_m: the part whose bore is too narrow for the wound
    coil, that bore, and what it must take; "" and nan where it goes in. view_m, in frame: metres shown across.
    """

    kind: str
    units: str
    said: str = ""
    former_length_m: float = NAN
    core_m: float = NAN
    former_m: float = NAN
    insulation: str = ""
    thick_m: float = NAN
    across_m: float = NAN
    pitch_m: float = NAN
    turns: float = NAN
    layers: int = 1
    start_m: float = NAN
    end_m: float = NAN
    room_m: float = NAN
    room_end_m: float = NAN
    ends_m: float = NAN
    anchor_turns: float = 0.0
    wire_m: float = NAN
    tube: str = ""
    bore_m: float = NAN
    across_all_m: float = NAN
    frame: tuple = ()

    @property
    def over_m(self):
        """By how much the winding is too long for its room; 0 when it fits."""
        over_m = self.end_m - self.room_end_m
        return over_m if over_m > 1e-9 else 0.0

    @property
    def overlaps(self):
        """Whether the asked pitch is less than the wire: drawn side by side, and told."""
        return self.pitch_m < self.across_m * (1 - 1e-6)


def coil_numbers(build, result, rest=False):
    """The numbers behind the picture of the coil.

    build: Build. result: (supply, wire, coil) as links(build) gives them. rest: not used here.
    Returns CoilNumbers.
    """
    supply, wire, coil = result
    if supply is not None and supply.refused:
        return _nothing(build, "No coil to draw: this supply is refused, so nothing is sized for it.")
    if coil is None or not np.isfinite(coil.length_m) or not np.isfinite(wire.diameter_m):
        return _nothing(build, "No coil to draw: the sheet names no wire, no size or no length yet.")
    if build.coil.on is None:
        view_m = coarse_up(coil.length_m * 1.06)
        return CoilNumbers(
            "straight",
            build.units,
            wire_m=coil.length_m,
            thick_m=wire.diameter_m,
            frame=("straight", *_scale(view_m, wire.diameter_m), build.units),
        )
    return _wound(build, wire, coil)


def _nothing(build, said):
    return CoilNumbers("nothing", build.units, said, frame=("nothing",))


def _wound(build, wire, coil):
    sheet_wire = item(build.wire, wire.id)
    across = sheet_wire.width_m if sheet_wire.width_m is not None else wire.diameter_m
    part = item(build.part, build.coil.on)
    ends, anchor = build.coil.end_room_m or 0.0, build.coil.anchor_turns or 0.0
    start = ends + anchor * across
    end = start + coil.winding_m
    whole = coil.room_m + 2 * start
    if not (np.isfinite(end) and np.isfinite(coil.former_m) and coil.winding_m > 0):
        return _nothing(build, "No winding to draw: the former has no length or thickness yet, or leaves no room.")
    reach = min(max(whole, end + start), 1.75 * whole)
    outer = max(coil.former_m, 2 * coil.mean_diameter_m - coil.former_m)
    layers = [la for la in build.layer if la.between == (part.id, "coil") and la.thickness_m is not None]
    said = " and ".join(f"{la.material} {say('thickness_m', la.thickness_m, units=build.units)}" for la in layers)
    return CoilNumbers(
        "wound",
        build.units,
        part.id,
        whole,
        part.outer_m,
        coil.former_m,
        said,
        wire.diameter_m,
        across,
        coil.pitch_m,
        coil.turns,
        build.coil.layers,
        start,
        end,
        coil.room_m,
        start + coil.room_m,
        ends,
        anchor,
        coil.length_m,
        *_too_narrow(build, coil),
        ("wound", *_scale(coarse_up(reach * 1.01), coarse_up(outer)), build.units),
    )


def _too_narrow(build, coil):
    """The part around the coil whose bore lacks the most: (id, bore, what it must take); ("", nan, nan) without one."""
    lacks = [(p.inner_m - across, p.id, p.inner_m, across) for p, across in bores_around(build, coil)]
    worst = min(lacks, default=(0.0,))
    return worst[1:] if worst[0] < -1e-9 else ("", NAN, NAN)


def _scale(view_m, thick_m):
    """(metres shown across, metres an inch of paper)."""
    return view_m, max(view_m / ACROSS_IN, thick_m / BAND_IN)


def coil_caption(n):
    """The picture of the coil in words.  n: CoilNumbers."""
    way = {"units": n.units}
    if n.kind == "nothing":
        return n.said
    if n.kind == "straight":
        return (
            f"To scale: a straight wire, {say('length_m', n.wire_m, **way)} long and "
            f"{say('diameter_m', n.thick_m, **way)} thick, between two clamps; it lies on no former."
        )
    room = say("room_m", n.room_m, **way)
    fit = (
        f"{say('length_m', n.over_m, **way)} too long for its room of {room}: it does not fit"
        if n.over_m
        else f"in a room of {room}: it does not fit, the turns would overlap"
        if n.overlaps
        else f"in a room of {room}: it fits"
    )
    if n.tube:
        fit += (
            f"; it does not go into the {n.tube}: {say('outer_m', n.across_all_m, **way)} across with all its layers, "
            f"the bore {say('inner_m', n.bore_m, **way)}"
        )
    laid = "turns side by side" if n.overlaps else f"pitch {say('pitch_m', n.pitch_m, **way)}"
    under = f" under {n.insulation}" if n.insulation else ""
    return (
        f"To scale: {digits(n.turns)} turns of {size_words(n.thick_m, n.across_m, n.units)}, {laid}, "
        f"on the {n.said}, {say('diameter_m', n.core_m, **way)} across{under}; winding "
        f"{say('winding_m', n.end_m - n.start_m, **way)}, {fit}."
    )
