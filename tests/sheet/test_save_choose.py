"""Keeping and choosing: comments stay, the old version stays, nothing is lost or overwritten."""

import os

import pytest

import benchcalc as bc
from benchcalc.sheet.store import put_file

TEXT = """# my own sheet
[sheet]
name = "Mine"      # a name

[supply]
kind = "transformer"   # from the scrap box
[[supply.reading]]
volts = 18.2
amps = 0
[[supply.reading]]
volts = 16.1     # with a bulb
amps = 1.61

[[wire]]
id = "reel no 3"
alloy = "nicr-80-20"
diameter = "0.28 mm"   # ten turns against a ruler

# the coil
[coil]
wire = "reel no 3"
length = "733 mm"  # cut long
wire_temperature = "600 degC"
"""


@pytest.fixture
def mine(tmp_path, monkeypatch):
    monkeypatch.setenv("BENCHCALC_MY", str(tmp_path / "my"))
    monkeypatch.delenv("BENCHCALC_SHEET", raising=False)
    (tmp_path / "my").mkdir()
    path = tmp_path / "my" / "mine.toml"
    path.write_text(TEXT, encoding="utf-8")
    return path


def differing(before, after):
    """Line numbers that differ, for texts of as many lines."""
    one, two = before.splitlines(), after.splitlines()
    assert len(one) == len(two)
    return [n for n, (a, b) in enumerate(zip(one, two), 1) if a != b]


def test_keep_alters_its_line_only(mine):
    build = bc.keep(mine, {"coil.length_m": 0.8})
    after = mine.read_text(encoding="utf-8")
    assert build.coil.length_m == pytest.approx(0.8) and bc.load(mine) == build
    assert differing(TEXT, after) == [22] and 'length = "800 mm"  # cut long' in after


@pytest.mark.parametrize(
    "path, value, line, text",
    [
        ("wire.reel no 3.alloy", "fecral", 16, 'alloy = "fecral"'),
        ("wire.reel no 3.diameter_m", 0.3e-3, 17, 'diameter = "0.3 mm"   # ten turns'),
        ("supply.reading.1.volts_v", 16.4, 11, "volts = 16.4     # with a bulb"),
        ("coil.wire_temp_c", 650.0, 23, 'wire_temperature = "650 degC"'),
    ],
)
def test_keep_in_lists_and_units(mine, path, value, line, text):
    build = bc.keep(mine, {path: value})
    after = mine.read_text(encoding="utf-8")
    assert bc.get(build, path) == (value if isinstance(value, str) else pytest.approx(value))
    assert differing(TEXT, after) == [line] and text in after.splitlines()[line - 1]


def test_keep_in_the_units_of_the_sheet(mine):
    inch = bc.change(bc.change(bc.load(mine), "units", "inch"), "degrees", "F")
    assert bc.keep(mine, {"coil.length_m": 0.508, "coil.wire_temp_c": 600.0}, inch).coil.length_m == pytest.approx(
        0.508
    )
    assert 'length = "20 in"' in mine.read_text() and '"1112 degF"' in mine.read_text()


def test_keep_another_size_or_a_new_section(mine):
    build = bc.keep(
        mine, {"wire.reel no 3.gauge": "28 AWG", "as_built.cold_ohm": 12.9, "coil.tails.strands": 2, "coil.layers": 2}
    )
    text = mine.read_text(encoding="utf-8")
    assert (
        "diameter" not in text
        and 'gauge = "28 AWG"' in text
        and build.wire[0].diameter_m == pytest.approx(0.3211e-3, rel=1e-3)
    )
    assert build.as_built.cold_ohm == 12.9 and build.coil.tails.strands == 2 and build.coil.layers == 2
    for comment in ("# my own sheet", "# a name", "# from the scrap box", "# with a bulb", "# the coil", "# cut long"):
        assert comment in text
    assert bc.keep(mine, {"as_built.cold_ohm": None}).as_built.cold_ohm is None


def test_the_previous_version_stays(mine):
    bc.keep(mine, {"coil.length_m": 0.8})
    assert (mine.parent / "mine.toml.previous").read_text(encoding="utf-8") == TEXT
    assert sorted(p.name for p in mine.parent.iterdir()) == [".earlier", "mine.toml", "mine.toml.previous"]


@pytest.mark.parametrize(
    "changes, says",
    [
        ({"coil.length_m": -1.0}, "outside"),
        ({"coil.wire": "no such reel"}, "not the id of a wire"),
        ({"wire.reel no 3.gauge": "99 AWG"}, "finer"),
        ({"coil.turns": 3.0}, "not a field that a sheet can hold"),
        ({"coil.length_m": 0.8, "supply.reading.1.volts_v": 20.0}, "cannot rise"),
        ({"coil.length_m": float("nan")}, "could not be read"),
    ],
)
def test_a_bad_change_is_refused_and_the_file_untouched(mine, changes, says):
    with pytest.raises(bc.Fault, match=says):
        bc.keep(mine, changes)
    assert mine.read_text(encoding="utf-8") == TEXT and [p.name for p in mine.parent.iterdir()] == ["mine.toml"]


def test_a_half_written_file_is_not_written_over(mine):
    mine.write_text(TEXT[:200], encoding="utf-8")
    with pytest.raises(bc.Fault):
        bc.keep(mine, {"coil.length_m": 0.8})
    assert mine.read_text(encoding="utf-8") == TEXT[:200]


def test_keep_on_a_sheet_that_is_gone(mine):
    with pytest.raises(bc.Fault):
        bc.keep(mine.parent / "gone.toml", {"coil.length_m": 0.8})


def test_line_ends_and_byte_order_mark_of_another_system_stay(mine):
    before = b"\xef\xbb\xbf" + TEXT.replace("\n", "\r\n").encode()
    mine.write_bytes(before)
    assert bc.load(mine).name == "Mine"
    bc.keep(mine, {"coil.length_m": 0.8})
    assert mine.read_bytes() == before.replace(b"733 mm", b"800 mm")


@pytest.mark.parametrize("broken", ["replace", "fsync"])
def test_a_disk_that_refuses_leaves_the_sheet_as_it_was(mine, monkeypatch, broken):
    def refuse(*_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, broken, refuse)
    with pytest.raises(bc.Fault, match="as it was"):
        bc.keep(mine, {"coil.length_m": 0.8})
    assert mine.read_text(encoding="utf-8") == TEXT
    assert not list(mine.parent.glob("*.part"))


def test_a_folder_that_cannot_be_written(tmp_path, monkeypatch):
    (tmp_path / "file").write_text("no folder")
    with pytest.raises(bc.Fault, match="cannot be written"):
        put_file(tmp_path / "file" / "mine.toml", TEXT)
    monkeypatch.setenv("BENCHCALC_MY", str(tmp_path / "file"))
    for act in (lambda: bc.copy_to_mine("insert_press", "my_press"), lambda: bc.choose("foil_iron")):
        with pytest.raises(bc.Fault, match="BENCHCALC_MY"):
            act()
    assert (tmp_path / "file").read_text() == "no folder"


def test_a_read_only_folder_by_its_own_error(mine, monkeypatch):
    def refuse(*_, **__):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("benchcalc.sheet.store.tempfile.mkstemp", refuse)
    with pytest.raises(bc.Fault, match="Permission denied.*as it was"):
        bc.keep(mine, {"coil.length_m": 0.8})
    assert mine.read_text(encoding="utf-8") == TEXT


def test_the_order_of_choice(mine, monkeypatch):
    assert bc.chosen().stem == "insert_press"
    bc.choose("mine")
    assert bc.chosen() == mine and bc.load_chosen().name == "Mine"
    monkeypatch.setenv("BENCHCALC_SHEET", "wax_pot")
    assert bc.chosen().stem == "wax_pot"
    assert bc.chosen("foam_bow").stem == "foam_bow" and bc.chosen(str(mine)) == mine


@pytest.mark.parametrize("choice", ["mine", "path"])
def test_a_choice_that_is_gone_says_so(mine, choice):
    bc.choose("mine" if choice == "mine" else str(mine))
    mine.unlink()
    with pytest.raises(bc.Fault, match="not there any more") as raised:
        bc.chosen()
    assert "chosen.txt" in str(raised.value) and "00_start_here" in str(raised.value)


def test_an_unknown_name_lists_the_closest(mine):
    with pytest.raises(bc.Fault, match="Closest: insert_press"):
        bc.chosen("insert_pres")
    with pytest.raises(bc.Fault, match="Closest: mine"):
        bc.choose("mien")
    assert not (mine.parent / "chosen.txt").exists()


def test_copy_makes_it_mine_and_chooses_it(mine):
    path = bc.copy_to_mine("insert_press", "my press")
    assert path.name == "my_press.toml" and bc.chosen() == path
    copy, demo = bc.load(path), bc.load_chosen("insert_press")
    assert copy.invented is False and demo.invented is True and copy.coil == demo.coil
    assert sorted(bc.my_sheets()) == ["mine", "my_press"]
    second = bc.copy_to_mine("my_press", "second")
    assert bc.load(second).coil == demo.coil


@pytest.mark.parametrize(
    "name, says",
    [
        ("mine", "is taken"),
        ("insert_press", "name of a demo"),
        ("", "is missing"),
        ("../out", "letters"),
        ("a/b", "letters"),
    ],
)
def test_copy_never_overwrites(mine, name, says):
    with pytest.raises(bc.Fault, match=says):
        bc.copy_to_mine("wax_pot", name)
    assert mine.read_text(encoding="utf-8") == TEXT and not (mine.parent / "chosen.txt").exists()
    assert not list(mine.parent.parent.glob("out*"))


def test_my_folder_is_not_made_by_looking(tmp_path, monkeypatch):
    monkeypatch.setenv("BENCHCALC_MY", str(tmp_path / "my"))
    assert bc.my_sheets() == [] and bc.chosen("wax_pot") and not (tmp_path / "my").exists()
