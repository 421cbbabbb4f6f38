"""A field of a sheet in words: what it is and whose."""

from ..basics.names import NAMES
from .schema import key_of

PLACE, BAND = "_place", "band of the "  # of a value that is drawn as a place within a band
FACTORS = {"contact_scale": "factor on the contact", "conductivity_scale": "factor on the conductivity"}


def field_words(build, path):
    """A field in words.

    build: Build. path: of a field, such as "part.tube.emissivity".

    >>> from benchcalc import load_chosen
    >>> press = load_chosen("insert_press")
    >>> field_words(press, "room.air_speed_m_s")
    'air speed'
    >>> field_words(press, "part.tube.material")
    'material of the tube'
    >>> field_words(press, "layer.0.thickness_m")
    'thickness of the layer from stem to coil'
    >>> field_words(press, "part.tube.conductivity_place")
    'conductivity of the tube'
    """
    section, *middle, field = path.split(".")
    word = _what(section, middle, field, key_of(path), getattr(build.known.get(path), "text", None) or "")
    if not middle:
        return f"{section}'s {word.removeprefix('its ')}" if word.startswith("its ") else word
    whose = _whose(build, section, middle)
    long = any(w in word for w in (",", " of ", " with "))
    return f"{whose}: {word}" if long else f"{word} of the {whose}"


def _what(section, middle, field, key, text):
    """What a field is: by its key, the glossary, or the text that tells where its value is from."""
    own = key.word.split(" (")[0] if key is not None else ""
    if field.endswith(PLACE) and text.startswith(BAND):
        return text.removeprefix(BAND)
    if own and (middle or section == "soak"):
        return own.removeprefix("its ") if middle else own
    word = NAMES[field].word if field in NAMES else own or FACTORS.get(field, "")
    if not word and section == "heat":
        word = text.split(";")[0].split(":")[0]
    return word or " ".join(w for w in field.split("_") if len(w) > 2)


def _whose(build, section, middle):
    number = int(middle[0]) if middle[0].isdigit() else None
    if section == "joint" and number is not None and number < len(build.joint):
        return f"joint of {' and '.join(build.joint[number].between)}"
    if section == "layer" and number is not None and number < len(build.layer):
        return f"layer from {' to '.join(build.layer[number].between)}"
    names = [str(int(m) + 1) if m.isdigit() else m.replace("_", " ") for m in middle]
    return " ".join(names if section in ("part", "wire", "heat_break", "coil") else [section.replace("_", " "), *names])
