"""Which input an outcome's band comes from: closed forms, scipy's Sobol indices on the wire chain, frozen inputs."""

from dataclasses import replace
from types import MappingProxyType

import numpy as np
import pytest
import scipy
from scipy import stats

import benchcalc as bc
from benchcalc.basics.fault import Fault
from benchcalc.chain.drawn import Samples, shares_of
from benchcalc.chain.workings import electrical_bands, settled


def drawn(outcome, n=300, count=6, seed=2):
    x = np.random.default_rng(seed).uniform(-1, 1, (count, n))
    inputs = {f"room.x{i}": 5 + 2 * row for i, row in enumerate(x)}
    return Samples(MappingProxyType(inputs), MappingProxyType({}), frozenset(), MappingProxyType({"a.b": outcome(*x)}))


def test_shares_of_a_bent_outcome_by_its_closed_form():
    # y = 3 a - 2 b + 2 c^2 + d e, all uniform on -1..1: variances 9/3, 4/3, 4 (1/5 - 1/9), 1/9 (together: d e)
    found = shares_of(drawn(lambda a, b, c, d, e, f: 3 * a - 2 * b + 2 * c**2 + d * e + 0 * f, n=2000), "a.b")
    parts = np.array([3.0, 4 / 3, 4 * (1 / 5 - 1 / 9)])
    exact = parts / (parts.sum() + 1 / 9)
    assert [s.paths for s in found.inputs] == [("room.x0",), ("room.x1",), ("room.x2",)]
    assert [s.share for s in found.inputs] == pytest.approx(exact, abs=0.03)
    assert found.rest == pytest.approx(1 - exact.sum(), abs=0.03)
    assert [s.rises for s in found.inputs[:2]] == [True, False]
    assert all(abs(s.share - x) < 2.5 * s.error for s, x in zip(found.inputs, exact))


def test_chance_alone_is_no_share_and_what_stands_still_has_none():
    noise = np.random.default_rng(5).normal(size=300)
    found = shares_of(drawn(lambda *x: noise), "a.b")
    assert sum(s.share for s in found.inputs) < 0.06 and found.rest > 0.9
    assert shares_of(drawn(lambda *x: np.full(300, 7.0)), "a.b").inputs == ()
    assert shares_of(drawn(lambda *x: np.full(300, np.nan)), "a.b").inputs == ()


def test_readings_of_one_instrument_count_as_one_input():
    rng = np.random.default_rng(3)
    gain, own = rng.uniform(-1, 1, 600), rng.uniform(-1, 1, (3, 600))
    first, second = 0.8 * gain + 0.2 * own[0], 0.8 * gain + 0.2 * own[1]
    inputs = {"supply.a": first, "supply.b": second, "room.c": own[2]}
    y = first + second + own[2]
    groups = {"supply.a": "meter", "supply.b": "meter"}
    made = Samples(MappingProxyType(inputs), MappingProxyType(groups), frozenset(), MappingProxyType({"a.b": y}))
    found = shares_of(made, "a.b")
    assert found.inputs[0].paths == ("supply.a", "supply.b")
    assert found.inputs[0].share == pytest.approx((first + second).var() / y.var(), abs=0.03)


def test_shares_on_the_wire_chain_are_scipys_sobol_indices():
    """The coil's watts and ohms: first-order indices of six inputs by scipy (Saltelli's scheme), within 0.05."""
    workings = bc.work_out(bc.load_chosen("foil_iron"))
    build = settled(bc.load_chosen("foil_iron"))
    paths = [s.paths[0] for s in workings.shares("coil.coil_w").inputs if len(s.paths) == 1][:6]
    ends = [build.known[p] for p in paths]
    assert all(k.spread == "uniform" and not k.group for k in ends)

    def watts(x):
        many = build
        for p, row in zip(paths, np.atleast_2d(x)):
            many = bc.change(many, p, row)
        many = bc.change(many, "coil.length_m", float(workings.wire.length_m))
        return np.asarray(bc.links(many).coil.coil_w)[None]

    dists = [stats.uniform(k.low, k.high - k.low) for k in ends]
    way = "rng" if np.lib.NumpyVersion(scipy.__version__) >= "1.15.0" else "random_state"  # as it was called before
    theirs = stats.sobol_indices(func=watts, n=512, dists=dists, **{way: np.random.default_rng(1)})
    told = {s.paths[0]: s.share for s in workings.shares("coil.coil_w").inputs}
    ours = np.array([told[p] for p in paths])
    exact = np.ravel(theirs.first_order)
    assert ours / ours.sum() == pytest.approx(exact / exact.sum(), abs=0.05)
    assert ours.sum() > 0.9


def test_freezing_an_input_shrinks_the_band_by_its_share():
    """Mains known exactly: the variance of the watts falls to what the other shares leave, within 0.05."""
    build = bc.load_chosen("foil_iron")
    workings = bc.work_out(build)
    known = {p: k for p, k in build.known.items() if p != "supply.mains"}
    frozen = bc.work_out(replace(build, known=MappingProxyType(known)))
    share = next(s.share for s in workings.shares("coil.coil_w").inputs if s.paths == ("supply.mains",))
    left = frozen.drawn.outcomes["coil.coil_w"].var() / workings.drawn.outcomes["coil.coil_w"].var()
    assert left == pytest.approx(1 - share, abs=0.05)


def test_what_was_drawn_is_kept_beside_the_bands():
    build = bc.load_chosen("insert_press")
    workings = bc.work_out(build, samples=60)
    assert workings.drawn.count == 60
    for path, band in workings.bands.items():
        if path in workings.drawn.outcomes and np.isfinite(band.low):
            assert np.percentile(workings.drawn.outcomes[path], 5) == pytest.approx(band.low), path
    low, high = build.known["supply.mains"].low, build.known["supply.mains"].high
    assert (workings.drawn.inputs["supply.mains"] >= low).all() and (
        workings.drawn.inputs["supply.mains"] <= high
    ).all()
    assert set(electrical_bands(build, samples=20)) <= {*workings.bands}
    with pytest.raises(Fault, match="Closest: heat.tip_c"):
        workings.shares("heat.tip")
    bare = bc.work_out(build, samples=0)
    assert bare.drawn is None
    with pytest.raises(Fault, match="nothing was drawn"):
        bare.shares("heat.tip_c")


def test_a_page_tells_the_shares_in_words():
    from benchcalc.show.heat.share_table import input_shares

    build = bc.load_chosen("foil_iron")
    workings = bc.work_out(build, samples=100)
    told = input_shares(build, workings, "heat.tip_c", "heat.entry_c", "heat.work_c")
    assert len(told.head) == 4 and 3 <= len(told.rows) <= 6  # nothing is melted here: no column
    first = workings.shares("heat.tip_c").inputs[0]
    assert f"{first.share:.0%} +" in [cell for row in told.rows for cell in row]
    assert any("air speed" in row[0] and row[3].endswith("−") for row in told.rows)
    assert "Nothing was drawn" in str(input_shares(build, bc.work_out(build, samples=0), "heat.tip_c"))
    for path in workings.drawn.inputs:
        from benchcalc.sheet.field_words import field_words

        assert len(field_words(build, path)) > 3, path
