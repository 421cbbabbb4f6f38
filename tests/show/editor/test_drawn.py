"""The picture of what is typed: its shapes and sizes are the sheet's, and wrong places are told and drawn."""

import io

import numpy as np
import pytest
from PIL import Image

import benchcalc as bc
from benchcalc.chain.workings import links, work_out
from benchcalc.sheet.edits import Edit, edited, tables_of
from benchcalc.show.editor.drawn import drawn, in_words
from benchcalc.show.editor.figure import drawn_png
from benchcalc.show.heat.numbers import heat_numbers

PRESS = bc.chosen("insert_press").read_text(encoding="utf-8")


def after(*edits):
    text = edited(PRESS, [Edit("set", *e) for e in edits])
    try:
        return drawn(tables_of(text), bc.read(text))
    except bc.Fault:
        return drawn(tables_of(text))


def reddish(image):
    """How many points of a picture are of the colour of wrong places."""
    r, g, b = np.moveaxis(np.asarray(image, dtype=int), -1, 0)
    return int(np.sum((r > 150) & (g < 90) & (b < 80)))


@pytest.mark.parametrize("name", bc.demos())
def test_every_demo_is_drawn_to_its_own_sizes_and_nothing_is_wrong(name):
    build = bc.load_chosen(name)
    n = drawn(tables_of(bc.chosen(name).read_text(encoding="utf-8")), build)
    assert not n.wrong and not n.missing
    for shape, part in zip(n.shapes, build.part):
        assert (shape.from_m, shape.to_m, shape.outer_m) == (part.from_m, part.to_m, part.outer_m)
    heat = heat_numbers(build, work_out(build).heat)
    png, wide, tall = drawn_png(n, heat if len(heat.cells) else None)
    assert Image.open(io.BytesIO(png)).size == (wide, tall) and 80 < tall < 520


@pytest.mark.parametrize(
    "edits, says",
    [
        ([("part", 0, "to", "40 mm")], "at the same place from 30.0 mm to 40.0 mm. If stem sits in a bore"),
        ([("part", 2, "from", "45 mm")], "tip and tube are joined, yet 15.0 mm apart"),
        ([("coil", None, "from", "70 mm"), ("coil", None, "to", "95 mm")], "The coil is off its former"),
        ([("coil", None, "from", "60 mm"), ("coil", None, "to", "80 mm")], "winding is 40.1 mm long and has 12.9 mm"),
        ([("part", 2, "inner", "7 mm")], "does not go into tube: it is 7.86 mm thick"),
        ([("part", 3, "from", "190 mm")], "handle touches no other part"),
    ],
)
def test_a_wrong_place_is_told_and_drawn(edits, says):
    n = after(*edits)
    assert any(says in w.said for w in n.wrong), [w.said for w in n.wrong]
    right, wrong = (Image.open(io.BytesIO(drawn_png(x)[0])).convert("RGB") for x in (after(), n))
    assert reddish(wrong) > 100 > reddish(right)


def test_a_bored_part_with_a_rod_in_it_is_one_shape():
    n = after(("part", 0, "to", "24 mm"))
    text = edited(
        PRESS,
        [Edit("set", "part", 0, "to", "24 mm"), Edit("set", "part", 1, "from", "24 mm"), Edit("add", "part")]
        + [
            Edit("set", "part", 4, k, v)
            for k, v in {"id": "tip, bored", "from": "24 mm", "to": "30 mm", "inner": "6 mm", "outer": "8 mm"}.items()
        ],
    )
    bored = drawn(tables_of(text))
    assert not bored.wrong, bored.wrong  # ring and rod touch: no line of air between them, nothing counted twice
    assert n.wrong  # joined to what it no longer reaches


def test_the_room_for_the_coil_and_what_is_taken_off():
    n = after()
    made = links(bc.load_chosen("insert_press"))[2]
    assert n.room[2] - n.room[1] == pytest.approx(made.room_m) == pytest.approx(0.05 - 2 * (0.003 + 2 * 0.00028))
    assert "42.9 mm = 50.0 mm less 7.12 mm" in n.room[0] and n.room[0] in in_words(n)


def test_a_sheet_with_faults_is_drawn_as_far_as_it_goes():
    n = after(("part", 1, "outer", "six"), ("part", 2, "material", "unobtainium"), ("part", 3, "to", ""))
    assert [s.name for s in n.shapes] == ["tip", "tube"] and n.missing == (
        "stem (“outer diameter”)",
        "handle (“ends, from the tip”)",
    )
    assert "nothing can be drawn" in in_words(drawn(tables_of("")))


POT = """[sheet]
name = "tin"
[[part]]
id = "tin"
role = "cup"
from = "1 mm"
to = "70 mm"
inner = "74.6 mm"
outer = "75 mm"
[[part]]
id = "wax"
role = "work"
from = "5 mm"
to = "65 mm"
outer = "80 mm"
"""
BOTTOM = """[[part]]
id = "floor"
role = "disc"
from = "0 mm"
to = "1 mm"
outer = "75 mm"
"""


def test_what_does_not_go_into_a_bore_and_a_pot_without_a_bottom_are_told():
    said = [w.said for w in drawn(tables_of(POT)).wrong]
    assert "wax is 80.0 mm thick, the bore of tin 74.6 mm" in said[0] and "split" not in said[0]
    assert said[1].startswith("tin has no bottom") and len(said) == 2
    whole = POT.replace('outer = "80 mm"', 'outer = "74.6 mm"').replace('from = "5 mm"', 'from = "1 mm"') + BOTTOM
    n = drawn(tables_of(whole))
    assert not n.wrong and "lying on its side" in in_words(n)


def test_the_names_of_a_stout_tool_stand_beside_it_and_no_line_runs_through_them():
    """Between the lowest name and the tool nothing is drawn above it: the column at the right holds the words."""
    n = drawn(tables_of(POT.replace('outer = "80 mm"', 'outer = "74.6 mm"') + BOTTOM))
    image = np.asarray(Image.open(io.BytesIO(drawn_png(n)[0])).convert("L"), dtype=int)
    long = np.asarray(Image.open(io.BytesIO(drawn_png(after())[0])).convert("L"), dtype=int)
    assert np.ptp(image[:38]) < 10 < np.ptp(long[:38])  # above a long tool stand its names
