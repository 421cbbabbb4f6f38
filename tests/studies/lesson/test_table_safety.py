"""What the first evening's box, fuse, wire and tube must stand: by Ohm, by hand, and by a standard's sheet."""

import numpy as np
import pytest

from benchcalc.heater.protection import characteristic_for, fuse_ohms, opens_from
from benchcalc.studies.lesson.first_evening_readings import METER, first_evening, held_volts
from benchcalc.studies.lesson.four_ways import ON_THE_TABLE, WAYS, Demonstration, four_ways
from benchcalc.studies.lesson.table_safety import (
    advised_fuse,
    before_the_fuse,
    bench_line_ohm,
    clip_sag,
    hanging,
    into_a_clip,
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
    assert ON_THE_TABLE.lamp_supply_v / 3.084 > opens_from("quick-acting", lamp.fuse_a)[0]


def read_at_clips(open_v, source_ohm, off):
    """Volts and amps of the three pieces of A behind a source, by meters that are a share off: Ohm's law by hand."""
    for row in four_ways()[:3]:
        ohm = row.load_v / row.load_a
        amps = open_v / (source_ohm + bench_line_ohm() + ohm)
        yield amps * ohm * (1 + off), amps * (1 + off)


def all_accepted(open_v, source_ohm, off):
    asked = first_evening()[:6]
    read = [value for pair in read_at_clips(open_v, source_ohm, off) for value in pair]
    return all(a.expected.low * 0.9999 <= v <= a.expected.high * 1.0001 for a, v in zip(asked, read, strict=True))


@pytest.mark.parametrize("off", (-METER, 0.0, METER))
def test_a_box_that_just_meets_the_order_is_inside_every_band_of_the_sheet(off):
    stiff = outlets()[0]
    window, last_a = stiff.held_v, stiff.load_a * held_volts().low / stiff.load_v
    assert all_accepted(stiff.load_v, stiff.source_ohm, off) and all_accepted(stiff.load_v, 0.0, off)
    assert all_accepted(window.high, (window.high - window.low) / last_a, off)
    assert all_accepted(window.high, stiff.widest_ohm, off)
    assert stiff.widest_ohm > 2 * fuse_ohms(stiff.fuse_a)  # so the order can be met with its fuse in the lead


def test_a_box_beyond_the_order_falls_out():
    """By hand: 3.15 ohm of hot wire behind 0.45 ohm get 3.50 V of 4.0 V."""
    assert not all_accepted(4.0, 0.45 - bench_line_ohm(), 0.0)
    assert next(read_at_clips(4.0, 0.45 - bench_line_ohm(), 0.0))[0] == pytest.approx(3.50, abs=0.01)
    assert not all_accepted(4.0, 1.2 * outlets()[0].source_ohm, -METER)


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


def test_clips_that_hang_would_pull_the_wire_down():
    """By hand: 10 g at 280 of 600 mm on 50 g: 0.2 x 280 x 320 / 600 = 29.9 mm; numpy's own triangle of forces too."""
    at_m, left = 0.28, ON_THE_TABLE.posts_m - 0.28
    sag_m = clip_sag(0.01, at_m)
    assert sag_m == pytest.approx(0.0299, rel=2e-3) and clip_sag(0.02, at_m) == pytest.approx(0.0597, rel=2e-3)
    pull = ON_THE_TABLE.weight_kg
    up = pull * (np.sin(np.arctan(sag_m / at_m)) + np.sin(np.arctan(sag_m / left)))
    assert up == pytest.approx(0.01, rel=0.02)
    assert into_a_clip(236.0) < 0.1


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
