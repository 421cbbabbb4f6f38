"""The wire's own metal as a way for heat: its alloy's row of the tables, or that of a wire that nobody can name."""

from dataclasses import replace

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.basics.tables import rows
from benchcalc.chain.heat.wire_metal import wire_conducts, wire_shine
from benchcalc.chain.workings import chain
from benchcalc.materials.alloys import alloy_value, in_band, wire_value
from benchcalc.sheet.defaults import fill

QUANTITIES = ("conductivity_w_mk", "emissivity", "density_kg_m3", "specific_heat_j_kgk")


def unnamed(build):
    """The build with ohms for each metre of its wire and no alloy, its tails of that wire."""
    tails = replace(build.coil.tails, material=None, section_m2=None, resistance_ohm=None, length_m=0.12)
    build = replace(build, coil=replace(build.coil, tails=tails))
    ohm = {"measured_ohm": 10.0, "measured_length_m": 1.0, "alloy": None, "resistivity_ohm_m": None}
    known = {p: k for p, k in build.known.items() if "factor_place" not in p and "resistivity" not in p}
    return fill(replace(build, wire=tuple(replace(w, **ohm) for w in build.wire), known=known))


@pytest.mark.parametrize("quantity", QUANTITIES)
def test_an_unnamed_wire_spans_all_resistance_alloys(quantity):
    """Source: the named rows of data/alloy_values.csv, copper left out."""
    named = [alloy_value(r["key"], quantity) for r in rows("alloys") if r["key"] != "copper"]
    table = wire_value("", quantity)
    assert (table.low, table.high) == (min(n.low for n in named), max(n.high for n in named))
    assert min(n.value for n in named) <= table.value <= max(n.value for n in named)


def test_a_band_is_kept_on_both_sides():
    """Copper-nickel shines 0.2 to 0.7 about 0.3: data/alloy_values.csv."""
    shine = alloy_value("cuni-44", "emissivity")
    assert in_band(shine, np.array([-1.0, 0.0, 1.0])) == pytest.approx([0.2, 0.3, 0.7])
    assert in_band(shine, 0.5) == pytest.approx(0.5)


def test_the_tails_of_a_wire_that_nobody_can_name_conduct_what_the_table_says():
    build = unnamed(bc.load_chosen("insert_press"))
    _, wire, coil, heat, _ = chain(build)
    table, section = wire_value("", "conductivity_w_mk"), 2 * build.coil.tails.strands * wire.area_m2
    assert heat.model.tool.leads.conduction_w_m_k == pytest.approx(table.value * section)
    moved = [chain(bc.change(build, "heat.wire_metal_place", place)).heat for place in (-1.0, 1.0)]
    assert [h.model.tool.leads.conduction_w_m_k / section for h in moved] == pytest.approx([table.low, table.high])
    assert moved[0].carried_w < heat.carried_w < moved[1].carried_w


def test_its_doubt_is_drawn_and_holds_every_alloy():
    build = unnamed(bc.load_chosen("insert_press"))
    wire = chain(build).wire
    drawn = bc.sample(build, 200)
    for quantity, of in (("conductivity_w_mk", wire_conducts), ("emissivity", wire_shine)):
        many, table = of(drawn, wire), wire_value("", quantity)
        assert table.low <= many.min() < table.low + 0.1 * (table.high - table.low)
        assert table.high - 0.1 * (table.high - table.low) < many.max() <= table.high
        assert np.median(many) == pytest.approx(table.value, rel=0.02)


def test_a_named_alloy_has_its_own_row_with_its_doubt():
    build = bc.load_chosen("insert_press")
    wire = chain(build).wire
    own = alloy_value(wire.alloy, "conductivity_w_mk")
    ends = [wire_conducts(bc.change(build, "heat.wire_metal_place", place), wire) for place in (-1.0, 0.0, 1.0)]
    assert ends == [own.low, own.value, own.high]
