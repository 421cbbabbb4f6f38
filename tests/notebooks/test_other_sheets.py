"""Every page runs on other sheets than the one it was saved with: other demos, half-filled, extreme, faulty ones.

The ordinary run takes a sample: each page sees two other sheets, each sheet is seen by a page, the start page sees the
faulty one too. The whole product runs with the mark slow.
"""

import pytest
from canonical import ROOT, demo_environment
from warm_shell import run_forked, run_page

PAGES = sorted((ROOT / "notebooks").glob("[0-9]*.ipynb"))
FAULTY = "a faulty sheet"
KINDS = {
    "another demo": {"wax_pot": None, "foam_bow": None, "foil_iron": None},
    "too little": {
        "only a name": """
[sheet]
name = "empty"
""",
        "no-load reading alone": """
[sheet]
name = "a"
[supply]
kind = "transformer"
[[supply.reading]]
volts = 15
amps = 0
""",
        "one loaded reading and a wire": """
[sheet]
name = "b"
[supply]
kind = "transformer"
[[supply.reading]]
volts = 12
amps = 2
[[wire]]
id = "w"
alloy = "fecral"
gauge = "30 AWG"
[want]
power = "15 W"
""",
        "bench supply, measured wire of unknown alloy": """
[sheet]
name = "c"
[supply]
kind = "bench supply"
open = "12 V"
limit = "2 A"
[supply.cable]
length = "2 m"
section = "0.5 mm2"
[[wire]]
id = "w"
measured_ohm = 8.0
measured_length = "1 m"
[coil]
wire = "w"
length = "50 cm"
""",
    },
    "too much": {
        "far too much power, no length": """
[sheet]
name = "p"
[supply]
kind = "transformer"
[[supply.reading]]
volts = 14.1
amps = 0
[[supply.reading]]
volts = 12.6
amps = 1.9
[[wire]]
id = "w"
alloy = "fecral"
gauge = "30 SWG"
[coil]
wire = "w"
[want]
power = "500 W"
""",
        "two readings, 80 V": """
[sheet]
name = "d"
[supply]
kind = "transformer"
[[supply.reading]]
volts = 80
amps = 0
[[supply.reading]]
volts = 70
amps = 1
[[wire]]
id = "w"
alloy = "nicr-80-20"
diameter = "0.3 mm"
[coil]
wire = "w"
length = "1 m"
[want]
power = "20 W"
""",
        "a transformer in direct volts, its rectifier not said": """
[sheet]
name = "g"
[supply]
kind = "transformer"
output = "DC"
[[supply.reading]]
volts = 24
amps = 0
[[supply.reading]]
volts = 20
amps = 1.5
[[wire]]
id = "w"
alloy = "nicr-80-20"
diameter = "0.3 mm"
[coil]
wire = "w"
length = "1 m"
[want]
power = "20 W"
""",
        "a pack of unknown limit, cold wire": """
[sheet]
name = "h"
[supply]
kind = "battery"
charge = "4 Ah"
[[supply.reading]]
volts = 18.9
amps = 0
[[supply.reading]]
volts = 18.1
amps = 3
[[wire]]
id = "w"
alloy = "nicr-80-20"
diameter = "0.3 mm"
[coil]
wire = "w"
length = "30 cm"
[want]
power = "20 W"
""",
    },
    "faulty": {
        "a faulty sheet": """
[sheet]
name = "f"
[supply]
kind = "transfromer"
"""
    },
}
SHEETS = {sheet: text for kind in KINDS.values() for sheet, text in kind.items()}


def in_sample(number, sheet):
    """True where the page of this number (from 0) sees the sheet in the ordinary run: the sheets go round the pages."""
    if sheet == FAULTY:
        return number == 0
    others = [other for other in SHEETS if other != FAULTY]
    return sheet in (others[3 * number % len(others)], others[(3 * number + len(others) // 2) % len(others)])


RUNS = [
    pytest.param(page, sheet, id=f"{page.stem}, {sheet}", marks=[] if in_sample(number, sheet) else [pytest.mark.slow])
    for number, page in enumerate(PAGES)
    for sheet in SHEETS
]


def test_the_sample_leaves_no_page_and_no_sheet_out():
    seen = [(number, sheet) for number in range(len(PAGES)) for sheet in SHEETS if in_sample(number, sheet)]
    assert {sheet for _, sheet in seen} == set(SHEETS) and {number for number, _ in seen} == set(range(len(PAGES)))


@pytest.mark.parametrize("page, sheet", RUNS)
def test_page_runs(page, sheet, tmp_path):
    chosen = sheet
    if SHEETS[sheet] is not None:
        chosen = tmp_path / "own.toml"
        chosen.write_text(SHEETS[sheet], encoding="utf-8")
    shown, errors = run_page(page, demo_environment() | {"BENCHCALC_SHEET": str(chosen), "BENCHCALC_MY": str(tmp_path)})
    assert not errors, "\n".join(errors)
    assert shown


@pytest.mark.parametrize(
    "cell, said",
    [
        ("1 / 0", "ZeroDivisionError"),
        ("while:", "SyntaxError"),
        ("class Unshown:\n    def _repr_html_(self):\n        raise RuntimeError('not shown')\nUnshown()", "not shown"),
        ("import os\nos._exit(0)", "without an answer"),
    ],
)
def test_what_a_page_does_wrong_is_an_error(tmp_path, cell, said):
    assert run_forked(["print(1)", "2"], tmp_path, {}) == (2, [])
    _, errors = run_forked(["print(1)", cell], tmp_path, {})
    assert said in "".join(errors)


def test_nothing_is_left_from_the_run_before(tmp_path):
    spoil = "import benchcalc, builtins\nbenchcalc.spoilt = builtins.spoilt = 1"
    assert run_forked([spoil], tmp_path, {})[1] == []
    assert run_forked(["import benchcalc\nassert not hasattr(benchcalc, 'spoilt'); spoilt"], tmp_path, {})[1]
    assert run_forked(["import benchcalc\nassert not hasattr(benchcalc, 'spoilt')"], tmp_path, {})[1] == []
