"""What heat the wire stands is told beside its ohms, where nothing but supply, wire and coil is on the sheet."""

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.chain.wire.heat_stood import COUNTED, HOTTEST
from benchcalc.chain.workings import electrical_verdicts

COIL = """
[sheet]
name = "a coil and its supply"
degrees = "{degrees}"
[supply]
kind = "transformer"
[[supply.reading]]
volts = "12 V"
amps = "0 A"
[[supply.reading]]
volts = "11 V"
amps = "2 A"
[[wire]]
id = "w"
{wire}
diameter = "0.3 mm"
[coil]
wire = "w"
length = "500 mm"
mounting = "open coil in air"
{more}
"""
NICR, CUNI, BARE = 'alloy = "nicr-80-20"', 'alloy = "cuni-44"', 'measured_ohm = "8 ohm"\nmeasured_length = "0.5 m"'


def told(wire, more="", degrees="C"):
    """The verdicts on the wire's heat, of the whole chain and of wire and coil alone."""
    build = bc.read(COIL.format(wire=wire, more=more, degrees=degrees))
    whole = [v for link, v in bc.work_out(build, samples=0).verdicts if link == "wire" and v.what in (HOTTEST, COUNTED)]
    alone = [v for _, v in electrical_verdicts(build, *bc.links(build), {}) if v.what in (HOTTEST, COUNTED)]
    assert [(v.what, v.state, v.why) for v in whole] == [(v.what, v.state, v.why) for v in alone]
    (found,) = whole
    return found


def test_without_a_tool_service_and_melting_are_told_and_nothing_is_fine():
    """Source: data/alloy_values.csv, Ni-Cr 80/20: long service 1150 degC, melting from 1390."""
    found = told(NICR)
    assert (found.what, found.state) == (HOTTEST, "not known")
    assert "1150 degC" in found.why and "1390 degC" in found.why
    assert "2102 degF" in told(NICR, degrees="F").why and "2534 degF" in told(NICR, degrees="F").why


def test_a_heat_that_is_typed_past_its_service_is_over_and_past_melting_it_melts():
    found = told(NICR, 'wire_temperature = "1200 degC"')
    assert (found.what, found.state, found.limit, found.value) == (COUNTED, "over", 1150.0, 1200.0)
    assert not found.melts(found.value)
    assert told(NICR, 'wire_temperature = "1395 degC"').melts(1395.0)
    assert told(NICR, 'wire_temperature = "1100 degC"').state == "not known"


def test_an_assumed_heat_counts_where_even_its_least_is_past():
    """An open coil in air is 600 to 950 degC (data/defaults.csv): Cu-Ni 44 serves to 400, Ni-Cr to 1150."""
    assert told(CUNI).state == "over" and "mounted so" in told(CUNI).why
    assert told(NICR).state == "not known"


def test_a_wire_without_a_name_is_told_to_be_one_with_a_tool_too():
    assert "Nobody has named its alloy" in told(BARE).why
    text = bc.chosen("insert_press").read_text(encoding="utf-8")
    text = text.replace('alloy = "Ni-Cr 80/20"', 'measured_ohm = "34 ohm"\nmeasured_length = "1 m"', 1)
    states = {v.what: v for link, v in bc.work_out(bc.read(text), samples=0).verdicts if link == "heat"}
    assert states[HOTTEST].state == "not known" and "alloy" in states[HOTTEST].why


@pytest.mark.parametrize("demo", ["insert_press", "foil_iron", "foam_bow", "wax_pot"])
def test_a_whole_tool_has_one_verdict_on_its_hottest_wire(demo):
    found = [link for link, v in bc.work_out(bc.load_chosen(demo), samples=0).verdicts if v.what in (HOTTEST, COUNTED)]
    assert found == ["heat"]


def test_a_heat_that_is_typed_with_its_doubt_keeps_it():
    build = bc.read(COIL.format(wire=NICR, more='wire_temperature = "1200 degC +- 100 K"', degrees="C"))
    (found,) = [v for _, v in bc.work_out(build, samples=100).verdicts if v.what == COUNTED]
    assert found.state == "over" and found.value == pytest.approx(1200.0)
    many = bc.work_out(bc.sample(build, 50))
    (several,) = [v for _, v in many.verdicts if v.what == COUNTED]
    assert set(several.state) == {"fine", "over"}
    assert np.array_equal(several.state == "over", np.asarray(several.value) > 1150.0)
