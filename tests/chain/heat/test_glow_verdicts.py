"""The sheet's wire bare in its room, its glow, and finishes that do not last."""

from dataclasses import replace

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.basics.band import Band
from benchcalc.chain.heat.bare_wire import work_bare
from benchcalc.chain.heat.glow_verdicts import finish_checks, glow_checks
from benchcalc.show.wire.bare_wire_tables import (
    bare_currents,
    bare_ends,
    bare_heat,
    colour_spread,
    first_seen,
    glow_names,
)


@pytest.fixture(scope="module")
def bow():
    build = bc.load_chosen("foam_bow")
    return build, bc.work_out(build, samples=0)


def test_the_bare_wire_agrees_with_the_chain(bow):
    """At the temperature the network finds for the bow, the current of the bare wire is the bow's own."""
    build, out = bow
    found = work_bare(build, out.wire, out.heat.wire_c)
    assert found.load_a == pytest.approx(out.coil.load_a, rel=0.02)
    assert found.convected_w_m + found.radiated_w_m == pytest.approx(found.wire_w_m, rel=1e-9)
    assert found.cooled_m < build.coil.length_m / 4  # the clamps of a bow cool only its ends


def test_a_ribbon_sheds_from_its_whole_circumference(bow):
    """Energy balance by hand: the heat of a metre over its surface is the loss coefficient times the rise."""
    build, out = bow
    strip = replace(build, wire=(replace(build.wire[0], diameter_m=None, width_m=2e-3, thickness_m=0.1e-3),))
    wire = bc.work_wire(strip, out.supply)
    found = work_bare(strip, wire, 400.0)
    assert wire.edge_m == pytest.approx(4.2e-3)
    assert found.wire_w_m == pytest.approx(4.2e-3 * found.loss_w_m2k * (400.0 - build.room.ambient_c), rel=1e-9)


def test_arrays_equal_single_ones(bow):
    build, out = bow
    many = work_bare(build, out.wire, np.array([150.0, 400.0, 900.0]))
    for i, t in enumerate((150.0, 400.0, 900.0)):
        one = work_bare(build, out.wire, t)
        for field in ("load_a", "load_v", "wire_w_m", "reach_m", "cooled_m"):
            assert getattr(many, field)[i] == pytest.approx(getattr(one, field), rel=1e-12)
    assert np.all(np.diff(many.load_a) > 0) and np.all(np.diff(many.cooled_m) < 0)
    assert work_bare(build, None, 300.0) is None


@pytest.mark.parametrize(
    "wire_c, high_c, dark, day",
    [
        (306.0, 350.0, "fine", "fine"),
        (380.0, 430.0, "tight", "fine"),
        (450.0, 500.0, "over", "fine"),
        (600.0, 700.0, "over", "over"),
    ],
)
def test_glow_verdicts(bow, wire_c, high_c, dark, day):
    """400 degC in the dark and 525 in daylight: older handbook's table and Draper 1847."""
    build, out = bow
    heat = replace(out.heat, wire_c=wire_c)
    made = glow_checks(build, heat, {"heat.wire_c": Band(wire_c, wire_c - 50, high_c)})
    assert [v.state for v in made] == [dark, day] and [v.limit for v in made] == [400, 525]
    assert all(v.advice and v.source for v in made)
    assert glow_checks(replace(build, coil=replace(build.coil, mounting="open coil in air")), heat, {}) == []


def test_a_bright_tube_that_runs_hot_is_told_so():
    build = bc.load_chosen("foil_iron")
    out = bc.work_out(build, samples=0)
    i = next(i for i, p in enumerate(build.part) if p.role == "tube")
    parts = list(build.part)
    parts[i] = replace(parts[i], material="stainless-304", finish="bright")
    build = replace(build, part=tuple(parts))

    def at(temp_c):
        hottest = tuple(temp_c if id == parts[i].id else 20.0 for id in out.heat.part_ids)
        return finish_checks(build, replace(out.heat, part_hottest_c=hottest))

    assert at(250.0) == []
    (tint,), (scale,) = at(450.0), at(700.0)
    assert (tint.limit, tint.state, tint.advice) == (300.0, "over", True) and "tinted" in tint.why
    assert scale.limit == 600.0 and "after red heat" in scale.why


def test_tables(bow):
    build, out = bow
    told = bare_currents(build, out)
    assert len(told.rows) == 8 and told.rows[0][-1] == "nowhere" and told.rows[-1][-1] == "in sunlight"
    assert len(bare_currents(replace(build, room=replace(build.room, ambient_c=2000.0)), out).rows) == 1
    assert "cherry" in str(glow_names(build)) and len(colour_spread(build).rows) == 3
    assert [first_seen(t) for t in (300.0, 420.0, 480.0, 530.0, 900.0)] == [
        "nowhere",
        "in the dark",
        "in twilight",
        "in daylight",
        "in sunlight",
    ]


def test_derivations_end_with_the_links_numbers_and_say_what_is_missing(bow):
    build, out = bow
    found = work_bare(build, out.wire, 300.0)
    assert bare_heat(build, out).value == pytest.approx(found.wire_w_m, rel=1e-12)
    assert bare_ends(build, out).value == pytest.approx(found.cooled_m, rel=1e-12)
    nothing = replace(out, parts={**out.parts, "wire": replace(out.wire, edge_m=float("nan"))})
    assert "Not derived" in str(bare_heat(build, nothing)) and "Not derived" in str(bare_ends(build, nothing))
    assert "does not give" in str(bare_currents(build, nothing))


def test_a_ribbon_in_the_chain_agrees_with_the_bare_wire(bow):
    """The same strip by the network: its middle holds the temperature at which the bare wire takes the same current."""
    build, _ = bow
    strip = replace(
        build, wire=(replace(build.wire[0], diameter_m=None, measured_ohm=None, width_m=2e-3, thickness_m=0.1e-3),)
    )
    out = bc.work_out(strip, samples=0)
    assert work_bare(strip, out.wire, out.heat.wire_c).load_a == pytest.approx(out.coil.load_a, rel=0.02)
