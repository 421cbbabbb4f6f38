"""What an honest beginner types into a form is read; what could mean two things is still refused."""

import pytest

from benchcalc.basics.fault import Fault
from benchcalc.basics.quantity import parse
from benchcalc.sheet.edits import spelt, typed_value
from benchcalc.sheet.schema import KEYS
from benchcalc.sheet.spellings import as_a_sheet_says
from benchcalc.sheet.values import quantity


@pytest.mark.parametrize(
    "dimension, typed, value",
    [
        ("m", "8 MM", 0.008),
        ("m", "8mm", 0.008),
        ("m", "12 Millimetres", 0.012),
        ("m", "3 inches", 0.0762),
        ("m", "3 1/2 inches", 0.0889),
        ("m", "5/16 Inches", 0.0079375),
        ("m", ".5 mm", 0.0005),
        ("m", "8. mm", 0.008),
        ("m", "8 mm.", 0.008),
        ("m", "⌀8 mm", 0.008),
        ("m", "8 mm dia", 0.008),
        ("m", "8 MM ± .1 MM", 0.008),
        ("c", "350c", 350),
        ("c", "350 degrees C", 350),
        ("c", "350 Celsius", 350),
        ("c", "662 f", 350),
        ("v", "12v", 12),
        ("v", "12 V AC", 12),
        ("v", "12 Volts", 12),
        ("a", "1,4a", 1.4),
        ("a", "1400 ma", 1.4),
        ("w", "20 Watts", 20),
        ("s", "8 mins", 480),
        ("s", "1 hr", 3600),
        ("ohm", "5 R", 5),
        ("ohm", "5 OHM", 5),
        ("kg", "5 grams", 0.005),
        ("ratio", "8 percent", 0.08),
    ],
)
def test_common_spellings_are_read(dimension, typed, value):
    assert parse(as_a_sheet_says(dimension, typed), dimension).nominal == pytest.approx(value)


@pytest.mark.parametrize(
    "dimension, typed",
    [
        ("v", "12 MV"),
        ("w", "3 MW"),
        ("ohm", "2 Mohm"),
        ("c", "350 degrees"),
        ("c", "350"),
        ("m", "8"),
        ("m", "8 furlongs"),
    ]
    + [("m", "8 furlongs"), ("m", "1,234 mm"), ("m", "eight mm"), ("a", "2 V"), ("m", "")],
)
def test_what_may_mean_two_things_is_not_guessed(dimension, typed):
    with pytest.raises(Fault):
        parse(as_a_sheet_says(dimension, typed), dimension)


def test_about_makes_it_assumed_and_instruments_stay():
    outer = KEYS["part"]["outer"]
    assert typed_value(outer, "about 8 MM") == "8 mm assumed"
    assert typed_value(outer, "8 MM with caliper") == "8 mm with caliper"
    assert typed_value(outer, "5/16 in") == "5/16 in" and typed_value(outer, "8 furlongs") == "8 furlongs"
    assert typed_value(KEYS["supply.reading"]["volts"], "12v") == "12 V"
    assert spelt(outer, "8 mm assumed") == "8 mm assumed" and quantity(outer, "8 mm assumed")[1] == "assumed"
