"""Every key a sheet may have, gathered from the fields of the build that declare them (see key.py).

KEYS holds section -> key -> Key, HOLDERS the dataclass of each section; sections in LISTS may stand many times.
"""

from dataclasses import fields, replace

from ..basics.names import say
from ..basics.quantity import UNITS
from .build import Build
from .key import TIMES

_ASKED = {"v": "V", "a": "A", "ohm": "ohm", "w": "W"}
_NO_RANGE = {"flag": "true or false", "pair": "two ids", "text": "text"}


def _sections(place, of, many=False):
    """Every section in a dataclass, outer ones first: (place, dataclass, whether it may stand many times)."""
    found = [(place, of, many)]
    for f in fields(of):
        if "section" in f.metadata:
            inner = f.name if of is Build else f"{place}.{f.name}"
            found += _sections(inner, f.metadata["section"], f.metadata.get("listed", False))
    return found


def _keys(place, of):
    """The keys that a dataclass declares, by what a sheet calls them."""
    told = [(f.name, f.metadata["key"]) for f in fields(of) if "key" in f.metadata]
    return {k.key: replace(k, section=place, field=name) for name, k in told}


_LAYER_ENDS = (
    "A layer counts over all of the length that its two neighbours share.",
    "Leave it out; for a layer on a stretch only, write the part around it as two parts, one over that stretch.",
)
# keys that sheets may still hold from before: why they are none, and what to do
GONE = {
    ("part", "exposed"): (
        "What no other part covers stands in the open by itself.",
        "Leave it out; say with from and to where the parts begin and end.",
    ),
    ("layer", "from"): _LAYER_ENDS,
    ("layer", "to"): _LAYER_ENDS,
}
_ALL = tuple(_sections("sheet", Build))
HOLDERS = {place: of for place, of, _ in _ALL}
KEYS = {place: _keys(place, of) for place, of, _ in _ALL}
LISTS = tuple(place for place, _, many in _ALL if many)
SECTIONS = tuple(KEYS)


def key_of(path):
    """The sheet's key behind a field path such as "coil.length_m" or "wire.reel.gauge".

    path: field path.  Returns Key, or None where the field is not typed in sheets.
    """
    names = path.split(".")
    section = ".".join(names[:-1]) or "sheet"
    for listed in LISTS:
        if section.startswith(listed + "."):
            section = listed
    return next((k for k in KEYS.get(section, {}).values() if k.field == names[-1]), None)


def asked(path):
    """What a form writes before the box of a field: "wanted power, W".

    path: field path of a key.  Returns text; "with unit" where the maker's units may be others.
    """
    key = key_of(path)
    return f"{key.word}, {form_unit(key) or 'with unit'}"


def form_unit(key):
    """The unit of a plain number typed into a form, "" where it is typed with its unit or has none.  key: Key."""
    return _ASKED.get(key.kind, "")


def keys_table():
    """Every key of a sheet as a Markdown table, for the guide: key, what it is, unit or choices, range.

    Returns text.
    """
    lines = ["| section | key | what | unit or choices | range |", "|---|---|---|---|---|"]
    for section, keys in KEYS.items():
        opened = f"[[{section}]]" if section in LISTS else f"[{section}]"
        lines += [f"| `{opened}` | `{k.key}` | {k.word} | {_unit_of(k)} | {_range_of(k)} |" for k in keys.values()]
    return "\n".join(lines)


def _unit_of(key):
    if key.choices:
        return ", ".join(key.choices)
    if key.low is None:
        return _NO_RANGE.get(key.kind, f"known {key.kind}")
    if key.kind == "count":
        return "whole number" if key.whole else "number"
    if key.kind in TIMES or key.bare:
        unit = key.kind if key.kind in TIMES else next(iter(UNITS[key.kind]))
        return f"{unit}, or a plain number"
    return "number or %" if key.kind == "ratio" else "with unit"


def _range_of(key):
    if key.low is None:
        return "-"
    if key.kind == "count":
        return f"{key.low:g} to {key.high:g}"
    if key.kind in TIMES:
        return f"{key.low / TIMES[key.kind]:g} to {key.high / TIMES[key.kind]:g}"
    return " to ".join(say(f"x_{key.kind}", end) for end in (key.low, key.high))
