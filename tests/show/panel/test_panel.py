"""The panel: the same results at every end of every slider, keeping, faults, what is saved.  No browser here."""

import base64
import io
import re
import threading
import time
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

import benchcalc as bc
from benchcalc.basics.fault import fault
from benchcalc.heater import wire
from benchcalc.sheet.choose import new_sheet
from benchcalc.show.page.worked import worked
from benchcalc.show.panel.handles import handle_of
from benchcalc.show.panel.panel import panel
from benchcalc.show.panel.panel_html import at_its_end
from benchcalc.show.panel.sliders import (
    Choice,
    Slider,
    Telling,
    fitting,
    headlines,
    plan,
    results_at,
    scale_of,
    settings,
    to_si,
)
from benchcalc.show.wire.stacked_figure import WIRE_SIZING

SAYS = headlines(("power in the coil", "coil.coil_w"), ("current", "coil.load_a"), ("turns", "coil.turns"))


def sliders_for(build):
    own = build.coil.wire
    return [
        Slider("coil.length_m", 0.2, 1.5, 0.005, "coil length"),
        Slider("coil.pitch_m", 0.3e-3, 3e-3, 0.02e-3, "pitch"),
        Slider("want.power_w", 5, 60, 1, "wanted power"),
        Slider("supply.open_v", 6, 48, 0.2, "no-load voltage"),
        Slider(f"part.{build.coil.on}.outer_m", 3e-3, 12e-3, 0.25e-3, "former"),
        Choice(f"wire.{own}.gauge", ("34 AWG", "30 AWG", "24 AWG"), "wire size"),
        Choice(f"wire.{own}.alloy", (("Ni-Cr 80/20", "nicr-80-20"), ("Cu-Ni 44", "cuni-44")), "alloy"),
    ]


def derive(parts, _):
    return [worked(wire.cold_resistance, linear_ohm_per_m=parts[1].linear_ohm_per_m, length_m=parts[2].length_m)]


@pytest.fixture
def mine(tmp_path, monkeypatch):
    monkeypatch.setenv("BENCHCALC_MY", str(tmp_path / "my"))
    return tmp_path / "my"


def make(name="insert_press", **how):
    build = bc.settled(bc.load_chosen(name) if isinstance(name, str) else name)
    return panel(build, sliders_for(build), bc.links, WIRE_SIZING, Telling(SAYS, derive=derive, **how))


def picture_in(shown):
    data = re.search(r'src="data:image/png;base64,([^"]+)"', shown.view.value)[1]
    return Image.open(io.BytesIO(base64.b64decode(data)))


@pytest.mark.parametrize("name", bc.demos())
def test_the_plain_function_at_every_end_of_every_slider(name):
    build = bc.load_chosen(name)
    spec = plan(build, sliders_for(build), bc.links, WIRE_SIZING, Telling(SAYS))
    tried = settings(spec)
    assert len(tried) == 3 + 2 * len(spec.sliders)
    for where, moved in tried:
        at = results_at(spec, moved)
        for path, value in moved.items():
            assert bc.get(at.build, path) == value, where
        coil = at.result[2]
        assert 0 < coil.coil_w < 5000 and 0 < coil.load_a < 500, where
        assert coil.coil_w == pytest.approx(coil.load_a**2 * coil.hot_ohm), where
        assert at.caption and len(at.rows) == 3 and at.verdicts
        for word, text in at.rows:
            assert text and "nan" not in text, (where, word, text)
        if "coil.coil_w" in at.extra and at.extra["coil.coil_w"].low == at.extra["coil.coil_w"].low:
            assert at.extra["coil.coil_w"].low <= at.extra["coil.coil_w"].high


def test_all_of_it_is_drawn_at_every_setting():
    shown = make()
    for _, moved in settings(shown.spec):
        shown.live.png(results_at(shown.spec, moved, rest=False).numbers)


def test_the_start_is_the_sheet_itself():
    shown = make()
    workings = bc.work_out(shown.spec.build)
    assert shown.moved() == {} and shown.good.result[2] == workings.coil
    assert dict(shown.good.rows)["power in the coil"] == bc.band_text(workings.bands["coil.coil_w"], "coil_w")


def test_a_moved_slider_moves_picture_numbers_and_words():
    shown = make()
    before, picture = shown.view.value, picture_in(shown)
    shown.set("coil.length_m", 0.9)
    alone = bc.links(bc.change(shown.spec.build, "coil.length_m", 0.9))[2]
    assert bc.say("coil_w", alone.coil_w) in shown.view.value and shown.view.value != before
    assert not np.array_equal(np.asarray(picture), np.asarray(picture_in(shown)))
    assert "does not fit" in shown.view.value and shown.moved() == {"coil.length_m": 0.9}
    assert "900" in shown.math.value


def test_while_it_moves_the_band_is_said_to_be_on_its_way(monkeypatch):
    shown = make()
    monkeypatch.setattr(shown.resting, "later", lambda: True)
    shown.set("coil.length_m", 0.6)
    assert "working out the band" in shown.view.value and shown.good.extra is None
    shown._rest()
    assert "working out the band" not in shown.view.value and shown.good.extra["coil.coil_w"].low > 0


def test_the_band_follows_by_itself_where_a_loop_runs():
    import asyncio

    async def play():
        shown = make()
        for x in (0.5, 0.6, 0.7):
            shown.set("coil.length_m", x)
        assert "working out the band" in shown.view.value
        await asyncio.sleep(0.6)
        assert "working out the band" not in shown.view.value
        assert shown.good.build.coil.length_m == pytest.approx(0.7)

    asyncio.run(play())


def test_a_fault_is_told_and_the_last_good_picture_stays():
    shown = make()
    good = shown.png

    def refuse(build):
        if build.coil.length_m > 1:
            raise fault("coil.length", "1.2 m", "is more than the reel holds.")
        return bc.links(build)

    shown.spec = replace(shown.spec, work=refuse)
    shown.set("coil.length_m", 1.2)
    assert "is more than the reel holds" in shown.view.value and "Not possible" in shown.view.value
    assert shown.png == good
    shown.set("coil.length_m", 0.8)
    assert "Not possible" not in shown.view.value and shown.png != good


def test_back_to_the_sheet():
    shown = make()
    start = shown.view.value
    shown.set("coil.length_m", 0.9)
    shown.set("wire.reel.gauge", "24 AWG")
    shown.reset()
    assert shown.moved() == {} and shown.view.value == start


def test_keeping_a_demo_makes_a_copy_with_its_comments(mine):
    shown = make()
    demo = Path(shown.spec.build.file)
    before = demo.read_text(encoding="utf-8")
    shown.set("coil.length_m", 0.748)
    shown.set("want.power_w", 19.0)
    shown.keep()
    own = mine / "my_insert_press.toml"
    text = own.read_text(encoding="utf-8")
    assert demo.read_text(encoding="utf-8") == before
    assert 'length = "748 mm"' in text and 'power = "19 W"' in text
    for comment in re.findall(r"^#.*$", before, flags=re.M)[1:]:  # the first says whose sheet it is
        assert comment in text
    assert text.startswith("# Your own sheet, begun from insert_press.\n")
    assert text.count("\n") == before.count("\n") + 1 and 'begun_from = "insert_press"' in text
    assert "my_insert_press" in shown.told.value and "748 mm" in shown.told.value and shown.moved() == {}
    assert bc.load_chosen(str(own)).coil.length_m == pytest.approx(0.748)


def test_keeping_again_writes_the_same_sheet_and_keeps_the_version_before(mine):
    shown = make()
    for x in (0.74, 0.75):
        shown.set("coil.length_m", x)
        shown.keep()
    assert sorted(p.name for p in mine.glob("*.toml*")) == ["my_insert_press.toml", "my_insert_press.toml.previous"]
    assert 'length = "740 mm"' in (mine / "my_insert_press.toml.previous").read_text(encoding="utf-8")
    assert 'length = "750 mm"' in (mine / "my_insert_press.toml").read_text(encoding="utf-8")


def test_a_second_copy_takes_a_fresh_name(mine):
    for _ in range(2):
        shown = make()
        shown.set("coil.length_m", 0.74)
        shown.keep()
    assert sorted(bc.my_sheets()) == ["my_insert_press", "my_insert_press_2"]


def test_keeping_what_a_sheet_cannot_hold_is_told_and_changes_nothing(mine):
    build = bc.load_chosen()
    shown = panel(
        build, [Slider("supply.mains", 0.9, 1.1, 0.01, "mains, share of today's")], bc.links, WIRE_SIZING, Telling(SAYS)
    )
    shown.set("supply.mains", 1.05)
    shown.keep()
    assert "Not kept" in shown.told.value and not mine.exists() and shown.moved() == {"supply.mains": 1.05}


def test_a_lent_demo_has_nothing_to_keep_and_says_whose_it_is(mine, monkeypatch):
    monkeypatch.delenv("BENCHCALC_SHEET", raising=False)
    new_sheet("tin")
    shown = make(replace(bc.load_chosen("insert_press"), lent="insert_press"))
    shown.set("coil.length_m", 0.74)
    said = " ".join(w.value for w in words_of(shown))
    assert shown.keeper is None and "Of the demo insert_press, not of your tool" in said and "nothing of yours" in said
    shown.keep()
    assert "Not kept" in shown.told.value and bc.my_sheets() == ["tin"] and bc.chosen().stem == "tin"


def test_keeping_a_demo_leaves_a_chosen_sheet_of_ones_own_chosen(mine, monkeypatch):
    monkeypatch.delenv("BENCHCALC_SHEET", raising=False)
    new_sheet("tin")
    shown = make(bc.load_chosen("insert_press"))
    shown.set("coil.length_m", 0.74)
    shown.keep()
    assert "your chosen sheet is still tin" in shown.told.value and bc.chosen().stem == "tin"
    assert bc.load_chosen("my_insert_press").coil.length_m == pytest.approx(0.74)


def words_of(shown):
    """Every HTML widget in a panel."""
    found, boxes = [], [shown]
    while boxes:
        inner = boxes.pop().children
        boxes += [w for w in inner if hasattr(w, "children")]
        found += [w for w in inner if type(w).__name__ == "HTML"]
    return found


def test_keeping_nothing_says_so(mine):
    shown = make()
    shown.keep()
    assert "Nothing was moved" in shown.told.value and not mine.exists()


def test_what_is_saved_reads_without_a_kernel():
    shown = make()
    data, notes = shown._repr_mimebundle_()
    assert "application/vnd.jupyter.widget-view+json" in data
    assert data["text/plain"].startswith("Live panel") and data["text/plain"].endswith("run this page to move it.")
    assert len(base64.b64decode(data["image/png"])) < 44_000 and notes["image/png"]["alt"] == shown.good.caption


def test_the_picture_has_words_and_a_fixed_size():
    shown = make()
    alt = re.search(r'alt="([^"]+)"', shown.view.value)[1]
    assert alt.startswith("To scale") and "today" in alt
    width, height = (int(x) for x in re.search(r'width="(\d+)" height="(\d+)"', shown.view.value).groups())
    assert picture_in(shown).size == (width, height)


def heights(text):
    return re.findall(r"height:(\d+)px", text)


def test_nothing_jumps_while_a_slider_moves(monkeypatch):
    shown = make()
    monkeypatch.setattr(shown.resting, "later", lambda: True)
    start = list(heights(shown.view.value))
    for x in (0.3, 0.8, 1.4):
        shown.set("coil.length_m", x)
        assert heights(shown.view.value) == start


@pytest.mark.parametrize("name, unit", [("insert_press", "mm"), ("foam_bow", "in")])
def test_sliders_show_label_and_unit_of_the_sheet(name, unit):
    shown = make(name)
    handle = shown.handles["coil.length_m"]
    assert handle.description == f"coil length, {unit}" and handle.continuous_update
    size = {"mm": 1e-3, "in": 0.0254}[unit]
    assert handle.value * size == pytest.approx(shown.spec.build.coil.length_m)
    assert handle.min * size == pytest.approx(0.2, abs=0.006) and handle.max * size == pytest.approx(1.5, abs=0.006)


def test_a_slider_steps_through_the_sheets_own_value():
    build = bc.load_chosen()
    scale = scale_of(Slider("coil.length_m", 0.2, 1.5, 0.005, ""), build)
    assert scale.step == 5 and (733 - scale.low) % 5 == pytest.approx(0)
    assert to_si(Slider("coil.length_m", 0.2, 1.5, 0.005, ""), build, 733) == 0.733


@pytest.mark.parametrize("start, step, ends", [(20.18178923, 0.5, "1.2 to 40.2"), (20.0, 0.25, "1.00 to 40.25")])
def test_the_ends_of_a_slider_are_told_as_it_shows_itself(start, step, ends):
    build = bc.change(bc.load_chosen(), "want.power_w", start)
    handle = handle_of(Slider("want.power_w", 1.0, 40.4, step, "power"), build)
    for end in (handle.min, handle.max):
        handle.value = end
        assert f"goes from {ends}. " in at_its_end(handle) and f"{end:{handle.readout_format}}" in ends.split(" to ")
    handle.value = handle.start
    assert at_its_end(handle) == "" and handle.value == pytest.approx(start)


def test_a_temperature_slider_in_fahrenheit():
    build = replace(bc.load_chosen(), degrees="F")
    slider = Slider("coil.wire_temp_c", 200, 900, 10, "wire temperature")
    scale = scale_of(slider, build)
    assert scale.unit == "degF" and scale.low == pytest.approx(392, abs=scale.step) and to_si(slider, build, 212) == 100


def test_sliders_that_a_sheet_has_no_field_for_are_left_out():
    build = bc.load_chosen("foam_bow")
    paths = [s.path for s in fitting(sliders_for(build), build)]
    assert "coil.pitch_m" not in paths and "coil.length_m" in paths
    with pytest.raises(bc.Fault, match="coil.lenght_m"):
        fitting([Slider("coil.lenght_m", 0, 1, 0.1, "")], build)


def test_a_silent_field_starts_where_the_links_put_it():
    shown = make()
    assert shown.spec.build.supply.open_v is None
    assert shown.handles["supply.open_v"].value == pytest.approx(shown.good.result[0].open_v)


def test_a_length_that_the_page_worked_out_can_be_kept(mine):
    """A sheet that says no length: the slider starts at the length for the wanted power, and keep writes it."""
    mine.mkdir(parents=True, exist_ok=True)
    own = mine / "mine.toml"
    own.write_text(
        Path(bc.load_chosen("insert_press").file).read_text(encoding="utf-8").replace('length = "733 mm"\n', "", 1),
        encoding="utf-8",
    )
    build = bc.settled(bc.load(own))
    shown = panel(build, sliders_for(build), bc.links, WIRE_SIZING, Telling(SAYS))
    shown.keep()
    assert bc.load(own).coil.length_m == pytest.approx(bc.links(build)[2].length_m, abs=3e-3)


def test_two_threads_of_a_front_end_work_out_one_tool_after_the_other():
    """A page that is pressed and moved at once: never two at work, and in the end the numbers of the sheet."""
    build, inside, most = bc.settled(bc.load_chosen("insert_press")), [], []

    def work(moved):
        inside.append(1)
        most.append(len(inside))
        time.sleep(0.02)
        inside.pop()
        return bc.links(moved)

    made = panel(build, sliders_for(build), work, WIRE_SIZING, Telling(SAYS))
    first, handle = made.view.value, made.handles["coil.pitch_m"]
    moving = [threading.Thread(target=setattr, args=(handle, "value", x)) for x in (1.0, 2.0)]
    moving += [threading.Thread(target=made.reset), threading.Thread(target=made.hold, args=("A",))]
    for one in moving:
        one.start()
    for one in moving:
        one.join()
    made.reset()
    assert max(most) == 1 and made.view.value == first and not made.moved()


def test_a_handle_that_is_put_back_and_rounded_by_the_browser_leaves_the_word_on_it():
    made = make()
    handle = made.handles["coil.pitch_m"]
    made.set("coil.pitch_m", 1.5e-3)
    made.reset()
    handle.value = handle.start * (1 - 1e-15)
    assert made.told.value == "Everything is as on the sheet." and not made.moved()


def test_a_number_of_the_sheet_in_a_list_has_its_unit():
    build = bc.load_chosen("insert_press")
    box = panel(
        build, [Choice("room.ambient_c", (("10 degC", 10.0), ("30 degC", 30.0)), "room")], bc.links, WIRE_SIZING,
        Telling(says=lambda *_: []),
    ).handles["room.ambient_c"]  # fmt: skip
    assert box.label == "20 degC"
