"""Borrowed is not measured: a copy of a demo is never fine by the demo's evidence."""

from pathlib import Path

import pytest

import benchcalc as bc
from benchcalc.chain.supply.link import extrapolated
from benchcalc.sheet.borrowed import borrowed
from benchcalc.show.page.lesson import introduce, margin_line
from benchcalc.show.page.open_page import ready
from benchcalc.show.page.shared_tables import numbers
from benchcalc.show.page.table import verdict_table
from benchcalc.show.supply.panel import supply_panel
from benchcalc.show.wire.panel import wire_panel


@pytest.fixture
def mine(monkeypatch, tmp_path):
    monkeypatch.setenv("BENCHCALC_MY", str(tmp_path))
    monkeypatch.delenv("BENCHCALC_SHEET", raising=False)
    return lambda demo: bc.load(bc.copy_to_mine(demo, f"my_{demo}"))


# what needs no watts: lengths on a former, gaps, thicknesses, ways of joining
BY_GEOMETRY = ("winding", "gap", "former", "bore", "thickness", "insulation under", "turns", "wall", "web", "drill")


@pytest.mark.parametrize("demo", bc.demos())
def test_nothing_is_fine_by_the_evidence_of_a_demo(mine, demo):
    build = mine(demo)
    assert "readings" in borrowed(build) and not borrowed(bc.load_chosen(demo))
    workings, theirs = bc.work_out(build, samples=20), bc.work_out(bc.load_chosen(demo), samples=20)
    assert [v.what for _, v in workings.verdicts] == [v.what for _, v in theirs.verdicts]
    for (link, own), (_, was) in zip(workings.verdicts, theirs.verdicts, strict=True):
        if own.state in ("fine", "tight"):
            assert not own.note and any(word in own.what for word in BY_GEOMETRY), (link, own.what)
        elif was.state == "over":
            assert own.state == "over", own.what
        elif own.note:
            assert own.borrowed and "borrowed from the demo" in own.named
    assert "not known: borrowed" in repr(verdict_table(v for _, v in workings.verdicts))
    assert (
        "Still borrowed from the demo" in introduce(build).text
        and "borrowed" in margin_line(workings, n=40, build=build).text
    )


def test_a_panel_on_a_copy_says_borrowed_too_and_one_that_keeps_from_the_demo(mine):
    assert "not known: borrowed" in supply_panel(mine("insert_press")).view.value
    shown = wire_panel(bc.load_chosen("insert_press"))
    assert "borrowed" not in shown.view.value
    shown.set("coil.length_m", 0.8)
    shown.keep()
    assert "not known: borrowed" in shown.view.value


def test_own_readings_in_their_place_count_as_measured(mine):
    build = mine("foam_bow")
    text = Path(build.file).read_text(encoding="utf-8")
    for r in build.supply.reading:
        text = text.replace(f"volts = {r.volts_v:g}", f"volts = {r.volts_v - 0.13:.2f}", 1)
    own = bc.read(text)
    assert "readings" not in borrowed(own)
    assert any(v.state in ("fine", "tight") and not v.note for v in bc.work_out(own, samples=0).of("supply"))


def test_a_demo_that_is_lent_is_named_at_every_verdict():
    build, said = ready(bc.load_chosen("wax_pot"), "tube with a handle")
    assert "insert_press" in said.text and build.lent == "insert_press"
    assert all("demo insert_press" in v.named for _, v in bc.work_out(build, samples=0).verdicts)
    assert "demo insert_press" in supply_panel(build).view.value


def test_volts_that_nobody_read_are_said_to_be_extrapolated():
    sheet = (
        '[sheet]\nname = "two"\n[supply]\nkind = "transformer"\n[[supply.reading]]\nvolts = 12\namps = {}\n'
        "[[supply.reading]]\nvolts = 10\namps = 2\n"
    )
    read, guessed = (bc.read(sheet.format(amps)) for amps in (0, 1))
    assert extrapolated(guessed) and not extrapolated(read)
    for build, said in ((read, False), (guessed, True)):
        workings = bc.work_out(build, samples=0)
        no_load = next(v for v in workings.of("supply") if v.what.startswith("no-load"))
        assert ("xtrapolated" in no_load.why) is said
        assert ("extrapolated" in repr(numbers(build, workings, "supply.open_v"))) is said
