"""What is told of a sheet's keys, told of the form's own fields and buttons instead."""

import re

from ...sheet.schema import KEYS
from .plan import field_label, groups

_Q = r"(?:\"|&quot;|&#34;)"
_UNDER = re.compile(rf"\b([Ww])rite (\w+)(?: = (?:{_Q}([^\"&\[]*){_Q}|\.\.\.))? under \[+([\w.]+?)\]+")
_PLACE = re.compile(r"(?<!\w)\[+([a-z_.]+)\]+")
_EXAMPLE = re.compile(rf"Write e\.g\. (\w+) = (\[?{_Q}[^=]*?{_Q}\]?)\.")


def form_words(said: str, section: str = "") -> str:
    """A sentence that speaks of keys of a sheet, for somebody who fills in the form; others stay as they are.

    said: text or HTML. section: the one that it is about, "" where it is not known.

    >>> form_words("write joint under [lead_out], if it has one.")
    'fill in “kind of that joint” (button “way out”), if it has one.'
    """
    said = _UNDER.sub(_fill_in, said)
    if section:
        said = _EXAMPLE.sub(lambda found: _example(found, section), said)
    return _PLACE.sub(lambda found: f"the button “{title_of_group(found[1])}”" if found[1] in KEYS else found[0], said)


def in_form(wrong: dict) -> dict:
    """What is wrong with a sheet, in words of the form.  wrong: dict of sentences by place, as of Draft.checked."""
    return {place: [form_words(said, place[0]) for said in told] for place, told in wrong.items()}


def _fill_in(found):
    capital, key, value, section = found.groups()
    if key not in KEYS.get(section, ()):
        return found[0]
    act = "Fill in" if capital == "W" else "fill in"
    example = f", e.g. {value}" if value else ""
    return f"{act} “{field_label(KEYS[section][key])}” (button “{title_of_group(section)}”){example}"


def _example(found, section):
    key, value = found.groups()
    if key not in KEYS.get(section, ()):
        return found[0]
    value = re.sub(rf"{_Q}|[\[\]]", "", value)
    return f"Fill in “{field_label(KEYS[section][key])}”, e.g. {value}."


def title_of_group(section: str) -> str:
    """The words on the button of the group that a section stands in.  section: its name."""
    return next(g.title for g in groups() if section in g.sections)
