"""Which cautions apply: facts of a build against the triggers of data/cautions.csv."""

import numpy as np

from ...basics.tables import rows
from ..supply.link import judged_volts
from .material_facts import material_facts

_KINDS = {"transformer": "kind transformer", "battery": "kind battery", "switching supply": "kind switching"}
_LAYERS = {
    "mica": "layer mica",
    "ceramic fib": "layer ceramic fibre",
    "glass": "layer glass sleeve",
    "cement": "layer cement",
    "paste": "layer cement",
}
_FOAM = ("foam", "plastic", "polystyrene")
MAINS_V = 90.0  # a supply typed at or above this is somebody's mains, not a supply (own judgement)


def facts_of(build, workings, extra=()):
    """The facts of a build that a caution may hang on.

    build: Build. workings: Workings, or None. extra: names of facts that a page brings.
    Returns dict: fact -> True, or a number.  Facts are those listed in the head of data/cautions.csv.
    """
    facts = dict.fromkeys(extra, True)
    supply = build.supply
    if supply.kind in _KINDS:
        facts[_KINDS[supply.kind]] = True
    volts = [r.volts_v for r in supply.reading if r.volts_v is not None]
    if supply.open_v is not None:
        volts.append(supply.open_v)
    if workings is not None and workings.supply is not None and np.all(np.isfinite(workings.supply.open_v)):
        volts.append(np.max(workings.supply.open_v))
    if volts:
        most, output = judged_volts(supply, np.max([np.max(v) for v in volts]))
        facts[f"open_v_{(output or 'AC').lower()}"] = float(most)
        if supply.kind is not None and max(np.max(v) for v in volts) >= MAINS_V:
            facts["kind mains"] = True
    if any(np.any(np.asarray(r.amps_a) > 0) for r in supply.reading if r.amps_a is not None):
        facts["supply loaded"] = True
    if build.wire:
        facts["wire listed"] = True
    if any(w.used for w in build.wire):
        facts["wire used"] = True
    if build.coil is not None:
        facts["coil planned"] = True
        if (
            build.coil.mounting
            in ("bare wire in free air", "open coil in air", "open coil in blown air", "coil wound on a rod, radiating")
            or build.coil.on is None
        ):
            facts["bare wire"] = True
    if build.heat_break:
        facts["tube drilled"] = True
    if build.control is not None:
        facts["power held"] = True
    for layer in build.layer:
        for word, fact in _LAYERS.items():
            if word in (layer.material or "").lower():
                facts[fact] = True
    if any(word in (build.want.job or "").lower() for word in _FOAM):
        facts["job foam"] = True
    facts.update(material_facts(build, None if workings is None else workings.heat))
    facts.update(dict.fromkeys(extra, True))
    return facts


def is_stop(row):
    """Whether a caution says to stop, so that no page may leave it out.

    row: dict of data/cautions.csv.
    """
    return row["sentence"].startswith("Stop:")


def meets(trigger, facts):
    """Whether a trigger holds: a fact's name, or `name>number`.

    trigger: text of data/cautions.csv. facts: as `facts_of`.
    """
    name, _, over = trigger.partition(">")
    value = facts.get(name.strip(), False)
    return value is not False and value > float(over) if over else bool(value)


def cautions_for(build, workings=None, extra=()):
    """The rows of data/cautions.csv that apply to a build, in the order of the table.

    build: Build. workings: Workings, or None. extra: facts that a page brings.
    Returns tuple of row dicts (id, trigger, sentence, defer_to, source_id, basis).
    """
    facts = facts_of(build, workings, extra)
    return tuple(r for r in rows("cautions") if meets(r["trigger"], facts))
