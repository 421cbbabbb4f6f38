"""The pictures are exact: today's point lies on the curve, zones begin where verdicts turn, turns are to scale."""

import io
import subprocess
import sys
from dataclasses import replace

import numpy as np
import pytest
from canonical import ROOT
from matplotlib.backends.backend_agg import FigureCanvasAgg
from PIL import Image

import benchcalc as bc
from benchcalc.chain.workings import electrical_verdicts
from benchcalc.show.drawing.live_picture import BACKGROUNDS
from benchcalc.show.drawing.style import DPI_LIVE, WIDTH_IN, coarse_up, hatching
from benchcalc.show.heat.panel import heat_panel
from benchcalc.show.insulation.panel import insulation_panel
from benchcalc.show.panel.sliders import results_at
from benchcalc.show.wire.coil_figure import half_turns
from benchcalc.show.wire.coil_numbers import coil_numbers
from benchcalc.show.wire.length_numbers import ZONES, length_numbers
from benchcalc.show.wire.stacked_figure import COIL, LENGTH, WIRE_SIZING, Live, picture, still

MOST_STILL_BYTES = 44_000


def build_of(name="insert_press", **moved):
    build = bc.load_chosen(name)
    for path, value in moved.items():
        build = bc.change(build, path.replace("__", "."), value)
    return build


def numbers_of(numbers, build, rest=False):
    return numbers(build, bc.links(build), rest)


@pytest.mark.parametrize("name", bc.demos())
def test_todays_point_lies_on_the_curve(name):
    n = numbers_of(length_numbers, build_of(name))
    at_m, power_w, amps_a = n.today
    assert np.interp(at_m, n.length_m, n.coil_w) == pytest.approx(power_w, rel=2e-4)
    assert np.interp(at_m, n.length_m, n.load_a) == pytest.approx(amps_a, rel=2e-4)
    assert n.length_m[0] < at_m < n.length_m[-1] and power_w < n.frame[2] and amps_a < n.frame[3]


@pytest.mark.parametrize("name", bc.demos())
def test_the_wanted_power_is_met_where_its_line_meets_the_curve(name):
    build = build_of(name)
    n = numbers_of(length_numbers, build)
    assert np.interp(n.wanted_length_m, n.length_m, n.coil_w) == pytest.approx(n.wanted_w, rel=2e-4)


def over_at(build, length_m, zone):
    """Is the verdict behind a zone over when the coil has this length?"""
    verdicts = electrical_verdicts(build := bc.change(build, "coil.length_m", length_m), *bc.links(build), {})
    return [v.state for _, v in verdicts if ZONES.get(v.what) == zone.name] == ["over"]


@pytest.mark.parametrize(
    "name, zones",
    [
        ("insert_press", ["surface load past guidance", "does not fit"]),
        ("foam_bow", []),
        ("foil_iron", ["surface load past guidance", "does not fit"]),
    ],
)
def test_zones_begin_and_end_where_the_verdicts_turn_over(name, zones):
    build = build_of(name)
    n = numbers_of(length_numbers, build)
    assert [z.name for z in n.zones] == zones
    for zone in n.zones:
        inner = [end for end in (zone.low_m, zone.high_m) if n.length_m[0] < end < n.length_m[-1]]
        assert inner
        for end in inner:
            into = 1.0 if end == zone.low_m else -1.0  # what a page shows as equal to its limit is tight, not over
            assert over_at(build, end * (1 + 0.02 * into), zone)
            assert not over_at(build, end * (1 - 1e-5 * into), zone)


def test_turns_too_close_where_the_pitch_follows_the_room():
    build = build_of(coil__pitch_m=None, coil__length_m=2.0)
    zone = next(z for z in numbers_of(length_numbers, build).zones if z.name == "turns too close")
    assert over_at(build, zone.low_m * 1.02, zone) and not over_at(build, zone.low_m * 0.9999, zone)


def test_a_supply_that_trips_forbids_short_wire():
    build = build_of(supply__kind="switching supply", supply__limit_a=2.0)
    zone = next(z for z in numbers_of(length_numbers, build).zones if z.name == "past the supply's limit")
    short = bc.links(bc.change(build, "coil.length_m", zone.high_m * 0.999))[2]
    long = bc.links(bc.change(build, "coil.length_m", zone.high_m * 1.001))[2]
    assert short.limited and not long.limited and long.load_a == pytest.approx(2.0, rel=0.01)


def test_the_band_holds_the_curve_and_agrees_with_the_bands_of_the_numbers():
    build = build_of()
    n = numbers_of(length_numbers, build, rest=True)
    at_m, low_w, high_w = n.band
    middle = np.interp(at_m, n.length_m, n.coil_w)
    assert np.all(low_w < high_w) and np.all(low_w[1:] < middle[1:]) and np.all(middle < high_w)
    band = bc.work_out(build).bands["coil.coil_w"]
    assert np.interp(n.today[0], at_m, low_w) == pytest.approx(band.low, rel=0.05)
    assert np.interp(n.today[0], at_m, high_w) == pytest.approx(band.high, rel=0.05)
    assert numbers_of(length_numbers, build).band is None


def test_the_drawn_wire_has_the_length_of_the_turns():
    """Twice the arc length of the front halves is the length of a helix (Pythagoras on the unrolled turn)."""
    turns, pitch_m, mean_m = 7, 1.2e-3, 8e-3
    x, y = half_turns(turns, pitch_m, mean_m, 0.0, most_points=40_000)
    z = np.sqrt(np.maximum((mean_m / 2) ** 2 - y**2, 0))
    steps = np.sqrt(np.diff(x) ** 2 + np.diff(y) ** 2 + np.diff(z) ** 2)
    drawn_m = 2 * np.nansum(steps)
    assert drawn_m == pytest.approx(turns * np.hypot(np.pi * mean_m, pitch_m), rel=0.01)
    assert np.nanmax(y) == mean_m / 2 and np.sum(np.isnan(x)) == turns


def test_the_coil_is_drawn_to_scale():
    n = numbers_of(coil_numbers, build_of())
    live = Live(COIL)
    live.image(n)
    axes, width_px = live.artists.axes, WIDTH_IN * DPI_LIVE
    per_px = np.diff(axes.get_xlim())[0] / width_px
    assert np.diff(axes.get_ylim())[0] / (COIL.height_in * DPI_LIVE) == pytest.approx(per_px)
    wire = live.artists.lines["wire_edge"]
    assert wire.get_linewidth() / 72 * DPI_LIVE * per_px == pytest.approx(n.across_m, rel=1e-6)
    assert live.artists.solid["core"].get_width() == pytest.approx(n.former_length_m)
    bar = live.artists.bar.get_xdata()
    assert f"{(bar[1] - bar[0]) * 1e3:.0f} mm" in live.artists.bar_words.get_text()


def test_what_does_not_fit_is_hatched_and_named_with_the_verdicts_number():
    build = build_of(coil__length_m=1.0)
    n = numbers_of(coil_numbers, build)
    coil = bc.links(build)[2]
    assert n.over_m == pytest.approx(-coil.spare_m)
    live = Live(COIL)
    live.image(n)
    over = live.artists.solid["over"]
    assert over.get_visible() and over.get_hatch() and over.get_width() == pytest.approx(-coil.spare_m)
    assert bc.say("length_m", -coil.spare_m) in live.artists.words["over"].text
    live.image(numbers_of(coil_numbers, build_of()))
    assert not over.get_visible() and not live.artists.words["over"].text


@pytest.mark.parametrize("moved, words", [({"wire": ()}, "No coil"), ({"coil": None}, "No coil"), ({"part": ()}, None)])
def test_a_partial_sheet_says_what_is_missing(moved, words):
    build = replace(build_of(), **moved)
    if words is None:
        build = replace(build, coil=replace(build.coil, on=None))
        words = "straight wire"
    assert words in picture(COIL, build, bc.links(build)).caption


def test_a_refused_supply_gets_no_curve():
    build = build_of(supply__open_v=230.0, supply__source_ohm=1.0)
    assert "refused" in picture(LENGTH, build, bc.links(build)).caption


def test_units_follow_the_sheet():
    caption = picture(WIRE_SIZING, build := build_of("foam_bow"), bc.links(build)).caption
    assert " in " in caption and " mm" not in caption


@pytest.mark.parametrize("name", bc.demos())
def test_the_still_is_small_sharp_and_opaque(name):
    build = build_of(name)
    shown = picture(WIRE_SIZING, build, bc.links(build))
    image = Image.open(io.BytesIO(shown.png))
    assert len(shown.png) < MOST_STILL_BYTES and image.mode == "P" and "transparency" not in image.info
    assert image.width == round(WIDTH_IN * 150) and image.info["dpi"][0] == pytest.approx(150, abs=0.1)
    data, notes = shown._repr_mimebundle_()
    assert data["text/plain"] == shown.caption == notes["image/png"]["alt"]


def test_stills_are_the_same_in_two_runs():
    build = build_of()
    n = numbers_of(WIRE_SIZING.numbers, build, rest=True)
    assert still(WIRE_SIZING, n) == still(WIRE_SIZING, n)


def test_a_live_picture_equals_one_drawn_afresh():
    """Whatever was drawn before leaves no trace."""
    live = Live(WIRE_SIZING)
    for build in (build_of(coil__length_m=1.2), build_of("foam_bow"), build_of()):
        last = live.image(numbers_of(WIRE_SIZING.numbers, build))
    fresh = Live(WIRE_SIZING).image(numbers_of(WIRE_SIZING.numbers, build_of()))
    assert np.array_equal(np.asarray(last), np.asarray(fresh))


@pytest.mark.parametrize(
    "made, path, values", [(insulation_panel, "at_c", (60.0, 250.0, 998.0)), (heat_panel, "want.power_w", (1.2, 40.0))]
)
def test_a_live_picture_has_the_colours_of_every_temperature_whatever_it_showed_first(made, path, values):
    """Its palette is made once, of a picture with a few of them."""
    spec = made(build_of()).spec
    live = Live(spec.draw)
    live.png(results_at(spec, {}, rest=False).numbers)
    for value in values:
        numbers = results_at(spec, {path: value}, rest=False).numbers
        shown = np.asarray(Image.open(io.BytesIO(live.png(numbers))).convert("RGB")).astype(int)
        off = np.abs(shown - np.asarray(live.image(numbers)).astype(int)).max(axis=-1)
        assert np.percentile(off, 99) <= 12 and (off > 16).mean() < 0.005  # the rest: edges of letters


def test_still_parts_are_redrawn_only_in_coarse_steps():
    frames = {numbers_of(WIRE_SIZING.numbers, build_of(coil__length_m=x)).frame for x in np.linspace(0.6, 0.78, 19)}
    assert len(frames) == 1


def test_a_frame_met_lately_is_not_drawn_again(monkeypatch):
    """To and fro between scales each is drawn once, looks as if drawn anew, and only a few are kept."""
    drawn, real = [], FigureCanvasAgg.draw
    monkeypatch.setattr(FigureCanvasAgg, "draw", lambda self: drawn.append(self) or real(self))
    few, many = (numbers_of(WIRE_SIZING.numbers, build_of(coil__length_m=x)) for x in (0.6, 1.4))
    assert few.frame != many.frame
    live = Live(WIRE_SIZING)
    for _ in range(3):
        there, back = live.image(many), live.image(few)
    assert len(drawn) == 2
    for image, numbers in ((there, many), (back, few)):
        assert np.array_equal(np.asarray(image), np.asarray(Live(WIRE_SIZING).image(numbers)))
    for name in ("foam_bow", "foil_iron", "wax_pot"):
        for length_m in (0.3, 0.9, 2.5):
            live.image(numbers_of(WIRE_SIZING.numbers, build_of(name, coil__length_m=length_m)))
    assert len(live.drawn) == BACKGROUNDS


@pytest.mark.parametrize("value, up", [(0.06, 0.06), (0.0601, 0.08), (59.4, 60), (1.0, 1), (999, 1000)])
def test_coarse_up(value, up):
    assert coarse_up(value) == pytest.approx(up)


def test_hatching_stays_inside_its_zone_and_is_at_45_degrees():
    x, y = hatching(1.0, 1.5, 2.0)
    assert np.nanmin(x) >= 1 and np.nanmax(x) <= 1.5 and np.nanmin(y) >= -1e-9 and np.nanmax(y) <= 2 + 1e-9
    assert np.allclose(np.diff(x)[::3], np.diff(y)[::3])


def test_no_window_system_and_no_global_settings():
    code = (
        "import sys, matplotlib\n"
        "settings = lambda: {k: matplotlib.rcParams[k] for k in matplotlib.rcParams if k != 'backend'}\n"
        "before = settings()\n"
        "import benchcalc as bc; from benchcalc.show.wire.stacked_figure import WIRE_SIZING, picture\n"
        "from benchcalc.show.panel.panel import panel\n"
        "from benchcalc.show.panel.sliders import Slider, Telling, headlines\n"
        "b = bc.load_chosen(); picture(WIRE_SIZING, b, bc.links(b))\n"
        "panel(b, [Slider('coil.length_m', 0.2, 1.5, 0.005, 'coil length')], bc.links, WIRE_SIZING,"
        " Telling(headlines()))\n"
        "assert 'matplotlib.pyplot' not in sys.modules\n"
        "assert settings() == before\n"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, timeout=60)
    assert done.returncode == 0, done.stderr
