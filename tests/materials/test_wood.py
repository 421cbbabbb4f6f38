"""Wood: constants as in its table, moisture beside something hot, refusals."""

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI

from benchcalc.basics.fault import Fault
from benchcalc.materials import wood


def test_the_formula_holds_the_constants_of_the_table():
    a, b, c = (wood.wood_row("any", f"conductivity_{k}_w_mk")["value"] for k in "abc")
    for g, m in ((0.4, 0.0), (0.68, 0.12), (0.8, 0.25)):
        assert wood.across_grain(g, m) == pytest.approx(g * (b + c * 100 * m) + a, rel=1e-12)


def test_density_by_scale_and_ruler():
    """A plain rod of water: 1 kg a litre."""
    litre = 0.1**3
    long = litre / (np.pi * 0.05**2)
    assert wood.density_by_scale(1.0, long, 0.1, 0.0) == pytest.approx(1000.0)
    assert wood.gravity_of(720.0, 0.12) == pytest.approx(0.643, abs=1e-3)


@pytest.mark.parametrize("hot_c, room_c", [(40.0, 20.0), (80.0, 20.0), (95.0, 25.0)])
def test_vapour_pressure_against_an_open_property_library(hot_c, room_c):
    ratio = PropsSI("P", "T", room_c + 273.15, "Q", 1, "Water") / PropsSI("P", "T", hot_c + 273.15, "Q", 1, "Water")
    assert wood.moisture_beside(hot_c, room_c) == pytest.approx(
        float(wood.balance_moisture(hot_c, 0.5 * ratio)), rel=0.04
    )


def test_hot_wood_is_dry_and_dry_wood_is_not_wetter_than_its_room():
    dry = [float(wood.moisture_beside(t, 20.0)) for t in (20, 40, 60, 90, 120, 160)]
    assert dry == sorted(dry, reverse=True) and dry[0] == pytest.approx(0.093, abs=0.003) and dry[-1] >= 0


def test_dense_wood_stores_more_and_passes_more():
    light, heavy = wood.wood_bulk("beech", 500.0, 0.08), wood.wood_bulk("beech", 800.0, 0.08)
    assert light.conductivity_w_mk < heavy.conductivity_w_mk and light.heat_j_m3k < heavy.heat_j_m3k
    own = wood.wood_bulk("beech")
    assert own.conductivity_w_mk == pytest.approx(wood.across_grain(0.64, 0.08))


@pytest.mark.parametrize("moisture", [-0.01, 0.3])
def test_moisture_outside_the_data_is_refused(moisture):
    with pytest.raises(Fault, match="0 to 25 %"):
        wood.wood_bulk("beech", 700.0, moisture)


def test_an_unknown_species_lists_the_closest():
    with pytest.raises(Fault, match="beech"):
        wood.shrinkage("beach")
