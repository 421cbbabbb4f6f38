"""One way to write: nothing is lost by links, line ends, two at once, a full disk or a killed process."""

import os
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor

import pytest

import benchcalc as bc
from benchcalc.sheet.store import ChangedMeanwhile, alter, changed_since, look, put_file, versions_of

SHEET = '[sheet]\nname = "mine"\n'


def test_every_version_stays_and_one_can_go_back_and_forth(tmp_path):
    path = tmp_path / "iron.toml"
    path.write_text("by hand\n")
    for text in ("one\n", "two\n"):
        put_file(path, text)
    assert [v.read_text() for v in versions_of(path)] == ["by hand\n", "one\n", "two\n"]
    assert (tmp_path / "iron.toml.previous").read_text() == "one\n"
    put_file(path, look(versions_of(path)[0]).text)
    assert path.read_text() == "by hand\n" and len(versions_of(path)) == 4
    put_file(path, "three\n")  # what was left behind is still there, and so is where one came from
    assert [v.read_text() for v in versions_of(path)][2:] == ["two\n", "by hand\n", "three\n"]


def test_a_file_that_was_changed_meanwhile_is_not_written_over(tmp_path):
    path = tmp_path / "iron.toml"
    seen = put_file(path, SHEET)
    assert not changed_since(seen)
    path.write_text(SHEET + "# by hand\n")
    assert changed_since(seen)
    with pytest.raises(ChangedMeanwhile):
        put_file(path, "mine", seen=seen)
    assert path.read_text() == SHEET + "# by hand\n"


def test_two_who_write_at_once_lose_nothing(tmp_path):
    path = tmp_path / "iron.toml"
    put_file(path, "")
    with ThreadPoolExecutor(8) as pool:
        list(pool.map(lambda i: alter(path, lambda text: f"{text}{i}\n"), range(40)))
    assert sorted(int(line) for line in path.read_text().split()) == list(range(40))


def test_links_line_ends_and_marks_stay(tmp_path):
    (tmp_path / "far").mkdir()
    real, link = tmp_path / "far" / "real.toml", tmp_path / "link.toml"
    real.write_bytes(b"\xef\xbb\xbfa\r\nb\r\n")
    link.symlink_to(real)
    assert alter(link, lambda text: text + "c\n").text == "a\nb\nc\n"
    assert link.is_symlink() and real.read_bytes() == b"\xef\xbb\xbfa\r\nb\r\nc\r\n"


@pytest.mark.parametrize(
    "raw, says",
    [
        (SHEET.encode("utf-16"), "UTF-16"),
        (b"PK\x03\x04\xff", "word processor"),
        ('[sheet]\nname = "f\xfcr"\n'.encode("latin-1"), "older way"),
        ("[sheet]\nname = “mine”\n".encode(), "curly"),
    ],
)
def test_a_file_of_a_word_processor_is_told_as_such(tmp_path, raw, says):
    (tmp_path / "odd.toml").write_bytes(raw)
    with pytest.raises(bc.Fault, match=says):
        bc.load(tmp_path / "odd.toml")


KILLED = """
import os, sys
from benchcalc.sheet import store
calls = iter(range(99))
real = os.{name}
def deadly(*a, **k):
    if next(calls) == {at}:
        os._exit(9)
    return real(*a, **k)
os.{name} = deadly
store.put_file(sys.argv[1], "new\\n" * 2000)
"""


@pytest.mark.parametrize("name, at", [("fsync", 0), ("fsync", 2), ("replace", 0), ("replace", 2), ("fdopen", 1)])
def test_a_killed_save_leaves_the_old_or_the_new(tmp_path, name, at):
    path = tmp_path / "iron.toml"
    path.write_text("old\n")
    made = subprocess.run([sys.executable, "-c", KILLED.format(name=name, at=at), str(path)])
    assert made.returncode == 9 and path.read_text() in ("old\n", "new\n" * 2000)
    assert put_file(path, "after\n").text == "after\n"  # nobody is kept waiting


def test_a_read_only_file_system_is_told_in_a_sentence(tmp_path, monkeypatch):
    path = tmp_path / "iron.toml"
    put_file(path, SHEET)

    def refuse(*_, **__):
        raise OSError(30, "Read-only file system")

    monkeypatch.setattr(os, "replace", refuse)
    for act in (lambda: put_file(path, "x"), lambda: alter(path, str.upper)):
        with pytest.raises(bc.Fault, match="Read-only file system.*as it was"):
            act()
    assert look(path).text == SHEET


def test_what_a_killed_save_left_goes_with_a_later_save_but_not_with_one_at_the_same_time(tmp_path):
    path = tmp_path / "iron.toml"
    left, young = tmp_path / "ironabc.part", tmp_path / "ironxyz.part"
    for half in (left, young):
        half.write_text("half of it")
    os.utime(left, (1e9, 1e9))
    put_file(path, SHEET)
    assert not left.exists() and young.exists()
