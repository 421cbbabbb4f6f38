"""The contributor's guide says what the code says."""

import re
from pathlib import Path

import guide
import pytest

from benchcalc.basics.names import NAMES, display

GUIDE = (Path(__file__).parents[1] / "DEVELOPERS.md").read_text(encoding="utf-8")


def test_glossary_table_equals_the_glossary():
    rows = re.findall(r"^\| `(\w+)` \| (.+?) \| \$(.+?)\$ \| (.+?) \|$", GUIDE, re.M)
    written = {key: (word, symbol, unit) for key, word, symbol, unit in rows}
    assert written == {k: (n.word, n.symbol, display(k)[0] or "-") for k, n in NAMES.items()}


def test_the_generated_sections_are_what_the_code_says():
    assert guide.generated(GUIDE) == GUIDE, "run: python tests/guide.py"


def test_a_section_that_is_missing_or_unknown_is_refused():
    with pytest.raises(ValueError, match="keys"):
        guide.generated(GUIDE.replace("<!-- generated: keys -->", ""))
    stale = GUIDE.replace("| open-circuit voltage |", "| another word |")
    assert stale != GUIDE and guide.generated(stale) == GUIDE


def test_guide_stays_short():
    before_glossary = GUIDE.split("## Glossary")[0]
    assert len(before_glossary.split()) < 1100  # two pages
