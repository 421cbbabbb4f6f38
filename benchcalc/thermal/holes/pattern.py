"""A pattern of holes in a tube, and its lengths on the wall unrolled at the middle of its thickness."""

from dataclasses import dataclass

import numpy as np

from ...basics.fault import Complaint, Fault
from ...basics.names import say


@dataclass(frozen=True)
class Pattern:
    """Rings of equal holes in a tube: diameters of the tube, holes in each ring, diameter of the hole or cutter.

    spacing_m: from ring to ring, middle to middle. staggered: each ring's holes stand between those of the ring before.
    slot_m: how far each hole is drawn out round the tube, at the middle of the wall; 0 for a round hole.
    """

    outer_m: float
    inner_m: float
    holes: int
    hole_m: float
    rings: int = 1
    spacing_m: float = 0.0
    staggered: bool = True
    slot_m: float = 0.0


def middle_of_wall(outer_m, inner_m):
    """Diameter at the middle of a tube's wall, where it is unrolled.

    outer_m, inner_m: diameters of the tube.
    Returns middle_m.
    """
    middle_m = (outer_m + inner_m) / 2
    return middle_m


def hole_pitch(middle_m, holes):
    """Distance from hole to hole round the tube.

    middle_m: as middle_of_wall. holes: in one ring, 1 or more.
    Returns hole_pitch_m.
    """
    hole_pitch_m = np.pi * middle_m / holes
    return hole_pitch_m


def hole_round(middle_m, hole_m):
    """A drilled hole is wider round a tube than the drill, because the wall is curved.

    middle_m: as middle_of_wall. hole_m: diameter of the drill, less than middle_m.
    Returns hole_round_m, along the wall.  Geometry: the arc over a chord.
    """
    hole_round_m = middle_m * np.arcsin(hole_m / middle_m)
    return hole_round_m


def sizes_of(p):
    """Lengths of a pattern on the unrolled wall.

    p: Pattern.
    Returns (hole_pitch_m, hole_round_m) with the slot in it, at the middle of the wall.
    """
    middle = middle_of_wall(p.outer_m, p.inner_m)
    return float(hole_pitch(middle, p.holes)), float(hole_round(middle, p.hole_m)) + p.slot_m


def span_of(p):
    """Length of a break along the tube, from the first edge to the last.

    p: Pattern.  Returns m.
    """
    return p.hole_m + (p.rings - 1) * p.spacing_m


def web_at_bore(p):
    """Metal left between two neighbouring holes where it is least: at the bore.

    p: Pattern.  Returns m; negative where holes overlap.
    """
    arc = p.inner_m * np.arcsin(min(1.0, p.hole_m / p.inner_m)) + p.slot_m * 2 * p.inner_m / (p.outer_m + p.inner_m)
    return float(np.pi * p.inner_m / p.holes - arc)


def web_between_rings(p):
    """Metal left between a hole and the nearest one of the next ring, at the middle of the wall.

    p: Pattern.  Returns m; infinite for a single ring.
    """
    if p.rings < 2:
        return float("inf")
    if not p.staggered:
        return p.spacing_m - p.hole_m
    pitch, _ = sizes_of(p)
    aside = max(0.0, pitch / 2 - p.slot_m)
    return float(np.hypot(p.spacing_m, aside) - p.hole_m)


def fitting_holes(p):
    """Most holes of this size that leave any web at all, in one ring.

    p: Pattern.  Returns whole number.
    """
    arc = p.inner_m * np.arcsin(min(1.0, p.hole_m / p.inner_m)) + p.slot_m * 2 * p.inner_m / (p.outer_m + p.inner_m)
    return int(np.ceil(np.pi * p.inner_m / arc)) - 1


def refuse_bad_pattern(p, room_m=float("inf"), where="heat break"):
    """Complain of holes that cannot be drilled: larger than the bore, overlapping, or longer than the tube.

    p: Pattern. room_m: length of tube there is for it. where: words for the message.
    Returns None.  Raises Fault that says how many fit.
    """
    wrong = []
    if p.holes < 1 or p.rings < 1 or p.hole_m <= 0:
        wrong.append(Complaint(where, "", "needs one ring, one hole and a diameter at least."))
    elif p.hole_m >= p.inner_m:
        wrong.append(
            Complaint(
                where,
                say("diameter_m", p.hole_m),
                f"is as wide as the bore ({say('diameter_m', p.inner_m)}).",
                "Such a hole cuts the tube in two.",
                "Take a smaller drill.",
            )
        )
    else:
        if web_at_bore(p) <= 0:
            taken = np.pi * p.inner_m - p.holes * web_at_bore(p)
            fit = fitting_holes(p)
            more = "more than one turn: " if taken > np.pi * p.inner_m * (1 + 1e-9) else ""
            wrong.append(
                Complaint(
                    where,
                    f"{p.holes:g} x {say('diameter_m', p.hole_m)}",
                    f"take {say('length_m', taken)} of the {say('length_m', np.pi * p.inner_m)} round the bore: "
                    f"{more}no web is left.",
                    "",
                    f"At most {fit} fit." if fit else "Not one fits.",
                )
            )
        if web_between_rings(p) <= 0:
            wrong.append(
                Complaint(
                    where,
                    say("length_m", p.spacing_m),
                    "from ring to ring makes the holes run into each other.",
                    "The distance is from middle to middle.",
                    f"Take at least {say('length_m', 1.05 * p.hole_m)}.",
                )
            )
    if not wrong and span_of(p) > room_m:
        fit = (
            1 + int((room_m - p.hole_m) / p.spacing_m) if p.rings > 1 and room_m > p.hole_m else int(room_m > p.hole_m)
        )
        wrong.append(
            Complaint(
                where,
                "",
                f"is {say('length_m', span_of(p))} long, but there are only "
                f"{say('length_m', max(0.0, room_m))} of tube for it.",
                "Too many rings, or it begins too far back.",
                f"At most {fit} rings fit." if fit else "Begin it nearer to the tip.",
            )
        )
    if wrong:
        raise Fault(*wrong)


def open_share(p, along_m):
    """Share of the wall left at places along the tube.

    p: Pattern. along_m: places from the middle of the first ring, m (array).
    Returns array of ratios.
    """
    pitch, _ = sizes_of(p)
    middle = middle_of_wall(p.outer_m, p.inner_m)
    along_m = np.asarray(along_m, float)
    gone = np.zeros_like(along_m)
    for ring in range(p.rings):
        half = (p.hole_m / 2) ** 2 - (along_m - ring * p.spacing_m) ** 2
        chord = 2 * np.sqrt(np.maximum(half, 0.0))
        gone += np.where(half > 0, (middle * np.arcsin(chord / middle) + p.slot_m) / pitch, 0.0)
    return np.maximum(1 - gone, 0.0)
