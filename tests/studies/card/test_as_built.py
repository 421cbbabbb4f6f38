"""Readings typed back against the card: bands hold as many invented truths as they promise, faults are found."""

from functools import cache

import numpy as np
import pytest
from scipy.stats import binom, binomtest

import benchcalc as bc
from benchcalc.basics.fault import Fault
from benchcalc.sheet.build_as_built import CardReading
from benchcalc.sheet.keep_rows import keep_rows
from benchcalc.show.card.as_built_tables import leanings_words, scores_table
from benchcalc.studies.card.as_built import (
    LIKELY,
    as_card_readings,
    compare,
    first_to_look_at,
    kept_readings,
    score,
    slipped,
    typed_back,
)
from benchcalc.studies.card.card import COLD_OHM, build_card, other_coil, stopped
from benchcalc.studies.card.record import CardRow, CardSection
from benchcalc.studies.card.scores import leanings, scores
from benchcalc.studies.harm import harm_of

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


@pytest.fixture
def mine(monkeypatch, tmp_path):
    monkeypatch.setenv("BENCHCALC_MY", str(tmp_path))
    monkeypatch.delenv("BENCHCALC_SHEET", raising=False)
    return tmp_path


def test_the_prediction_is_kept_as_it_was(mine):
    build, card = worked()
    readings = {"gate.open_v": "10.6 V", "full.load_a": "2,0 A"}
    path = bc.copy_to_mine("foam_bow", "own")
    kept = keep_rows(path, "as_built.reading", as_card_readings(build, card, readings))
    assert kept_readings(kept) == readings and kept.as_built.turns == build.as_built.turns
    told, was = kept.as_built.reading[0], card.row("gate.open_v").expected
    assert (told.expected, told.low, told.high) == pytest.approx((was.nominal, was.low, was.high), rel=1e-6)
    longer = bc.change(kept, "coil.length_m", 0.6)  # another plan later: the kept amps stay with their own prediction
    later = build_card(longer, bc.work_out(longer, samples=20))
    assert later.row("full.load_a").expected.nominal < 0.9 * card.row("full.load_a").expected.nominal
    assert compare(longer, later, readings)[1].row.expected.nominal == kept.as_built.reading[1].expected
    anew = compare(longer, later, {"full.load_a": "2.1 A"})[0].row  # another reading is held against the card of today
    assert anew.expected == later.row("full.load_a").expected
    assert not keep_rows(path, "as_built.reading", ()).as_built.reading


def test_scores_of_all_tools_and_the_side_they_fall_to(mine):
    for i in range(3):
        made = [
            CardReading(f"time.tip_c_{j}", f"{200 - 10 * j - i} degC", "tip_c", 220.0, 205.0, 240.0) for j in (0, 1)
        ]
        made.append(CardReading("full.load_a", "2 A", "load_a", 2.05, 1.9, 2.2))
        keep_rows(bc.copy_to_mine("foam_bow", f"tool_{i}"), "as_built.reading", tuple(made))
    bc.copy_to_mine("foam_bow", "not_built")
    (mine / "spoilt.toml").write_text("[sheet", encoding="utf-8")
    tools = scores(sorted(mine.glob("*.toml")))
    assert [t.name for t in tools] == ["tool_0", "tool_1", "tool_2"]
    assert [(t.score.rows, t.score.inside) for t in tools] == [(3, 1)] * 3
    assert tools[0].score.chance == pytest.approx(float(binom.cdf(1, 3, 0.9)))
    hot = next(x for x in leanings(tools) if x.group == "temperatures")
    offs = [(200 - 10 * j - i - 220) / 15 for i in range(3) for j in (0, 1)]
    assert (hot.readings, hot.inside) == (6, 0) and hot.off == pytest.approx(np.mean(offs))
    said = leanings_words()
    assert "temperatures: 0 of 6 inside, 1.7 of a half band low" in said and "Your tools so far (3)" in said
    assert scores_table().rows[0][:3] == ("tool_0", "3", "1") and leanings_words([]) == ""


def test_loaded_volts_that_the_mains_cannot_explain_are_a_load_that_is_not_connected():
    build, card = worked()
    open_v, loaded = card.row("gate.open_v").expected, card.row("line.loaded_v").expected
    readings = {"gate.open_v": f"{open_v.nominal:.3f} V", "line.loaded_v": f"{open_v.nominal:.3f} V"}
    found = compare(build, card, readings)
    assert [c.state for c in found] == ["agrees", "contradicts"]
    assert "not connected" in found[1].means and "not the mains" in found[1].means
    high = {"gate.open_v": f"{1.2 * open_v.nominal:.3f} V", "line.loaded_v": f"{1.2 * loaded.nominal:.3f} V"}
    assert "mains are high" in compare(build, card, high)[1].means


def test_a_slip_of_a_thousand_is_asked_about():
    build, card = worked()
    open_v, amps = (card.row(id).expected.nominal for id in ("gate.open_v", "full.load_a"))
    found = compare(build, card, {"gate.open_v": f"{open_v:.3f} mV", "full.load_a": f"{1e3 * amps:.0f} A"})
    assert all("meant? It is off by a factor of about a thousand" in c.means for c in found)
    assert bc.say("open_v", open_v) in found[0].means and bc.say("load_a", amps) in found[1].means
    far = compare(build, card, {"gate.open_v": f"{open_v / 30:.3f} V"})[0]
    assert slipped(far) is None and far.means == LIKELY["gate.open_v"][1]


def test_a_coil_that_reads_low_stops_every_section_with_power_in_it():
    build = bc.load_chosen("insert_press")
    plan = bc.work_out(build, samples=0)
    read = 0.8 * plan.coil.meter_ohm
    touching = bc.change(build, "as_built.cold_ohm", read)
    out = bc.work_out(touching, samples=0)
    low = next(v for _, v in out.verdicts if v.what == COLD_OHM)
    assert low.state == "over" and "turns touch" in low.why and "no power" in low.why
    assert harm_of(low) == (2, "turns that short, or a joint that burns")
    stop = other_coil(touching, out)
    assert bc.say("cold_ohm", read) in stop and bc.say("cold_ohm", plan.coil.meter_ohm) in stop
    titles = ("8  After closing", "9  First heat", "10  Control", "11  Full power", "12  Temperatures", "13  Soak")
    told = stopped([CardSection(t, (CardRow("a", "a"),), "b") for t in titles], stop)
    assert [s.said.startswith("STOP") for s in told] == [False, True, True, True, True, False]
    assert other_coil(build, plan) == "" and all(s.said.endswith("b") for s in told)


def test_a_bare_number_is_read_as_on_the_sheet():
    build = bc.load_chosen("insert_press")
    ohms, temp, time = (CardRow("x", "x", key) for key in ("cold_ohm", "tip_c", "constant_s"))
    assert typed_back(build, ohms, "4,4")[0] == typed_back(build, ohms, "4.4 ohm")[0] == 4.4
    for row in (temp, time):  # a temperature has two units, a time three
        with pytest.raises(bc.Fault, match="unit"):
            typed_back(build, row, "60")
