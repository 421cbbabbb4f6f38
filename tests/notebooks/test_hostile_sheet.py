"""A sheet whose every name is markup: on pages and in pictures it is letters, never a tag, a link or a formula."""

import re

import pytest
from canonical import ROOT

import benchcalc as bc
from benchcalc.chain.workings import chain
from benchcalc.show.drawing.live_picture import picture
from benchcalc.show.heat.figure import TOOL
from benchcalc.show.page import lesson
from benchcalc.show.page.open_page import open_sheet, ready
from benchcalc.show.wire.stacked_figure import WIRE_SIZING

MARKUP = "<img src=x onerror=a(1)>![m](/x)$x_$"


def hostile(demo):
    """The text of a demo with markup behind its name and every id."""
    text = (ROOT / "data" / "builds" / f"{demo}.toml").read_text(encoding="utf-8")
    for name in set(re.findall(r'^id = "([^"]+)"', text, re.M)):
        text = text.replace(f'"{name}"', f'"{name}{MARKUP}"')
    return re.sub(r"^name = .*$", lambda _: f"name = 'evil {MARKUP}'", text, count=1, flags=re.M)


@pytest.fixture(scope="module", params=["insert_press", "wax_pot", "foam_bow", "foil_iron"])
def build(request):
    return bc.read(hostile(request.param))


def test_words_of_pages_hold_no_tag_and_no_picture(build):
    workings = bc.work_out(build, samples=0)
    words = [lesson.introduce(build), ready(build, "supply")[1], lesson.margin_line(workings, 50, build)]
    words += [
        lesson.summary(workings, build),
        lesson.verdicts(workings, "heat", build),
        lesson.at_a_glance(build, workings),
    ]
    assert "evil" in words[0].text
    for said in words:
        text = said.text if hasattr(said, "text") else said._repr_html_()
        assert "<img" not in text and "![m](" not in text and "$x_$" not in text


def test_the_fault_of_a_hostile_sheet_is_told_in_letters(tmp_path, monkeypatch):
    path = tmp_path / "own.toml"
    path.write_text(f"[sheet]\nname = 'x'\n[supply]\nkind = '{MARKUP}'\n", encoding="utf-8")
    monkeypatch.setenv("BENCHCALC_SHEET", str(path))
    text = open_sheet()[1].text
    assert "onerror" in text and "<img" not in text and "![m](" not in text


def test_pictures_draw_the_letters(build):
    picture(WIRE_SIZING, build, bc.links(build))
    worked = chain(build)
    if worked[3] is not None and not worked[3].refused:
        picture(TOOL, build, worked)
