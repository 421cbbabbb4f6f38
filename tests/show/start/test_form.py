"""The form of the first page: typed readings go into the sheet as typed, faults are told, nothing is lost."""

import re
from pathlib import Path

import pytest

import benchcalc as bc
from benchcalc.sheet.form_edits import keep_readings, with_typed
from benchcalc.show.start.form import start_form, typed_in

DEMO = Path(bc.load_chosen("insert_press").file)


@pytest.fixture
def mine(tmp_path, monkeypatch):
    monkeypatch.setenv("BENCHCALC_MY", str(tmp_path / "my"))
    monkeypatch.delenv("BENCHCALC_SHEET")
    return tmp_path / "my"


def rows_of(form):
    return form.typed()[0]


def test_the_form_shows_what_the_sheet_holds(mine):
    form = start_form()
    assert [r[:2] for r in rows_of(form)] == [("18.2", "0"), ("16.7", "1.12"), ("16.1", "1.61"), ("15.3", "2.25")]
    assert form.typed()[1] == {"want.power_w": "20 W", "coil.length_m": "733 mm"}
    assert "power in the coil" in form.view.value and "later pages" in form.view.value


def test_every_demo_is_marked_as_invented(mine):
    assert [words for words, _ in start_form().menu.options] == [f"{n} (invented demo)" for n in bc.demos()]


def test_choosing_copying_and_listing(mine):
    form = start_form()
    form.pick("wax_pot")
    form.work()
    assert bc.chosen().stem == "wax_pot" and "wax_pot" in form.told.value
    form.copy("second pot")
    assert bc.my_sheets() == ["second_pot"] and bc.chosen().stem == "second_pot"
    assert ("second_pot (my own)", "second_pot") in form.menu.options and form.menu.value == "second_pot"
    form.copy("second pot")
    assert "is taken" in form.told.value


def test_typed_readings_go_into_a_sheet_of_ones_own(mine):
    form = start_form()
    rows = rows_of(form)
    rows[1] = ("16.8 V +- 0.1 V", "1.12 A", "better multimeter", 1)
    form.type(rows + [("14,9", "2.6", "cheap multimeter", None)], {"coil.length_m": "74 cm", "want.power_w": "19"})
    assert "Not kept yet" in form.told.value and "740 mm" in form.view.value
    before = DEMO.read_text(encoding="utf-8")
    form.keep()
    assert DEMO.read_text(encoding="utf-8") == before
    own = mine / "my_insert_press.toml"
    build, text = bc.load(own), own.read_text(encoding="utf-8")
    assert [r.volts_v for r in build.supply.reading] == [18.2, 16.8, 16.1, 15.3, 14.9]
    assert build.supply.reading[3].loaded_s == 300 and build.supply.reading[4].instrument == "cheap multimeter"
    assert build.coil.length_m == pytest.approx(0.74) and build.want.power_w == 19
    for comment in re.findall(r"#.*$", before, flags=re.M)[1:]:  # the first says whose sheet it is
        assert comment in text
    form.type([r for r in rows_of(form) if r[0] != "18.2"])
    form.keep()
    assert len(bc.load(own).supply.reading) == 4 and bc.load(own).supply.reading[2].loaded_s == 300
    assert own.with_suffix(".toml.previous").read_text(encoding="utf-8") == text


def test_all_faults_are_told_and_nothing_is_written(mine):
    form = start_form()
    good = form.view.value
    form.type(
        [("18.2", "0", "", 0), ("abc", "1.1", "", 1), ("17", "", "", 2)],
        {"coil.length_m": "733", "want.power_w": "20 A"},
    )
    for said in ("abc", "needs both volts and amps", "needs a length with a unit", "733", "20 A"):
        assert said in form.told.value, said
    form.keep()
    assert "things to mend" in form.told.value and not mine.exists() and form.view.value == good


def test_volts_that_rise_with_the_load_are_refused_with_the_likely_cause(mine):
    form = start_form()
    form.type([("18.2", "0", "", 0), ("19.0", "1.1", "", 1)])
    assert "cannot rise with the load" in form.told.value and "swapped" in form.told.value


def test_nothing_typed_nothing_kept(mine):
    form = start_form()
    form.keep()
    assert "Nothing was altered" in form.told.value and not mine.exists()


def test_an_instrument_for_all_readings(mine):
    form = start_form()
    form.meter.value = "cheap multimeter"
    form.keep()
    assert {r.instrument for r in bc.load(mine / "my_insert_press.toml").supply.reading} == {"cheap multimeter"}


def test_rows_are_added_and_removed(mine):
    form = start_form()
    form.add()
    assert len(rows_of(form)) == 5
    form.lines.children[1].children[-1].click()
    assert [r[0] for r in rows_of(form)] == ["18.2", "16.1", "15.3", ""]
    assert "Not kept yet" in form.told.value


def test_a_sheet_with_faults_is_told_not_hidden(mine):
    form = start_form()
    form.copy("broken")
    path = mine / "broken.toml"
    path.write_text(path.read_text(encoding="utf-8").replace('"0.28 mm"', '"0.28 kg"'), encoding="utf-8")
    form.pick("broken")
    assert "0.28 kg" in form.told.value and not form.view.value and form.typed() == ([], {})
    assert "cannot be worked with" in form._repr_mimebundle_()[0]["text/html"]
    form.pick("wax_pot")
    assert len(rows_of(form)) == 4 and form.typed()[1]["coil.length_m"]


def test_the_saved_page_shows_the_chain_without_a_kernel(mine):
    data, _ = start_form()._repr_mimebundle_()
    assert (
        data["text/plain"].startswith("Form:") and "<table" in data["text/html"] and "insert_press" in data["text/html"]
    )


def test_a_supply_without_readings_gets_its_first_ones(tmp_path):
    path = tmp_path / "new.toml"
    path.write_text('[sheet]\nname = "new"  # mine\n\n[supply]\nkind = "transformer"\n', encoding="utf-8")
    build = keep_readings(path, [("12.4", "0", "", None), ("11,9 V", "2", "", None), (" ", "", "", None)])
    assert [(r.volts_v, r.amps_a) for r in build.supply.reading] == [(12.4, 0), (11.9, 2)]
    assert "# mine" in path.read_text(encoding="utf-8")


def test_what_is_shown_goes_back_unchanged():
    text = DEMO.read_text(encoding="utf-8")
    readings, fields = typed_in(bc.load_chosen("insert_press"))
    again = with_typed(text, readings, fields)
    assert bc.read(again).supply.reading == bc.read(text).supply.reading
    assert again == text
