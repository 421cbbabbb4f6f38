"""The two buttons of page 06: keep what was learned in a sheet of one's own, drop it again; what may not be kept."""

import pytest

import benchcalc as bc
from benchcalc.sheet.build_learned import Learned
from benchcalc.show.calibrate import form
from benchcalc.show.calibrate.tables import that_day

ENTRIES = (
    Learned("mains that day", "evening.csv", "1 (0.9 to 1.1)", 0.95, 0.93, 0.97, True),
    Learned("air speed", "evening.csv", "0.15 (0.05 to 0.35)", 0.1, 0.05, 0.2, False, "0.3"),
)


@pytest.fixture
def folder(monkeypatch, tmp_path):
    monkeypatch.setenv("BENCHCALC_MY", str(tmp_path))
    monkeypatch.delenv("BENCHCALC_SHEET", raising=False)
    monkeypatch.setattr(form, "learned_entries", lambda build, found: ENTRIES if found else ())
    return tmp_path


def test_kept_by_one_button_and_dropped_by_the_other(folder):
    build = bc.load_chosen("insert_press")
    shown = form.learned_form(build, True, False)
    keep, drop = (b for b in shown.children[0].children)
    assert "Nothing is kept" in shown.told.value
    drop.click()
    assert "nothing to drop" in shown.told.value and not list(folder.glob("*.toml"))
    keep.click()
    assert "Kept." in shown.told.value and "Learned from evening.csv: 1 inputs" in shown.told.value
    own = bc.load(folder / "my_insert_press.toml")
    assert bc.get(own, "room.air_speed_m_s") == 0.1 and own.known["supply.mains"] == build.known["supply.mains"]
    assert "95.0% (93.0% to 97.0%)" in repr(that_day(own)) and "100.0% (90.0% to 110.0%)" in repr(that_day(own))
    drop.click()
    back = bc.load(folder / "my_insert_press.toml")
    assert not back.learned and bc.get(back, "room.air_speed_m_s") == bc.get(build, "room.air_speed_m_s")
    assert "Dropped" in shown.told.value and not bc.load_chosen("insert_press").learned


def test_invented_readings_and_those_the_model_cannot_follow_are_not_kept(folder, monkeypatch):
    build = bc.load_chosen("insert_press")
    invented = form.learned_form(build, True, True)
    invented.keep()
    assert "invented" in invented.told.value
    monkeypatch.setattr(form, "distrust", lambda found: "the model cannot follow these readings")
    astray = form.learned_form(build, None, False)
    astray.keep()
    assert "cannot follow" in astray.told.value and not list(folder.glob("*.toml"))
