"""A room on one server: pages and sheets for each reader, one folder for the class, and a bad word is refused."""

import pytest

from benchcalc.basics.fault import Fault
from benchcalc.show.lesson.room import PAGES, hand_out, open_room, room_settings
from benchcalc.studies.lesson.class_data import readings_file
from benchcalc.studies.lesson.scores import score_file


def test_pages_are_handed_out_once_and_what_was_changed_stays(tmp_path):
    home = hand_out("ada", tmp_path)
    pages = {p.relative_to(PAGES) for p in PAGES.rglob("*.ipynb")}
    assert {p.relative_to(home / "notebooks") for p in (home / "notebooks").rglob("*.ipynb")} == pages
    own = home / "notebooks" / "02_wire_sizing.ipynb"
    own.write_text("mine")
    assert hand_out("ada", tmp_path) == home and own.read_text() == "mine" and (home / "my").is_dir()


def test_a_class_on_one_server_shares_a_folder(tmp_path, monkeypatch):
    monkeypatch.setenv("BENCHCALC_MY", str(tmp_path / "ada"))
    assert score_file("ada").is_relative_to(tmp_path / "ada" / "class")
    monkeypatch.setenv("BENCHCALC_CLASS", str(tmp_path / "class"))
    assert score_file("ada").is_relative_to(tmp_path / "class") and readings_file("1").is_relative_to(
        tmp_path / "class"
    )


def test_a_short_word_is_refused(tmp_path, capsys):
    with pytest.raises(Fault, match="letters"):
        room_settings("short", tmp_path, 8000)
    assert open_room(["--word", "short", "--folder", str(tmp_path / "x")]) == 1
    assert "letters" in capsys.readouterr().err and not (tmp_path / "x").exists()


def test_missing_packages_are_named(tmp_path, monkeypatch):
    monkeypatch.setattr("benchcalc.show.lesson.room.find_spec", lambda name: None)
    with pytest.raises(Fault, match="room"):
        room_settings("long enough", tmp_path, 8000)
