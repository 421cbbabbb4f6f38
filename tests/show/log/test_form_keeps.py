"""The form of the warm-up page: the day's volts and amps, a corrected log in place of the bad one, one taken out."""

import pytest

import benchcalc as bc
from benchcalc.chain.log.link import work_warm_up
from benchcalc.show.log.form import ONE_MORE, log_form

ROWS = "min degC\n0 21\n1 70\n2 108\n3 137\n4 158\n5 %s\n7 196\n10 207\n15 213\n20 214\n"


@pytest.fixture
def mine(tmp_path, monkeypatch):
    """A sheet of one's own without a log, and the folder it lies in."""
    monkeypatch.setenv("BENCHCALC_MY", str(tmp_path / "my"))
    monkeypatch.delenv("BENCHCALC_SHEET", raising=False)
    (tmp_path / "my").mkdir()
    path = tmp_path / "my" / "pen.toml"
    with open(bc.load_chosen("insert_press").file, encoding="utf-8") as demo:
        text = demo.read().split("# Invented logs in")[0].replace("invented = true\n", "")
    path.write_text(text, encoding="utf-8")
    return path


def form_of(path):
    return log_form(bc.load(path))


def test_the_volts_and_amps_of_the_day_are_asked_and_kept(mine):
    form = form_of(mine)
    form.typed.value = ROWS % 172
    form.place.value = "3 mm"
    form.volts.value = "12.1 V"
    assert "amps in it" in form.told.value and form.read is None
    form.amps.value = "1.68"
    assert "20.3 W in the coil that day" in form.told.value and "kelvin for each watt" in form.view.value
    form.keep()
    build = bc.load(mine)
    assert build.log[0].power_w == pytest.approx(20.33, abs=0.01) and build.known["log.0.power_w"].how == "measured"
    part, _, _ = work_warm_up(build, bc.links(build)[2])
    assert part.load_w == build.log[0].power_w


def test_the_preview_names_a_bad_reading_before_it_is_kept_and_the_corrected_log_takes_its_place(mine):
    form = form_of(mine)
    assert [words for words, _ in form.where.options] == [ONE_MORE]
    form.typed.value = ROWS % 272
    assert "272 degC: a spike" in form.view.value and "before you keep it" in form.view.value
    form.place.value = "3 mm"
    form.asked["attached"].value = "peened or embedded"
    form.keep()
    assert "Kept in pen.toml as log 1" in form.told.value and not form.where.value
    again = form_of(mine)
    assert [words for words, _ in again.where.options] == [ONE_MORE, "in place of log 1, by_hand.txt"]
    again.typed.value = ROWS % 172
    again.where.value = 0
    again.keep()
    build = bc.load(mine)
    assert [one.file for one in build.log] == ["by_hand_2.txt"] and build.log[0].attached == "peened or embedded"
    assert build.log[0].at_m == pytest.approx(0.003) and "button “markers, logs”" not in again.told.value
    assert "in place of by_hand.txt, whose file stays beside the sheet" in again.told.value
    assert (mine.parent / "by_hand.txt").read_text(encoding="utf-8") == ROWS % 272


def test_a_reading_corrected_in_the_form_that_kept_it_is_no_second_log(mine):
    form = form_of(mine)
    form.typed.value = ROWS % 272
    form.place.value = "3 mm"
    form.keep()
    assert form.where.value == 0 and "in place of this one" in form.told.value
    form.typed.value = ROWS % 172
    form.keep()
    assert [one.file for one in bc.load(mine).log] == ["by_hand_2.txt"] and form.where.value == 0
    form.take("other.txt", (ROWS % 173).encode())
    assert form.where.value is None
    form.keep()
    assert [one.file for one in bc.load(mine).log] == ["by_hand_2.txt", "other.txt"] and form.where.value == 1
    form.where.value = None
    form.keep()
    assert len(bc.load(mine).log) == 3


def test_watts_noted_beside_a_log_are_told_once(mine):
    form = form_of(mine)
    form.typed.value = ROWS % 172
    assert "not in the file" in form.view.value
    form.volts.value, form.amps.value = "12.1 V", "1.68"
    assert "20.3 W in the coil that day" in form.told.value
    assert "not in the file" not in form.view.value and "20.3 W, noted beside the log" in form.view.value


def test_a_log_is_taken_out_by_a_button_and_what_it_taught_is_named(mine):
    form = form_of(mine)
    form.take_out()
    assert "no log on this sheet" in form.told.value
    form.typed.value = ROWS % 172
    form.keep()
    form.where.value = None
    form.take_out()
    assert "Choose at" in form.told.value
    text = mine.read_text(encoding="utf-8")
    taught = '\n[[learned]]\ninput = "the room that day"\nlog = "by_hand.txt"\nof = "20 (15 to 25)"\nvalue = 20.0\n'
    mine.write_text(f"{text}{taught}low = 19.0\nhigh = 21.0\nthat_day = true\n", encoding="utf-8")
    form = form_of(mine)
    form.where.value = 0
    form.take_out()
    assert bc.load(mine).log == () and (mine.parent / "by_hand.txt").is_file()
    assert (
        "is out of pen.toml" in form.told.value and "What was learned from by_hand.txt still stands" in form.told.value
    )
    assert [words for words, _ in form.where.options] == [ONE_MORE]


def test_a_log_of_a_demo_is_exchanged_in_a_copy_and_the_copy_goes_on_being_used(tmp_path, monkeypatch):
    monkeypatch.setenv("BENCHCALC_MY", str(tmp_path / "my"))
    monkeypatch.delenv("BENCHCALC_SHEET", raising=False)
    form = log_form(bc.load_chosen("insert_press"))
    form.where.value = 0
    form.take_out()
    form.where.value = 0
    form.take_out()
    made = list((tmp_path / "my").glob("*.toml"))
    assert len(made) == 1 and bc.load(made[0]).log == () and len(bc.load_chosen("insert_press").log) == 2
