"""Write the generated sections of DEVELOPERS.md: `python tests/guide.py`.

A section stands between `<!-- generated: NAME -->` and `<!-- end -->`; SECTIONS holds what writes it.
"""

import re
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))  # so that the command works on this project's own benchcalc

from api_tables import api  # noqa: E402

from benchcalc.basics.names import NAMES, display  # noqa: E402
from benchcalc.sheet.schema import keys_table  # noqa: E402

GUIDE = ROOT / "DEVELOPERS.md"


def glossary():
    """The glossary as a Markdown table: name, word, symbol, unit it is shown in."""
    lines = ["| name | word | symbol | shown in |", "|---|---|---|---|"]
    lines += [f"| `{k}` | {n.word} | ${n.symbol}$ | {display(k)[0] or '-'} |" for k, n in NAMES.items()]
    return "\n".join(lines)


SECTIONS = {"keys": keys_table, "glossary": glossary, "api": api}


def generated(text):
    """The guide with every generated section written anew.  text: the guide as it is.

    Raises ValueError for a section that stands in only one of the guide and SECTIONS, or stands twice.
    """
    pattern = re.compile(r"(<!-- generated: (\w+) -->\n).*?(<!-- end -->)", re.S)
    found = [name for _, name, _ in pattern.findall(text)]
    if sorted(found) != sorted(SECTIONS):
        raise ValueError(f"the guide holds the generated sections {found}, this script writes {list(SECTIONS)}")
    return pattern.sub(lambda m: f"{m[1]}{SECTIONS[m[2]]().strip()}\n{m[3]}", text)


if __name__ == "__main__":
    GUIDE.write_text(generated(GUIDE.read_text(encoding="utf-8")), encoding="utf-8")
