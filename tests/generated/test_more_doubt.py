"""More doubt in any number of a demo never makes an answer safer, and never stops the work.

The property needs no outside figure: who knows less cannot be more sure.
"""

import re
from functools import cache
from pathlib import Path

import numpy as np
import pytest

import benchcalc as bc

DEMOS = ("insert_press", "wax_pot", "foam_bow", "foil_iron")
SAFER_FIRST = ("fine", "tight", "not known", "over")
NUMBER = re.compile(r'(\w+) = "([\d.]+) ?([a-zA-Z/0-9]+)( \+- .*)?"')
BARE = re.compile(r"(\w+) = ([\d.]+)")
UNITS = {"volts": "V", "amps": "A", "ohm": "ohm", "cold_ohm": "ohm", "seconds": "s", "minutes": "min", "hours": "h"}
SHARES = (0.03, 0.1, 0.3)
FEW = 14


@cache
def text_of(demo):
    return (Path(bc.__file__).parents[1] / "data" / "builds" / f"{demo}.toml").read_text(encoding="utf-8")


@cache
def states_of(text):
    """What is judged -> state, of a sheet."""
    verdicts = bc.work_out(bc.read(text)).verdicts
    return {(link, v.what): v.state for link, v in verdicts if v.state in SAFER_FIRST}


def doubted():
    """Every number of the demos, with a band of each share typed beside it: (demo, line, new text)."""
    for demo in DEMOS:
        for i, line in enumerate(text_of(demo).split("\n")):
            found, bare = NUMBER.match(line.strip()), BARE.match(line)
            key, value, unit = (
                found.groups()[:3] if found else (*bare.groups(), UNITS.get(bare[1])) if bare else 3 * [None]
            )
            if unit is not None and float(value) > 0 and key not in ("gauge", "file"):
                for share in SHARES:
                    yield demo, i, f'{key} = "{value} {unit} +- {share * float(value):.4g} {unit}"'


def check(demo, i, new):
    lines = text_of(demo).split("\n")
    less = "+-" in lines[i]  # it may have had more doubt before
    try:
        build = bc.read("\n".join([*lines[:i], new, *lines[i + 1 :]]))
    except bc.Fault:  # this number takes no band: said in words
        return False
    now = {(link, v.what): v.state for link, v in bc.work_out(build).verdicts}
    for what, state in states_of(text_of(demo)).items():
        safer = SAFER_FIRST.index(now[what]) < SAFER_FIRST.index(state)
        assert less or not safer, f"{demo}, {new}: {what} was {state}, is {now[what]}"
    return True


def test_some_numbers_of_the_demos_with_doubt_beside_them():
    every = list(doubted())
    picked = np.random.default_rng(20261126).permutation(len(every))[:FEW]
    core = [x for x in every if x[2].startswith(("core_", "seconds"))][:: 3 * len(DEMOS)]
    assert sum(check(*one) for one in [*(every[k] for k in picked), *core]) > FEW // 2


@pytest.mark.slow
def test_all_numbers_of_the_demos_with_doubt_beside_them():
    assert sum(check(*one) for one in doubted()) > 300
