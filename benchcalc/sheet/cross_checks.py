"""Checks that need more than one key of the sheet: pairs, ids, order, readings that cannot be."""

import numpy as np

from ..basics.fault import Fault, closest
from ..basics.names import say
from ..thermal.holes.pattern import refuse_bad_pattern
from .hole_defaults import complete, pattern_of
from .kept_checks import check_card, check_learned
from .supply_checks import check_other, check_soak, check_supply

# a complaint about the first rests on all the keys named after it
TOGETHER = {
    ("supply.reading", ""): ("volts", "amps", "watts", "ohms"),
    ("wire", "width"): ("width", "thickness"),
    ("wire", "measured_ohm"): ("measured_ohm", "measured_length"),
    ("wire", "gauge"): ("gauge", "diameter", "width", "thickness"),
}


def cross_check(made, complain, known):
    """Complain of what does not fit together.

    made: dict of section -> dataclass or tuple of them. complain: function (section, index, key,
    text, need, cause, do). known: dict of paths, read only.
    Returns None.
    """
    check_supply(made.get("supply"), complain, known)
    check_soak(made.get("soak"), complain)
    for i, wire in enumerate(made.get("wire", ())):
        _wire(i, wire, complain)
    parts = made.get("part", ())
    for section in ("wire", "part"):
        _ids(section, made.get(section, ()), complain)
    for section in ("part", "joint"):
        for i, thing in enumerate(made.get(section, ())):
            _order(section, i, thing, complain)
    for i, hole in enumerate(made.get("heat_break", ())):
        _heat_break(i, hole, parts, complain)
    _ids("heat_break", made.get("heat_break", ()), complain)
    _ids("other_supply", made.get("other_supply", ()), complain)
    for i, supply in enumerate(made.get("other_supply", ())):
        check_other(i, supply, complain)
    ids = [p.id for p in parts]
    for section in ("joint", "layer"):
        for i, thing in enumerate(made.get(section, ())):
            if not thing.between:
                do = f'Write e.g. between = ["{ids[0]}", "{ids[-1]}"].' if ids else ""
                complain(section, i, "between", "", "is missing: which two does it lie between?", do=do)
            for said in wrong_pair(section, thing.between, parts):
                complain(section, i, "between", *said)
    check_learned(made.get("learned", ()), complain)
    check_card(getattr(made.get("as_built"), "reading", ()), complain)
    _coil(made.get("coil"), [w.id for w in made.get("wire", ())], parts, complain)
    _under_the_coil(made.get("coil"), made.get("layer", ()), ids, complain)


def _under_the_coil(coil, layers, ids, complain):
    """A layer that is told as lying under the coil lies on what the coil is on."""
    for i, layer in enumerate(layers):
        if coil is None or coil.on not in ids or layer.between[1:] != ("coil",) or layer.between[0] == coil.on:
            continue
        if layer.between[0] in ids:
            do = f'A layer over the coil is written between = ["coil", "{layer.between[0]}"].'
            complain("layer", i, "between", layer.between[0], f"is not what the coil is on: {coil.on}.", do=do)


def wrong_pair(section, between, parts):
    """What is wrong with the two that a joint or a layer lies between.

    section: "joint" or "layer". between: tuple of two ids, or (). parts: of the sheet, plain numbers or arrays.
    Returns list of (text, need, cause), empty where nothing is.
    """
    ids = [p.id for p in parts]
    known = [*ids, *(("coil", "room") if section == "layer" else ())]
    strange = [(name, "is not the id of a part.", closest(name, known)) for name in between if name not in known]
    if strange or not between:
        return strange
    if between[0] == between[1]:
        return [(between[0], f"stands twice: a {section} lies between two.", "")]
    if between[0] == "room":
        return [("room", "comes last: layers are told from the inside out, and the room is outside.", "")]
    inner, outer = (next((p for p in parts if p.id == name), None) for name in between)
    if section == "joint" or None in (inner, outer) or None in (inner.inner_m, outer.outer_m):
        return []
    if np.all(np.asarray(outer.outer_m) <= inner.inner_m):
        need = f"lies around the {outer.id}: layers are told from the inside out."
        return [(inner.id, need, "The two may be swapped.")]
    return []


def _ids(section, things, complain):
    seen = set()
    for i, thing in enumerate(things):
        if not thing.id:
            complain(section, i, "id", "", "is missing: each needs a name of its own.")
        elif thing.id in seen:
            complain(section, i, "id", thing.id, "stands twice: each needs a name of its own.")
        elif "." in thing.id or thing.id.isdigit():
            complain(section, i, "id", thing.id, "may not hold a dot or be only digits.")
        seen.add(thing.id)


def _wire(i, wire, complain):
    if (wire.width_m is None) != (wire.thickness_m is None):
        complain("wire", i, "width", "", "and thickness belong together: a ribbon needs both.")
    if sum((wire.gauge is not None, wire.diameter_m is not None, wire.width_m is not None)) > 1:
        complain("wire", i, "gauge", "", "is given beside another size: give gauge or diameter or ribbon size.")
    if wire.width_m and wire.thickness_m and wire.thickness_m > wire.width_m:
        complain(
            "wire",
            i,
            "thickness",
            say("thickness_m", wire.thickness_m),
            "is more than the width.",
            "They may be swapped.",
        )
    if wire.measured_ohm is None and wire.measured_length_m is not None:
        complain("wire", i, "measured_ohm", "", "is missing beside measured_length: ohms over which length?")
    if wire.measured_ohm is not None and wire.leads_ohm >= wire.measured_ohm:
        complain("wire", i, "leads_ohm", f"{wire.leads_ohm:g} ohm", "is not less than the reading itself.")


def _heat_break(i, hole, parts, complain):
    """A break needs a tube that holds it, and holes that can be drilled."""
    filled = complete(hole, parts)
    part = next((p for p in parts if p.id == filled.on), None)
    if part is None:
        complain(
            "heat_break",
            i,
            "on",
            hole.on or "",
            "is not the id of a part." if hole.on else "is missing: which tube are the holes in?",
            closest(hole.on or "", [p.id for p in parts]),
        )
        return
    if hole.from_m is None and filled.from_m is None:
        complain(
            "heat_break",
            i,
            "from",
            "",
            "is missing: there is no handle to measure from.",
            do="Write where the holes begin, from the tip.",
        )
    p = pattern_of(filled, part)
    if p is None and part.inner_m is None:
        complain("heat_break", i, "on", part.id, "has no bore: holes hold heat back in a tube only.")
    if p is None or filled.from_m is None or part.from_m is None or part.to_m is None:
        return
    if filled.from_m < part.from_m:
        complain(
            "heat_break",
            i,
            "from",
            say("length_m", filled.from_m),
            f"is before the {part.id} begins ({say('length_m', part.from_m)}).",
            "All places are measured from the tip.",
        )
        return
    try:
        refuse_bad_pattern(p, part.to_m - filled.from_m)
    except Fault as told:
        for c in told.complaints:
            key = "from" if "tube for it" in c.need else "spacing" if "run into" in c.need else "holes"
            complain("heat_break", i, key, c.text, c.need, c.cause, c.do)


def _order(section, i, thing, complain):
    if (thing.from_m is None) != (thing.to_m is None):
        given, missing = ("from", "to") if thing.to_m is None else ("to", "from")
        complain(
            section,
            i,
            missing,
            "",
            f"is missing beside {given}: a place on the tool has two ends.",
            do="Write both, measured from the tip, or neither.",
        )
    if thing.from_m is not None and thing.to_m is not None and thing.to_m <= thing.from_m:
        complain(
            section,
            i,
            "to",
            say("length_m", thing.to_m),
            f"is not beyond from ({say('length_m', thing.from_m)}).",
            "All places are measured from the tip.",
        )
    if (
        getattr(thing, "inner_m", None) is not None
        and getattr(thing, "outer_m", None) is not None
        and thing.inner_m >= thing.outer_m
    ):
        complain(
            section,
            i,
            "inner",
            say("diameter_m", thing.inner_m),
            f"is not less than outer ({say('diameter_m', thing.outer_m)}).",
            "They may be swapped.",
        )


def _coil(coil, wires, parts, complain):
    if coil is None:
        return
    if coil.wire is None and wires:
        complain("coil", None, "wire", "", "is missing: which wire of the sheet is wound?", closest("", wires))
    elif coil.wire is not None and coil.wire not in wires:
        complain("coil", None, "wire", coil.wire, "is not the id of a wire.", closest(coil.wire, wires))
    on = next((p for p in parts if p.id == coil.on), None)
    if coil.on is not None and on is None:
        complain("coil", None, "on", coil.on, "is not the id of a part.", closest(coil.on, [p.id for p in parts]))
    if coil.from_m is not None and coil.to_m is not None and coil.to_m <= coil.from_m:
        complain(
            "coil",
            None,
            "to",
            say("length_m", coil.to_m),
            "is not beyond from.",
            "All places are measured from the tip.",
        )
        return
    for word, at in (("from", coil.from_m), ("to", coil.to_m)):
        if at is None or on is None or on.from_m is None or on.to_m is None or on.from_m <= at <= on.to_m:
            continue
        ends = f"which lies from {say('length_m', on.from_m)} to {say('length_m', on.to_m)}"
        need = f"is not on the {on.id}, {ends}."
        complain("coil", None, word, say("length_m", at), need, "All places are measured from the tip.")
