"""A key is declared once, on its field, and every way of altering it follows that declaration."""

import ast
from pathlib import Path

import pytest
from every_key import MAXIMAL

import benchcalc as bc
from benchcalc.sheet.schema import KEYS, LISTS, asked, key_of

EVERY = [k for keys in KEYS.values() for k in keys.values()]
BUILD = bc.read(MAXIMAL)
SHEET = Path(bc.__file__).parent / "sheet"


def path_of(key):
    if key.section == "sheet":
        return key.field
    for listed in LISTS:
        if key.section == listed:
            return f"{key.section}.0.{key.field}"
    return f"{key.section}.{key.field}"


def another(key):
    """A value that the key allows, other than the one in the build."""
    now = bc.get(BUILD, path_of(key))
    words = {
        "text": ["another"],
        "choice": key.choices,
        "alloy": ["fecral", "nicr-80-20"],
        "gauge": ["28 AWG", "30 SWG"],
        "mounting": ["open coil in air", "bare wire in free air"],
        "material": ["brass", "copper"],
        "insulation": ["PTFE", "glass-sleeve-bare"],
        "finish": ["oxidised", "bright"],
        "joint": ["crimped", "threaded"],
        "marker": ["lead", "tin"],
        "pair": [("b", "a")],
    }
    if key.kind == "flag":
        return not now
    if key.is_quantity:
        return (key.low + key.high) / 3
    return next(w for w in words[key.kind] if w != now)


def each(keys):
    return pytest.mark.parametrize("key", keys, ids=lambda k: f"{k.section}.{k.key}")


@each(EVERY)
def test_every_key_can_be_changed(key):
    value = another(key)
    path = path_of(key)
    changed = bc.change(BUILD, path, value)
    got = bc.get(changed, path if key.field != "id" else f"{key.section}.{value}.id")
    assert got == value and got != bc.get(BUILD, path)
    refilled = ("supply.output", "supply.reading.volts", "supply.reading.amps")  # follow from the kind, or from watts
    assert bc.get(bc.change(BUILD, path, None), path) is None or f"{key.section}.{key.key}" in refilled


@each([k for k in EVERY if k.is_text and k.kind != "text"])
def test_a_word_that_a_key_does_not_know_is_refused_with_the_closest(key):
    known = another(key)
    with pytest.raises(bc.Fault) as told:
        bc.change(BUILD, path_of(key), known + "x")
    complaint = told.value.complaints[0]
    assert complaint.where.endswith(key.field) and complaint.text == known + "x"
    if key.kind != "gauge":
        assert known in complaint.cause, complaint


@each([k for k in EVERY if not k.is_quantity])
def test_a_number_is_refused_where_a_word_belongs(key):
    with pytest.raises(bc.Fault) as told:
        bc.change(BUILD, path_of(key), 2.5)
    assert told.value.complaints[0].where.endswith(key.field)


@each([k for k in EVERY if k.is_quantity])
def test_a_word_is_refused_where_a_number_belongs(key):
    with pytest.raises(bc.Fault, match="one finite number"):
        bc.change(BUILD, path_of(key), "much")


def test_every_declaration_has_what_lists_and_forms_need():
    for key in EVERY:
        assert key.word and key.word[-1] not in ".,", key
        assert (key.low is None) == (key.high is None) and (key.low is None or key.low < key.high), key
        of_text = {
            "instrument",
            "wire",
            "part",
            "role",
            "job",
            "attached",
        }  # what a text names, so that a form can list it
        assert set(key.marks) <= ({"bare", "measured", "whole"} if key.is_quantity else of_text), key
        assert not key.measured or key.bare, key
    assert asked("want.power_w") == "wanted power, W" and asked("coil.length_m") == "wire length in the coil, with unit"
    assert key_of("supply.load_ohm") is None


def test_no_module_of_the_sheet_imports_in_a_circle():
    """Imports inside functions count."""
    needs = {}
    for file in SHEET.glob("*.py"):
        found = [n for n in ast.walk(ast.parse(file.read_text("utf-8"))) if isinstance(n, ast.ImportFrom)]
        needs[file.stem] = {
            m for n in found if n.level == 1 for m in ([n.module] if n.module else [a.name for a in n.names])
        }
    assert needs["load"] >= {"cross_checks", "schema"} and needs["build"] >= {"key"}
    while needs:
        free = [name for name, of in needs.items() if not of & set(needs)]
        assert free, f"a circle among {sorted(needs)}"
        for name in free:
            del needs[name]
