"""What a reading would firm: closed forms, scipy's Sobol indices, an input frozen and drawn again, truths."""

from dataclasses import replace
from types import MappingProxyType

import numpy as np
import pytest
from scipy import stats

import benchcalc as bc
from benchcalc.chain.workings import drawn_builds, electrical_bands
from benchcalc.sheet.build import Known
from benchcalc.sheet.change import sample
from benchcalc.studies.doubt.posterior import Target, firmed_by


def even(count, n, seed=2):
    """Places on -1 to 1, evenly spread."""
    return 2 * stats.qmc.Sobol(count, seed=seed).random(n).T - 1


def reading_of(x, error, low=-1.0, high=1.0):
    x = np.atleast_2d(x)
    return Target(x, np.full(x.shape, error), np.array([(low, high)] * len(x)), np.zeros(len(x), bool))


def test_the_sum_of_two_known_by_its_closed_form():
    """y = a + b, both even on -1..1, a read without error: p = (1 - a) / 2, so the doubt falls by 4 / 12; the band
    falls from the triangle's 90 %, 2 (2 - sqrt 0.4), to the uniform's 1.8, and lies on one side of 0 when |a| > 0.9."""
    a, b = even(2, 512)
    found = firmed_by(reading_of(a, 1e-6), (a + b)[None])
    assert found.told[0] == pytest.approx(1 / 3, abs=0.03)
    assert found.left[0] == pytest.approx(1.8 / (2 * (2 - np.sqrt(0.4))), abs=0.02)
    assert found.settled[0] == pytest.approx(0.1, abs=0.06)
    low, high = found.typical((a + b)[None])[:, 0]
    assert (low, high) == pytest.approx((-0.9, 0.9), abs=0.08)


def test_a_readings_own_error_stays_in_the_band():
    """y = a, read to +-e: the band that is left is 90 % of the error's own width, cut at the ends: e - e^2 / 3 on the
    average of truths; a reading of noise takes nothing away, one of a block takes what both bring."""
    a, b, c = even(3, 512)
    for error in (0.05, 0.2, 0.5):
        left = firmed_by(reading_of(a, error), a[None]).left[0]
        assert left == pytest.approx(error - error**2 / 3, rel=0.06), error
    nothing = firmed_by(reading_of(c, 1e-6), (a + b)[None])
    assert nothing.told[0] < 0.01 and nothing.left[0] > 0.97
    both = firmed_by(reading_of([a, b], 1e-6), (a + b + 0.1 * c)[None])
    assert both.told[0] > 0.9 and both.left[0] < 0.1


def test_sobol_indices_of_a_verdict_by_scipy():
    """Ishigami's function held against a limit: the share of the doubt that each input takes away is the first-order
    index of the yes or no (scipy.stats.sobol_indices); x3 acts through x1 alone and is no reading worth taking."""

    def ishigami(x):
        return np.sin(x[0]) + 7 * np.sin(x[1]) ** 2 + 0.1 * x[2] ** 4 * np.sin(x[0])

    limit = 5.0
    dists = [stats.uniform(-np.pi, 2 * np.pi)] * 3
    theirs = stats.sobol_indices(
        func=lambda x: (ishigami(x) < limit).astype(float)[None], n=8192, dists=dists, rng=np.random.default_rng(1)
    )
    x = np.pi * even(3, 1024)
    ours = [firmed_by(reading_of(one, 1e-6, -np.pi, np.pi), (ishigami(x) - limit)[None]).told[0] for one in x]
    assert ours == pytest.approx(np.ravel(theirs.first_order), abs=0.06)


def as_read(build, path, value, error):
    """The build after a reading."""
    known = build.known[path]
    after = Known(max(value - error, known.low), min(value + error, known.high), "measured")
    build = bc.change(build, path, (after.low + after.high) / 2)
    return replace(build, known=MappingProxyType({**build.known, path: after}))


@pytest.mark.parametrize(
    "path, share",
    [
        ("supply.mains", 0.6),
        pytest.param("supply.mains", 0.2, marks=pytest.mark.slow),
        pytest.param("wire.reel.resistivity_ohm_m", 0.3, marks=pytest.mark.slow),
    ],
)
def test_the_coils_watts_against_a_frozen_input_drawn_again(path, share):
    """Brute force: a truth, a reading with its error, the input's band replaced by it, everything drawn again."""
    build = bc.load_chosen("foil_iron")
    build = bc.change(build, "coil.length_m", float(bc.links(build).wire.length_m))
    many = sample(build, 1600)
    watts = np.asarray(bc.links(many).coil.coil_w)
    known = build.known[path]
    error = share * (known.high - known.low) / 2
    x = many.supply.mains if path == "supply.mains" else many.wire[0].resistivity_ohm_m
    limit = float(np.percentile(watts, 30))
    found = firmed_by(reading_of(x, error, known.low, known.high), (watts - limit)[None])
    today = np.diff(np.percentile(watts, (5, 95)))[0]
    widths, chances = [], []
    for place, off in stats.qmc.Sobol(2, seed=4).random(16):
        truth = known.low + place * (known.high - known.low)
        after = as_read(build, path, truth + error * (2 * off - 1), error)
        band = electrical_bands(after, samples=1600)["coil.coil_w"]
        widths.append(band.high - band.low)
        chances.append(np.mean(np.asarray(bc.links(drawn_builds(after, None, None, 1600)).coil.coil_w) < limit))
    assert found.left[0] == pytest.approx(np.mean(widths) / today, abs=0.03)
    mean = np.mean(chances)
    assert found.told[0] == pytest.approx(np.var(chances) / (mean * (1 - mean)), abs=0.04)


def test_bands_after_a_reading_hold_the_truth_nine_times_in_ten():
    """Truths drawn apart from the samples that the bands come from, tips that radiate (a bent outcome)."""
    a, b, c = even(3, 512, seed=7)

    def tip(a, b, c):
        return (1 + 0.5 * a + 0.2 * b) ** 0.25 + 0.02 * c

    y = tip(a, b, c)
    found = firmed_by(reading_of(a, 0.3), y[None])
    rng = np.random.default_rng(11)
    inside = []
    for r, truth in enumerate(found.truths):  # the same readings; what else is true is drawn anew
        others = tip(a[truth], *rng.uniform(-1, 1, (2, 50)))
        inside.append(np.mean((others >= found.bands[0, r, 0]) & (others <= found.bands[1, r, 0])))
    assert 0.85 <= np.mean(inside) <= 0.95
