"""Edits of a form: every key can be set, rows are added, removed and moved, comments stay with what they are about."""

import re

import every_key
import pytest

import benchcalc as bc
from benchcalc.sheet.complaint_places import by_place, place_of
from benchcalc.sheet.edits import Edit, as_shown, edited, put_together, tables_of, told_apart, typed_value
from benchcalc.sheet.schema import KEYS, LISTS, SECTIONS
from benchcalc.sheet.toml_blocks import blocks_of, put_back_together

DEMOS = {name: bc.chosen(name).read_text(encoding="utf-8") for name in bc.demos()}


def by_form(text):
    """The edits that make a sheet out of nothing: what its fields show, typed one by one."""
    made = []
    for section, rows in tables_of(text).items():
        for i, row in enumerate(rows):
            index = i if section in LISTS else None
            made += [Edit("add", section)] if index is not None else []
            made += [
                Edit("set", section, index, k, as_shown(spec, row[k])) for k, spec in KEYS[section].items() if k in row
            ]
    return made


@pytest.mark.parametrize("name", DEMOS)
def test_a_demo_typed_field_by_field_is_the_same_sheet(name):
    text = DEMOS[name]
    assert put_back_together(blocks_of(text)) == text
    again = edited("", by_form(text))
    one, two = bc.read(text), bc.read(again)
    strip = lambda b: {p: (k.low, k.high, k.how) for p, k in b.known.items()}  # noqa: E731
    assert strip(one) == strip(two) and one.part == two.part and one.coil == two.coil and one.supply == two.supply


def test_every_key_can_be_typed():
    text = every_key.MAXIMAL
    again = edited("", by_form(text))
    for section in SECTIONS:
        assert [[k for k in r if k in KEYS[section]] for r in tables_of(again)[section]] == [
            [k for k in KEYS[section] if k in r] for r in tables_of(text)[section]
        ]
    assert bc.read(again).part == bc.read(text).part


def test_what_is_shown_goes_back_unchanged():
    for text in DEMOS.values():
        same = [e for e in by_form(text) if e.what == "set"]
        for section, rows in tables_of(text).items():
            for row in rows:
                assert all(
                    typed_value(KEYS[section][k], as_shown(KEYS[section][k], v)) is not None
                    for k, v in row.items()
                    if k in KEYS[section]
                )
        ids = [e for e in same if e.key == "id"]
        assert edited(text, ids) == text


def test_comments_and_order_stay():
    text = DEMOS["insert_press"]
    after = edited(
        text,
        [
            Edit("set", "part", 0, "to", "31 mm"),
            Edit("move", "part", 1, text="2"),
            Edit("remove", "wire", 1),
            Edit("set", "part", 3, "finish", "used"),
            Edit("set", "room", None, "ambient", ""),
            Edit("add", "marker"),
        ],
    )
    lost = set(re.findall(r"#.*", text)) - set(re.findall(r"#.*", after))
    assert lost == {"# The scrap box beside it, measured over the whole piece."}  # it was about the wire that went
    assert 'to = "31 mm"         # 24 mm stick out' in after
    assert [p["id"] for p in tables_of(after)["part"]] == ["tip", "tube", "stem", "handle"]
    assert tables_of(after)["marker"] == [{}] and "ambient" not in tables_of(after)["room"][0]


def test_who_names_a_part_follows_its_new_name():
    after = edited(DEMOS["insert_press"], [Edit("set", "part", 0, "id", "bit, of brass")])
    assert [j["between"] for j in tables_of(after)["joint"]] == [["bit, of brass", "stem"], ["bit, of brass", "tube"]]
    assert bc.read(after).part[0].id == "bit, of brass"
    assert bc.read(edited(after, [Edit("set", "part", 1, "id", "rod")])).coil.on == "rod"


def test_a_sheet_of_inline_tables_is_edited_too():
    text = (
        '[sheet]\nname = "one"\n[supply]\nkind = "transformer"\n'
        "reading = [{volts = 12, amps = 0}, {volts = 11, amps = 2}]\n"
    )
    after = edited(
        text,
        [
            Edit("set", "supply.reading", 0, "volts", "12.5"),
            Edit("move", "supply.reading", 0, text="1"),
            Edit("add", "supply.reading"),
        ],
    )
    assert tables_of(after)["supply.reading"] == [{"volts": 11, "amps": 2}, {"volts": 12.5, "amps": 0}, {}]
    assert len(tables_of(edited(after, [Edit("remove", "supply.reading", 0)]))["supply.reading"]) == 2


@pytest.mark.parametrize("typed, how", [("12.4 V", ""), ("3 mm", "caliper"), ("20 W +- 2 W", "assumed")])
def test_how_a_value_is_known_is_one_choice(typed, how):
    assert told_apart(put_together(typed, how)) == (typed, how)


def test_an_assumed_value_is_known_as_such():
    build = bc.read('[sheet]\nname = "a"\n[room]\nambient = "20 degC +- 5 K assumed"\nattitude = "tip down assumed"\n')
    known = build.known["room.ambient_c"]
    assert (known.how, known.low, known.high) == ("assumed", 15, 25) and build.room.attitude == "tip down"


def test_every_complaint_stands_beside_its_field():
    faulty = """[sheet]
name = "spoilt"
colour = "red"
[supply]
kind = "transfromer"
[[supply.reading]]
volts = "1,200 V"
amps = -1
[coil]
wire = "none"
[coil.tails]
ohm = "abc"
[[part]]
id = "a"
from = "3 mm"
[[part]]
id = "a"
outer = "5"
[typo]
"""
    with pytest.raises(bc.Fault) as told:
        bc.read(faulty)
    found = by_place(told.value.complaints)
    for place in (
        ("supply", None, "kind"),
        ("supply.reading", 0, "volts"),
        ("supply.reading", 0, "amps"),
        ("coil", None, "wire"),
        ("coil.tails", None, "ohm"),
        ("part", 0, "to"),
        ("part", 1, "id"),
        ("part", 1, "outer"),
        ("sheet", None, ""),
        ("", None, ""),
    ):
        assert place in found, (place, list(found))
    assert len(told.value.complaints) == sum(map(len, found.values()))
    assert place_of("nonsense of another kind") == ("", None, "")
