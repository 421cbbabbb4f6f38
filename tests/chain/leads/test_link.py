"""The lead-out: joint, sleeving and cable against sums by hand and limits of the tables."""

from pathlib import Path

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.chain.wire.link import tails_of_metal
from benchcalc.heater.cable import cable_limit
from benchcalc.show.handle import leads_tables as leads_rows
from benchcalc.show.page import lesson

OUT = "\n[lead_out]\n"


@pytest.fixture(scope="module")
def press():
    return bc.load_chosen("insert_press")


def judged(build):
    out = bc.work_out(build, samples=0)
    return out, {v.what: v for v in out.of("leads")}


@pytest.fixture(scope="module")
def unsaid(press):
    """The press with 0.1 ohm of tails whose metal nobody names."""
    return bc.change(press, "coil.tails.material", None)


def test_ohms_that_the_coils_own_wire_cannot_have_leave_the_tails_not_known_everywhere(unsaid):
    out, by = judged(unsaid)
    # by hand: the press has 115 mm of 17.7 ohm/m to the joint, twice: 4.07 ohm, so its 0.1 ohm are of another metal
    assert out.leads.way_m == pytest.approx(0.115, abs=0.004)
    assert out.leads.own_ohm == pytest.approx(2 * out.leads.way_m * 17.7, rel=0.01)
    assert by["insulation of the cable at the joint"].state == by["joint to the cable"].state == "not known"
    assert "section = " in by["joint to the cable"].why
    assert np.all(np.isnan([out.leads.joint_c, out.leads.tails_c, out.leads.carried_w, out.heat.tails_c]))
    assert "degC" not in lesson.summary(out, unsaid).text.split("**leads**")[1].split("\n")[0]
    assert "nan" not in str(leads_rows.other_tails(unsaid, out)) and "degC" not in str(leads_rows.way_out(unsaid, out))


def test_a_thicker_tail_of_the_same_metal_carries_more_and_has_fewer_ohms(press):
    tails = bc.change(bc.change(press, "coil.tails.resistance_ohm", None), "coil.tails.length_m", 0.12)
    thin, thick = (bc.change(tails, "coil.tails.section_m2", a) for a in (0.2e-6, 0.8e-6))
    # CRC Handbook: nickel 6.93e-8 ohm m
    assert bc.links(thin)[1].tails_ohm == pytest.approx(2 * 0.12 * 6.93e-8 / 0.2e-6, rel=1e-6)
    assert bc.links(thick)[1].tails_ohm == pytest.approx(bc.links(thin)[1].tails_ohm / 4)
    assert judged(thick)[0].leads.carried_w > 2 * judged(thin)[0].leads.carried_w > 0


@pytest.mark.parametrize("name", ["insert_press", "wax_pot", "foam_bow", "foil_iron"])
def test_a_demo_says_what_its_tails_are_and_its_ohms_go_with_that(name):
    tails = bc.load_chosen(name).coil.tails
    assert tails.material and tails.section_m2
    metal = tails_of_metal(0.1, tails.material, tails.section_m2)
    assert metal / 2 < tails.resistance_ohm < 0.1 + 2 * metal  # what is more are joints, some hundredths of an ohm each


def test_temperatures_fall_from_the_coil_to_the_joint_and_lie_on_the_models_own_track(press, unsaid):
    out, by = judged(press)
    places, temps = out.heat.model.along("leads", out.heat.temps_c)
    assert out.leads.joint_c == pytest.approx(np.interp(out.leads.at_m, places, temps))
    assert out.heat.grip_c * 0.5 < out.leads.joint_c < out.heat.entry_c < out.leads.tails_c <= out.heat.sheath_c + 1
    assert by["insulation of the cable at the joint"].state == "fine"
    told = bc.change(bc.change(unsaid, "coil.tails.material", "copper"), "coil.tails.section_m2", 0.5e-6)
    hot, by = judged(told)
    assert by["insulation of the cable at the joint"].state == "fine" and hot.leads.joint_c > out.leads.joint_c + 30


def test_the_heat_carried_is_conductivity_times_section_times_slope(press):
    copper = bc.change(bc.change(press, "coil.tails.material", "copper"), "coil.tails.section_m2", 0.5e-6)
    copper = bc.work_out(copper, samples=0)
    places, temps = copper.heat.model.along("leads", copper.heat.temps_c)
    slope = (np.interp(0.118, places, temps) - np.interp(0.122, places, temps)) / 0.004
    # two leads of 0.5 mm2 copper, Incropera, table A.1: 401 W/(m K)
    assert copper.leads.carried_w == pytest.approx(401 * 1e-6 * slope, rel=0.02)


def test_a_soldered_joint_is_judged_by_creep_and_names_its_melting(press):
    text = Path(press.file).read_text(encoding="utf-8")
    text = text.replace('material = "nickel"', 'material = "copper"').replace('"0.2 mm2"', '"0.5 mm2"')
    soldered = bc.read(text.replace('joint = "crimped"', 'joint = "soldered"\njoint_at = "125 mm"'))
    verdict = judged(soldered)[1]["joint to the cable"]
    assert verdict.state == "over" and "183 degC" in verdict.why and "names no solder" in verdict.why
    # ISO 9453 / solder tables: Sn60Pb40 begins to melt at 183 degC, so anything over that is over here as well
    assert verdict.limit < 183
    pvc = bc.read(text.replace('cable = "silicone rubber"', 'cable = "PVC"\njoint_at = "125 mm"'))
    assert judged(pvc)[1]["insulation of the cable at the joint"].state == "over"


def test_copper_tails_have_copper_ohms(press):
    # IEC 60028: 2 x 0.125 m x 1.7241e-8 ohm m / 0.5 mm2 = 8.6 mohm
    from dataclasses import replace

    from benchcalc.sheet.build import Tails

    copper = replace(press, coil=replace(press.coil, tails=Tails(length_m=0.125, material="copper")))
    assert bc.links(copper)[1].tails_ohm == pytest.approx(2 * 0.125 * 1.7241e-8 / 0.5e-6, rel=1e-6)
    own = replace(press, coil=replace(press.coil, tails=Tails(length_m=0.114)))
    assert bc.links(own)[1].tails_ohm == pytest.approx(2 * 0.114 * 17.7, rel=0.01)
    assert judged(own)[0].leads.joint_c > 150  # single tails of the coil's own wire glow their way into the handle


def test_an_unsaid_lead_out_is_not_known(press):
    from dataclasses import replace

    from benchcalc.sheet.build import LeadOut

    _, by = judged(bc.change(replace(press, lead_out=LeadOut()), "coil.tails.material", "copper"))
    assert {by[w].state for w in ("joint to the cable", "insulation of the cable at the joint")} == {"not known"}


@pytest.mark.parametrize(
    "section, amps", [(0.4e-6, 0), (0.5e-6, 3), (0.75e-6, 6), (0.9e-6, 6), (1.0e-6, 10), (1.5e-6, 16), (4e-6, 16)]
)
def test_current_against_section(section, amps):
    assert cable_limit(section, 1.5) == amps  # IEC 60335-1, table of flexible cables, as reprinted in a manual


def test_half_a_square_millimetre_serves_short_cords_only():
    assert cable_limit(0.5e-6, [1.9, 2.0, 2.1]).tolist() == [3, 3, 0]  # the same table
    assert cable_limit(0.5e-6) == 0 and cable_limit(0.75e-6, 50.0) == 6


def current_in(out):
    return next(v for v in out.of("bench") if v.what == "current in the cable")


def test_a_thin_long_cable_is_over_in_volts_and_amps():
    text = (
        '[sheet]\nname = "x"\n[supply]\nkind = "transformer"\nopen = "12 V"\nsource = "0.1 ohm"\n'
        '[supply.cable]\nlength = "6 m"\nsection = "0.4 mm2"\n'
        '[[wire]]\nid = "w"\nalloy = "cuni-44"\ngauge = "24 SWG"\n'
        '[coil]\nwire = "w"\nlength = "2 m"\nwire_temperature = "200 degC"\n'
    )
    out, by = judged(bc.read(text))
    ohm = 2 * 1.7241e-8 * 6 / 0.4e-6  # IEC 60028 copper, there and back
    assert out.leads.cable_drop_v == pytest.approx(out.coil.load_a * ohm, rel=1e-6)
    assert by["volts lost in the cable, as a share"].state == "over"
    assert current_in(out).state == "over"


@pytest.mark.parametrize("section, state", [("0.75 mm2", "fine"), ("0.5 mm2", "not known"), ("0.4 mm2", "over")])
def test_a_cable_whose_length_nobody_wrote_is_still_judged_by_its_section(section, state):
    """The same table: 0.75 mm2 serves any length, 0.5 mm2 short cords alone, less serves none."""
    text = bc.chosen("insert_press").read_text(encoding="utf-8")
    cable = f'[supply.cable]\nsection = "{section}"\n[soak]'
    out, by = judged(bc.read(text.replace("[soak]", cable, 1)))
    assert current_in(out).state == state
    assert "volts lost in the cable, as a share" not in by


def test_tails_of_single_wire_make_the_joint_hotter_than_doubled_ones(press):
    rows = {r[0]: r for r in leads_rows.other_tails(press, bc.work_out(press, samples=0)).rows}
    joint = [float(rows[w][4].split()[0]) for w in ("own wire, single", "own wire, doubled", "own wire, trebled")]
    made = [float(rows[w][1].split()[0]) for w in ("own wire, single", "own wire, doubled", "own wire, trebled")]
    assert joint == sorted(joint, reverse=True) and made == sorted(made, reverse=True)
    assert len(leads_rows.earthing().rows) >= 4
    copper = bc.change(press, "coil.tails.material", "copper")
    assert len(leads_rows.way_out(copper, bc.work_out(copper, samples=0)).rows) == 4
