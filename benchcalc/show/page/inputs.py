"""Which sheet a page works with, and how the inputs that it uses are known."""

from collections import Counter
from pathlib import Path

import numpy as np

from ...basics.escape import plain_text
from ...basics.names import NAMES, said_number, say, suffix_of
from ...chain.workings import settled
from ...sheet.borrowed import borrowed
from ...sheet.change import get
from ...sheet.learned import learned_words
from ...sheet.learned_together import LEARNED
from ...sheet.teachable import name_of
from .table import as_markdown, table
from .words import Words

_HOW = ("measured", "learned", "borrowed", "stated", "table", "assumed")
_SAYS = {
    "measured": "read with an instrument",
    "learned": "from readings on the finished tool: page 06 keeps and drops them",
    "borrowed": "still the demo's: type your own over them, or remove them",
    "stated": "as the sheet says",
    "table": "from data/, with its source",
    "assumed": "nobody said: taken until a reading says better",
}
_READ = ("supply", "other_supply", "soak", "as_built", "log", "probe")  # sections of readings
WIRE_TEMP = "coil.wire_temp_c"
_WHOSE = {
    "soak": "the soak test",
    "log": "logs",
    "probe": "probes",
    "marker": "markers",
    "other_supply": "other supplies",
}
_WHOSE |= {"control": "the control", "sensor": "the sensor"}
_REST = "parts, joints and layers"
_TOLD = ("supply", "wire", "coil", "room", "want", "as_built", "use")  # sections whose inputs are told one by one


def introduce(build):
    """Which sheet this is, and how each of its inputs is known.

    build: Build.
    Returns Words; the first line names the sheet's file and says whether it is an invented demo.
    """
    return Words(f"{sheet_line(build).text}\n\n{inputs_used(build).text}")


def sheet_name(build):
    """The name by which a sheet is chosen: that of its file.  build: Build."""
    return Path(build.file).stem if build.file else build.name


def sheet_line(build):
    """Which sheet this is: its file, whether it is an invented demo, and what it still borrows.  build: Build."""
    name = sheet_name(build)
    kind = "invented demo" if build.invented else "your own sheet"
    lent = ", ".join(borrowed(build))
    lent = f" **Still borrowed from the demo {build.begun_from}, so nothing is fine by them:** {lent}." if lent else ""
    taught = learned_words(build)
    taught = f" {plain_text(taught)}" if taught else ""
    return Words(f"Sheet: {plain_text(name)} ({kind}): {plain_text(build.name)}.{lent}{taught}")


def known_inputs(build, *sections):
    """The inputs by how they are known: list of (how, what that means, inputs in words).

    build: Build. sections: of the sheet; none: all.
    """
    rows = [(how, _SAYS[how], "; ".join(_inputs(build, how, sections))) for how in _HOW]
    return [r for r in rows if r[2]]


def inputs_used(build, *sections):
    """How the inputs that a page uses are known, and whose they are.

    build: Build. sections: of the sheet, e.g. "supply", "wire"; none: all.
    Returns Words.
    """
    whose = "of the invented demo" if build.invented else "of your sheet"
    head = ("known", "what that means", f"inputs {whose}")
    return Words(as_markdown(table(head, known_inputs(build, *sections))))


def _inputs(build, how, sections=()):
    """What is known in one way, in words and numbers; readings are put together."""
    told, groups, theirs = [], {}, {path for paths in borrowed(build).values() for path in paths}
    hows = {path: "borrowed" if path in theirs else _how(path, known) for path, known in build.known.items()}
    if hows.get(WIRE_TEMP) == "assumed" and settled(build).coil.wire_temp_c != build.coil.wire_temp_c:
        hows[WIRE_TEMP] = "worked out by the heat model"  # the guess was only where its search began
    hows |= {path: "not of this tool" for path in hows if path.startswith("other_supply.")}
    for path, known in build.known.items():
        section, _, field = path.rpartition(".")
        if sections and path.split(".")[0] not in sections:
            continue
        if hows[path] != how or field in ("factor_place", "loaded_s", "amps_a"):
            continue
        value = get(build, path)
        if known.how == LEARNED:
            told.append(f"{name_of(build, path)} {_spread(build, field, value, known)}")
        elif field == "volts_v":
            reading = get(build, section)
            groups[section] = f"{say(field, value)} at {say('load_a', reading.amps_a)}"
        elif section.split(".")[0] in _TOLD:
            told.append(f"{_word(path)} {_spread(build, field, value, known)}")
    told = [*groups.values(), *told]
    others = [p for p in build.known if hows[p] == how and p.split(".")[0] not in _TOLD]
    others = [p.split(".")[0] for p in others if build.known[p].how != LEARNED]
    counts = Counter(_WHOSE.get(section, _REST) for section in others if not sections or section in sections)
    return told + [f"{n} value{'s'[: n > 1]} of {whose}" for whose, n in counts.items()]


def _how(path, known):
    """How an input is known: one with a doubt of its own and no instrument is stated, unless it can only be a reading.

    path: of the sheet. known: Known.
    """
    reading = path.split(".")[0] in _READ or path.rpartition(".")[2].startswith("measured")
    by_hand = not known.group and any(sign in (known.text or "") for sign in ("+-", "+/-", "±"))
    return "stated" if known.how == "measured" and by_hand and not reading else known.how


_WORDS = {
    "coil.length_m": "wire length in the coil",
    "coil.tails.resistance_ohm": "tails",
    "coil.end_room_m": "end room",
    "coil.anchor_turns": "anchor turns, wound tight to hold each end",
    "coil.wire_temp_c": "wire temperature",
    "want.power_w": "wanted power",
    "room.ambient_c": "room",
    "room.air_speed_m_s": "air speed",
    "supply.mains": "mains or charge, against today's",
    "supply.warming": "warm over cold source resistance",
    "use.hours_per_year": "hours a year",
    "coil.pitch_m": "pitch",
    "coil.tails.length_m": "each tail",
    "coil.tails.section_m2": "section of a tail",
    "supply.cable.length_m": "length of the cable",
    "supply.cable.area_m2": "section of the cable",
    "supply.cable.contacts_ohm": "contacts of the cable",
}


def _word(path):
    section, _, field = path.rpartition(".")
    if path in _WORDS:
        return _WORDS[path]
    whose = f"{section.split('.', 1)[1]}: " if section.startswith("wire.") else ""
    return whose + _named(field)


def _named(field):
    return NAMES[field].word if field in NAMES else field.removesuffix("_" + suffix_of(field)).replace("_", " ")


def _spread(build, field, value, known):
    way = {"units": build.units, "degrees": build.degrees}
    if known.low == known.high:
        if not suffix_of(field) and np.ndim(value) == 0 and float(value).is_integer():
            return f"{value:.0f}"  # a count, as it was typed
        has_unit = any(letter.isalpha() for letter in known.text or "")
        return (
            known.text
            if known.how == "stated" and has_unit and "," not in known.text and not np.ndim(value)
            else say(field, value, **way)
        )
    low, at, high = (said_number(field, x, **way) for x in (known.low, value, known.high))
    told = say(field, value, **way)
    return told if low == at == high else f"{told} ({low} to {high})"
