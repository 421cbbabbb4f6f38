"""Parts that are not of metal stand what their own material stands, whatever role the sheet gives them."""

import numpy as np
import pytest

import benchcalc as bc

METAL = {"tip": "brass", "stem": "mild steel", "tube": "mild steel"}


def insert_press(role, material):
    """The workings of the demo with one part of another material."""
    with open(bc.load_chosen("insert_press").file, encoding="utf-8") as sheet:
        text = sheet.read()
    line = f'role = "{role}"\nmaterial = "{METAL[role]}"'
    assert line in text
    return bc.work_out(bc.read(text.replace(line, f'role = "{role}"\nmaterial = "{material}"')), samples=0)


# Outside figures: wood in contact with heat for months, 77 degC (Babrauskas 2007); beeswax melts from 60 degC
# (Putra 2016); low-density polyethylene melts from 105 (film) to 115 degC (Callister, app. E).
@pytest.mark.parametrize(
    "role, material, stands_c",
    [("stem", "beech", 77), ("tip", "beeswax", 60), ("tube", "beech", 77), ("tip", "ldpe", 105), ("tube", "oak", 77)],
)
def test_a_part_that_chars_or_melts_is_over_whatever_its_role(role, material, stands_c):
    out = insert_press(role, material)
    told = [v for _, v in out.verdicts if v.what.endswith(f", the {role}")]
    assert len(told) == 1 and told[0].state == "over" and not told[0].advice
    assert told[0].value == out.heat.hottest(role) > 200 and told[0].limit == pytest.approx(stands_c)


def test_a_wooden_tube_has_a_temperature_where_the_handle_begins():
    heat = insert_press("tube", "beech").heat
    assert np.isfinite(heat.entry_c) and 20 < heat.entry_c < heat.hottest("tube")


def test_alumina_holds_where_wood_does_not():
    told = [v for _, v in insert_press("stem", "alumina").verdicts if v.what.endswith(", the stem")]
    assert [v.state for v in told] == ["fine"]


def test_what_no_table_knows_is_not_known():
    told = [v for _, v in insert_press("stem", "leather").verdicts if v.what.endswith(", the stem")]
    assert [v.state for v in told] == ["not known"]


def test_left_on_and_forgotten_sees_a_tube_that_chars():
    told = next(v for _, v in insert_press("tube", "beech").verdicts if v.what == "left on and forgotten")
    assert told.state == "over" and told.limit == pytest.approx(77) and "the tube" in told.why
