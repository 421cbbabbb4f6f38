"""Inputs in words: what a page calls them, with ends in units of the glossary."""

import re

import pytest

import benchcalc as bc
from benchcalc.basics.names import NAMES, suffix_of
from benchcalc.sheet.field_words import field_words
from benchcalc.show.page.shared_tables import inputs

DEMOS = ("insert_press", "foil_iron", "wax_pot", "foam_bow")


@pytest.mark.parametrize("name", DEMOS)
def test_no_input_is_called_by_its_field(name):
    build = bc.load_chosen(name)
    for path in build.known:
        words = field_words(build, path)
        assert len(words) > 3 and not words.startswith(("its ", "of ")), path
        end = path.rsplit("_", 1)[-1]
        assert end not in ("place", "scale") or end not in words, (path, words)


@pytest.mark.parametrize("name", DEMOS)
def test_ends_have_a_unit_differ_and_are_told_once(name):
    build = bc.load_chosen(name)
    ranged = [p for p, k in sorted(build.known.items()) if k.low < k.high]
    for path, (words, ends, _, origin) in zip(ranged, inputs(build).rows, strict=True):
        low, _, high = ends.partition(" to ")
        assert low != high and not origin.startswith(words), path
        field = path.rsplit(".", 1)[-1]
        if suffix_of(field) and field not in NAMES:
            assert all(re.search(r"[A-Za-z]", end) for end in (low, high)), (path, ends)


def test_ends_are_told_in_the_sheets_own_units():
    press = bc.load_chosen("insert_press")
    told = {row[0]: row[1] for row in inputs(bc.change(bc.change(press, "units", "inch"), "degrees", "F")).rows}
    assert told["room temperature"] == "59 degF to 77 degF"  # 15 and 25 degC
    assert told["outer diameter of the tube"] == "0.392 in to 0.396 in"  # 9.95 and 10.05 mm
    assert told["heat through the point of one set screw"] == "0.0100 W/K to 0.0600 W/K"
