"""Which inputs readings on the finished tool can teach, by names that stay when a sheet's lines change places."""

from .build import Build
from .change import get

MAINS, AMBIENT, AIR, STORED = "supply.mains", "room.ambient_c", "room.air_speed_m_s", "heat.stored_scale"
NAMED = {MAINS: "mains that day", AMBIENT: "the room that day", AIR: "air speed", STORED: "heat stored by the parts"}
HEAT_WORDS = {
    "gap_eccentricity": "how far the coil lies off centre",
    "loose_gap_m": "air between parts that touch",
    "layer_emissivity": "emissivity of the layers",
    "slack_m": "slack under the layers",
    "screw_point_w_k": "the set screw's point",
    "convection": "free convection",
    "rear_convection": "air around the rear of the tube",
    "rear_length_m": "length of tube in its own warm air",
    "leads_to_tube_w_mk": "leads to the tube",
    "work_w_m2k": "what is melted to its wall",
    "wood_along_grain": "wood along its grain, over across it",
    "wood_contact_w_m2k": "the handle's wood on the tube",
}
LIMITS = {  # of what can be, by field
    "emissivity": (0.02, 1.0),
    "air_speed_m_s": (0.0, 10.0),
    "convection": (0.3, 2.0),
    "rear_convection": (0.0, 1.5),
    "gap_eccentricity": (0.0, 1.0),
    "layer_emissivity": (0.02, 1.0),
}
FURTHEST = {"conductivity_place": (-2.0, 2.0), "ambient_c": (-30.0, 60.0), "stored_scale": (0.3, 3.0)}
PAIRED = {"contact_scale": "joint", "conductivity_scale": "layer"}


def name_of(build: Build, path: str) -> str:
    """What an input is called.

    build: Build. path: of a field.
    Returns text, such as "joint tip - stem"; "" for an input that no thermometer can teach.
    """
    section, _, field = path.rpartition(".")
    if path in NAMED:
        return NAMED[path]
    if section == "heat":
        return HEAT_WORDS.get(field, "")
    if field == "emissivity":
        return f"emissivity, {section[5:]}"
    if field == "conductivity_place":
        return f"conductivity, {section[5:]}"
    if field not in PAIRED:
        return ""
    kind, number = section.split(".")
    pair = get(build, section).between
    same = [i for i, x in enumerate(getattr(build, kind)) if x.between == pair]
    which = same.index(int(number)) + 1
    return f"{PAIRED[field]} {' - '.join(pair)}{f', {which}' if which > 1 else ''}"


def teachable(build: Build) -> tuple:
    """Paths of all inputs that readings can teach.  build: Build."""
    return tuple(p for p in dict.fromkeys((*build.known, STORED)) if name_of(build, p) and get(build, p) is not None)


def possible(path: str) -> tuple:
    """What an input can be at all.

    path: of an input that can be taught.
    Returns (least, most), SI: far beyond any reading, so that only slips of the pen lie outside.
    """
    field = path.rpartition(".")[2]
    return LIMITS.get(field) or FURTHEST.get(field) or (1e-9, 1e4)


def said_of(build: Build, path: str) -> str:
    """What the sheet says there, so that what was learned is used of that alone.

    build: Build. path: of an input that can be taught.
    Returns text: how a joint is made, material and finish of a part, material of a layer, else the numbers.
    """
    section, _, field = path.rpartition(".")
    holder = get(build, section)
    if field == "contact_scale":
        return holder.made or "not told"
    if field == "conductivity_scale":
        return holder.material or "not told"
    if field in ("emissivity", "conductivity_place"):
        finish = f", {holder.finish}" if field == "emissivity" and holder.finish else ""
        return f"{holder.material}{finish}"
    known, value = build.known.get(path), get(build, path)
    ends = "" if known is None or known.low == known.high else f" ({known.low:.4g} to {known.high:.4g})"
    return f"{value:.4g}{ends}"
