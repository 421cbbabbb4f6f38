"""A dial that full power does not reach: why, with the numbers of each step, what would reach it, and said once."""

import re

import pytest
from canonical import ROOT, demo_environment
from warm_shell import run_page
from wood_pen import pen_text

import benchcalc as bc
from benchcalc.basics.tables import one
from benchcalc.chain.heat.link import work_heat
from benchcalc.show.control.panel import SHORTER, control_panel, to_hold
from benchcalc.show.control.runaway_panel import sensor_off_panel
from benchcalc.studies.cures import own_cures
from benchcalc.studies.settings import with_settings


@pytest.fixture(scope="module")
def pen():
    """A pen of 350 degC whose pressed bead, behind a triac, reads some 300 at the most."""
    return with_settings(to_hold(bc.read(pen_text(stem="copper", held=True)))[0])


@pytest.fixture(scope="module")
def workings(pen):
    return bc.work_out(pen, samples=0)


def dict_c(made, word):
    """A temperature that a tile of a panel shows, degC."""
    return float(dict(made.good.rows)[word].split()[0])


def full(build):
    return bc.work_out(build, samples=0).control


def test_each_step_from_the_whole_watts_to_the_reading_has_its_number(pen, workings):
    control, heat, coil = workings.control, workings.heat, workings.coil
    assert "out of reach" in control.refused and control.full_c < 350.0 < heat.tip_c
    low, high = f"{control.low_c:.0f} with low mains", f"{control.high_c:.0f} with high ones"
    assert f"settles at {control.full_c:.0f} degC ({low}, {high})" in control.refused
    metal_c = work_heat(pen, workings.wire, coil, control.on_w).tip_c  # the tool alone, on what the switch leaves
    steps = [
        f"whole {coil.coil_w:.1f} W bring the tip to {heat.tip_c:.0f} degC",
        f"leaves {control.on_w:.1f} W of them",
        f"the tip comes to {metal_c:.0f} degC",
        "pressed bead 0 mm from the tip's end, reads less",
    ]
    places = [control.beyond.find(step) for step in steps]
    assert -1 not in places and places == sorted(places), control.beyond
    unseen = one("defaults", "key", "sensor.low_share/pressed bead")["value"]
    room = pen.room.ambient_c
    assert control.full_c == pytest.approx(room + (1 - unseen) * (metal_c - room), abs=2.0)


def test_what_would_reach_it_does(pen, workings):
    """The watts that the sentence names, put into the coil, bring the sensor just to the dial."""
    told = float(re.search(r"It takes ([\d.]+) W", workings.control.beyond)[1])
    needed = told / workings.control.on_w
    assert 1.0 < needed < 2.0
    seat = workings.control.standing
    reading = seat.settled(needed)[seat.seat.watch["sensor"][0][0]]
    assert reading == pytest.approx(350.0, abs=1.0)
    dial = float(re.search(r"a set point below (\d+) degC", workings.control.beyond)[1])
    assert not full(bc.change(pen, "control.set_c", dial - 5.0)).refused


def test_a_step_that_is_not_there_is_not_told(pen):
    near = full(bc.change(bc.change(pen, "sensor.attached", "peened or embedded"), "control.set_c", 600.0)).beyond
    assert "a sensor that reads nearer" not in near or "pressed" not in near
    relay = full(bc.change(bc.change(pen, "control.way", "relay"), "control.set_c", 600.0)).beyond
    assert "leaves" not in relay and relay.startswith("The tip comes to")


def test_the_verdict_offers_what_reaches_it_and_none_is_a_lower_dial(pen, workings):
    (verdict,) = [v for v in workings.of("control") if v.what == "set point within reach"]
    assert workings.control.beyond in verdict.why
    cures = own_cures(pen, workings, verdict)
    words = [cure.words for cure in cures]
    assert words[:2] == ["the sensor peened or embedded", "a relay as its switch"]
    assert not [c for c in cures if "control.set_c" in dict(c.moves)]
    reached = {cure.words: full(cure.on(pen)).full_c for cure in cures}
    assert all(c > workings.control.full_c for c in reached.values())
    assert max(reached.values()) > 350.0 and any(full(cure.on(pen)).low_c > 350.0 for cure in cures)


def test_the_panel_shows_the_reading_its_band_and_the_metal(pen, workings):
    made = control_panel(pen)
    told, control = dict(made.good.rows), workings.control
    assert told["held"].startswith("nothing")
    ends = f"({control.low_c:.0f} to {control.high_c:.0f} as the mains go)"
    assert told["sensor, power always on"] == f"{control.full_c:.0f} degC {ends}"
    assert dict_c(made, "tip, power always on") > control.full_c
    assert control.beyond in made.good.caption
    made.set("coil.length_m", 0.35)
    assert "held" not in dict(made.good.rows)  # shorter: it holds
    for panel in (made, sensor_off_panel(pen)):
        assert panel.handles["coil.length_m"].description.startswith(SHORTER)


def test_a_metal_past_its_long_service_as_held_is_told_by_the_panel(pen):
    """Source: data/metal_values.csv, copper: cautious end 400 degC in air, as advice."""
    made, what = control_panel(pen), "as held: long service of the stem"
    (over,) = [v for v in made.good.verdicts if v.what == what]  # full power for ever
    assert over.limit == 400.0 and over.state == "over" and over.advice
    assert over.value > dict_c(made, "tip, power always on")
    made.set("control.set_c", 200.0)
    assert what not in {v.what for v in made.good.verdicts} and made.good.result.held is not None


def test_the_page_says_once_that_nothing_is_held_and_derives_nothing_from_it(tmp_path):
    own = tmp_path / "pen.toml"
    own.write_text(pen_text(stem="copper", held=True), encoding="utf-8")
    variables = demo_environment() | {"BENCHCALC_SHEET": str(own), "BENCHCALC_MY": str(tmp_path)}
    texts, errors = run_page(ROOT / "notebooks" / "08_power_control.ipynb", variables, [])
    assert not errors, errors
    words = [text for kind, text in texts if kind == "text/markdown"]
    said = [text for text in words if "Nothing is held" in text]
    assert "out of reach" in said[0] and "It takes" in said[0]
    assert len(said) == 2 and "top of this page" in said[1]
    everything = "\n".join(text for _, text in texts)
    assert "Not derived here" not in everything and "no value that may be used" not in everything
