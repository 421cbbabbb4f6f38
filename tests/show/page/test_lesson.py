"""What every page says from code: the sheet, cautions where their trigger holds, margins, sources, digits."""

import re
from dataclasses import replace

import pytest

import benchcalc as bc
from benchcalc.basics.band import Band
from benchcalc.chain.cautions.cautions import cautions_for, facts_of, meets
from benchcalc.chain.heat.holes import with_break
from benchcalc.sheet.build import Joint, Layer, Marker
from benchcalc.show.page import lesson
from benchcalc.show.page.table import as_difference

# For each caution of data/cautions.csv a change of the demo that must bring it (None: the demo itself does).
WITH_LAYER = {
    "mica-dust": "mica plate",
    "ceramic-fibre-dust": "ceramic fibre",
    "glass-sleeve-dust": "bare glass sleeve",
    "cement-steam": "sodium silicate cement",
}
CHANGES = {
    "refuse-mains": {"supply.open_v": 230.0},
    "above-dry-touch-ac": {"supply.open_v": 27.0},
    "above-extra-low-ac": {"supply.open_v": 51.0},
    "battery-short": {"supply.kind": "battery"},
    "no-bare-lithium": {"supply.kind": "battery"},
    "switching-closed": {"supply.kind": "switching supply"},
    "above-dry-touch-dc": {"supply.kind": "battery", "supply.open_v": 61.0},
    "above-extra-low-dc": {"supply.kind": "battery", "supply.open_v": 121.0},
    "bare-wire-fire": {"coil.mounting": "open coil in air"},
    "foam-fumes": {"want.job": "foam, cutting"},
}


WITH_PART = {
    "brass-hot": ("brass", None),
    "galvanised-strip": ("galvanised steel", None),
    "galvanised-peels": ("galvanised steel", None),
    "zinc-melts": ("zinc", None),
    "lead-hands": ("lead", None),
    "lead-fume": ("lead", None),
    "beryllium": ("beryllium copper", None),
    "chrome-plate": ("chromed steel", None),
    "chrome-hot": ("chromed steel", None),
    "paint-burns": ("mild steel", "painted"),
    "stainless-fume": ("stainless 304", None),
    "aluminium-soft": ("aluminium", None),
}
WITH_HOT_LAYER = {
    "silicone-sleeve-smoke": "glass-sleeve-silicone-rubber",
    "cement-leaks": "sodium silicate cement",
    "ptfe-fume": "PTFE",
    "pvc-fume": "PVC",
    "silicone-limit": "silicone rubber",
}
WITH_JOINT = {"cadmium-plating": "clearance with set screw", "solder-lets-go": "soldered", "press-hot": "pressed fresh"}
WITH_JOB = {
    "wax-fire": ("wax_pot", "wax, dipping"),
    "wax-hot": ("wax_pot", "wax, dipping"),
    "foam-hot": ("foam_bow", "foam, cutting"),
    "foam-polyurethane": ("foam_bow", "foam, cutting"),
    "solder-fume": ("foil_iron", "solder, Sn60Pb40"),
    "plastic-fume": ("insert_press", "insert, PLA"),
    "branding-smoke": ("insert_press", "wood, branding"),
}
BROUGHT = {
    "switch-low-side": "power held",
    "control-is-no-guard": "power held",
    "controller-input": "controller chosen",
    "asbestos-look-alike": "layer unknown board",
    "beryllia": "layer unknown ceramic",
}  # no sheet can hold them: a page brings them


HOTTER = {
    "brass-hot": 0.4,
    "zinc-melts": 0.4,
    "lead-fume": 0.4,
    "cement-leaks": 0.4,
    "foam-hot": 0.3,
}  # shorter wire, more watts


def build_for(caution):
    build = built(caution)
    return bc.change(build, "coil.length_m", HOTTER[caution]) if caution in HOTTER else build


def built(caution):
    build = bc.load_chosen()
    if caution in WITH_LAYER:
        return replace(build, layer=(Layer(("stem", "coil"), WITH_LAYER[caution], 1e-3),))
    if caution == "drill-tube":
        return with_break(build)
    if caution == "old-appliance":
        return replace(build, wire=tuple(replace(w, used=True) for w in build.wire))
    if caution in WITH_PART:
        material, finish = WITH_PART[caution]
        return replace(
            build, part=tuple(replace(p, material=material, finish=finish) if p.id == "stem" else p for p in build.part)
        )
    if caution in WITH_HOT_LAYER:
        return replace(build, layer=(Layer(("stem", "coil"), WITH_HOT_LAYER[caution], 0.3e-3),))
    if caution in WITH_JOINT:
        return replace(build, joint=(Joint(("tip", "stem"), WITH_JOINT[caution]), *build.joint[1:]))
    if caution in WITH_JOB:
        return replace(bc.load_chosen(WITH_JOB[caution][0]), want=replace(build.want, job=WITH_JOB[caution][1]))
    if caution == "marker-unsafe":
        return replace(build, marker=(Marker("cadmium", 0.05, 600.0),))
    if caution == "glue-ceiling":
        pot = bc.load_chosen("wax_pot")
        return replace(pot, part=tuple(replace(p, material="hide glue") if p.role == "work" else p for p in pot.part))
    for path, value in CHANGES.get(caution, {}).items():
        build = bc.change(build, path, value)
    return build


@pytest.mark.parametrize("caution", [r["id"] for r in bc.rows("cautions")])
def test_every_caution_appears_where_its_trigger_holds(caution):
    build = build_for(caution)
    workings = bc.work_out(build, samples=0)
    extra = (BROUGHT[caution],) if caution in BROUGHT else ()
    assert caution in [r["id"] for r in cautions_for(build, workings, extra)]
    row = next(r for r in bc.rows("cautions") if r["id"] == caution)
    assert row["sentence"] in lesson.cautions(build, workings, extra=extra).text


def test_cautions_stay_away_where_nothing_triggers_them():
    new = replace(bc.load_chosen(), wire=bc.load_chosen().wire[:1])  # without the scrap box
    own = {r["id"] for r in cautions_for(new, bc.work_out(new, samples=0))}
    away = (
        set(CHANGES)
        | set(WITH_PART)
        | set(WITH_HOT_LAYER)
        | set(WITH_JOB)
        | set(BROUGHT)
        | {"solder-lets-go", "press-hot", "glue-ceiling"}
    )
    assert not own & (away | {"ceramic-fibre-dust", "cement-steam", "old-appliance", "marker-unsafe"})
    bare = replace(
        bc.load_chosen(), supply=type(bc.load_chosen().supply)(), wire=(), coil=None, layer=(), part=(), joint=()
    )
    assert cautions_for(bare) == () and "hot wire still burns" in lesson.cautions(bare, None).text


@pytest.mark.parametrize(
    "trigger, facts, holds",
    [
        ("open_v_ac>25", {"open_v_ac": 25.0}, False),
        ("open_v_ac>25", {"open_v_ac": 25.01}, True),
        ("open_v_ac>25", {}, False),
        ("layer mica", {"layer mica": True}, True),
        ("layer mica", {}, False),
    ],
)
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
    assert "anchor turns, wound tight to hold each end 2;" in text and "hours a year 60;" in text
    rows = dict(re.findall(r"^\| (\w+) \|.*\| (.*) \|$", text, flags=re.M))
    assert "16.7 V at 1.12 A" in rows["measured"] and "wire length in the coil 733 mm" in rows["stated"]
    assert "resistivity" in rows["table"] and "air speed" in rows["assumed"]


def test_the_margin_line_tells_the_worst_first():
    workings = bc.work_out(bc.change(bc.load_chosen(), "coil.length_m", 1.0), samples=0)
    verdict = next(v for _, v in workings.verdicts if v.state == "over")
    text = lesson.margin_line(workings).text
    verdict = lesson.worst(workings)[0]
    for said in (
        verdict.what,
        bc.say(verdict.key, verdict.value),
        bc.say(verdict.key, verdict.limit),
        bc.say(as_difference(verdict.key), verdict.margin),
        verdict.source,
    ):
        assert said in text
    states = [v.state for v in lesson.worst(workings, 20)]
    assert states == sorted(states, key=("over", "tight", "not known", "fine", "does not apply").index)


def test_the_chain_shows_every_link_in_word_and_mark():
    build = bc.load_chosen("foil_iron")
    rows = {row[0]: row for row in lesson.at_a_glance(build, bc.work_out(build)).rows}
    assert (
        set(rows) >= {"supply", "wire", "coil"}
        and "tight" in rows["coil"][1]
        and "gap between turns" in rows["coil"][3]
    )
    assert "over" in rows["control"][1] and bc.say("set_c", 350.0) in rows["control"][2]


def test_the_summary_follows_the_results():
    build = bc.load_chosen()
    text = lesson.summary(bc.work_out(bc.change(build, "coil.length_m", 1.0), samples=0), build).text
    assert "1 over" in text and "too long" in text and bc.say("length_m", 1.0) in text
    (over,) = (line for line in text.split("- **heat**")[0].splitlines() if line.startswith("  - █ over: "))
    assert over.startswith("  - █ over: length of the winding (")  # what is past which limit, before why
    assert "at most 42.9 mm). It " in over


def test_digits_behind_a_page(capsys):
    lesson.numbers_behind(
        coil_w=20.2605006,
        share=0.123456,
        turns=(34.36222, 1e-7),
        band_w=Band(20.26, 16.32008, 23.38774),
        word="fine",
        samples=("share",),
    )
    assert capsys.readouterr().out.splitlines() == [
        "coil_w = 20.261",
        "share = 0.123",
        "turns = 34.362, 1e-07",
        "band_w = 20.26 (16.3 to 23.4)",
        "word = fine",
    ]


def test_sources_come_from_the_table():
    assert "Solid Round Wires" in lesson.sources("ASTM-B258").text
    with pytest.raises(bc.Fault, match="ASTM-B258"):
        lesson.sources("ASTM-B259")


def test_a_folded_answer():
    assert re.fullmatch(
        r"<details><summary>answer</summary>\n\n\*\*12 W\*\*\n\n</details>", lesson.answer("**12 W**").text
    )


@pytest.mark.parametrize("volts, stop", [(60.0, "above-extra-low-ac"), (230.0, "refuse-mains")])
def test_no_page_leaves_out_a_caution_that_says_stop(volts, stop):
    build = bc.read(f'[sheet]\nname = "x"\n[supply]\nkind = "transformer"\nopen = "{volts} V"\n')
    box = lesson.cautions(build, bc.work_out(build, samples=0), only=("mains-primary",)).text
    sentence = next(r["sentence"] for r in bc.rows("cautions") if r["id"] == stop)
    assert sentence in box and box.index("Stop:") < box.index("mains voltage: work on nothing")


def test_values_that_are_only_counted_are_called_by_where_they_stand():
    """The press has ten readings of a soak with a meter, and neither controller nor sensor; the pot has both."""
    press, pot = bc.load_chosen("insert_press"), bc.load_chosen("wax_pot")
    told = {how: words for how, _, words in lesson.known_inputs(press, "supply", "soak")}
    measured = sum(k.how == "measured" for p, k in press.known.items() if p.startswith("soak."))
    assert told["measured"].endswith(f"; {measured} values of the soak test") and "parts" not in str(told)
    told = {how: words for how, _, words in lesson.known_inputs(pot, "control", "sensor")}
    assert "values of the control" in told["assumed"] and "value of the sensor" in told["assumed"]


def test_a_wire_temperature_that_the_heat_model_finds_is_no_assumed_input():
    press, bow = bc.load_chosen("insert_press"), bc.load_chosen("foam_bow")
    for build in (press, bow):
        assert build.known["coil.wire_temp_c"].how == "assumed"
        told = {how: words for how, _, words in lesson.known_inputs(build, "coil")}
        assert "wire temperature" not in told.get("assumed", "")
    bare = replace(press, part=(), layer=(), joint=(), coil=replace(press.coil, on=None))  # nothing finds it
    assert "wire temperature" in {how: words for how, _, words in lesson.known_inputs(bare, "coil")}["assumed"]


def test_a_doubt_typed_without_an_instrument_is_stated_and_a_band_of_nothing_is_left_out():
    """A room of 20 degC +- 5 K nobody read; a length by the ruler is read, and shows no ends that look the same."""
    text = bc.chosen("insert_press").read_text(encoding="utf-8")
    build = bc.read(text.replace('length = "733 mm"', 'length = "1250 mm with ruler"'))
    told = {how: words for how, _, words in lesson.known_inputs(build, "coil", "room", "supply")}
    assert "room 20 degC (15 to 25)" in told["stated"] and "room" not in told["measured"]
    assert "wire length in the coil 1250 mm" in told["measured"] and "1250 mm (" not in told["measured"]
    many = ("layer", "joint", "part", "heat.wire_metal_place")
    one = replace(build, known={p: k for p, k in build.known.items() if not p.startswith(many)})
    few = dict(one.known) | {"part.tip.outer_m": build.known["part.tip.outer_m"]}
    assert "1 value of parts" in repr(lesson.known_inputs(replace(one, known=few)))
