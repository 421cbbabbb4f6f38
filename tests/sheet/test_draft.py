"""A sheet in a form: nothing typed is lost, by whatever happens to the file or the form meanwhile."""

import pytest

import benchcalc as bc
from benchcalc.chain.log.link import sheet_log
from benchcalc.sheet.draft import Draft
from benchcalc.sheet.edits import Edit
from benchcalc.sheet.store import ChangedMeanwhile, versions_of

SPEED = Edit("set", "room", None, "air_speed", "0.2 m/s")
WARM = Edit("set", "room", None, "ambient", "25 degC")


@pytest.fixture
def path(tmp_path, monkeypatch):
    monkeypatch.setenv("BENCHCALC_MY", str(tmp_path))
    path = tmp_path / "iron.toml"
    path.write_text('# mine\n[sheet]\nname = "iron"\n\n[room]\nambient = "20 degC"  # in the shed\n', encoding="utf-8")
    return path


def test_what_was_typed_outlives_the_form(path):
    Draft(path).do(SPEED, WARM)
    again = Draft(path)
    assert again.resumed == 2 and again.checked()[0].room.ambient_c == 25 and "20 degC" in path.read_text()
    assert again.keep().room.air_speed_m_s == 0.2
    assert "# in the shed" in path.read_text() and Draft(path).resumed == 0


def test_undo_goes_back_through_edits_and_then_through_versions(path):
    draft = Draft(path)
    draft.do(SPEED)
    draft.keep()
    draft.do(WARM)
    draft.keep()
    draft.do(Edit("set", "room", None, "ambient", "nonsense"))
    assert "25 degC" not in draft.text and draft.undo() and "25 degC" in draft.text and draft.redo()
    assert ("room", None, "ambient") in draft.checked()[1]
    steps, kept = [], path.read_bytes()
    while draft.undo():
        steps.append(draft.tables["room"][0])
    assert [s.get("air_speed") for s in steps] == ["0.2 m/s", "0.2 m/s", None] and path.read_bytes() == kept
    assert Draft(path).changes == 2 and "air_speed" not in Draft(path).text  # the version shown outlives the form
    while draft.redo():
        pass
    assert "nonsense" in draft.text and path.read_bytes() == kept and len(versions_of(path)) == 3
    for _ in range(3):
        draft.undo()
    draft.keep()
    assert "air_speed" not in path.read_text() and versions_of(path)[2].read_bytes() == kept
    assert draft.undo() and "25 degC" in draft.text  # and the way back goes by what was kept when


def test_undo_after_keeping_takes_back_the_last_field_and_not_all_that_was_kept(path):
    draft = Draft(path)
    draft.do(SPEED)
    draft.do(WARM)
    draft.keep()
    kept = path.read_bytes()
    assert draft.undo() == "The last change in the form is undone." and draft.changes == 1
    assert "25 degC" not in draft.text and "0.2 m/s" in draft.text
    assert draft.undo() and "0.2 m/s" not in draft.text and not draft.undo()  # the first version there is
    assert draft.redo() and draft.redo() and not draft.altered and path.read_bytes() == kept


def test_a_sheet_in_the_form_finds_its_log_as_the_file_does(path):
    (path.parent / "evening.csv").write_text("s,degC\n" + "".join(f"{60 * i},{20 + 9 * i}\n" for i in range(12)))
    draft = Draft(path)
    draft.do(Edit("add", "log"), Edit("set", "log", 0, "file", "evening.csv"))
    assert sheet_log(draft.checked()[0]).time_s.size == 12
    draft.do(Edit("set", "room", None, "ambient", "nonsense"))
    assert sheet_log(draft.as_far_as_it_goes()[0]).time_s.size == 12


def test_changes_are_the_fields_that_differ(path):
    draft = Draft(path)
    for text in ("25 degC", "26 degC", "20 degC"):
        draft.do(Edit("set", "room", None, "ambient", text))
    assert draft.changes == 0 and not draft.altered
    parts = [("rod", "mild steel"), ("tube", "brass")]
    for i, (name, metal) in enumerate(parts):
        draft.do(Edit("add", "part"), Edit("set", "part", i, "id", name), Edit("set", "part", i, "material", metal))
    draft.do(Edit("add", "joint"), Edit("set", "joint", 0, "between", "rod | tube"))
    assert draft.changes == 5
    draft.keep()
    draft.do(Edit("set", "part", 0, "id", "core"))
    assert draft.tables["joint"][0]["between"] == ["core", "tube"] and draft.changes == 1
    draft.do(Edit("move", "part", 0, text="1"), Edit("remove", "part", 0), SPEED)
    assert 2 <= draft.changes <= 4


def test_a_hand_edit_is_noticed_and_nothing_of_either_is_lost(path):
    draft = Draft(path)
    draft.do(SPEED)
    path.write_text(path.read_text() + "\n[use]\nhours_per_year = 30\n")
    assert draft.changed_elsewhere
    with pytest.raises(ChangedMeanwhile):
        draft.keep()
    assert draft.take_file(with_mine=True) == 0
    build = draft.keep()
    assert (build.use.hours_per_year, build.room.air_speed_m_s) == (30, 0.2)
    path.write_text("[sheet]\nname = 'other'\n")
    draft.do(WARM)
    assert draft.keep(over=True).name == "iron" and b"other" in versions_of(path)[-2].read_bytes()


def test_a_faulty_sheet_is_not_written_and_still_held(path):
    draft = Draft(path)
    draft.do(Edit("set", "room", None, "ambient", "20 V"), SPEED)
    before = path.read_bytes()
    with pytest.raises(bc.Fault, match="20 V"):
        draft.keep()
    assert path.read_bytes() == before and Draft(path).checked()[0] is None


def test_a_row_that_is_gone_meanwhile_is_told(path):
    draft = Draft(path)
    draft.do(Edit("add", "part"), Edit("set", "part", 0, "id", "rod"))
    draft.keep()
    draft.do(Edit("set", "part", 0, "to", "3 mm"))
    path.write_text("[sheet]\nname = 'iron'\n")
    assert draft.take_file(with_mine=True) == 1 or draft.tables["part"]
    path.unlink()
    with pytest.raises(bc.Fault, match="not there"):
        draft.take_file(with_mine=False)
    with pytest.raises(bc.Fault, match="not there"):
        Draft(path)
