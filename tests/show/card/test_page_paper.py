"""A stored page on paper: no script, no network, no code; each formula drawn by a general-purpose library."""

import re

import pytest
from canonical import ROOT

from benchcalc.basics.fault import Fault
from benchcalc.show.card.page_paper import page_document, with_formulas


def test_a_page_fetches_nothing_and_every_formula_is_drawn():
    made = page_document(ROOT / "notebooks" / "02_wire_sizing.ipynb")
    assert not re.search(r"<script|<link|src=\"http|@import|url\(", made)
    assert made.count('class="formula"') > 20 and "\\begin{aligned}" not in made.replace('alt="', "")
    assert "import benchcalc" not in made and "How much of which wire" in made


def test_each_row_of_a_derivation_is_a_drawing_and_what_cannot_be_set_stays_readable():
    made = with_formulas(
        "a\n\n$$\n\\begin{aligned}\nR &= \\frac{U}{I} \\\\[4pt]\nP &= U I\n\\end{aligned}\n$$\n\n$\\nosuch{x}$"
    )
    assert made.count("data:image/svg+xml") == 2 and "<code>\\nosuch{x}</code>" in made


def test_what_is_no_page_is_told(tmp_path):
    (tmp_path / "a.ipynb").write_text("no json")
    with pytest.raises(Fault, match="cannot be read as a notebook"):
        page_document(tmp_path / "a.ipynb")
