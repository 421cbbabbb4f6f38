"""The plan of the sheet editor, without widgets: groups along the chain, their fields, what each may hold.

All of it follows from the keys that the dataclasses declare (sheet/key.py): a new key stands in its group by itself.
"""

from dataclasses import dataclass

from ...basics.quantity import EXAMPLES
from ...basics.tables import rows
from ...sheet.edits import NO, YES
from ...sheet.key import ASSUMED, TIMES, Key
from ...sheet.load import DEFAULT_METER
from ...sheet.schema import KEYS, LISTS, SECTIONS
from .search import offers


@dataclass(frozen=True)
class Group:
    """Sections that are filled in together: title on its button, one sentence, names of the sections."""

    title: str
    about: str
    sections: tuple


_GROUPS = (
    Group("tool", "What it is called, and what it must do.", ("sheet", "want")),
    Group(
        "supply",
        "Read the volts with nothing connected (0 A) first, then under one or more loads. Extra-low voltage only: what "
        "is on the mains side stays shut.",
        ("supply", "supply.reading", "supply.cable", "other_supply"),
    ),
    Group(
        "soak",
        "A soak test shows how warm the supply gets: the ohms of its primary, read at the pins of the unplugged plug.",
        ("soak", "soak.cooling", "soak.hour"),
    ),
    Group("wires", "Every reel and piece you have; leave the alloy open where you do not know it.", ("wire",)),
    Group("coil", "Which wire is the coil, where it lies, and its tails.", ("coil", "coil.tails")),
    Group(
        "parts", "Everything solid on the tool's axis. All places are measured along the axis from the tip.", ("part",)
    ),
    Group("joints, layers", "Where parts touch and how; insulation from the inside out.", ("joint", "layer")),
    Group("holes", "Rings of holes round a tube, which hold heat back.", ("heat_break",)),
    Group("way out", "Where the tails meet the cable.", ("lead_out",)),
    Group("control", "What switches it, and what senses how warm it is.", ("control", "sensor")),
    Group("room, use", "Where and how it is used.", ("room", "use")),
    Group("markers, logs", "What you saw when it was warming up.", ("marker", "log")),
    Group(
        "learned",
        "What readings on the finished tool taught. Page 06 writes these lines, and drops them all in one step.",
        ("learned",),
    ),
    Group(
        "as built",
        "What you measured on the finished coil, and the readings of your build card, which page 10 writes.",
        ("as_built", "as_built.reading"),
    ),
)
_WORDS = {
    "sheet": ("the tool", "tool"),
    "want": ("what it must do", "wish"),
    "supply": ("the supply", "supply"),
    "supply.reading": ("readings at the supply", "reading"),
    "supply.cable": ("its cable to the tool", "cable"),
    "other_supply": ("other supplies that lie about", "supply"),
    "soak": ("the soak test", "soak test"),
    "soak.cooling": ("readings while it cools", "reading"),
    "soak.hour": ("readings over the hours", "reading"),
    "wire": ("wires", "wire"),
    "coil": ("the coil", "coil"),
    "coil.tails": ("its tails", "tails"),
    "part": ("parts", "part"),
    "joint": ("joints", "joint"),
    "layer": ("layers of insulation", "layer"),
    "heat_break": ("heat breaks", "heat break"),
    "lead_out": ("the way out", "way out"),
    "room": ("the room", "room"),
    "use": ("its use", "use"),
    "marker": ("melting markers", "marker"),
    "log": ("warm-up logs", "log"),
    "learned": ("what was learned", "input"),
    "as_built": ("as built", "coil"),
    "as_built.reading": ("readings of the build card", "reading"),
}


@dataclass(frozen=True)
class Field:
    """A field of the form: its Key, what stands before it, what it is filled with, an example, how it may be known.

    kind: "quantity", "name" (typed or chosen from a list), "choice" (chosen), "pair" (two chosen), "text".
    """

    key: Key
    label: str
    kind: str
    hint: str = ""
    how: tuple = ()


def groups() -> tuple:
    """The groups along the chain; sections that none of them names come in a last one.

    Returns tuple of Group, each section in exactly one.
    """
    named = [s for g in _GROUPS for s in g.sections]
    rest = tuple(s for s in SECTIONS if s not in named)
    found = tuple(Group(g.title, g.about, tuple(s for s in g.sections if s in SECTIONS)) for g in _GROUPS)
    found = tuple(g for g in found if g.sections)
    return (*found, Group("more", "What stands on the sheet besides.", rest)) if rest else found


def words_of(section) -> tuple:
    """A section in words: (all of it, one row of it).  section: its name."""
    return _WORDS.get(section) or (section.replace("_", " ").replace(".", ", "),) * 2


def fields_of(section) -> tuple:
    """The fields of a section, one for each key that its dataclass declares.

    section: its name.
    Returns tuple of Field, in the order of the keys.
    """
    return tuple(_field(section, key) for key in KEYS[section].values())


def field_label(key) -> str:
    """What stands before a field.  key: Key."""
    return key.word.split(", of data/")[0].removesuffix(" (its id)")


def _field(section, key):
    label = field_label(key)
    if key.choices or key.kind == "flag" or {"wire", "part", "instrument"} & set(key.marks):
        return Field(key, label, "choice")
    if key.kind == "pair":
        return Field(key, label, "pair")
    if key.is_quantity:
        row_says = "with" in KEYS[section] and "bare" in key.marks
        return Field(key, label, "quantity", _example(key), () if row_says else hows(key))
    if offers(key):
        return Field(key, label, "name", "type or choose")
    return Field(key, label, "text", "28 AWG" if key.kind == "gauge" else "")


EXAMPLE_OF = {  # where the example of the quantity would mislead
    ("control", "window"): "2 s",
    ("control", "integral"): "60 s",
    ("control", "band"): "5 K",
    ("control", "proportional_band"): "20 K",
    ("control", "cut_out"): "240 degC",
    ("control", "cut_out_hold"): "200 degC",
    ("sensor", "lag"): "5 s",
    ("soak.cooling", "seconds"): "30 s",
    ("want", "temperature"): "230 degC",
    ("coil", "length"): "650 mm",
    ("room", "ambient"): "20 degC",
    ("soak", "cold_room"): "20 degC",
    ("soak", "end_room"): "22 degC",
}
CHOICE_WORDS = {  # what a choice means, where its word alone does not say it
    "pressed bead": "pressed bead: pressed or bound on, or under a screw",
    "peened or embedded": "peened or embedded: hammered or cast in, or in a hole closed over it",
    "joint": "joint: a soldered joint",
    "insert": "insert: one of brass, into plastic",
    "cold wax": "cold wax: a block of it into the melt",
    "hot": "hot: it switches off",
    "cold": "cold: it goes on heating",
}


def _example(key):
    if (key.section, key.key) in EXAMPLE_OF:
        return EXAMPLE_OF[key.section, key.key]
    if key.kind in TIMES:
        return {"minutes": "5 min", "hours": "2 h"}[key.kind]
    if key.kind == "m":
        return "0.3 mm" if key.high <= 0.01 else "12 mm" if key.high <= 0.5 else "56 mm"
    more = {"ratio": "8 %", "kg_m3": "700 kg/m3", "n": "20 N", "count": "1" if key.whole else "2.5"}
    return more.get(key.kind) or EXAMPLES[key.kind].split(" or ")[0].strip('"')


def hows(key) -> tuple:
    """How a quantity may be known: (words, what follows it on the sheet), the plain one first.

    key: Key of a quantity.
    """
    meters = [r["key"] for r in rows("instruments") if r["quantity"] == key.dimension]
    plain = f"{DEFAULT_METER}, if not told" if key.measured else "stated"
    return ((plain, ""), *((f"read with {m}", m) for m in meters), (ASSUMED, ASSUMED))


def choices(field, tables, now="") -> tuple:
    """What a field that is chosen may be: (words, text typed for it), "" first.

    field: Field of kind "choice" or "pair". tables: of sheet/edits.tables_of. now: what stands there, kept even
    where it is not allowed.
    """
    key = field.key
    if key.choices:
        found = [(CHOICE_WORDS.get(c, c), c) for c in key.choices]
    elif key.kind == "flag":
        found = [(YES, YES), (NO, NO)]
    elif "instrument" in key.marks:
        found = [(o.word, o.word) for o in offers(key) if _reads_here(o.word, key.section)]
    else:
        of = "wire" if "wire" in key.marks else "part"
        ids = [str(row["id"]) for row in tables[of] if row.get("id")]
        if key.kind == "pair" and key.section == "layer":
            ids += ["coil", "room"]
        found = [(i, i) for i in dict.fromkeys(ids)]
    if now and now not in [value for _, value in found]:
        found.append((f"{now} (!)" if not now.endswith(ASSUMED) else now, now))
    return (("not said", ""), *found)


def _reads_here(meter, section):
    """Whether an instrument reads any quantity of a section."""
    kinds = {k.kind for k in KEYS[section].values() if "bare" in k.marks}
    return any(r["key"] == meter and r["quantity"] in kinds for r in rows("instruments"))


def many(section) -> bool:
    """Whether a section may stand many times.  section: its name."""
    return section in LISTS


def title_of(section, index, row) -> str:
    """A row in a few words.  section: its name. index: its number. row: dict of its keys."""
    one = words_of(section)[1]
    said = [str(row[k]) for k in ("id", "material", "made", "file") if isinstance(row.get(k), str)][:2]
    if isinstance(row.get("between"), list):
        said = [" and ".join(map(str, row["between"])), *said]
    if section == "part" and "from" in row and "to" in row:
        said.append(f"{row['from']} to {row['to']}")
    if not said:
        said = [str(v) for v in list(row.values())[:2] if not isinstance(v, (dict, list))]
    return f"{one} {index + 1}" + (f": {', '.join(said)}" if said else "")
