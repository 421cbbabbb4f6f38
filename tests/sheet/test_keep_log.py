"""Logs in a sheet: one more, in place of another, out again; nothing of the maker's is lost on the way."""

import pytest

import benchcalc as bc
from benchcalc.basics.fault import Fault
from benchcalc.sheet.build import Log
from benchcalc.sheet.keep_log import drop_log, keep_log
from benchcalc.sheet.log_watts import day_watts
from benchcalc.sheet.store import versions_of

BAD, GOOD = (b"min degC\n0 21\n1 118\n2 205\n3 268\n4 %s\n7 376\n10 392\n" % x for x in (b"431", b"313"))
SHEET = """# my words
[sheet]
name = "mine"

# the first evening
[[log]]
file = "other.csv"
at = "100 mm"

# the second evening, in the shed
[[log]]
file = "by_hand.txt"  # typed in a hurry
at = "25 mm"
attached = "peened or embedded"
power = "20 W +- 1 W"

[room]
ambient = "19 degC"
"""


@pytest.fixture
def sheet(tmp_path):
    (tmp_path / "other.csv").write_bytes(GOOD)
    (tmp_path / "by_hand.txt").write_bytes(BAD)
    path = tmp_path / "mine.toml"
    path.write_text(SHEET, encoding="utf-8")
    return path


def test_a_corrected_log_takes_the_place_of_the_bad_one_and_nothing_is_lost(sheet):
    assert keep_log(sheet, GOOD, Log("by_hand.txt"), instead=1) == 1
    build = bc.load(sheet)
    assert [one.file for one in build.log] == ["other.csv", "by_hand_2.txt"]
    assert build.log[1].at_m == pytest.approx(0.025) and build.log[1].attached == "peened or embedded"
    assert build.log[1].power_w == 20.0 and build.room.ambient_c == 19.0
    text = sheet.read_text(encoding="utf-8")
    assert all(words in text for words in ("# my words", "# the first evening", "# the second evening, in the shed"))
    assert (sheet.parent / "by_hand.txt").read_bytes() == BAD and (sheet.parent / "by_hand_2.txt").read_bytes() == GOOD
    assert any(path.read_text(encoding="utf-8") == SHEET for path in versions_of(sheet))


def test_what_is_told_anew_stands_and_the_first_can_be_exchanged_too(sheet):
    keep_log(sheet, GOOD, Log("new.txt", 0.003, "pressed bead", time="min"), instead=0, power="18 W +- 2 W")
    one = bc.load(sheet).log[0]
    assert (one.file, one.attached, one.time, one.power_w) == ("new.txt", "pressed bead", "min", 18.0)
    assert one.at_m == pytest.approx(0.003) and bc.load(sheet).log[1].file == "by_hand.txt"
    known = bc.load(sheet).known["log.0.power_w"]
    assert (known.low, known.high, known.how) == (16.0, 20.0, "measured")


def test_a_log_is_taken_out_and_its_file_and_the_version_before_stay(sheet):
    drop_log(sheet, 1)
    assert [one.file for one in bc.load(sheet).log] == ["other.csv"] and bc.load(sheet).room.ambient_c == 19.0
    assert (sheet.parent / "by_hand.txt").read_bytes() == BAD
    assert any(path.read_text(encoding="utf-8") == SHEET for path in versions_of(sheet))
    drop_log(sheet, 0)
    assert bc.load(sheet).log == ()


@pytest.mark.parametrize("number", (2, 7))
def test_a_log_that_is_not_there_changes_nothing(sheet, number):
    for change in (lambda: drop_log(sheet, number), lambda: keep_log(sheet, GOOD, Log("x.txt"), instead=number)):
        with pytest.raises(Fault, match=f"log {number + 1}.*stands in no"):
            change()
    assert sheet.read_text(encoding="utf-8") == SHEET and not (sheet.parent / "x.txt").exists()


def test_a_table_written_in_one_line_is_left_to_the_maker(sheet):
    text = '[sheet]\nname = "mine"\n'
    sheet.write_text('log = [{file = "other.csv"}]\n' + text, encoding="utf-8")
    with pytest.raises(Fault, match="in the file of the sheet"):
        drop_log(sheet, 0)


def test_the_watts_of_the_day_from_its_volts_and_amps():
    """By hand: 12.1 V x 1.68 A = 20.33 W; a cheap meter is off by 0.421 V and 0.0636 A (data/instruments.csv), so
    20.33 x root(0.0348^2 + 0.0379^2) = 1.05 W either way (JCGM 100:2008, 5.1.2)."""
    build = bc.read('[sheet]\nname = "x"\n')
    watts = day_watts(build, "12.1 V", "1,68")
    assert watts.watts_w == pytest.approx(20.33, abs=0.01) and watts.high_w - watts.watts_w == pytest.approx(
        1.05, abs=0.01
    )
    assert watts.on_sheet == "20.33 W +- 1 W" or watts.on_sheet == "20.33 W +- 1.0 W" and "that day" in watts.said
    assert day_watts(build, " ", "") is None
    for volts, amps, said in (
        ("12", "", "amps in it"),
        ("", "2 A", "volts at the coil"),
        ("12 A", "2 A", "volts at the"),
    ):
        with pytest.raises(Fault, match=said):
            day_watts(build, volts, amps)
    with pytest.raises(Fault, match="within the error"):
        day_watts(build, "0.1 V", "2 A")
