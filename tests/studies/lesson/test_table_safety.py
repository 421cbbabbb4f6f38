"""What the first evening's box, fuse, wire and tube must stand: by Ohm, by hand, and by a standard's sheet."""

import numpy as np
import pytest

from benchcalc.heater.protection import characteristic_for, opens_from
from benchcalc.studies.lesson.first_evening_readings import first_evening
from benchcalc.studies.lesson.four_ways import ON_THE_TABLE, WAYS, Demonstration, four_ways
from benchcalc.studies.lesson.table_safety import (
    advised_fuse,
    before_the_fuse,
    hanging,
    lamp_watts,
    outlets,
    tube_ready,
)


def test_clips_that_touch_leave_the_lamp_below_its_rating():
    """The lamp is made for more volts than its outlet has: nothing on the table can pass what is printed on it."""
    assert max(lamp_watts()) < ON_THE_TABLE.lamp_w and ON_THE_TABLE.lamp_supply_v < ON_THE_TABLE.lamp_v


def test_fuses_carry_the_evening_and_open_on_a_forgotten_lamp():
    stiff, lamp = outlets()
    for outlet in (stiff, lamp):
        assert outlet.load_a < 0.8 * outlet.fuse_a  # common practice
    assert ON_THE_TABLE.lamp_supply_v / 3.084 > opens_from("quick-acting", lamp.fuse_a)


def test_the_stiffness_keeps_half_of_the_band():
    """By hand: half of 14 per cent of 4 V over 1.272 - 0.644 A."""
    assert outlets()[0].source_ohm == pytest.approx(0.14 * 4.0 / 2 / (1.272 - 0.644), rel=2e-3)


def test_a_forgotten_lamp_heats_the_wire_before_its_fuse_has_opened():
    """By hand: 200 mm of 0.3 mm at 8.35 g/cm3 weigh 0.118 g and take 440 J/(kg K): 117 W are 2254 K a second."""
    opens_s, hot_c = before_the_fuse()
    assert hot_c == pytest.approx(20 + 2254 * opens_s, rel=0.01)
    larger, slow = before_the_fuse(fuse_a=2.0), before_the_fuse(kind="time-lag")
    assert larger[1] > 1400 < slow[1]  # past the melting point of nickel-chromium: it is the bench that they save
    assert advised_fuse() == "time-lag" == characteristic_for(3.26, 1.25)


def test_a_loose_wire_sags_into_its_tube_and_a_pulled_one_does_not():
    """By hand: 150 mm, 315 K, 17.5e-6 per kelvin: 0.83 mm longer, sag sqrt(3/8 L dL) = 6.8 mm; 3.85 mm to the wall."""
    row = next(r for r in four_ways() if r.way == WAYS[2])
    clear_m = (ON_THE_TABLE.tube.inner_m - ON_THE_TABLE.diameter_m) / 2
    whole = hanging(ON_THE_TABLE.tube_m, row.wire_c.nominal)
    assert whole.grown_m == pytest.approx(0.83e-3, rel=0.01) and whole.loose_m == pytest.approx(6.8e-3, rel=0.01)
    assert whole.loose_m > clear_m > 20 * whole.taut_m
    assert hanging(ON_THE_TABLE.supports_m, row.wire_c.high).loose_m < clear_m


def test_an_arc_of_that_sag_has_that_length():
    """The parabola y = 4 s x (L - x) / L2, measured along itself by numpy."""
    hung = hanging(0.2, 236.0)
    x = np.linspace(0.0, hung.length_m, 20_001)
    y = 4 * hung.loose_m * x * (hung.length_m - x) / hung.length_m**2
    assert np.hypot(np.diff(x), np.diff(y)).sum() - hung.length_m == pytest.approx(hung.grown_m, rel=0.01)


def test_only_cold_wire_touches_wood():
    hottest = max((r for r in four_ways() if r.tube_c is None), key=lambda r: r.wire_c.high)
    reach_m = hanging(hottest.length_m, hottest.wire_c.high).reach_m
    spare_m = ON_THE_TABLE.posts_m - ON_THE_TABLE.clip_m - max(ON_THE_TABLE.lengths_m)
    assert min(spare_m, ON_THE_TABLE.clip_m) > 10 * reach_m


def test_the_tube_is_ready_while_b_is_read():
    """By hand: 28 mm2 of steel at 3.8 J/(cm3 K) are 108 J/(m K); 45 K over 25.4 W/m: 190 s, within a fifth."""
    constant_s, ready_s = tube_ready()
    assert constant_s == pytest.approx(190, rel=0.2) and ready_s < 20 * 60


def test_lamps_that_differ_stay_in_their_band():
    """Filament lamps of one print differ by a tenth in current, and so does the rule."""
    for row in first_evening():
        share = row.expected.high / row.expected.nominal - 1
        assert share > (0.1 if row.row.startswith("B") else 0.05)
    dim = four_ways(Demonstration(lamp_w=0.9 * ON_THE_TABLE.lamp_w))
    for one, asked in zip(dim[3:6], first_evening()[7::2], strict=True):
        assert asked.expected.low < one.load_a < asked.expected.high
