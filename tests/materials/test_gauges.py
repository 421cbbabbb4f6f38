"""Gauge names to diameters; the two systems are never mixed up."""

import fluids
import numpy as np
import pytest

from benchcalc.basics.fault import Fault
from benchcalc.materials.gauges import awg_diameter, diameter_of, sizes, swg_diameter


@pytest.mark.parametrize("text", ["32 AWG", "AWG 32", "32AWG", "awg32", " 32 awg "])
def test_spellings_of_one_american_gauge(text):
    # ASTM B258 by way of fluids: 32 AWG prints as 0.00795 in
    assert diameter_of(text) == pytest.approx(fluids.t_from_gauge(32.0, schedule="AWG"), rel=5e-3)


@pytest.mark.parametrize("number", range(10, 51, 4))
def test_awg_agrees_with_fluids(number):
    # fluids rounds its table to 0.1 mil: 0.5 %
    assert diameter_of(f"{number} AWG") == pytest.approx(fluids.t_from_gauge(float(number), schedule="AWG"), rel=5e-3)


def test_swg_is_the_british_gauge_not_the_american_steel_wire_gauge():
    # fluids: schedule BSWG is British; its SWG is the steel wire gauge, 0.584 mm at 24 against 0.559 mm
    assert diameter_of("24 SWG") == pytest.approx(fluids.t_from_gauge(24.0, schedule="BSWG"), rel=1e-3)
    assert abs(diameter_of("24 SWG") / fluids.t_from_gauge(24.0, schedule="SWG") - 1) > 0.03
    assert abs(diameter_of("24 SWG") / diameter_of("24 AWG") - 1) > 0.08


def test_awg_halves_its_section_every_three_numbers_roughly():
    # 92^(3/39) = 1.416 in diameter, 2.005 in area: the rule of thumb of the trade
    assert (awg_diameter(20) / awg_diameter(23)) ** 2 == pytest.approx(2.005, rel=1e-3)
    assert np.allclose(awg_diameter(np.array([20, 30])), [awg_diameter(20), awg_diameter(30)])


@pytest.mark.parametrize(
    "text, metres", [("0.28 mm", 0.28e-3), ("20 mil", 20 * 25.4e-6), ("0.020 in", 0.508e-3), ("1/32 in", 0.0254 / 32)]
)
def test_a_plain_diameter_is_taken(text, metres):
    assert diameter_of(text) == pytest.approx(metres, rel=1e-12)


def test_a_bare_number_is_refused_with_both_diameters():
    with pytest.raises(Fault) as raised:
        diameter_of("24")
    told = str(raised.value)
    assert "0.511 mm" in told and "0.559 mm" in told and "24 AWG" in told and "24 SWG" in told


@pytest.mark.parametrize(
    "text, says",
    [
        ("57 AWG", "finer than AWG 56"),
        ("50 SWG", "from 12 to 42"),
        ("24 BWG", "Known: AWG, SWG"),
        ("24 gauge", "Known: AWG, SWG"),
        ("0.28", "no unit"),
        ("0.28 kg", "mass"),
        ("", "could not be read"),
    ],
)
def test_what_is_no_gauge(text, says):
    with pytest.raises(Fault) as raised:
        diameter_of(text, where="wire 1.gauge")
    assert says in str(raised.value)


@pytest.mark.parametrize("text", ["0000 AWG", "00 AWG", "-0.28 mm", "0 mm"])
def test_a_gauge_is_never_misread(text):
    # 0000 AWG is 0.4600 in = 11.68 mm (ASTM B258), not 0 AWG; a diameter is above zero
    try:
        got = diameter_of(text)
    except Fault:
        return
    assert text.endswith("AWG") and got == pytest.approx(
        {4: 0.4600, 2: 0.3648}[len(text.split()[0])] * 0.0254, rel=1e-3
    )


@pytest.mark.parametrize("system", ["AWG", "SWG", "metric"])
def test_sizes_run_from_thick_to_thin_and_read_back(system):
    listed = sizes(system)
    assert [d for _, d in listed] == sorted((d for _, d in listed), reverse=True)
    for name, diameter_m in listed:
        assert diameter_of(name) == pytest.approx(diameter_m, rel=1e-6)


def test_unknown_system_and_number_outside():
    with pytest.raises(Fault, match="AWG, SWG, metric"):
        sizes("BWG")
    with pytest.raises(Fault, match="from 12 to 42"):
        swg_diameter(7)
