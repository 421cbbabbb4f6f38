"""A wire whose alloy nobody has named: past what any alloy of the list stands it is over, and told to melt."""

from dataclasses import replace

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.chain.heat.melting_wire import wire_melts_c
from benchcalc.chain.heat.verdicts import HOTTEST, wire_check
from benchcalc.show.panel.sliders import results_at
from benchcalc.show.wire.panel import wire_panel
from benchcalc.studies.mend_first import mend_first

NAMED, UNNAMED = 'alloy = "Ni-Cr 80/20"', 'measured_ohm = "34 ohm"\nmeasured_length = "1 m"'
ALL = "heat: hottest wire"


def press(length="733 mm", named=False):
    text = bc.chosen("insert_press").read_text(encoding="utf-8")
    text = text if named else text.replace(NAMED, UNNAMED, 1)
    return bc.settled(bc.read(text.replace('length = "733 mm"', f'length = "{length}"', 1)))


def told(build, wire_c):
    heat = bc.work_out(build, samples=0).heat
    return wire_check(build, replace(heat, wire_c=wire_c), {})


@pytest.mark.parametrize(
    "wire_c, state, melts", [(1100.0, "not known", False), (1200.0, "over", False), (1480.0, "over", True)]
)
def test_what_no_alloy_of_the_list_stands(wire_c, state, melts):
    """Source: data/alloy_values.csv: iron-chromium-aluminium serves to 1170 degC and melts from 1450, last of all."""
    found = told(press(), wire_c)
    assert (found.what, found.state, found.melts(found.value)) == (HOTTEST, state, melts)
    assert state == "not known" or found.limit == 1170.0 and "1170 degC" in found.why
    assert not melts or "begins to melt at 1450 degC" in found.why
    assert wire_melts_c(press()) == 1450.0


def test_many_designs_are_told_as_each_alone():
    many_c = np.array([800.0, 1100.0, 1200.0, 1480.0])
    many, alone = told(press(), many_c), [told(press(), float(c)) for c in many_c]
    assert list(many.state) == [v.state for v in alone]
    assert many.value == pytest.approx([v.value for v in alone], nan_ok=True)
    assert many.margin == pytest.approx([v.margin for v in alone], nan_ok=True)


@pytest.mark.parametrize(
    "named, whose", [(False, "whichever alloy of the list it is"), (True, "nickel-chromium 80/20")]
)
def test_a_wire_that_melts_is_told_by_the_tile_and_the_table_of_the_panel(named, whose):
    """At a tenth of its length the press takes far more watts than any wire stands."""
    spec = wire_panel(press(named=named)).spec
    short = {"coil.length_m": 0.08}
    at = results_at(spec, short)
    assert dict(at.rows)["hottest wire"] == f"melts ({whose})"
    (over,) = [v for v in at.verdicts if v.what == HOTTEST]
    assert over.state == "over" and over.said(over.value) == "melts"
    assert at.verdicts[0] is over  # so that it stands first among what is over
    assert not [v for v in results_at(spec, short, rest=False).verdicts if v.what == HOTTEST]  # it comes at rest
    mild = results_at(spec, {}).verdicts
    assert [v.state for v in mild if v.what == HOTTEST] == ([] if named else ["not known"])


@pytest.mark.parametrize("named", [False, True])
def test_a_wire_that_melts_is_the_first_thing_to_mend_of_the_wire_and_no_mere_burning_out(named):
    build = press("80 mm", named)
    workings = bc.work_out(build, samples=20)
    of_page = mend_first(build, workings, ("wire", "coil", ALL)).first
    assert of_page[0].verdict.what == HOTTEST and of_page[0].harm.startswith("molten metal")
    assert [m.verdict.what for m in mend_first(build, workings, ("wire", "coil")).first].count(HOTTEST) == 0
    whole = mend_first(build, workings, most=99).first
    place = [m.verdict.what for m in whole].index(HOTTEST)
    milder = {"it burns out", "it serves badly or not for long", "insulation that gives way", "burns"}
    assert not milder & {m.harm for m in whole[:place]}
