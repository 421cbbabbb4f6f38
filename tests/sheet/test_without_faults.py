"""A sheet with faults is read as far as it goes: the field that is at fault counts as empty, the others stay."""

import pytest

import benchcalc as bc
from benchcalc.sheet.edits import Edit, edited
from benchcalc.sheet.without_faults import without_faults

PRESS = bc.chosen("insert_press").read_text(encoding="utf-8")
CASES = (
    (("wire", 0, "alloy", "nichrome"), {("wire", 0, "alloy")}),
    (("layer", 1, "thickness", "3"), {("layer", 1, "thickness")}),
    (("coil", None, "length", "1 kg"), {("coil", None, "length")}),
    (("supply.reading", 1, "volts", "abc"), {("supply.reading", 1, "volts"), ("supply.reading", 1, "")}),
    (("supply", None, "kind", "transfromer"), {("supply", None, "kind"), ("supply", None, "")}),
)


@pytest.mark.parametrize("typed, gone", CASES)
def test_only_what_is_at_fault_is_left_out(typed, gone):
    section, index, key, _ = typed
    text = edited(PRESS, [Edit("set", *typed)])
    build, left, _ = without_faults(text)
    assert set(left) == gone
    empty = edited(PRESS, [Edit("set", section, index, key, "")])
    if len(gone) == 1:  # the same sheet as with that field empty
        blank = bc.read(empty)
        assert build.part == blank.part and build.coil == blank.coil and build.wire == blank.wire
        assert build.layer == blank.layer and set(build.known) == set(blank.known)


def test_who_names_a_row_that_goes_goes_too_and_rows_are_told_by_their_own_number():
    edits = [Edit("set", "part", 0, "to", "9 kg"), Edit("set", "part", 2, "finish", "furry")]
    build, left, _ = without_faults(edited(PRESS, edits))
    assert [p.id for p in build.part] == ["stem", "tube", "handle"]
    assert {("part", 0, ""), ("part", 2, "finish"), ("joint", 0, ""), ("joint", 1, "")} <= set(left)


@pytest.mark.parametrize("text", ["[sheet\nname", '[sheet]\nunits = "metric"', '[sheet]\nname = "a"\n[typo]\n'])
def test_what_is_no_sheet_stays_unread(text):
    assert without_faults(text) == (None, (), {})


def test_an_earlier_value_stands_in_where_there_is_one():
    text = edited(PRESS, [Edit("set", "part", 0, "outer", "8"), Edit("set", "wire", 0, "diameter", "0.28 kg")])
    build, left, kept = without_faults(text, before=PRESS)
    assert (left, kept) == ((), {("part", 0, "outer"): "8 mm", ("wire", 0, "diameter"): "0.28 mm"})
    assert build.part == bc.read(PRESS).part and build.wire == bc.read(PRESS).wire
    more = edited(text, [Edit("add", "part"), Edit("set", "part", 4, "id", "ring"), Edit("set", "part", 4, "to", "x")])
    build, left, kept = without_faults(more, before=PRESS)  # rows are others now: nothing is guessed of them
    assert ("part", 4, "to") in left and "tip" in [p.id for p in build.part]
    spoilt = edited(PRESS, [Edit("set", "layer", 0, "thickness", "3")])  # an earlier value that is at fault too
    assert without_faults(edited(spoilt, [Edit("set", "layer", 0, "thickness", "4")]), before=spoilt)[1:] == (
        (("layer", 0, "thickness"),),
        {},
    )


def test_a_section_that_is_gone_with_a_field_it_must_have_is_put_back_too():
    whole = PRESS[PRESS.index("[sheet]") : PRESS.index("[", PRESS.index("[sheet]") + 1)]
    build, left, kept = without_faults(PRESS.replace(whole, ""), before=PRESS)
    assert build.name == bc.read(PRESS).name and left == () and set(kept) == {("sheet", None, "name")}
    assert without_faults(PRESS.replace(whole, ""))[0] is None
