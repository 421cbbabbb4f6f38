"""A sheet whose every name is markup: on pages and in pictures it is letters, never a tag, a link or a formula."""

import re
import shlex

import pytest
from canonical import ROOT, demo_environment
from notebooks.hostile import MARKUP as EVIL
from notebooks.hostile import harm_in, hostile_sheet
from warm_shell import run_page

import benchcalc as bc
from benchcalc.chain.workings import chain
from benchcalc.show.control import fail_tables
from benchcalc.studies.holding import HeldTool
from benchcalc.show.card.beside import numbers_beside, verdicts_beside
from benchcalc.show.card.html import card_document
from benchcalc.show.card.write import card_command
from benchcalc.show.drawing.live_picture import picture
from benchcalc.show.heat.figure import TOOL
from benchcalc.show.page import lesson
from benchcalc.show.page.open_page import open_sheet, ready
from benchcalc.show.page.table import as_html
from benchcalc.show.wire.stacked_figure import WIRE_SIZING
from benchcalc.studies.card.card import build_card

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


ORDINARY = ("10_build_card",)
PAGES = [
    path if path.stem in ORDINARY else pytest.param(path, marks=pytest.mark.slow, id=path.stem)
    for path in sorted((ROOT / "notebooks").glob("[0-9][0-9]_*.ipynb"))
]


@pytest.mark.parametrize("page", PAGES)
def test_nothing_on_a_page_runs_or_is_fetched(page, tmp_path):
    """Every output and every widget of the page, read by an HTML parser."""
    own = hostile_sheet("insert_press", tmp_path)
    variables = demo_environment() | {"BENCHCALC_SHEET": str(own), "BENCHCALC_MY": str(tmp_path)}
    texts, errors = run_page(page, variables, [])
    assert not errors, errors
    assert any("evil" in text for _, text in texts), "the hostile sheet is not on the page"
    assert [harm for kind, text in texts for harm in harm_in(kind, text)] == []


def test_what_would_run_is_found():
    assert len(harm_in("text/html", EVIL)) >= 3 and len(harm_in("text/markdown", EVIL)) >= 3


def test_two_sheets_beside_each_other_and_the_card_on_paper_hold_letters_only(tmp_path):
    one, other = bc.load(hostile_sheet("insert_press", tmp_path)), bc.load(hostile_sheet("foil_iron", tmp_path))
    ours, its = (bc.work_out(b, samples=0) for b in (one, other))
    told = [card_document(other, build_card(other, its))]
    told += [as_html(t) for t in (numbers_beside(one, ours, its), verdicts_beside(ours, its))]
    assert "evil" in told[0] and [harm for text in told for harm in harm_in("text/html", text)] == []


def test_the_command_of_a_card_is_one_word_to_a_shell(tmp_path):
    path = tmp_path / "a b; touch evil $(touch evil).toml"
    path.write_text('[sheet]\nname = "x"\n', encoding="utf-8")
    assert shlex.split(card_command(bc.load(path)))[3] == path.stem


def test_a_refusal_that_names_a_part_is_letters_in_the_summary():
    said = fail_tables.failing_summary(bc.load_chosen("foil_iron"), HeldTool((None,) * 4, None, refused=EVIL)).text
    assert "Not held" in said and harm_in("text/markdown", said) == []
