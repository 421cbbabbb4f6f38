"""A reading may be typed as any two of volts, amps, watts and ohms."""

import numpy as np
import pytest

import benchcalc as bc

TEXT = """[sheet]
name = "x"
[supply]
kind = "transformer"
[[supply.reading]]
volts = 12
amps = 0
[[supply.reading]]
{}
"""
# one and the same load by Ohm's and Joule's laws: 11 V, 2 A, 22 W, 5.5 ohm
SAME = ("volts = 11\namps = 2", "watts = 22\nohms = 5.5", "volts = 11\nohms = 5.5", "volts = 11\nwatts = 22")
SAME += ("amps = 2\nohms = 5.5", "amps = 2\nwatts = 22")


@pytest.mark.parametrize("typed", SAME)
def test_any_two_of_the_four_are_the_same_reading(typed):
    build = bc.read(TEXT.format(typed))
    reading, line = build.supply.reading[1], bc.work_supply(build)
    assert (reading.volts_v, reading.amps_a) == pytest.approx((11.0, 2.0))
    assert (line.open_v, line.source_ohm) == pytest.approx((12.0, 0.5))
    band = bc.work_out(build, samples=40).bands["supply.source_ohm"]
    assert band.low < 0.5 < band.high


def test_errors_of_the_two_are_carried_over():
    build = bc.read(TEXT.format('watts = "22 W +- 10 %"\nohms = "5.5 ohm +- 0.001 ohm"'))
    volts = build.known["supply.reading.1.volts_v"]  # root of the product: half the relative error, 5 % of 11 V
    assert (volts.low, volts.high) == pytest.approx((10.45, 11.55), rel=1e-3)


def test_another_load_makes_another_reading_one_by_one_and_side_by_side():
    build = bc.read(TEXT.format("watts = 22\nohms = 5.5"))
    many = bc.change(build, "supply.reading.1.load_ohm", np.array([5.5, 6.6])).supply.reading[1]
    ones = [bc.change(build, "supply.reading.1.load_ohm", x).supply.reading[1] for x in (5.5, 6.6)]
    assert many.volts_v == pytest.approx([r.volts_v for r in ones])
    assert many.amps_a == pytest.approx([r.amps_a for r in ones])
    typed = bc.change(build, "supply.reading.1.volts_v", 12.0).supply.reading[1]
    assert typed.volts_v == 12.0 and typed.amps_a == pytest.approx(12 / 5.5)


@pytest.mark.parametrize(
    "typed, says",
    [
        ("watts = 22", "two of volts, amps, watts and ohms"),
        ("volts = 11\namps = 2\nwatts = 30", "30 W, but volts and amps make 22 W"),
        ("volts = 11\namps = 2\nohms = 55", "55 ohm, but volts and amps make 5.5 ohm"),
        ("watts = 22\nohms = -5", "outside"),
    ],
)
def test_what_is_no_reading_is_told(typed, says):
    with pytest.raises(bc.Fault, match=says):
        bc.read(TEXT.format(typed))
