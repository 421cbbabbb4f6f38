"""Sheets that lack what a page asks for, or ask for far too much: the page says so and runs to its end."""

from pathlib import Path

import pytest
from canonical import ROOT, demo_environment
from warm_shell import run_page

PRESS = (ROOT / "data" / "builds" / "insert_press.toml").read_text(encoding="utf-8")
READINGS = PRESS[PRESS.index("[[supply.reading]]") : PRESS.index("# Soak test")]
STRONG = '[supply]\nkind = "bench supply"\nopen = "48 V"\nsource = "0.01 ohm"\nlimit = "200 A"\n\n'
OWN_SUPPLY = PRESS[PRESS.index("[supply]") : PRESS.index("# Soak test")]
SHEETS = {
    "a supply without readings": {READINGS: ""},
    "wire far beyond its melting": {OWN_SUPPLY: STRONG, 'length = "733 mm"': 'length = "200 mm"'},
}


def sheet(kind):
    text = PRESS
    for old, new in SHEETS[kind].items():
        assert old in text
        text = text.replace(old, new)
    return text


@pytest.mark.parametrize(
    "page, kind", [("02_wire_sizing", "a supply without readings"), ("04_insulation", "wire far beyond its melting")]
)
def test_a_page_says_what_it_lacks(page, kind, tmp_path):
    own = Path(tmp_path / "own.toml")
    own.write_text(sheet(kind), encoding="utf-8")
    variables = demo_environment() | {"BENCHCALC_SHEET": str(own), "BENCHCALC_MY": str(tmp_path)}
    shown, errors = run_page(ROOT / "notebooks" / f"{page}.ipynb", variables)
    assert not errors and shown, "\n".join(errors)
