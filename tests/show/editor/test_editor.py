"""The sheet editor without a browser: from nothing to a tool by form alone, nothing lost, faults beside fields."""

import re
from pathlib import Path

import pytest

import benchcalc as bc
from benchcalc.chain.as_told import heat_guesses, rested_on
from benchcalc.sheet.edits import tables_of
from benchcalc.show.editor.editor import sheet_form
from benchcalc.show.editor.form_words import form_words, on_page
from benchcalc.show.editor.plan import fields_of, groups
from benchcalc.show.page import shared_tables
from benchcalc.show.page.words import Words
from benchcalc.show.panel.mending import assumed_lines
from benchcalc.show.start.glance import glance
from benchcalc.studies.mend_first import ToMend, mend_first

DEMO = Path(bc.load_chosen("insert_press").file)


@pytest.fixture
def mine(tmp_path, monkeypatch):
    monkeypatch.setenv("BENCHCALC_MY", str(tmp_path / "my"))
    monkeypatch.delenv("BENCHCALC_SHEET")
    return tmp_path / "my"


@pytest.fixture
def quick(monkeypatch):
    """The chain is not worked out after each thing typed."""
    monkeypatch.setattr("benchcalc.show.editor.follows.Follows.rest", lambda self: None)
    monkeypatch.setattr("benchcalc.studies.from_job.SHARE_SAMPLES", 50)


@pytest.fixture
def light(monkeypatch):
    """The chain is worked out in its middle alone, without bands."""
    monkeypatch.setattr("benchcalc.show.editor.follows.work_out", lambda build: bc.work_out(build, samples=0))


def told(form, section, index, key):
    """What stands beside a field."""
    for group in form.made.values():
        for view in group.sections:
            if view.section == section:
                return view.rows[index or 0].fields[key].told.value
    raise AssertionError(section)


def test_every_field_of_every_group_shows_what_the_sheet_says(mine, quick):
    form = sheet_form()
    text = DEMO.read_text(encoding="utf-8")
    seen = 0
    for i in range(len(form.groups)):
        form.open_group(i)
        for view in form.opened.sections:
            for row, said in zip(view.rows, tables_of(text)[view.section]):
                shown = {k: f.typed() for k, f in row.fields.items() if f.typed()}
                assert set(shown) == {k for k, v in said.items() if not isinstance(v, (dict, list)) or k == "between"}
                seen += len(shown)
    assert seen > 90 and form.draft.edits == [] and form.draft.text == text


TOOL = (
    ("supply", None, "kind", "transformer"),
    ("supply.reading", 0, "volts", "17.9"),
    ("supply.reading", 0, "amps", "0"),
    ("supply.reading", 0, "with", "cheap multimeter"),
    ("supply.reading", 1, "volts", "16,2 V"),
    ("supply.reading", 1, "amps", "1.4 A"),
    ("wire", 0, "id", "reel"),
    ("wire", 0, "alloy", "nichrome 80/20"),
    ("wire", 0, "diameter", "0.3 mm with caliper"),
    ("wire", 1, "id", "old spiral"),
    ("wire", 1, "gauge", "28 AWG"),
    ("part", 0, "id", "rod"),
    ("part", 0, "role", "tip"),
    ("part", 0, "material", "brass"),
    ("part", 0, "from", "0 mm"),
    ("part", 0, "to", "70 mm"),
    ("part", 0, "outer", "1/4 in"),
    ("part", 1, "id", "shaft"),
    ("part", 1, "role", "tube"),
    ("part", 1, "material", "stainless steel"),
    ("part", 1, "from", "25 mm"),
    ("part", 1, "to", "150 mm"),
    ("part", 1, "inner", "9 mm"),
    ("part", 1, "outer", "10 mm"),
    ("part", 2, "id", "grip"),
    ("part", 2, "role", "handle"),
    ("part", 2, "material", "willow"),
    ("part", 2, "from", "110 mm"),
    ("part", 2, "to", "21 cm"),
    ("part", 2, "inner", "10 mm"),
    ("part", 2, "outer", "25 mm"),
    ("coil", None, "wire", "reel"),
    ("coil", None, "on", "rod"),
    ("coil", None, "from", "30 mm"),
    ("coil", None, "to", "70 mm"),
    ("coil", None, "length", "600 mm"),
    ("coil", None, "mounting", "bench tool core in a tube"),
    ("coil.tails", None, "sleeve", "bare glass sleeve"),
    ("layer", 0, "between", "rod | coil"),
    ("layer", 0, "material", "mica"),
    ("layer", 0, "thickness", "0.2 mm"),
    ("want", None, "power", "18 W"),
)


def test_from_nothing_to_a_tool_that_is_worked_out(mine, quick):
    form = sheet_form()
    form.empty("my iron")
    for section, index, key, text in TOOL:
        if index is not None and index == len(form.tables[section]):
            form.add(section)
        form.type(section, index, key, text)
    assert form.build is not None and not form.wrong
    assert "power in the coil" in glance(form.build)
    assert f"differs from my_iron.toml in {len(TOOL)} fields" in form.kept_said.value
    form.keep()
    assert "Kept in" in form.said.value and "<b>Kept:</b> my_iron.toml" in form.kept_said.value
    build = bc.load(mine / "my_iron.toml")
    assert build.known["wire.reel.diameter_m"].how == "measured" and build.coil.on == "rod"
    assert bc.work_out(build).heat is not None
    form.type("part", 0, "id", "bit")  # who names it follows
    assert "in 1 field." in form.kept_said.value and "Kept in" not in form.said.value
    form.undo()
    assert "<b>Kept:</b>" in form.kept_said.value
    form.redo()
    assert form.build.coil.on == "bit" and form.build.layer[0].between == ("bit", "coil")


BAD = (
    ("part", 0, "outer", "8", "has no unit"),
    ("part", 0, "outer", "8 kg", "unit of mass"),
    ("part", 0, "outer", "9 m", "outside"),
    ("part", 0, "outer", "eight", "could not be read"),
    ("part", 0, "material", "<b>unobtainium</b>", "&lt;b&gt;"),
    ("part", 0, "to", "-3 mm", "negative"),
    ("part", 0, "id", "stem", "twice"),
    ("part", 0, "outer", "8" * 300 + " mm", "characters"),
    ("coil", None, "layers", "1.5", "whole"),
    ("room", None, "ambient", "20 V", "unit of volts"),
    ("wire", 0, "gauge", "32", "no gauge system"),
)


@pytest.mark.parametrize("section, index, key, text, says", BAD)
def test_what_is_wrong_stands_beside_its_own_field_and_the_text_stays(mine, quick, section, index, key, text, says):
    form = sheet_form()
    form.type(section, index, key, text)
    if key == "id":
        index = 1
    assert says in told(form, section, index, key), (form.wrong, told(form, section, index, key))
    assert any("▲1" in b.description for b in form.openers) or len(form.wrong) > 1
    form.keep()
    assert "Not kept" in form.said.value and not list(mine.glob("*.toml"))
    assert form.draft.text != DEMO.read_text()
    again = sheet_form()  # the page is run again
    again.open_group(form.now)
    row = again.opened.sections[0].rows[0] if section != "room" else again.opened.sections[0].rows[0]
    typed = row.fields[key].typed() if key in row.fields else text
    assert typed == " ".join(text.split()) and "not kept yet" in again.said.value


def test_a_demo_is_copied_and_its_comments_stay(mine, quick):
    form = sheet_form()
    before = DEMO.read_text(encoding="utf-8")
    form.type("part", 0, "to", "31 mm")
    form.keep()
    own = mine / "my_insert_press.toml"
    assert DEMO.read_text(encoding="utf-8") == before and 'to = "31 mm"         # 24 mm' in own.read_text()
    for comment in ("# From the inside out", "# The scrap box beside it"):
        assert comment in own.read_text()
    assert form.draft.path == own and form.menu.value == "my_insert_press" and not form.draft.edits


def test_rows_added_moved_and_removed(mine, quick):
    form = sheet_form()
    form.add("part")
    view = form.opened.sections[0]
    assert len(view.rows) == 5 and not view.rows[4].told.value  # nothing is wrong yet with what nobody has typed
    boxes = [row.box for row in view.rows]
    view._act(view.rows[2], "up")
    assert [r.fields["id"].typed() for r in view.rows][:4] == ["tip", "tube", "stem", "handle"]
    view._act(view.rows[4], "remove")
    view._act(view.rows[0], "remove")
    assert [r.fields["id"].typed() for r in view.rows] == ["tube", "stem", "handle"]
    assert list(view.stack.children) == boxes  # no box was made anew: what is being typed there stays
    form.type("part", 0, "finish", "used")
    assert tables_of(form.draft.text)["part"][0]["finish"] == "used"
    form.undo()
    form.undo()
    assert [r.fields["id"].typed() for r in form.opened.sections[0].rows] == ["tip", "tube", "stem", "handle"]


def test_working_out_touches_no_field(mine, light):
    form = sheet_form()
    form.open_group(5)
    boxes = [
        f.parts[0] for row in form.opened.sections[0].rows for f in row.fields.values() if f.field.kind == "quantity"
    ]
    touched = []
    for box in boxes:
        box.observe(lambda c: touched.append(c))
    form.follows.show(form.draft, form.build, form.tables)
    form.tell(form.tables, {("part", 0, "to"): ["no"]})
    assert not touched


def test_a_faulty_sheet_shows_its_own_fields_and_faults_and_no_other_numbers(mine):
    form = sheet_form()
    form.copy("broken")
    path = mine / "broken.toml"
    path.write_text(path.read_text(encoding="utf-8").replace('"0.28 mm"', '"0.28 kg"'), encoding="utf-8")
    form = sheet_form()
    form.open_group(3)
    assert form.opened.sections[0].rows[0].fields["diameter"].typed() == "0.28 kg"
    assert "kg" in told(form, "wire", 0, "diameter")
    power = re.search(r">power in the coil</td><td[^>]*>([^<]*)", form.glance.value)[1]
    assert "No other sheet stands in" in form.glance.value and power == "not known"
    for beside in ("“diameter of round wire” of wire 1: reel", "(button “wires”)"):
        assert beside in form.picture.value and beside in form.mending.value
    path.write_text("[sheet\nname", encoding="utf-8")
    form.pick("broken")
    assert "cannot be shown" in form.said.value and "line" in form.said.value and not form.glance.value
    assert "cannot be worked with" in form._repr_mimebundle_()[0]["text/html"]


def test_a_field_that_cannot_be_read_empties_neither_picture_nor_what_to_mend(mine, light):
    form = sheet_form()
    form.type("wire", 1, "alloy", "nichrome")  # another wire than the coil's
    assert form.build is None and "alloy" in form.picture.value and "(button “wires”)" in form.mending.value
    assert "Advice" in form.mending.value and "Settled, with nothing to melt: tip" in form.picture.value
    assert any(s.kind == "winding" for s in form.follows.shown.shapes)
    form.type("part", 0, "outer", "8")
    before = "“outer diameter” of part 1: tip, brass, 0 mm to 30 mm (button “parts”), until then 8 mm as before"
    assert before in form.picture.value and "Settled, with nothing to melt: tip" in form.picture.value
    form.keep()
    assert "Not kept: 2 to mend first" in form.said.value
    form.undo()
    form.undo()
    form.copy("iron")
    path = mine / "iron.toml"
    path.write_text(path.read_text(encoding="utf-8").replace('to = "30 mm" ', 'to = "9 kg" '), encoding="utf-8")
    form.pick("iron")  # without its tip it is another tool: drawn as far as it goes, without numbers
    assert any(s.kind == "winding" for s in form.follows.shown.shapes) and "Settled" not in form.picture.value
    assert "No other sheet stands in" in form.glance.value and "Advice" not in form.mending.value


def test_an_empty_row_takes_nothing_away(mine, light):
    form = sheet_form()
    form.add("part")
    assert form.build is None and "Left out" not in form.picture.value
    assert "Settled, with nothing to melt: tip" in form.picture.value
    form.type("part", 4, "material", "brass")  # something is meant: without it, it would be another tool
    assert "Left out until it is mended: part 5" in form.picture.value and "Settled" not in form.picture.value


def test_a_guess_of_the_supply_goes_when_readings_tell_it(mine, quick):
    form = sheet_form()
    form.empty("bare", '[supply]\nkind = "transformer"\nopen = "18 V +- 10 % assumed"\nsource = "1 ohm assumed"')
    for index, volts, amps in ((0, "17.9", "0"), (1, "16.2", "1.4")):
        form.add("supply.reading")
        form.type("supply.reading", index, "volts", volts)
        form.type("supply.reading", index, "amps", amps)
    assert "open" not in form.tables["supply"][0] and "source" not in form.tables["supply"][0]
    assert "the guess is gone: source resistance" in form.said.value
    assert form.opened.sections[0].rows[0].fields["open"].typed() == ""
    form.undo()  # with the reading goes what it did
    assert form.tables["supply"][0]["source"] == "1 ohm assumed"


def test_a_wanted_temperature_that_is_none_of_the_jobs_is_told(mine, quick):
    form = sheet_form()
    form.empty("tin", '[want]\njob = "wax, dipping"\ntemperature = "70 degF"')
    assert "wax, dipping is done at 70 degC to 85 degC" in form.picture.value  # paraffin, data/work.csv
    form.type("want", None, "temperature", "75 degC")
    assert "is done at" not in form.picture.value


def test_places_that_cannot_be_count_on_the_button_and_when_they_are_kept(mine, quick):
    form = sheet_form()
    form.type("part", 0, "to", "40 mm")  # into the stem
    assert form.openers[5].description == "parts ▲1" and form.build is not None
    form.keep()
    assert "Kept in" in form.said.value and "1 thing is wrong with the places" in form.said.value
    form.type("part", 0, "to", "30 mm")
    form.keep()
    assert form.openers[5].description == "parts" and "wrong with the places" not in form.said.value


def test_who_names_a_renamed_wire_shows_its_new_name(mine, quick):
    form = sheet_form()
    form.open_group(4)
    wound = form.opened.sections[0].rows[0].fields["wire"]
    form.type("wire", 0, "id", "toaster")
    assert wound.typed() == "toaster" and not any("(!)" in words for words, _ in wound.parts[0].options)
    pair = form.made[4].sections[0]
    assert pair.rows[0].fields["on"].typed() == "stem"


def test_words_that_are_none_of_a_list_are_told(mine, quick):
    form = sheet_form()
    form.empty("bare", '[[part]]\nid = "tip"\n[[wire]]\nid = "reel"')
    for section, key, text, says in (
        ("want", "job", "chocolate", "nothing is judged by it"),
        ("part", "role", "pot", "Meant: cup;"),
        ("wire", "alloy", "unknown", "Leave this empty"),
        ("part", "material", "???", "Leave this empty"),
        ("part", "material", "tin can", "read as mild steel"),
        ("part", "material", "tinplate", "read as mild steel"),
    ):
        form.type(section, 0 if section in ("part", "wire") else None, key, text)
        assert says in told(form, section, 0, key), (text, told(form, section, 0, key))
    assert "iron-chromium" not in told(form, "wire", 0, "alloy")


def test_a_tool_with_a_controller_is_told_as_held(mine, light):
    bc.choose("wax_pot")
    form = sheet_form()
    assert "Held by its controller set to" in form.picture.value and "% of the time on" in form.picture.value
    assert "Settled without its controller" in form.picture.value


def test_a_hand_edit_while_the_form_is_open_is_asked_about(mine, quick):
    form = sheet_form()
    form.copy("iron")
    path = mine / "iron.toml"
    form.type("part", 0, "to", "32 mm")
    path.write_text(path.read_text(encoding="utf-8") + "\n# by hand\n", encoding="utf-8")
    form.type("part", 0, "to", "31 mm")
    assert form.ask.layout.display == "" and "changed by hand" in form.ask_words.value
    form.keep()
    assert "by hand" in path.read_text() and "31 mm" not in path.read_text()
    form.take_file(True)
    assert form.ask.layout.display == "none" and form.opened.sections[0].rows[0].fields["to"].typed() == "31 mm"
    form.keep()
    assert "# by hand" in path.read_text() and "31 mm" in path.read_text()
    for back in ("32 mm", "30 mm"):  # field by field, though they were kept together
        form.undo()
        assert form.opened.sections[0].rows[0].fields["to"].typed() == back and "31 mm" in path.read_text()
        assert "Not kept" in form.kept_said.value
    form.undo()
    assert "Nothing is written" in form.said.value and "Not kept" in form.kept_said.value
    for _ in range(3):
        form.redo()
    assert form.opened.sections[0].rows[0].fields["to"].typed() == "31 mm" and "Kept:" in form.kept_said.value


def test_a_file_that_another_page_wrote_is_shown_where_nothing_was_typed(mine, quick):
    form = sheet_form()
    form.copy("iron")
    path = mine / "iron.toml"
    form.open_group(5)
    box = form.opened.sections[0].rows[0].fields["outer"].parts[0]
    path.write_text(path.read_text(encoding="utf-8").replace('to = "30 mm"', 'to = "29 mm"'), encoding="utf-8")
    form.look_again()
    fields = form.opened.sections[0].rows[0].fields
    assert fields["to"].typed() == "29 mm" and fields["outer"].parts[0] is box  # what is being typed there stays
    assert "changed on another page" in form.said.value and form.ask.layout.display == "none"
    path.unlink()
    form.look_again()
    assert "not there any more" in form.said.value


def test_words_on_a_job_stand_over_its_own_sheet_alone(mine, quick):
    form = sheet_form()
    form.from_job()
    form.asked.answer(job="foam, cutting", shape="stretched wire", size="30 cm", name="bow_one")
    assert "needs about" in form.work_place.children[0].value
    form.from_job()  # pressed again: it opens, and does not only take the words away
    assert form.work_place.children == (form.asked.box,)
    form.asked.answer(name="bow_two")
    form.pick("insert_press")
    assert not form.work_place.children


def test_sixty_parts_and_hostile_names(mine, quick):
    parts = "".join(
        f'[[part]]\nid = "<img src=x onerror=alert({i})> \'{i}\'"\nfrom = "{i} mm"\nto = "{i + 1} mm"\n'
        for i in range(60)
    )
    form = sheet_form()
    form.empty("many", parts)
    form.open_group(5)
    view = form.opened.sections[0]
    assert len(view.rows) == 60 and not view.rows[30].is_open
    assert "<img" not in "".join(r.title.value + r.told.value for r in view.rows)
    form.type("part", 59, "outer", "3 mm")
    assert form.build.part[59].outer_m == 0.003


def test_choosing_copying_and_bad_names(mine, quick):
    form = sheet_form()
    form.pick("wax_pot")
    form.work()
    assert bc.chosen().stem == "wax_pot" and "wax_pot" in form.said.value
    form.copy("second pot")
    assert bc.chosen().stem == "second_pot" and form.menu.value == "second_pot"
    for name, says in (
        ("second pot", "is taken"),
        ("", "is missing"),
        ("../x", "letters"),
        ("x" * 300, "letters"),
        ("wax_pot", "demo"),
    ):
        form.empty(name)
        assert says in form.begun_said.value, name  # beside the button that was pressed
    form.name.value = "third pot"
    form.empty()
    assert form.menu.value == "third_pot" and not form.begun_said.value
    form.keep()
    assert "Nothing was altered" in form.said.value
    assert re.search("Form: the whole sheet", form._repr_mimebundle_()[0]["text/plain"])


def test_start_from_a_job(mine, quick):
    form = sheet_form()
    form.name.value = "typed_first"
    form.from_job()
    assert form.asked.name.value == "typed_first"  # a name that was typed is not asked for again
    form.asked.answer(job="insert, PLA", name="wax_pot")
    assert "name of a demo" in form.asked.told.value and bc.chosen().stem == "insert_press"
    form.asked.answer(job="melting rocks", name="first")
    assert "not in the list of jobs" in form.asked.told.value
    form.asked.answer(job="", hot="250")
    assert "has no unit" in form.asked.told.value
    form.asked.answer(job="wax", hot="", shape="pot", size="9 m")
    assert "Meant: wax, dipping" in form.asked.told.value
    form.asked.answer(job="insert, PLA", shape="rod in a tube with a handle", size="8 mm", mass="2 g", time="30 s")
    assert bc.chosen().stem == "first" and form.build is not None and not form.wrong
    words = form.work_place.children[0].value
    assert "in the coil (" in words and words.count("<li>") == 3 and "assumed" in words
    form.open_group(5)
    tip = form.opened.sections[0].rows[0].fields
    assert tip["outer"].typed() == "8 mm" and tip["to"].parts[1].value == "assumed"  # answered, and only guessed
    tip["to"].parts[0].value = "25.5 mm"  # typed over an assumed value: now the maker says it
    assert form.build.known["part.tip.to_m"].how == "stated" and tip["to"].parts[1].value == ""
    tip["to"].parts[1].value = "assumed"
    assert form.build.known["part.tip.to_m"].how == "assumed"
    form.keep()
    again = sheet_form()  # the page is run again
    assert "2 g once in 0.5 min: about" in again.job_said.value and "into what is melted" in again.job_said.value
    again.pick("wax_pot")
    assert not again.job_said.value


def test_what_a_job_assumed_follows_the_parts_until_it_is_typed(mine, quick):
    form = sheet_form()
    form.from_job()
    form.asked.answer(job="leather, branding", hot="250 degC", shape="plate", name="brand")
    form.open_group(0)
    power = form.opened.sections[1].rows[0].fields["power"]
    before = power.typed()
    assert before.endswith("assumed")
    form.type("part", 0, "outer", "20 mm")
    small = power.typed()
    assert float(small.split()[0]) < float(before.split()[0]) and small.endswith("assumed")
    assert "until you type it yourself: wanted power" in form.said.value
    assert "wire length in the coil" in form.said.value
    told = re.sub("<[^>]+>", "", form.picture.value)  # where the maker looks, with what it was before
    assert form.said.value and f"(before: wanted power {before.removesuffix(' assumed')}" in told
    assert heat_guesses(form.build).startswith("length of wire that heats; ")  # what it settles at rests on it
    build = form.build
    reached_c = bc.work_out(build, samples=0).heat.tip_c
    assert reached_c == pytest.approx(250, abs=8)  # the length follows too, so that the tool still does its job
    form.undo()  # one step back undoes both
    assert power.typed() == before and form.build.part[0].outer_m == pytest.approx(0.03)
    form.redo()
    assert power.typed() == small and form.build.part[0].outer_m == pytest.approx(0.02)
    form.type("want", None, "power", "30 W")
    form.type("part", 0, "outer", "25 mm")
    assert power.typed() == "30 W"


def test_the_questions_of_a_job_are_checked_when_they_are_left_and_all_at_once(mine, quick):
    form = sheet_form()
    form.from_job()
    job = form.asked
    job.size.value = "9"
    assert "has no unit" in job.beside["size"].value
    job.hot.value = "20 kg"
    job.answer(job="wax, dipping", shape="pot", name="wax tin 0.3")
    assert all(says in job.told.value for says in ("has no unit", "unit of", "wax tin 0.3", "wax_tin_0-3"))
    job.name.value = "wax tin"
    assert not job.beside["name"].value
    job.mass.value = "300 ml"
    assert "read as 270 g, by its density" in job.beside["mass"].value  # 900 kg/m3, paraffin of data/work.csv
    job.job.value = ""
    assert "is a volume" in job.beside["mass"].value
    job.job.value = "leather, branding"
    assert job.mass.description == "how much is heated each time"
    job.shape.value = "stretched wire"
    assert job.fields["mass"].layout.display == job.fields["time"].layout.display == "none"
    job.shape.value, job.size.value, job.hot.value, job.mass.value = "pot", "5 cm", "", "0.2 l"
    job.answer(job="wax, dipping", time="20 min")
    assert bc.chosen().stem == "wax_tin" and "180 g once in 20 min" in form.draft.text


def test_numbers_of_an_earlier_state_never_stay_under_a_sheet_that_cannot_be_worked_out(mine, monkeypatch):
    form = sheet_form()
    assert "power in the coil" in form.glance.value and " fine." in form.picture.value

    def fail(_):
        raise ZeroDivisionError("a <b>slip</b>")

    monkeypatch.setattr("benchcalc.show.editor.follows.work_out", fail)
    with pytest.raises(ZeroDivisionError):
        form.type("part", 0, "to", "31 mm")
    assert "could not be worked out" in form.glance.value and "power in the coil" not in form.glance.value
    assert " fine." not in form.picture.value
    assert "<b>slip" not in form.glance.value and form.draft.edits


def test_what_most_limits_rest_on_is_listed_and_one_press_takes_it_as_known(mine):
    """Three guesses of a maker: each is named with its limits and its group, on the page and beside each limit."""
    text = bc.chosen("insert_press").read_text(encoding="utf-8")
    for was in ('length = "733 mm"', 'ambient = "20 degC +- 5 K"', 'to = "210 mm"'):
        assert text.count(was) == 1
        text = text.replace(was, was[:-1].replace(" +- 5 K", "") + ' assumed"')
    form = sheet_form()
    form.empty("guessed", "[supply]" + text.split("[supply]", 1)[1])
    workings = bc.work_out(form.build)
    resting = [v for _, v in workings.verdicts if v.note.startswith("assumed") and not v.advice]
    counts = {words: n for _, words, n in rested_on(form.build, workings.verdicts)}
    assert counts["length of wire that heats"] == max(counts.values()) <= len(resting) and len(counts) == 3
    found = mend_first(form.build, workings, most=0)
    lines = assumed_lines(found)
    assert lines[0] == f"length of wire that heats: {counts['length of wire that heats']} limits, group coil"
    assert all("group" in line and line.split(":")[0] in form.mending.value for line in lines)
    assert form.true.layout.display is None and all("assumed on the sheet: " in v.named for v in resting)
    form.true.click()
    known = form.build.known
    assert {known[path].how for path, _, _ in found.assumed} == {"stated"} and form.true.layout.display == "none"
    assert not [v for _, v in bc.work_out(form.build).verdicts if v.note]
    form.undo()
    assert {form.build.known[path].how for path, _, _ in found.assumed} == {"assumed"}


def test_what_was_typed_on_a_demo_goes_with_its_copy_and_stays_on_no_other(mine, quick):
    form = sheet_form()
    form.type("part", 0, "to", "31 mm")
    form.copy("iron")
    assert [e.text for e in form.draft.edits] == ["31 mm"] and form.build.part[0].to_m == pytest.approx(0.031)
    form.pick("insert_press")
    assert not form.draft.edits and "not kept yet" not in form.said.value
    form.pick("iron")
    assert "1 field;" in form.said.value


def test_the_form_says_whose_numbers_the_page_below_shows(mine, monkeypatch):
    build = bc.load_chosen("insert_press")
    workings = bc.work_out(build)
    form = sheet_form(build, workings, ToMend((), 0, (), 0))
    assert "The form and the page below show <b>insert_press</b>" in form.head.value and "▲" not in form.head.value
    monkeypatch.setattr("benchcalc.show.editor.follows.work_out", lambda build: workings)
    form.type("part", 0, "to", "31 mm")
    assert "as it was when the page was run" in form.head.value and "press check and keep, then run" in form.head.value
    assert "It settles at: tip" in form.head.value  # the form's own temperatures
    form.keep()
    assert "my_insert_press" in form.head.value and "of the sheet <b>insert_press</b>" in form.head.value
    assert ": run the page again" in form.head.value  # its copy is kept and chosen: nothing else to press
    form.pick("wax_pot")
    assert "press work with this sheet, then run" in form.head.value
    form.type("part", 0, "to", "9 kg")
    assert "Mend first, nothing is kept before: “ends, from the tip”" in form.head.value
    told = shared_tables.whose(build, shared_tables.numbers(build, workings, "heat.tip_c"))
    assert told.caption == "Sheet insert_press, as this page last ran:"
    assert shared_tables.whose(build, Words("hot")).text == "Sheet insert_press, as this page last ran: hot"


def test_a_plain_number_is_told_with_the_unit_it_is_read_in(mine, quick):
    form = sheet_form()
    form.type("supply.reading", 0, "volts", "17.9")
    assert "read as 17.9 V" in told(form, "supply.reading", 0, "volts")
    form.type("part", 0, "outer", "8")  # and one that has none is refused
    assert "has no unit" in told(form, "part", 0, "outer")


def test_messages_speak_of_the_form(mine, quick):
    form = sheet_form()
    form.empty("bare")
    form.type("supply", None, "open", "12 V")
    said = told(form, "supply", None, "kind")
    assert "Fill in “" in said and "kind =" not in said and "transformer" in said
    for text, says in (
        ("write cut_out_at = &quot;60 mm&quot; under [control] too.", "(button “control”), e.g. 60 mm too."),
        ("write its length and section under [supply.cable].", "cable” and “section of one core” (button"),
        (
            'Under [coil.tails] write their metal, e.g. material = "copper" and section = "0.5 mm2".',
            "Under the button “coil” write their metal, e.g. “material of the tails”: copper and “section of one tail",
        ),
        ("Write hours_per_year = ... under [use].", "(button “room, use”)."),
        ("write length under [supply.cable]", "(button “supply”)"),
        ("look under [supply]", "look under the button “supply”"),
        ("write nothing under [nowhere]", "write nothing under [nowhere]"),
    ):
        assert says in form_words(text) and " = " not in form_words(text), form_words(text)
    assert on_page("write joint under [lead_out].") == "fill in “kind of that joint” (page 00, button “way out”)."
    form.add("part")
    form.add("part")
    form.type("part", 0, "id", "rod")
    form.type("part", 1, "id", "rod")
    assert "each needs a name of its own" in told(form, "part", 1, "id")


def test_no_two_fields_of_a_group_have_one_name_and_examples_fit(mine):
    for group in groups():
        labels = [f.label for s in group.sections if s in ("control", "sensor") for f in fields_of(s)]
        assert len(labels) == len(set(labels)), labels
    hints = {f.key.key: f.hint for s in ("control", "sensor") for f in fields_of(s)}
    assert hints["window"] == "2 s" and hints["lag"] == "5 s" and hints["integral"] == "60 s"
