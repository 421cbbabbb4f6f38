"""The weakest place of a tool: doubt counts, and what nobody knows is never left out of it."""

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.basics.band import Band
from benchcalc.chain.control.cut_out import failing_from_s, own_cut_out
from benchcalc.chain.heat.limits import AT_MAINS, INSIDE, ITSELF, WeakPlace, kinds_of, own_bands, places_of, worst_of
from benchcalc.chain.heat.link import work_heat
from benchcalc.chain.heat.verdicts import heat_checks
from benchcalc.chain.workings import chain

POT = bc.chosen("wax_pot").read_text(encoding="utf-8")
IRON = bc.chosen("foil_iron").read_text(encoding="utf-8")


def of(out, what):
    return next(v for _, v in out.verdicts if v.what.startswith(what))


@pytest.fixture(scope="module")
def pot():
    return bc.work_out(bc.read(POT), samples=40)


def test_insulation_and_melting_metals_are_among_the_limits(pot):
    words = " ".join(h.place for h in pot.control.harms)
    assert {"wire", "paraffin-wax", "melting", "glass", "ceramic"} <= set(words.replace(",", "").split())


def test_a_part_that_nobody_knows_keeps_the_weakest_from_being_fine():
    """A cooler iron is fine but for a plastic ring without a place on the axis, and for a part without a material."""
    cool = IRON.replace('power = "60 W"', 'power = "8 W"').replace('set = "350 degC"', 'set = "90 degC"')
    ring = '[[part]]\nid = "ring"\nmaterial = "PTFE"\nouter = "14 mm"\n\n[room]'
    for text, states in ((cool, {"fine"}), (cool.replace("[room]", ring, 1), {"not known"})):
        build = bc.read(text)
        build = bc.change(build, "coil.length_m", 3 * chain(build).coil.length_m)
        out = bc.work_out(build, samples=0)
        assert {of(out, w).state for w in ("power stuck on", "left on and forgotten")} == states
        assert "ring" in " ".join(out.control.untold) or states == {"fine"}


def test_the_wire_of_unknown_alloy_is_not_known(pot):
    build = bc.read(POT)
    wire = chain(build)[1]
    nobody = type(wire)(**{**wire.__dict__, "alloy": None})
    _, untold = places_of(build, nobody, pot.coil, pot.heat)
    assert untold == ("the wire (its limit, since its alloy is not on the sheet)",)


def test_power_stuck_on_and_a_forgotten_tool_carry_their_bands(pot):
    for what in ("power stuck on", "left on and forgotten"):
        v = of(pot, what)
        assert v.band.low < v.value < v.band.high


def test_the_worst_is_what_is_past_its_limit_then_what_may_come_nearest():
    a = WeakPlace("a", "tip", "tip_c", 101.0, 100.0, "")
    b = WeakPlace("b", "tip", "tip_c", 99.0, 100.0, "")
    c = WeakPlace("c", "tip", "tip_c", 90.0, 100.0, "")
    wide = Band(90.0, 60.0, 130.0)
    assert worst_of([c, b, a], [wide, None, None])[0] is a
    assert worst_of([b, c], [None, wide]) == (c, wide)


def test_a_place_whose_doubt_nobody_knows_comes_before_all_that_are_known():
    b, c = (WeakPlace(name, "tip", "tip_c", value_c, 100.0, "") for name, value_c in (("b", 99.0), ("c", 50.0)))
    unknown = Band(50.0, np.nan, np.nan)
    assert worst_of([b, c], [Band(99.0, 60.0, 130.0), unknown]) == (c, unknown)
    assert c.doubt({AT_MAINS + "tip_c": unknown}, 20.0).high != c.doubt({AT_MAINS + "tip_c": unknown}, 20.0).high  # nan
    assert c.doubt({}, 20.0) is None


def test_samples_that_cannot_be_worked_out_widen_own_doubt_or_leave_it_unknown():
    """A made-up tool: of its 200 samples some have no answer.  One in forty lies past the ends, one in eight is past
    telling: with 5 % beyond each end of a 90 % band there is no end to be told."""
    build = bc.read(POT)
    heat, drawn = chain(build).heat, bc.sample(build, 200)
    one = type(heat)(**{**heat.__dict__, "wire_c": 300.0})
    spread = np.random.default_rng(2).uniform(270.0, 330.0, 200)
    widths = []
    for bad in (0, 5, 25, 200):
        wire_c = np.where(np.arange(200) < bad, np.nan, spread)
        band = own_bands(one, type(heat)(**{**heat.__dict__, "wire_c": wire_c}), drawn)[ITSELF + "wire_c"]
        widths.append(band.high - band.low)
    assert widths[0] < widths[1] and np.isnan(widths[2:]).all()


def test_own_doubt_is_what_mains_leave_over():
    """A made-up tool whose tip moves with the mains and, by 30 K at most, with something else."""
    build = bc.read(POT)
    heat = chain(build).heat
    drawn = bc.sample(build, 200)
    rng = np.random.default_rng(1)
    other, mains = rng.uniform(-30.0, 30.0, 200), drawn.supply.mains
    many = type(heat)(**{**heat.__dict__, "wire_c": 300.0 + 400 * (mains - 1) + 200 * (mains - 1) ** 2 + other})
    one = type(heat)(**{**heat.__dict__, "wire_c": 300.0})
    band = own_bands(one, many, drawn)[AT_MAINS + "wire_c"]
    assert (band.low, band.high) == pytest.approx((273.0, 327.0), abs=2.5)


def test_a_cut_out_must_come_before_the_earliest_that_its_limit_may_be_passed(pot):
    """The hotter the wax may get for the same watts, the earlier its limit: the failing temperature only falls."""
    build = bc.read(POT)
    model, control, fails = pot.heat.model, pot.control, []
    own = next(h for h in control.harms if "wax" in h.place)
    for more in (0.0, 10.0, 40.0):
        bands = {ITSELF + "work_c": Band(pot.heat.work_c, pot.heat.work_c - more, pot.heat.work_c + more)}
        fails.append(own_cut_out(build, model, control, bands, control.doubt_k, 0.0)[0].fail_c)
        wax = control.stuck.run.at(failing_from_s(control, bands), list(control.standing.seat.own["work"][0]))
        assert wax[0] < own.limit_c
    assert fails[0] > fails[1] > fails[2]
    assert of(pot, "the cut-out, between use and harm").margin <= control_margin(build, model, control)


def control_margin(build, model, control):
    plain = own_cut_out(build, model, control, {}, control.doubt_k, 0.0)[0]
    return min(plain.spare_low_k, plain.spare_high_k)


def test_a_part_may_be_called_like_a_place():
    """A guard of PTFE round the bit, whatever it is called, is judged at its own hottest place and in its own time."""
    ring = '[[part]]\nid = "{}"\nmaterial = "PTFE"\nfrom = "5 mm"\nto = "12 mm"\ninner = "10 mm"\nouter = "14 mm"\n\n'
    ends = []
    for id in ("guard", "entry", "sheath"):
        build = bc.read(IRON.replace("[room]", ring.format(id) + "[room]", 1))
        found = bc.work_out(build, samples=0).control
        harm = next(h for h in found.harms if h.place == f"the {id}")
        ends.append((harm.end_c, harm.after_s))
        assert harm.curve_c[-1] == pytest.approx(harm.end_c, abs=3.0)
    assert ends[1] == pytest.approx(ends[0]) and ends[2] == pytest.approx(ends[0])


def own_tails():
    """The iron with one strand of the coil's own wire as tails."""
    sheet = IRON.replace('material = "nickel"      #', "strands = 1  #")
    return bc.read(sheet.replace('section = "0.3 mm2"\nohm = "0.1 ohm +- 0.05 ohm"', 'length = "150 mm"'))


def test_tails_of_the_coils_own_wire_are_told_as_the_wire_is():
    """Hotter than the winding they are held against its alloy's limit; past its melting no temperature is told."""
    build = own_tails()
    own, told = chain(build), {}
    for watts in (40.0, 100.0, 150.0):
        heat = work_heat(build, own.wire, own.coil, watts)
        tails = next(v for v in heat_checks(build, heat, {}) if v.what.startswith("tails"))
        assert tails.value == heat.tails_c > heat.wire_c
        told[tails.state, tails.said(tails.value) == "melts"] = heat.tails_c
    assert list(told) == [("fine", False), ("over", False), ("over", True)]
    assert told["over", True] > 1450.0 > told["over", False]  # iron-chromium-aluminium melts: data/alloy_values.csv


def test_tails_that_run_hotter_than_the_winding_are_among_the_limits_of_a_forgotten_tool():
    """One strand of the coil's own wire hangs in the tube and makes heat of its own: it is wire too."""
    build = own_tails()
    _, wire, coil, heat, _ = chain(build)
    assert heat.tails_c > heat.wire_c
    places, _ = places_of(build, wire, coil, heat)
    tails = next(p for p in places if p.word == "the tails")
    own = next(p for p in places if p.word == "the wire")
    assert (tails.value_c, tails.limit_c) == (heat.tails_c, own.limit_c)
    cool = chain(bc.read(IRON))
    assert not any(p.word == "the tails" for p in places_of(bc.read(IRON), *cool[1:4])[0])


def test_what_can_burn_is_never_hidden_by_what_is_further_past_its_own_limit():
    """By its limit (wood for long 77 degC), whatever else is on the sheet: a sleeve that fails too."""
    steel = bc.change(bc.load_chosen("insert_press"), "part.tube.material", "mild-steel")
    told = []
    for sleeve in ("bare glass sleeve", "glass sleeve", "silicone rubber"):
        out = bc.work_out(bc.change(steel, "coil.tails.sleeve", sleeve), samples=0)
        fire, rest = (v for v in out.of("heat") if v.what.startswith("left on and forgotten"))
        told.append((fire.place, fire.limit, fire.state, fire.value))
        assert "wood" in fire.place and rest.what.endswith(INSIDE) and rest.state == "over"
    assert told[0][:3] == ("the wood at the tube", 77.0, "over") and len({t[3] for t in told}) == 1
    assert "sleeve" not in fire.why and "on the tails" in rest.place


def test_a_place_that_nobody_knows_keeps_its_own_kind_from_being_fine():
    wood, mica = (WeakPlace(w, "entry", "entry_c", 50.0, 77.0, "", b) for w, b in (("the wood", True), ("mica", False)))
    untold = ("the wire (its limit)", "the ring (material or place)", "the foil between core and coil (its limit)")
    fire, rest = kinds_of("left", (wood, mica), untold)
    assert fire == ("left", True, untold[1:]) and rest == ("left" + INSIDE, False, (untold[0], untold[2]))
    assert kinds_of("left", (mica,), untold) == [("left", None, untold)]


def cool_iron(**words):
    """The iron with three times the wire and a low dial, fine left on, with some words of its sheet changed."""
    text = IRON.replace('power = "60 W"', 'power = "8 W"').replace('set = "350 degC"', 'set = "90 degC"')
    for was, now in words.values():
        assert was in text
        text = text.replace(was, now)
    build = bc.read(text)
    return bc.change(build, "coil.length_m", 3 * chain(build).coil.length_m)


def test_the_cable_at_its_joint_is_among_the_limits_and_one_that_nobody_names_keeps_a_tool_from_being_fine():
    """Its insulation by data/insulation.csv, its solder by data/metal_values.csv; both follow the joint's own place."""
    assert of(bc.work_out(cool_iron(), samples=0), "left on").state == "fine"
    unnamed = of(bc.work_out(cool_iron(cable=('cable = "silicone rubber"\n', "")), samples=0), "left on")
    assert unnamed.state == "not known" and "the cable's insulation (its limit)" in unnamed.why
    build = cool_iron(joint=('joint = "clamped"', 'joint = "soldered"'))
    out = bc.work_out(build, samples=0)
    harms = {h.place: h for h in out.control.harms}
    solder, cable = harms["the solder at the cable"], harms["the cable's insulation"]
    assert solder.limit_c < 183.0 and cable.limit_c == 180.0  # tin-lead melts at 183 degC
    left = out.control.left.heat
    assert solder.end_c == cable.end_c == left.joint_c
    assert cable.curve_c[-1] == pytest.approx(left.joint_c, abs=1.0) and cable.curve_c[0] < left.joint_c
    held = work_heat(build, out.wire, out.coil, out.control.hold_w)
    assert held.joint_c <= cable.used_c < out.heat.joint_c < left.joint_c  # on the way up the power is full
