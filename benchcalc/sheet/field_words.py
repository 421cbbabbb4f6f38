"""A field of a sheet in words: what it is and whose."""

from ..basics.names import NAMES
from .schema import key_of


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
    """
    section, *middle, field = path.split(".")
    key, known = key_of(path), build.known.get(path)
    own = key.word.split(" (")[0] if key is not None else ""
    word = own if own and middle else NAMES[field].word if field in NAMES else own
    if not word and section == "heat" and known is not None and known.text:
        word = known.text.split(";")[0].split(":")[0]
    word = word or " ".join(w for w in field.split("_") if len(w) > 2)
    if not middle:
        return word
    whose = _whose(build, section, middle)
    long = any(w in word for w in (",", " of ", " with "))
    return f"{whose}: {word}" if long else f"{word} of the {whose}"


def _whose(build, section, middle):
    number = int(middle[0]) if middle[0].isdigit() else None
    if section == "joint" and number is not None and number < len(build.joint):
        return f"joint of {' and '.join(build.joint[number].between)}"
    if section == "layer" and number is not None and number < len(build.layer):
        return f"layer from {' to '.join(build.layer[number].between)}"
    names = [str(int(m) + 1) if m.isdigit() else m.replace("_", " ") for m in middle]
    return " ".join(names if section in ("part", "wire", "heat_break", "coil") else [section.replace("_", " "), *names])
