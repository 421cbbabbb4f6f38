"""Ways down: the waves against numerical integrals, the ways against the circuit itself, the box against its limits."""

import numpy as np
import pytest
from scipy.integrate import quad

from benchcalc.basics.fault import Fault
from benchcalc.heater.box import vented_rise
from benchcalc.heater.power import mean_share, on_cycles, passed_share, phase_share
from benchcalc.heater.soak import box_rise
from benchcalc.heater.ways_down import Line, brick_steps, full_watts, way_down, ways_down

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
