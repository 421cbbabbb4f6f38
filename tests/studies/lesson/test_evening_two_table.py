"""Evening two by its own rules: lamps a small box carries, one plug at a time, a board that fits the evening."""

import re

import numpy as np
import pytest

from benchcalc.basics.fault import Fault
from benchcalc.basics.tables import rows
from benchcalc.show.lesson.class_tables import kit_of
from benchcalc.show.lesson.evening_two_tables import chalked, lamps_for_the_box, soak_words, who_and_how_many
from benchcalc.studies.lesson.evening_two_table import (
    LAMP_V,
    LAMPS,
    LEAST_VA,
    MOST_DROP,
    MOST_OPEN,
    box_lamps,
    boxes_that_fit,
    chalked_box,
    staffing,
)

MINUTES = [r for r in rows("class_minutes") if r["evening"] == "2"]


def test_no_lamp_of_the_evening_asks_more_than_the_smallest_box_and_the_fuse_carry():
    """Every 12 V lamp that the kit lays out for that evening, two of them on a box."""
    kit = [r["item"] for r in rows("class_kit") if "2" in r["evenings"] and re.search(r"lamps? 12 V", r["item"])]
    assert kit
    for item in kit:
        watts = float(re.search(r"12 V (\d+) W", item)[1])
        assert LAMPS * watts <= LEAST_VA and LAMPS * watts / LAMP_V < 0.8 * box_lamps().fuse_a
    assert "5 W" in lamps_for_the_box().text


def test_the_soak_begins_when_the_last_bench_is_unplugged_and_is_over_by_the_end():
    at = np.cumsum([0.0, *(float(r["minutes"]) for r in MINUTES)])
    line = next(i for i, r in enumerate(MINUTES) if "two lamps" in r["what"])
    soak = next(i for i, r in enumerate(MINUTES) if "soak begins" in r["what"])
    last = next(i for i, r in enumerate(MINUTES) if "Last soak reading" in r["what"])
    assert soak == line + 1 and "All plugs on the table" in MINUTES[soak]["what"]
    assert at[soak] + chalked_box().soak[-1][0] / 60 == at[last]
    assert "sits beside it" in MINUTES[soak]["what"] and "goes to no bench" in soak_words().text


def test_the_board_s_box_would_be_let_in_by_the_evening_s_own_rules():
    box = chalked_box()
    (open_v, none_a), (one_v, _), *_ = box.line
    assert none_a == 0 and open_v < MOST_OPEN * LAMP_V and open_v - one_v < MOST_DROP * open_v
    volts, amps = np.array(box.line).T
    slope, unloaded = np.polyfit(amps, volts, 1)
    assert max(abs(np.polyval((slope, unloaded), amps) - volts)) < 0.1
    told = " ".join(str(cell) for row in chalked().rows for cell in row)
    found = float(re.search(r"([\d.]+) ohm inside", told)[1])
    assert found == pytest.approx(-slope, rel=0.1)


def test_boxes_and_adults_are_counted():
    """By hand: 35 minutes hold five boxes of seven; an adult for three benches."""
    assert boxes_that_fit() == 5
    for benches, adults, boxes, shared, halves in (
        (5, 2, 5, 1, False),
        (6, 2, 5, 2, False),
        (10, 4, 5, 2, False),
        (15, 5, 5, 2, True),
    ):
        s = staffing(benches)
        assert (s.adults, s.boxes, s.round_a_box, s.halves) == (adults, boxes, shared, halves)
        line = next(float(r["minutes"]) for r in MINUTES if "two lamps" in r["what"])
        assert s.line_min <= line
    assert len(who_and_how_many().rows) > 5
    with pytest.raises(Fault):
        staffing(16)


def test_the_kit_lays_out_no_more_boxes_than_the_teacher_can_plug_in():
    boxes = next(r for r in kit_of(15).rows if r[0].startswith("small transformer"))
    assert int(boxes[1]) == boxes_that_fit() + 1
