"""The first evening's demonstration: what must hold by Ohm and Joule, and a closed wire against open libraries."""

import ht
import numpy as np
import pytest

from benchcalc.basics.fault import Fault
from benchcalc.heater.protection import opening
from benchcalc.studies.lesson.four_ways import ON_THE_TABLE, WAYS, Demonstration, four_ways, without_the_lamp
from benchcalc.thermal.surfaces.bare_wire import Surroundings
from benchcalc.thermal.surfaces.surface_loss import air_at
from benchcalc.thermal.surfaces.wire_in_tube import Closed, between_faces, wire_in_tube


def rows_of(way):
    return [r for r in four_ways() if r.way == way]


def test_longer_is_less_at_volts_and_more_at_amps():
    """Joule: P = U2/R, P = I2 R."""
    volts, amps = rows_of(WAYS[0]), rows_of(WAYS[1])
    assert [r.load_w for r in volts] == sorted((r.load_w for r in volts), reverse=True)
    assert [r.load_w for r in amps] == sorted(r.load_w for r in amps)
    for r in volts + amps:
        assert r.load_w == pytest.approx(r.load_v * r.load_a)


def test_a_lamp_keeps_the_amps_within_a_tenth():
    amps = [r.load_a for r in rows_of(WAYS[1])]
    assert (
        max(amps) / min(amps) < 1.1 < max(r.load_a for r in rows_of(WAYS[0])) / min(r.load_a for r in rows_of(WAYS[0]))
    )


def test_the_same_watts_are_hotter_in_a_tube():
    for bare, closed in zip(rows_of(WAYS[0]), rows_of(WAYS[2]), strict=True):
        assert closed.load_w == bare.load_w and closed.wire_c.nominal > bare.wire_c.high


def test_nothing_on_the_table_glows_or_passes_what_a_class_may_touch_beside():
    assert max(r.wire_c.high for r in four_ways()) < 500  # dark red is seen from about 500 degC


def test_bands_enclose_their_middle():
    assert all(r.wire_c.low < r.wire_c.nominal < r.wire_c.high for r in four_ways())


def test_air_between_against_an_open_library():
    """ht: conduction through a cylinder of air; radiation between concentric cylinders with both faces black."""
    tube = Closed(0.008, 0.010, 1.0)
    k = float(air_at(160.0)[0])
    through = (220.0 - 100.0) / ht.conduction.R_cylinder(0.0003, 0.008, k, 1.0)
    shone = np.pi * 0.0003 * ht.radiation.q_rad(1.0, 493.15, 373.15)
    assert between_faces(220.0, 100.0, 0.0003, 1.0, tube) == pytest.approx(through + shone, rel=1e-4)


def test_hotter_with_more_watts_and_in_a_dull_tube():
    last = 0.0
    for watts in (2.0, 10.0, 40.0, 80.0):
        wire_c, tube_c = wire_in_tube(watts, 0.0003, Closed(0.008, 0.010))
        assert wire_c > last and 20.0 < tube_c < wire_c
        last = wire_c
    assert (
        wire_in_tube(20.0, 0.0003, Closed(0.008, 0.010, 0.2))[0]
        > wire_in_tube(20.0, 0.0003, Closed(0.008, 0.010, 0.9))[0]
    )
    assert (
        wire_in_tube(20.0, 0.0003, Closed(0.008, 0.010), Surroundings(air_speed_m_s=0.5))[1]
        < wire_in_tube(20.0, 0.0003, Closed(0.008, 0.010))[1]
    )


def test_what_no_wire_and_no_tube_lasts_has_no_temperature():
    for watts, tube_known in ((500.0, True), (1e5, False)):
        wire_c, tube_c = wire_in_tube(watts, 0.0003, Closed(0.008, 0.010))
        assert np.isnan(wire_c) and np.isfinite(tube_c) == tube_known


def test_what_does_not_go_in_is_refused():
    with pytest.raises(Fault, match="wider"):
        wire_in_tube(10.0, 0.009, Closed(0.008, 0.010))
    with pytest.raises(Fault, match="1400"):
        four_ways(Demonstration(stiff_v=40.0))


def test_the_fuse_stops_a_forgotten_lamp_and_carries_every_setting():
    """Ohm: 19 V over 3.1 ohm. IEC 60127-2: a quick fuse opens within 2 s from 2.75 times its rating; a slow one need
    not for a minute."""
    amps, watts, opens_s = without_the_lamp()
    assert amps == pytest.approx(19.0 / 3.084, rel=0.01) and watts > 100 and opens_s <= 2.0
    assert opening("time-lag", 2.5, amps).latest_s > 60
    assert max(row.load_a for row in four_ways()) < ON_THE_TABLE.fuse_a


def test_the_tube_is_told_too_and_bright_ones_are_hotter():
    for row in rows_of(WAYS[2]):
        assert 20 < row.tube_c.low < row.tube_c.nominal < row.tube_c.high < row.wire_c.nominal
