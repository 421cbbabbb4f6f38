"""Facts of a build that hang on what its parts are made of and how hot they get, for the cautions."""

import numpy as np

from ...basics.tables import rows
from ...materials.bulk import finish_word, joint_row, solid_key
from ...sheet.roles import parts_with_role

_METALS = {
    "brass": "metal brass",
    "galvanised-steel": "metal galvanised",
    "lead": "metal lead",
    "solder-sn6": "metal lead",
    "beryllium-copper": "metal beryllium copper",
    "chromed-steel": "metal chromed",
    "stainless": "metal stainless",
}
_METALS_C = {
    "brass": "brass_c",
    "galvanised-steel": "galvanised_c",
    "zinc": "zinc_c",
    "lead": "lead_c",
    "solder-sn6": "lead_c",
    "chromed-steel": "chromed_c",
    "aluminium": "aluminium_c",
}
_LAYERS = {
    "glass-sleeve-silicone": "layer silicone sleeve",
    "asbestos": "layer unknown board",
    "beryllia": "layer unknown ceramic",
}
_LAYERS_C = {"refractory-cement": "cement_c", "ptfe": "ptfe_c", "pvc": "pvc_c", "silicone-rubber": "silicone_c"}
_JOBS = {
    "wax": "job wax",
    "solder": "job solder",
    "branding": "job branding",
    "insert": "job plastic",
    "plastic": "job plastic",
    "film": "job plastic",
    "rope": "job plastic",
}


def material_facts(build, heat):
    """What a build's materials, joints, job and temperatures bring up.

    build: Build. heat: HeatPart, or None.
    Returns dict: fact -> True, or the hottest temperature in degC.
    """
    facts = {}
    warm = {} if heat is None else {i: float(np.max(t)) for i, t in zip(heat.part_ids, heat.part_hottest_c)}
    for part in build.part:
        if part.material is not None:
            facts["metal part"] = facts.get("metal part", False) or solid_key(part.material)[0] == "metals"
            _part(part, warm.get(part.id), facts)
    for joint in build.joint:
        _joint(joint, warm, facts)
    for layer in build.layer:
        _layer(layer, warm, heat, facts)
    if build.coil is not None and build.coil.tails.sleeve is not None:
        _insulation(build.coil.tails.sleeve, [] if heat is None else [float(np.max(heat.tails_c))], facts)
    for word, fact in _JOBS.items():
        if word in (build.want.job or "").lower():
            facts[fact] = True
    if heat is not None:
        _places(build, heat, facts)
    unsafe = {r["marker"] for r in rows("markers") if r["safe"] != "yes"}
    if any(m.material in unsafe for m in build.marker):
        facts["marker unsafe"] = True
    return facts


def _hotter(facts, fact, temp_c):
    if temp_c is not None and np.isfinite(temp_c):
        facts[fact] = max(facts.get(fact, -np.inf), float(temp_c))


def _part(part, temp_c, facts):
    _, key = solid_key(part.material)
    finish = finish_word(part.finish) if part.finish is not None else None
    if finish == "galvanised":
        key = "galvanised-steel"
    for start, fact in _METALS.items():
        if key.startswith(start):
            facts[fact] = True
    for start, fact in _METALS_C.items():
        if key.startswith(start):
            _hotter(facts, fact, temp_c)
    if key == "galvanised-steel":
        _hotter(facts, "zinc_c", temp_c)
    if finish == "painted":
        facts["finish painted"] = True


def _joint(joint, warm, facts):
    made = "" if joint.made is None else joint_row(joint.made)["made"]
    if "screw" in made:
        facts["metal plated screw"] = True
    if made.startswith("pressed"):
        facts["joint pressed"] = True
    if made == "soldered" and all(i in warm for i in joint.between):
        _hotter(facts, "solder_c", min(warm[i] for i in joint.between))


def _layer(layer, warm, heat, facts):
    if layer.material is None:
        return
    beside = [warm[i] for i in layer.between if i in warm]
    if "coil" in layer.between and heat is not None:
        beside.append(float(np.max(heat.wire_c)))  # what lies against the wire meets the wire
    _insulation(layer.material, beside, facts)


def _insulation(material, beside, facts):
    """What an insulation brings up, and the hottest of the temperatures beside it."""
    _, key = solid_key(material)
    for start, fact in _LAYERS.items():
        if key.startswith(start):
            facts[fact] = True
    for start, fact in _LAYERS_C.items():
        if key.startswith(start) and beside:
            _hotter(facts, fact, max(beside))


def _places(build, heat, facts):
    job = (build.want.job or "").lower()
    melted = {solid_key(p.material)[1] for p in parts_with_role(build, "work") if p.material is not None}
    work, tip, wire = (float(np.max(x)) for x in (heat.work_c, heat.tip_c, heat.wire_c))
    if melted & {"paraffin-wax", "beeswax"} or "wax" in job:
        facts["job wax"] = True
        _hotter(facts, "wax_c", work if np.isfinite(work) else tip)
    if "hide-glue" in melted or "hide glue" in job:
        _hotter(facts, "glue_c", work if np.isfinite(work) else tip)
    if "foam" in job:
        _hotter(facts, "foam_c", tip if np.isfinite(tip) else wire)
    for place in (heat.entry_c, heat.bore_c):
        _hotter(facts, "handle_c", float(np.max(place)))
    _hotter(facts, "grip_c", float(np.max(heat.grip_c)))
