"""The contributor's guide says what the code says."""

import re
from pathlib import Path

from benchcalc.basics.names import NAMES, display

GUIDE = (Path(__file__).parents[1] / "DEVELOPERS.md").read_text(encoding="utf-8")


def test_glossary_table_equals_the_glossary():
    rows = re.findall(r"^\| `(\w+)` \| (.+?) \| \$(.+?)\$ \| (.+?) \|$", GUIDE, re.M)
    written = {key: (word, symbol, unit) for key, word, symbol, unit in rows}
    assert written == {k: (n.word, n.symbol, display(k)[0] or "-") for k, n in NAMES.items()}


def test_guide_stays_short():
    before_glossary = GUIDE.split("## Glossary")[0]
    assert len(before_glossary.split()) < 1100  # two pages
