"""Bands, draws, complaints and tables."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from benchcalc.basics import tables
from benchcalc.basics.band import band_of, draw
from benchcalc.basics.fault import Complaint, Fault, closest, fault


@given(st.floats(-1e3, 1e3), st.floats(1e-3, 1e3), st.floats(0, 1), st.integers(0, 99))
def test_draws_respect_their_ends(low, width, share, seed):
    rng = np.random.default_rng(seed)
    shared = rng.uniform(-1, 1, 200)
    drawn = draw(low, low + width, 200, rng, shared=(shared, share))
    slack = 1e-9 * (abs(low) + width)
    assert drawn.shape == (200,) and drawn.min() >= low - slack and drawn.max() <= low + width + slack


def test_uniform_and_log_draws_have_their_distributions():
    # Kolmogorov-Smirnov test of scipy.stats against its own uniform and log-uniform distributions
    rng = np.random.default_rng(3)
    assert stats.kstest(draw(2.0, 5.0, 4000, rng), stats.uniform(2, 3).cdf).pvalue > 0.01
    logs = draw(0.1, 10.0, 4000, rng, spread="log")
    assert stats.kstest(logs, stats.loguniform(0.1, 10).cdf).pvalue > 0.01
    assert stats.kstest(logs, stats.uniform(0.1, 9.9).cdf).pvalue < 1e-6


def test_shared_part_moves_readings_together():
    rng = np.random.default_rng(1)
    shared = rng.uniform(-1, 1, 2000)
    one, two = (draw(0, 1, 2000, rng, shared=(shared, s)) for s in (1.0, 1.0))
    assert np.array_equal(one, two)
    loose = draw(0, 1, 2000, rng, shared=(shared, 0.0))
    assert abs(np.corrcoef(one, loose)[0, 1]) < 0.1


def test_band_is_the_central_ninety_percent():
    # order statistics: of 0..100 the 5th and 95th percentile are 5 and 95
    band = band_of(50.0, np.arange(101.0))
    assert (band.nominal, band.low, band.high) == (50, 5, 95)


def test_samples_that_cannot_be_worked_out_never_narrow_a_band():
    rng = np.random.default_rng(1)
    for holes in (1, 3, 7):
        whole = rng.normal(size=200)
        full, cut = band_of(0.0, whole), band_of(0.0, np.r_[whole[: 200 - holes], np.full(holes, np.nan)])
        assert cut.low <= np.percentile(whole[: 200 - holes], 5) and cut.high >= np.percentile(whole[: 200 - holes], 95)
        assert cut.high - cut.low > 0.97 * (full.high - full.low)
    many = band_of(0.0, np.r_[whole, np.full(20, np.nan)])  # a tenth may be anything
    assert np.isnan(many.low) and np.isnan(many.high)
    never = band_of(1.0, np.r_[np.arange(100.0), np.full(10, np.inf)])  # one in eleven never ends
    assert np.isnan(never.high)
    empty = band_of(1.0, [np.nan])
    assert np.isnan(empty.low) and np.isnan(empty.high)


def test_complaints_are_told_together_and_in_full():
    one = fault("wire 1.gauge", "32", "has no system.", "AWG and SWG differ.", 'Write "32 AWG".', line=7)
    assert str(one) == "line 7, wire 1.gauge: '32' has no system. AWG and SWG differ. Write \"32 AWG\"."
    both = Fault(one.complaints[0], Complaint("coil.length", "x", "is no length."))
    assert str(both).startswith("2 things to mend:") and "'32'" in str(both) and "coil.length" in str(both)
    assert isinstance(both, ValueError)


def test_closest_names_are_listed_and_none_is_picked():
    assert closest("legnth", ["length", "layers", "pitch"]) == "Closest: length."
    assert closest("NICR-80-20", ["nicr-80-20", "copper"]).startswith("Closest: nicr-80-20")
    assert closest("zzzz", ["length", "pitch"]) == "Known: length, pitch."


def test_tables_are_read_with_numbers_and_holes():
    row = tables.one("limits", "key", "extra_low_ac_v")
    assert row["value"] == 50.0 and "IEC" in tables.source_words(row["source_id"])
    assert tables.one("surface_load", "mounting", "open coil in air")["low_w_m2"] == 35000.0
    assert any(r["low"] is None or r["note"] is None for r in tables.rows("alloy_values"))
    assert len(tables.frame("gauges")) == len(tables.rows("gauges"))
    with pytest.raises(Fault, match="Closest: .*alloys"):
        tables.rows("aloys")
    with pytest.raises(Fault, match="Closest: extra_low_ac_v"):
        tables.one("limits", "key", "extra_low_ac")
