"""The plan of the editor follows from the keys; what a maker types finds what he means."""

from dataclasses import make_dataclass
from pathlib import Path

import pytest

from benchcalc.sheet import schema
from benchcalc.sheet.edits import tables_of
from benchcalc.sheet.key import key
from benchcalc.sheet.load import read
from benchcalc.sheet.schema import KEYS, SECTIONS
from benchcalc.show.editor import plan
from benchcalc.show.editor.plan import choices, fields_of, groups, title_of, words_of
from benchcalc.show.editor.search import meant, named, offers


def test_every_key_of_every_section_has_one_field():
    assert sorted(s for g in groups() for s in g.sections) == sorted(SECTIONS)
    for section in SECTIONS:
        assert [f.key.key for f in fields_of(section)] == list(KEYS[section])


def test_a_new_key_and_a_new_section_appear_by_themselves(monkeypatch):
    polish = make_dataclass("Polish", [("grit", float | None, key("grit", "grit of the paper", "count", 40, 4000))])
    made = schema._keys("polish", polish)
    monkeypatch.setitem(KEYS, "polish", made)
    monkeypatch.setattr(plan, "SECTIONS", (*SECTIONS, "polish"))
    assert groups()[-1].sections[-1] == "polish" and words_of("polish")[0] == "polish"
    assert [(f.label, f.kind) for f in fields_of("polish")] == [("grit of the paper", "quantity")]


@pytest.mark.parametrize(
    "section, word, typed, first",
    [
        ("part", "material", "iron", {"mild steel", "wrought iron", "cast iron, grey"}),
        ("part", "material", "brass", {"brass, grade not known"}),
        ("part", "material", "wood", {"hardwood, species not known"}),
        ("part", "material", "willow", {"willow"}),
        ("part", "material", "fibreglass", {"glass sleeve, coating not known"}),
        ("part", "role", "pipe", {"tube"}),
        ("part", "role", "rod", {"stem"}),
        ("part", "role", "grip", {"handle"}),
        ("wire", "alloy", "nichrome", {"nickel-chromium 80/20", "nickel-chromium 60/15"}),
        ("joint", "made", "screw", {"threaded", "clearance with set screw"}),
        ("want", "job", "wax", {"wax, dipping"}),
        ("coil.tails", "sleeve", "glass", {"glass sleeve, bare braid"}),
    ],
)
def test_what_a_maker_types_finds_what_he_means(section, word, typed, first):
    found = [o.word for o in meant(KEYS[section][word], typed)]
    assert first <= set(found), found


def test_every_name_offered_is_one_that_the_sheet_takes():
    base = '[sheet]\nname = "a"\n[[part]]\nid = "a"\n[[part]]\nid = "b"\n'
    ways = {
        "material": "[[part]]\nid = 'c'\nmaterial",
        "alloy": "[[wire]]\nid = 'c'\nalloy",
        "finish": "[[part]]\nid = 'c'\nfinish",
        "joint": "[[joint]]\nbetween = ['a', 'b']\nmade",
        "mounting": "[coil]\nmounting",
        "insulation": "[coil.tails]\nsleeve",
        "marker": "[[marker]]\nmaterial",
    }
    for section in SECTIONS:
        for spec in KEYS[section].values():
            if spec.kind in ways and (way := ways.pop(spec.kind, None)):
                for offer in offers(spec):
                    assert read(f'{base}{way} = "{offer.word}"') and named(spec, offer.word) == offer.word, offer
    assert not ways


def test_rows_in_words_and_choices():
    tables = tables_of('[[part]]\nid = "rod"\nmaterial = "brass"\nfrom = "0 mm"\nto = "3 cm"\n[[wire]]\nid = "reel"\n')
    assert title_of("part", 0, tables["part"][0]) == "part 1: rod, brass, 0 mm to 3 cm"
    on, wire = (next(f for f in fields_of("coil") if f.key.key == k) for k in ("on", "wire"))
    assert [v for _, v in choices(on, tables, "gone")] == ["", "rod", "gone"]
    assert [v for _, v in choices(wire, tables)] == ["", "reel"]
    read_with = next(f for f in fields_of("supply.reading") if f.key.key == "with")
    assert [v for _, v in choices(read_with, tables)] == ["", "cheap multimeter", "better multimeter"]


def test_the_readme_names_the_buttons_of_the_form_in_their_order():
    text = (Path(__file__).parents[3] / "README.md").read_text(encoding="utf-8")
    titles = ", ".join(group.title for group in groups())
    assert f"from left to right: {titles}." in " ".join(text.split())
