"""Ways down: the waves against numerical integrals, the ways against the circuit itself, the box against its limits."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import quad

from benchcalc.basics.fault import Fault
from benchcalc.heater.box import vented_rise
from benchcalc.heater.power import (
    mean_share,
    on_cycles,
    passed_share,
    phase_share,
    resistor_rating,
    series_resistor,
    share_behind,
)
from benchcalc.heater.soak import box_rise
from benchcalc.heater.ways_down import Line, brick_steps, full_watts, trips, way_down, ways_down

LINE = Line("transformer", "AC", 12.0, 0.6, 5.0, 0.1)


@pytest.mark.parametrize("drop_v", [0.0, 0.7, 1.5, 7.0])
def test_a_cut_wave_is_its_integral(drop_v):
    """Against scipy.integrate.quad on the wave itself."""

    def wave(x):
        return max(np.sqrt(2) * 6.0 * np.sin(x) - drop_v, 0.0)

    edge = np.arcsin(drop_v / (6 * np.sqrt(2)))
    square, _ = quad(lambda x: wave(x) ** 2, edge, np.pi - edge)
    mean, _ = quad(wave, edge, np.pi - edge)
    assert passed_share(6.0, drop_v) == pytest.approx(square / np.pi / 36, rel=1e-9)
    assert mean_share(6.0, drop_v) == pytest.approx(mean / np.pi / 6, rel=1e-9)


def test_phase_firing_is_its_integral():
    for a in np.linspace(0, np.pi, 7):
        assert phase_share(a) == pytest.approx(quad(lambda x: 2 * np.sin(x) ** 2, a, np.pi)[0] / np.pi, abs=1e-12)


def test_a_resistor_in_the_line_leaves_what_its_circuit_leaves():
    """Ohm's law on 12 V by hand: 0.8 and 6 ohm carry 1.7647 A, with another 6 ohm 0.9375 A: 18.69 and 5.27 W."""
    assert share_behind(6.0, 0.8, 6.0) == pytest.approx(5.273 / 18.685, rel=1e-3)
    assert share_behind(series_resistor(0.8, 6.0, 0.5), 0.8, 6.0) == pytest.approx(0.5)


def test_every_way_is_what_its_circuit_gives_over_a_stepped_second():
    """Each way's effective current, heat elsewhere and heat in the supply, from the current stepped through time."""
    x = (np.arange(20000) + 0.5) / 20000 * 2 * np.pi
    volts = np.sqrt(2) * LINE.open_v * np.sin(x)
    total = LINE.source_ohm + LINE.coil_ohm + LINE.tails_ohm
    full = full_watts(LINE)[0]
    drop = way_down(LINE, "diode", 0.5).elsewhere_w
    amps = np.maximum(volts - 0.9, 0) / total
    one = way_down(LINE, "diode", 0.5, drop_v=0.9)
    assert one.coil_w == pytest.approx((amps**2).mean() * LINE.coil_ohm, rel=1e-4)
    assert one.direct_a == pytest.approx(amps.mean(), rel=1e-4) and one.peak_a == pytest.approx(amps.max(), rel=1e-4)
    assert drop == pytest.approx(0.9 * amps.mean(), rel=1e-4)
    amps = np.sign(volts) * np.maximum(np.abs(volts) - 1.2, 0) / total
    burst = way_down(LINE, "burst", 0.5, drop_v=1.2)
    duty = 0.5 * full / ((amps**2).mean() * LINE.coil_ohm)
    assert burst.coil_w == pytest.approx(0.5 * full, rel=1e-9)
    assert burst.elsewhere_w == pytest.approx(duty * 1.2 * np.abs(amps).mean(), rel=1e-4)
    for way in ways_down(LINE, 0.5):  # all that the supply's source gives is found again, to the last watt
        if way.key in ("lower volts", "series resistor", "relay"):
            assert way.coil_w == pytest.approx(0.5 * full, rel=1e-9)
        square = way.equal_a**2
        assert way.source_w == pytest.approx(square * LINE.source_ohm) and way.coil_w == pytest.approx(square * 5.0)
    resistor = way_down(LINE, "series resistor", 0.5)
    taken = LINE.open_v * resistor.equal_a
    assert taken == pytest.approx(
        resistor.coil_w + resistor.source_w + resistor.elsewhere_w + 0.1 * resistor.equal_a**2
    )


def test_ways_that_do_not_serve_say_why():
    direct = {w.key: w for w in ways_down(Line("switching supply", "DC", 12.0, 0.0, 5.0), 0.5)}
    assert all(direct[k].why_not and np.isnan(direct[k].coil_w) for k in ("lower volts", "diode", "burst"))
    assert not direct["switched DC"].why_not
    weak = way_down(Line("transformer", "AC", 0.5, 0.1, 1.0), "diode", 0.5)
    assert "keeps for itself" in weak.why_not
    assert "for ever" in way_down(LINE, "burst", 1.0).setting  # full power is out of reach behind a triac
    with pytest.raises(Fault, match="Closest: relay"):
        way_down(LINE, "rellay", 0.5)
    for share in (0.0, -1.0, 1.2, np.nan):
        with pytest.raises(Fault, match="share"):
            ways_down(LINE, share)


LIMITED = Line("bench supply", "DC", 10.0, 0.2, 4.7, 0.1, limit_a=1.0)


def test_half_of_a_current_limited_supply_is_half_of_what_its_limit_gives():
    """At its limit a bench supply has volts to spare: the loop takes 5 V of its 10, and half the watts 5/sqrt 2 V."""
    ways = {w.key: w for w in ways_down(LIMITED, 0.5) if not w.why_not}
    assert full_watts(LIMITED) == pytest.approx((4.7, 1.0))
    for key in ("lower volts", "series resistor", "relay", "switched DC"):
        assert ways[key].coil_w == pytest.approx(0.5 * 4.7), key
    assert f"{5 / np.sqrt(2):.1f} V" in ways["lower volts"].setting
    ohm = float(ways["series resistor"].setting.split()[0])
    assert 10.0 / (5.0 + ohm) == pytest.approx(np.sqrt(0.5), rel=2e-3)  # Ohm's law on the whole loop
    assert ways["series resistor"].elsewhere_w == pytest.approx(0.5 * ohm, rel=2e-3)
    assert ways["relay"].peak_a == pytest.approx(1.0)  # the peak does not fall with the duty


def test_a_supply_that_trips_is_not_turned_down_by_switching():
    """While on, each pulse draws the full current, the cold wire's first: past its limit a brick or pack shuts off."""
    for kind in ("switching supply", "battery"):
        ways = {w.key: w for w in ways_down(Line(kind, "DC", 12.0, 0.0, 4.0, limit_a=2.5, cold_ohm=3.8), 0.5)}
        assert all("trips" in ways[k].why_not for k in ("switched DC", "relay"))
        assert ways["series resistor"].coil_w == pytest.approx(18.0)  # half of 144/4 W, at 3/sqrt 2 A
    near = Line("switching supply", "DC", 12.0, 0.0, 4.0, limit_a=3.05)
    assert not trips(near) and trips(replace(near, cold_ohm=3.8))
    assert not trips(replace(LINE, limit_a=0.1))  # a transformer does not


def test_a_window_is_whole_cycles():
    assert on_cycles(0.5, 1.0) == (25, 50) and on_cycles(1.7, 0.02) == (1, 1) and on_cycles(0.26, 0.5, 60.0) == (8, 30)
    with pytest.raises(Fault, match="shorter than one mains cycle"):
        on_cycles(0.5, 0.01)


def test_a_brick_holds_its_volts():
    assert [round(s.load_a, 3) for s in brick_steps(LINE)][:2] == [0.980, 1.765]


def test_a_box_without_vents_is_the_closed_one_and_vents_follow_the_chimney():
    """The two-thirds power of a chimney that carries all the heat; air of the stack from CoolProp."""
    from CoolProp.CoolProp import PropsSI

    assert vented_rise(6.0, 0.06, 0.0, 0.1) == pytest.approx(box_rise(6.0, 0.06, 5.0))
    assert 0 < vented_rise(6.0, 0.06, 5e-4, 0.1) < vented_rise(6.0, 0.06, 1e-4, 0.1) < box_rise(6.0, 0.06, 5.0)
    rise = vented_rise(10.0, 1e-6, 1e-3, 0.2)
    inside = 298.15 + rise
    heat = PropsSI("D", "T", inside, "P", 101325, "Air") * PropsSI("C", "T", inside, "P", 101325, "Air")
    flow = 0.6 * 1e-3 / np.sqrt(2) * np.sqrt(2 * 9.80665 * 0.2 * rise / inside)
    assert heat * flow * rise == pytest.approx(10.0, rel=0.02)
    with pytest.raises(Fault):
        vented_rise(5.0, 0.0, 0.0, 0.1)


def test_a_resistor_is_rated_half_as_much_again_in_steps_of_five():
    # by hand: 1.48 A through 4.71 ohm make 10.3 W; half as much again is 15.5 W, told as 20 W
    assert resistor_rating(1.48**2 * 4.71) == 20.0 and resistor_rating(0.7) == 5.0 and resistor_rating(20.0) == 30.0
