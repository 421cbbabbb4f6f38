"""The card on paper: nothing is fetched, nothing that was typed is run, each row keeps its space."""

import re
from dataclasses import replace
from functools import cache

import pytest

import benchcalc as bc
from benchcalc.basics.band import Band
from benchcalc.basics.tables import rows
from benchcalc.chain.verdict import Limit, judge
from benchcalc.show.card import paper
from benchcalc.show.card.form import as_built_form, card_form
from benchcalc.show.card.html import PAPER, STYLE, card_document
from benchcalc.show.card.sources import card_sources
from benchcalc.show.card.words import card_text, expected_words
from benchcalc.show.card.write import write_card
from benchcalc.show.drawing.style import WIDTH_IN
from benchcalc.show.editor.figure import ON_PAPER
from benchcalc.studies.card.as_built import kept_readings
from benchcalc.studies.card.card import build_card
from benchcalc.studies.card.record import CardRow

A4_IN = (210 - 2 * 8) / 25.4  # between the margins of the card


@cache
def foam_bow():
    build = bc.load_chosen("foam_bow")
    return build, build_card(build, bc.work_out(build, samples=20))


def test_the_page_fetches_nothing_and_says_that_the_demo_is_invented():
    build, card = foam_bow()
    page = card_document(build, card)
    assert not re.search(r"(src|href)=\"(?!data:)|url\(|@import|<script|<link", page)
    assert "invented demo" in page and "@page" in page
    assert page.count('class="space"') == sum(row.ask for row in card.rows())
    assert all(f"{row.what}: " in card_text(build, card) for row in card.rows())


def test_what_was_typed_is_only_letters():
    build = bc.change(foam_bow()[0], "name", "<script>alert(1)</script>")
    page = card_document(build, build_card(build, bc.work_out(build, samples=20)))
    assert "<script" not in page and "alert(1)" in page


@pytest.mark.parametrize(
    "row, said",
    [
        (CardRow("a", "a", "load_v", Band(0.122, 0.067, 0.177)), "122 mV (67 to 177)"),
        (CardRow("a", "a", "front_m", Band(0.1, 0.09, float("inf"))), "3.94 in (3.54 in to all of it)"),
        (CardRow("a", "a", "tip_c", Band(260.0, 210.0, 300.0), "pressed on"), "260 degC (210 to 300); pressed on"),
        (CardRow("a", "a"), ""),
    ],
)
def test_what_is_expected_in_words(row, said):
    assert expected_words(foam_bow()[0], row) == said


def test_the_command_writes_html_and_says_what_it_could_not(tmp_path, monkeypatch):
    monkeypatch.setenv(paper.VARIABLE, str(tmp_path / "no-such-browser"))
    said = "\n".join(write_card(foam_bow()[0], tmp_path))
    assert (tmp_path / "foam_bow_card.html").stat().st_size > 5000
    assert "Chromium" in said and paper.VARIABLE in said and not list(tmp_path.glob("*.pdf"))


@pytest.mark.skipif(paper.browser() is None, reason="needs Chromium")
@pytest.mark.parametrize(
    "demo", ["foam_bow", *(pytest.param(d, marks=pytest.mark.slow) for d in bc.demos() if d != "foam_bow")]
)
def test_the_card_is_one_sheet_of_a4_both_sides(tmp_path, demo):
    """The cheapest demo in the ordinary run, the others in the slow one."""
    build = bc.load_chosen(demo)
    card = foam_bow()[1] if demo == "foam_bow" else build_card(build, bc.work_out(build))
    page = tmp_path / "card.html"
    page.write_text(card_document(build, card), encoding="utf-8")
    made = paper.to_pdf(page, tmp_path / "card.pdf").read_bytes()
    assert made.startswith(b"%PDF-") and len(re.findall(rb"/Type\s*/Page\b", made)) == 2


def test_no_letter_on_paper_is_under_eight_points():
    sizes = [float(x) for x in re.findall(r"([\d.]+)pt", re.sub(r"(border|margin)[^;}]*", "", STYLE + PAPER))]
    assert len(sizes) > 4 and min(sizes) >= 8
    assert 7.5 * ON_PAPER[2] * A4_IN / WIDTH_IN >= 8  # the smallest letters of the picture over the printed width


def test_the_form_tells_at_once_and_keeps_the_prediction_beside_the_sheet(tmp_path, monkeypatch):
    monkeypatch.setenv("BENCHCALC_MY", str(tmp_path))
    build, card = foam_bow()
    form = as_built_form(build, card)
    form.type("winding.cold_ohm", "50 ohm")
    assert "joint" in form.told.value and "contradicts" in form.view.value
    form.type("full.load_a", "2 V")
    assert "is a unit of volts" in form.told.value
    form.keep()
    assert not list(tmp_path.glob("*.toml"))
    form.type("full.load_a", "2 A")
    form.keep()
    own = bc.load(tmp_path / "my_foam_bow.toml")
    assert kept_readings(own) == {"winding.cold_ohm": "50 ohm", "full.load_a": "2 A"}
    assert "Still borrowed from the demo foam_bow" in card_document(own, card)
    assert "Still borrowed" not in card_document(build, card)
    assert as_built_form(own, card).readings() == kept_readings(own)


def test_readings_of_the_winding_become_the_finished_coil_of_the_sheet_where_it_has_none(tmp_path, monkeypatch):
    monkeypatch.setenv("BENCHCALC_MY", str(tmp_path))
    build, card = foam_bow()
    form, file = as_built_form(build, card), tmp_path / "my_foam_bow.toml"
    for typed, stands in (("50 ohm", 50.0), ("4.1 ohm", 4.1), ("", None), ("4.2 ohm", 4.2)):
        form.type("winding.cold_ohm", typed)
        form.keep()
        assert bc.load(file).as_built.cold_ohm == stands
    assert "of the finished coil, too: cold ohms" in form.told.value
    file.write_text(file.read_text().replace("cold_ohm = 4.2\n", "cold_ohm = 4.3\n"))
    form = as_built_form(bc.load(file), card)
    form.type("winding.cold_ohm", "5 ohm")
    form.keep()
    assert bc.load(file).as_built.cold_ohm == 4.3  # typed by hand: it stays
    assert kept_readings(form.build) == {"winding.cold_ohm": "5 ohm"}


def test_the_length_of_the_winding_becomes_that_of_the_finished_coil(tmp_path, monkeypatch):
    monkeypatch.setenv("BENCHCALC_MY", str(tmp_path))
    build = bc.load_chosen("insert_press")
    form = as_built_form(build, build_card(build, bc.work_out(build, samples=0)))
    form.type("winding.winding_m", "38 mm")
    form.keep()
    assert bc.load(tmp_path / "my_insert_press.toml").as_built.winding_m == pytest.approx(0.038)
    assert "of the finished coil, too: length of the winding" in form.told.value


def test_a_button_writes_the_card_beside_the_sheets(tmp_path, monkeypatch):
    monkeypatch.setenv("BENCHCALC_MY", str(tmp_path / "my"))
    monkeypatch.setenv("BENCHCALC_CHROMIUM", "no-such-browser")  # without one the HTML is there all the same
    shown = card_form(bc.load_chosen("foam_bow"))
    shown.write()
    page = tmp_path / "my" / "paper" / "foam_bow_card.html"
    assert page.is_file() and str(page) in shown.told.value and "needs Chromium" in shown.told.value
    monkeypatch.setenv("BENCHCALC_MY", str(page / "no_folder"))
    shown.write()
    assert "Not written" in shown.told.value and not shown.button.disabled


def test_why_two_lines_ask_for_opposite_things_stands_below_them():
    build, card = foam_bow()
    card = replace(card, over=(judge("a", "tip_c", 3.0, Limit(1.0, "at most", "b"), why=""),), opposite="Two <days>.")
    assert "<br>Two &lt;days&gt;.</p>" in card_document(build, card)


def test_every_source_stands_once_and_with_its_own_doubt():
    """Against data/sources.csv: a reference with a semicolon is one; what is only in other words is not twice there; of
    a standard its number, the place in it and how it was seen are never left out."""
    kinds = {r["reference"]: r["kind"] for r in rows("sources")}
    for demo in ("foam_bow", "foil_iron"):
        build = bc.load_chosen(demo)
        sources = dict.fromkeys(v.source for _, v in bc.work_out(build, samples=0).verdicts if v.source)
        card = replace(foam_bow()[1], sources=tuple(sources))
        told = card_sources(card)
        text, used = "; ".join(told).lower(), {ref for ref in kinds for s in card.sources if ref in s}
        assert len(used) > 10 and len({part.lower() for part in told}) == len(told)
        for ref in used:
            words = ref.removesuffix(", brand withheld").removesuffix(", brands withheld").lower().split(", ")
            if kinds[ref] in ("common practice", "own derivation"):
                continue
            kept = words[:1] + [w for w in words[1:] if re.search(r"\d|clause|table|sheet|memory|quoted|printed", w)]
            assert all(w in text for w in (kept if kinds[ref] == "standard" else words)), ref
        assert text.count("brands withheld") == 1 and text.count("common practice") == 1
        judged = any("judgement" in s.lower() for s in card.sources)
        assert text.count("nothing published says it") == judged and "part 1; definition 3.7.16" in text
        assert not any(part.lower().startswith(("check ", "most are", "definition")) for part in told)
    book, low = "A book; from memory: check the standard", "low end of a table; most are assumed"
    odd = card_sources(replace(foam_bow()[1], sources=("Lame's tube", book, "a book", low)))
    assert odd == ["Lame's tube", "A book (from memory: check the standard)", "low end of a table (most are assumed)"]
