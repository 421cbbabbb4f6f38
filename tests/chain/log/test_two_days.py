"""A tip too cool by the sheet and too hot by a log: which holds on which day, and what to do."""

from dataclasses import replace

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.basics.tables import rows
from benchcalc.chain.log.link import work_warm_up
from benchcalc.chain.log.two_days import grown, two_days, two_days_words
from benchcalc.chain.log.verdicts import log_checks, opposite_words
from benchcalc.sheet.build_learned import Learned
from benchcalc.sheet.learned import with_learned
from benchcalc.thermal.warmup.forecast import HOTTEST_C


@pytest.fixture(scope="module")
def iron():
    """A demo with a log at its tip; it is made to want more than it reaches, and its job to stand less than the log."""
    build = bc.load_chosen("insert_press")
    out = bc.work_out(build, samples=0)
    part, at, _ = work_warm_up(build, out.coil)
    return replace(build, want=replace(build.want, tip_c=out.heat.tip_c + 20.0)), out.heat, part, at


def learned_mains(build, log):
    return with_learned(
        replace(build, learned=(Learned("mains that day", log, "1 (0.9 to 1.1)", 1.09, 1.02, 1.15, that_day=True),))
    )


def test_the_hotter_day_grows_with_the_cooler_one():
    # by hand, with the room at 20: rises 244 and 283 K; 260 K on the first are 283 x 260 / 244 = 301.6 K on the other
    assert grown(20.0, 264.0, 303.0, 280.0) == pytest.approx(321.6, abs=0.05)
    assert grown(20.0, 264.0, 264.0, 280.0) == pytest.approx(280.0)


def test_one_sentence_says_on_which_day_each_line_holds(iron):
    build, heat, part, at = iron
    never_c = part.metal_c - 5.0
    told = two_days_words(build, two_days(build, heat, part, at, never_c))
    assert "whose mains nobody told" in told and "on one day" in told
    known = learned_mains(build, at.file)
    found = two_days(known, heat, part, at, never_c)
    assert (found.mains.nominal, found.mains.low, found.mains.high) == (1.09, 1.02, 1.15)
    words = two_days_words(known, found)
    assert "109% (102% to 115%)" in words and "neither more nor less wire" in words
    assert two_days(learned_mains(build, "another.csv"), heat, part, at, never_c).mains is None
    roomy = two_days(known, heat, part, at, part.metal_c - 0.1)
    assert "both hold" in two_days_words(known, replace(roomy, then_c=roomy.never_c))


def test_an_end_that_cannot_be_told_judges_nothing_but_what_it_passes_at_its_least(iron):
    build, heat, part, at = iron
    job = next(r for r in rows("work") if r["never_c"] > part.metal_c)
    wants = replace(build, want=replace(build.want, job=job["job"]))
    for least_c, states in (
        (job["low_c"] - 1, ["not known"] * 2),
        (job["low_c"] + 1, ["fine", "not known"]),
        (job["never_c"] + 1, ["fine", "over"]),
    ):
        wild = replace(part, end_c=HOTTEST_C, high_c=HOTTEST_C, metal_c=HOTTEST_C, metal_low_c=least_c)
        told = log_checks(wants, wild, at, heat=heat)[1:]
        assert [v.state for v in told] == states and all(np.isnan(v.value) or v.value == least_c for v in told)
        assert two_days(build, heat, wild, at, 0.0) is None


def test_nothing_is_said_where_nothing_is_opposite(iron):
    build, heat, part, at = iron
    assert two_days(build, heat, part, at, part.metal_c + 1.0) is None  # within the job's limit
    cool = replace(build, want=replace(build.want, tip_c=heat.tip_c - 1.0))
    assert two_days(cool, heat, part, at, part.metal_c - 5.0) is None  # hot enough
    assert two_days(build, None, part, at, 0.0) is None and two_days_words(build, None) == ""


def test_the_verdict_of_a_log_names_its_day_and_the_card_says_what_to_do(iron):
    build, heat, part, at = iron
    job = replace(learned_mains(build, at.file), want=replace(build.want, job="solder, Sn60Pb40"))
    left = [v for v in log_checks(job, part, at, heat=heat) if v.what.startswith("left on")]
    assert left and all(v.named == "left on, by the log (mains at 109% that day)" for v in left)
    out = bc.work_out(build, samples=0)
    assert opposite_words(build, out) == ""  # it names no job
