"""The end of a soak is told with a band that holds it, though a winding has a fast and a slow part."""

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.chain.bench.hours import end_of_hours
from benchcalc.chain.bench.load_at import base_rise

HOURS = 3600.0 * np.array([0.5, 1.0, 2.0, 3.0, 4.0])


def transformer(rng, times):
    """An invented one: winding against core in minutes, core against room in hours; returns (end, rises read)."""
    end, share = rng.uniform(30, 80), rng.uniform(0.2, 0.6)
    fast, slow = rng.uniform(300, 1500), rng.uniform(3600, 10_800)
    rises = end * (1 - share * np.exp(-times / fast) - (1 - share) * np.exp(-times / slow))
    return end, rises + rng.normal(0, 0.3, len(times))


def test_the_band_holds_the_end_of_transformers_with_two_time_constants():
    rng, held = np.random.default_rng(3), 0
    for _ in range(20):
        end, rises = transformer(rng, HOURS)
        found = end_of_hours(tuple(HOURS), tuple(rises), 0.3)
        held += found.low_k <= end <= found.high_k
    assert held >= 18  # 90 %


@pytest.mark.slow
@pytest.mark.parametrize("times", [HOURS, 3600.0 * np.arange(0.5, 5.1, 0.5), 3600.0 * np.array([1.0, 2.0, 3.0])])
def test_the_band_holds_the_end_of_many(times):
    rng, held, n = np.random.default_rng(5), 0, 200
    for _ in range(n):
        end, rises = transformer(rng, times)
        found = end_of_hours(tuple(times), tuple(rises), 0.3)
        held += found is None or not found.enough or found.low_k <= end <= found.high_k
    assert held >= 0.9 * n


def test_one_time_constant_is_found_and_too_short_a_test_says_so():
    rises = 60 * (1 - np.exp(-HOURS / 5400))
    found = end_of_hours(tuple(HOURS), tuple(rises), 0.1)
    assert found.rise_k == pytest.approx(60, abs=1.0) and found.enough and found.low_k < 60 < found.high_k
    short = end_of_hours(tuple(HOURS / 10), tuple(60 * (1 - np.exp(-HOURS / 54000))), 0.1)
    assert not short.enough and short.high_k > 60
    assert end_of_hours((3600.0, 7200.0), (30.0, 40.0)) is None


def test_a_test_that_saw_too_little_is_not_called_fine():
    ohms = {h: 58 + 12.7 * (1 - np.exp(-h / 1.4)) for h in (0.3, 0.5, 0.7)}
    sheet = (
        '[sheet]\nname = "x"\n[supply]\nkind = "transformer"\nopen = "12 V"\nsource = "0.5 ohm"\n[soak]\n'
        'cold_ohm = 58.0\ncold_room = "20 degC"\nend_room = "20 degC"\n'
        + "".join(f"[[soak.hour]]\nhours = {h}\nohm = {ohm:.2f}\n" for h, ohm in ohms.items())
    )
    workings = bc.work_out(bc.read(sheet), samples=20)
    told = next(v for v in workings.of("bench") if v.what == "supply's winding, where the hours lead")
    assert told.state == "not known" and "too short" in told.why
    after = next(v for v in workings.of("bench") if v.what == "supply's winding after hours of load")
    assert after.state == "not known" and "go on" in after.why
    assert np.isnan(base_rise(bc.read(sheet))[0])
