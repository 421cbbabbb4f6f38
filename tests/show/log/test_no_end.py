"""A log that cannot tell its end shows no number for it: on the page, in its picture, in a verdict."""

import re
from dataclasses import replace

import numpy as np
import pytest

import benchcalc as bc
from benchcalc.chain.log.end import first_to_melt, is_no_end
from benchcalc.chain.log.link import only_told, sheet_log, work_log, work_warm_up
from benchcalc.chain.log.verdicts import log_checks
from benchcalc.sheet.build import Log
from benchcalc.show.log import fit_tables
from benchcalc.show.log import tables as log_tables
from benchcalc.show.log.capacity_tables import capacity_beside, slow_or_not
from benchcalc.show.log.dropped_log import dropped_log_html
from benchcalc.show.log.figure import LOG
from benchcalc.show.log.numbers import log_caption, log_numbers, view_of
from benchcalc.show.log.page import page_log, rises
from benchcalc.show.log.panel import log_says
from benchcalc.studies.lesson.on_heat_pages import PREDICTIONS
from benchcalc.thermal.log.reading import log_of_text

JOB = "insert, PLA"  # never above 240 degC
LINE = "min degC\n" + "".join(f"{m} {20 + 11 * m}\n" for m in range(12))  # a straight rise: it could go on for ever
SWINGS = "min degC\n" + "".join(
    f"{m} {x}\n" for m, x in enumerate((20, 90, 150, 190, 220, 240, 180, 140, 170, 210, 230, 245, 250))
)  # switched off for two minutes, and on again
STEEP = "min degC\n" + "".join(f"{m} {round(20 + 1300 * (1 - np.exp(-m / 12)))}\n" for m in range(12))  # ends at 1320


@pytest.fixture(scope="module")
def press():
    build = bc.load_chosen("insert_press")
    return replace(build, want=replace(build.want, job=JOB)), bc.work_out(build, samples=0)


def part_of(press, text):
    build, out = press
    log = log_of_text(text, "hand.txt")
    return only_told(work_log(out.coil, log, at=build.log[0]), first_to_melt(build)), log


def hottest_number(text):
    return max([0.0, *(float(x) for x in re.findall(r"(\d+(?:\.\d+)?) (?:degC|degF)", text))])


def test_the_part_that_melts_first_sets_how_far_an_end_is_told(press):
    melts_c, which = first_to_melt(
        press[0]
    )  # the brass tip: free-cutting brass melts at 885 to 900 degC, steel far above
    assert which == "tip" and 870 <= melts_c <= 905
    assert is_no_end(melts_c, melts_c, melts_c) and not is_no_end(melts_c - 1, melts_c, melts_c)
    assert first_to_melt(replace(press[0], part=()))[1] == "" and is_no_end(float("nan"), float("nan"))


@pytest.mark.parametrize("text", [LINE, STEEP, SWINGS])
def test_no_number_of_an_end_stands_anywhere_on_the_page(press, text):
    build, out = press
    part, log = part_of(press, text)
    top_c = max(float(log.temp_c.max()), first_to_melt(build)[0])
    assert part.no_end and np.isnan([part.end_c, part.metal_c, part.slow_s, part.resistance_k_per_w]).all()
    assert [text for word, text in log_says(part)][0] == "cannot tell yet" and len(log_says(part)) == 4
    told = [
        repr(log_tables.answers(part)),
        repr(log_tables.powers_for_less(part, 20.0)),
        repr(fit_tables.forms(part)),
        repr(fit_tables.hand_and_fit(part, 240.0, (44.0, 88.0))),
        repr(slow_or_not(build, out, part)),
        repr(capacity_beside(build, out, part, float("nan"))[0]),
        repr(log_tables.warnings(part)),
    ]
    assert "The log lasts" not in told[-1] and "slow time constants  " not in told[0].split("log lasts")[0]
    assert told[0].rstrip().endswith("cannot tell yet")
    least = log_says(part)[1][1]
    assert least.endswith(" degC and up") and float(least.split()[0]) >= log.temp_c.max() - 1
    assert "Not known" in told[1] and told[2].count("cannot tell yet") == len(part.forecast.fits)
    assert all(hottest_number(x) <= top_c for x in told), told
    view = view_of(build, out.coil, log, build.log[0])
    caption = log_caption(log_numbers(build, view))
    assert "cannot tell" in caption and hottest_number(caption) <= top_c
    assert LOG.caption(log_numbers(build, view, rest=False)) and "nan" not in caption


def test_a_verdict_of_a_log_without_an_end_ranks_no_number_but_one_that_was_read(press):
    build, _ = press
    part, log = part_of(press, STEEP)
    at = build.log[0]
    left = next(v for v in log_checks(build, part, at) if v.what.startswith("left on"))
    assert left.state == "over" and left.value == pytest.approx(log.temp_c.max()) and "hottest reading" in left.why
    part, log = part_of(press, LINE.rsplit("\n", 6)[0] + "\n")  # read up to 97 degC only
    left = next(v for v in log_checks(build, part, at) if v.what.startswith("left on"))
    assert left.state == "not known"
    swings = log_checks(build, part_of(press, SWINGS)[0], at)  # it was 250 degC, whatever its power did
    assert [v.state for v in swings] == ["not known", "not known", "over"] and swings[2].value == 250
    length = log_checks(build, part, at)[0]
    assert length.state == "not known" and "begins to melt" in length.why


def test_a_bad_high_reading_passes_no_limit(press, tmp_path):
    """Ten readings, one of them mistyped high: kept on a sheet, nothing of it stands above what is really read."""
    build, out = press
    (tmp_path / "hand.txt").write_text(
        "min degC\n0 21\n1 70\n2 108\n3 137\n4 158\n5 243\n7 196\n10 207\n15 213\n20 214\n", encoding="utf-8"
    )
    kept = replace(build, file=str(tmp_path / "mine.toml"), log=(Log("hand.txt", 0.001, "peened or embedded"),))
    part, at, troubles = work_warm_up(kept, out.coil)
    assert not troubles and part.end_c == pytest.approx(214, abs=4) and part.high_c < 250
    left = next(v for v in log_checks(kept, part, at) if v.what.startswith("left on"))
    assert left.state in ("fine", "tight") and left.value < 230
    page = page_log(kept)
    assert page.own and "243 degC: a spike" in repr(log_tables.warnings(page.part))


def test_the_preview_says_what_was_left_out_and_taken_as_switched_off_before_it_is_kept(press):
    build, _ = press
    rows = "min degC\n0 21\n1 70\n2 108\n3 137\n4 158\n5 243\n7 196\n10 207\n15 213\n20 214\n"
    for more, said in (("", ""), ("22 160\n24 118\n27 80\n", "taken as switched off there")):
        _, html = dropped_log_html(build, "by_hand.txt", (rows + more).encode())
        first = html.split("</table>")[0]
        assert "look at this before you keep it" in first and "243 degC: a spike" in first and "7" in first
        assert (said in first) if said else "taken as switched off" not in html
    _, html = dropped_log_html(build, "by_hand.txt", rows.replace("243", "172").encode())
    assert "no reading was left out" in html.split("</table>")[0]


def test_the_page_of_a_log_without_an_end_has_no_derivation_from_one(press, tmp_path):
    build, _ = press
    for text in (LINE, STEEP, SWINGS):
        (tmp_path / "hand.txt").write_text(text, encoding="utf-8")
        page = page_log(replace(build, file=str(tmp_path / "mine.toml"), log=(Log("hand.txt", 0.001),)))
        assert 60.0 <= page.step_s <= 360.0 and page.part.no_end
        why = page.by_the_end(lambda: 1 / 0).text
        assert ("rises again" if text == SWINGS else "melt") in why
        read = rises(page.log, 20.0, (page.step_s, 2 * page.step_s))
        by_two = page.by_two_readings(read, lambda: 1 / 0).text
        assert np.isnan(page.settled_k(read))
        assert by_two == why if text == SWINGS else "two readings tell no end" in by_two


def test_nothing_is_bet_on_an_end_that_is_not_told(press):
    part, _ = part_of(press, LINE)
    for asked in PREDICTIONS:
        if asked.key in ("nine-tenths", "bead-pressed-on"):
            with pytest.raises(bc.Fault, match="tells no end"):
                asked.revealed(press[0], part)


def test_a_log_that_can_tell_its_end_is_told_as_before(press):
    build, out = press
    part = work_log(out.coil, sheet_log(build, 1), at=build.log[1])
    assert not part.no_end and only_told(part, first_to_melt(build)).end_c == part.end_c
