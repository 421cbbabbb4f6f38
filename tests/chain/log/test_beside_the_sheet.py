"""A sheet from a stranger opens no file but a log beside it, or one of data/logs."""

import os
from dataclasses import replace

import pytest

import benchcalc as bc
from benchcalc.basics.fault import Fault
from benchcalc.chain.log.link import log_path, sheet_log
from benchcalc.sheet.build import Log
from benchcalc.sheet.keep_log import keep_log

SECRET = "time s,temp degC\n" + "".join(f"{20 * i},{20 + 9 * i}\n" for i in range(20))


@pytest.fixture
def beside(tmp_path):
    """A sheet in a folder of its own, with a log above it, one in a folder below, links to both, and a pipe."""
    home = tmp_path / "sheets"
    (home / "below").mkdir(parents=True)
    for place in (tmp_path / "secret.csv", home / "below" / "deep.csv", home / "own.csv"):
        place.write_text(SECRET, encoding="utf-8")
    (home / "link.csv").symlink_to(tmp_path / "secret.csv")
    (home / "folder").symlink_to(tmp_path)
    (home / "circle.csv").symlink_to(home / "circle.csv")
    (home / "zero.csv").symlink_to("/dev/zero")
    os.mkfifo(home / "pipe.csv")
    sheet = home / "mine.toml"
    sheet.write_text('[sheet]\nname = "mine"\n', encoding="utf-8")
    return bc.load(sheet)


def test_no_path_leads_out_of_the_folder(beside, tmp_path):
    for file, said in (
        (str(tmp_path / "secret.csv"), "without a folder"),
        ("../secret.csv", "without a folder"),
        ("..\\secret.csv", "without a folder"),
        ("below/deep.csv", "without a folder"),
        ("folder/secret.csv", "without a folder"),
        ("C:secret.csv", "without a folder"),
        ("/dev/zero", "without a folder"),
        ("..", "without a folder"),
        ("", "without a folder"),
        ("own.csv\0.txt", "without a folder"),
        ("link.csv", "link to another folder"),
        ("circle.csv", "is not there"),
        ("zero.csv", "is not there"),
        ("pipe.csv", "is not there"),
        ("below", "is not there"),
        ("x" * 5000, "is not there"),
    ):
        with pytest.raises(Fault, match=said) as told:
            sheet_log(replace(beside, log=(Log(file=file),)))
        assert "secret.csv" not in str(told.value) or "secret" in file  # nor is a name outside told as near
        assert len(str(told.value)) < 600


def test_a_name_is_opened_beside_the_sheet_and_among_the_demos(beside):
    assert log_path(beside, "own.csv").parent.name == "sheets"
    assert log_path(beside, "insert_press_step.csv").parent.name == "logs"


def test_a_kept_log_gets_a_name_that_can_be_opened_again(beside):
    for name in ('a"b.csv', "C:\\temp\\run:1.csv", "../up.csv", "...", "größe 1.txt"):
        before = len(bc.load(beside.file).log)
        number = keep_log(beside.file, SECRET.encode(), Log(name))
        assert number == before and sheet_log(bc.load(beside.file), number).time_s.size == 20
