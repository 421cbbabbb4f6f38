"""What every page says from code: the sheet, cautions where their trigger holds, margins, sources, digits."""

import re
from dataclasses import replace

import pytest

import benchcalc as bc
from benchcalc.show.table import as_difference
from benchcalc.basics.band import Band
from benchcalc.show import lesson
from benchcalc.sheet.build import Layer
from benchcalc.sheet.breaks import with_break
from benchcalc.sheet.cautions import cautions_for, facts_of, meets

# For each caution of data/cautions.csv a change of the demo that must bring it (None: the demo itself does).
WITH_LAYER = {"mica-dust": "mica plate", "ceramic-fibre-dust": "ceramic fibre", "glass-sleeve-dust": "bare glass sleeve",
              "cement-steam": "sodium silicate cement"}
CHANGES = {
    "refuse-mains": {"supply.open_v": 230.0}, "above-dry-touch-ac": {"supply.open_v": 27.0},
    "above-extra-low-ac": {"supply.open_v": 51.0}, "battery-short": {"supply.kind": "battery"},
    "no-bare-lithium": {"supply.kind": "battery"}, "switching-closed": {"supply.kind": "switching supply"},
    "above-dry-touch-dc": {"supply.kind": "battery", "supply.open_v": 61.0},
    "above-extra-low-dc": {"supply.kind": "battery", "supply.open_v": 121.0},
    "bare-wire-fire": {"coil.mounting": "open coil in air"}, "foam-fumes": {"want.job": "foam, cutting"},
}


def build_for(caution):
    build = bc.load_chosen()
    if caution in WITH_LAYER:
        return replace(build, layer=(Layer(("stem", "coil"), WITH_LAYER[caution], 1e-3),))
    if caution == "drill-tube":
        return with_break(build)
    if caution == "old-appliance":
        return replace(build, wire=tuple(replace(w, used=True) for w in build.wire))
    for path, value in CHANGES.get(caution, {}).items():
        build = bc.change(build, path, value)
    return build


@pytest.mark.parametrize("caution", [r["id"] for r in bc.rows("cautions")])
def test_every_caution_appears_where_its_trigger_holds(caution):
    build = build_for(caution)
    workings = bc.work_out(build, samples=0)
    assert caution in [r["id"] for r in cautions_for(build, workings)]
    row = next(r for r in bc.rows("cautions") if r["id"] == caution)
    assert row["sentence"] in lesson.cautions(build, workings).text


def test_cautions_stay_away_where_nothing_triggers_them():
    own = {r["id"] for r in cautions_for(bc.load_chosen(), bc.work_out(bc.load_chosen(), samples=0))}
    assert not own & (set(CHANGES) | {"ceramic-fibre-dust", "cement-steam", "old-appliance"})
    bare = replace(bc.load_chosen(), supply=type(bc.load_chosen().supply)(), wire=(), coil=None, layer=())
    assert cautions_for(bare) == () and "hot wire still burns" in lesson.cautions(bare, None).text


@pytest.mark.parametrize("trigger, facts, holds", [
    ("open_v_ac>25", {"open_v_ac": 25.0}, False), ("open_v_ac>25", {"open_v_ac": 25.01}, True),
    ("open_v_ac>25", {}, False), ("layer mica", {"layer mica": True}, True), ("layer mica", {}, False)])
def test_triggers(trigger, facts, holds):
    assert meets(trigger, facts) is holds


def test_every_trigger_of_the_table_is_a_fact_that_can_come_up():
    head = (bc.basics.tables.data_folder() / "cautions.csv").read_text(encoding="utf-8")
    listed = set(re.findall(r"^# ([\w ]+):", head, flags=re.M))
    assert {r["trigger"].split(">")[0] for r in bc.rows("cautions")} <= listed


def test_a_page_may_bring_a_fact_of_its_own():
    build = replace(bc.load_chosen(), supply=replace(bc.load_chosen().supply, reading=()))
    assert "supply loaded" not in facts_of(build, None) and "supply loaded" in facts_of(build, None, ("supply loaded",))


@pytest.mark.parametrize("name", bc.demos())
def test_the_first_line_names_the_sheet(name):
    assert lesson.introduce(bc.load_chosen(name)).text.splitlines()[0].startswith(f"Sheet: {name} (invented demo)")


def test_a_sheet_of_ones_own_is_not_called_invented(tmp_path, monkeypatch):
    monkeypatch.setenv("BENCHCALC_MY", str(tmp_path))
    own = bc.load(bc.copy_to_mine("foam_bow", "second"))
    assert lesson.introduce(own).text.startswith("Sheet: second (your own sheet)")


def test_the_introduction_says_how_each_input_is_known():
    text = lesson.introduce(bc.load_chosen()).text
    rows = dict(re.findall(r"^\| (\w+) \|.*\| (.*) \|$", text, flags=re.M))
    assert "16.7 V at 1.12 A" in rows["measured"] and "coil length 733 mm" in rows["stated"]
    assert "resistivity" in rows["table"] and "air speed" in rows["assumed"]


def test_the_margin_line_tells_the_worst_first():
    workings = bc.work_out(bc.change(bc.load_chosen(), "coil.length_m", 1.0), samples=0)
    verdict = next(v for _, v in workings.verdicts if v.state == "over")
    text = lesson.margin_line(workings).text
    verdict = lesson.worst(workings)[0]
    for said in (verdict.what, bc.say(verdict.key, verdict.value), bc.say(verdict.key, verdict.limit),
                 bc.say(as_difference(verdict.key), verdict.margin), verdict.source):
        assert said in text
    states = [v.state for v in lesson.worst(workings, 20)]
    assert states == sorted(states, key=("over", "tight", "not known", "fine", "does not apply").index)


def test_the_chain_shows_every_link_in_word_and_mark():
    build = bc.load_chosen("foil_iron")
    rows = {row[0]: row for row in lesson.chain(build, bc.work_out(build)).rows}
    assert set(rows) >= {"supply", "wire", "coil"} and "tight" in rows["coil"][1] and "gap between turns" in rows["coil"][3]
    assert "later pages" in [row[1] for row in rows.values()]


def test_the_summary_follows_the_results():
    build = bc.load_chosen()
    text = lesson.summary(bc.work_out(bc.change(build, "coil.length_m", 1.0), samples=0), build).text
    assert "1 over" in text and "too long" in text and bc.say("length_m", 1.0) in text


def test_digits_behind_a_page(capsys):
    lesson.numbers_behind(coil_w=20.2605006, share=0.123456, turns=(34.36222, 1e-7), band_w=Band(20.26, 16.32008, 23.38774),
                          word="fine", samples=("share",))
    assert capsys.readouterr().out.splitlines() == [
        "coil_w = 20.261", "share = 0.123", "turns = 34.362, 1e-07", "band_w = 20.26 (16.3 to 23.4)", "word = fine"]


def test_sources_come_from_the_table():
    assert "Solid Round Wires" in lesson.sources("ASTM-B258").text
    with pytest.raises(bc.Fault, match="ASTM-B258"):
        lesson.sources("ASTM-B259")


def test_a_folded_answer():
    assert re.fullmatch(r"<details><summary>answer</summary>\n\n\*\*12 W\*\*\n\n</details>", lesson.answer("**12 W**").text)
