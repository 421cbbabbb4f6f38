"""Whether a winding fits: on its former, in the bore around it, in how many layers."""

import numpy as np

from ...basics.names import say
from ...heater.coil import layers_needed
from ...sheet.defaults import default
from ..verdict import Limit, judge
from .coil import coil_span
from .lacking import winding_lacks

OWN_SHEET = "your own sheet"


def former_check(build, coil, bands, practice):
    """Whether the former is thick enough for the wire.

    build: Build. coil: CoilPart. bands: path -> Band. practice: words of the source.
    Returns Verdicts, none for a wire without a size.
    """
    bend = default("coil.former_wire_diameters")["value"]
    thick = next(w for w in build.wire if w.id == build.coil.wire)
    thick = thick.thickness_m if thick.width_m is not None else thick.diameter_m
    if thick is not None:
        yield judge(
            "former for this wire",
            "former_m",
            coil.former_m,
            Limit(bend * thick, "at least", practice),
            why="On a former too small for it the wire cracks or springs off.",
            band=bands.get("coil.former_m"),
        )


def bore_checks(build, coil):
    """Whether the wound coil, with the layers over it, goes into the part around it.

    build: Build. coil: CoilPart.
    Returns Verdicts, one for each hollow part around the coil.
    """
    for part, across_m in bores_around(build, coil):
        yield judge(
            f"wound coil in the bore of the {part.id}",
            "outer_m",
            across_m,
            Limit(part.inner_m, "at most", "geometry; " + OWN_SHEET),
            why="Former, insulation, wire and the layers over it, across; bare turns that touch the bore short to it.",
        )


def bores_around(build, coil):
    """Each hollow part around the coil, with what its bore must take across.

    build: Build. coil: CoilPart.
    Returns list of (Part, m over former, insulation, wire and the layers up to that part).
    """
    on = next((p for p in build.part if build.coil is not None and p.id == build.coil.on), None)
    if on is None:
        return []
    start, end = coil_span(build.coil, on)
    wire = next(w for w in build.wire if w.id == build.coil.wire)
    thick = wire.thickness_m if wire.width_m is not None else wire.diameter_m
    if thick is None or start is None or end is None:
        return []
    found = []
    for part in build.part:
        inside = part.inner_m is not None and part.from_m is not None and part.to_m is not None and part.id != on.id
        if not inside or _within(part, on) or np.all(part.to_m <= start) or np.all(part.from_m >= end):
            continue
        cover = sum(y.thickness_m for y in build.layer if y.between == ("coil", part.id) and y.thickness_m is not None)
        found.append((part, coil.former_m + 2 * build.coil.layers * thick + 2 * cover))
    return found


def slack_m(build, coil):
    """How much more the coil may be across before it meets a bore around it; inf where none is around it.

    build: Build (floats). coil: CoilPart (floats).
    Returns m, below 0 where it is too thick already.
    """
    return min((float(part.inner_m - across) for part, across in bores_around(build, coil)), default=np.inf)


def _within(part, on):
    """Whether a hollow part lies in the bore of the one that the coil is on, a press fit's bite included."""
    if on.inner_m is None:
        return False
    if part.outer_m is None:
        return np.all(part.inner_m < on.inner_m)
    middle_m = on.inner_m if on.outer_m is None else (on.inner_m + on.outer_m) / 2
    return np.all(np.asarray(part.outer_m) <= middle_m)


def overlap_words(build, coil):
    """Why turns that would overlap do not fit, their length side by side, and what would do.

    build: Build. coil: CoilPart.
    """
    if np.ndim(coil.gap_m) or np.ndim(coil.spare_m) or np.isnan(coil.spare_m):
        return "At this pitch the turns would lie in one another."
    room = "which is within the room" if coil.spare_m >= -1e-9 else "which is more than the room"
    return (
        f"It does not fit: the turns would overlap. Side by side and touching they take "
        f"{say('winding_m', coil.winding_m, units=build.units)}, {room}. {layers_words(build, coil)}"
    )


def fit_words(build, coil):
    """The room a winding leaves, or how much it is too long and what would do.  build: Build. coil: CoilPart."""
    if np.ndim(coil.spare_m) or np.isnan(coil.spare_m):
        lacks = [] if np.ndim(coil.spare_m) else winding_lacks(build, coil)
        return f"Missing: {', '.join(lacks)}." if lacks else "The winding and the room for it."
    units = build.units
    if coil.spare_m >= -1e-9 and build.coil.pitch_m is None:
        return "The sheet names no pitch: the turns are spread so that they fill the room."
    if coil.spare_m >= -1e-9:
        return f"It fits with {say('length_m', coil.spare_m, units=units)} to spare."
    return (
        f"It is {say('length_m', -coil.spare_m, units=units)} too long for the former. {layers_words(build, coil)} "
        f"Or at the tightest pitch a former at least {say('former_m', coil.smallest_former_m, units=units)} thick."
    )


def layers_words(build, coil):
    """How many layers would take the wire at the tightest pitch that bare turns allow, in a sentence.

    build: Build with a coil on a part. coil: CoilPart (floats).
    """
    across, wire = wire_across(build), next(w for w in build.wire if w.id == build.coil.wire)
    thick = wire.thickness_m if wire.width_m is not None else wire.diameter_m
    tightest = (1 + default("coil.gap_wire_diameters")["value"]) * across
    layers = layers_needed(coil.length_m, coil.former_m, thick, coil.room_m - across, tightest)
    if layers is None:
        return "No number of layers takes this wire here."
    told = "layer" if layers == 1 else "layers, with insulation between them,"
    return f"With a gap of one wire between turns it takes {layers} {told} in this room."


def wire_across(build):
    """Size of the coil's wire along the former, m; nan where it is not known.  build: Build."""
    wire = next(w for w in build.wire if w.id == build.coil.wire)
    across = wire.width_m if wire.width_m is not None else wire.diameter_m
    return float("nan") if across is None else across


def size_words(thick_m, across_m, units="metric"):
    """A wire by its size, a ribbon by both of its own: it lies on the former with its width.

    thick_m: diameter, or thickness of a ribbon, m. across_m: size along the former, m. units: as names.say.
    Returns text, e.g. "0.280 mm wire", "ribbon 1.00 mm wide, 0.200 mm thick".
    """
    thick = say("thickness_m", thick_m, units=units)
    if not np.isfinite(across_m) or np.isclose(thick_m, across_m, rtol=1e-6):
        return f"{thick} wire"
    return f"ribbon {say('width_m', across_m, units=units)} wide, {thick} thick"
