"""Insulation and its ageing: ratings, unknown names, life by points and by rule."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import benchcalc as bc
from benchcalc.materials import ageing
from benchcalc.materials import insulation as ins
from benchcalc.show.page.worked import is_straight

SERIES = "IEC 60216-3 worked example"
HOUR_S = 3600.0


# ---- ratings ----


@pytest.mark.parametrize("key", ins.insulation_keys())
def test_every_rated_material_can_be_asked_for_by_all_its_names(key):
    row = next(r for r in bc.rows("solids") if r["key"] == key)
    for word in (key, row["name"], *(row["also"] or "").split(";")):
        if word:
            assert ins.rating(word.upper()).key == key
    r = ins.rating(key)
    assert r.never or r.limit_c <= r.boldest_c
    assert math.isnan(r.short_c) or r.short_c >= r.limit_c
    found, word = ins.strength(key)
    assert (found is None) == (word == "not known") and (found is None or 1e4 < found.low <= found.value <= found.high)


@pytest.mark.parametrize(
    "slip, near", [("glas sleeve", "glass-sleeve"), ("phlogopit", "phlogopite"), ("silikone rubber", "silicone-rubber")]
)
def test_an_unknown_name_lists_the_closest_and_picks_none(slip, near):
    with pytest.raises(bc.Fault, match=f"Closest: .*{near}") as told:
        ins.rating(slip)
    assert slip in str(told.value)


def test_a_metal_or_a_wax_is_no_insulation():
    for text in ("brass", "paraffin wax"):
        with pytest.raises(bc.Fault, match="insulation"):
            ins.rating(text)


def test_what_has_no_place_in_a_tool_says_so_and_cannot_be_built_in():
    for text in ("asbestos", "beryllia", "pvc"):
        assert ins.rating(text).never
    sheet = (
        '[sheet]\nname = "x"\n[[part]]\nid = "core"\nmaterial = "brass"\n[[layer]]\nbetween = ["core", "coil"]\n'
        'material = "grey heat board"\nthickness = "1 mm"\n'
    )
    with pytest.raises(bc.Fault, match="no place in a tool.*do not break"):
        bc.read(sheet)


@given(st.floats(-60, 1700), st.floats(0, 800))
def test_hotter_never_lets_a_material_back_in(temp_c, more_k):
    order = ("stays", "risky", "leaves")
    at = {r.key: w for r, w in ins.stays_or_leaves(temp_c)}
    then = {r.key: w for r, w in ins.stays_or_leaves(temp_c + more_k)}
    assert all((w == "never" == then[k]) or order.index(then[k]) >= order.index(w) for k, w in at.items())


def test_the_sleeve_that_is_sold_to_500_stays_to_180_only():
    words = {r.key: w for r, w in ins.stays_or_leaves(400.0)}
    assert words["glass-sleeve-bare"] == "stays" and words["glass-sleeve-silicone-varnish"] == "leaves"
    r = ins.rating("silicone-coated glass sleeving")
    assert r.binder_off_c < 400 and "smoke" in ins.notes(r.key)["gives_off"]


def test_hotter_than_any_figure_everything_leaves():
    assert {word for _, word in ins.stays_or_leaves(9000.0)} == {"leaves", "never"}


@pytest.mark.parametrize("bad", [-300.0, 2500.0])
def test_a_temperature_beyond_the_data_is_refused(bad):
    if bad < 0:
        with pytest.raises(bc.Fault, match="beyond the data, .* to .* degC"):
            ins.stays_or_leaves(bad)
    with pytest.raises(bc.Fault, match="beyond the data"):
        ageing.life_of(180.0, bad)


# ---- ageing ----


def test_straight_functions_are_straight():
    for fn in (
        ins.withstand,
        ageing.life_by_line,
        ageing.index_by_line,
        ageing.halving_by_line,
        ageing.life_by_halving,
        ageing.years_of_use,
    ):
        is_straight(fn)


def test_the_line_goes_through_its_points_and_agrees_with_an_independent_fit():
    from scipy.stats import linregress

    temps, lives = ageing.ageing_points(SERIES)
    line = ageing.fit_line(temps, lives)
    theirs = linregress(1 / (temps + 273.15), np.log(lives))
    assert (line.slope_k, line.intercept) == (
        pytest.approx(theirs.slope, rel=1e-9),
        pytest.approx(theirs.intercept, rel=1e-9),
    )
    assert np.allclose(ageing.life_by_line(temps, line.intercept, line.slope_k), lives, rtol=line.misfit + 1e-9)
    assert 0 < line.misfit < 0.1


def test_the_printed_line_of_the_example_fails_against_its_own_points():
    temps, lives = ageing.ageing_points(SERIES)
    line = ageing.fit_line(temps, lives)
    printed = ageing.life_by_line(temps, -15.2 + np.log(HOUR_S), 9500.0)
    assert np.all(lives / printed > 5)  # its own line predicts the test's end before the test began
    assert ageing.index_by_line(2e4 * HOUR_S, line.intercept, line.slope_k) - 105 > 60


@given(st.floats(100, 250), st.floats(5000, 25000))
def test_halving_and_line_agree_at_the_index_and_one_interval_below(index_c, slope_k):
    life_s = 2e4 * HOUR_S
    intercept = math.log(life_s) - slope_k / (index_c + 273.15)
    halving_k = ageing.halving_by_line(index_c, slope_k)
    assert ageing.index_by_line(life_s, intercept, slope_k) == pytest.approx(index_c, abs=1e-6)
    for temp_c in (index_c, index_c - halving_k):
        assert ageing.life_by_line(temp_c, intercept, slope_k) == pytest.approx(
            ageing.life_by_halving(temp_c, index_c, halving_k, life_s), rel=1e-6
        )


@given(st.floats(20, 300), st.floats(60, 260), st.floats(1, 8784))
def test_life_falls_with_heat_and_years_with_use(temp_c, index_c, hours):
    life = ageing.life_of(index_c, temp_c)
    low, high = ageing.life_ends(index_c, temp_c)
    assert low <= life * (1 + 1e-12) and life <= high * (1 + 1e-12)
    assert ageing.life_of(index_c, temp_c + 5) < life
    years = ageing.years_of_use(life, hours)
    assert years * hours * HOUR_S == pytest.approx(life, rel=1e-12)
    assert ageing.years_of_use(life, 2 * hours) == pytest.approx(years / 2, rel=1e-12)


def test_points_that_are_no_ageing_are_refused():
    for temps, lives in (
        ([200.0], [1e6]),
        ([200.0, 200.0], [1e6, 2e6]),
        ([200.0, 180.0], [1e6, -1.0]),
        ([200.0, 180.0], [2e6, 1e6]),
        ([900.0, 180.0], [1e5, 1e6]),
    ):
        with pytest.raises(bc.Fault):
            ageing.fit_line(temps, lives)
    with pytest.raises(bc.Fault, match="Closest: .*worked example"):
        ageing.ageing_points("IEC 60216-3 worked exampel")


def test_enamel_by_either_of_its_names_and_an_unlabelled_reel_by_none():
    assert ageing.enamel_index("MW35-C") == ageing.enamel_index("iec 60317-13") == 200
    with pytest.raises(bc.Fault, match="105 degC"):
        ageing.enamel_index("red wire")
