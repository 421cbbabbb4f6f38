"""Sheets as a friend's hand or a bad copy spoils them: only Faults leave read, nothing else leaves work_out."""

import random
import re
from pathlib import Path

import pytest

import benchcalc as bc

BUILDS = Path(__file__).parents[2] / "data" / "builds"
DEMOS = [path.read_text(encoding="utf-8") for path in sorted(BUILDS.glob("*.toml"))]
SHEETS = 150
VALUES = (
    '"20 degC +- 2 K"',
    '"0 mm"',
    '"-3 mm"',
    '"9999 mm"',
    '"1 kW"',
    '"1200 degC"',
    '"nothing known"',
    '""',
    "0",
    "-1",
    "1e308",
    "nan",
    "inf",
    "true",
    "[]",
    "{}",
    '["tube", "tip"]',
    '["tip", "no such part"]',
    '"coil"',
    '"handle"',
    '"tip"',
    '"' + "7" * 400 + ' mm"',
    "'<b>$x_2$</b>'",
)


def garbled(rng, text):
    """One sheet with one to three hurts: a line dropped, doubled or moved; a key or value garbled; a block lost."""
    lines = text.splitlines()
    for _ in range(rng.randint(1, 3)):
        at = rng.choice([i for i, line in enumerate(lines) if "=" in line and not line.startswith("#")])
        key, value = lines[at].split("=", 1)
        hurt = rng.choice(("drop", "double", "value", "value", "value", "key", "cut", "swap", "block"))
        if hurt == "drop":
            del lines[at]
        elif hurt == "double":
            lines.insert(rng.randrange(len(lines)), lines[at])
        elif hurt == "value":
            lines[at] = f"{key}= {rng.choice(VALUES)}"
        elif hurt == "key":
            lines[at] = f"{key.strip()[:-1]}x ={value}"
        elif hurt == "cut":
            lines[at] = lines[at][: rng.randrange(len(lines[at]))]
        elif hurt == "swap":
            other = rng.choice([line for line in lines if "=" in line and not line.startswith("#")])
            lines[at] = f"{key}={other.split('=', 1)[1]}"
        else:
            blocks = re.split(r"\n(?=\[)", "\n".join(lines))
            if len(blocks) > 3:
                del blocks[rng.randrange(1, len(blocks))]
            lines = "\n".join(blocks).splitlines()
    return "\n".join(lines) + "\n"


@pytest.mark.parametrize("seed", range(SHEETS))
def test_a_spoilt_sheet_is_read_or_told(seed):
    text = garbled(random.Random(seed), DEMOS[seed % len(DEMOS)])
    try:
        build = bc.read(text)
    except bc.Fault as fault:
        assert str(fault).strip()
        return
    try:
        assert isinstance(bc.work_out(build, samples=0), bc.Workings)
    except bc.Fault as fault:
        assert str(fault).strip()


@pytest.mark.parametrize("missing", ["thickness", "material"])
@pytest.mark.parametrize("demo", range(len(DEMOS)))
def test_a_layer_half_written_is_no_layer_yet(demo, missing):
    text = re.sub(rf"(\[\[layer\]\]\n(?:[^\[\n]*\n|between.*\n)*?){missing} *=.*\n", r"\1", DEMOS[demo])
    assert bc.work_out(bc.read(text), samples=0).heat is not None
