"""The tool as it stands in the form: shapes on its axis, what is wrong with their places; no physics, no widgets.

Read from the sheet's own text, part by part, so that a sheet with faults is drawn as far as it goes.
"""

from dataclasses import dataclass

import numpy as np

from ...basics.fault import Fault
from ...basics.names import say
from ...chain.wire.fit_verdicts import wire_across
from ...chain.workings import links
from ...sheet.schema import KEYS
from ...sheet.values import quantity
from .plan import field_label
from .wrong_places import TOUCH_M, DrawnRing, Wrong, no_bottom, not_touching, overlaps

PLACES = (("from", "from_m"), ("to", "to_m"), ("inner", "inner_m"), ("outer", "outer_m"))


@dataclass(frozen=True)
class Drawn:
    """All that the picture shows.

    shapes: of DrawnRing. wrong: of Wrong. room: (words, from_m, to_m) of the room for the coil, None where it is not
    known. missing: names of parts that cannot be drawn yet, with what is missing. units: metric or inch.
    """

    shapes: tuple
    wrong: tuple
    room: tuple | None
    missing: tuple
    units: str


def drawn(tables, build=None) -> Drawn:
    """What is drawn of a sheet.

    tables: of sheet/edits.tables_of. build: Build, None where the sheet has faults.
    Returns Drawn.
    """
    units = (tables["sheet"][0].get("units") if tables["sheet"] else None) or "metric"
    units = units if units in ("metric", "inch") else "metric"
    parts, missing = _parts(tables["part"])
    extra, wrong, room = (), [], None
    if build is not None and build.coil is not None and parts:
        extra, wrong, room = _coil(parts, build, units)
    solid = [p for p in parts if p.kind == "part"]
    wrong = [
        *_off_former(parts, tables["coil"], units),
        *wrong,
        *overlaps(solid, units),
        *no_bottom(solid, units),
        *not_touching(solid, tables["joint"], units),
    ]
    return Drawn((*parts, *extra), tuple(wrong), room, tuple(missing), units)


def _number(section, key, value):
    """A length of the sheet in metres, None where it is missing or not to be read."""
    try:
        return None if value is None else quantity(KEYS[section][key], value)[0].nominal
    except Fault:
        return None


def _parts(rows):
    found, missing = [], []
    for i, row in enumerate(rows):
        name = str(row.get("id") or f"part {i + 1}")
        size = {field: _number("part", key, row.get(key)) for key, field in PLACES}
        lacks = [k for k, f in PLACES if size[f] is None and k != "inner"]
        inner_m = size["inner_m"] or 0.0
        if lacks:
            labels = ", ".join(f"“{field_label(KEYS['part'][k])}”" for k in lacks)
            missing.append(f"{name} ({labels})")
        elif size["to_m"] > size["from_m"] and size["outer_m"] > inner_m:
            role = str(row.get("role") or "")
            kind = "frame" if role == "frame" else "part"
            found.append(DrawnRing(name, role, size["from_m"], size["to_m"], inner_m, size["outer_m"], kind))
    return found, missing


def _coil(parts, build, units):
    """The winding and the layers under and over it, what is wrong with their place, the room."""
    coil, former = build.coil, next((p for p in parts if p.name == build.coil.on), None)
    if former is None:
        return _straight(build), [], None
    _, wire, made = links(build)
    start = former.from_m if coil.from_m is None else coil.from_m
    end = former.to_m if coil.to_m is None else coil.to_m
    wrong, shapes = [], []
    thick = wire.diameter_m if wire is not None and wire.diameter_m is not None else float("nan")
    around, place = former.outer_m, (start, end)
    around = _layers(build, shapes, former.name, "coil", around, place)
    winding_m = made.winding_m if made is not None else float("nan")
    if np.isfinite(winding_m) and np.isfinite(thick):
        middle, half = (start + end) / 2, min(winding_m, 4 * max(end - start, 1e-6)) / 2
        outer = around + 2 * coil.layers * thick
        shapes.append(DrawnRing("coil", "", middle - half, middle + half, around, outer, "winding"))
        around = outer
        room_m = made.room_m if np.isfinite(made.room_m) else end - start
        if winding_m > room_m + TOUCH_M:
            wrong.append(
                Wrong(
                    f"The winding is {say('winding_m', winding_m, units=units)} long and has "
                    f"{say('room_m', room_m, units=units)}.",
                    middle - half,
                    middle + half,
                )
            )
    outside = [p for p in parts if p is not former and p.inner_m > former.outer_m - TOUCH_M and _covers(p, start, end)]
    if outside:
        around = _layers(build, shapes, "coil", min(outside, key=lambda p: p.inner_m).name, around, place)
        cover = min(outside, key=lambda p: p.inner_m)
        if around > cover.inner_m + TOUCH_M:
            said = f"{say('diameter_m', around, units=units)} thick, and the bore of {cover.name} is "
            wrong.append(
                Wrong(
                    f"The coil with its layers does not go into {cover.name}: it is {said}"
                    f"{say('diameter_m', cover.inner_m, units=units)}.",
                    start,
                    end,
                )
            )
    return tuple(shapes), wrong, _room(build, made, start, end, units)


def _off_former(parts, rows, units):
    """A coil that begins or ends beyond the part it lies on, by what the sheet says, faults or not."""
    row = rows[0] if rows else {}
    former = next((p for p in parts if p.name == str(row.get("on"))), None)
    if former is None:
        return []
    start, end = (_number("coil", key, row.get(key)) for key in ("from", "to"))
    start, end = (former.from_m if start is None else start), (former.to_m if end is None else end)
    if start >= former.from_m - TOUCH_M and end <= former.to_m + TOUCH_M:
        return []
    places = (say("length_m", x, units=units) for x in (start, end, former.from_m, former.to_m))
    said = "The coil is off its former: it goes from {} to {}, and {} from {} to {}."
    first, last, low, high = places
    return [Wrong(said.format(first, last, former.name, low, high), start, end)]


def _straight(build):
    """A wire that lies on no part, stretched from the tip."""
    length_m = build.coil.length_m
    if build.coil.on is not None or length_m is None:
        return ()
    return (DrawnRing("wire", "", 0.0, length_m, 0.0, 1e-3, "winding"),)


def _covers(part, start, end):
    return min(part.to_m, end) - max(part.from_m, start) > TOUCH_M


def _layers(build, shapes, inner, outer, around, place):
    """Draw the layers between two neighbours on what is there, from the inside out; the diameter over them."""
    for layer in build.layer:
        if layer.between in ((inner, outer), (outer, inner)) and layer.thickness_m:
            over = around + 2 * layer.thickness_m
            shapes.append(DrawnRing(layer.material or "layer", "", *place, around, over, "layer"))
            around = over
    return around


def _room(build, made, start, end, units):
    """The room for the coil and what is taken off it, in words, with its place."""
    if made is None or not np.isfinite(made.room_m) or build.coil.end_room_m is None:
        return None
    off = end - start - made.room_m
    room, whole, less, ends = (
        say("winding_m", x, units=units) for x in (made.room_m, end - start, off, build.coil.end_room_m)
    )
    words = (
        f"room for the coil {room} = {whole} less {less}: at each end {ends} bare and "
        f"{build.coil.anchor_turns or 0:g} anchor turns of {say('width_m', wire_across(build), units=units)}"
    )
    return words, start + off / 2, end - off / 2


def in_words(n: Drawn) -> str:
    """The picture in words.  n: Drawn."""
    parts = [s for s in n.shapes if s.kind in ("part", "frame")]
    if not parts:
        return "No part has its two places and an outer diameter yet: nothing can be drawn."
    lies = f" {lying_words(n)}".rstrip()
    said = "; ".join(
        f"{s.name} {say('length_m', s.from_m, units=n.units)} to {say('length_m', s.to_m, units=n.units)}, "
        f"diameter {say('diameter_m', s.outer_m, units=n.units)}"
        + (f", bore {say('diameter_m', s.inner_m, units=n.units)}" if s.inner_m else "")
        for s in parts
    )
    return f"The tool to scale, from the tip: {said}.{lies}" + (f" {n.room[0]}." if n.room else "")


def lying_words(n: Drawn) -> str:
    """How a pot lies in the picture; "" for other tools.  n: Drawn."""
    cup = next((s for s in n.shapes if s.role == "cup"), None)
    return (
        "" if cup is None else f"{cup.name} is drawn lying on its side: its bottom to the left, its mouth to the right."
    )


def marks_words(heat, tails_c=float("nan")) -> str:
    """Places and how hot they settle, in words.  heat, tails_c: as settled_words."""
    told = [(word, t) for word, _, t in heat.marks]
    for i, (word, t) in enumerate(told):
        if word == "hottest wire" and tails_c > t:
            told[i : i + 1] = [(word + " in the tails", tails_c), ("in the winding", t)]
            break
    return ", ".join(f"{word} {say('temp_c', t, degrees=heat.degrees)}" for word, t in told)


def settled_words(heat, tails_c=float("nan"), held="") -> str:
    """What is how hot once the tool has settled.

    heat: HeatNumbers of the settled tool. tails_c: hottest place of the tails, degC, named where the winding is cooler.
    held: of held_words, where the sheet has a controller: these are the temperatures without it.
    """
    words = marks_words(heat, tails_c)
    how = "Settled without its controller, at full power and" if held else "Settled,"
    return f"{how} with nothing to melt: {words}; darker is hotter." if words else ""


def held_words(build, control) -> str:
    """What a controller on the sheet holds, in words; "" without one.  build: Build. control: ControlPart or None."""
    if control is None or build.control is None or build.control.set_c is None:
        return ""
    way = {"degrees": build.degrees}
    if control.refused or not np.isfinite(control.held_c):
        return "Whether its controller holds it is not known: page 08 says why. All else here is of full power. "
    held, on = say("temp_c", control.mean_c, **way), f"{100 * control.duty:.0f} % of the time on"
    return (
        f"Held by its controller set to {say('temp_c', control.set_c, **way)}: {control.place or 'tip'} {held} "
        f"on the mean, {on} (page 08). "
        "All else here is of the tool without it, at full power, as when its sensor fails. "
    )
