"""What a panel tries is what the cure says, and what it keeps is where it then begins: by the whole chain of the sheet
so changed."""

import pytest
from wood_pen import pen_text

import benchcalc as bc
from benchcalc.chain.heat.holes import with_moves
from benchcalc.show.control.panel import control_panel, to_hold
from benchcalc.show.handle.panel import handle_panel
from benchcalc.show.heat.panel import ROWS, heat_panel
from benchcalc.show.insulation.panel import insulation_panel
from benchcalc.show.metals.panel import metals_panel
from benchcalc.show.panel.handles import handle_value
from benchcalc.show.panel.mending import mend_panel
from benchcalc.show.panel.sliders import Slider
from benchcalc.show.supply.panel import supply_panel
from benchcalc.show.wire.panel import wire_panel
from benchcalc.studies.cures import cures_of
from benchcalc.studies.mend_first import mend_first
from benchcalc.studies.settings import with_settings

LONGER = {"part.handle.from_m": 0.16, "part.handle.to_m": 0.28, "part.tube.to_m": 0.2}
HEAT, HANDLE = tuple(field for _, field in ROWS), ("entry_c", "grip_c")


@pytest.fixture
def pen(tmp_path, monkeypatch):
    monkeypatch.setenv("BENCHCALC_MY", str(tmp_path))
    own = tmp_path / "pen.toml"
    own.write_text(pen_text(), encoding="utf-8")
    return bc.load(own)


def sheet(name):
    return bc.read(pen_text()) if name == "pen" else bc.load_chosen(name)


def numbers(part, fields):
    return [getattr(part, field) for field in fields]


def near(values):
    return pytest.approx(values, rel=1e-4, abs=0.01, nan_ok=True)


def shows(made, moves):
    """That every slider of a panel stands within its ends, and where the moves have it."""
    for s in made.spec.sliders:
        handle = made.handles[s.path]
        if isinstance(s, Slider):
            assert handle.min <= handle.value <= handle.max, s.path
        if s.path in moves and s.path != "want.power_w":  # the watts are those that the coil then takes
            assert handle.value == handle_value(s, made.spec.build, moves[s.path])


@pytest.mark.parametrize("name", ["pen", "insert_press", "wax_pot", "foil_iron"])
def test_every_change_is_shown_as_the_whole_chain_has_it(name):
    """Also those that no slider reaches, and holes where the sheet has none."""
    build = sheet(name)
    made, cures = heat_panel(build), cures_of(build)
    for cure in cures:
        made.try_on(dict(cure.moves), cure.words)
        alone = bc.work_out(cure.on(build), samples=0)
        assert numbers(made.good.result[3], HEAT) == near(numbers(alone.heat, HEAT)), cure.words
        assert made.moved() == dict(cure.moves) and "Tried" in made.told.value and not made.trouble
        shows(made, dict(cure.moves))
    words = {cure.words for cure in cures}
    assert name == "wax_pot" or {"40 mm more bare tube", "two rings of holes"} <= words
    before = made.good.rows
    made.reset()
    assert made.good.rows == heat_panel(build).good.rows != before and not made.moved()


@pytest.mark.parametrize(
    "begin, links, part, fields",
    [
        (heat_panel, ("heat", "handle"), lambda made: made.good.result[3], HEAT),
        (handle_panel, ("handle", "leads"), lambda made: made.good.result[4], HANDLE),
        (wire_panel, ("wire", "coil", "heat: hottest wire"), lambda made: made.good.result[2], ("coil_w", "turns")),
        (control_panel, ("control",), lambda made: made.good.result.control, ("full_c", "held_c", "hold_w")),
    ],
)
@pytest.mark.parametrize("name", ["pen", "insert_press"])
def test_a_button_of_what_to_mend_lands_on_the_numbers_of_its_cure(begin, links, part, fields, name):
    build = sheet(name)
    if begin is wire_panel:
        build = bc.settled(bc.change(build, "coil.length_m", 0.08))  # it would melt
    if begin is control_panel:
        build = with_settings(to_hold(build)[0])
    found, made = mend_first(build, bc.work_out(build, samples=20), links), begin(build)
    mending = mend_panel(build, found, made)
    cures = list(dict.fromkeys((m.cure, m.cured) for m in found.first if m.cure is not None))
    assert len(mending.buttons) == len(cures) > 0
    link = {wire_panel: "coil", control_panel: "control", handle_panel: "handle", heat_panel: "heat"}[begin]
    for button, (cure, _) in zip(mending.buttons, cures):
        button.click()
        alone = bc.work_out(cure.on(build), samples=0).parts[link]
        assert numbers(part(made), fields) == near(numbers(alone, fields)), cure.words
        assert made.moved() == dict(cure.moves)


def test_what_was_tried_is_kept_to_the_millimetre_and_the_list_names_the_sheets_own_metal(pen):
    made, steel = heat_panel(pen), "part.tube.material"
    made.try_on(LONGER | {steel: "stainless-304"})
    assert "mild-steel, as on the sheet" in dict(made.handles[steel].options)
    assert made.handles["part.handle.from_m"].max >= 160 > heat_panel(pen).handles["part.handle.from_m"].max
    shown = made.good.rows
    made.keep()
    kept = bc.load(pen.file)
    assert {path: bc.get(kept, path) for path in LONGER} == pytest.approx(LONGER)
    assert bc.get(kept, steel) == "stainless-304" and made.good.rows == shown == heat_panel(kept).good.rows
    assert "stainless-304, as on the sheet" in dict(made.handles[steel].options) and not made.moved()


def test_a_slider_goes_on_from_what_is_tried(pen):
    made = heat_panel(pen)
    made.try_on(LONGER)
    made.set("part.handle.from_m", 0.15)
    alone = bc.work_out(with_moves(pen, LONGER | {"part.handle.from_m": 0.15}), samples=0)
    assert made.moved() == LONGER | {"part.handle.from_m": 0.15}
    assert made.good.result[3].entry_c == pytest.approx(alone.heat.entry_c, abs=0.5)
    made.reset()
    assert not made.moved() and made.told.value == "Everything is as on the sheet."


def test_what_cannot_be_tried_is_told_and_nothing_else_is_kept(pen):
    made, before = heat_panel(pen), pen_text()
    made.try_on({"part.tube.outer_m": -1e-3, "part.handle.from_m": 0.12})
    assert "Not possible" in made.view.value and made.keeper.disabled and not made.moved()
    made.keep()
    assert "Not kept" in made.told.value and bc.load(pen.file).part == pen.part
    with open(pen.file, encoding="utf-8") as file:
        assert file.read() == before
    made.reset()
    assert not made.trouble and not made.keeper.disabled


@pytest.mark.parametrize(
    "begin, moved",
    [
        (heat_panel, {"part.stem.material": "brass"}),
        (heat_panel, {"want.power_w": 15.0}),
        (handle_panel, {"part.handle.from_m": 0.11}),
        (wire_panel, {"coil.length_m": 0.7}),
        (supply_panel, {"room.ambient_c": 30.0}),
        (metals_panel, {"part.stem.outer_m": 4.3e-3}),
        (insulation_panel, {"layer.0.thickness_m": 0.2e-3}),
        (control_panel, {"control.set_c": 200.0}),
    ],
)
def test_after_keeping_a_panel_stands_where_it_begins_on_the_kept_sheet(pen, begin, moved):
    """So that no number jumps when the page is run again, nor when the panel goes back to the sheet."""

    def of_page(build):
        build = bc.settled(build) if begin is wire_panel else build
        return begin(with_settings(to_hold(build)[0])) if begin is control_panel else begin(build)

    made = of_page(pen)
    for path, value in moved.items():
        made.set(path, value)
    before = made.good.rows
    made.keep()
    again = of_page(bc.load(pen.file))
    assert "Kept in pen.toml" in made.told.value and not made.moved()
    assert made.good.rows == again.good.rows and made.good.caption == again.good.caption
    assert {p: h.value for p, h in made.handles.items()} == {p: h.value for p, h in again.handles.items()}
    assert [word for word, _ in before] == [word for word, _ in made.good.rows]
    made.reset()
    assert made.good.rows == again.good.rows and made.told.value == "Everything is as on the sheet."


def test_keeping_a_metal_moves_no_temperature_by_more_than_the_watts_that_the_coil_then_takes(pen):
    """Its ohms follow the wire's heat: less than a hundredth of the rise."""
    made = heat_panel(pen)
    made.set("part.stem.material", "brass")
    before = made.good.result[3]
    made.keep()
    workings = bc.work_out(bc.load(pen.file))
    for field in HEAT[:2]:
        now = getattr(made.good.result[3], field)
        assert now == pytest.approx(getattr(workings.heat, field), abs=0.1)
        assert abs(now - getattr(before, field)) < 0.01 * (now - 20.0)
    assert dict(made.good.rows)["tip"] == bc.band_text(workings.bands["heat.tip_c"], "tip_c")


def test_a_metal_past_its_long_service_is_told_where_it_is_picked(pen):
    """Source: data/metal_values.csv: the cautious end in air is 300 degC for brass, 480 for plain steel."""
    made = heat_panel(pen)

    def told(id):
        return [v for v in made.good.verdicts if v.what == f"long service of the {id}"]

    assert told("stem")[0].limit == 480.0
    made.set("part.tube.material", "brass")
    assert told("tube")[0].limit == 300.0 and told("tube")[0].state == "over"
    made.set("part.stem.material", "brass")
    (over,) = told("stem")
    heat = made.good.result[3]
    assert over.state == "over" and over.limit == 300.0 and over.value == heat.hottest("stem") > 300.0
    assert over.band.low < over.value < over.band.high
