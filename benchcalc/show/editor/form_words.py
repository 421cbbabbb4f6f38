"""What is told of a sheet's keys, told of the form's own fields and buttons instead."""

import re

from ...sheet.schema import KEYS
from .plan import field_label, groups

_Q = r"(?:\"|&quot;|&#34;)"
_NAMED = re.compile(r"\[+([a-z_.]+)\]+")
_VALUE = rf"(?:(\[[^\]]*\]|{_Q}[^=\n]*?{_Q})|\.\.\.)"
_TYPED = re.compile(rf"\b(?:([Ww])rite (?:e\.g\. )?)?(\w+) = {_VALUE}(?: under \[+([a-z_.]+)\]+)?")
_BARE = re.compile(r"\b([Ww])rite ((?:its |their )?)(\w+)((?: and (\w+))?)(?= under \[)")
_UNDER = re.compile(r"(?<=”) under \[+([a-z_.]+)\]+")
_PLACE = re.compile(r"(?<!\w)\[+([a-z_.]+)\]+")


def form_words(said: str, section: str = "", page: str = "") -> str:
    """A sentence that speaks of keys of a sheet, for somebody who fills in the form; others stay as they are.

    said: text or HTML. section: the one that it is about, "" where only the sentence itself names it. page: where the
    form is, if it is told elsewhere, such as "page 00, ".

    >>> form_words("write joint under [lead_out], if it has one.")
    'fill in “kind of that joint” (button “way out”), if it has one.'
    """
    named = [s for s in _NAMED.findall(said) if s in KEYS]
    if not named and section not in KEYS:
        return said
    of = named[0] if named else section
    said = _BARE.sub(lambda found: _bare(found, of), said)
    said = _TYPED.sub(lambda found: _typed(found, of, page), said)
    said = _UNDER.sub(lambda found: _button(found, page), said)
    where = f" of {page.rstrip(', ')}" if page else ""
    return _PLACE.sub(
        lambda found: f"the button “{title_of_group(found[1])}”{where}" if found[1] in KEYS else found[0], said
    )


def on_page(said: str) -> str:
    """The same, for a page without the form.  said: text or HTML."""
    return form_words(said, page="page 00, ")


def in_form(wrong: dict) -> dict:
    """What is wrong with a sheet, in words of the form.  wrong: dict of sentences by place, as of Draft.checked."""
    return {place: [form_words(said, place[0]) for said in told] for place, told in wrong.items()}


def _label(section, key):
    return f"“{field_label(KEYS[section][key])}”"


def _bare(found, section):
    """Keys that are to be written, without a value."""
    keys = [found[3], *([found[5]] if found[5] else [])]
    if any(key not in KEYS[section] for key in keys):
        return found[0]
    return f"{'Fill' if found[1] == 'W' else 'fill'} in {' and '.join(_label(section, key) for key in keys)}"


def _typed(found, section, page):
    """A key with a value, as a sheet has it."""
    write, key, value, under = found.groups()
    section = under if under in KEYS else section
    if key not in KEYS[section]:
        return found[0]
    value = ", ".join(re.findall(rf"{_Q}(.*?){_Q}", value)) if value else ""
    button = f" ({page}button “{title_of_group(under)}”)" if under in KEYS else ""
    if not write:
        return _label(section, key) + (f": {value}" if value else "") + button
    return f"{'Fill' if write == 'W' else 'fill'} in {_label(section, key)}{button}{f', e.g. {value}' if value else ''}"


def _button(found, page):
    return f" ({page}button “{title_of_group(found[1])}”)" if found[1] in KEYS else found[0]


def title_of_group(section: str) -> str:
    """The words on the button of the group that a section stands in.  section: its name."""
    return next(g.title for g in groups() if section in g.sections)
