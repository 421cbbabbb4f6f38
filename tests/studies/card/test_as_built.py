"""Readings typed back against the card: bands hold as many invented truths as they promise, faults are found."""

from functools import cache

import pandas as pd
import pytest
from scipy.stats import binomtest

import benchcalc as bc
from benchcalc.basics.fault import Fault
from benchcalc.studies.card.as_built import compare, first_to_look_at, record_text, recorded, score, typed_back
from benchcalc.studies.card.card import build_card

PATHS = {
    "gate.open_v": ("supply.open_v", "V"),
    "wire.ohm_per_m": ("wire.linear_ohm_per_m", "ohm/m"),
    "winding.cold_ohm": ("coil.meter_ohm", "ohm"),
    "full.load_v": ("coil.load_v", "V"),
    "full.load_a": ("coil.load_a", "A"),
}


@cache
def worked():
    build = bc.load_chosen("foam_bow")
    workings = bc.work_out(build, samples=100)
    return build, build_card(build, workings)


def test_bands_hold_the_share_of_invented_truths_that_they_promise():
    """Truths drawn with another seed than the bands; a binomial test against 90 % (scipy.stats)."""
    build, card = worked()
    truths = bc.work_out(build, samples=120, seed=7).drawn.outcomes
    found = [
        score(
            compare(
                build,
                card,
                {row: f"{float(truths[path][i])!r} {unit} +- 0.001 %" for row, (path, unit) in PATHS.items()},
            )
        )
        for i in range(0, 120, 3)
    ]
    inside, rows = (sum(getattr(s, name) for s in found) for name in ("inside", "rows"))
    assert rows == 40 * len(PATHS) and binomtest(inside, rows, 0.9).pvalue > 0.01, inside / rows


def test_a_joint_that_adds_ohms_is_found_where_it_first_shows():
    build, card = worked()
    high = card.row("winding.cold_ohm").expected.high
    readings = {"gate.open_v": "10.59 V", "winding.cold_ohm": f"{high + 2:.2f} ohm", "full.load_a": "1.0 A"}
    found = compare(build, card, readings)
    assert [c.state for c in found] == ["agrees", "contradicts", "contradicts"]
    assert first_to_look_at(found).row.id == "winding.cold_ohm" and "joint" in found[1].means
    assert score(found).inside == 1 and score(found).chance == pytest.approx(0.1**3 + 3 * 0.9 * 0.1**2)


def test_just_outside_counts_by_the_meter():
    build, card = worked()
    row = card.row("winding.cold_ohm")
    value, low, high = typed_back(build, row, f"{row.expected.high + 0.05:.3f} ohm")
    assert low < row.expected.high < value < high
    assert compare(build, card, {row.id: f"{value} ohm"})[0].state == "agrees within the meter"


def test_what_cannot_be_read_is_told_all_at_once():
    build, card = worked()
    with pytest.raises(Fault) as told:
        compare(build, card, {"gate.open_v": "12 A", "full.load_a": "much", "gate.plate": "none"})
    assert len(told.value.complaints) == 3


def test_the_prediction_is_kept_as_it_was(tmp_path):
    build, card = worked()
    readings = {"gate.open_v": "10.6 V", "full.load_a": "2,0 A"}
    path = tmp_path / "a_card.csv"
    path.write_text(record_text(card, readings), encoding="utf-8")
    assert recorded(path) == readings and recorded(tmp_path / "none.csv") == {}
    assert pd.read_csv(path).expected[0] == pytest.approx(card.row("gate.open_v").expected.nominal, rel=1e-12)
