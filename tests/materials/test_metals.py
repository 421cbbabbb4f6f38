"""Metals at a temperature, and which metal a piece may be."""

import numpy as np
import pytest

from benchcalc.basics.fault import Fault
from benchcalc.basics.tables import rows
from benchcalc.materials.metals import family_of, mean_between, metal_at, metal_key, metal_name, metal_value, metals
from benchcalc.materials.which_metal import density_by_water, density_error, tell_metals_apart, weigh, which_metal

CAS = {
    "copper": "7440-50-8",
    "nickel": "7440-02-0",
    "silver": "7440-22-4",
    "lead": "7439-92-1",
    "zinc": "7440-66-6",
    "tin": "7440-31-5",
}


@pytest.mark.parametrize("key", sorted(CAS))
def test_melting_begins_where_open_element_data_say(key):
    chemicals = pytest.importorskip("chemicals")
    assert metal_value(key, "melting_low_c").value == pytest.approx(chemicals.Tm(CAS[key]) - 273.15, abs=0.1)


def test_tin_is_white_tin_though_the_library_also_knows_the_grey():
    """White tin 7287 to 7310 kg/m3 (Incropera et al., Table A.1); grey tin, 5769, is not met above 13 degC."""
    assert metal_value("tin", "density_kg_m3").low > 7000


def test_specific_heat_between_rows_follows_janaf():
    """Copper between its rows, 20 to 400 degC, against NIST-JANAF through chemicals."""
    chemicals = pytest.importorskip("chemicals")
    temps_k, molar = chemicals.heat_capacity.Cp_dict_JANAF_solid[CAS["copper"]]
    for t in (50.0, 200.0, 300.0, 400.0):
        theirs = np.interp(t + 273.15, temps_k, molar) / chemicals.MW(CAS["copper"]) * 1000
        assert metal_at("copper", "specific_heat_j_kgk", t).value == pytest.approx(theirs, rel=0.015)


# Ends over several handbooks near room temperature.
HANDBOOK_W_MK = {
    "copper": (386, 401),
    "brass": (106, 128),
    "mild-steel": (43, 65),
    "stainless-304": (14, 17),
    "aluminium-6061": (151, 180),
}


@pytest.mark.parametrize("key", sorted(HANDBOOK_W_MK))
def test_the_band_of_conductivity_lies_among_the_handbooks(key):
    """Ends over Holman Table A-2, Jaluria Table B.5, EN 12524 and makers' data as listed in data/sources.csv."""
    found, (low, high) = metal_at(key, "conductivity_w_mk", 20.0), HANDBOOK_W_MK[key]
    assert low <= found.value <= high and found.low <= found.value <= found.high
    assert found.low < high and found.high > low


def test_the_mean_of_a_curve_is_its_area_over_its_width():
    temps = np.linspace(100.0, 600.0, 20001)
    values = [metal_at("mild steel", "conductivity_w_mk", t).value for t in temps]
    assert mean_between("mild steel", "conductivity_w_mk", 600.0, 100.0) == pytest.approx(np.mean(values), rel=1e-4)
    assert mean_between("tin", "conductivity_w_mk", 50.0, 50.0) == metal_at("tin", "conductivity_w_mk", 50.0).value


def test_strength_is_never_carried_on_above_its_data():
    assert metal_at("brass", "yield_pa", 400.0) is not None and metal_at("brass", "yield_pa", 450.0) is None
    assert metal_at("nickel silver", "yield_pa", 300.0) is None  # one cold value only
    assert (
        metal_at("copper", "conductivity_w_mk", 900.0).held and not metal_at("copper", "conductivity_w_mk", 500.0).held
    )


@pytest.mark.parametrize(
    "call, words",
    [
        (lambda: metal_key("brazz"), "Closest: brass"),
        (lambda: metal_key("beech"), "not a metal"),
        (lambda: metal_at("aluminium", "yield_pa", 700.0), "begins to melt.*Fahrenheit"),
        (lambda: metal_at("copper", "conductivity_w_mk", -200.0), "from -100 degC"),
        (lambda: metal_at("copper", "conductivity_w_mk", 900.0, hold=False), "reach from 27 to 727"),
        (lambda: metal_at("copper", "hardness", 20.0), "no curve"),
        (lambda: metal_value("copper", "melting"), "melting_low_c"),
        (lambda: which_metal(), "needs a clue"),
        (lambda: which_metal(filed="pink"), "not one of red"),
        (lambda: which_metal(density_kg_m3=8.9), "g/cm3"),
        (lambda: weigh(0.018, 0.152), "swapped"),
        (lambda: weigh(0.1, 0.0), "above 0"),
        (lambda: weigh(0.5, 0.01), "all under water"),
    ],
)
def test_what_cannot_be_is_refused_in_words(call, words):
    with pytest.raises(Fault, match=words):
        call()


def test_names_and_families():
    assert metal_key("Galvanized pipe") == "galvanised-steel" and family_of("drill rod") == "steel"
    assert len(metals()) == len(rows("metals")) and metal_name("CuZn30") == "brass 70/30"


def test_a_weighed_piece():
    """A 100 cm3 piece of copper of 8.96 g/cm3 (periodictable) in water of 998.2 kg/m3 (CRC Handbook)."""
    periodictable = pytest.importorskip("periodictable")
    grams = periodictable.Cu.density * 100
    assert density_by_water(grams / 1e3, 0.0998, 998.0) == pytest.approx(1000 * periodictable.Cu.density, rel=1e-3)
    dense, off = weigh(0.1520, 0.0180)
    assert off == pytest.approx(1 / 18, rel=0.02) and dense == pytest.approx(8429, abs=1)  # the water reading decides
    assert density_error(0.152, 0.018, 1e-4) < off / 9


@pytest.mark.parametrize(
    "symbol, key, clues",
    [
        ("Cu", "copper", {"magnet": "no", "filed": "red"}),
        ("Al", "aluminium", {"magnet": "no", "filed": "white"}),
        ("Ni", "nickel", {"magnet": "yes", "filed": "white"}),
        ("Ag", "silver", {"magnet": "no", "filed": "white"}),
        ("Pb", "lead", {"magnet": "no", "filed": "white"}),
        ("Ti", "titanium", {"magnet": "no", "filed": "grey"}),
    ],
)
def test_pure_metals_are_found_by_their_density(symbol, key, clues):
    periodictable = pytest.importorskip("periodictable")
    found = which_metal(density_kg_m3=1000 * getattr(periodictable, symbol).density, error=0.03, **clues)
    assert found[0].key == key and found[0].likelihood > 0.5
    assert sum(g.likelihood for g in found) <= 1 + 1e-9


def test_each_metal_of_the_table_is_among_the_first_for_its_own_looks():
    for row in rows("metal_looks"):
        found = which_metal(
            magnet=row["magnet"],
            filed=row["filed"].split(";")[0],
            coat=row["coat"],
            density_kg_m3=metal_value(row["key"], "density_kg_m3").value,
            error=0.02,
        )
        assert row["key"] in [g.key for g in found[:5]], row["key"]


def test_clues_that_fit_nothing_give_nothing():
    assert which_metal(magnet="no", filed="red", density_kg_m3=2700.0) == ()


def test_the_test_that_tells_two_apart():
    steel, stainless = (g for g in which_metal(magnet="hardly", filed="grey") if g.key in ("mild-steel", "stainless"))
    assert tell_metals_apart(steel, stainless).strip()
    first = {g.key: g for g in which_metal(filed="white")}
    assert "magnet" in tell_metals_apart(first["nickel"], first["silver"])
    assert "denser" in tell_metals_apart(first["aluminium"], first["lead"])
    both = {g.key: g for g in which_metal(magnet="no", density_kg_m3=8800.0)}
    assert "file cut" in tell_metals_apart(both["copper"], both["brass"])
