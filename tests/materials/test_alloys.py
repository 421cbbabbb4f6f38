"""Alloys: spellings, hot factor with its band, and which alloy a measured wire may be."""

import numpy as np
import pytest
from scipy.interpolate import interp1d

from benchcalc.basics.fault import Fault
from benchcalc.basics.tables import rows
from benchcalc.heater.wire import linear_resistance, measured_linear, round_area
from benchcalc.materials.alloys import alloy_key, alloy_name, alloy_value, factor_curve, hot_factor, rank_alloys
from benchcalc.materials.gauges import diameter_of

KEYS = [r["key"] for r in rows("alloys")]


@pytest.mark.parametrize(
    "text, key",
    [
        ("Ni-Cr 80/20", "nicr-80-20"),
        ("NICR8020", "nicr-80-20"),
        ("ni80cr20", "nicr-80-20"),
        ("nichrome 60", "nicr-60-15"),
        ("Fe-Cr-Al", "fecral"),
        ("constantan", "cuni-44"),
        ("fecral-22-5.8", "fecral-22-5.8"),
    ],
)
def test_spellings(text, key):
    assert alloy_key(text) == key


@pytest.mark.parametrize("text", ["nichrome", "nicr", "", "unobtainium", "fecral-22-58"])
def test_unknown_or_unclear_alloys_list_the_closest_and_pick_none(text):
    with pytest.raises(Fault) as raised:
        alloy_key(text, where="wire 1.alloy")
    told = str(raised.value)
    assert told.startswith("wire 1.alloy:") and ("Closest: " in told or "Known: " in told)
    if text in ("nichrome", "nicr"):
        assert "nicr-80-20" in told and "nicr-60-15" in told


@pytest.mark.parametrize("key", KEYS)
def test_hot_factor_interpolates_and_its_band_has_ends(key):
    # scipy.interpolate.interp1d on the same rows
    at, value, low, high = factor_curve(key)
    temps_c = np.linspace(at[0], at[-1], 37)
    assert hot_factor(key, temps_c) == pytest.approx(interp1d(at, value)(temps_c), rel=1e-12)
    assert hot_factor(key, temps_c, 1.0) == pytest.approx(interp1d(at, high)(temps_c), rel=1e-12)
    assert hot_factor(key, temps_c, -1.0) == pytest.approx(interp1d(at, low)(temps_c), rel=1e-12)
    middle = hot_factor(key, temps_c, 0.5)
    assert np.all(middle >= hot_factor(key, temps_c)) and np.all(middle <= hot_factor(key, temps_c, 1.0))
    assert hot_factor(key, 20.0, -1.0) == hot_factor(key, 20.0, 1.0) == 1.0
    assert hot_factor(key, 1e4) == value[-1]


def test_arrays_of_temperature_and_place_go_side_by_side():
    both = hot_factor("nicr-80-20", np.array([300.0, 800.0]), np.array([-1.0, 1.0]))
    assert both == pytest.approx([hot_factor("nicr-80-20", 300.0, -1.0), hot_factor("nicr-80-20", 800.0, 1.0)])


def test_missing_values_and_curves():
    assert alloy_value("nicr-80-20", "colour") is None and alloy_value("tin", "resistivity_ohm_m") is None
    assert alloy_name("copper") == "copper, annealed"
    with pytest.raises(Fault, match="no hot factor"):
        factor_curve("tin")


@pytest.mark.parametrize("key", [k for k in KEYS if k != "fecral"])
def test_a_wire_of_table_values_ranks_its_own_alloy_at_the_top(key):
    table = alloy_value(key, "resistivity_ohm_m").value
    ranked = rank_alloys(linear_resistance(table, round_area(0.3e-3)), 0.3e-3)
    assert [r[2] for r in ranked] == sorted((r[2] for r in ranked), reverse=True)
    own = next(r for r in ranked if r[0] == key)
    assert own[2] > 0.999 and abs(own[1]) < 1e-9  # grades with one and the same resistivity share the place
    assert "fecral" not in [r[0] for r in ranked]


def test_a_common_reading_of_unnamed_fecral_lies_in_our_range():
    # Common practice, no source: 56 cm of 32 AWG Fe-Cr-Al reads about 26 ohm, leads (0.2 to 0.5 ohm) included.
    table = alloy_value("fecral", "resistivity_ohm_m")
    low, high = (linear_resistance(r, round_area(diameter_of("32 AWG"))) * 0.56 for r in (table.low, table.high))
    assert low + 0.2 <= 26 <= high + 0.2
    measured = measured_linear(26.0, 0.3, 0.56)
    ranked = rank_alloys(measured, diameter_of("32 AWG"))
    assert ranked[0][0] == "fecral-22-5.8"  # the grade with most aluminium comes first
    last = {key: likelihood for key, _, likelihood in ranked}
    assert last["nicr-80-20"] < 1e-3 and last["copper"] < 1e-3
