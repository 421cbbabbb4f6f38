"""Tables of text: escaped, the same each time, and verdicts that can be read without colour."""

import xml.etree.ElementTree as tree

import pytest

from benchcalc.basics.band import Band
from benchcalc.basics.fault import Fault
from benchcalc.chain.verdict import Verdict
from benchcalc.show.page.table import (
    MARKS,
    as_html,
    as_markdown,
    as_text,
    as_widget_html,
    headline,
    say_state,
    table,
    verdict_table,
)

NASTY = "<b>my | own*wire</b> & $5"
LETTERS = NASTY.replace("$", "\N{FULLWIDTH DOLLAR SIGN}")  # a pair of plain ones would enclose a formula


def verdict(**changes):
    kept = dict(
        what="wire temperature",
        key="wire_temp_c",
        value=350.0,
        limit=400.0,
        sense="at most",
        margin=50.0,
        band=Band(350.0, 320.0, 380.0),
        state="fine",
        why="All of it is safe.",
        source="an invented limit",
        advice=False,
    )
    return Verdict(**{**kept, **changes})


def cells(shown):
    """The rows of an HTML table, read by an XML parser."""
    whole = tree.fromstring(as_html(shown).replace("<br>", "; "))
    return [[cell.text or "" for cell in row] for row in whole.iter("tr")]


def test_html_is_well_formed_and_says_what_was_given():
    shown = table(["wire", "length"], [[NASTY, "733 mm"], ["b", "12 mm"]], caption="two <wires>")
    assert cells(shown) == [["wire", "length"], [LETTERS, "733 mm"], ["b", "12 mm"]]
    whole = tree.fromstring(as_html(shown))
    assert whole.find("caption").text == "two <wires>"
    assert shown._repr_html_() == as_html(shown)
    assert as_html(shown) == as_html(
        table(["wire", "length"], [(NASTY, "733 mm"), ("b", "12 mm")], caption="two <wires>")
    )


def test_numbers_stand_to_the_right_and_words_to_the_left():
    shown = table(["wire", "length"], [["a", "733 mm"], ["b", "not known"]])
    sides = [cell.get("style") for cell in tree.fromstring(as_html(shown)).iter("td")]
    assert sides == ["text-align:left", "text-align:right"] * 2
    assert as_markdown(shown).splitlines()[1] == "|:--|--:|"


def test_markdown_keeps_its_columns_whatever_the_user_wrote():
    lines = as_markdown(table(["a", "b"], [[NASTY, "two\nlines"]])).splitlines()
    assert [line.count("|") for line in lines] == [3, 3, 3]
    assert "<b>" not in lines[2] and "*" not in lines[2] and "$" not in lines[2]


def test_plain_text_lines_up():
    assert as_text(table(["wire", "length"], [["a", "733 mm"], ["bcdef", "12 mm"]])) == (
        "wire   length\na      733 mm\nbcdef   12 mm"
    )
    assert repr(headline([("power", "34 W")])) == "power  34 W"


def test_only_the_widget_carries_the_notebook_class():
    shown = headline([("power", "34 W")])
    assert "jp-RenderedHTMLCommon" in as_widget_html(shown)
    assert "jp-RenderedHTMLCommon" not in as_html(shown)
    assert "<thead>" not in as_html(shown)


def test_an_empty_table_is_a_table():
    assert cells(table(["a", "b"], [])) == [["a", "b"]]
    assert as_text(table(["a", "b"], [])) == "a  b"
    assert as_markdown(table(["a", "b"], [])).splitlines()[1] == "|:--|:--|"
    assert cells(verdict_table([]))[0][0] == "state"
    assert cells(headline([])) == []


@pytest.mark.parametrize(
    "rows, said", [([["a"]], "1 cells, 2"), ([["a", 0.1234]], "0.1234"), ([["a", "b"], ["c", None]], "row 2")]
)
def test_bad_rows_are_refused(rows, said):
    with pytest.raises(Fault, match=said):
        table(["a", "b"], rows)


def test_whole_numbers_are_taken():
    assert cells(table(["turns"], [[42]])) == [["turns"], ["42"]]


def test_states_differ_in_word_and_in_mark():
    assert len(set(MARKS.values())) == 5
    for state, mark in MARKS.items():
        assert say_state(state) == f"{mark} {state}"
    assert say_state("over", advice=True).endswith("over (advice only)")
    with pytest.raises(Fault, match="Known: over, tight"):
        say_state("good")


def test_the_states_are_those_that_are_judged():
    sheet = pytest.importorskip("benchcalc.chain.verdict")
    assert set(MARKS) == set(sheet.STATES)


def test_a_verdict_row():
    head, row = cells(verdict_table([verdict()]))
    assert head == ["state", "what", "value, likely range", "limit", "margin", "why"]
    assert row == [
        "▂ fine",
        "wire temperature",
        "350 degC; 320 degC to 380 degC",
        "at most 400 degC",
        "50.0 K",
        "All of it is safe.; Source: an invented limit",
    ]


def test_a_verdict_in_fahrenheit_shows_its_margin_as_a_difference():
    row = cells(verdict_table([verdict()], degrees="F"))[1]
    assert row[2:5] == ["662 degF; 608 degF to 716 degF", "at most 752 degF", "90.0 degF"]


def test_a_verdict_in_inches():
    row = cells(
        verdict_table(
            [verdict(key="gap_m", value=0.0254, limit=0.0127, sense="at least", margin=0.0127, band=None)], units="inch"
        )
    )[1]
    assert row[2:5] == ["1.00 in", "at least 0.500 in", "0.500 in"]


@pytest.mark.parametrize("nothing", [None, float("nan")])
def test_what_is_not_known_is_a_dash_and_its_reason(nothing):
    row = cells(
        verdict_table(
            [
                verdict(
                    value=nothing,
                    limit=nothing,
                    margin=nothing,
                    band=None,
                    sense="",
                    state="not known",
                    why="No wire in the sheet.",
                    source="",
                )
            ]
        )
    )[1]
    assert row == ["? not known", "wire temperature", "–", "–", "–", "No wire in the sheet."]


def test_the_worst_comes_first_or_as_given():
    given = [verdict(state=state) for state in ("does not apply", "fine", "not known", "over", "tight")]
    order = [row[0][2:] for row in cells(verdict_table(given))[1:]]
    assert order == ["over", "tight", "not known", "fine", "does not apply"]
    order = [row[0][2:] for row in cells(verdict_table(given, worst_first=False))[1:]]
    assert order == [v.state for v in given]


def test_a_users_text_in_a_verdict_is_escaped():
    shown = verdict_table([verdict(what=NASTY, why=NASTY)])
    assert cells(shown)[1][1] == LETTERS
    assert "<b>" not in as_html(shown)


def test_a_margin_without_an_end_is_a_dash():
    """A fuse that need not open has no last moment, and so no margin."""
    row = cells(
        verdict_table([verdict(key="latest_s", value=float("inf"), limit=5.0, margin=float("-inf"), band=None)])
    )
    assert "no end" in row[1] and not any("negative" in cell for cell in row[1])
